"""The submittal review: every item against what the specification calls for, then the work again as submitted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from speclint.facts.build import build_subjects
from speclint.kernel.faults import UsageFault
from speclint.kernel.values import Known, Members
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, Plan, same
from speclint.review.kit import Kit
from speclint.review.report import (
    CLEAR,
    DOES_NOT_APPLY,
    FAILS,
    MEETS,
    NOT_SHOWN,
    NOTED,
    OPEN,
    REVISE,
    Finding,
    Report,
)
from speclint.review.run import HEAVY, Options, review
from speclint.review.show import system_of
from speclint.works.as_submitted import Change, as_submitted, finding_mark, newly_broken, newly_open
from speclint.works.called_for import Handed, calls_for, claimed, claims, goods_called_for, handed_in, sections
from speclint.works.goods import Knowledge, role_of
from speclint.works.handed import EQUAL, SPECIFIED, SUBSTITUTION, Item, Missing, Package, Requirement
from speclint.works.papers import faults_of_reports, not_there, papers, wants
from speclint.works.requirements import Sides, requirements
from speclint.works.sets import proved_sets, with_sets

MOST_ITEMS = 200
WORST_FIRST = (REVISE, OPEN, NOTED, CLEAR)


class Judged(NamedTuple):
    """One item as judged, and the lines of the specification that it changes."""

    item: Item
    changes: tuple[Change, ...]


def review_submittal(plan: Plan, kit: Kit, known: Knowledge, options: Options, data: Sequence[str] = ()) -> Package:
    """The review of all submittals of a plan; ``data`` names the files of product data in the order they came in.

    Raises UsageFault where there are more items than are reviewed at once.
    """
    job = _Job(plan, kit, known, options)
    places = {file: place for place, file in enumerate(data)}
    in_order = sorted(handed_in(plan.root), key=lambda one: (places.get(one.node.span.file, -1), one.node.span.order))
    handed = tuple(in_order)
    if len(handed) > MOST_ITEMS:
        raise UsageFault(f"{len(handed):,} items were handed in; more than {MOST_ITEMS} are not reviewed at once")
    judged = tuple(job.judged(one) for one in handed)
    changes = tuple(change for one in judged for change in one.changes)
    there = papers(plan.root, tuple((one, job.goods(one)) for one in handed))
    items = with_sets(tuple(one.item for one in judged), proved_sets(plan.root), there)
    told = tuple(job.finished(item, one.changes) for item, one in zip(items, judged, strict=True))
    blamed = {finding_mark(finding) for item in told for finding in item.breaks}
    package = Package(
        file=plan.file,
        plan=plan.root.name,
        data=", ".join(data),
        as_of=options.as_of,
        items=told,
        not_handed_in=tuple(job.not_handed_in(changes)),
        papers=not_there(wants(plan.root), there),
        breaks=tuple(one for one in job.broken(changes) if finding_mark(one) not in blamed),
        unread=tuple(sorted(plan.problems, key=lambda one: one.span.order)),
        rules=job.before.rules,
        packs=job.before.packs,
    )
    return package._replace(summary=_package_word(package))


class _Job:
    """What every item of one plan is judged with."""

    def __init__(self, plan: Plan, kit: Kit, known: Knowledge, options: Options) -> None:
        self.plan, self.kit, self.known, self.options = plan, kit, known, options
        self.catalogue = kit.catalogue
        self.before = review(plan, kit, options)
        self.system = system_of(build_subjects(plan, kit.catalogue))
        self.wants = wants(plan.root)
        self.decisions = tuple(_decisions(plan.root, options.roles))

    def goods(self, handed: Handed) -> str:
        """The word for what an item is: as told, else by its first line."""
        told = next(
            (entry.facts["submittal.item"] for entry in handed.node.entries if "submittal.item" in entry.facts), None
        )
        if isinstance(told, Members) and told.has:
            return min(told.has)
        found = (self.known.of(entry) for entry in claims(handed, self.catalogue))
        return next((one.item for one in found if one is not None), "")

    def judged(self, handed: Handed) -> Judged:
        """One item against every line that it answers."""
        rows: list[Requirement] = []
        changes: list[Change] = []
        for entry in claims(handed, self.catalogue):
            facts = claimed(handed, entry, self.catalogue)
            calls = calls_for(entry, handed, self.known)
            goods = self.known.of(entry)
            if not calls:
                rows.append(_unasked(entry))
            for call in calls:
                sides = Sides(call, None if call.stands_for else goods, facts, self.known, self.kit, self.system)
                rows.extend(requirements(sides))
                changes.append(Change(call, facts))
        rows.extend(faults_of_reports(handed, self.wants, self.options.as_of))
        offered = _offered(handed.node)
        rows.extend(self._route(handed, offered))
        item = Item(
            name=handed.node.name,
            goods=self.goods(handed),
            address=handed.node.address[:-1],
            offered=offered,
            span=handed.node.span,
            requirements=tuple(dict.fromkeys(_taken(row, self.decided(handed)) for row in rows)),
        )
        return Judged(item, tuple(changes))

    def decided(self, handed: Handed) -> str:
        """The name of the recorded decision that takes an item as it is."""
        return next((name for which, name in self.decisions if which == same(handed.node.name)), "")

    def _route(self, handed: Handed, offered: str) -> Iterator[Requirement]:
        """A substitution, or what is offered as an equal, is always for the designer to take or to refuse."""
        if offered in (SUBSTITUTION, EQUAL):
            decided = self.decided(handed)
            settles = "a decision in writing by the designer"
            yield Requirement(
                "offered as", SPECIFIED, offered, MEETS if decided else NOT_SHOWN, handed.node.span,
                settles="" if decided else settles, decided=decided, key="offered",
            )  # fmt: skip

    def finished(self, item: Item, changes: tuple[Change, ...]) -> Item:
        """The item with what it alone breaks and opens, what its own sheet bars, and its word."""
        own = (*item.address, item.name)
        sheet = tuple(one for one in self.before.findings if one.section == own)
        after = self._after(changes)
        opens = newly_open(self.before, after)
        heads = {fact.partition(".")[0] for change in changes for fact in change.facts}
        touching = tuple(one for one in opens if one.fact.partition(".")[0] in heads and one.weight in HEAVY)
        done = item._replace(breaks=(*sheet, *newly_broken(self.before, after)), opens=touching)
        return done._replace(summary=_item_word(done))

    def broken(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """What all items together break; of several for one line the first counts."""
        first: dict[tuple[int, int], Change] = {}
        for change in changes:
            first.setdefault((id(change.call.node), id(change.call.entry)), change)
        return newly_broken(self.before, self._after(tuple(first.values())))

    def _after(self, changes: tuple[Change, ...]) -> Report:
        return review(as_submitted(self.plan, changes), self.kit, self.options) if changes else self.before

    def not_handed_in(self, changes: Iterable[Change]) -> Iterator[Missing]:
        """The lines that call for goods of which no item speaks."""
        answered = {(id(one.call.node), id(one.call.entry)) for one in changes}
        for call, item in goods_called_for(self.plan.root, self.known, self.catalogue):
            if (id(call.node), id(call.entry)) not in answered:
                yield Missing(item, call.entry.text, call.node.address, call.entry.span)


def _taken(row: Requirement, decided: str) -> Requirement:
    """What does not meet, as it stands once a decision takes it."""
    return row._replace(decided=decided) if decided and row.outcome == FAILS else row


def _unasked(entry: Entry) -> Requirement:
    what = role_of(entry) or entry.key
    why = f"the specification calls for no {what} here"
    return Requirement(what, "", entry.text, DOES_NOT_APPLY, entry.span, why=why, key=entry.key)


def _offered(node: Node) -> str:
    for entry in node.entries:
        value = entry.facts.get("submittal.offered")
        if isinstance(value, Known):
            return str(value.value)
    return ""


def _decisions(root: Node, roles: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """What each decision that takes an item says it takes, and its name."""
    for node in sections(root):
        facts = {fact: value for entry in node.entries for fact, value in entry.facts.items()}
        confirms = facts.get("decision.confirms")
        name = facts.get("decision.name")
        who = "decision.role" in facts or (isinstance(name, Known) and same(str(name.value)) in roles)
        if isinstance(confirms, Known) and confirms.value is True and who:
            which = facts.get("decision.which")
            yield same(str(which.value) if isinstance(which, Known) else node.name), node.name


def _item_word(item: Item) -> str:
    outcomes = {row.outcome for row in item.requirements}
    fails = any(row.outcome == FAILS and not row.decided for row in item.requirements)
    if fails or any(_bars(one, item) for one in item.breaks):
        return REVISE
    if NOT_SHOWN in outcomes or item.opens or not outcomes - {DOES_NOT_APPLY}:
        return OPEN
    noted = item.breaks or DOES_NOT_APPLY in outcomes or any(row.decided for row in item.requirements)
    return NOTED if noted else CLEAR


def _bars(finding: Finding, item: Item) -> bool:
    """Whether a finding bars an item: a heavy one, or one on its own sheet; an agreed exception bars nothing."""
    return not finding.variance and (finding.weight in HEAVY or finding.section == (*item.address, item.name))


def _package_word(package: Package) -> str:
    words = {item.summary for item in package.items}
    if package.unread or any(one.weight in HEAVY for one in package.breaks):
        words.add(REVISE)
    if package.not_handed_in or package.papers or not package.items:
        words.add(OPEN)
    if package.breaks:
        words.add(NOTED)
    return next(word for word in WORST_FIRST if word in words or word == CLEAR)
