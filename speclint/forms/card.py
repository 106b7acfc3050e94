"""The card: one sheet a room for the crew, with figures and pictures first and not one name of a rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from speclint import __version__
from speclint.forms.drawing import inline
from speclint.forms.drawing_style import HATCHES, css, hatches
from speclint.forms.layout_text import way_text
from speclint.forms.measures import size_text, tape_text
from speclint.forms.page_values import PagePlan
from speclint.forms.phrases import counted, sentence
from speclint.forms.section_drawing import section_drawings
from speclint.forms.section_parts import told
from speclint.forms.sequence_text import stage_told
from speclint.forms.stand_alone import environment, policy
from speclint.forms.words import PERSON
from speclint.review.report import Place, Report
from speclint.works.layout import SurfaceLayout
from speclint.works.section_layers import MORTAR, TILE
from speclint.works.section_values import Cut
from speclint.works.sequence import BEFORE, DONE

CARD_TEMPLATES = ("card.html", "card.css")
_HEAVY = ("tear-out", "callback")
_SHOWN = ("notch", "falls")
_MOST, _MARKS = 6, 12

View = dict[str, Any]


def card(plans: Sequence[PagePlan], not_read: Sequence[tuple[str, str]], templates: Mapping[str, str]) -> str:
    """A sheet for every room of some plans; raises UsageFault where the template library is missing."""
    made, markup = environment(templates)
    style = templates["card.css"] + css()
    rooms = [room for at, plan in enumerate(plans, 1) for room in _rooms(plan, f"p{at}", markup)]
    text: str = made.get_template("card.html").render(
        rooms=rooms,
        title=rooms[0]["name"] if len(rooms) == 1 else counted(len(rooms), "room"),
        not_read=list(not_read),
        style=markup(style),
        policy=policy(style),
        hatches=markup(hatches(HATCHES).strip()),
        person=PERSON,
        version=__version__,
    )
    return text


def _rooms(plan: PagePlan, mark: str, markup: Callable[[str], Any]) -> Iterator[View]:
    names = dict.fromkeys(cut.address[0] for cut, _ in plan.cuts) or {"": None}
    for at, name in enumerate(names, 1):
        stops = list(dict.fromkeys(_stops(plan.report, name)))
        if not (name or stops or plan.report.unread):
            continue  # a plan without rooms has a sheet only for what stops
        yield {
            "id": f"{mark}-r{at}",
            "name": name or "no room told",
            "plan": plan.report.plan or plan.report.file,
            "as_of": plan.report.as_of,
            "unread": len(plan.report.unread),
            "stops": stops[:_MOST],
            "more": max(0, len(stops) - _MOST),
            "faces": [
                _face(plan, cut, f"{mark}-r{at}-f{number}", markup)
                for number, (cut, _) in enumerate(plan.cuts, 1)
                if cut.address[0] == name
            ],
            "work": [
                (when, does, "; ".join(details))
                for one in plan.sequences
                if one.room == name
                for when, does, details in (
                    stage_told(stage) for stage in one.stages if stage.state not in (DONE, BEFORE)
                )
            ],
            "asks": [sentence(ask.text) for one in plan.sequences if one.room == name for ask in one.asks],
            "care": [sentence(text) for text in plan.report.cautions],
        }


def _stops(report: Report, room: str) -> Iterator[tuple[str, str]]:
    """What stops the work in a room: what does not meet, then what nobody has told, each with who acts."""
    for finding in report.findings:
        if finding.weight in _HEAVY and not (finding.variance or finding.known) and _here(finding.places, room):
            yield finding.acts, sentence(finding.message)
    for question in report.questions:
        if question.weight in _HEAVY and not question.known and _here(question.places, room):
            yield question.answers, sentence(question.text)


def _here(places: Sequence[Place], room: str) -> bool:
    """Whether something bears on a room: it stands there, or on the plan as a whole; on no room bears all of it."""
    return not (room and places) or any(place.address[:1] in ((), (room,)) for place in places)


def _face(plan: PagePlan, cut: Cut, mark: str, markup: Callable[[str], Any]) -> View:
    drawings = [one for one in section_drawings(cut, (), plan.system) if one.id.rsplit("-", 1)[-1] in _SHOWN]
    layouts = [one for one in plan.layouts if one.address[: len(cut.address)] == cut.address]
    return {
        "name": " / ".join(cut.address[1:]) or cut.address[0],
        "figures": list(_figures(cut, plan.system)),
        "drawings": [markup(inline(one, f"{mark}-d{at}")) for at, one in enumerate(drawings, 1)],
        "walls": _walls([one for one in layouts if one.across and one.setting is not None], plan.system),
    }


def _figures(cut: Cut, system: str) -> Iterator[tuple[str, str, str]]:
    """What the setter reaches for: a label, the figure in large type, and what goes with it."""
    said = {stratum.id: stratum.said for stratum in cut.strata}
    bed = f"leaves a bed of {told(cut.notch.bed, system)}" if cut.notch.bed is not None else ""
    yield "notch", *_parted(cut.notch.said, 1, bed)
    yield "mortar", said.get(MORTAR, ""), ""
    yield "tile", *_parted(said.get(TILE, ""), 2)
    yield "joint", *_parted(cut.joint.said, 1, f"cleared {cut.joint.clearing}" if cut.joint.clearing else "")
    yield "grout", cut.joint.grout, ""
    yield "corners", cut.corner.said, ""
    if cut.pan is not None:
        yield "falls", *_parted(cut.pan.said, 1, cut.pan.drain)
    for stratum in cut.strata:
        if stratum.holds_water:
            yield "never cut", *_parted(stratum.said, 1, "no blade in a joint goes this deep")


def _parted(said: str, first: int, besides: str = "") -> tuple[str, str]:
    """The first phrases of a line for the large type, and the rest with what goes besides."""
    phrases = said.split(", ")
    return ", ".join(phrases[:first]), "; ".join(text for text in (", ".join(phrases[first:]), besides) if text)


def _walls(layouts: Sequence[SurfaceLayout], system: str) -> list[View]:
    """The cuts of every face; faces that are cut alike stand together."""
    found: dict[tuple[object, ...], list[str]] = {}
    for layout in layouts:
        size = f"{size_text(layout.width, system)} x {size_text(layout.height, system)}"
        found.setdefault((size, *_cuts(layout, system)), []).append(layout.name)
    return [{"name": ", ".join(names), "size": size, "rows": rows} for (size, *rows), names in found.items()]


def _cuts(layout: SurfaceLayout, system: str) -> Iterator[tuple[str, str]]:
    if layout.upright:
        yield "first course", f"its top {size_text(layout.marks[0], system)} above the foot"
    yield "along", way_text(layout.across[0], system)
    yield "up" if layout.upright else "across", way_text(layout.up[0], system)
    if layout.upright:
        more = len(layout.marks) - _MARKS
        marks = ", ".join(tape_text(mark, system) for mark in layout.marks[:_MARKS])
        yield "story pole", marks + (f" and {more} more" if more > 0 else "")
    if layout.counted is not None:
        yield "pieces", f"{layout.counted.full} full, {layout.counted.cut} cut"
