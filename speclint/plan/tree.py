"""The plan as a tree: rooms in a plan, assemblies in rooms, parts in assemblies, and what is filed under an address."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.plan.likeness import lines_with_likeness
from speclint.plan.near import nearest_names
from speclint.plan.sections import Entry, Section
from speclint.plan.vocabulary import Vocabulary

DEEP = 16  # links of a chain of addresses or likenesses


class Node(NamedTuple):
    """One section in its place: its address from the room down, its own and copied lines, and what stands within it."""

    kind: str
    name: str
    address: tuple[str, ...]
    span: Span
    entries: tuple[Entry, ...]
    children: tuple[Node, ...] = ()

    def of_kind(self, kind: str) -> tuple[Node, ...]:
        """The sections of one kind that stand directly within this one."""
        return tuple(child for child in self.children if child.kind == kind)


class Plan(NamedTuple):
    """One plan with all that it includes; ``root`` is its ``plan`` section; ``problems`` tell the lines not read.

    ``sections`` are those it was grown from, as written.
    """

    file: str
    root: Node
    problems: tuple[Problem, ...]
    fragment: bool
    files: tuple[str, ...]
    sections: tuple[Section, ...] = ()


def same(name: str) -> str:
    """How names compare: folded case, single blanks."""
    return " ".join(name.casefold().split())


class _Grower:
    """Puts sections under their parents by name; every name that fits nothing, or fits twice, is a problem."""

    def __init__(self, sections: tuple[Section, ...], words: Vocabulary) -> None:
        self.sections = sections
        self.words = words
        self.problems: list[Problem] = []
        self.parents: dict[int, int | None] = {}
        self.addresses: dict[int, tuple[str, ...]] = {}
        self.lines: dict[int, tuple[Entry, ...]] = {}

    def grow(self) -> None:
        """Find each section's parent, address and lines."""
        for index, section in enumerate(self.sections):
            self.parents[index] = self._parent(index, section)
        seen: dict[tuple[str, tuple[str, ...], str], Span] = {}
        for index, section in enumerate(self.sections):
            if section.kind == "plan":
                continue
            mark = (section.kind, tuple(same(n) for n in self._address(index)[:-1]), same(section.name))
            if mark in seen and section.kind in self._placed_kinds():
                there = f'{section.kind} "{section.name}" is defined twice, first at {seen[mark]}'
                self.problems.append(Problem(section.span, there))
            seen.setdefault(mark, section.span)
        lines, problems = lines_with_likeness(self.sections, self.words, self._find)
        self.lines = lines
        self.problems.extend(problems)

    def _placed_kinds(self) -> frozenset[str]:
        return frozenset(name for name, word in self.words.sections.items() if word.within not in ("any", "nothing"))

    def _parent(self, index: int, section: Section) -> int | None:
        within = self.words.sections[section.kind].within
        if within == "nothing":
            return None
        if section.path:
            return self._named(index, section, within)
        wanted = ("plan",) if within == "plan" else (("assembly", "room") if within == "any" else (within,))
        for kind in wanted:
            found = [i for i, other in enumerate(self.sections) if other.kind == kind]
            if len(found) == 1 or (found and kind == "plan"):
                return found[0]
        if within not in ("plan", "any") and any(other.kind == within for other in self.sections):
            self.problems.append(Problem(section.span, f'say in which {within} {section.kind} "{section.name}" stands'))
        return next((i for i, other in enumerate(self.sections) if other.kind == "plan"), None)

    def _named(self, index: int, section: Section, within: str) -> int | None:
        kinds = self._placed_kinds() | {"plan"} if within == "any" else frozenset({within, "part"})
        found = [i for i in self._find(section.path[-1], kinds) if i != index and self._lies(i, section.path[:-1])]
        exact = [i for i in found if self.sections[i].kind == within]
        found = exact or found
        outermost = [i for i in found if self.sections[i].kind == "room"] or found
        if len(found) == 1 or (found and within == "any"):
            return outermost[0]
        name = section.path[-1]
        if found:
            places = ", ".join(str(self.sections[i].span) for i in found)
            self.problems.append(Problem(section.span, f'"{name}" stands at {places}: write its room first, with /'))
            return found[0]
        names = (other.name for other in self.sections if other.kind in kinds)
        near = nearest_names(name, names)
        self.problems.append(
            Problem(section.span, f'no {"section" if within == "any" else within} is named "{name}"{near}')
        )
        return next((i for i, other in enumerate(self.sections) if other.kind == "plan"), None)

    def _find(self, name: str, kinds: Iterable[str]) -> list[int]:
        wanted = same(name)
        allowed = frozenset(kinds)
        return [i for i, one in enumerate(self.sections) if one.kind in allowed and same(one.name) == wanted]

    def _lies(self, index: int, outer: tuple[str, ...]) -> bool:
        """Whether a section stands under these names, so far as its own heading says."""
        above = tuple(same(name) for name in self._address(index)[:-1])
        wanted = tuple(same(name) for name in outer)
        return above[len(above) - len(wanted) :] == wanted if wanted else True

    def _address(self, index: int) -> tuple[str, ...]:
        names: list[str] = []
        at: int | None = index
        for _ in range(DEEP):
            if at is None or self.sections[at].kind == "plan":
                break
            names.append(self.sections[at].name)
            at = self.parents.get(at)
        return tuple(reversed(names))

    def node(self, index: int, depth: int = 0) -> Node:
        """The tree under one section."""
        section = self.sections[index]
        children = [i for i, parent in self.parents.items() if parent == index and i != index] if depth < DEEP else []
        return Node(
            kind=section.kind,
            name=section.name,
            address=self._address(index),
            span=section.span,
            entries=self.lines[index],
            children=tuple(self.node(child, depth + 1) for child in children),
        )


def grow_plan(file: str, sections: tuple[Section, ...], problems: tuple[Problem, ...], words: Vocabulary) -> Plan:
    """The tree of one plan from the sections of its file and of those it includes."""
    roots = [i for i, one in enumerate(sections) if one.kind == "plan"]
    found = list(problems)
    if len(roots) > 1:
        second = sections[roots[1]]
        found.append(Problem(second.span, f"a plan has one heading plan; the first is at {sections[roots[0]].span}"))
        sections = tuple(one for i, one in enumerate(sections) if i == roots[0] or i not in roots)
    files = tuple(dict.fromkeys(one.span.file for one in sections)) or (file,)
    if not roots:
        sections = (Section("plan", "", (), Span(file, 1, 1, 1, 1), ()), *sections)
    grower = _Grower(sections, words)
    grower.grow()
    root = next(i for i, one in enumerate(sections) if one.kind == "plan")
    tree = grower.node(root)
    troubles = (*found, *grower.problems)
    return Plan(file=file, root=tree, problems=troubles, fragment=not roots, files=files, sections=sections)
