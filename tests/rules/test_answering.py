"""Answers to what is asked: round by round they decide every rule, and they change no outcome that was decided."""

from __future__ import annotations

from pathlib import Path
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.engine.decide import decide
from speclint.engine.outcomes import DOES_NOT_APPLY, MEETS, NOT_SHOWN, Decision, Root
from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.files.plans import plan_of_bytes
from speclint.packs.rule import Rule
from speclint.review.judging import by_kind
from tests.rules.answering import answer, of_a_line_to_add, reads_silence
from tests.rules.shipped import shipped_kit
from tests.rules.test_corpora import FLAWED, HARD, SOUND

ROUNDS = 12
RULES = 10  # open rules that are followed to their end in one plan
PLANS = [*SOUND, *HARD, *FLAWED]


@st.composite
def holed(draw: st.DrawFn) -> str:
    """A shipped plan with some of its lines left out."""
    path: Path = draw(st.sampled_from(PLANS))
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    left_out = draw(st.sets(st.integers(1, len(lines) - 1), max_size=8))
    return "".join(line for number, line in enumerate(lines) if number not in left_out)


def subjects_of(text: str) -> Subject:
    kit = shipped_kit()
    return build_subjects(plan_of_bytes(text.encode(), "plan.wetspec", kit), kit.catalogue)


def decided(root: Subject, strict: bool) -> dict[tuple[str, int], tuple[Rule, Decision]]:
    """Every rule that reads no silence, on each of its subjects."""
    subjects = by_kind(root)
    rules = [rule for pack in shipped_kit().packs for rule in pack.rules if not reads_silence(rule.judgement)]
    return {
        (rule.name, place): (rule, decide(rule.judgement, subject, strict))
        for rule in rules
        for place, subject in enumerate(subjects.get(rule.judges, ()))
    }


@settings(max_examples=50, deadline=None)
@given(holed(), st.booleans(), st.randoms(use_true_random=False))
def test_answering_what_is_asked_decides_the_rule(text: str, strict: bool, random: Random) -> None:
    found = decided(subjects_of(text), strict)
    waiting = [(rule, place) for (_, place), (rule, one) in found.items() if one.outcome == NOT_SHOWN]
    for rule, place in random.sample(waiting, min(RULES, len(waiting))):
        root = subjects_of(text)
        subject = by_kind(root)[rule.judges][place]
        asked: list[tuple[str, ...]] = []
        for _ in range(ROUNDS):
            decision = decide(rule.judgement, subject, strict)
            if decision.outcome != NOT_SHOWN:
                break
            assert decision.open_on, f"{rule.name} is open and asks nothing"
            asked.append(tuple(one.fact for one in decision.open_on))
            assert [answer(root, one, random) for one in decision.open_on].count(True), f"{rule.name} asks {asked[-1]}"
        else:
            raise AssertionError(f"{rule.name} is open still after {asked}")


@settings(max_examples=50, deadline=None)
@given(holed(), st.booleans(), st.randoms(use_true_random=False))
def test_no_answer_changes_what_was_decided(text: str, strict: bool, random: Random) -> None:
    root = subjects_of(text)
    before = decided(root, strict)
    open_on = [root for _, one in before.values() for root in one.open_on]
    asked: dict[object, Root] = {root.key: root for root in open_on if not of_a_line_to_add(root)}
    given_to = random.sample(sorted(asked, key=str), random.randint(0, len(asked)))
    for key in given_to:
        answer(root, asked[key], random)
    after = decided(root, strict)
    changed = {
        name: (one.outcome, after[name][1].outcome)
        for name, (_, one) in before.items()
        if one.outcome != NOT_SHOWN and not one.admits and one.outcome != after[name][1].outcome
    }
    # what is met whether it applies or not may turn out not to apply
    assert {name: each for name, each in changed.items() if each != (MEETS, DOES_NOT_APPLY)} == {}
