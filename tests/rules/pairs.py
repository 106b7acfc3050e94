"""Pairs of rules that always fire together: run ``python -m tests.rules.pairs`` to print those that nobody argued.

Two rules are such a pair if every shipped or told plan in which one is not met leaves the other not met too, and the examples of both
rules do not part them either. Each pair that stays is argued by name in ``pairs.yaml``.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import combinations
from pathlib import Path

import yaml

from speclint.files.plans import load_plan
from speclint.review.report import FAILS
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
    """For each rule the plans in which it is not met."""
    kit = shipped_kit()
    found: dict[str, set[str]] = {}
    for path in PLANS:
        for finding in review(load_plan(str(path), kit), kit, Options(as_of="2026-06-01")).findings:
            if finding.outcome == FAILS:
                found.setdefault(finding.rule, set()).add(str(path))
    return {name: frozenset(paths) for name, paths in found.items()}


def _parted(one: str, other: str) -> bool:
    """Whether some example of either rule leaves just one of the two not met."""
    rules, judge = shipped()
    first, second = rules[one], rules[other]
    return any(
        (judge(text, first, stage).outcome == FAILS) != (judge(text, second, stage).outcome == FAILS)
        for text, stage in _examples(one, other)
    )


def _examples(*names: str) -> Iterator[tuple[str, str]]:
    rules, _ = shipped()
    return ((example.text, example.stage) for name in names for example in rules[name].examples)


def main() -> int:
    """Print each pair that is not argued; 1 if there is one."""
    found = [pair for pair in pairs() if pair not in argued()]
    print(f"{len(PLANS)} plans, {len(pairs())} pairs, {len(found)} of them not argued", *found, sep="\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
