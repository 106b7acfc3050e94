"""Three-valued logic against SQL, as SQLite carries it out, and comparisons of ranges against enumeration.

SQL's truth tables with NULL (ISO/IEC 9075-2, "boolean value expression") are Kleene's strong ones.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.kernel.logic import both, combine, compare, either, has_any, negate, one_of
from speclint.kernel.values import (
    ASSUMED,
    DEMANDED,
    NOTHING,
    TAKEN,
    Absent,
    Among,
    Between,
    Known,
    Members,
    Single,
    Unknown,
    is_stated,
    over_corners,
    weakest,
)

TRUTHS = (True, False, None)
SIGNS = ("=", "!=", "<", "<=", ">", ">=")
SQL_SIGNS = {"!=": "<>"}


@pytest.fixture(scope="module")
def sql() -> Iterator[sqlite3.Connection]:
    """An empty database, for its expressions only."""
    connection = sqlite3.connect(":memory:")
    yield connection
    connection.close()


def answer(sql: sqlite3.Connection, text: str, *values: object) -> bool | None:
    """What SQL makes of an expression."""
    (found,) = sql.execute(f"select {text}", values).fetchone()
    return None if found is None else bool(found)


@pytest.mark.parametrize(("a", "b", "c"), list(product(TRUTHS, repeat=3)))
def test_and_or_not_are_those_of_sql(sql: sqlite3.Connection, a: bool | None, b: bool | None, c: bool | None) -> None:
    assert both((a, b, c)) is answer(sql, "? and ? and ?", a, b, c)
    assert either((a, b, c)) is answer(sql, "? or ? or ?", a, b, c)
    assert negate(a) is answer(sql, "not ?", a)


@pytest.mark.parametrize(("sign", "a", "b"), list(product(SIGNS, (1, 2, 3, None), (2, None))))
def test_comparisons_with_what_is_unknown_are_those_of_sql(
    sql: sqlite3.Connection, sign: str, a: int | None, b: int | None
) -> None:
    left = NOTHING if a is None else Known(a)
    right = NOTHING if b is None else Known(b)
    assert compare(sign, left, right) is answer(sql, f"? {SQL_SIGNS.get(sign, sign)} ?", a, b)


@pytest.mark.parametrize("word", ["oak", "ash", None])
def test_membership_is_that_of_sql(sql: sqlite3.Connection, word: str | None) -> None:
    value = NOTHING if word is None else Known(word)
    assert one_of(value, frozenset({"oak", "elm"})) is answer(sql, "? in ('oak', 'elm')", word)


@st.composite
def ranges(draw: st.DrawFn) -> Known | Between:
    """A whole number, or a range between whole numbers with ends in, out or at infinity."""
    low = draw(st.integers(-3, 3))
    high = draw(st.integers(low, 4))
    if low == high:
        return Known(low) if draw(st.booleans()) else Between(low, high)
    low_open, high_open = draw(st.booleans()), draw(st.booleans())
    ends = draw(st.sampled_from([(low, high), (None, high), (low, None), (None, None)]))
    return Between(*ends, low_open=low_open, high_open=high_open)


def sample(value: Known | Between) -> list[Fraction]:
    """Quarters within a range, far enough beyond infinite ends; two in each gap between whole numbers suffice."""
    if isinstance(value, Known):
        return [Fraction(value.value)]
    low = -8 if value.low is None else value.low
    high = 9 if value.high is None else value.high
    steps = [Fraction(low) + Fraction(part, 4) for part in range(int(high - low) * 4 + 1)]
    without_low = value.low is not None and value.low_open
    without_high = value.high is not None and value.high_open
    return [step for step in steps if not (without_low and step == low) and not (without_high and step == high)]


PLAIN = {
    "=": lambda a, b: a == b, "!=": lambda a, b: a != b, "<": lambda a, b: a < b,
    "<=": lambda a, b: a <= b, ">": lambda a, b: a > b, ">=": lambda a, b: a >= b,
}  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(SIGNS), ranges(), ranges())
def test_a_comparison_of_ranges_is_what_enumeration_says(sign: str, a: Known | Between, b: Known | Between) -> None:
    truths = {PLAIN[sign](x, y) for x in sample(a) for y in sample(b)}
    expected = truths.pop() if len(truths) == 1 else None
    assert compare(sign, a, b) is expected


@settings(max_examples=300, deadline=None)
@given(st.sampled_from("+-*/"), ranges(), ranges())
def test_arithmetic_of_ranges_holds_every_result_and_no_wider_end(
    sign: str, a: Known | Between, b: Known | Between
) -> None:
    result = combine(sign, a, b)
    divisors = sample(b)
    if sign == "/" and 0 in divisors:
        assert isinstance(result, Unknown)
        return
    plain = {
        "+": lambda x, y: x + y,
        "-": lambda x, y: x - y,
        "*": lambda x, y: x * y,
        "/": lambda x, y: x / y,
    }
    results = [plain[sign](x, y) for x in sample(a) for y in divisors]
    if isinstance(result, Unknown):
        return
    assert isinstance(result, (Known, Between))
    low, high = (result.value, result.value) if isinstance(result, Known) else (result.low, result.high)
    assert low is None or (not isinstance(low, (str, bool)) and all(low <= one for one in results))
    assert high is None or (not isinstance(high, (str, bool)) and all(one <= high for one in results))
    # an end left out, or the nought that 1/x only nears, need not be reached
    loose = [isinstance(one, Between) and (one.low_open or one.high_open or None in one[:2]) for one in (a, b)]
    if not any(loose) and low is not None and high is not None:
        assert {low, high} <= set(results)


def test_a_quotient_by_an_open_range_that_touches_nothing_is_left_open() -> None:
    assert isinstance(combine("/", Known(1), Between(0, 4, low_open=True)), Unknown)
    assert combine("/", Known(6), Between(2, None, number=3)) == Between(0, 3, number=2)


def test_a_comparison_with_what_is_absent_is_no_and_its_opposite_is_not_that() -> None:
    for sign in ("=", "<", "<=", ">", ">="):
        assert compare(sign, Absent(), Known(3)) is False
        assert compare(sign, NOTHING, Absent()) is False
    assert compare("!=", Absent(), Known(3)) is True
    assert compare("!=", Known("oak"), Absent()) is True


def test_words_are_decided_over_all_members() -> None:
    hard, soft = Among(frozenset({"oak", "ash"})), Among(frozenset({"spruce", "fir"}))
    assert compare("=", hard, Known("oak")) is None
    assert compare("=", hard, Known("fir")) is False
    assert compare("!=", hard, soft) is True
    assert compare("=", Among(frozenset({"oak"})), Known("oak")) is True
    assert compare("=", Among(frozenset({"oak"}), beyond=True), Known("fir")) is None
    assert one_of(hard, frozenset({"oak", "ash", "elm"})) is True
    assert one_of(hard, frozenset({"oak"})) is None
    assert one_of(hard, frozenset({"elm"})) is False
    assert one_of(hard._replace(beyond=True), frozenset({"oak", "ash"})) is None
    assert one_of(Absent(), frozenset({"oak"})) is False


def test_a_word_of_a_set_that_nobody_wrote_is_unknown_until_the_set_is_closed() -> None:
    marks = Members(frozenset({"dry"}), lacks=frozenset({"fire"}))
    assert has_any(marks, ("dry",)) is True
    assert has_any(marks, ("fire",)) is False
    assert has_any(marks, ("indoor",)) is None
    assert has_any(marks._replace(closed=True), ("indoor",)) is False
    assert has_any(Absent(), ("dry",)) is False
    assert has_any(NOTHING, ("dry",)) is None
    assert has_any(marks, ("fire", "dry")) is True
    assert has_any(marks, ("fire", "indoor")) is None


def test_stated_is_what_somebody_wrote() -> None:
    from speclint.kernel.span import at

    assert is_stated(Known(3)) is True
    assert is_stated(Between(3, None)) is True
    assert is_stated(Absent()) is True
    assert is_stated(Absent(origin=TAKEN)) is False
    assert is_stated(Between(1, 2, origin=ASSUMED)) is False
    assert is_stated(Between(1, 2, text="about 1-1/2 in", span=at("a", 1), origin=ASSUMED)) is True
    assert is_stated(Unknown(told=True)) is True
    assert is_stated(NOTHING) is False
    assert is_stated(Unknown(span=at("a", 1))) is None


def test_what_is_computed_has_the_weakest_origin_and_keeps_the_figure_of_an_open_demand() -> None:
    assert weakest(("stated", DEMANDED, ASSUMED)) == ASSUMED
    assert weakest(("stated",)) == "stated"
    demanded = Between(4, None, number=4)
    assert combine("+", demanded, Known(1)) == Between(5, None, number=5)
    assert combine("+", demanded, Between(0, 1, origin=ASSUMED)) == Between(4, None, origin=ASSUMED)
    assert combine("-", Between(1, 1), Known(1)) == Known(0, origin=DEMANDED)


def test_corners_of_a_function_that_falls_with_one_argument() -> None:
    arguments: list[tuple[Single, str]] = [(Between(4, 8, number=4), "up"), (Known(2), "down")]
    assert over_corners(lambda a, b: a / Fraction(b), arguments, DEMANDED) == Between(2, 4, number=2)
    assert over_corners(lambda a: a, [(NOTHING, "up")], DEMANDED) == NOTHING
