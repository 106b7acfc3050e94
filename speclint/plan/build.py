"""From the plain data of ``shared/`` to a vocabulary: spellings are cut into tokens once, and kept as JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any

from speclint.kernel.lazy import Lazy
from speclint.kernel.quantity import Dimension, Unit, Units, whole
from speclint.plan.spelling import Tokens, pattern_elements, spelt
from speclint.plan.vocabulary import (
    FactShape,
    Key,
    Kind,
    Pattern,
    SectionWord,
    Vocabulary,
    Word,
)

Tokenize = Callable[[str], Tokens]
RESERVED = frozenset({"means", "aliases", "covers", "excludes", "any of", "cites"})
SORTS = frozenset({"flag", "text", "moment"})


def compile_vocabulary(raw: Mapping[str, Any], tokenize: Tokenize) -> dict[str, Any]:
    """Plain JSON of a vocabulary: ``kinds``, ``groups``, ``sections``, ``forms``, ``facts`` and ``units``."""
    return {
        "units": raw["units"],
        "unit spellings": [[list(tokenize(text)), name] for text, name in _unit_spellings(raw["units"])],
        "kinds": {kind["kind"]: _compile_kind(kind, tokenize) for kind in raw["kinds"]},
        "groups": {group["group"]: _compile_group(group["keys"], raw, tokenize) for group in raw["groups"]},
        "sections": {name: _compile_section(row) for name, row in raw["sections"]["sections"].items()},
        "links": raw["sections"]["links"],
        "shapes": {name: _shape(entry, tokenize) for name, entry in raw["facts"].items()},
        "forms": _compile_forms(raw["forms"], tokenize),
    }


def load_vocabulary(data: Mapping[str, Any]) -> Vocabulary:
    """The vocabulary from its compiled JSON."""
    forms, groups, shapes = data["forms"], data["groups"], _load_shapes(data["shapes"])
    return Vocabulary(
        kinds=Lazy(data["kinds"], _load_kind),
        sections=Lazy(data["sections"], lambda name, row: _load_section(name, row, groups, shapes)),
        shapes=shapes,
        collections=_load_collections(data),
        views=_load_views(data),
        filed=frozenset(row["collects"] for row in data["sections"].values() if row["within"] == "any"),
        units=load_units(data["units"]),
        unit_spellings=_spelt(data["unit spellings"]),
        links=frozenset(data["links"]),
        bounds=_spelt(forms["bounds"]),
        open_words=_spelt(forms["open"]),
        degrees=_spelt(forms["degree"]),
        fillers=frozenset(forms["filler"]),
        negations=frozenset(forms["not"]),
    )


def _load_shapes(data: Mapping[str, Any]) -> Mapping[str, FactShape]:
    """Shapes by fact; facts of one shape share it, so that a figure read for one is read for all."""
    shared: dict[FactShape, FactShape] = {}

    def make(name: str, row: tuple[str, str, list[list[str]], list[list[str]]]) -> FactShape:
        shape = FactShape(row[0], row[1], _rows(row[2]), _rows(row[3]))
        return shared.setdefault(shape, shape)

    return Lazy(data, make)


def _load_collections(data: Mapping[str, Any]) -> dict[str, str]:
    """Every collection of repeated lines or sections, and what is asked where none written leaves it unknown."""
    keys = [row for group in data["groups"].values() for row in group["keys"].values()]
    open_yet = {
        row["repeats"]: row["ask"] or f"Which {row['repeats']} are there?"
        for row in keys
        if row["left out"] == "unknown"
    }
    found = {**{row["repeats"]: "" for row in keys if row["repeats"]}, **open_yet}
    return {**found, **{row["collects"]: "" for row in data["sections"].values() if row["collects"]}}


def _load_views(data: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """The collections whose items are told by a word, each with the fact that holds it."""
    rows = [(row["repeats"], row["view"]) for group in data["groups"].values() for row in group["keys"].values()]
    rows += [(row["collects"], row["view"]) for row in data["sections"].values()]
    return tuple(sorted({row for row in rows if row[1]}))


def load_units(data: Mapping[str, Any]) -> Units:
    """Dimensions and units from plain data; sizes become exact base units."""
    dimensions: dict[str, Dimension] = {}
    spellings: dict[str, Unit] = {}
    for name, entry in data["dimensions"].items():
        si = Fraction(entry["si"])
        units = tuple(_unit(name, si, unit, row) for unit, row in entry["units"].items())
        dimensions[name] = Dimension(name, si, units)
        for unit in units:
            spellings[unit.name] = unit
            for spelling in entry["units"][unit.name].get("spellings", ()):
                spellings[spelling] = unit
    return Units(dimensions, spellings)


def _unit(dimension: str, si: Fraction, name: str, row: Mapping[str, Any]) -> Unit:
    size = Fraction(whole(Fraction(row["size"]) * si))
    offset = Fraction(row.get("offset", 0))
    return Unit(name, dimension, size, offset, row.get("reads", ""), row.get("fractions", 0))


def _unit_spellings(units: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    for dimension in units["dimensions"].values():
        for name, row in dimension["units"].items():
            for text in (name, *row.get("spellings", ())):
                yield text, name


def _compile_kind(kind: Mapping[str, Any], tokenize: Tokenize) -> dict[str, Any]:
    spellings: list[list[Any]] = []
    for name, row in kind["words"].items():
        for text in dict.fromkeys((name, *(row or {}).get("aliases", ()))):
            spellings.append([list(tokenize(str(text))), name])
    return {
        "order": kind.get("order", []),
        "letters": bool(kind.get("letters", False)),
        "open": bool(kind.get("letters", False) or kind.get("open", False)),
        "types": kind.get("properties", {}),
        "spellings": spellings,
        "words": {name: _compile_word(row or {}) for name, row in kind["words"].items()},
    }


def _compile_word(row: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "means": row.get("means", ""),
        "covers": row.get("covers", []),
        "excludes": row.get("excludes", []),
        "any of": row.get("any of", []),
        "cites": row.get("cites", ""),
        "properties": {name: value for name, value in row.items() if name not in RESERVED},
    }


def _load_kind(name: str, data: Mapping[str, Any]) -> Kind:
    words = {
        word: Word(
            word,
            name,
            row["means"],
            frozenset(row["covers"]),
            frozenset(row["excludes"]),
            tuple(row["any of"]),
            row["properties"],
            row["cites"],
        )
        for word, row in data["words"].items()
    }
    return Kind(
        name=name,
        words=words,
        spellings=_spelt(data["spellings"]),
        order=tuple(data["order"]),
        letters=data["letters"],
        open=data["open"],
        types=data["types"],
    )


def _compile_group(keys: Mapping[str, Any], raw: Mapping[str, Any], tokenize: Tokenize) -> dict[str, Any]:
    everywhere = {key: row for group in raw["groups"] for key, row in group["keys"].items()}
    return {
        "keys": {
            key: _compile_key(row, keys if row.get("of") in keys else everywhere, tokenize) for key, row in keys.items()
        },
        "spellings": [
            [list(tokenize(text)), key] for key, row in keys.items() for text in (key, *row.get("aliases", ()))
        ],
        "facts": sorted({name for row in keys.values() for text in row.get("phrases", ()) for name in _slots(text)}),
    }


def _slots(text: str) -> list[str]:
    """The facts that a phrase pattern names."""
    return [piece.strip() for piece in text.replace("}", "{").split("{")[1::2]]


def _compile_section(row: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "within": row.get("within", ""),
        "collects": row.get("collects", ""),
        "view": row.get("view", ""),
        "groups": row["groups"],
    }


def _compile_key(row: Mapping[str, Any], keys: Mapping[str, Any], tokenize: Tokenize) -> dict[str, Any]:
    target = keys[row["of"]] if "of" in row else row
    phrases = [*target.get("phrases", ()), *(row.get("phrases", ()) if "of" in row else ())]
    return {
        "means": row.get("means", ""),
        "patterns": [[list(element) for element in pattern_elements(text, tokenize)] for text in phrases],
        "repeats": target.get("repeats", ""),
        "view": target.get("view", ""),
        "short for": row.get("short for", {}),
        "of": row.get("of", ""),
        "left out": target.get("left out", ""),
        "ask": target.get("ask", ""),
        "each": row.get("each", ""),
    }


def _load_section(
    name: str, data: Mapping[str, Any], groups: Mapping[str, Any], shapes: Mapping[str, FactShape]
) -> SectionWord:
    keys: dict[str, Any] = {}
    spellings: dict[Tokens, str] = {}
    for group in data["groups"]:
        keys.update(groups[group]["keys"])
        spellings.update((tuple(tokens), key) for tokens, key in groups[group]["spellings"])
    return SectionWord(
        name=name,
        within=data["within"],
        collects=data["collects"],
        view=data["view"],
        keys=Lazy(keys, lambda key, row: _load_key(key, row, shapes)),
        by_first=spelt(list(spellings.items())),
        facts=frozenset(fact for group in data["groups"] for fact in groups[group]["facts"]),
    )


def _load_key(name: str, data: Mapping[str, Any], shapes: Mapping[str, FactShape]) -> Key:
    patterns = tuple(
        Pattern(tuple((shapes[text] if slot else None, text) for slot, text in row)) for row in data["patterns"]
    )
    literal: dict[str, list[int]] = {}
    for index, pattern in enumerate(patterns):
        shape, text = pattern.elements[0]
        if shape is None:
            literal.setdefault(text, []).append(index)
    return Key(
        name=name,
        means=data["means"],
        patterns=patterns,
        starts={},
        lines={},
        repeats=data["repeats"],
        view=data["view"],
        short_for=data["short for"],
        of=data["of"],
        left_out=data["left out"],
        each=data["each"],
        by_literal={text: tuple(rows) for text, rows in literal.items()},
        by_slot=tuple(index for index, pattern in enumerate(patterns) if pattern.elements[0][0] is not None),
    )


def _shape(entry: Mapping[str, Any], tokenize: Tokenize) -> list[Any]:
    sort, _, detail = str(entry["is"]).partition(" ")
    if sort not in ("word", "words"):
        sort, detail = (str(entry["is"]), "") if entry["is"] in SORTS else ("quantity", str(entry["is"]))
    yes = [list(tokenize(text)) for text in entry.get("said", ())]
    no = [list(tokenize(text)) for text in entry.get("said no", ())]
    return [sort, detail, yes, no]


def _compile_forms(forms: Mapping[str, Any], tokenize: Tokenize) -> dict[str, Any]:
    return {
        "bounds": [[list(tokenize(text)), sort] for text, sort in forms["bounds"].items()],
        "open": [[list(tokenize(text)), sort] for text, sort in forms["open"].items()],
        "degree": [[list(tokenize(text)), text] for text in forms["degree"]],
        "filler": forms["filler"],
        "not": forms["not"],
    }


def _rows(rows: Iterable[Iterable[str]]) -> tuple[Tokens, ...]:
    return tuple(sorted((tuple(row) for row in rows), key=lambda row: -len(row)))


def _spelt(rows: Iterable[tuple[list[str], str]]) -> dict[str, tuple[tuple[Tokens, str], ...]]:
    return spelt([(tuple(tokens), name) for tokens, name in rows])
