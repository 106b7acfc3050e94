"""Conditions over value sets: collections, sets of words, orders, what covers what, and what is left in the trace."""

from __future__ import annotations

import json
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.engine.closures import compile_condition, compile_value
from speclint.engine.nodes import Node
from speclint.engine.reading import Env
from speclint.kernel.faults import EngineDefect
from speclint.kernel.values import (
    ASSUMED,
    MISSING,
    NOTHING,
    TAKEN,
    Absent,
    Among,
    Between,
    Known,
    Members,
    Unknown,
    ValueSet,
)

from .shelving import INCH, Thing, either, inches, node

OAK, ASH = Known("oak"), Known("ash")


def truth(text: str, thing: Thing) -> bool | None:
    """A condition on a subject; through JSON, as a compiled pack is."""
    made: Node = json.loads(json.dumps(node(text)))
    return compile_condition(made)(Env(thing, {}))


def left_open(text: str, thing: Thing) -> list[str]:
    """The facts left in the trace."""
    env = Env(thing, {})
    compile_condition(node(text))(env)
    return [fact for _, fact, _ in env.open_on]


def shelf(**facts: ValueSet) -> Thing:
    """A shelf with facts of its own."""
    return Thing({f"shelf.{name}": value for name, value in facts.items()})


@pytest.mark.parametrize(
    ("value", "flag", "not_flag", "equals_no"),
    [
        (Known(True), True, False, False),
        (Known(False), False, True, True),
        (Absent(), False, True, False),
        (NOTHING, None, None, None),
    ],
)
def test_a_flag_alone_is_a_condition(
    value: ValueSet, flag: bool | None, not_flag: bool | None, equals_no: bool | None
) -> None:
    thing = shelf(painted=value)
    assert truth("shelf.painted", thing) is flag
    assert truth("not shelf.painted", thing) is not_flag
    assert truth("shelf.painted = no", thing) is equals_no


def test_absent_and_stated() -> None:
    assert truth("shelf.wood is absent", shelf(wood=Absent())) is True
    assert truth("shelf.wood is absent", shelf(wood=OAK)) is False
    assert truth("shelf.wood is absent", shelf()) is None
    assert truth("shelf.wood is stated", shelf()) is False
    assert truth("shelf.wood is not stated", shelf(wood=Absent(origin=TAKEN))) is True
    assert truth("shelf.wood is stated", shelf(wood=Absent())) is True
    assert truth("shelf.wood is stated", shelf(wood=either(OAK, ASH))) is True
    assert truth("shelf.wood is stated", shelf(wood=Unknown(told=True))) is True


def test_sets_of_words() -> None:
    assert truth("shelf.marks has dry", shelf(marks=Members(frozenset({"dry"})))) is True
    assert truth("shelf.marks has fire", shelf(marks=Members(frozenset({"dry"})))) is None
    assert truth("shelf.marks has fire", shelf(marks=Members(frozenset(), closed=True))) is False
    assert left_open("shelf.marks has fire", shelf(marks=Members(frozenset({"dry"})))) == ["shelf.marks"]


def test_words_in_an_order() -> None:
    strong = Thing({"bracket.strength": Known("heavy"), "bracket.needed": Known("middling")})
    assert truth("bracket.strength >= bracket.needed", strong) is True
    assert truth("bracket.strength < bracket.needed", strong) is False
    some = Thing({"bracket.strength": Among(frozenset({"heavy", "middling"}))})
    assert truth("bracket.strength >= middling", some) is True
    assert truth("bracket.strength > middling", some) is None
    assert truth("bracket.strength > heavy", some) is False
    assert truth("bracket.strength >= middling", Thing({"bracket.strength": Absent()})) is False
    assert left_open("bracket.strength >= bracket.needed", Thing()) == ["bracket.strength", "bracket.needed"]


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        (Known("angle"), True),
        (Known("gusset"), True),
        (Known("gallows bracket"), None),
        (Among(frozenset({"angle", "gusset"})), True),
        (Among(frozenset({"angle", "gallows bracket"})), None),
        (Absent(), False),
        (NOTHING, None),
    ],
)
def test_one_word_covers_another_excludes_it_or_tells_nothing(kind: ValueSet, expected: bool | None) -> None:
    assert truth("bracket.kind covers angle", Thing({"bracket.kind": kind})) is expected


