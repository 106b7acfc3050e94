"""Weakened rules: which there are, and that examples on both sides of each limit notice all of them."""

from __future__ import annotations

from speclint.engine.decide import decide
from speclint.engine.outcomes import Judgement
from speclint.engine.weaken import weakened, with_fewer_words
from speclint.kernel.values import Known, Number

from .shelving import KINDS, STEP, Thing, inches, rule


def step_of(fact: str) -> Number | None:
    """The resolution of a fact of the shelving world."""
    return KINDS[fact].step


def unseen(judgement: Judgement, *examples: Thing) -> list[str]:
    """The weakened rules that no example notices."""
    expected = [decide(judgement, example).outcome for example in examples]
    return [
        note
        for note, weak in weakened(judgement, step_of)
        if [decide(weak, example).outcome for example in examples] == expected
    ]


def shelf(width: str, wood: str = "oak", deep: str = "10") -> Thing:
    """A shelf by its width, wood and depth in inches."""
    return Thing({"shelf.width": inches(width), "shelf.wood": Known(wood), "shelf.deep": inches(deep)})


def test_a_limit_is_proved_on_both_sides() -> None:
    judgement = rule("shelf.width <= limit.most", "shelf.wood = oak", most="36 in")
    good = (shelf("36"), shelf("2305/64"), shelf("40", wood="ash"))
    assert unseen(judgement, *good) == []
    assert unseen(judgement, good[0], good[2], shelf("40")) == ["limit most one step up"]
    assert unseen(judgement, *good[1:], shelf("30")) == ["limit most one step down"]
    assert unseen(judgement, good[0], good[1]) == ["applies is dropped"]


def test_a_figure_moves_by_a_step_of_what_it_is_compared_with() -> None:
    judgement = rule("shelf.width - 1 in >= 5 in")
    values = [weak.demands for note, weak in weakened(judgement, step_of) if "figure" in note]
    moved = {(node[2][2][1], node[3][1]) for node in values}
    inch = 64 * STEP
    assert moved == {
        (inch, 5 * inch + STEP),
        (inch, 5 * inch - STEP),
        (inch + STEP, 5 * inch),
        (inch - STEP, 5 * inch),
    }


def test_a_limit_against_a_part_of_a_fact_moves_by_that_part() -> None:
    judgement = rule("shelf.width * 1/3 <= limit.most", most="12 in")
    moved = [weak.limits["most"][0].value for note, weak in weakened(judgement, step_of) if "limit" in note]
    assert moved == [("number", 64 * 12 * STEP * 3 + STEP, 3), ("number", 64 * 12 * STEP * 3 - STEP, 3)]


def test_computed_against_computed_swaps_the_sign_at_the_edge() -> None:
    judgement = rule("shelf.width >= shelf.deep")
    notes = [note for note, _ in weakened(judgement, step_of)]
    assert "in demands, > for >= between shelf.width and shelf.deep" in notes
    assert unseen(judgement, shelf("10"), shelf("9")) == []
    assert unseen(judgement, shelf("11"), shelf("9")) == [notes[-1]]


def test_a_count_moves_by_one_and_is_reached_inside_a_collection() -> None:
    judgement = rule("count of brackets (bracket.reach >= 4 in) >= 2")
    moved = [weak.demands for note, weak in weakened(judgement, step_of) if "figure" in note]
    assert {node[3][1] for node in moved} == {1, 2, 3}
    assert {node[2][2][3][1] for node in moved} == {64 * 4 * STEP + part * STEP for part in (-1, 0, 1)}


def test_each_variant_of_a_limit_moves_alone() -> None:
    judgement = rule("shelf.width <= limit.most", most=[("a", None, "36 in"), ("b", None, "30 in")])
    notes = [note for note, _ in weakened(judgement, step_of) if "limit" in note]
    assert notes == [f"limit most ({label}) one step {way}" for label in "ab" for way in ("up", "down")]


def test_one_word_less() -> None:
    judgement = rule("shelf.width > 1 in", "shelf.wood is one of {oak, ash}")
    notes = [note for note, _ in with_fewer_words(judgement)]
    assert notes == ["in applies, without the word oak", "in applies, without the word ash"]
