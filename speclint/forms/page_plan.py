"""What a page tells of a plan besides its findings: drawings, what to order, what is to come, what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from speclint.forms.drawing import Drawing, inline
from speclint.forms.layout_drawing import elevation
from speclint.forms.page_values import PagePlan
from speclint.forms.phrases import counted, listed, phrase, sentence
from speclint.forms.place import exact_words, several_places
from speclint.forms.safe import safe
from speclint.forms.section_drawing import section_drawings
from speclint.forms.sequence_drawing import sequence_chart
from speclint.forms.sequence_text import stage_told
from speclint.forms.takeoff_text import ESTIMATE, amount_text, line_fields, packs_text
from speclint.forms.words import among, stage_words
from speclint.review.report import CLEAR, NOTED, Report
from speclint.works.sequence import Sequence

View = dict[str, Any]
_MOST = 240
"""Drawings of one plan that a page holds; the rest is drawn by the commands."""


def plan_view(plan: PagePlan, mark: str, markup: Callable[[str], Any]) -> View:
    """What the page tells of a plan; ``mark`` begins every id, ``markup`` marks what is SVG already."""
    report = plan.report
    drawings, left = _drawings(plan, mark, markup)
    return {
        "id": mark,
        "name": report.plan or ("fragment" if report.fragment else "plan without a name"),
        "fragment": report.fragment,
        "summary": _summary(report),
        "among": "" if report.fragment else among(report),
        "tone": "good" if report.summary in (CLEAR, NOTED) else "stops",
        "stage": stage_words(report),
        "as_of": report.as_of,
        "file": report.file,
        "unread": [(exact_words(one.span), sentence(one.message)) for one in report.unread],
        "drawings": drawings,
        "left_undrawn": f"{counted(left, 'more drawing')} by speclint section and speclint layout." if left else "",
        "parts": [] if report.fragment else list(_parts(report, mark)),
        "sequences": [_sequence(one, f"{mark}-q{at}", markup) for at, one in enumerate(plan.sequences, 1)],
        "workings": _workings(report),
        **_order(plan),
    }


def _summary(report: Report) -> str:
    if report.fragment:
        return "its lines were read; it is judged where a plan includes it"
    said = safe(report.said or report.summary)
    return f"{said[:1].upper()}{said[1:]}"


def _drawings(plan: PagePlan, mark: str, markup: Callable[[str], Any]) -> tuple[list[tuple[str, list[Any]]], int]:
    """The drawings of each assembly, its cuts before its elevations, and how many were too many."""
    found: dict[str, list[Drawing]] = {}
    for cut, pins in plan.cuts:
        found.setdefault(" / ".join(cut.address), []).extend(section_drawings(cut, pins, plan.system))
    for layout in plan.layouts:
        found.setdefault(" / ".join(layout.address[:-1]), []).append(elevation(layout, plan.system))
    shown: list[tuple[str, list[Any]]] = []
    number = 0
    for name, drawings in found.items():
        kept = drawings[: max(0, _MOST - number)]
        figures = [markup(inline(one, f"{mark}-s{at}")) for at, one in enumerate(kept, number + 1)]
        number += len(kept)
        if figures:
            shown.append((name, figures))
    return shown, sum(map(len, found.values())) - number


def _order(plan: PagePlan) -> View:
    if plan.takeoff is None or not plan.takeoff.order:
        return {"order": [], "lines": [], "estimate": ""}
    system = plan.takeoff.system
    rows = [
        {
            "item": total.item,
            "specification": total.specification + (f" ({total.holds})" if total.holds else ""),
            "packs": ("at least " if total.missing and total.ordered is not None else "") + packs_text(total),
            "net": amount_text(total, system),
            "missing": "; ".join(total.missing),
        }
        for total in plan.takeoff.order
    ]
    places: dict[str, list[View]] = {}
    for line in plan.takeoff.lines:
        told = {"item": line.item, "specification": line.specification, "net": amount_text(line, system)}
        places.setdefault(line.place, []).append({**told, "fields": line_fields(line, system)})
    notes = " ".join(map(sentence, plan.takeoff.left_out))
    return {"order": rows, "lines": list(places.items()), "estimate": f"{ESTIMATE} {notes}".strip()}


def _sequence(found: Sequence, mark: str, markup: Callable[[str], Any]) -> View:
    """The order of work of one room: its chart, every step in words, and what is asked before the dates are sure."""
    chart = sequence_chart(found)
    rows = [(when, "; ".join((does, *details))) for when, does, details in map(stage_told, found.stages)]
    rows += [(f"asked of: {ask.answers}", ask.text) for ask in found.asks]
    rows += [("note", sentence(note)) for note in found.notes]
    return {"name": found.room, "chart": markup(inline(chart, mark)) if chart is not None else "", "rows": rows}


def _workings(report: Report) -> list[tuple[str, list[View]]]:
    """Every computation by its address: what, result, inputs, formula in words."""
    places: dict[str, list[View]] = {}
    for one in report.workings:
        inputs = ", ".join(f"{name} {figure}" for name, figure in one.inputs)
        fields = [("from", inputs), ("by", sentence(one.formula))]
        told = {"means": one.means, "result": one.result, "fields": fields}
        places.setdefault(" / ".join(one.address), []).append(told)
    return list(places.items())


def _parts(report: Report, mark: str) -> Iterator[View]:
    """The sections that are lists of a label and a text."""
    coming = [(_record(one.record, one.due), _coming(one, report.file)) for one in report.to_come]
    exceptions = [(f"{one.state}: {one.rule}", _variance(report, one)) for one in report.variances]
    for key, name, said, rows in (
        ("to-come", "To come", "Records that are not due yet.", coming),
        ("variances", "Agreed exceptions", "", exceptions),
        ("rests", "What this rests on", "", _rests(report)),
        ("care", "Care", "The usual cautions; local codes and licensed practice come first.",
         [(f"{at}", sentence(text)) for at, text in enumerate(report.cautions, 1)]),
        ("rules", "Rules and packs", "", _packs(report)),
    ):  # fmt: skip
        if rows:
            yield {"id": f"{mark}-{key}", "name": name, "said": said, "rows": rows}


def _record(record: str, due: str) -> str:
    return f"{record}, due {due}" if due else record


def _coming(one: Any, home: str) -> str:
    told = [
        f"shows {listed(one.rules, 4)}" if one.rules else "",
        phrase(one.settles) if one.settles != one.record else "",
    ]
    told.append(several_places(one.places, 3, home) if one.places else "")
    return "; ".join(text for text in told if text)


def _variance(report: Report, one: Any) -> str:
    told = [f"at {one.address}", f"by {one.role}" if one.role else "", f"until {one.until}" if one.until else ""]
    told += [phrase(text) for text in (one.because, one.why) if text]
    through = [
        f"lets through: {sentence(finding.message)}"
        for finding in report.findings
        if finding.variance and finding.rule == one.rule and one.state == "granted"
    ]
    return "; ".join(text for text in [*told, *through] if text)


def _rests(report: Report) -> list[tuple[str, str]]:
    rows = [("decided", sentence(text)) for text in report.decisions]
    rows += [("note", sentence(text)) for text in report.notes]
    if report.taken_as_absent:
        rows.append(("taken as absent", sentence(", ".join(map(phrase, report.taken_as_absent)))))
    if report.assumed:
        rows.append(("assumed", sentence("; ".join(map(phrase, report.assumed)))))
    return rows


def _packs(report: Report) -> list[tuple[str, str]]:
    rows = [(f"{name} {version}", f"hash of its content {mark}") for name, version, mark in report.packs]
    outcomes = ", ".join(f"{outcome} {number}" for outcome, number in report.outcomes)
    return [*rows, ("outcomes", outcomes)] if outcomes else rows
