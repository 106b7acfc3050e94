"""Pairs of rules that always fire together: run ``python -m tests.rules.pairs`` to print those that nobody argued.

A rule fires where it is not met, and one that only asks where it is not shown. Two rules are such a pair if they fire in the same plans,
shipped or told, and the examples of both do not part them either. Each pair that stays is argued by name in ``pairs.yaml``.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from functools import cache
from itertools import combinations
from pathlib import Path

import yaml

from speclint.files.plans import load_plan
from speclint.packs.rule import Example
from speclint.review.report import FAILS, NOT_SHOWN
from speclint.review.run import Options, review
from tests.rules.shipped import shipped, shipped_kit

HERE = Path(__file__).resolve().parent
ARGUED = HERE / "pairs.yaml"
PLANS = sorted(
    path for folder in ("specs_examples", "tests/field_cases") for path in (HERE.parents[1] / folder).rglob("*.wetspec")
)


@cache
def argued() -> Mapping[str, str]:
    """Why a pair, named "one + other" in the order of the alphabet, is two rules all the same."""
    told: Mapping[str, str] = yaml.safe_load(ARGUED.read_text(encoding="utf-8")) or {}
    return told


def pairs() -> tuple[str, ...]:
    """Every pair of rules that nothing parts, as "one + other"."""
    fired = _fired_in_plans()
    alike = [pair for pair in combinations(sorted(fired), 2) if fired[pair[0]] == fired[pair[1]]]
    return tuple(f"{one} + {other}" for one, other in alike if not _parted(one, other))


@cache
def _fired_in_plans() -> Mapping[str, frozenset[str]]:
    """For each rule the plans in which it fires."""
    kit, (rules, _) = shipped_kit(), shipped()
    found: dict[str, set[str]] = {}
    for path in PLANS:
        report = review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01"))
        not_met = {finding.rule for finding in report.findings if finding.outcome == FAILS}
        asked = {name for question in report.questions for name in question.frees if rules[name].asks_only}
        for name in not_met | asked:
            found.setdefault(name, set()).add(str(path))
    return {name: frozenset(paths) for name, paths in found.items()}


def _parted(one: str, other: str) -> bool:
    """Whether on some example of either rule just one of the two fires."""
    rules, _ = shipped()
    return any(
        _fires(one, example) != _fires(other, example) for name in (one, other) for example in rules[name].examples
    )


def _fires(name: str, example: Example) -> bool:
    rules, judge = shipped()
    rule = rules[name]
    outcome = judge(example.text, rule, example.stage).outcome
    return outcome == FAILS or (rule.asks_only and outcome == NOT_SHOWN)


def main() -> int:
    """Print each pair that is not argued; 1 if there is one."""
    found = [pair for pair in pairs() if pair not in argued()]
    print(f"{len(PLANS)} plans, {len(pairs())} pairs, {len(found)} of them not argued", *found, sep="\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
