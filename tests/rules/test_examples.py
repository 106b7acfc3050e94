"""Every rule that ships ends on each of its examples as the example says."""

from __future__ import annotations

import pytest

from speclint.packs.prove import prove_examples
from tests.rules.shipped import NAMES, shipped


@pytest.mark.parametrize("name", NAMES)
def test_the_examples_of(name: str) -> None:
    rules, judge = shipped()
    assert [str(problem) for problem in prove_examples(rules[name], judge)] == []
