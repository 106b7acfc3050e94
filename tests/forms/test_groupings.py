"""Findings grouped otherwise than by weight: each is told once, under its own heading, with its weight beside it."""

from __future__ import annotations

import pytest

from speclint.forms.text import Look, text_form
from tests.forms.reports import FULL, LINER, REMARK

HEADINGS = {
    "role": ("waterproofer  1 finding", "setter  2 findings", "designer  1 finding"),
    "spec-part": ("part 3, execution  4 findings",),
    "room": ("hall shower  4 findings",),
}


@pytest.mark.parametrize("by", HEADINGS)
def test_every_finding_stands_once_under_its_heading(by: str) -> None:
    told = text_form(FULL, Look(by=by))
    assert [line for line in told.splitlines() if line in HEADINGS[by]] == list(HEADINGS[by])
    for one in (LINER, REMARK):
        assert told.count(f"does not meet ({one.weight})") == 1
        assert told.count(one.rule) >= 1


def test_without_a_grouping_the_headings_are_the_weights() -> None:
    told = text_form(FULL)
    assert "tear-out  1 finding, would have to come out" in told
    assert "does not meet (" not in told
