"""Each property that a line of the specification demands against what an item claims, told side by side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice, product
from typing import NamedTuple

from speclint.facts.catalogue import Catalogue, Fact
from speclint.kernel.logic import both
from speclint.kernel.values import DEMANDED, Absent, Among, Between, Cases, Known, Members, Unknown, ValueSet, member
from speclint.review.kit import Kit
from speclint.review.report import FAILS, MEETS, NOT_SHOWN
from speclint.review.show import show
from speclint.works.answering import Answer, alike_names, answers
from speclint.works.called_for import Call
from speclint.works.goods import ROLE, Goods, Knowledge, Together, role_of
from speclint.works.handed import Requirement

MOST_CASES = 64
OUTCOME = {True: MEETS, False: FAILS, None: NOT_SHOWN}
_BY_SECTION = "by section"


class Sides(NamedTuple):
    """All that one comparison needs: the call, the goods, the claims, and the words and units they are told in."""

    call: Call
    goods: Goods | None
    claims: Mapping[str, ValueSet]
    known: Knowledge
    kit: Kit
    system: str

    @property
    def catalogue(self) -> Catalogue:
        """The catalogue of facts."""
        return self.kit.catalogue


def requirements(sides: Sides) -> tuple[Requirement, ...]:
    """What one line demands, each property once; of a written choice the alternative that the item answers best."""
    wanted = {fact: value for fact, value in sides.call.entry.facts.items() if _is_demanded(fact, sides)}
    found = [tuple(_rows(case, wanted, sides)) for case in _alternatives(wanted)]
    return min(found, key=_badness, default=())


def _badness(rows: tuple[Requirement, ...]) -> tuple[int, ...]:
    return tuple(sum(row.outcome == outcome for row in rows) for outcome in (FAILS, NOT_SHOWN))


def _is_demanded(fact: str, sides: Sides) -> bool:
    """A property of the goods, or whatever else the item speaks of; work on site is not asked of a data sheet."""
    if sides.call.stands_for:
        return fact in sides.call.stands_for
    value = sides.call.entry.facts[fact]
    if fact == ROLE or (isinstance(value, Unknown) and value.origin in (_BY_SECTION, "by others", "unreadable")):
        return False
    if fact in sides.claims and not isinstance(sides.claims[fact], Unknown):
        return True
    whole = isinstance(value, Absent) or (isinstance(value, Unknown) and value.origin == DEMANDED)
    return not whole and sides.goods is not None and fact in sides.goods.facts


def _alternatives(wanted: Mapping[str, ValueSet]) -> Iterator[dict[str, ValueSet]]:
    """Every alternative of the written choices among the demands."""
    groups = {v.group: len(v.members) for v in wanted.values() if isinstance(v, Cases) and not v.together}
    for picks in islice(product(*(range(size) for size in groups.values())), MOST_CASES):
        picked = dict(zip(groups, picks, strict=True))
        case = {
            fact: member(value, picked[value.group]) if isinstance(value, Cases) and not value.together else value
            for fact, value in wanted.items()
        }
        yield {fact: value for fact, value in case.items() if not isinstance(value, Unknown) or value.text}


def _rows(case: Mapping[str, ValueSet], wanted: Mapping[str, ValueSet], sides: Sides) -> Iterator[Requirement]:
    methods = {sides.known.by_method[fact] for fact in case if fact in sides.known.by_method}
    told: set[str] = set()
    for fact in case:
        joined = sides.known.joined(fact)
        if fact in told or fact in methods:
            continue
        if joined is not None and all(one in case for one in joined.facts):
            told.update(joined.facts)
            yield _together(joined, case, sides)
        else:
            yield _one(fact, case, wanted, sides)


def _one(fact: str, case: Mapping[str, ValueSet], wanted: Mapping[str, ValueSet], sides: Sides) -> Requirement:
    entry, claim = _fact(fact, sides), _claim(fact, sides)
    answer = _each(entry, case[fact], claim, sides.catalogue)
    clause = _clause(entry, wanted[fact], sides.catalogue)
    why = answer.why or (_open_on(claim) if answer.truth is None else "")
    row = Requirement(
        means=_means(entry, sides),
        specified=_said(wanted[fact], entry, sides),
        submitted=_said(claim, entry, sides),
        outcome=OUTCOME[answer.truth],
        place=wanted[fact].span or sides.call.entry.span,
        clause=clause,
        settles=_settles(entry, answer, clause, sides.known) if answer.truth is None else "",
        why="; ".join(part for part in (why, _past(clause, sides.kit)) if part),
        key=sides.call.entry.key,
    )
    method = sides.known.by_method.get(fact, "")
    return _by_method(row, method, case[method], sides) if method in case else row


def _by_method(row: Requirement, method: str, demanded: ValueSet, sides: Sides) -> Requirement:
    """A figure with the method that gave it: figures of two methods never stand for each other."""
    entry, given = _fact(method, sides), _claim(method, sides)
    wants, gives = _said(demanded, entry, sides), _said(given, entry, sides)
    clause = _clause(entry, demanded, sides.catalogue)
    row = row._replace(
        specified=f"{wants} {row.specified}", submitted=f"{gives} {row.submitted}".strip(), clause=clause
    )
    past = _past(clause, sides.kit)
    if _each(entry, demanded, given, sides.catalogue).truth is True:
        return row._replace(why="; ".join(part for part in (row.why, past) if part))
    differ = f"figures of two methods are not compared; the specification wants {wants}"
    why = differ if gives else f"it is not told by which method; the specification wants {wants}"
    settles = "a test in force, named by the designer" if past else f"a test report by {clause or wants}"
    return row._replace(outcome=NOT_SHOWN, why="; ".join(part for part in (why, past) if part), settles=settles)


def _open_on(claim: ValueSet) -> str:
    """What keeps a property open that the item leaves unknown, or tells of too loosely."""
    if isinstance(claim, Unknown):
        return "what is told of it could not be read" if claim.origin == "unreadable" else "nothing is told of it"
    if isinstance(claim, Between):
        return "what is told of it may also fall outside"
    return "it is told as a family, and not which of it" if isinstance(claim, Among) else ""


def _past(clause: str, kit: Kit) -> str:
    """That the standard of a demand is no longer in force, and what took its place."""
    row = kit.standards.get(clause, {})
    state, successor = row.get("state", "current"), row.get("successor", "")
    if state == "current":
        return ""
    return f"{clause} is {state}" + (f", {successor} took its place" if successor else "")


def _each(entry: Fact, demanded: ValueSet, claim: ValueSet, catalogue: Catalogue) -> Answer:
    """One demand, or several that must all be answered."""
    if not isinstance(demanded, Cases):
        return answers(entry, demanded, claim, catalogue)
    found = [_each(entry, one, claim, catalogue) for one in demanded.members]
    truths = {one.truth for one in found}
    if len(truths) == 1:
        return found[0]
    return Answer(None, "the specification calls for all of these")


def _together(joined: Together, case: Mapping[str, ValueSet], sides: Sides) -> Requirement:
    """Two figures as one: a tile turned by a quarter is the same tile."""
    facts = [_fact(name, sides) for name in joined.facts]
    need = [case[name] for name in joined.facts]
    have = [_claim(name, sides) for name in joined.facts]
    orders = (have, have[::-1]) if joined.turned else (have,)
    found = [_pair(facts, need, order, joined, sides.catalogue) for order in orders]
    answer = next((one for truth in (True, None) for one in found if one.truth is truth), found[0])
    return Requirement(
        means=joined.means,
        specified=_size(need, facts, sides),
        submitted=_size(have, facts, sides),
        outcome=OUTCOME[answer.truth],
        place=need[0].span or sides.call.entry.span,
        settles=_settles(facts[0], answer, "", sides.known) if answer.truth is None else "",
        why=answer.why,
        key=sides.call.entry.key,
    )


def _pair(
    facts: list[Fact], need: list[ValueSet], have: list[ValueSet], joined: Together, catalogue: Catalogue
) -> Answer:
    truths = [_each(fact, a, b, catalogue).truth for fact, a, b in zip(facts, need, have, strict=True)]
    if any(isinstance(one, Unknown) for one in have):
        return Answer(False if False in truths else None, "nothing is told of it")
    names = joined.names_within and all(alike_names(*two, joined.names_within) for two in zip(need, have, strict=True))
    if False in truths and names:
        return Answer(None, "a nominal size is a name: the actual size tells")
    return Answer(both(truths))


def _size(values: list[ValueSet], facts: list[Fact], sides: Sides) -> str:
    if all(isinstance(value, Unknown) for value in values):
        return ""
    told = [_said(value, fact, sides) for value, fact in zip(values, facts, strict=True)]
    return " x ".join(one for one in told if one)


def _fact(name: str, sides: Sides) -> Fact:
    return sides.catalogue.facts[sides.call.stands_for.get(name, name)]


def _means(fact: Fact, sides: Sides) -> str:
    """What a property means; of a layer by its role."""
    role = role_of(sides.call.entry)
    return fact.means.replace("the layer", f"the {role}") if role else fact.means


def _claim(fact: str, sides: Sides) -> ValueSet:
    return sides.claims[sides.call.stands_for.get(fact, fact)]


def _said(value: ValueSet, fact: Fact, sides: Sides) -> str:
    """A value as it is told in a row; nothing where nothing is told."""
    if isinstance(value, Unknown) and not value.text:
        return ""
    return show(value, fact, sides.catalogue, sides.system)


def _clause(fact: Fact, demanded: ValueSet, catalogue: Catalogue) -> str:
    """The standard, by number, of the word that is demanded."""
    kind = catalogue.words.kinds.get(fact.detail) if fact.sort in ("word", "words") else None
    if kind is None:
        return ""
    names = [kind.words[name] for name in _words_of(demanded) if name in kind.words]
    cites = [word.cites or str(word.properties.get("standard", "")) for word in names]
    return ", ".join(dict.fromkeys(one for one in cites if one))


def _words_of(value: ValueSet) -> tuple[str, ...]:
    """The words of a demand that names one product; of a choice none, for no one standard is demanded."""
    if isinstance(value, Known):
        return (str(value.value),)
    return tuple(sorted(value.has)) if isinstance(value, Members) else ()


def _settles(fact: Fact, answer: Answer, clause: str, known: Knowledge) -> str:
    """The paper that would settle a property that is not shown."""
    if clause and answer.why.startswith("a class of another"):
        return f"a test report by {clause}"
    return known.settled_by.get(fact.answers, known.settled_by[""])
