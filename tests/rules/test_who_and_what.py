"""Every rule says who acts, in which part of a specification it stands, what settles it and who may vary it."""

from __future__ import annotations

import pytest

from tests.rules.shipped import NAMES, shipped, shipped_kit


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_says_who_acts_and_what_settles_it(name: str) -> None:
    rule, roles = shipped()[0][name], shipped_kit().vocabulary.kinds["role"].words
    assert rule.acts in roles
    assert rule.spec_part in (1, 2, 3)
    assert rule.settles.strip()
    assert set(rule.varied_by) <= set(roles)
