"""Forms to fill in by pencil: one for each sheet that is due and not on file, with the plan's limits on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.kernel.values import Between, Cases, Known, ValueSet
from speclint.packs.rule import Rule
from speclint.plan.tree import Node, Plan
from speclint.review.gates import book_of
from speclint.review.judging import by_kind, judged
from speclint.review.kit import Kit
from speclint.review.report import DOES_NOT_APPLY
from speclint.review.run import PLAIN, Options
from speclint.review.settle import Settled
from speclint.review.show import show, system_of
from speclint.review.stages import stages_of
from speclint.works.as_built import lines_named, sections_in
from speclint.works.blank_records import Address, passing, shown_by_blank
from speclint.works.closeout_values import Shown
from speclint.works.sheets import Sheet, due_sheets, on_file, rests_on_sheet, touches


class Blank(NamedTuple):
    """One form: whose it is, what the plan says and the rules hold it to, and the lines and table left open."""

    plan: str
    address: Address
    title: str
    kind: str
    due: str
    by: str
    planned: tuple[tuple[str, str], ...]
    figures: tuple[tuple[str, str], ...]
    limits: tuple[str, ...]
    lines: tuple[str, ...]
    columns: tuple[str, ...]
    of: tuple[str, ...]
    rows: int
    caution: str
    second_best: str
    signs: tuple[str, ...]


def blank_forms(plan: Plan, kit: Kit, options: Options = PLAIN) -> tuple[Blank, ...]:
    """The forms of a plan in the order of its places."""
    root = build_subjects(plan, kit.catalogue)
    book = book_of(kit.packs, kit.catalogue)
    settled = judged(book, by_kind(root), stages_of(kit.vocabulary, options.stage, options.as_of)).settled
    wanted = [one for one in due_sheets(root, kit.sheets) if not on_file(*one)]
    system = system_of(root)
    blanks = shown_by_blank(plan, wanted, kit, system)
    nodes = {(node.kind, node.address): node for node in sections_in(plan.root)}
    cautions = {str(row["name"]): str(row["says"]) for row in kit.cautions}
    found: list[Blank] = []
    for sheet, place in wanted:
        limits = {
            **{one.rule: one for one in _held_to(sheet, place, settled, system)},
            **{one.rule: one for one in blanks.get((sheet.name, place.address), ())},
        }
        told = tuple(one.says for one in limits.values() if _measures(book.rules[one.rule]))
        planned = tuple(_planned(sheet, nodes[place.kind, place.address], kit))
        found.append(_blank(sheet, place, planned, told, cautions, (kit, system, plan.root.name)))
    return tuple(found)


def _measures(rule: Rule) -> bool:
    """Whether what passes is told with a figure, and is not merely advice."""
    return "{" in rule.passes


def _held_to(sheet: Sheet, place: Subject, settled: tuple[Settled, ...], system: str) -> Iterator[Shown]:
    """The rules on the place that such a record would show, also those that the plan's own figure meets."""
    for one in settled:
        if one.outcome != DOES_NOT_APPLY and rests_on_sheet(one.rule, sheet):
            near = next((each for each in one.subjects if touches(each, place)), None)
            if near is not None:
                yield passing(one.rule, near, system)


def _planned(sheet: Sheet, node: Node, kit: Kit) -> Iterator[tuple[str, str]]:
    """The lines of the plan that bear on the sheet; those of a room's assemblies with their names."""
    words = kit.vocabulary
    yield from lines_named(node, sheet.plan_lines, words)
    for child in node.children if node.kind == "room" else ():
        if child.kind == "assembly":
            yield from ((f"{key}, {child.name}", text) for key, text in lines_named(child, sheet.plan_lines, words))


def _blank(
    sheet: Sheet,
    place: Subject,
    planned: tuple[tuple[str, str], ...],
    limits: tuple[str, ...],
    cautions: Mapping[str, str],
    given: tuple[Kit, str, str],
) -> Blank:
    kit, system, plan = given
    figures = ((fact, place.get(fact)) for fact in sheet.figures)
    return Blank(
        plan=plan,
        address=place.address,
        title=sheet.title,
        kind=sheet.kinds[0],
        due=sheet.due,
        by=sheet.by,
        planned=planned,
        figures=tuple((_means(fact, kit), _shown(fact, value, kit, system)) for fact, value in figures if _told(value)),
        limits=limits,
        lines=tuple(sheet.lines.values()),
        columns=tuple(_means(fact, kit) for fact in sheet.readings),
        of=sheet.of,
        rows=sheet.rows,
        caution=cautions.get(sheet.caution, ""),
        second_best=sheet.second_best,
        signs=sheet.signs,
    )


def _means(fact: str, kit: Kit) -> str:
    entry = kit.catalogue.find(fact)
    return entry.means if entry else fact


def _told(value: ValueSet) -> bool:
    return isinstance(value, (Known, Between, Cases))


def _shown(fact: str, value: ValueSet, kit: Kit, system: str) -> str:
    return show(value, kit.catalogue.find(fact), kit.catalogue, system)
