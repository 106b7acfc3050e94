"""A condition of a rule in plain words: facts by what they mean, limits by their figures, signs by words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

_SIGNS = {
    "=": "is",
    "!=": "is not",
    "<": "is under",
    "<=": "is at most",
    ">": "is over",
    ">=": "is at least",
    "*": "times",
    "/": "over",
    "+": "plus",
}
_PART = re.compile(r'"[^"]*"|[A-Za-z][\w-]*(?:\.[\w-]+)+|!=|<=|>=|[=<>*+]|\s/\s|\s+|[^\s"=<>!*+]+|.')


def plain_condition(text: str, means: Mapping[str, str], limits: Sequence[tuple[str, str, str]]) -> str:
    """The condition in words; ``means`` gives the meaning of each fact, ``limits`` the figures by name and variant."""
    told: list[str] = []
    for part in _PART.findall(" ".join(text.split())):
        bare = part.strip()
        if bare.startswith("limit."):
            told.append(_limit(bare.removeprefix("limit."), limits))
        elif bare in means:
            told.append(f"the {means[bare]}" if means[bare] else bare)
        elif bare in _SIGNS:
            told.append(part.replace(bare, _SIGNS[bare]))
        else:
            told.append(part)
    return "".join(told)


def facts_of(text: str) -> tuple[str, ...]:
    """The names with a full stop that a condition holds, each once: facts, limits, and words such as ``A118.4``."""
    found = (part for part in _PART.findall(text) if "." in part and not part.startswith('"'))
    return tuple(dict.fromkeys(found))


def _limit(name: str, limits: Sequence[tuple[str, str, str]]) -> str:
    """The figure of a limit; where editions or sources differ, each with its own."""
    rows = [(text, variant) for one, text, variant in limits if one == name]
    if not rows:
        return f"limit {name}"
    return " or ".join(f"{text} ({variant})" if variant else text for text, variant in rows)
