"""Whether the examples of the rules notice a slip of the pen in a rule file: run ``python -m tests.rules.mutations``.

Printed for each pack: the slips, those that some example notices, their share; then each that none notices. A slip that nobody could
notice is argued in ``equivalent.yaml`` and told apart, not counted as noticed.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from speclint.packs.prove import notices
from tests.rules.mutants import Mutant, mutants
from tests.rules.shipped import shipped

EQUIVALENT = Path(__file__).with_name("equivalent.yaml")


class Score(NamedTuple):
    """The slips of some rules: how many were tried, how many of these are argued to be none, and which went unnoticed."""

    tried: int
    argued: int
    unnoticed: tuple[tuple[str, Mutant], ...]

    @property
    def share(self) -> float:
        """The part of the slips, those argued left out, that some example notices."""
        counted = self.tried - self.argued
        return 1.0 if not counted else 1 - len(self.unnoticed) / counted


@cache
def equivalent() -> Mapping[str, Mapping[str, str]]:
    """By the name of a rule: the note of each slip that changes nothing anyone can see, and why."""
    told: Mapping[str, Mapping[str, str]] = yaml.safe_load(EQUIVALENT.read_text(encoding="utf-8")) or {}
    return told


def tried(names: Iterable[str]) -> list[tuple[str, Mutant]]:
    """Every slip of the named rules."""
    rules, _ = shipped()
    return [(name, mutant) for name in names for mutant in mutants(rules[name])]


def scored(slips: Iterable[tuple[str, Mutant]]) -> Score:
    """Try slips on the examples of their rules."""
    rules, judge = shipped()
    slips = list(slips)
    argued = [(name, slip) for name, slip in slips if slip.note in equivalent().get(name, {})]
    unnoticed = [
        (name, slip)
        for name, slip in slips
        if slip.note not in equivalent().get(name, {}) and not notices(rules[name], slip.judgement, judge)
    ]
    return Score(len(slips), len(argued), tuple(unnoticed))


def main(arguments: list[str]) -> int:
    """Print the scores; 1 if less than 98 of 100 slips are noticed."""
    parser = argparse.ArgumentParser(prog="python -m tests.rules.mutations", description=__doc__)
    parser.add_argument("--rule", action="append", help="only this rule; may be repeated")
    parser.add_argument("--sample", type=int, help="try only so many slips, drawn at random")
    parser.add_argument("--seed", type=int, default=1, help="where the draw begins")
    told = parser.parse_args(arguments)
    rules, _ = shipped()
    unknown = sorted(set(told.rule or ()) - set(rules))
    if unknown:
        parser.error(f"there is no rule {', '.join(unknown)}")
    slips = tried(told.rule or rules)
    if told.sample is not None:
        slips = random.Random(told.seed).sample(slips, min(told.sample, len(slips)))
    shares = []
    for pack in dict.fromkeys(rules[name].pack for name, _ in slips):
        score = scored((name, slip) for name, slip in slips if rules[name].pack == pack)
        print(pack, _line(score), sep=": ")
        for name, slip in score.unnoticed:
            print(f"  {name} | {slip.kind} | {slip.note}")
        shares.append(score)
    whole = Score(
        sum(one.tried for one in shares),
        sum(one.argued for one in shares),
        tuple(each for one in shares for each in one.unnoticed),
    )
    print("all packs", _line(whole), sep=": ")
    return 0 if whole.share >= 0.98 else 1


def _line(score: Score) -> str:
    seen = score.tried - score.argued - len(score.unnoticed)
    return f"{score.tried} mutants, {score.argued} argued, {seen} noticed, {100 * score.share:.2f} %"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
