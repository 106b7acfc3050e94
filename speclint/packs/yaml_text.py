"""Strict YAML: no surprises of type, no repeated keys, no aliases, a bound on size and depth, and a place for every node."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

import yaml

from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import Span, at

SIZE = 1 << 20
DEPTH = 32
NODES = 60_000
_LOADER: type[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_PLAIN = re.compile(r"(?P<null>null|~|)|(?P<yes>true)|(?P<no>false)|(?P<int>[-+]?(?:0|[1-9]\d{0,15}))|(?P<float>[-+]?\d+\.\d+)")


class Read(NamedTuple):
    """A YAML text as plain data, and the span of every node by its path of keys and indices."""

    data: Any
    spans: dict[tuple[str | int, ...], Span]

    def span(self, *path: str | int) -> Span:
        """The place of a node, or of the nearest one around it."""
        while path and path not in self.spans:
            path = path[:-1]
        return self.spans[path]


def read_yaml(text: str, file: str) -> Read:
    """Plain data of one YAML document: only null, true, false, decimal integers and decimals are typed; the rest is text.

    Raises PackFault with every problem found: syntax, repeated keys, aliases, tags, size.
    """
    if len(text) > SIZE:
        raise PackFault(Problem(at(file, 1), f"the file has more than {SIZE:,} characters"))
    problems: list[Problem] = []
    try:
        _refuse_aliases(text, file)
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = at(file, mark.line + 1, mark.column + 1) if mark else at(file, 1)
        raise PackFault(Problem(place, f"this is not YAML: {error.problem or error.context}")) from None
    except yaml.YAMLError as error:
        raise PackFault(Problem(at(file, 1), f"this is not YAML: {' '.join(str(error).split())}")) from None
    if node is None:
        raise PackFault(Problem(at(file, 1), "the file is empty"))
    spans: dict[tuple[str | int, ...], Span] = {}
    data = _plain(node, (), file, spans, problems)
    if problems:
        raise PackFault(*problems)
    return Read(data, spans)


def _refuse_aliases(text: str, file: str) -> None:
    depth = nodes = 0
    for event in yaml.parse(text, Loader=_LOADER):
        nodes += 1
        mark = event.start_mark
        place = at(file, mark.line + 1, mark.column + 1)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise PackFault(Problem(place, "anchors and aliases are not read here: write the value out"))
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > DEPTH:
            raise PackFault(Problem(place, f"more than {DEPTH} levels deep"))
        if nodes > NODES:
            raise PackFault(Problem(place, f"more than {NODES:,} values in one file"))


def _plain(
    node: Any, path: tuple[str | int, ...], file: str, spans: dict[tuple[str | int, ...], Span], problems: list[Problem]
) -> Any:
    start, end = node.start_mark, node.end_mark
    spans[path] = Span(file, start.line + 1, start.column + 1, end.line + 1, end.column + 1)
    if isinstance(node, yaml.ScalarNode):
        return _scalar(node)
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*path, index), file, spans, problems) for index, item in enumerate(node.value)]
    found: dict[str, Any] = {}
    for key_node, value_node in node.value:
        key = str(key_node.value) if isinstance(key_node, yaml.ScalarNode) else ""
        if not isinstance(key_node, yaml.ScalarNode) or key in found:
            mark = key_node.start_mark
            why = f'"{key}" stands twice' if key in found else "a key must be a plain word"
            problems.append(Problem(at(file, mark.line + 1, mark.column + 1), why))
            continue
        found[key] = _plain(value_node, (*path, key), file, spans, problems)
    return found


def _scalar(node: Any) -> Any:
    text = node.value
    if node.style is not None:
        return text
    match = _PLAIN.fullmatch(text)
    if match is None or match["float"]:
        return text
    if match["int"]:
        return int(text)
    return {"null": None, "yes": True, "no": False}[str(match.lastgroup)]