def test_an_excluded_word_is_no_and_a_silent_relation_is_asked() -> None:
    assert truth("bracket.kind covers gusset", Thing({"bracket.kind": Known("angle")})) is False
    assert left_open("bracket.kind covers angle", Thing({"bracket.kind": Known("gallows bracket")})) == ["bracket.kind"]


def test_a_set_of_words_covers_what_one_of_them_covers() -> None:
    some = Members(frozenset({"gallows bracket", "gusset"}))
    angle = Members(frozenset({"angle"}))
    assert truth("shelf.bracket-kinds covers angle", Thing({"shelf.bracket-kinds": some})) is True
    assert truth("shelf.bracket-kinds covers gusset", Thing({"shelf.bracket-kinds": angle})) is None
    closed = Thing({"shelf.bracket-kinds": angle._replace(closed=True)})
    assert truth("shelf.bracket-kinds covers gusset", closed) is False


def shelf_on(*reaches: ValueSet, deep: ValueSet = inches(10)) -> Thing:  # noqa: B008
    """A shelf on brackets of given reaches; a bracket falls outwards to its shelf."""
    outer = Thing({"shelf.deep": deep})
    outer.parts["brackets"] = tuple(
        Thing({"bracket.reach": reach}, name=f"bracket {place}", outer=outer) for place, reach in enumerate(reaches)
    )
    return outer


LONG, SHORT = inches(9), inches(4)
REACHES = "(bracket.reach >= shelf.deep * 1/2)"


@pytest.mark.parametrize(
    ("reaches", "any_", "all_", "none"),
    [
        ((), False, True, True),
        ((LONG, SHORT), True, False, False),
        ((LONG, NOTHING), True, None, False),
        ((SHORT, NOTHING), None, False, None),
        ((LONG, LONG), True, True, False),
        ((SHORT, SHORT), False, False, True),
    ],
)
def test_collections_are_strong_kleene(
    reaches: tuple[ValueSet, ...], any_: bool | None, all_: bool | None, none: bool | None
) -> None:
    thing = shelf_on(*reaches)
    assert truth(f"any brackets {REACHES}", thing) is any_
    assert truth(f"all brackets {REACHES}", thing) is all_
    assert truth(f"none brackets {REACHES}", thing) is none


def test_a_count_over_unknown_members_is_a_range() -> None:
    thing = shelf_on(LONG, NOTHING, SHORT, LONG)
    value = compile_value(node(f"count of brackets {REACHES} >= 2")[2])(Env(thing, {}))
    assert value == Between(2, 3, origin=MISSING)
    assert truth(f"count of brackets {REACHES} >= 2", thing) is True
    assert truth(f"count of brackets {REACHES} > 3", thing) is False
    assert truth(f"count of brackets {REACHES} = 3", thing) is None
    assert left_open(f"count of brackets {REACHES} = 3", thing) == ["bracket.reach"]
    assert left_open(f"count of brackets {REACHES} >= 2", thing) == []
    assert truth("count of brackets = 4", thing) is True


def test_members_not_known_leave_open_on_the_collection() -> None:
    thing = Thing(parts={"brackets": None})
    for text in ("any brackets (bracket.steel)", "none brackets (bracket.steel)", "count of brackets > 1"):
        assert truth(text, thing) is None
        assert left_open(text, thing) == ["brackets"]
    assert truth("count of brackets >= 0", thing) is True


