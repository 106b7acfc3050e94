"""A sound plan with one line told otherwise: what is wrong is said, what is still fine is not.

The rows of spoilt.yaml name the source of each expectation: standard, code or handbook with its clause, or common practice.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from speclint.files.plans import plan_of_bytes
from speclint.review.kit import Kit
from speclint.review.report import Report
from speclint.review.run import Options, review

HERE = Path(__file__).parent
SOUND = HERE.parents[1] / "specs_examples" / "sound"
ROWS = yaml.safe_load((HERE / "spoilt.yaml").read_text(encoding="utf-8"))
CASES = [(plan, row) for plan, rows in ROWS.items() for row in rows]


@cache
def sound(plan: str) -> str:
    return (SOUND / f"{plan}.wetspec").read_text(encoding="utf-8")


def reviewed(text: str, kit: Kit) -> Report:
    report = review(plan_of_bytes(text.encode(), "spoilt.wetspec", kit), kit, Options(as_of="2026-06-01"))
    assert not report.unread, [problem.message for problem in report.unread]
    return report


def found(report: Report) -> set[str]:
    return {finding.rule for finding in report.findings}


def asked(report: Report) -> set[str]:
    return {rule for question in report.questions for rule in question.frees}


@pytest.mark.parametrize(
    ("plan", "row"),
    CASES,
    ids=[f"{plan}: {row['told'].strip() or 'without ' + row['line'].split(chr(10))[0]}" for plan, row in CASES],
)
def test_one_line_told_otherwise(plan: str, row: dict[str, Any], kit: Kit) -> None:
    text = sound(plan)
    assert row["line"] in text
    before, after = reviewed(text, kit), reviewed(text.replace(row["line"], row["told"], 1), kit)
    if "fine" in row:
        assert found(after) <= found(before)
        assert asked(after) <= asked(before)
    for rule in row.get("found", ()):
        assert rule in found(after) - found(before)
    for rule in row.get("asked", ()):
        assert rule in asked(after) - asked(before)
