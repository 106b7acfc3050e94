"""Strict YAML: no surprises of type, no repeated keys, no aliases, bounds on size and depth, a place for every node."""

from __future__ import annotations

import re
from typing import Any, NamedTuple, TypeAlias

import yaml

from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import Span, at
from speclint.packs.places import Path, Places

SIZE = 1 << 20
DEPTH = 32
NODES = 60_000
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULL, _FLAGS = ("", "~", "null"), {"true": True, "false": False}
_INTEGER = re.compile(r"[-+]?(?:0|[1-9]\d{0,15})")

Spans: TypeAlias = dict[Path, Span]


class Read(NamedTuple):
    """A YAML text as plain data, and the place of every node by its path of keys and indices."""

    data: Any
    places: Places


def read_yaml(text: str, file: str) -> Read:
    """Plain data of one YAML document: only null, true, false and whole numbers are typed, the rest is text.

    A decimal such as 0.5 stays text, so that it can be read exactly. Raises PackFault with all that is found:
    syntax, repeated keys, anchors, tags, size.
    """
    if len(text) > SIZE:
        raise PackFault(Problem(at(file, 1), f"the file has more than {SIZE:,} characters: part it"))
    try:
        _refuse(text, file)
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = _at(file, mark) if mark else at(file, 1)
        raise PackFault(Problem(place, f"this is not YAML: {error.problem or error.context}")) from None
    except (yaml.YAMLError, UnicodeError) as error:
        raise PackFault(Problem(at(file, 1), f"this is not YAML: {' '.join(str(error).split())}")) from None
    if node is None:
        raise PackFault(Problem(at(file, 1), "the file is empty"))
    reading = _Reading(file)
    data = reading.plain(node, ())
    if reading.problems:
        raise PackFault(*reading.problems)
    return Read(data, Places(file, text, reading.spans, reading.keys))


def _at(file: str, mark: Any) -> Span:
    return at(file, mark.line + 1, mark.column + 1)


def _refuse(text: str, file: str) -> None:
    """Look at the events before any node is made, so that a small text cannot become a large tree."""
    depth = 0
    event: Any
    for count, event in enumerate(yaml.parse(text, Loader=_LOADER)):
        place = _at(file, event.start_mark)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise PackFault(Problem(place, "anchors and aliases are not read here: write the value out"))
        if getattr(event, "tag", None):
            raise PackFault(Problem(place, f"the tag {event.tag} is not read here: write plain text"))
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > DEPTH:
            raise PackFault(Problem(place, f"more than {DEPTH} levels deep"))
        if count > NODES:
            raise PackFault(Problem(place, f"more than {NODES:,} values in one file: part it"))


class _Reading:
    """Turns nodes into plain data and keeps where each of them stands."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.spans: Spans = {}
        self.keys: Spans = {}
        self.problems: list[Problem] = []

    def plain(self, node: Any, path: Path) -> Any:
        self.spans[path] = self._span(node)
        if isinstance(node, yaml.ScalarNode):
            return _scalar(node)
        if isinstance(node, yaml.SequenceNode):
            return [self.plain(item, (*path, index)) for index, item in enumerate(node.value)]
        return self._mapping(node, path)

    def _mapping(self, node: Any, path: Path) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            if not isinstance(key_node, yaml.ScalarNode):
                place = _at(self.file, key_node.start_mark)
                self.problems.append(Problem(place, "a key must be a plain word"))
                continue
            key = str(key_node.value)
            if key in found:
                first = self.keys[*path, key].line
                why = f'"{key}" stands twice, first on line {first}: keep one'
                self.problems.append(Problem(self._span(key_node), why))
                continue
            self.keys[*path, key] = self._span(key_node)
            found[key] = self.plain(value_node, (*path, key))
        return found

    def _span(self, node: Any) -> Span:
        start, end = node.start_mark, node.end_mark
        return Span(self.file, start.line + 1, start.column + 1, end.line + 1, end.column + 1)


def _scalar(node: Any) -> Any:
    text = node.value
    if node.style:  # plain text has the style None, or an empty one from the C reader
        return text
    if text in _NULL:
        return None
    if text in _FLAGS:
        return _FLAGS[text]
    return int(text) if _INTEGER.fullmatch(text) else text
