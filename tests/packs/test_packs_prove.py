"""Examples are run and weakened rules must be noticed, on an invented pack."""

from __future__ import annotations

from pathlib import Path

import pytest

from speclint.kernel.values import Number
from speclint.packs.prove import prove, prove_examples, prove_weakened
from speclint.review.examples import ExampleJudge, plan_text
from speclint.review.kit import Kit
from tests.packs.tiny import RULE, rule_of, write_pack


@pytest.fixture(scope="module")
def judge(kit: Kit) -> ExampleJudge:
    return ExampleJudge(kit)


def step_of(kit: Kit):  # type: ignore[no-untyped-def]
    def step(fact: str) -> Number | None:
        found = kit.catalogue.find(fact)
        return found.step if found else None

    return step


def messages(folder: Path, kit: Kit, judge: ExampleJudge, *changes: tuple[str, str]) -> list[str]:
    text = RULE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return [problem.message for problem in prove(rule_of(write_pack(folder, text)), judge, step_of(kit))]


def test_the_tiny_rule_is_proved(tmp_path: Path, kit: Kit, judge: ExampleJudge) -> None:
    assert messages(tmp_path, kit, judge) == []


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"tile porcelain, thick 1/2 in", ends: meets', '"tile porcelain, thick 1/4 in", ends: meets',
         ["no example of body-too-thick notices: limit most one step down"]),
        ('thick 33/64 in", ends: does not meet, points at: 33/64 in, message: "33/64 in',
         'thick 3/4 in", ends: does not meet, points at: 3/4 in, message: "3/4 in',
         ["no example of body-too-thick notices: limit most one step up"]),
        ('{shows: another body, text: "tile glass, thick 3/4 in", ends: does not apply}',
         '{text: "tile porcelain, thick 1/8 in", ends: meets}',
         ["no example of body-too-thick notices: applies is dropped"]),
        ("points at: 33/64 in", "points at: thick", ['the example points at "33/64 in" and not "thick"']),
        ('message: "33/64 in tile', 'message: "Tile', ['the example says "33/64 in tile is thicker than 1/2 in." and not "Tile is thicker than 1/2 in."']),
        ("missing: [tile.thick]", "missing: [tile.lot]", ["the example asks for tile.thick and not for tile.lot"]),
        ('"tile glass, thick 3/4 in"', '"tile porcelain, thick 3/4 in"',
         ['the example should end "does not apply", and ends "does not meet": 3/4 in tile is thicker than 1/2 in.']),
        ('"tile glass, thick 3/4 in"', '"tile glas, thick 3/4 in"', ['the example is not read: "glas" is not read under "tile"; nearest: "glass"']),
    ],
)  # fmt: skip
def test_what_an_example_misses_is_told(
    tmp_path: Path, kit: Kit, judge: ExampleJudge, old: str, new: str, told: list[str]
) -> None:
    assert messages(tmp_path, kit, judge, (old, new)) == told


def test_a_problem_stands_at_the_example(tmp_path: Path, judge: ExampleJudge) -> None:
    rule = rule_of(write_pack(tmp_path, RULE.replace("points at: 33/64 in", "points at: thick")))
    (problem,) = prove_examples(rule, judge)
    assert (problem.span.line, problem.span.column) == (15, 5)


def test_a_rule_that_asks_without_need_is_told(tmp_path: Path, kit: Kit, judge: ExampleJudge) -> None:
    """``b or not b`` holds whatever b is, yet three-valued logic cannot see it."""
    idle = "demands: tile.thick <= limit.most and (tile.edge = rectified or tile.edge != rectified)"
    told = messages(
        tmp_path,
        kit,
        judge,
        ("demands: tile.thick <= limit.most", idle),
        ('"tile porcelain, thick 1/2 in"', '"tile porcelain, thick 1/2 in, rectified"'),
    )
    assert any("ends alike for every word of tile.edge here, but is not shown without it" in one for one in told)


def test_a_comparison_of_facts_must_hold_at_the_edge(tmp_path: Path, kit: Kit, judge: ExampleJudge) -> None:
    """Computed against computed there is no limit to nudge, so ``<=`` against ``<`` must be noticed."""
    rule = RULE.replace("limits: {most: 1/2 in}\n", "").replace("limit.most", "tile.nominal-b")
    rule = rule.replace("thicker than {limit.most}", "thicker than {tile.nominal-b}")
    rule = rule.replace("tile porcelain, thick 1/2 in", "tile porcelain, nominal 1 x 1 in, thick 1 in")
    rule = rule.replace("tile porcelain, thick 33/64 in", "tile porcelain, nominal 1 x 1 in, thick 65/64 in")
    rule = rule.replace("33/64 in", "1-1/64 in").replace("than 1/2 in.", "than 1 in.").replace("65/64 in", "1-1/64 in")
    rule = rule.replace('"tile porcelain", ends', '"tile porcelain, nominal 1 x 1 in", ends')
    rule = rule.replace("tile glass, thick", "tile glass, nominal 1/4 x 1/4 in, thick")
    (tmp_path / "a").mkdir()
    assert [one.message for one in prove(rule_of(write_pack(tmp_path / "a", rule)), judge, step_of(kit))] == []
    inner = rule.replace("nominal 1 x 1 in, thick 1 in", "nominal 1 x 1 in, thick 1/2 in")
    (problem,) = prove_weakened(rule_of(write_pack(tmp_path / "b", inner)), judge, step_of(kit))
    assert "< for <= between tile.thick and tile.nominal-b" in problem.message


@pytest.mark.parametrize(
    ("text", "plan"),
    [
        ("tile glass", 'plan "example"\nroom "here"\nassembly "work" in "here"\ntile glass'),
        ("tile glass; grout A118.3", 'plan "example"\nroom "here"\nassembly "work" in "here"\ntile glass\ngrout A118.3'),
        ('tile glass; room "here"; exposure wet', 'plan "example"\nassembly "work" in "here"\ntile glass\nroom "here"\nexposure wet'),
        ('room "here"; exposure wet', 'plan "example"\nroom "here"\nexposure wet'),
        ('plan "p"; stage closeout', 'plan "p"\nstage closeout'),
        ('part "niche" of "work"; kind niche', 'plan "example"\nroom "here"\nassembly "work" in "here"\npart "niche" of "work"\nkind niche'),
        ('record "flood test" for "here"; drop 0 in', 'plan "example"\nroom "here"\nrecord "flood test" for "here"\ndrop 0 in'),
        ('surface wall "a; b"', 'plan "example"\nroom "here"\nassembly "work" in "here"\nsurface wall "a; b"'),
        ('trowel square 1/2" x 1/2" x 1/2"; tile glass', 'plan "example"\nroom "here"\nassembly "work" in "here"\ntrowel square 1/2" x 1/2" x 1/2"\ntile glass'),
        ('room "bath"; exposure wet; assembly "floor" in "bath"; tile glass', 'plan "example"\nroom "bath"\nexposure wet\nassembly "floor" in "bath"\ntile glass'),
        ("", 'plan "example"\nroom "here"\nassembly "work" in "here"'),
    ],
)  # fmt: skip
def test_an_example_becomes_a_plan(kit: Kit, text: str, plan: str) -> None:
    assert plan_text(text, kit.vocabulary) == plan
