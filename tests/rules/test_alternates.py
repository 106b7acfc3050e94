"""What is told to pass instead does pass: each alternate of each flawed plan is written into it and reviewed anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from speclint.files.plans import load_plan, plan_of_bytes
from speclint.packs.rule import WEIGHTS
from speclint.plan.rewrite import Writer
from speclint.plan.sections import Section
from speclint.plan.tree import Plan, grow_plan
from speclint.review.alternates import MOST, with_alternates
from speclint.review.edit import Edit
from speclint.review.report import Finding, Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit

FLAWED = sorted((Path(__file__).resolve().parents[2] / "specs_examples" / "flawed").glob("*.wetspec"))
DAY = Options(as_of="2026-06-01")


def reviewed(plan: Plan) -> Report:
    """The report on a plan with what would pass instead."""

    def regrown(sections: tuple[Section, ...]) -> Plan:
        return grow_plan(plan.file, sections, (), shipped_kit().vocabulary)

    return with_alternates(review(plan, shipped_kit(), DAY), plan, shipped_kit(), "", regrown)


def written(text: str, edits: Sequence[Edit]) -> str:
    """The text of a plan with lines written as an alternate says."""
    lines = text.split("\n")
    for edit in sorted(edits, key=lambda one: -one.span.line):
        place = edit.span.line
        if edit.fresh:
            lines.insert(place, edit.text)
        else:
            lines[place - 1] = " " * (edit.span.column - 1) + edit.text
    return "\n".join(lines)


def told(report: Report) -> dict[tuple[str, tuple[str, ...]], int]:
    """The findings by rule and section, each with the most it weighs."""
    found: dict[tuple[str, tuple[str, ...]], int] = {}
    for one in report.findings:
        for rule in (one.rule, *one.also):
            mark = (rule, one.section)
            found[mark] = max(found.get(mark, 0), WEIGHTS.index(one.weight) + 1)
    return found


def asked(report: Report, open_before: frozenset[str] = frozenset()) -> dict[tuple[str, tuple[str, ...]], int]:
    """The questions by fact and place, each with the most it weighs; none that bear only on rules open before."""
    found: dict[tuple[str, tuple[str, ...]], int] = {}
    for one in report.questions:
        for place in () if open_before.issuperset(one.frees) else one.places:
            mark = (one.fact, place.address)
            found[mark] = max(found.get(mark, 0), WEIGHTS.index(one.weight) + 1)
    return found


def worse(before: Mapping[Any, int], after: Mapping[Any, int]) -> list[Any]:
    return [mark for mark, weight in after.items() if weight > before.get(mark, 0)]


def still(finding: Finding, report: Report) -> list[str]:
    """The same finding at the same places."""
    return [one.message for one in report.findings if one[:6] == finding[:6] and one.places == finding.places]


@pytest.mark.parametrize("path", FLAWED, ids=lambda path: path.stem)
def test_every_alternate_clears_its_finding_and_raises_none(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    before = reviewed(load_plan(str(path), shipped_kit()))
    open_before = frozenset(rule for one in before.questions for rule in one.frees)
    for finding in before.findings:
        assert len(finding.instead) <= MOST
        for edits in finding.instead:
            changed = plan_of_bytes(written(text, edits).encode(), str(path), shipped_kit())
            after = review(changed, shipped_kit(), DAY)
            why = f"{finding.rule}: {[edit.text for edit in edits]}"
            assert [str(problem) for problem in changed.problems] == [], why
            assert still(finding, after) == [], why
            assert worse(told(before), told(after)) == [], why
            assert worse(asked(before), asked(after, open_before)) == [], why
            assert len(after.findings) < len(before.findings), why


def plan(text: str) -> Plan:
    return plan_of_bytes(text.encode(), "here.wetspec", shipped_kit())


HEAD = 'plan "p"\n  answers to ansi\nroom "here"\n  exposure wet\nassembly "wall" in "here"\n'


def test_the_smallest_changes_come_first_and_two_are_told_only_where_one_is_not_enough() -> None:
    narrow = f"{HEAD}  tile porcelain, 12 x 24 in\n  joint 1/32 in, hard spacers  # as bought\n"
    found = next(one for one in reviewed(plan(narrow)).findings if one.rule == "joint-narrower-than-any-may-be")
    lines = [edit.text for edits in found.instead for edit in edits]
    assert lines[0] == "joint 1/16 in, hard spacers  # as bought"
    assert len(lines) == len(found.instead) == 3
    assert {edit.span.line for edits in found.instead for edit in edits} == {7}


def test_where_nothing_passes_the_two_rules_that_squeeze_are_named() -> None:
    reports = (reviewed(load_plan(str(path), shipped_kit())) for path in FLAWED if path.stem.startswith("slope"))
    squeezed = {(one.rule, one.squeezed[0]) for report in reports for one in report.findings if one.squeezed[0]}
    assert ("level-edge-steep-at-the-near-wall", "shower-floor-too-flat") in squeezed


def test_what_a_record_says_was_built_is_never_rewritten() -> None:
    text = (
        f'{HEAD}  tile porcelain, 12 x 24 in\n  coverage 95%\nrecord "lift test" for "wall"\n  coverage 40%, 3 tiles\n'
    )
    for one in reviewed(plan(text)).findings:
        assert all(edit.span.line < 8 for edits in one.instead for edit in edits)


def test_every_choice_of_the_catalogue_is_a_phrase_of_some_line() -> None:
    kit = shipped_kit()
    writer = Writer(kit.vocabulary, kit.driver)
    for name, fact in ((name, kit.catalogue.facts[name]) for name in kit.catalogue.facts):
        for phrase in fact.choices:
            keys = [
                (kind, key)
                for kind, word in kit.vocabulary.sections.items()
                for key in word.keys
                if name in word.keys[key].facts
            ]
            entries = (writer.entry(kind, f"{key} {phrase}") for kind, key in keys)
            assert any(entry is not None and name in entry.facts for entry in entries), f"{name}: {phrase}"


def test_every_fact_that_a_rule_may_vary_has_something_to_try() -> None:
    kit = shipped_kit()
    for pack in kit.packs:
        for rule in pack.rules:
            for name in rule.alternates:
                fact = kit.catalogue.find(name)
                assert fact is not None and fact.source is None, f"{rule.name}: {name}"
                assert fact.choices or fact.sort in ("flag", "word"), f"{rule.name}: {name}"
