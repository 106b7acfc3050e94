"""The closeout of a plan: every place as built, what is on file for it, and what is missing with what it would show."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.plan.tree import Node, Plan
from speclint.review.gates import book_of
from speclint.review.judging import by_kind, judged
from speclint.review.kit import Kit
from speclint.review.report import FAILS, NOT_SHOWN, TO_COME, Report
from speclint.review.run import PLAIN, Options, review
from speclint.review.settle import Settled
from speclint.review.show import system_of
from speclint.review.stages import Stages, stages_of
from speclint.works.as_built import built_lines, line_text, sections_in
from speclint.works.blank_records import Address, passing, shown_by_blank
from speclint.works.closeout_values import Built, Closeout, File, Kept, Missing, Place, Shown
from speclint.works.sheets import Sheet, Wanted, asks_for_sheet, due_sheets, on_file, rests_on_sheet, touches

FILED = ("record", "paper", "decision")
PLACES = ("plan", "room", "assembly", "part")
FILES = {"record": ("record.file", "record.photo-file"), "paper": ("paper.file",), "decision": ("decision.file",)}
WHEN = {"record": ("record.on", "record.from", "record.to"), "paper": ("paper.date",), "decision": ("decision.when",)}
BY = {"record": ("record.role", "record.person"), "paper": ("paper.signed-by",), "decision": ("decision.role",)}
KINDS = {"record": "record.kind", "paper": "paper.kind", "decision": "decision.which"}
LAST = ("owner", "contractor", "setter", "inspector")
Look = Callable[[str, str], File]


class _Ground(NamedTuple):
    """What one plan is read with: its tree, its review, every rule as settled, and how files are looked for."""

    plan: Plan
    kit: Kit
    report: Report
    settled: tuple[Settled, ...]
    stages: Stages
    system: str
    nodes: Mapping[tuple[str, Address], Node]
    look: Look


def closeout(plan: Plan, kit: Kit, look: Look, options: Options = PLAIN) -> Closeout:
    """The record of a plan; ``look`` says of a file named in a section (its own file, the name) whether it is there."""
    root = build_subjects(plan, kit.catalogue)
    stages = stages_of(kit.vocabulary, options.stage, options.as_of)
    settled = judged(book_of(kit.packs, kit.catalogue), by_kind(root), stages).settled
    nodes = {(node.kind, node.address): node for node in sections_in(plan.root)}
    report = review(plan, kit, options)
    ground = _Ground(plan, kit, report, settled, stages, system_of(root), nodes, look)
    wanted = due_sheets(root, kit.sheets)
    missing = _missing(wanted, ground)
    places = tuple(_place(one, missing.get((one.kind, one.address), ()), ground) for one in _in_order(root))
    roles = [role for sheet, _ in wanted for role in sheet.signs]
    return Closeout(
        file=plan.file,
        plan=plan.root.name,
        stage=report.stage,
        summary=report.summary,
        places=tuple(one for one in places if one.kind != "plan" or one.kept or one.missing),
        variances=tuple(f"{one.state}: {one.rule} on {one.address}, {one.because}" for one in report.variances),
        signs=tuple(dict.fromkeys((*roles, *LAST))),
        unread=tuple(str(problem) for problem in plan.problems),
        rules=report.rules,
        packs=report.packs,
        as_of=report.as_of,
        fragment=plan.fragment,
    )


def _in_order(root: Subject) -> Iterator[Subject]:
    """The places of a plan, each room with its assemblies and their parts behind it."""
    yield root
    for name in ("rooms", "assemblies", "parts"):
        for one in root.collections.get(name, ()):
            yield from _in_order(one)


def _place(subject: Subject, missing: Sequence[Missing], ground: _Ground) -> Place:
    node = ground.nodes[subject.kind, subject.address]
    built: tuple[Built, ...] = tuple(built_lines(node, ground.kit.vocabulary))
    kept = tuple(
        _kept(one, ground) for kind in FILED for one in subject.collections.get(f"{kind}s", ()) if one.kind == kind
    )
    return Place(subject.kind, subject.address, ground.stages.of(subject), built, kept, tuple(missing))


def _kept(filed: Subject, ground: _Ground) -> Kept:
    node = ground.nodes[filed.kind, filed.address]
    word = ground.kit.vocabulary.sections[filed.kind]
    here = filed.address
    fails = (one for one in ground.report.findings if any(place.address == here for place in one.places))
    asks = (one for one in ground.report.questions if any(place.address == here for place in one.places))
    return Kept(
        sort=filed.kind,
        kind=_first(filed, (KINDS[filed.kind],)),
        name=filed.name,
        when=" to ".join(_texts(filed, WHEN[filed.kind])),
        by=_first(filed, BY[filed.kind]),
        lines=tuple(line_text(entry, word) for entry in node.entries),
        files=tuple(ground.look(filed.span.file, name) for name in _texts(filed, FILES[filed.kind])),
        fails=tuple(Shown(one.rule, one.outcome, one.weight, one.message) for one in fails),
        asks=tuple(one.text for one in asks),
        span=filed.span,
    )


def _texts(subject: Subject, facts: Iterable[str]) -> list[str]:
    """What a section itself says of some facts, in words."""
    found = (subject.own.get(fact) for fact in facts)
    return [one.text.strip('"') for one in found if one is not None and one.text]


def _first(subject: Subject, facts: tuple[str, ...]) -> str:
    values = (subject.own.get(fact) for fact in facts)
    return next((str(one.value) for one in values if isinstance(one, Known)), "")


def _missing(wanted: Sequence[Wanted], ground: _Ground) -> Mapping[tuple[str, Address], list[Missing]]:
    """What is not on file, by its place."""
    lacking = [one for one in wanted if not on_file(one.sheet, one.place)]
    blanks = shown_by_blank(ground.plan, lacking, ground.kit, ground.system)
    found: dict[tuple[str, Address], list[Missing]] = {}
    for sheet, place in lacking:
        shows = {
            one.rule: one for one in (*_kept_open(sheet, place, ground), *blanks.get((sheet.name, place.address), ()))
        }
        late = ground.stages.reached(ground.stages.of(place), sheet.due)
        told = Missing(
            sheet=sheet.name,
            title=sheet.title,
            kind=sheet.kinds[0],
            due=sheet.due,
            late=late,
            by=sheet.by,
            shows=tuple(shows.values()),
            second_best=sheet.second_best,
        )
        found.setdefault((place.kind, place.address), []).append(told)
    return found


def _kept_open(sheet: Sheet, place: Subject, ground: _Ground) -> Iterator[Shown]:
    """The rules that stay open at a place for want of a sheet."""
    for one in ground.settled:
        waits = one.outcome in (NOT_SHOWN, TO_COME) or (one.outcome == FAILS and asks_for_sheet(one.rule, sheet))
        if waits and rests_on_sheet(one.rule, sheet):
            near = next((each for each in one.subjects if touches(each, place)), None)
            if near is not None:
                yield passing(one.rule, near, ground.system)._replace(outcome=one.outcome, weight=one.weight)
