"""Data against a JSON Schema: every departure told as a plain sentence at its place; not loaded by a warm start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from speclint.kernel.faults import Problem
from speclint.packs.places import Path
from speclint.packs.yaml_text import Read

_SORTS = {"string": "a text", "integer": "a whole number", "object": "a mapping", "array": "a list", "null": "nothing",
          "boolean": "true or false"}  # fmt: skip


def schema_problems(read: Read, schema: Mapping[str, Any]) -> list[Problem]:
    """Every place where the data of a file departs from a schema (draft-07)."""
    from jsonschema import Draft7Validator

    found: list[Problem] = []
    for error in Draft7Validator(schema).iter_errors(read.data):
        for one in _most_telling(error):
            found.extend(_problems(one, read))
    return found


def _most_telling(error: Any) -> list[Any]:
    """Of a choice of schemas, what is wrong with the one that the data comes nearest to."""
    while error.validator == "anyOf" and error.context:
        branches: dict[int, list[Any]] = {}
        for one in error.context:
            branches.setdefault(one.relative_schema_path[0], []).append(one)
        right_sort = [each for each in branches.values() if not any(_is_whole(one) for one in each)]
        if not right_sort:
            return [error]
        nearest = min(right_sort, key=len)
        if len(nearest) > 1:
            return nearest
        error = nearest[0]
    return [error]


def _is_whole(error: Any) -> bool:
    # the value as a whole is of another sort, or lacks what makes it this sort
    return not error.relative_path and error.validator in ("type", "required", "additionalProperties")


def _problems(error: Any, read: Read) -> Iterator[Problem]:
    path: Path = tuple(error.absolute_path)
    kind, wanted, value = error.validator, error.validator_value, error.instance
    if kind == "additionalProperties" and isinstance(value, dict):
        known = [*error.schema.get("properties", {})]
        patterns = error.schema.get("patternProperties", {})
        for key in value:
            if key not in known and not _fits(key, patterns):
                yield Problem(read.places.key(*path, key), f'"{key}" is no field of {_what(error)}{_near(key, known)}')
    elif kind == "required":
        for key in wanted:
            if key not in value:
                yield Problem(read.places.span(*path), f'"{key}" is missing')
    elif kind == "pattern" and "propertyNames" in error.schema_path:
        yield Problem(read.places.key(*path, value), f'"{value}" cannot be a name here: small letters, digits, hyphens')
    else:
        yield Problem(read.places.span(*path), _sentence(error, kind, wanted, value))


def _sentence(error: Any, kind: str, wanted: Any, value: Any) -> str:
    if kind == "contains":
        return str(error.schema["description"])
    if kind == "type":
        sorts = [wanted] if isinstance(wanted, str) else wanted
        due = " or ".join(_SORTS.get(sort, sort) for sort in sorts)
        return f"{_shown(value)} stands where {due} is due: {_what(error)}"
    if kind in ("enum", "const"):
        choices = [str(one) for one in (wanted if kind == "enum" else [wanted])]
        return f"{_shown(value)} is none of {', '.join(choices)}{_near(str(value), choices)}"
    if kind == "anyOf":
        return f"{_shown(value)} is not what is due here: {_what(error)}"
    if kind in ("minLength", "minItems", "minProperties"):
        return f"there is nothing here, where this is due: {_what(error)}"
    if kind in ("maxLength", "maxItems", "maxProperties"):
        return f"this is too long; at most {wanted} {'characters' if kind == 'maxLength' else 'entries'}"
    if kind == "uniqueItems":
        return "the same entry stands twice"
    if kind == "pattern":
        return f"{_shown(value)} is not shaped like {_what(error)}"
    return f"this does not fit: {_what(error)}"


def _what(error: Any) -> str:
    return str(error.schema.get("description", "what belongs here"))


def _shown(value: Any) -> str:
    if isinstance(value, (dict, list)):
        return "a mapping" if isinstance(value, dict) else "a list"
    if value is None:
        return "nothing"
    text = str(value)
    return f'"{text[:60]}..."' if len(text) > 60 else f'"{text}"'


def _near(text: str, names: list[str]) -> str:
    found = get_close_matches(text[:64], names, n=3, cutoff=0.6)
    return f"; nearest: {', '.join(found)}" if found else ""


def _fits(key: str, patterns: Mapping[str, Any]) -> bool:
    import re

    return any(re.search(pattern, key) for pattern in patterns)
