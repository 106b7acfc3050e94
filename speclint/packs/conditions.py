"""The conditions and limits of a rule: parsed, checked against the catalogue, every mistake told at its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from speclint.engine.catalogue import WORD, FactKind
from speclint.engine.check import check, read_limit
from speclint.engine.nodes import ConditionFault, Node, limits_of, walk
from speclint.engine.syntax import parse
from speclint.kernel.faults import Problem
from speclint.packs.names import Names
from speclint.packs.places import Path
from speclint.packs.yaml_text import Read


def compile_conditions(read: Read, names: Names, problems: list[Problem]) -> dict[str, Any]:
    """The judgement of a rule as checked nodes, and its limits as (name, text, label); problems are added."""
    reader = _Conditions(read, names, problems)
    parsed = {key: reader.parsed(key) for key in ("applies", "demands") if key in read.data}
    kinds = reader.limits(tuple(node for node in parsed.values() if node is not None))
    checked = {key: node and reader.checked(node, kinds, key) for key, node in parsed.items()}
    used = {limit for node in parsed.values() if node is not None for limit in limits_of(node)}
    for name in read.data.get("limits", {}):
        if name not in used and not any(node is None for node in parsed.values()):
            problems.append(Problem(read.places.key("limits", name), f'no condition reads the limit "{name}"'))
    judgement = {"applies": checked.get("applies"), "demands": checked["demands"], "limits": reader.variants}
    return {"judgement": judgement, "limits": reader.told}


def facts_read(read: Read) -> tuple[str, ...]:
    """The facts whose value the conditions of a rule compare; those only asked whether they are stated are left out."""
    found: dict[str, None] = {}
    for key in ("applies", "demands"):
        try:
            node = parse(read.data[key]) if key in read.data else ("flag", True)
        except ConditionFault:
            continue
        stated = {id(one[1]) for one in walk(node) if one[0] == "stated"}
        found.update((one[1], None) for one in walk(node) if one[0] == "fact" and id(one) not in stated)
    return tuple(found)


class _Conditions:
    """Reads the texts of one rule; what is wrong in a text is told at its place in the file."""

    def __init__(self, read: Read, names: Names, problems: list[Problem]) -> None:
        self.read, self.names, self.problems = read, names, problems
        self.variants: dict[str, list[list[Any]]] = {}
        self.told: list[list[str]] = []

    def parsed(self, *path: str | int) -> Node | None:
        try:
            return parse(self._text(path))
        except ConditionFault as fault:
            self._tell(fault, path)
            return None

    def checked(self, node: Node, kinds: Mapping[str, FactKind], *path: str | int) -> Node | None:
        try:
            return check(node, self.names, kinds)
        except ConditionFault as fault:
            self._tell(fault, path)
            return None

    def limits(self, nodes: tuple[Node, ...]) -> dict[str, FactKind]:
        """Read every limit in all its variants; words take the kind of the fact that they are compared with."""
        kinds: dict[str, FactKind] = {}
        for name, given in self.read.data.get("limits", {}).items():
            rows = given if isinstance(given, list) else [{"value": given}]
            wanted = _compared_with(name, nodes, self.names)
            made: list[list[Any]] = []
            for place, row in enumerate(rows):
                path: Path = ("limits", name, place, "value") if isinstance(given, list) else ("limits", name)
                found = self._limit(str(row["value"]), wanted, path)
                if found is None:
                    continue
                if name in kinds and kinds[name].of != found[1].of:
                    self.problems.append(Problem(self.read.places.span(*path), "this variant is of another dimension"))
                kinds.setdefault(name, found[1])
                when = self._when(row, name, place)
                label = row.get("label", "")
                made.append([label, when, found[0]])
                self.told.append([name, str(row["value"]), label])
            self.variants[name] = made
            kinds.setdefault(name, FactKind(""))
        return kinds

    def _limit(self, text: str, wanted: FactKind | None, path: Path) -> tuple[Node, FactKind] | None:
        try:
            found = read_limit(text, self.names)
            if found[1].is_ == WORD and wanted is not None:
                found = read_limit(text, self.names, wanted)
        except ConditionFault as fault:
            self._tell(fault, path)
            return None
        return found

    def _when(self, row: Mapping[str, Any], name: str, place: int) -> Node | None:
        if "when" not in row:
            if row.get("label"):
                why = f'the variant "{row["label"]}" needs "when", which says under what it holds'
                self.problems.append(Problem(self.read.places.span("limits", name, place), why))
            return None
        node = self.parsed("limits", name, place, "when")
        return node and self.checked(node, {}, "limits", name, place, "when")

    def _text(self, path: Path) -> str:
        value: Any = self.read.data
        for step in path:
            value = value[step]
        return str(value)

    def _tell(self, fault: ConditionFault, path: Path) -> None:
        for trouble in fault.troubles:
            place = self.read.places.inside(trouble.offset, trouble.width, *path)
            self.problems.append(Problem(place, trouble.message))


def _compared_with(limit: str, nodes: tuple[Node, ...], names: Names) -> FactKind | None:
    """The kind of the fact that a condition sets a limit against."""
    for fact in _opposite(limit, nodes):
        kind = names.kind_of(fact)
        if kind is not None:
            return kind
    return None


def _opposite(limit: str, nodes: tuple[Node, ...]) -> Iterator[str]:
    for node in (one for whole in nodes for one in walk(whole)):
        pair = node[2:4] if node[0] == "compare" else node[1:3] if node[0] in ("covers", "has") else ()
        if len(pair) == 2 and any(one[0] == "limit" and one[1] == limit for one in pair):
            yield from (one[1] for one in pair if one[0] == "fact")
