"""The order of work: dates worked by hand, records held against it, and calendars read back by another program."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import icalendar
import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.facts.build import build_subjects
from speclint.files.plans import load_plan
from speclint.forms.moments import stamp_text
from speclint.forms.rows import plain
from speclint.forms.safe import width_of
from speclint.forms.sequence_calendar import calendar_form, folded
from speclint.forms.sequence_json import sequence_json
from speclint.forms.sequence_text import sequence_rows
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.works.dates import in_order
from speclint.works.reading import Reader
from speclint.works.sequence import Calendar, Sequence, Stage, sequence_of
from speclint.works.steps import work_of
from speclint.works.waits import Length
from speclint.works.workdays import DAY, HOUR, Week, day_of, seconds_of
from tests.plan.reading import plan_of

ROOT = Path(__file__).resolve().parents[2]
MONDAY = date(2026, 3, 2)
WORKWEEK = Week(frozenset(range(5)), frozenset(), 8 * HOUR, 16 * HOUR)
PLAN = """plan "Mill Lane"
room "bath"
  exposure         wet
assembly "walls" in "bath"
  surface          wall "back", 60 in x 96 in
  substrate        cement board 1/2 in
  membrane         liquid A118.10
  mortar           A118.15 H no F
  finish height    96 in above floor
  lift             4 ft per day
  grout            A118.7
  change of plane  sealant C920
  curing           membrane 24 h, 24 h before grout, sealant 24 h
  first water      3 days after grout
  ambient          20 C
assembly "pan" in "bath"
  surface          floor, 60 in x 36 in
  pre-slope        deck mud, slope 1/4 in per ft
  membrane         liquid A118.10
  mortar           A118.15 no F
  grout            A118.7
  change of plane  sealant C920
  curing           pre-slope 20 h, membrane 24 h, 24 h before grout, 24 h before traffic, sealant 24 h
  first water      3 days after grout
  ambient          20 C
