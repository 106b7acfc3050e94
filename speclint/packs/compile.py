"""From the YAML files of a pack to its compiled form, which JSON can hold; all problems are told at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import at
from speclint.packs.conditions import compile_conditions
from speclint.packs.names import Names
from speclint.packs.rule_words import rule_word_problems
from speclint.packs.schema import schema_problems
from speclint.packs.yaml_text import Read, read_yaml

PACK_FILE = "pack.yaml"


class Compiled(NamedTuple):
    """The compiled form of one pack, and apart from it the examples of its rules by the rule's name."""

    pack: dict[str, Any]
    examples: dict[str, list[dict[str, Any]]]


def compile_pack(
    folder: str, files: Sequence[tuple[str, str]], names: Names, schemas: Mapping[str, Any], digest: str
) -> Compiled:
    """The compiled form of a pack from its YAML files, given as paths below ``folder`` and texts.

    ``schemas`` holds the JSON Schemas ``rule`` and ``pack``; ``digest`` is the hash of the pack's content.
    Raises PackFault with every problem of every file.
    """
    problems: list[Problem] = []
    head = _head(folder, dict(files), schemas, problems)
    rules: list[dict[str, Any]] = []
    examples: dict[str, list[dict[str, Any]]] = {}
    for path, text in files:
        if path == PACK_FILE:
            continue
        found = _rule(f"{folder}/{path}", path, text, names, schemas["rule"], problems)
        if found is not None:
            examples[found["name"]] = found.pop("examples")
            rules.append(found)
    if problems:
        raise PackFault(*problems)
    topics = {topic: place for place, topic in enumerate(head.get("topics", ()))}
    rules.sort(key=lambda rule: (topics.get(rule["topic"], len(topics)), rule["topic"], rule["name"]))
    told = {key: head[key] for key in ("name", "version", "title", "region")}
    told["answers to"] = head.get("answers to", [])
    return Compiled({**told, "hash": digest, "rules": rules}, examples)


def _head(folder: str, files: Mapping[str, str], schemas: Mapping[str, Any], problems: list[Problem]) -> dict[str, Any]:
    file = f"{folder}/{PACK_FILE}"
    if PACK_FILE not in files:
        why = "a pack needs this file, with its name, version, title and region"
        problems.append(Problem(at(file, 1), why))
        return {}
    read = _read(files[PACK_FILE], file, schemas["pack"], problems)
    if read is None:
        return {}
    head: dict[str, Any] = read.data
    folders = {path.split("/")[0] for path in files if "/" in path}
    for place, topic in enumerate(head.get("topics", ())):
        if topic not in folders:
            why = f'there is no folder "{topic}" in this pack'
            problems.append(Problem(read.places.span("topics", place), why))
    return head


def _read(text: str, file: str, schema: Mapping[str, Any], problems: list[Problem]) -> Read | None:
    """The data of a file if it fits its schema; else the problems are added."""
    try:
        read = read_yaml(text, file)
    except PackFault as fault:
        problems.extend(fault.problems)
        return None
    found = schema_problems(read, schema)
    problems.extend(found)
    return None if found else read


def _rule(
    file: str, path: str, text: str, names: Names, schema: Mapping[str, Any], problems: list[Problem]
) -> dict[str, Any] | None:
    read = _read(text, file, schema, problems)
    if read is None:
        return None
    parts = path.removesuffix(".yaml").split("/")
    found = rule_word_problems(read, names)
    if parts[-1] != read.data["name"]:
        why = f'the rule is named "{read.data["name"]}", its file "{parts[-1]}.yaml": the two must agree'
        found.append(Problem(read.places.span("name"), why))
    if len(parts) != 2:
        found.append(Problem(at(file, 1), "a rule stands in the folder of its topic: PACK/TOPIC/NAME.yaml"))
    judgement = compile_conditions(read, names, found)
    problems.extend(found)
    return None if found else _compiled(read, parts[0], judgement)


def _compiled(read: Read, topic: str, judgement: Mapping[str, Any]) -> dict[str, Any]:
    data = read.data
    texts = ("name", "weight", "judges", "spec part", "acts", "demands", "message")
    optional = ("due", "applies", "passes", "settles", "shown by", "route")
    return {
        **{key: data[key] for key in texts},
        **{key: data.get(key, "") for key in optional},
        "topic": topic,
        "span": list(read.places.span()),
        "may be varied by": [one for one in listed(data["may be varied by"]) if one != "nobody"],
        "points at": listed(data["points at"]),
        "also at": listed(data.get("also at", [])),
        "asks only": data.get("asks only") in ("yes", True),
        "alternates": data.get("alternates", []),
        "formerly": listed(data.get("formerly", [])),
        "cites": [_cite(cite) for cite in data["cites"]],
        "judgement": judgement["judgement"],
        "limits": judgement["limits"],
        "examples": [_example(read, place, one) for place, one in enumerate(data["examples"])],
    }


def _cite(cite: Mapping[str, Any]) -> list[str]:
    given = (cite.get(key) for key in ("standard", "edition", "clause", "basis", "confidence", "for"))
    return ["" if one is None else str(one) for one in given]


def _example(read: Read, place: int, example: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "shows": example.get("shows", ""),
        "text": example["text"],
        "ends": example["ends"],
        "points at": example.get("points at", ""),
        "message": example.get("message", ""),
        "missing": example.get("missing", []),
        "admits": example.get("admits", ""),
        "stage": example.get("stage", ""),
        "span": list(read.places.span("examples", place)),
    }


def listed(value: str | list[str]) -> list[str]:
    """One or several as a list."""
    return [value] if isinstance(value, str) else value
