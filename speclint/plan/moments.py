"""Reads dates and times as seconds; a date without a time is the range of its day, a month the range of its days."""

from __future__ import annotations

from speclint.kernel.values import MEASURED, Between, Known, Single
from speclint.plan.figures import Hint, Note
from speclint.plan.row import Row

DAY = 86400
EPOCH = 719_163  # the ordinal of 1970-01-01


def read_moment(row: Row, start: int, note: Note) -> tuple[Single, int] | None:
    """A date, with a time where one follows, as seconds since the start of 1970; and where it ends."""
    if row.tokens[start].kind != "date":
        return None
    text = row.tokens[start].text
    first_last = day_range(text)
    if first_last is None:
        note(Hint(start, f"{text} is no day of the calendar; write the year, month and day as 2026-04-02"))
        return None
    first, last = first_last
    end = start + 1
    if end < len(row.tokens) and row.tokens[end].kind == "time" and last - first < DAY:
        hours, _, minutes = row.tokens[end].text.partition(":")
        moment = first + int(hours) * 3600 + int(minutes) * 60
        return Known(moment, row.words(start, end + 1), row.span(start, end + 1)), end + 1
    return Between(first, last, text=row.words(start, end), span=row.span(start, end), origin=MEASURED), end


def day_range(text: str) -> tuple[int, int] | None:
    """The first and last second of ``2026-04-02`` or ``2026-04``; None if there is no such day or month."""
    from datetime import date

    parts = text.split("-")
    try:
        year, month = int(parts[0]), int(parts[1])
        first = date(year, month, int(parts[2]) if len(parts) == 3 else 1)
        if len(parts) == 3:
            after = first.toordinal() + 1
        else:
            after = date(year + month // 12, month % 12 + 1, 1).toordinal()
    except (ValueError, IndexError):
        return None
    return (first.toordinal() - EPOCH) * DAY, (after - EPOCH) * DAY - 1
