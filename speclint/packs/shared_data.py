"""Words, keys and facts of the shared data against one another: whatever names another thing names one there is."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from difflib import get_close_matches
from typing import Any, NamedTuple

from speclint.kernel.faults import Problem
from speclint.packs.places import Path
from speclint.packs.yaml_text import Read

SLOT = re.compile(r"\{([^{}]*)\}")
PLAIN_SORTS = ("flag", "text", "moment")
WORD_FIELDS = ("means", "aliases", "covers", "excludes", "any of", "cites")
_GIVEN = "table "


class Shared(NamedTuple):
    """All files of the shared data by what they hold, each with its places."""

    kinds: Mapping[str, Read]
    groups: tuple[Read, ...]
    facts: tuple[Read, ...]
    sections: Read
    tables: frozenset[str]
    dimensions: frozenset[str]

    @property
    def fact_names(self) -> frozenset[str]:
        """Every fact that is defined."""
        return frozenset(name for read in self.facts for name in read.data)

    @property
    def prefixes(self) -> frozenset[str]:
        """The first parts of names by which items are viewed: words of the kinds that views go by."""
        rows = [row for read in self.groups for row in read.data["keys"].values()]
        rows += list(self.sections.data["sections"].values())
        facts = {name: fact for read in self.facts for name, fact in read.data.items()}
        views = {row["view"] for row in rows if row.get("view") in facts}
        kinds = {str(facts[view]["is"]).removeprefix("word ") for view in views}
        words = (word for kind in kinds if kind in self.kinds for word in self.kinds[kind].data["words"])
        return frozenset(word.replace(" ", "-").casefold() for word in words)


def shared_problems(shared: Shared) -> list[Problem]:
    """Every name in the shared data that names nothing, and every spelling that two words of a kind share."""
    found: list[Problem] = []
    for read in shared.kinds.values():
        found.extend(_kind(read))
    names, prefixes = shared.fact_names, shared.prefixes
    for read in shared.groups:
        found.extend(_group(read, shared, names))
    for read in shared.facts:
        for name, entry in read.data.items():
            found.extend(_fact(read, name, entry, shared, names | {f"{one}." for one in prefixes}))
    known = {str(read.data["group"]) for read in shared.groups}
    for name, section in shared.sections.data["sections"].items():
        for group in section.get("groups", ()):
            if group not in known:
                yield_place = ("sections", name, "groups")
                found.append(_unknown(shared.sections, yield_place, "group of keys", group, known))
    return found


def _kind(read: Read) -> Iterator[Problem]:
    data = read.data
    words, declared = data["words"], data.get("properties", {})
    spelt: dict[str, str] = {}
    for at, word in enumerate(data.get("order", ())):
        if word not in words:
            yield _unknown(read, ("order", at), "word of this kind", word, words)
    for name, row in words.items():
        row = row or {}
        for field in row:
            if field not in WORD_FIELDS and field not in declared:
                yield _unknown(read, ("words", name, field), "property of this kind", field, declared, key=True)
        for field in ("covers", "excludes", "any of"):
            for at, other in enumerate(row.get(field, ())):
                if other not in words:
                    yield _unknown(read, ("words", name, field, at), "word of this kind", other, words)
        for alias in dict.fromkeys((name, *map(str, row.get("aliases", ())))):
            spelling = " ".join(alias.casefold().split())
            other = spelt.setdefault(spelling, name)
            if other != name:
                yield Problem(read.places.key("words", name), f'"{alias}" is also a spelling of the word "{other}"')


def _group(read: Read, shared: Shared, names: Collection[str]) -> Iterator[Problem]:
    keys = {key for group in shared.groups for key in group.data["keys"]}
    for name, row in read.data["keys"].items():
        here: Path = ("keys", name)
        for at, phrase in enumerate(row.get("phrases", ())):
            for slot in SLOT.finditer(phrase):
                if slot[1].strip() not in names:
                    place = read.places.inside(slot.start(), len(slot[0]), *here, "phrases", at)
                    yield Problem(place, f'there is no fact "{slot[1].strip()}"{_near(slot[1], names)}')
        if "of" in row and row["of"] not in keys:
            yield _unknown(read, (*here, "of"), "key", row["of"], keys)
        if "view" in row and row["view"] not in names:
            yield _unknown(read, (*here, "view"), "fact", row["view"], names)
        for fact in row.get("short for", {}):
            if fact not in names:
                yield _unknown(read, (*here, "short for", fact), "fact", fact, names, key=True)


def _fact(read: Read, name: str, entry: Mapping[str, Any], shared: Shared, names: Collection[str]) -> Iterator[Problem]:
    sort, _, kind = str(entry["is"]).partition(" ")
    if sort in ("word", "words"):
        if kind not in shared.kinds:
            yield _unknown(read, (name, "is"), "kind of words", kind, shared.kinds)
    elif entry["is"] not in (*PLAIN_SORTS, *shared.dimensions):
        yield _unknown(read, (name, "is"), "dimension", str(entry["is"]), shared.dimensions)
    for key in ("waits for", "led by"):
        if key in entry and not _is_fact(entry[key], names):
            yield _unknown(read, (name, key), "fact", entry[key], names)
    answers = entry.get("answers", ())
    known = shared.kinds["answerer"].data["words"] if "answerer" in shared.kinds else ()
    for answer in (answers,) if isinstance(answers, str) else answers:
        if known and answer not in known:
            yield _unknown(read, (name, "answers"), "answerer", answer, known)
    for operand in _operands(entry.get("from", {})):
        if operand.startswith(_GIVEN):
            if operand.removeprefix(_GIVEN) not in shared.tables:
                yield _unknown(read, (name, "from"), "table entry", operand.removeprefix(_GIVEN), shared.tables)
        elif "." in operand and not _is_fact(operand, names):
            yield _unknown(read, (name, "from"), "fact", operand, names)


def _operands(source: Mapping[str, Any]) -> list[str]:
    """What a computed fact is made from: facts, collections and table entries."""
    if "takes" in source:
        return [str(one) for one in source["takes"].values()]
    given = source.get("of") if "property" in source else next(iter(source.values()), ())
    return [given] if isinstance(given, str) else [str(one) for one in given or ()]


def _is_fact(name: str, names: Collection[str]) -> bool:
    return name in names or f"{name.partition('.')[0]}." in names


def _unknown(read: Read, path: Path, what: str, text: str, known: Collection[str], key: bool = False) -> Problem:
    place = read.places.key(*path) if key else read.places.span(*path)
    return Problem(place, f'there is no {what} "{text}"{_near(text, known)}')


def _near(text: str, known: Collection[str]) -> str:
    found = get_close_matches(text[:64], known, n=3, cutoff=0.6)
    return f"; nearest: {', '.join(found)}" if found else ""
