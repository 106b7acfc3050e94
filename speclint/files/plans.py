"""Finds plan files, reads them with all that they include, and never leaves the repository while doing so."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Sequence
from typing import NamedTuple

from speclint.kernel.faults import Problem, UsageFault
from speclint.kernel.span import at
from speclint.kernel.values import Known
from speclint.language.reader import TEXT_LIMIT, decode, read
from speclint.plan.near import nearest_names
from speclint.plan.sections import Draft, Entry, Section, read_sections
from speclint.plan.tree import Plan, grow_plan
from speclint.review.kit import Kit

ENDING = ".wetspec"
MOST_FILES = 200
_ROOT_MARKS = ("speclint.yaml", ".git")
_INCLUDED = "include.path"
_LISTED = 1000  # names of a folder that are looked at for a near miss


Read = Callable[[str], "bytes | str"]
"""Gives the bytes of an included file by its real path, or says why it cannot be read."""


class Found(NamedTuple):
    """The plan files to read in order, and what could not be opened with the reason."""

    paths: tuple[str, ...]
    not_read: tuple[tuple[str, str], ...]


def find_plans(paths: Sequence[str]) -> Found:
    """The files named, and every ``*.wetspec`` below the folders named, each file once and in sorted order.

    Links are resolved; a link in a folder that leads out of it is not followed but told. Folders whose names begin with
    a full stop are passed over.
    """
    found: dict[str, str] = {}
    not_read: list[tuple[str, str]] = []
    for path in paths:
        if os.path.isdir(path):
            for name in _below(path, not_read):
                found.setdefault(os.path.realpath(name), name)
        elif os.path.lexists(path):
            found.setdefault(os.path.realpath(path), _shown(path))
        else:
            not_read.append((path, f"there is no such file or folder{_near(path)}"))
    return Found(tuple(found.values()), tuple(not_read))


def load_plan(path: str, kit: Kit, more: Sequence[Section] = ()) -> Plan:
    """The plan of one file with all that it includes; what cannot be read in it is a problem of the plan.

    ``more`` are sections that come with it from elsewhere. Raises UsageFault when the file itself cannot be opened.
    """
    return plan_of_bytes(file_bytes(path), _shown(path), kit, more=more)


def file_bytes(path: str) -> bytes:
    """The bytes of a plain file, one more than a plan may have at most; raises UsageFault when it cannot be read."""
    data = _bytes(path)
    if isinstance(data, str):
        raise UsageFault(f"{path}: {data}")
    return data


def plan_of_bytes(data: bytes, name: str, kit: Kit, include: Read | None = None, more: Sequence[Section] = ()) -> Plan:
    """The plan of a text that came otherwise, such as standard input; ``name`` stands for its path.

    ``include`` reads the files it includes in the place of the disk, ``more`` are sections that come with it.
    """
    real = os.path.realpath(name)
    reading = _Reading(kit, repository_root(os.path.dirname(real)), include or _bytes)
    reading.take(data, name, real, ())
    sections, problems = tuple(reading.sections), list(reading.problems)
    if not sections and not problems:
        why = 'there is no heading here; a plan begins with a line such as: plan "name"'
        problems.append(Problem(at(name, 1), why))
    plan = grow_plan(name, (*sections, *more), tuple(problems), kit.vocabulary)
    return plan._replace(files=tuple(reading.files), fragment=plan.fragment and bool(sections))


def include_words(kit: Kit) -> frozenset[str]:
    """The first words of the keys that name a file to include: a text without any of them includes nothing."""
    return frozenset(
        spelling[0]
        for section in kit.vocabulary.sections.values()
        for rows in section.by_first.values()
        for spelling, name in rows
        if any(_INCLUDED in pattern.facts for pattern in section.keys[name].patterns)
    )


class _Reading:
    """One plan being read: what was read so far, and by which files the present one was reached."""

    def __init__(self, kit: Kit, root: str, read_bytes: Read) -> None:
        self.kit = kit
        self.root = root
        self.read_bytes = read_bytes
        self.sections: list[Section] = []
        self.problems: list[Problem] = []
        self.files: list[str] = []
        self.seen: set[str] = set()

    def take(self, data: bytes, name: str, real: str, way: tuple[str, ...]) -> None:
        """Read the bytes of one file, then the files that it includes."""
        self.seen.add(real)
        self.files.append(name)
        text = decode(data, name)
        if isinstance(text, Problem):
            self.problems.append(text)
            return
        draft = read_sections(read(text, name, self.kit.driver), self.kit.vocabulary)
        self.sections.extend(draft.sections)
        self.problems.extend(draft.problems)
        for entry, wanted in _includes(draft):
            told = self._include(wanted, name, real, (*way, real))
            if told:
                self.problems.append(Problem(entry.span, told))

    def _include(self, wanted: str, name: str, real: str, way: tuple[str, ...]) -> str:
        """Read one included file; what speaks against it, or nothing."""
        shown = os.path.normpath(os.path.join(os.path.dirname(name), wanted)).replace(os.sep, "/")
        target = os.path.realpath(os.path.join(os.path.dirname(real), wanted))
        against = self._against(wanted, target, real, way)
        if against or target in self.seen:
            return against
        data = self.read_bytes(target)
        if isinstance(data, str):
            return f'include "{wanted}": {data}{_near(target)}'
        self.take(data, shown, target, way)
        return ""

    def _against(self, wanted: str, target: str, real: str, way: tuple[str, ...]) -> str:
        """Why a file may not be included; empty if it may."""
        if not wanted or "\0" in wanted or os.path.isabs(wanted):
            return f'include "{wanted}" must be a path from this file, such as: include "../firm/walls.wetspec"'
        if os.path.commonpath([self.root, target]) != self.root:
            return f'include "{wanted}" leads out of the repository; only files inside it are read'
        if target in way:
            names = [os.path.basename(one) for one in (*way[way.index(target) :], target)]
            return f"includes run in a circle: {' -> '.join(names)}"
        if target not in self.seen and len(self.seen) >= MOST_FILES:
            return f'include "{wanted}" is not read: a plan is made of at most {MOST_FILES} files'
        return ""


def _includes(draft: Draft) -> list[tuple[Entry, str]]:
    """The include lines of a file that tell a path."""
    found: list[tuple[Entry, str]] = []
    for section in draft.sections:
        for entry in section.entries:
            value = entry.facts.get(_INCLUDED)
            if isinstance(value, Known) and isinstance(value.value, str):
                found.append((entry, value.value))
    return found


def repository_path(path: str) -> str:
    """The path of a file from the root of its repository, with slashes and links resolved."""
    real = os.path.realpath(path)
    return os.path.relpath(real, repository_root(os.path.dirname(real))).replace(os.sep, "/")


def repository_root(folder: str) -> str:
    """The nearest folder upwards with a project file or a repository, else the folder itself."""
    at_hand = folder
    while True:
        if any(os.path.lexists(os.path.join(at_hand, mark)) for mark in _ROOT_MARKS):
            return at_hand
        above = os.path.dirname(at_hand)
        if above == at_hand:
            return folder
        at_hand = above


def _below(folder: str, not_read: list[tuple[str, str]]) -> list[str]:
    """The plan files below a folder in sorted order; links out of it and folders that cannot be listed are told."""
    root = os.path.realpath(folder)
    found: list[str] = []

    def refused(error: OSError) -> None:
        not_read.append((str(error.filename), f"the folder cannot be listed: {error.strerror}"))

    for where, folders, names in os.walk(folder, onerror=refused):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            if not name.endswith(ENDING):
                continue
            path = os.path.join(where, name)
            if os.path.islink(path) and os.path.commonpath([root, os.path.realpath(path)]) != root:
                not_read.append((_shown(path), "this link leads out of the folder and is not followed"))
            else:
                found.append(_shown(path))
    return sorted(found)


def _bytes(path: str) -> bytes | str:
    """The bytes of a plain file, one more than a text may have at most; or why it cannot be read."""
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):
            what = "a folder" if os.path.isdir(path) else "no plain file"
            return f"this is {what}, so it is not read"
        with open(path, "rb") as stream:
            return stream.read(TEXT_LIMIT + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "its name is no file name").lower()
        return f"this file cannot be read: {reason}"


def _shown(path: str) -> str:
    """A path as places name it: without ``./`` and with slashes."""
    return os.path.normpath(path).replace(os.sep, "/")


def _near(path: str) -> str:
    """Names in the same folder that the path may have meant."""
    try:
        with os.scandir(os.path.dirname(path) or ".") as entries:
            names = [entry.name for entry, _ in zip(entries, range(_LISTED), strict=False)]
    except (OSError, ValueError):
        return ""
    return nearest_names(os.path.basename(path), names)
