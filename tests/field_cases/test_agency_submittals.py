"""Invented product data, good and bad, against specifications that agencies published."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from speclint.files.plans import load_plan
from speclint.files.product_data import read_product_data, submittal_data
from speclint.review.run import Options
from speclint.works.goods import knowledge
from speclint.works.handed import Item
from speclint.works.submittal import review_submittal
from tests.rules.shipped import shipped_kit

HERE = Path(__file__).parent
CASES: dict[str, Any] = yaml.safe_load((HERE / "handed_in" / "expected.yaml").read_text(encoding="utf-8"))
ITEMS = [(case, name) for case, row in CASES.items() for name in row["items"]]


@cache
def items(case: str) -> dict[str, Item]:
    """The items of a case by name."""
    kit, data = shipped_kit(), submittal_data()
    path = str(HERE / "handed_in" / CASES[case]["data"])
    sections, problems = read_product_data(path, data, kit)
    assert [str(problem) for problem in problems] == []
    plan = load_plan(str(HERE / "specified" / f"{case}.wetspec"), kit, sections)
    assert [str(problem) for problem in plan.problems] == []
    found = review_submittal(plan, kit, knowledge(data, kit.catalogue), Options(as_of="2026-06-01"), [path])
    return {item.name: item for item in found.items}


@pytest.mark.parametrize("case,name", ITEMS)
def test_an_item_gets_the_word_of_a_reviewer(case: str, name: str) -> None:
    expected, item = CASES[case]["items"][name], items(case)[name]
    assert item.summary == expected["word"], (expected["because"], item.requirements, item.breaks)
    assert "breaks" not in expected or expected["breaks"] in {one.rule for one in item.breaks}


def test_every_item_is_expected() -> None:
    assert {case: set(items(case)) for case in CASES} == {case: set(row["items"]) for case, row in CASES.items()}
