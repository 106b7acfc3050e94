"""What a record would show once it is filled in: the rules that a blank one leaves open, with what would pass."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from speclint.engine.decide import decide
from speclint.engine.nodes import facts_of
from speclint.engine.outcomes import Judgement
from speclint.facts.build import build_subjects, walk
from speclint.facts.subject import Subject
from speclint.kernel.values import Known, Unknown, ValueSet
from speclint.packs.rule import Rule
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, Plan
from speclint.plan.vocabulary import Vocabulary
from speclint.review.kit import Kit
from speclint.review.messages import fill
from speclint.review.report import FAILS, MEETS, NOT_SHOWN
from speclint.works.closeout_values import Shown
from speclint.works.sheets import RECORD, Sheet, Wanted

KIND, READING, THING = "record.kind", "reading", "reading.what"
OWN = ("record.", "contact.")
SILENT = "not stated"  # a figure that the plan does not give
NEVER = ("flag", False)
VERDICTS = frozenset({"record.result", "record.inspected"})
Address = tuple[str, ...]


def shown_by_blank(
    plan: Plan, wanted: Sequence[Wanted], kit: Kit, system: str
) -> Mapping[tuple[str, Address], tuple[Shown, ...]]:
    """For each sheet by its name and place the rules that judge such a record and need what is written on it."""
    blanks: dict[Address, list[Node]] = {}
    keys: dict[Address, tuple[str, Address]] = {}
    for sheet, place in wanted:
        if sheet.sort == RECORD:
            node = _blank(sheet, place, kit.vocabulary)
            blanks.setdefault(place.address, []).append(node)
            keys[node.address] = (sheet.name, place.address)
    root = build_subjects(plan._replace(root=_with(plan.root, blanks)), kit.catalogue)
    rules = [rule for pack in kit.packs for rule in pack.rules if rule.judges == RECORD]
    found: dict[tuple[str, Address], tuple[Shown, ...]] = {}
    for subject in walk(root):
        if subject.kind == RECORD and subject.address in keys:
            found[keys[subject.address]] = tuple(_shown(rules, subject, system))
    return found


def passing(rule: Rule, subject: Subject, system: str) -> Shown:
    """A rule as a record of this subject would show it: what passes, else what settles it."""
    decision = decide(rule.judgement, subject)
    says = fill(rule.passes, rule, subject, decision, system)
    return Shown(rule.name, NOT_SHOWN, rule.weight, says if says and SILENT not in says else rule.settles)


def _shown(rules: Iterable[Rule], subject: Subject, system: str) -> Iterable[Shown]:
    """The rules that surely apply to the record and are open on it, save those on a verdict that is merely told."""
    for rule in rules:
        if VERDICTS.issuperset(facts_of(rule.judgement.demands)):
            continue
        surely = Judgement(NEVER, rule.judgement.applies, rule.judgement.limits)
        if decide(surely, subject).outcome == FAILS and decide(rule.judgement, subject).outcome != MEETS:
            yield passing(rule, subject, system)


def _with(node: Node, blanks: Mapping[Address, Sequence[Node]]) -> Node:
    """The tree with the blank records under the sections they are due at."""
    children = tuple(_with(child, blanks) for child in node.children)
    more = blanks.get(node.address, ()) if node.kind in ("room", "assembly") else ()
    return node._replace(children=(*children, *more))


def _blank(sheet: Sheet, place: Subject, words: Vocabulary) -> Node:
    """A record of the sheet's kind in which every line is there and none is filled in."""
    keys = words.sections[RECORD].keys
    facts = {fact for line in sheet.lines for fact in keys[line].facts if fact.startswith(OWN)}
    told: dict[str, ValueSet] = {
        fact: Unknown("", place.span, told=True) for fact in sorted(facts) if place.stated(fact) is None
    }
    entries = [_entry("kind", {**told, KIND: Known(sheet.kinds[0], sheet.kinds[0], place.span)}, place)]
    for thing in sheet.of or ("",) if sheet.readings else ():
        row: dict[str, ValueSet] = {fact: Unknown("", place.span, told=True) for fact in sheet.readings}
        if thing:
            row[THING] = Known(thing, thing, place.span)
        entries.append(_entry(READING, row, place))
    name = f"blank {sheet.name}"
    return Node(RECORD, name, (*place.address, name), place.span, tuple(entries))


def _entry(key: str, facts: dict[str, ValueSet], place: Subject) -> Entry:
    return Entry(key, facts, "", "", place.span, key)
