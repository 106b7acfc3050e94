"""A slip of the pen in a rule file is noticed by the examples of its rule, and no two rules say the same thing of the same plans."""

from __future__ import annotations

import random

from speclint.packs.prove import notices
from tests.rules import pairs
from tests.rules.mutants import condition_slips, unit_slips
from tests.rules.mutations import Score, equivalent, scored, tried
from tests.rules.shipped import NAMES, shipped

DRAWN_RULES, SEED = 60, 4


def told(text: str) -> set[str]:
    """A condition with each of its slips."""
    return {text[: slip.start] + slip.instead + text[slip.end :] for slip in condition_slips(text)}


def test_a_condition_slips_in_its_sign_its_joint_and_its_unit() -> None:
    text = "joint.width >= 3 mm and grout.sanded is stated"
    assert told(text) == {
        "joint.width > 3 mm and grout.sanded is stated",
        "joint.width <= 3 mm and grout.sanded is stated",
        "joint.width = 3 mm and grout.sanded is stated",
        "joint.width >= 3 in and grout.sanded is stated",
        "joint.width >= 3 mm or grout.sanded is stated",
        "joint.width >= 3 mm and grout.sanded is not stated",
    }


def test_a_condition_slips_in_its_quantifier_and_its_negation() -> None:
    assert told("not any layers (layer.guarded)") == {
        " any layers (layer.guarded)",
        "not all layers (layer.guarded)",
        "not none layers (layer.guarded)",
    }


def test_a_set_of_words_loses_one_or_takes_its_neighbour() -> None:
    found = told("part.kind is one of {curb, bench}")
    assert 'part.kind is one of {"curb"}' in found and 'part.kind is one of {"bench"}' in found
    assert any('"curb", "' in each and "bench" not in each for each in found)


def test_a_limit_slips_in_its_unit_and_a_bare_figure_has_none() -> None:
    assert [slip.instead for slip in unit_slips("1/4 in")] == ["mm"]
    assert list(unit_slips("3")) == []


def test_a_rule_without_its_examples_notices_nothing() -> None:
    rules, judge = shipped()
    name, slip = tried(["board-fasteners-too-far-apart"])[0]
    assert notices(rules[name], slip.judgement, judge)
    assert not notices(rules[name]._replace(examples=()), slip.judgement, judge)


def test_what_is_argued_is_left_out_of_the_share() -> None:
    assert Score(11, 1, ()).share == 1
    assert Score(11, 1, tuple(tried(["board-fasteners-too-far-apart"])[:1])).share == 0.9


def test_nearly_all_slips_of_a_draw_of_rules_are_noticed() -> None:
    score = scored(tried(random.Random(SEED).sample(NAMES, DRAWN_RULES)))
    assert score.tried > 10 * DRAWN_RULES
    assert score.share >= 0.97, [f"{name}: {slip.note}" for name, slip in score.unnoticed]


def test_what_is_argued_is_a_slip_that_no_example_notices() -> None:
    rules, judge = shipped()
    for name, notes in equivalent().items():
        unnoticed = {slip.note for _, slip in tried([name]) if not notices(rules[name], slip.judgement, judge)}
        assert set(notes) - unnoticed == set(), name


def test_rules_that_always_fire_together_are_argued() -> None:
    assert sorted(pairs.pairs()) == sorted(pairs.argued())