def test_a_member_that_decides_takes_the_trace_of_the_others_back() -> None:
    assert left_open(f"any brackets {REACHES}", shelf_on(NOTHING, LONG)) == []
    assert left_open(f"all brackets {REACHES}", shelf_on(NOTHING, SHORT)) == []
    assert left_open(f"all brackets {REACHES}", shelf_on(NOTHING, LONG)) == ["bracket.reach"]


def test_products_and_quotients_come_out_in_base_units() -> None:
    """600 mm x 250 mm is 0.15 m2; 6 kg over 0.15 m2 is 40 kg per m2 (by hand)."""
    thing = shelf(width=Known(6_000_000_000), deep=Known(2_500_000_000), load=Known(6_000))
    assert truth("shelf.width * shelf.deep = 0.15 m2", thing) is True
    assert truth("shelf.load / (shelf.width * shelf.deep) = 40 kg per m2", thing) is True
    assert truth("shelf.load = 40 kg per m2 * (shelf.width * shelf.deep)", thing) is True
    assert truth("0.15 m2 / shelf.width = shelf.deep", thing) is True
    assert truth("shelf.width / shelf.deep = 2.4", thing) is True


def test_the_subject_is_the_outer_one_again_after_a_collection() -> None:
    thing = shelf_on(NOTHING)
    thing.facts["shelf.painted"] = Known(True)
    env = Env(thing, {})
    assert compile_condition(node("any brackets (bracket.steel) or shelf.painted"))(env) is True
    assert env.subject is thing


def test_what_decides_anyway_takes_its_trace_back() -> None:
    thing = shelf(wood=OAK)
    assert left_open("shelf.width > 3 in or shelf.wood = oak", thing) == []
    assert left_open("shelf.width > 3 in and shelf.wood = ash", thing) == []
    assert left_open("shelf.width > 3 in and shelf.wood = oak", thing) == ["shelf.width"]
    assert left_open("shelf.width + 1 in > shelf.deep and shelf.load > 3 kg", shelf(deep=inches(3))) == [
        "shelf.width",
        "shelf.load",
    ]


def test_arithmetic_over_ranges_is_decided_where_all_members_agree() -> None:
    thing = shelf(width=Between(10 * INCH, 12 * INCH, origin=ASSUMED), deep=inches(3))
    assert truth("shelf.width - shelf.deep >= 7 in", thing) is True
    assert truth("shelf.width - shelf.deep > 7 in", thing) is None
    assert truth("shelf.width / shelf.deep > 4", thing) is False
    assert truth("shelf.width * shelf.deep < 37 in * 1 in", thing) is True
    assert left_open("shelf.width - shelf.deep > 7 in", thing) == ["shelf.width"]


def test_a_choice_not_picked_is_wanted_and_read_under_a_pick() -> None:
    thing = shelf(wood=either(OAK, ASH), width=either(inches(3), inches(5)))
    env = Env(thing, {})
    oak = compile_condition(node("shelf.wood = oak and shelf.width > 4 in"))
    assert oak(env) is None
    assert list(env.wanted) == ["g"]
    assert oak(Env(thing, {}, {"g": 0})) is False
    assert compile_condition(node("shelf.wood = ash and shelf.width > 4 in"))(Env(thing, {}, {"g": 1})) is True
    with pytest.raises(EngineDefect):
        oak(Env(thing, {}, {"g": 2}))


def test_an_open_demand_is_read_as_its_number_when_asked_for() -> None:
    thing = shelf(width=Between(10 * INCH, None, number=10 * INCH))
    wide = compile_condition(node("shelf.width <= 10 in"))
    assert wide(Env(thing, {})) is None
    assert wide(Env(thing, {}, at_number=True)) is True
    assumed = shelf(width=Between(10 * INCH, None, number=10 * INCH, origin=ASSUMED))
    assert wide(Env(assumed, {}, at_number=True)) is None


