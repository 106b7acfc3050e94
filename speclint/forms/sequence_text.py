"""The order of work for people: day by day, with what each step waited for, and what is asked."""

from __future__ import annotations

from collections.abc import Sequence as Many

from speclint.forms.moments import day_text, hour_text, wait_text
from speclint.forms.phrases import counted, sentence
from speclint.forms.rows import EMPTY, Piece, Row, labelled, paragraph
from speclint.forms.safe import safe
from speclint.works.sequence import BEFORE, DONE, PLANNED, TO_DO, Calendar, Sequence, Stage
from speclint.works.workdays import DAY

NOTICE = (
    "Dates from the plan and the waits that are known: the data sheets govern, and a test or inspection that is not "
    "passed moves all that follows. Each step is given one working day unless lifts or --takes say more."
)
_LEADS = {DONE: "done ", BEFORE: "done by ", PLANNED: "planned "}
_COLUMN = 28
_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def sequence_rows(found: Many[Sequence], calendar: Calendar, width: int) -> list[Row]:
    """The rows of all rooms for a terminal."""
    rows: list[Row] = paragraph(_calendar(calendar), width, 0, "faint")
    for one in found:
        rows += [EMPTY, *paragraph(f"{safe(one.plan)}: {safe(one.room)}", width, 0, "strong")]
        for stage in one.stages:
            late = stage.state == DONE or stage is one.stages[-1]
            rows += _stage(stage, day_text(calendar.start) if late else "", width)
        if one.asks:
            rows += [EMPTY, (Piece("  asked before these dates are sure", "strong"),)]
            for answers in dict.fromkeys(ask.answers for ask in one.asks):
                told = [ask.text for ask in one.asks if ask.answers == answers]
                rows += labelled(safe(answers), " ".join(map(safe, told)), width, 2)
        for note in one.notes:
            rows += labelled("note", sentence(note), width, 2)
    if not found:
        rows += [EMPTY, (Piece("There is no room with work to put in order."),)]
    return [*rows, EMPTY, *paragraph(NOTICE, width, 0, "faint")]


def _calendar(calendar: Calendar) -> str:
    week = calendar.week
    days = ", ".join(name for at, name in enumerate(_NAMES) if at in week.days)
    closed = f", without {counted(len(week.closed), 'closed day')}" if week.closed else ""
    return (
        f"from {day_text(calendar.start)}, working {days}, {hour_text(week.opens)} to {hour_text(week.closes)}{closed}"
    )


def _stage(stage: Stage, start: str, width: int) -> list[Row]:
    """One step: its day at the left, what and where; below it the hours, waits and what stands against it."""
    when, does, details = stage_told(stage, start)
    said = f"  {when}"
    style = "callback" if stage.too_soon else "good" if stage.state in (DONE, BEFORE) else "strong"
    if width < _COLUMN + 30:
        column = 4
        rows: list[Row] = [(Piece(said, "faint"),), *paragraph(does, width, column, style)]
    else:
        column = _COLUMN
        first, *rest = paragraph(does, width, column, style)
        rows = [(Piece(said.ljust(column), "faint"), first[1]), *rest]
    for text in details:
        rows.extend(paragraph(text, width, column, "", 2))
    return rows


def stage_told(stage: Stage, start: str = "") -> tuple[str, str, list[str]]:
    """A step in words: when it begins, what and where it is, and its hours, waits and clashes.

    ``start`` is the day against which it is told how late it is, where that is to be told.
    """
    lead = _LEADS.get(stage.state, "" if stage.sure else "not before ")
    does = stage.step.does + (f" ({', '.join(map(safe, stage.where))})" if stage.where else "")
    return f"{lead}{day_text(stage.begins)}", does, _details(stage, start)


def _details(stage: Stage, start: str) -> list[str]:
    told: list[str] = []
    open_yet = stage.state in (TO_DO, PLANNED)
    if stage.task.lasts.seconds and open_yet:
        told.append(f"{hour_text(stage.begins)} to {day_text(stage.ends)} {hour_text(stage.ends)}")
    elif stage.ends // DAY > stage.begins // DAY:
        told.append(f"to {day_text(stage.ends)}")
    told.extend(f"{wait_text(wait)}, after {step.does}" for step, wait in stage.held_by if open_yet)
    for clash in stage.too_soon:
        told.append(f"too soon after {clash.after}: not before {day_text(clash.until)} {hour_text(clash.until)}")
    if stage.late and start:
        days = counted(abs(stage.late), "working day")
        told.append(f"{days} {'later' if stage.late > 0 else 'earlier'} than counted from {start}")
    return told