"""


def sequences(
    text: str, kit: Kit, *, week: Week = WORKWEEK, start: date = MONDAY, today: date = MONDAY
) -> list[Sequence]:
    """Every room of a text put in order."""
    return of_plan(plan_of(text, kit), kit, week=week, start=start, today=today)


def of_plan(
    plan: Plan, kit: Kit, *, week: Week = WORKWEEK, start: date = MONDAY, today: date = MONDAY
) -> list[Sequence]:
    """Every room of a plan put in order."""
    assert not plan.problems, plan.problems
    root = build_subjects(plan, kit.catalogue)
    calendar = Calendar(week, seconds_of(start) + week.opens, True, seconds_of(today) + DAY, {})
    reader, work = Reader(kit.catalogue, plan.root), work_of(kit.work)
    return [sequence_of(reader, plan.root.name, room, work, calendar) for room in root.collections["rooms"]]


def by_name(found: Sequence) -> dict[str, Stage]:
    return {stage.step.name: stage for stage in found.stages}


def dates(found: Sequence) -> dict[str, tuple[str, str]]:
    return {name: (stamp_text(one.begins), stamp_text(one.ends)) for name, one in by_name(found).items()}


def test_a_job_worked_by_hand(kit: Kit) -> None:
    """Days of 8 to 16, Monday to Friday; each wait is counted from the close of the day before it.

    Mon 2: pre-slope and boards. 20 h after Mon 16:00 is Tue 12:00, so the membrane begins Wed 4. 24 h after Wed 16:00
    is Thu 16:00, when water is let in; it stands 24 h, to Fri 16:00. Wall tile begins Mon 9 and goes up 96 in at 48 in a
    day: 2 days. Floor tile Wed 11. Grout 24 h after Wed 16:00 is Thu 16:00: Fri 13. Floor walked on 48 h after the
    tile (Fri 16:00) and 24 h after grout (Sat 16:00): Sat 14. Sealant 24 h after grout is Sat 16:00: Mon 16. First
    water 72 h after grout (Mon 16:00) and 24 h after the sealant (Tue 16:00): Tue 17.
    """
    (found,) = sequences(PLAN, kit)
    assert dates(found) == {
        "pre-slope": ("2026-03-02T08:00", "2026-03-02T16:00"),
        "boards": ("2026-03-02T08:00", "2026-03-02T16:00"),
        "membrane": ("2026-03-04T08:00", "2026-03-04T16:00"),
        "membrane test": ("2026-03-05T16:00", "2026-03-06T16:00"),
        "wall tile": ("2026-03-09T08:00", "2026-03-10T16:00"),
        "floor tile": ("2026-03-11T08:00", "2026-03-11T16:00"),
        "grout": ("2026-03-13T08:00", "2026-03-13T16:00"),
        "light feet": ("2026-03-14T16:00", "2026-03-14T16:00"),
        "sealant": ("2026-03-16T08:00", "2026-03-16T16:00"),
        "first water": ("2026-03-17T16:00", "2026-03-17T16:00"),
    }
    assert all(stage.sure for stage in found.stages) and not found.asks and not found.against


def test_the_cold_stretches_what_sets_by_cement(kit: Kit) -> None:
    """24 h at 20 C is 48 h at 10 C by the temperature-time factor with datum 0 C (ASTM C1074): Fri 16:00, so Mon."""
    (found,) = sequences(PLAN.replace("ambient          20 C", "ambient          10 C"), kit)
    steps = by_name(found)
    waited = {step.name: wait for step, wait in steps["grout"].after}
    assert (
        waited["floor tile"] == Length(48 * HOUR, "stretched")
        and steps["grout"].begins > steps["floor tile"].ends + 48 * HOUR
    )


def test_a_place_too_cold_for_any_cure_is_asked_about(kit: Kit) -> None:
    (found,) = sequences(PLAN.replace("ambient          20 C", "ambient          3 C"), kit)
    assert any("below 5 C the work stops" in ask.text for ask in found.asks) and not by_name(found)["grout"].sure


def test_a_wait_that_nobody_told_is_asked_and_what_follows_is_not_before(kit: Kit) -> None:
    (found,) = sequences(PLAN.replace("membrane 24 h, ", ""), kit)
    steps = by_name(found)
    assert [ask.text for ask in found.asks] == ["How long does the membrane cure before water or tile comes on it?"]
    assert steps["membrane"].sure and not steps["membrane test"].sure and not steps["first water"].sure
    assert "not before Thu 2026-03-05" in plain(sequence_rows([found], Calendar(WORKWEEK, 0, True, 0, {}), 80))


@pytest.mark.parametrize(("lead", "sure"), [("", False), (", glass lead 14 days", True)])
def test_the_lead_of_the_glass_settles_its_date_for_the_whole_room(kit: Kit, lead: str, sure: bool) -> None:
    """Common practice: glass is measured on finished tile, so its lead counts from the grout, told once for the room."""
    text = PLAN.replace("  exposure         wet\n", f"  exposure  wet\n  entry     fixed glass{lead}\n")
    found = by_name(sequences(text, kit)[0])
    assert found["glass"].sure is sure
    if sure:
        assert found["glass"].begins >= found["grout"].ends + 14 * DAY


def test_fast_mortar_follows_its_sheet_alone(kit: Kit) -> None:
    text = PLAN.replace("no F", "F").replace("24 h before grout", "3 h before grout")
    (found,) = sequences(text, kit)
    assert stamp_text(by_name(found)["grout"].begins) == "2026-03-12T08:00"
    (found,) = sequences(text.replace(", 3 h before grout", ""), kit)
    assert "How long after setting is grout put in?" in [ask.text for ask in found.asks]


def test_floor_before_walls_where_the_plan_says_so(kit: Kit) -> None:
    (found,) = sequences(PLAN.replace("  first water", "  wall base order  floor first\n  first water", 1), kit)
    steps = by_name(found)
    assert steps["floor tile"].ends + 48 * HOUR <= steps["wall tile"].begins


def test_ridges_in_the_joint_put_clearing_into_the_days_of_setting(kit: Kit) -> None:
    """A 1/2 in notch at 45 deg leaves a ridge of about 0.18 in beside a tile 3/8 in thick: more than a third."""
    ridge = "  tile             porcelain, 12 x 24 in, thick 3/8 in\n  trowel           square 1/2 x 1/2 x 1/2 in, blade at 45 deg\n"
    (found,) = sequences(PLAN.replace("  lift ", ridge + "  lift "), kit)
    steps = by_name(found)
    assert (steps["clearing wall joints"].begins, steps["clearing wall joints"].ends) == (
        steps["wall tile"].begins,
        steps["wall tile"].ends,
    )
    assert "clearing floor joints" not in steps
    (found,) = sequences(PLAN.replace("  lift ", ridge + "  joint clearing   next day\n  lift "), kit)
    assert by_name(found)["clearing later"].begins >= by_name(found)["wall tile"].ends + 12 * HOUR


def test_weekends_and_closed_days_are_not_worked(kit: Kit) -> None:
    closed = frozenset(seconds_of(day) // DAY for day in (date(2026, 3, 3), date(2026, 3, 4)))
    (found,) = sequences(PLAN, kit, week=WORKWEEK._replace(closed=closed))
    assert stamp_text(by_name(found)["membrane"].begins) == "2026-03-05T08:00"
    for stage in found.stages:
        if stage.task.days:
            assert WORKWEEK.is_worked(stage.begins // DAY) and stage.begins // DAY not in closed


def test_what_is_done_stands_where_it_was_done_and_moves_the_rest(kit: Kit) -> None:
    done = (
        PLAN + 'record "flood test" for "bath"\n  from 2026-03-09 08:00\n  to 2026-03-10 08:00\n  water on membrane\n'
    )
    (found,) = sequences(done, kit, today=date(2026, 3, 10))
    steps = by_name(found)
    assert steps["membrane test"].state == "done" and steps["membrane test"].late == 2  # Thu to Mon: two working days
    assert steps["membrane"].state == "done before" and stamp_text(steps["wall tile"].begins) == "2026-03-10T08:00"
    (ahead,) = sequences(done, kit, today=date(2026, 3, 4))
    assert by_name(ahead)["membrane test"].state == "planned"
    (failed,) = sequences(done + "  result failed\n", kit, today=date(2026, 3, 10))
    assert by_name(failed)["membrane test"].state == "to do" and "failed" in failed.notes[0]


@pytest.mark.parametrize(
    ("grout", "against", "asks"),
    [
        ("2026-03-11 15:00", True, 0),
        ("2026-03-11 16:00", False, 0),
        ("2026-03-10", True, 0),
        ("2026-03-11", False, 1),
        ("2026-03-12", False, 0),
    ],
)
def test_records_are_held_against_the_order(kit: Kit, grout: str, against: bool, asks: int) -> None:
    """Tile until the 10th at 16:00 and a wait of 24 h: a day without an hour tells only where every hour of it would."""
    text = PLAN + 'record "tile setting" for "bath"\n  from 2026-03-09\n  to 2026-03-10 16:00\n'
    text += f'record "grouting" for "bath"\n  on {grout}\n'
    (found,) = sequences(text, kit, today=date(2026, 3, 12))
    assert found.against is against
    assert sum("At which hour" in ask.text for ask in found.asks) == 2 * asks  # walls and floor
    if against:
        (clash,) = {clash.until for clash in by_name(found)["grout"].too_soon}
        assert stamp_text(clash) == "2026-03-11T16:00"


def test_a_day_that_is_planned_too_soon_is_told(kit: Kit) -> None:
    (found,) = sequences(PLAN + 'record "grouting" for "bath"\n  planned 2026-03-11\n', kit)
    grout = by_name(found)["grout"]
    assert grout.state == "planned" and grout.too_soon and stamp_text(grout.begins) == "2026-03-13T08:00"
    (later,) = sequences(PLAN + 'record "grouting" for "bath"\n  planned 2026-03-20\n', kit)
    assert stamp_text(by_name(later)["grout"].begins) == "2026-03-20T08:00" and not later.against


def test_every_shipped_plan_comes_in_order_and_fits_the_terminal(kit: Kit) -> None:
    schema = json.loads((ROOT / "shared/schemas/sequence.json").read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    calendar = Calendar(WORKWEEK, seconds_of(MONDAY), True, seconds_of(MONDAY), {})
    for path in sorted((ROOT / "specs_examples").glob("[sh]*/*.wetspec")):
        found = of_plan(load_plan(str(path), kit), kit)
        for one in found:
            steps = by_name(one)
            for stage in one.stages:
                for before, wait in stage.after:
                    if stage.state == "to do" and not stage.task.along:
                        assert steps[before.name].ends + wait.seconds <= stage.begins, (path.name, stage.step.name)
        jsonschema.validate(json.loads(sequence_json(found, calendar)), schema)
        for width in (46, 80):
            assert max(width_of(line) for line in plain(sequence_rows(found, calendar, width)).split("\n")) <= width
        read = icalendar.Calendar.from_ical(calendar_form(found, "2026-03-02"))
        assert len(read.events) == sum(len(one.stages) for one in found)


def test_the_steps_of_the_shared_data_can_always_be_put_in_order(kit: Kit) -> None:
    """With either order of walls and floor; graphlib raises where steps would wait for one another."""
    from speclint.works.dates import Link

    work = work_of(kit.work)
    for turned in (("wall tile", "floor tile"), ("floor tile", "wall tile")):
        links = tuple(
            Link(wait.first, wait.to, Length(0, "told"))
            for wait in work.waits
            if wait.first and (wait.first, wait.to) != turned
        )
        assert set(in_order(tuple(work.steps), links)) == set(work.steps)


def test_a_calendar_is_read_back(kit: Kit) -> None:
    """By icalendar, which did not write it; RFC 5545, 3.1 and 3.3.11: CRLF, 75 octets, escaped text."""
    name = "Mühle, Haus 7; \\ " + "Łódź ÄÖÜ " * 9
    found = sequences(PLAN.replace("Mill Lane", name.strip()), kit)
    text = calendar_form(found, "2026-03-02")
    assert text.count("\r\n") == text.count("\n") and all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    read = icalendar.Calendar.from_ical(text)
    events = {str(event["SUMMARY"]): event for event in read.events}
    grout = events["grout (bath)"]
    assert grout["DTSTART"].dt == date(2026, 3, 13) and grout["DTEND"].dt == date(2026, 3, 14)
    assert str(grout["LOCATION"]) == f"{name.strip()}, bath" and grout["DTSTAMP"].dt.date() == MONDAY
    assert "after floor tile: 24 h" in str(grout["DESCRIPTION"]).split("\n")[2]
    assert len({str(event["UID"]) for event in read.events}) == len(read.events)


def test_an_event_keeps_its_identity_when_its_date_moves(kit: Kit) -> None:
    def uids(text: str, as_of: str) -> set[str]:
        read = icalendar.Calendar.from_ical(calendar_form(sequences(text, kit), as_of))
        return {str(event["UID"]) for event in read.events}

    assert uids(PLAN, "2026-03-02") == uids(PLAN.replace("20 C", "10 C"), "2026-05-01")


def test_a_hostile_name_stays_in_its_text(kit: Kit) -> None:
    text = PLAN.replace('"bath"', '"x END:VEVENT\u200d\\n,; {DTEND}"')
    found = sequences(text, kit)
    read = icalendar.Calendar.from_ical(calendar_form(found, "2026-03-02"))
    assert len(read.events) == len(found[0].stages)
    assert "\u202e" not in plain(sequence_rows(found, Calendar(WORKWEEK, 0, True, 0, {}), 80)) + sequence_json(
        found, Calendar(WORKWEEK, 0, True, 0, {})
    )


@settings(max_examples=100, deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=200))
def test_folding_loses_nothing(text: str) -> None:
    lines = folded(f"SUMMARY:{text}")
    assert lines.replace("\r\n ", "") == f"SUMMARY:{text}\r\n" or "\r\n " in text
    assert all(len(line.encode()) <= 75 for line in lines.split("\r\n"))


@settings(max_examples=30, deadline=None)
@given(colder=st.integers(6, 19), warmer=st.integers(0, 10))
def test_a_colder_place_never_brings_a_date_forward(kit: Kit, colder: int, warmer: int) -> None:
    def at(degrees: int) -> dict[str, int]:
        (found,) = sequences(PLAN.replace("20 C", f"{degrees} C"), kit)
        return {name: stage.begins for name, stage in by_name(found).items()}

    cold, warm = at(colder), at(colder + warmer)
    assert all(cold[name] >= warm[name] for name in cold)


@settings(max_examples=60, deadline=None)
@given(
    st.sets(st.integers(0, 6), min_size=1),
    st.sets(st.integers(20500, 20530), max_size=6),
    st.integers(20500 * DAY, 20530 * DAY),
    st.integers(1, 40),
)
def test_working_days_are_counted_as_a_calendar_does(days: set[int], closed: set[int], at: int, number: int) -> None:
    week = Week(frozenset(days), frozenset(closed), 8 * HOUR, 16 * HOUR)
    opening = week.opening(at)
    closing = week.closing(opening, number)
    worked = [
        day
        for day in range(opening // DAY, closing // DAY + 1)
        if day_of(day * DAY).weekday() in days and day not in closed
    ]
    assert opening >= at and len(worked) == number and week.between(opening // DAY, closing // DAY) == number - 1
    assert week.between(closing // DAY, opening // DAY) == 1 - number
