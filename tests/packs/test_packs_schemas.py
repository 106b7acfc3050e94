"""The JSON Schemas: valid in draft-07 and in 2020-12 alike, closed, described, and of one mind in both drafts."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator, Draft202012Validator

from speclint.files.data import data_folder
from speclint.packs.schema import schema_problems
from speclint.packs.yaml_text import read_yaml
from tests.packs.tiny import RULE

FOLDER = Path(data_folder("shared")) / "schemas"
SCHEMAS = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.json"))}
NEEDED = {"rule", "pack", "vocabulary-words", "vocabulary-keys", "facts", "sheets"}
WHERE = {
    "rule": sorted(path for path in Path(data_folder("rules")).glob("*/*/*.yaml")),
    "pack": sorted(Path(data_folder("rules")).glob("*/pack.yaml")),
    "vocabulary-words": sorted((FOLDER.parent / "vocabulary" / "words").glob("*.yaml")),
    "vocabulary-keys": sorted((FOLDER.parent / "vocabulary" / "keys").glob("*.yaml")),
    "sheets": [FOLDER.parent / "sheets.yaml"],
    "facts": sorted((FOLDER.parent / "facts").glob("*.yaml")),
}
# keywords that mean the same in both drafts
COMMON = {
    "$schema", "$id", "$ref", "title", "description", "definitions", "type", "properties", "required", "items",
    "additionalProperties", "propertyNames", "enum", "const", "pattern", "minLength", "maxLength", "minItems",
    "maxItems", "minProperties", "maxProperties", "uniqueItems", "anyOf", "allOf", "if", "then", "contains",
}  # fmt: skip


def inner(schema: Any) -> Iterator[dict[str, Any]]:
    """A schema and every schema in it."""
    if not isinstance(schema, dict):
        return
    yield schema
    for key in ("items", "additionalProperties", "propertyNames", "if", "then", "contains"):
        yield from inner(schema.get(key))
    for key in ("properties", "definitions"):
        for one in schema.get(key, {}).values():
            yield from inner(one)
    for key in ("anyOf", "allOf"):
        for one in schema.get(key, ()):
            yield from inner(one)


def test_all_are_there() -> None:
    assert set(SCHEMAS) >= NEEDED


@pytest.mark.parametrize("name", sorted(NEEDED))
def test_a_schema_is_valid_in_both_drafts(name: str) -> None:
    Draft7Validator.check_schema(SCHEMAS[name])
    Draft202012Validator.check_schema(SCHEMAS[name])
    assert SCHEMAS[name]["$id"] == f"https://speclint.invalid/schemas/{name}/1.json"
    for one in inner(SCHEMAS[name]):
        assert set(one) <= COMMON, one
        assert "$ref" not in one or set(one) == {"$ref"}, "draft-07 reads nothing beside $ref"
        assert isinstance(one.get("items", {}), dict), "a list of items is not the same in both drafts"


@pytest.mark.parametrize("name", sorted(NEEDED))
def test_a_schema_is_closed_and_described(name: str) -> None:
    for one in inner(SCHEMAS[name]):
        if "properties" in one and "required" in one and "if" not in one and one.get("additionalProperties") is None:
            assert "contains" not in one
            assert one["required"] == ["weight"] or set(one["required"]) <= {"basis", "confidence", "clause"}, one
        elif one.get("type") == "object":
            assert one.get("additionalProperties") is not None, one
            assert one.get("description"), one
        for field, row in one.get("properties", {}).items():
            assert {"description", "$ref", "const"} & set(row) or "anyOf" in row, (field, row)


@pytest.mark.parametrize("name", sorted(NEEDED))
def test_what_ships_fits_in_both_drafts(name: str) -> None:
    assert WHERE[name]
    old, new = Draft7Validator(SCHEMAS[name]), Draft202012Validator(SCHEMAS[name])
    for path in WHERE[name]:
        data = read_yaml(path.read_text(encoding="utf-8"), path.name).data
        assert old.is_valid(data), path
        assert new.is_valid(data), path


@pytest.mark.parametrize("path", [*WHERE["rule"], *WHERE["pack"]], ids=lambda path: "/".join(path.parts[-3:]))
def test_an_editor_finds_the_schema_of_what_ships(path: Path) -> None:
    """The first line that language servers for YAML read: a path, relative to the file."""
    first = path.read_text(encoding="utf-8").split("\n", 1)[0]
    if not first.startswith("# yaml-language-server:"):
        pytest.skip("no such line")
    target = (path.parent / first.rpartition("=")[2].strip()).resolve()
    assert target == (FOLDER / ("pack.json" if path.name == "pack.yaml" else "rule.json")).resolve()


SPOILT = [
    ("weight: remark", "weight: tear-out"),
    ("weight: remark", "weight: [remark]"),
    ("spec part: 2", "spec part: two"),
    ("judges: assembly\n", ""),
    ("limits: {most: 1/2 in}", "limits: {Most: 1/2 in}"),
    ("limits: {most: 1/2 in}", "limits: {most: [{label: x}]}"),
    ("cites: [", "cites: [3, "),
    ("basis: common practice", "basis: common practice, seen_on: somewhere"),
    ("confidence: medium", "confidence: sure"),
    ("ends: not shown", "ends: unsure"),
    ("acts: setter", "acts: setter\nasks only: perhaps"),
    ("acts: setter", "acts: ''"),
    ("points at: tile.thick", "points at: []"),
    ("message: ", "message: {a: b}\nnote: "),
]


@pytest.mark.parametrize(("old", "new"), SPOILT, ids=[new[:40] for _, new in SPOILT])
def test_both_drafts_refuse_what_is_spoilt_and_say_where(old: str, new: str) -> None:
    assert old in RULE
    read = read_yaml(RULE.replace(old, new, 1), "f")
    assert not Draft7Validator(SCHEMAS["rule"]).is_valid(read.data)
    assert not Draft202012Validator(SCHEMAS["rule"]).is_valid(read.data)
    problems = schema_problems(read, SCHEMAS["rule"])
    assert problems
    for problem in problems:
        assert "what belongs here" not in problem.message, problem
        assert 1 <= problem.span.line <= RULE.count("\n") + 2


def test_the_schema_says_yes_to_a_sound_rule() -> None:
    assert schema_problems(read_yaml(RULE, "f"), SCHEMAS["rule"]) == []
