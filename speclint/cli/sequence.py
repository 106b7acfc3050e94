"""``speclint sequence``: the order of work with the waits between, dated, and held against the records of a plan."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import date
from typing import NamedTuple

from speclint.cli.parser import Parser, add_colour, add_into, parser
from speclint.cli.plans import code_of, plans_of
from speclint.cli.review import day
from speclint.cli.streams import put, tell
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.facts.build import build_subjects
from speclint.files.kit import load_kit
from speclint.kernel.faults import UsageFault
from speclint.plan.near import nearest_names
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.review.show import system_of
from speclint.works.reading import Reader
from speclint.works.sequence import Calendar, Sequence, sequence_of
from speclint.works.steps import Work, work_of
from speclint.works.workdays import DAY, HOUR, Week, seconds_of

FORMS = ("text", "json", "ics")
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_CLOSED = "day on which nobody works, such as 2026-12-25; may be given several times"
_TAKES = "working days of a step, such as 'wall tile=3'; may be given several times"


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "sequence",
        "Puts the work of plans in order, room by room: every step with its date, the waits between, what the\n"
        "records show as done, late or too soon. A wait that nobody told is asked, and what follows it is dated\n"
        '"not before". --as ics writes a calendar.',
        "speclint sequence walls.wetspec --from 2026-03-02 --days mon-fri --closed 2026-03-06",
    )
    add = found.add_argument
    add("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (here if left out)")
    add("--from", dest="start", default="", metavar="DATE", help="first day of work (the day of --as-of if left out)")
    add("--days", default="mon-fri", metavar="DAYS", help="working days, such as mon-sat or mon,wed,fri (mon-fri)")
    add("--hours", default="8-16", metavar="H-H", help="working hours, such as 7-15 (8-16 if left out)")
    add("--closed", action="append", default=[], metavar="DATE", help=_CLOSED)
    add("--takes", action="append", default=[], metavar="STEP=DAYS", help=_TAKES)
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--as-of", default="", metavar="DATE", help="today: a record dated later is a plan, and calendars are stamped")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_into(found)
    add_colour(found)
    return found


class Setting(NamedTuple):
    """What the options settle: the steps, the calendar, and the day of the run."""

    work: Work
    calendar: Calendar
    as_of: str


def run(chosen: argparse.Namespace) -> int:
    """Put every plan in order; 1 where a line was not read or a record stands against the order, 2 where a file was."""
    kit = load_kit(packs=())
    setting = _setting(chosen, kit)
    plans, not_read = plans_of(chosen.paths, chosen.stdin_name, kit)
    found = [one for plan in plans for one in _of_plan(plan, kit, setting)]
    put(_told(chosen, found, not_read, setting), chosen.into)
    against = [one for one in found if one.against]
    for one in against:
        tell(f"{one.plan} / {one.room}: a day stands against the order of the work")
    return max(1 if against else 0, code_of(plans, not_read))


def _of_plan(plan: Plan, kit: Kit, setting: Setting) -> list[Sequence]:
    if plan.fragment:
        return []
    root = build_subjects(plan, kit.catalogue)
    reader = Reader(kit.catalogue, plan.root, system_of(root))
    rooms = root.collections.get("rooms", ())
    return [sequence_of(reader, plan.root.name, room, setting.work, setting.calendar) for room in rooms]


def _setting(chosen: argparse.Namespace, kit: Kit) -> Setting:
    work = work_of(kit.work)
    as_of = day(chosen.as_of, os.environ)
    start = day(chosen.start, os.environ) if chosen.start else as_of
    opens, closes = _hours(chosen.hours)
    closed = frozenset(_seconds(day(one, os.environ)) // DAY for one in chosen.closed)
    week = Week(_days(chosen.days), closed, opens, closes)
    takes = dict(_takes(one, work) for one in chosen.takes)
    day_ends = _seconds(as_of) + DAY
    first = _seconds(start) + opens
    return Setting(work, Calendar(week, first, bool(chosen.start), day_ends, takes), as_of)


def _seconds(told: str) -> int:
    return seconds_of(date.fromisoformat(told))


def _days(told: str) -> frozenset[int]:
    """Weekdays from ``mon-fri`` or ``mon,wed``; raises UsageFault for a day that is none."""
    found: set[int] = set()
    for part in told.casefold().replace(" ", "").split(","):
        ends = [one[:3] for one in part.split("-")]
        if len(ends) > 2 or any(end not in DAYS for end in ends):
            raise UsageFault(f'"{told}" names no working days; write mon-fri, or mon,wed,fri')
        first, last = DAYS.index(ends[0]), DAYS.index(ends[-1])
        found |= {(first + step) % 7 for step in range((last - first) % 7 + 1)}
    return frozenset(found)


def _hours(told: str) -> tuple[int, int]:
    """Seconds from midnight at which a working day opens and closes; raises UsageFault for hours that are none."""
    ends = told.split("-")
    if len(ends) == 2 and all(end.isascii() and end.isdigit() and len(end) <= 2 for end in ends):
        opens, closes = (int(end) for end in ends)
        if opens < closes <= 24:
            return opens * HOUR, min(closes * HOUR, DAY - 1)
    raise UsageFault(f'"{told}" are no working hours; write 8-16')


def _takes(told: str, work: Work) -> tuple[str, int]:
    name, _, number = told.partition("=")
    step = next((one for one in work.steps.values() if name.strip().casefold() in (one.name, one.does)), None)
    if step is None or not step.days:
        near = nearest_names(name, [one.name for one in work.steps.values() if one.days])
        raise UsageFault(f'no step of work is named "{name}"{near}')
    if not (number.strip().isascii() and number.strip().isdigit() and 1 <= int(number.strip()[:4]) <= 366):
        raise UsageFault(f'"{told}": write the working days of a step as {step.name}=3, from 1 to 366')
    return step.name, int(number)


def _told(
    chosen: argparse.Namespace, found: list[Sequence], not_read: tuple[tuple[str, str], ...], setting: Setting
) -> str:
    if chosen.form == "ics":
        from speclint.forms.sequence_calendar import calendar_form

        return calendar_form(found, setting.as_of)
    if chosen.form == "json":
        from speclint.forms.sequence_json import sequence_json

        return sequence_json(found, setting.calendar, not_read)
    from speclint.forms.rows import plain
    from speclint.forms.sequence_text import sequence_rows

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    return shown(sequence_rows(found, setting.calendar, width_of_output(os.environ)))
