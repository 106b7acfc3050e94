"""Told jobs, each as a plan that says what was told and no more: the review names its causes and faults nothing that is right.

The jobs are real failures and real specifications of agencies, so what is expected was settled by those who opened the work or wrote the
document, outside this project.
"""

from __future__ import annotations

import pytest

from tests.field_cases.scoreboard import FOUND, HERE, NOT_NAMED, Case, scoreboard, scored, told_cases
from tests.rules.shipped import NAMES

CASES = told_cases()
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)


def test_every_plan_is_expected_and_every_name_is_a_rule() -> None:
    assert [case.name for case in CASES] == sorted(path.stem for path in HERE.glob("*/*.wetspec"))
    named = {rule for case in CASES for rule in case.correct.union(*(cause.rules for cause in case.causes))}
    assert named - set(NAMES) == set()


@each_case
def test_every_line_is_read(case: Case) -> None:
    assert scored(case).unread == ()


@each_case
def test_each_cause_is_named(case: Case) -> None:
    for cause, way in zip(case.causes, scored(case).named, strict=True):
        if cause.rules:
            assert way == FOUND if cause.wanted == "finding" else way != NOT_NAMED, cause.words


@each_case
def test_a_cause_that_no_rule_names_says_why(case: Case) -> None:
    assert [cause.words for cause in case.causes if not cause.rules and not cause.why_not] == []


@each_case
def test_nothing_right_is_faulted(case: Case) -> None:
    assert case.accused <= case.correct
    assert set(scored(case).accused) - case.accused == set()


def test_the_scoreboard_tells_every_plan() -> None:
    told = scoreboard()
    assert all(f"\n{case.name} " in told for case in CASES)
