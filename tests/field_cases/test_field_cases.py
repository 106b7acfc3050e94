"""Showers that failed on real jobs: the review of each plan names the cause that the report of the failure names.

Sources: reports of failures in the trade press, of inspectors and of agencies; the kind of each stands in ``causes.yaml``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from speclint.files.plans import load_plan
from speclint.packs.yaml_text import read_yaml
from speclint.review.report import CLEAR, NOTED, Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit
from tests.rules.test_corpora import kept_open, not_met

HERE = Path(__file__).parent
PLANS = sorted(HERE.glob("*.wetspec"))
CAUSES: dict[str, Any] = read_yaml((HERE / "causes.yaml").read_text(encoding="utf-8"), "causes.yaml").data


def reviewed(path: Path) -> Report:
    kit = shipped_kit()
    return review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01"))


def test_every_plan_has_its_cause() -> None:
    assert sorted(CAUSES) == [path.stem for path in PLANS]


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_review_names_the_cause_of_the_failure(path: Path) -> None:
    wanted, report = CAUSES[path.stem], reviewed(path)
    assert [str(problem) for problem in report.unread] == []
    assert set(wanted.get("finds", ())) - not_met(report) == set()
    assert set(wanted.get("asks", ())) - kept_open(report) == set()
    assert report.summary not in (CLEAR, NOTED)
