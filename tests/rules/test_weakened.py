"""Every rule that ships would be caught if it were a little wrong: some example notices each way to weaken it."""

from __future__ import annotations

import pytest

from speclint.packs.prove import prove_weakened
from tests.rules.shipped import NAMES, shipped, step_of


@pytest.mark.parametrize("name", NAMES)
def test_some_example_notices_a_weaker(name: str) -> None:
    rules, judge = shipped()
    assert [str(problem) for problem in prove_weakened(rules[name], judge, step_of)] == []
