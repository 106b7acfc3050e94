"""Moments and waits as people and programs read them."""

from __future__ import annotations

from speclint.review.show import duration
from speclint.works.waits import LEAST, OPEN, STRETCHED, Length
from speclint.works.workdays import DAY, day_of

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_BY = {LEAST: ", the least that is known", STRETCHED: ", longer for the cold"}


def day_text(moment: int) -> str:
    """A day with its weekday: ``Mon 2026-03-02``."""
    day = day_of(moment)
    return f"{_WEEKDAYS[day.weekday()]} {day.isoformat()}"


def hour_text(moment: int) -> str:
    """The hour of a moment: ``16:00``."""
    minutes = moment % DAY // 60
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def stamp_text(moment: int) -> str:
    """A moment without a time zone, by ISO 8601: ``2026-03-02T16:00``."""
    return f"{day_of(moment).isoformat()}T{hour_text(moment)}"


def wait_text(wait: Length) -> str:
    """A wait in words, with how it was reached where the plan does not tell it."""
    if wait.by == OPEN:
        return "as long as its sheet says"
    return f"{duration(wait.seconds)}{_BY.get(wait.by, '')}"
