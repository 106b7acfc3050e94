"""Phrases that could be taken in two ways: two patterns of a key that fit one text, keys that are no keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import Any

from speclint.kernel.faults import Problem
from speclint.packs.shared_data import SLOT, Shared
from speclint.packs.yaml_text import Read

Shape = tuple[tuple[str, str], ...]


def phrase_problems(shared: Shared) -> list[Problem]:
    """Every pair of patterns that fit one text, every key that opens a section, every value that makes a longer key."""
    facts = {name: str(entry["is"]) for read in shared.facts for name, entry in read.data.items()}
    spellings = {kind: _spellings(read) for kind, read in shared.kinds.items()}
    found: list[Problem] = []
    for read in shared.groups:
        for name, row in read.data["keys"].items():
            found.extend(_alike(read, name, row, facts, spellings))
            found.extend(_headings(read, name, row, shared))
    found.extend(_longer(shared, facts, spellings))
    return found


def _spellings(read: Read) -> dict[str, str]:
    """Every way to write a word of a kind, and the word."""
    return {
        " ".join(str(text).casefold().split()): name
        for name, row in read.data["words"].items()
        for text in (name, *(row or {}).get("aliases", ()))
    }


def _alike(
    read: Read, name: str, row: Mapping[str, Any], facts: Mapping[str, str], spellings: Mapping[str, Mapping[str, str]]
) -> Iterator[Problem]:
    shapes = [(at, text, _shape(text, facts)) for at, text in enumerate(row.get("phrases", ()))]
    for (_, first, one), (at, second, other) in combinations(shapes, 2):
        if len(one) != len(other):
            continue
        shared = [_common(a, b, spellings) for a, b in zip(one, other, strict=True)]
        if all(shared):
            why = f'"{first}" and "{second}" both fit: {" ".join(shared)}'
            yield Problem(read.places.span("keys", name, "phrases", at), why)


def _shape(text: str, facts: Mapping[str, str]) -> Shape:
    """A pattern as literals and sorts of slots; a text takes anything and counts as a literal of its own."""
    parts: list[tuple[str, str]] = []
    for place, piece in enumerate(text.replace("}", "{").split("{")):
        if place % 2:
            parts.append(("slot", facts.get(piece.strip(), "text")))
        else:
            parts.extend(("literal", word.casefold()) for word in piece.split())
    return tuple(parts)


def _common(a: tuple[str, str], b: tuple[str, str], spellings: Mapping[str, Mapping[str, str]]) -> str:
    """A text that fits both parts of two patterns, empty if there is none."""
    if a == b:
        return a[1] if a[0] == "literal" else ("" if a[1] in ("flag", "text") else f"({a[1]})")
    if a[0] == b[0] == "slot":
        first, second = (spellings.get(one[1].partition(" ")[2], {}) for one in (a, b))
        return min(first.keys() & second.keys(), default="")
    literal, slot = (a, b) if a[0] == "literal" else (b, a)
    return literal[1] if literal[1] in spellings.get(slot[1].partition(" ")[2], {}) else ""


def _headings(read: Read, name: str, row: Mapping[str, Any], shared: Shared) -> Iterator[Problem]:
    for text in (name, *map(str, row.get("aliases", ()))):
        if text.casefold() in shared.sections.data["sections"]:
            yield Problem(read.places.key("keys", name), f'the key "{text}" is also the word of a section')


def _longer(shared: Shared, facts: Mapping[str, str], spellings: Mapping[str, Mapping[str, str]]) -> Iterator[Problem]:
    """A key with a value that together read as a longer key of the same section."""
    groups = {str(read.data["group"]): read for read in shared.groups}
    for section in shared.sections.data["sections"].values():
        reads = [groups[name] for name in section["groups"] if name in groups]
        keys = {key: read for read in reads for key in read.data["keys"]}
        told = {
            " ".join(text.casefold().split()): _slots(read.data["keys"][key])
            for key, read in keys.items()
            for text in _names(read, key)
        }
        for key, read in keys.items():
            for text in _names(read, key):
                head = f"{text.casefold()} "
                longer = {one.removeprefix(head): slots for one, slots in told.items() if one.startswith(head)}
                for rest, phrase in _beginning(read.data["keys"][key], longer, facts, spellings):
                    why = f'"{text} {rest}" is a key of its own, and also the key "{text}" with "{phrase}"'
                    yield Problem(read.places.key("keys", key), why)


def _slots(row: Mapping[str, Any]) -> frozenset[str]:
    return frozenset(slot.strip() for phrase in row.get("phrases", ()) for slot in SLOT.findall(phrase))


def _names(read: Read, key: str) -> tuple[str, ...]:
    return (key, *map(str, read.data["keys"][key].get("aliases", ())))


def _beginning(
    row: Mapping[str, Any],
    longer: Mapping[str, frozenset[str]],
    facts: Mapping[str, str],
    spellings: Mapping[str, Mapping[str, str]],
) -> Iterator[tuple[str, str]]:
    """The rests of longer keys with which a phrase of this key can begin, unless both tell the same facts."""
    for phrase in row.get("phrases", ()) if longer else ():
        slot = SLOT.match(phrase)
        kind = facts.get(slot[1].strip(), "").partition(" ")[2] if slot else ""
        starts = spellings.get(kind, {}) if slot else (" ".join(SLOT.split(phrase)[0].casefold().split()),)
        told = {one.strip() for one in SLOT.findall(phrase)}
        for rest, slots in sorted(longer.items()):
            if not told <= slots and any(start == rest or start.startswith(f"{rest} ") for start in starts):
                yield rest, phrase
