"""The shipped plans: sound ones raise nothing that stops, flawed ones make every rule speak, hard ones say what a master would."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from speclint.files.plans import load_plan
from speclint.packs.yaml_text import read_yaml
from speclint.review.gate import Bar, exit_code
from speclint.review.report import CLEAR, FAILS, NOTED, Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit

PLANS = Path(__file__).resolve().parents[2] / "specs_examples"
SOUND = sorted((PLANS / "sound").glob("*.wetspec"))
FLAWED = sorted((PLANS / "flawed").glob("*.wetspec"))
HARD = sorted((PLANS / "hard").glob("*.wetspec"))
EXPECTED: dict[str, Any] = read_yaml(
    (PLANS / "hard" / "expected.yaml").read_text(encoding="utf-8"), "expected.yaml"
).data


@cache
def reviewed(path: Path) -> Report:
    kit = shipped_kit()
    return review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01"))


def not_met(report: Report) -> set[str]:
    return {finding.rule for finding in report.findings}


def kept_open(report: Report) -> set[str]:
    asked = {rule for question in report.questions for rule in question.frees}
    return asked | {rule for coming in report.to_come for rule in coming.rules}


@pytest.mark.parametrize("path", [*SOUND, *FLAWED, *HARD], ids=lambda path: path.stem)
def test_every_line_is_read(path: Path) -> None:
    assert [str(problem) for problem in reviewed(path).unread] == []


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_plan_raises_nothing_above_a_remark(path: Path) -> None:
    report = reviewed(path)
    assert [finding.rule for finding in report.findings if finding.weight != "remark"] == []
    assert [question.fact for question in report.questions if question.weight != "remark"] == []
    assert report.summary in (CLEAR, NOTED)
    assert exit_code(report, Bar("callback", True)) == 0


def test_flawed_plans_make_every_rule_speak() -> None:
    kit = shipped_kit()
    spoken: set[str] = set()
    for path in FLAWED:
        report = reviewed(path)
        spoken |= {finding.rule for finding in report.findings if finding.outcome == FAILS}
        spoken |= kept_open(report) & {rule.name for pack in kit.packs for rule in pack.rules if rule.asks_only}
    assert sorted({rule.name for pack in kit.packs for rule in pack.rules} - spoken) == []


@pytest.mark.parametrize("path", FLAWED, ids=lambda path: path.stem)
def test_a_flawed_plan_never_passes(path: Path) -> None:
    assert reviewed(path).summary != CLEAR


@pytest.mark.parametrize("path", HARD, ids=lambda path: path.stem)
def test_a_hard_job_brings_what_a_master_would_say(path: Path) -> None:
    wanted, report = EXPECTED[path.stem], reviewed(path)
    assert set(wanted.get("finds", ())) - not_met(report) == set()
    assert set(wanted.get("asks", ())) - kept_open(report) == set()
    assert set(wanted.get("silent", ())) & not_met(report) == set()
    assert [one.rule for one in report.findings if one.weight in wanted.get("never", ())] == []


def test_every_rule_that_is_expected_exists() -> None:
    names = {rule.name for pack in shipped_kit().packs for rule in pack.rules}
    named = {rule for row in EXPECTED.values() for key in ("finds", "asks", "silent") for rule in row.get(key, ())}
    assert sorted(named - names) == []
