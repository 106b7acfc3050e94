"""Outcomes over value sets against every exact shelf that the sets allow, one by one."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.engine.decide import decide
from speclint.engine.outcomes import DOES_NOT_APPLY, DOES_NOT_MEET, MEETS, NOT_SHOWN
from speclint.kernel.values import DEMANDED, MISSING, Among, Between, Cases, Known, ValueSet

from .shelving import INCH, Thing, either, inches, rule

LEAVES = [
    "shelf.width > 3 in",
    "shelf.width <= shelf.deep",
    "shelf.width + shelf.deep < 8 in",
    "shelf.deep = 4 in",
    "shelf.wood = oak",
    "shelf.wood is one of {oak, spruce}",
    "shelf.wood != ash",
    "shelf.width - shelf.deep != 1 in",
]
CONDITIONS = st.recursive(
    st.sampled_from(LEAVES),
    lambda inner: st.one_of(
        st.builds("({} and {})".format, inner, inner),
        st.builds("({} or {})".format, inner, inner),
        st.builds("(not {})".format, inner),
    ),
    max_leaves=4,
)
INCHES = st.integers(1, 6)
WOODS = ("oak", "ash", "spruce")


@st.composite
def lengths(draw: st.DrawFn, group: str) -> tuple[ValueSet, list[ValueSet]]:
    """A set of lengths, and exact members of it: all of a choice, some of a range."""
    low = draw(INCHES)
    high = draw(st.integers(low, 7))
    exact: list[ValueSet] = [inches(size) for size in range(low, high + 1)]
    if low == high:
        return exact[0], exact
    if draw(st.booleans()):
        return either(*exact, group=group), exact
    origin = draw(st.sampled_from([DEMANDED, MISSING]))
    return Between(low * INCH, high * INCH, origin=origin), exact


@st.composite
def woods(draw: st.DrawFn) -> tuple[ValueSet, list[ValueSet]]:
    """A set of words, and its members."""
    names = sorted(draw(st.sets(st.sampled_from(WOODS), min_size=1)))
    exact: list[ValueSet] = [Known(name) for name in names]
    if len(names) == 1:
        return exact[0], exact
    if draw(st.booleans()):
        return either(*exact, group="wood"), exact
    return Among(frozenset(names), origin=draw(st.sampled_from([DEMANDED, MISSING]))), exact


@settings(max_examples=300, deadline=None)
@given(CONDITIONS, st.none() | CONDITIONS, lengths("width"), lengths("deep"), woods(), st.booleans())
def test_an_outcome_holds_for_every_exact_shelf_that_the_sets_allow(
    demands: str,
    applies: str | None,
    width: tuple[ValueSet, list[ValueSet]],
    deep: tuple[ValueSet, list[ValueSet]],
    wood: tuple[ValueSet, list[ValueSet]],
    strict: bool,
) -> None:
    judgement = rule(demands, applies)
    names = ("shelf.width", "shelf.deep", "shelf.wood")
    sets = (width[0], deep[0], wood[0])
    decision = decide(judgement, Thing(dict(zip(names, sets, strict=True))), strict)
    exact = {
        decide(judgement, Thing(dict(zip(names, members, strict=True)))).outcome
        for members in product(width[1], deep[1], wood[1])
    }
    if decision.outcome == MEETS:
        assert exact <= {MEETS, DOES_NOT_APPLY}
    elif decision.outcome == DOES_NOT_APPLY:
        assert exact == {DOES_NOT_APPLY}
    elif decision.outcome == DOES_NOT_MEET and not decision.admits:
        assert exact == {DOES_NOT_MEET}
    elif decision.outcome == DOES_NOT_MEET:
        assert not strict
        assert _fails_as_told(judgement, decision.admits, names, sets)
    else:
        assert decision.outcome == NOT_SHOWN
        assert decision.open_on
    few = len(width[1]) * len(deep[1]) * len(wood[1]) <= 64
    only_choices = few and all(isinstance(one, (Known, Cases)) for one in sets)
    if only_choices and exact <= {MEETS, DOES_NOT_APPLY}:
        assert decision.outcome in (MEETS, DOES_NOT_APPLY)
    if only_choices and exact == {DOES_NOT_MEET}:
        assert (decision.outcome, decision.admits) == (DOES_NOT_MEET, ())


def _fails_as_told(judgement: object, admits: object, names: tuple[str, ...], sets: tuple[ValueSet, ...]) -> bool:
    told = {one.fact: one.value for one in admits}  # type: ignore[attr-defined]
    facts = {name: told.get(name, value) for name, value in zip(names, sets, strict=True)}
    outcome = decide(judgement, Thing(facts))  # type: ignore[arg-type]
    return outcome.outcome == DOES_NOT_MEET and (set(told) <= set(names)) and not outcome.admits
