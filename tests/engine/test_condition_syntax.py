"""What a condition may say, and what a writer is told of a slip; every message has its column."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.engine.nodes import ConditionFault, facts_of, limits_of
from speclint.engine.syntax import parse


@pytest.mark.parametrize(
    ("text", "node"),
    [
        ("shelf.painted", ("fact", "shelf.painted", 0)),
        ("limit.most-wide", ("limit", "most-wide", 0)),
        ("1-1/2 in", ("quantity", "1-1/2", "in", 0)),
        ("1 1/2 in", ("quantity", "1 1/2", "in", 0)),
        ("1/4 in per ft", ("quantity", "1/4", "in per ft", 0)),
        ("95%", ("quantity", "95", "%", 0)),
        ("1:48", ("quantity", "1:48", "", 0)),
        ("5 kg/m2", ("quantity", "5", "kg/m2", 0)),
        ("-5 C", ("quantity", "-5", "C", 0)),
        ("2", ("quantity", "2", "", 0)),
        ("P118.15", ("word", "P118.15", 0)),
        ('"gallows  bracket"', ("word", "gallows bracket", 0)),
        ("yes", ("flag", True, 0)),
        ("no-slip", ("word", "no-slip", 0)),
        ("a.b is stated", ("stated", ("fact", "a.b", 0), 4)),
        ("a.b is not absent", ("not", ("absent", ("fact", "a.b", 0), 4))),
        ("a.b has dry", ("has", ("fact", "a.b", 0), ("word", "dry", 8), 4)),
        ("a.b covers c.d", ("covers", ("fact", "a.b", 0), ("fact", "c.d", 11), 4)),
        ("count of wall plugs", ("count", "wall plugs", None, 0)),
        ("none brackets (a.b)", ("none", "brackets", ("fact", "a.b", 15), 0)),
        ("a.b = none", ("compare", "=", ("fact", "a.b", 0), ("word", "none", 6), 4)),
    ],
)
def test_each_part_is_read_with_its_offset(text: str, node: object) -> None:
    assert parse(text) == node


def test_words_of_a_membership_hold_blanks_dots_and_digits() -> None:
    node = parse('a.b is not one of {cement board, A118.1,  12 x 24, "oak"}')
    assert node[0] == "not"
    assert [word[1] for word in node[1][2]] == ["cement board", "A118.1", "12 x 24", "oak"]
    assert [word[2] for word in node[1][2]] == [19, 33, 42, 51]


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("a.a or b.b and c.c", "a.a or (b.b and c.c)"),
        ("not a.a and b.b", "(not a.a) and b.b"),
        ("not a.a = b.b", "not (a.a = b.b)"),
        ("a.a + b.b * c.c > d.d", "(a.a + (b.b * c.c)) > d.d"),
        ("a.a - b.b - c.c > d.d", "((a.a - b.b) - c.c) > d.d"),
        ("a.a / b.b / c.c > d.d", "((a.a / b.b) / c.c) > d.d"),
        ("a.a = b.b or c.c is absent", "(a.a = b.b) or (c.c is absent)"),
    ],
)
def test_precedence(text: str, same: str) -> None:
    assert bare(parse(text)) == bare(parse(same))


def bare(node: object) -> object:
    """A node without offsets."""
    if isinstance(node, tuple):
        parts = [bare(part) for part in node]
        return parts[:-1] if isinstance(node[-1], int) and not isinstance(node[-1], bool) else parts
    return node


def test_a_hyphen_belongs_to_the_name_and_a_minus_stands_between_blanks() -> None:
    assert facts_of(parse("a.long-side - a.b > 1 in")) == ("a.long-side", "a.b")
    assert parse("a.long-side >= 1 in")[2] == ("fact", "a.long-side", 0)
    with pytest.raises(ConditionFault, match="column 5: a minus stands between two spaces"):
        parse("a.b -c.d > 1 in")


def test_facts_and_limits_are_listed_once_in_order() -> None:
    node = parse("b.b > limit.x and any brackets (a.a < limit.y or b.b) and count of brackets (c.c) > limit.x")
    assert facts_of(node) == ("b.b", "a.a", "c.c")
    assert limits_of(node) == ("x", "y")


def test_a_node_is_json() -> None:
    node = parse("a.b is one of {x y} and count of brackets (c.d = yes) * 2 >= 1/4 in per ft")
    assert json.loads(json.dumps(node)) == json.loads(json.dumps(json.loads(json.dumps(node))))


@pytest.mark.parametrize(
    ("text", "column", "message"),
    [
        ("", 1, "a condition is missing here"),
        ("a.b == 3 in", 5, "write `=` instead of `==`"),
        ("a.b && c.d", 5, "write `and` instead of `&&`"),
        ("a.b => 2", 5, "write `>=` instead of `=>`"),
        ("a.b ≥ 2", 5, "write `>=` instead of `≥`"),
        ("a.b = cement board", 14, "`board` cannot follow `cement`"),
        ("a.b in {x}", 5, "`in` is always the inch"),
        ("a.b is oak", 5, "`is` goes with `one of`, `absent` or `stated`; write `=`"),
        ("a.b and", 8, "the condition stops after `and`"),
        ("(a.b", 5, "a parenthesis is opened and not closed"),
        ("a.b)", 4, "this parenthesis closes nothing"),
        ("(a.b and)", 9, "something is missing between `and` and the parenthesis"),
        ('a.b = "oak', 7, "this quote is opened and not closed"),
        ("a.b = {oak}", 7, "words in braces follow `is one of`"),
        ("a.b is one of {oak", 15, "this brace has no partner"),
        ("a.b > 3 > 2", 9, "one comparison cannot follow another"),
        ("and a.b", 1, "a fact or a value is missing before `and`"),
        ("a.b = 15in.", 7, "`15in.` is not a figure with a unit"),
        ("a.b > 1/0 in", 7, "`1/0` divides by nothing"),
        ("a.b @ c.d", 5, "`@` cannot stand in a condition"),
    ],
)
def test_a_slip_is_told_with_its_column_and_what_would_pass(text: str, column: int, message: str) -> None:
    with pytest.raises(ConditionFault) as caught:
        parse(text)
    trouble = caught.value.troubles[0]
    assert (trouble.offset + 1, trouble.message[: len(message)]) == (column, message)


def test_several_slips_are_told_at_once() -> None:
    with pytest.raises(ConditionFault) as caught:
        parse("a.b > 1/0 in and c.d is one of {x,,y} or e.f < 3:0")
    assert [trouble.offset for trouble in caught.value.troubles] == [6, 34, 47]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a.b and " * 300 + "a.b", "2,000 characters"),
        ("not " * 70 + "a.b", "64 levels"),
        ("(a.b or " * 40 + "c.d and (" + "a.b and " * 20 + "a.b" + ")" * 41, None),
        ("a.b or " * 250 + "a.b", None),
        ("a.b+" * 320 + "a.b", "levels deep"),
        (" or ".join(["a.b"] * 70 + ["a.b=b"] * 80), "300 parts"),
        ("a.b > " + "1" * 60 + " in", "40 digits"),
        ("a.b is one of {" + ",".join("a" * 320) + "}", "300 parts"),
        ("(" * 900 + "a.b" + ")" * 900, None),
    ],
)
def test_size_is_bounded_with_a_message(text: str, message: str | None) -> None:
    if message is None:
        parse(text)
        return
    with pytest.raises(ConditionFault, match=message):
        parse(text)


ALPHABET = st.sampled_from(
    [
        "a.b",
        "and",
        "or",
        "not",
        "is",
        "one of",
        "absent",
        "stated",
        "has",
        "covers",
        "any brackets",
        "count of c",
    ]
    + list("(){},\"'=<>+-*/%@é")
    + ["!=", "15", "15 in", "1/4", "per ft", "yes", "limit.x", "1:48", "oak", "none brackets (a.b)"]
)


@settings(max_examples=200, deadline=None)
@given(st.lists(ALPHABET, max_size=14).map(" ".join) | st.text(max_size=40))
def test_any_text_is_read_or_refused_with_a_plain_sentence(text: str) -> None:
    try:
        parse(text)
    except ConditionFault as fault:
        for trouble in fault.troubles:
            assert 0 <= trouble.offset <= len(text)
            # no name of a terminal or of a class of lark
            assert not re.search(r"\b[A-Z]{3,}\b|Unexpected|Token", trouble.message.replace(text, ""))
