"""Working days and hours: moments are whole seconds since the start of 1970, as the plan's dates are."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

DAY, HOUR = 86400, 3600
_EPOCH = date(1970, 1, 1).toordinal()
_THURSDAY = 3  # the weekday of the first day of 1970, Monday being 0


class Week(NamedTuple):
    """Which days are worked (0 is Monday), which are closed, and the hours, in seconds from midnight."""

    days: frozenset[int]
    closed: frozenset[int]
    opens: int
    closes: int

    def is_worked(self, day: int) -> bool:
        """Whether a day, counted from 1970, is worked."""
        return (day + _THURSDAY) % 7 in self.days and day not in self.closed

    def opening(self, at: int) -> int:
        """The first opening of a working day that is not before a moment."""
        day = at // DAY + (at % DAY > self.opens)
        while not self.is_worked(day):
            day += 1
        return day * DAY + self.opens

    def within(self, at: int) -> int:
        """The moment itself where it falls into working hours, else the next opening."""
        worked = self.is_worked(at // DAY) and self.opens <= at % DAY <= self.closes
        return at if worked else self.opening(at)

    def closing(self, opening: int, days: int) -> int:
        """The end of the last of some working days, the first of which opens then."""
        for _ in range(days - 1):
            opening = self.opening(opening + 1)
        return opening // DAY * DAY + self.closes

    def between(self, first: int, last: int) -> int:
        """Working days from one day to another, counted from 1970; below nothing where the other is earlier."""
        if last < first:
            return -self.between(last, first)
        weeks, rest = divmod(last - first, 7)
        worked = weeks * len(self.days) + sum((day + _THURSDAY) % 7 in self.days for day in range(last - rest, last))
        return worked - sum(first <= day < last and (day + _THURSDAY) % 7 in self.days for day in self.closed)


def day_of(moment: int) -> date:
    """The day of a moment; the last that a calendar has, where it lies beyond."""
    return date.fromordinal(max(1, min(moment // DAY + _EPOCH, date.max.toordinal())))


def seconds_of(day: date) -> int:
    """The first second of a day."""
    return (day.toordinal() - _EPOCH) * DAY
