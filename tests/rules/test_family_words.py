"""A family word, such as a backing board of any sort, accuses nobody of the worst of its members.

IRC R702.4.2 and IBC 2509.2 name some backing boards and not others, so "backer board" alone settles nothing.
"""

from __future__ import annotations

import pytest

from speclint.packs.rule import Rule
from speclint.review.examples import ExampleJudge
from tests.rules.shipped import shipped

WALL = (
    'plan "p"; answers to irc; room "here"; exposure wet; assembly "work" in "here"; surface wall; '
    "substrate {}; membrane none"
)


@pytest.fixture(scope="module")
def asked() -> tuple[Rule, ExampleJudge]:
    rules, judge = shipped()
    return rules["paper-faced-board-behind-wet-tile"], judge


@pytest.mark.parametrize(
    ("board", "ends"),
    [("greenboard", "does not meet"), ("cement board", "meets"), ("gypsum board or greenboard", "does not meet")],
)
def test_a_board_that_is_told_is_judged(board: str, ends: str, asked: tuple[Rule, ExampleJudge]) -> None:
    rule, judge = asked
    assert judge(WALL.format(board), rule, "design").outcome == ends


def test_a_family_at_design_is_a_remark_on_what_it_also_admits(asked: tuple[Rule, ExampleJudge]) -> None:
    rule, judge = asked
    told = judge(WALL.format("backer board"), rule, "design")
    assert told.outcome == "does not meet"
    assert told.admits


def test_a_family_from_rough_in_is_asked(asked: tuple[Rule, ExampleJudge]) -> None:
    rule, judge = asked
    assert judge(WALL.format("backer board"), rule, "rough-in").outcome == "not shown"
