"""Real jobs: the review of a failed shower names the cause its report names, and that of an agency's specification faults nothing right.

Sources: reports of failures in the trade press, of inspectors and of claims; guide specifications of agencies and a detail of an
association. The kind of each stands in the ``causes.yaml`` beside the plans.
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


def plans(folder: str) -> list[Path]:
    return sorted((HERE / folder).glob("*.wetspec"))


def causes(folder: str) -> dict[str, Any]:
    path = HERE / folder / "causes.yaml"
    told: dict[str, Any] = read_yaml(path.read_text(encoding="utf-8"), path.name).data
    return told


def reviewed(path: Path) -> Report:
    kit = shipped_kit()
    report = review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01"))
    print(f"{path.stem}: {len(report.findings)} findings, {len(report.questions)} questions")
    return report


@pytest.mark.parametrize("folder", ["failures", "agencies"])
def test_every_plan_has_its_cause(folder: str) -> None:
    assert sorted(causes(folder)) == [path.stem for path in plans(folder)]


@pytest.mark.parametrize("path", plans("failures"), ids=lambda path: path.stem)
def test_the_review_names_the_cause_of_the_failure(path: Path) -> None:
    wanted, report = causes("failures")[path.stem], reviewed(path)
    assert [str(problem) for problem in report.unread] == []
    assert set(wanted.get("finds", ())) - not_met(report) == set()
    assert set(wanted.get("asks", ())) - kept_open(report) == set()
    assert report.summary not in (CLEAR, NOTED)


@pytest.mark.parametrize("path", plans("agencies"), ids=lambda path: path.stem)
def test_nothing_that_an_agency_states_rightly_is_faulted(path: Path) -> None:
    wanted, report = causes("agencies")[path.stem], reviewed(path)
    assert [str(problem) for problem in report.unread] == []
    assert not_met(report) == set(wanted.get("finds", ()))
    assert set(wanted.get("asks", ())) - kept_open(report) == set()
