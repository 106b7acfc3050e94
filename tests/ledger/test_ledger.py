"""The ledger: every collected fact went somewhere, and every rule comes from a fact or from the practice of the trade."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from speclint.files.data import data_folder
from speclint.packs.yaml_text import read_yaml
from tests.rules.shipped import NAMES

LEDGER = Path(__file__).parent
PARTS = sorted(path for path in LEDGER.glob("*.yaml") if path.stem not in ("fact-ids", "practice"))
WAYS = {"rule", "word", "table", "caution", "not mechanised"}


def loaded(path: Path) -> Any:
    return read_yaml(path.read_text(encoding="utf-8"), path.name).data


@cache
def ledger() -> dict[str, Any]:
    """What became of each fact."""
    return {fact: fate for path in PARTS for fact, fate in loaded(path).items()}


def fates(way: str) -> list[tuple[str, Any]]:
    return [(fact, fate[way]) for fact, fate in ledger().items() if isinstance(fate, dict) and way in fate]


def fact_ids() -> list[str]:
    return [fact for facts in loaded(LEDGER / "fact-ids.yaml").values() for fact in facts]


def test_every_fact_is_accounted_for_once() -> None:
    told = Counter(fact for path in PARTS for fact in loaded(path))
    assert sorted(set(fact_ids()) - set(told)) == []
    assert sorted(set(told) - set(fact_ids())) == []
    assert [fact for fact, times in told.items() if times > 1] == []


def test_no_fact_is_listed_twice() -> None:
    assert [fact for fact, times in Counter(fact_ids()).items() if times > 1] == []


@pytest.mark.parametrize("path", PARTS, ids=lambda path: path.stem)
def test_every_fate_is_told_in_a_known_way(path: Path) -> None:
    for fact, fate in loaded(path).items():
        assert fate == "glossary" or (fate and set(fate) <= WAYS), fact
        assert fate == "glossary" or len(fate.get("not mechanised", "a reason in words")) > 10, fact


def test_every_rule_that_is_named_exists() -> None:
    named = {rule for _, rules in fates("rule") for rule in rules} | set(loaded(LEDGER / "practice.yaml"))
    assert sorted(named - set(NAMES)) == []


def test_every_rule_comes_from_a_fact_or_from_practice() -> None:
    named = {rule for _, rules in fates("rule") for rule in rules}
    practice = set(loaded(LEDGER / "practice.yaml"))
    assert sorted(set(NAMES) - named - practice) == []
    assert sorted(named & practice) == []


def test_every_caution_that_is_named_exists() -> None:
    cautions = {one["name"] for one in loaded(Path(data_folder("shared")) / "cautions.yaml")}
    assert [fact for fact, name in fates("caution") if name not in cautions] == []


def test_every_word_that_is_named_exists() -> None:
    """A word is told as KIND, KIND/PROPERTY or KIND/WORD; after a comma a bare name may belong to the last kind."""
    folder = Path(data_folder("shared")) / "vocabulary" / "words"
    kinds = {path.stem.replace("-", " "): loaded(path) for path in folder.glob("*.yaml")}
    for fact, told in fates("word"):
        last: dict[str, Any] = {}
        for piece in told.split(", "):
            kind, _, name = (part.strip() for part in piece.partition("/"))
            if kind in kinds:
                last = kinds[kind]
            else:
                name = kind
            known = {"", "covers", "excludes", *last.get("properties", ()), *last.get("words", ())}
            assert name in known, f"{fact}: {piece}"


def test_every_table_that_is_named_exists() -> None:
    tables = Path(data_folder("shared")) / "tables"
    cells = {f"{path.stem}.{cell}" for path in tables.glob("*.yaml") for cell in loaded(path)}
    bare = {cell.partition(".")[2] for cell in cells}
    for fact, told in fates("table"):
        names = told if isinstance(told, list) else told.split(", ")
        assert [name for name in names if name not in cells | bare] == [], fact
