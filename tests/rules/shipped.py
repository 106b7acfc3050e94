"""The rules that ship, by name, with their examples."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from speclint.files.data import data_folder
from speclint.files.kit import load_kit, load_pack_examples
from speclint.kernel.values import Number
from speclint.packs.rule import Rule
from speclint.review.examples import ExampleJudge
from speclint.review.kit import Kit

NAMES = sorted(path.stem for path in Path(data_folder("rules")).glob("*/*/*.yaml"))


@cache
def shipped_kit() -> Kit:
    """The kit of the packs that ship, loaded once."""
    return load_kit()


@cache
def shipped() -> tuple[dict[str, Rule], ExampleJudge]:
    """Every rule by its name with its examples, and what decides a rule on an example; read once."""
    kit = shipped_kit()
    examples = load_pack_examples()
    rules = {rule.name: rule._replace(examples=examples[rule.name]) for pack in kit.packs for rule in pack.rules}
    return rules, ExampleJudge(kit)


def step_of(fact: str) -> Number | None:
    """The resolution of a fact, by which its limits are nudged."""
    found = shipped()[1].kit.catalogue.find(fact)
    return found.step if found else None
