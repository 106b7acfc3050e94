"""The order of work as a calendar by RFC 5545: an event of whole days for each step, in UTF-8 with CRLF."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Iterator
from collections.abc import Sequence as Many
from datetime import date, timedelta

from speclint import __version__
from speclint.forms.moments import day_text, hour_text, wait_text
from speclint.forms.safe import safe
from speclint.works.sequence import PLANNED, TO_DO, Sequence, Stage
from speclint.works.workdays import day_of

_OCTETS = 75
_ESCAPES = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})


def calendar_form(found: Many[Sequence], as_of: str) -> str:
    """All rooms as one calendar, stamped with the start of a day (``2026-04-02``)."""
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//speclint//speclint {__version__}//EN",
        "CALSCALE:GREGORIAN",
        *_events(found, date.fromisoformat(as_of).strftime("%Y%m%d") + "T000000Z"),
        "END:VCALENDAR",
    ]
    return "".join(folded(line) for line in lines)


def folded(line: str) -> str:
    """A content line ended by CRLF; after 75 octets it goes on in the next after a blank, no sign being cut."""
    parts: list[str] = []
    part, room = "", _OCTETS
    for sign in line:
        size = len(sign.encode("utf-8", "replace"))
        if size > room:
            parts.append(part)
            part, room = " ", _OCTETS - 1
        part += sign
        room -= size
    return "".join(f"{one}\r\n" for one in (*parts, part))


def _events(found: Many[Sequence], stamp: str) -> Iterator[str]:
    again: Counter[str] = Counter()
    for one in found:
        for stage in one.stages:
            name = "/".join((one.plan, one.room, stage.step.name))
            again[name] += 1
            yield from _event(one, stage, f"{name}/{again[name]}", stamp)


def _event(one: Sequence, stage: Stage, name: str, stamp: str) -> Iterator[str]:
    first, last = day_of(stage.begins), day_of(stage.ends)
    after = last if last == date.max else last + timedelta(days=1)
    sure = stage.sure or stage.state not in (TO_DO, PLANNED)
    lead = "" if sure else "not before: "
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(uuid.NAMESPACE_URL, f'speclint:{name}')}"
    yield f"DTSTAMP:{stamp}"
    yield f"DTSTART;VALUE=DATE:{first:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{after:%Y%m%d}"
    yield f"SUMMARY:{_text(f'{lead}{stage.step.does} ({one.room})')}"
    yield f"LOCATION:{_text(', '.join((one.plan, one.room, *stage.where)))}"
    yield f"DESCRIPTION:{_text(_told(stage))}"
    yield f"STATUS:{'CONFIRMED' if sure else 'TENTATIVE'}"
    yield f"CATEGORIES:{_text(stage.state)}"
    yield "END:VEVENT"


def _told(stage: Stage) -> str:
    told = [f"{stage.state}; {day_text(stage.begins)} {hour_text(stage.begins)} to"]
    told[0] += f" {day_text(stage.ends)} {hour_text(stage.ends)}"
    told += [f"after {step.does}: {wait_text(wait)}" for step, wait in stage.after]
    told += [f"too soon: {clash.after} holds it to {day_text(clash.until)}" for clash in stage.too_soon]
    return "\n".join(told)


def _text(text: str) -> str:
    """A text value: each line safe to show, escaped."""
    return "\n".join(safe(line) for line in text.split("\n")).translate(_ESCAPES)
