"""The shipped plans told otherwise: with a line left out, in other units, with the marks that phones put in."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.files.plans import plan_of_bytes
from speclint.review.report import CLEAR, Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit
from tests.rules.test_corpora import FLAWED, HARD, SOUND, kept_open, not_met

NUMBER = r"(?:\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"
INCHES = re.compile(rf"(?<![\w/.\-x])((?:{NUMBER} x )*{NUMBER}) in\b(?! per| over| x)")
MILLIMETRES_IN_AN_INCH = Fraction(254, 10)  # international yard and pound agreement of 1959
WHOLE_JOBS = [path for path in FLAWED if re.search(r"(ansi|practice|us-codes)(-\w+)*$", path.stem) is None]


def told(text: str) -> Report:
    kit = shipped_kit()
    return review(plan_of_bytes(text.encode(), "plan.wetspec", kit), kit, Options(as_of="2026-06-01"))


def millimetres(match: re.Match[str]) -> str:
    """A chain of inches, such as ``12 x 24 in``, with the same lengths in millimetres."""
    lengths = [sum(map(Fraction, one.split("-"))) * MILLIMETRES_IN_AN_INCH for one in match[1].split(" x ")]
    return " x ".join(str(Decimal(one.numerator) / Decimal(one.denominator)) for one in lengths) + " mm"


def phone(text: str) -> str:
    """The marks that a phone's keyboard and a word processor put in of themselves."""
    text = re.sub(r'"([^"\n]*)"', "“\\1”", text)
    return text.replace(" x ", " × ").replace("1/2 in", "½ in").replace("1/4 in", "¼ in").replace("\n", "\r\n")


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_flawed_plan_with_a_line_left_out_is_never_clear(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(WHOLE_JOBS))
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    del lines[data.draw(st.integers(0, len(lines) - 1))]
    report = told("".join(lines))
    assert (
        report.fragment or report.summary != CLEAR
    )  # without its plan line a file is a fragment, judged where it is included


@pytest.mark.parametrize("path", [*SOUND, *HARD], ids=lambda path: path.stem)
def test_inches_and_millimetres_are_judged_alike(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    other = "\n".join(line if line.startswith("#") else INCHES.sub(millimetres, line) for line in text.split("\n"))
    assert other != text
    one, two = told(text), told(other)
    assert [str(problem) for problem in two.unread] == []
    assert not_met(two) == not_met(one)
    assert kept_open(two) == kept_open(one)


@pytest.mark.parametrize("path", [*SOUND, *HARD], ids=lambda path: path.stem)
def test_the_marks_of_a_phone_are_judged_alike(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    one, two = told(text), told(phone(text))
    assert [str(problem) for problem in two.unread] == []
    assert not_met(two) == not_met(one)
    assert kept_open(two) == kept_open(one)
