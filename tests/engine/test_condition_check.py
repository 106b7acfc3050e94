"""A condition against the catalogue: names, kinds, dimensions and exact figures."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pint
import pytest

from speclint.engine.check import check, read_limit
from speclint.engine.dimensions import exact, multiplied
from speclint.engine.nodes import ConditionFault
from speclint.engine.syntax import parse

from .shelving import INCH, SHOP, UNITS, node


def troubles(text: str) -> list[tuple[int, str]]:
    """Columns and messages of what is wrong."""
    with pytest.raises(ConditionFault) as caught:
        node(text)
    return [(one.offset + 1, one.message) for one in caught.value.troubles]


def test_figures_become_exact_base_units() -> None:
    assert node("shelf.width >= 1-1/2 in")[3] == ("number", 3 * INCH // 2, 1)
    assert node("shelf.fall >= 1/4 in per ft")[3] == ("number", 1, 48)
    assert node("shelf.fall >= 1:48")[3] == ("number", 1, 48)
    assert node("shelf.fall >= 95 %")[3] == ("number", 19, 20)
    assert node("shelf.warm >= 50 F")[3] == ("number", 10000, 1)
    assert node("shelf.warm >= -5 C")[3] == ("number", -5000, 1)
    assert node("shelf.pieces >= 2 pieces")[3] == node("shelf.pieces >= 2")[3]


@pytest.mark.parametrize(
    ("text", "value"),
    [("3", "3"), ("0.25", "1/4"), ("3/8", "3/8"), ("1-1/2", "3/2"), ("1 1/2", "3/2"), ("-1-1/2", "-3/2"), ("1:48", "1/48")],
)  # fmt: skip
def test_a_figure_is_read_exactly(text: str, value: str) -> None:
    assert exact(text) == Fraction(value)


def test_a_checked_node_is_json_without_offsets() -> None:
    text = "shelf.width - 1 in > shelf.deep and bracket.kind is one of {angle, gallows} and not shelf.painted"
    made = node(text)
    assert json.loads(json.dumps(made)) == [
        "and",
        ["compare", ">", ["subtract", ["fact", "shelf.width"], ["number", INCH, 1]], ["fact", "shelf.deep"]],
        ["one of", ["fact", "bracket.kind"], ["angle", "gallows bracket"]],
        ["not", ["true", ["fact", "shelf.painted"]]],
    ]


def test_words_become_canonical_and_a_family_its_members() -> None:
    assert node("shelf.wood = whitewood")[3] == ("word", "spruce")
    assert node("whitewood = shelf.wood")[2] == ("word", "spruce")
    assert node("shelf.wood = hardwood") == ("one of", ("fact", "shelf.wood"), ("oak", "ash"))
    assert node("shelf.wood != hardwood") == ("not", ("one of", ("fact", "shelf.wood"), ("oak", "ash")))
    assert node("shelf.wood is one of {spruce, hardwood}")[2] == ("spruce", "oak", "ash")
    assert node("shelf.marks has dry") == ("has", ("fact", "shelf.marks"), ("dry",))


@pytest.mark.parametrize(
    ("text", "column", "message"),
    [
        ("shelf.widht >= 3 in", 1, "there is no fact `shelf.widht`; did you mean `shelf.width`"),
        ("shelf.wood = okk", 14, "there is no wood `okk`; did you mean `oak`?"),
        ("shelf.width >= limit.most", 16, "there is no limit `most`"),
        ("any bracketts (bracket.steel)", 1, "there is no collection `bracketts`; did you mean `brackets`?"),
        ("shelf.width >= 3 inn", 16, "there is no unit `inn`; did you mean `in`?"),
        ("shelf.width >= 3 kg", 13, "a quantity (length) cannot be compared with a quantity (mass)"),
        ("shelf.width >= 3", 13, "a quantity (length) cannot be compared with a bare figure"),
        ("shelf.width = oak", 15, "`oak` is a word, where a quantity (length) is needed"),
        ("shelf.wood > oak", 12, "the words of `wood` have no order; only `=` and `!=` can compare them"),
        ("shelf.wood = bracket.kind", 12, "a word (wood) cannot be compared with a word (bracket)"),
        ("shelf.painted > yes", 15, "a yes or no has no order"),
        ("shelf.marks = dry", 13, "a set of words"),
        ("shelf.wood has oak", 1, "only a set of words can have a word; this is a word (wood)"),
        ("shelf.wood", 1, "a word (wood) alone is no condition"),
        ("shelf.width + shelf.load > 3 in", 13, "a quantity (length) and a quantity (mass) do not add up"),
        ("shelf.width * shelf.warm > 3 in", 13, "a quantity (length) cannot be multiplied by"),
        ("shelf.warm - shelf.warm > 3 C", 12, "temperatures are compared, not added"),
        ("shelf.wood + 1 > 3", 12, "a word (wood) cannot be reckoned with"),
        ("shelf.hung + shelf.loaded > 3 h", 12, "a moment and a moment do not go together here"),
        ("shelf.width is one of {oak}", 1, "a quantity (length) cannot be one of several words"),
        ("shelf.width covers oak", 20, "`oak`"),
        ("(shelf.painted and shelf.painted) > 3", 2, "a fact or a value is needed here, not a condition"),
        ("(shelf.width + 1 in) is absent", 14, "only a fact can be absent"),
        ("oak = ash", 5, "two words are compared"),
    ],
)
def test_what_does_not_fit_is_told_at_its_place(text: str, column: int, message: str) -> None:
    found = troubles(text)
    assert [one for one, _ in found] == [column]
    assert message in found[0][1]


def test_all_that_does_not_fit_is_told_at_once() -> None:
    found = troubles("shelf.widht >= 3 in and shelf.wood = okk or shelf.load > 3 in")
    assert [column for column, _ in found] == [1, 38, 56]


def test_moments_and_times_go_together() -> None:
    assert node("shelf.loaded - shelf.hung >= 24 h")[3] == ("number", 86400, 1)
    node("shelf.loaded >= shelf.hung + 1 day")


@pytest.mark.parametrize(
    ("first", "second", "ours", "theirs"),
    [
        ("length", "length", ("m", "m"), "m2"),
        ("area", "length", ("m2", "m"), "m3"),
        ("mass per area", "area", ("kg per m2", "m2"), "kg"),
    ],
)
def test_products_of_base_units_are_scaled_to_the_base_unit_of_the_product(
    first: str, second: str, ours: tuple[str, str], theirs: str
) -> None:
    """One SI unit times one SI unit is one SI unit (BIPM, SI brochure: coherent derived units); pint agrees."""
    result = multiplied(first, second, UNITS)
    assert result is not None
    size = UNITS.spellings[ours[0]].size * UNITS.spellings[ours[1]].size * result[1]
    assert size == UNITS.spellings[theirs].size
    registry: Any = pint.UnitRegistry()
    names = [one.replace("m2", "m**2").replace("m3", "m**3").replace(" per ", "/") for one in (*ours, theirs)]
    assert registry(names[0]) * registry(names[1]) == registry(names[2])


def test_an_area_is_compared_with_a_product_of_lengths() -> None:
    made = node("shelf.width * shelf.deep >= shelf.area")
    assert made[2][0] == "multiply"
    node("shelf.load / shelf.area >= 5 kg per m2")
    node("shelf.width / shelf.deep >= 3")
    node("shelf.width / 3 >= 5 in")
    node("count of brackets (bracket.steel) * shelf.width >= 5 in")


def test_a_limit_is_a_quantity_a_flag_or_a_word() -> None:
    assert read_limit("15 in", SHOP)[0] == ("number", 15 * INCH, 1)
    assert read_limit("yes", SHOP)[0] == ("flag", True)
    assert read_limit("gallows bracket", SHOP)[0] == ("word", "gallows bracket")
    kind = SHOP.kind_of("bracket.kind")
    assert read_limit("gallows", SHOP, kind)[0] == ("word", "gallows bracket")
    with pytest.raises(ConditionFault, match="there is no unit `inn`"):
        read_limit("15 inn", SHOP)
    with pytest.raises(ConditionFault, match="there is no bracket"):
        read_limit("galows", SHOP, kind)
    assert check(parse("shelf.width > limit.a"), SHOP, {"a": read_limit("15 in", SHOP)[1]})