def test_an_exact_fact_against_a_literal_is_read_once() -> None:
    thing = shelf(width=inches(3))
    compile_condition(node("shelf.width > 2 in"))(Env(thing, {}))
    assert thing.reads == 1


def test_a_node_of_no_known_kind_is_a_defect() -> None:
    with pytest.raises(EngineDefect):
        compile_condition(("perhaps", ("fact", "shelf.wood")))
    with pytest.raises(EngineDefect):
        compile_value(("and", ("fact", "shelf.wood")))


# Replacing what is unknown by any exact value never contradicts what was decided without it.
_LEAVES = st.sampled_from([
    "shelf.width > 3 in", "shelf.width <= shelf.deep", "shelf.width + shelf.deep < 8 in", "shelf.wood = oak",
    "shelf.wood != oak", "shelf.wood is one of {oak, spruce}", "shelf.painted", "shelf.painted = no",
    "shelf.marks has dry", "bracket.strength >= bracket.needed", "bracket.kind covers angle",
    "any brackets (bracket.steel)", "all brackets (bracket.steel or shelf.painted)",
    "count of brackets (bracket.steel) >= 2", "shelf.width / shelf.deep >= 1", "none brackets (bracket.steel)",
])  # fmt: skip
_CONDITIONS = st.recursive(
    _LEAVES,
    lambda inner: st.one_of(
        st.builds("({} and {})".format, inner, inner),
        st.builds("({} or {})".format, inner, inner),
        st.builds("(not {})".format, inner),
    ),
    max_leaves=6,
)
_FLAGS = st.sampled_from([Known(True), Known(False)])
_EXACT: dict[str, st.SearchStrategy[ValueSet]] = {
    "shelf.width": st.integers(1, 8).map(inches),
    "shelf.deep": st.integers(1, 8).map(inches),
    "shelf.wood": st.sampled_from(["oak", "ash", "spruce"]).map(Known),
    "shelf.painted": _FLAGS,
    "shelf.marks": st.sampled_from([Members(frozenset({"dry"}), closed=True), Members(frozenset(), closed=True)]),
    "bracket.strength": st.sampled_from(["light", "middling", "heavy"]).map(Known),
    "bracket.needed": st.sampled_from(["light", "middling", "heavy"]).map(Known),
    "bracket.kind": st.sampled_from(["angle", "gusset"]).map(Known),
}


@st.composite
def blurred(draw: st.DrawFn, value: ValueSet) -> ValueSet:
    """A wider value set that holds an exact value."""
    if isinstance(value, Known) and isinstance(value.value, int) and not isinstance(value.value, bool):
        low, high = draw(st.integers(0, 3)), draw(st.integers(0, 3))
        wider = Between(value.value - low * INCH, value.value + high * INCH)
        return wider if draw(st.booleans()) else NOTHING
    if isinstance(value, Known) and value.value in ("oak", "ash", "spruce") and draw(st.booleans()):
        return Among(frozenset({str(value.value), "oak"}))
    return NOTHING


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_learning_a_fact_never_contradicts_what_was_decided(data: st.DataObject) -> None:
    text = data.draw(_CONDITIONS)
    exact = {fact: data.draw(values) for fact, values in _EXACT.items()}
    steel = data.draw(st.lists(_FLAGS, max_size=3))
    hidden = {fact: data.draw(blurred(value)) if data.draw(st.booleans()) else value for fact, value in exact.items()}
    hidden_steel = [NOTHING if data.draw(st.booleans()) else flag for flag in steel]
    before = truth(text, _with_brackets(hidden, hidden_steel))
    after = truth(text, _with_brackets(exact, steel))
    assert after is not None
    assert before is None or before is after


def _with_brackets(facts: dict[str, ValueSet], steel: Sequence[ValueSet]) -> Thing:
    outer = Thing(facts)
    outer.parts["brackets"] = tuple(
        Thing({"bracket.steel": flag}, name=str(place), outer=outer) for place, flag in enumerate(steel)
    )
    return outer
