"""The project file ``speclint.yaml``: what a repository settles for all its plans; found upwards, never outside it."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from speclint.files.cache import keep, kept
from speclint.files.data import data_folder
from speclint.files.digest import digest_of_bytes
from speclint.kernel.faults import PackFault, Problem, UsageFault
from speclint.kernel.span import at
from speclint.language.reader import TEXT_LIMIT

NAME = "speclint.yaml"
AS_FOUND = "speclint-as-found.txt"
FileRead = Callable[[str], bytes | None]
"""Gives the bytes of a file by its real path; None where there is no such file."""


class Project(NamedTuple):
    """What the project file says, with paths from its own folder ``root``; empty where it says nothing.

    Without a project file ``root`` is the top of the repository, else the present folder or that asked about.
    ``left_out`` holds lines of a plan that stand where it is silent, key and value.
    """

    root: str
    file: str = ""
    packs: Mapping[str, Mapping[str, str]] = {}
    own_packs: tuple[str, ...] = ()
    left_out: Mapping[str, str] = {}
    stop_at: str = ""
    questions_from: str = ""
    plans: tuple[str, ...] = ()
    as_found: str = ""
    words: Mapping[str, str] = {}
    roles: Mapping[str, str] = {}


def on_disk(path: str) -> bytes | None:
    """The bytes of a plain file as it stands, one more than it may have at most; None where there is none."""
    if not os.path.isfile(path):
        return None
    try:
        with open(path, "rb") as stream:
            return stream.read(TEXT_LIMIT + 1)
    except OSError as error:
        raise UsageFault(f"{path} cannot be read: {(error.strerror or 'it failed').lower()}") from None


def find_project(path: str, read: FileRead = on_disk) -> Project:
    """The project that a path lies in: the nearest ``speclint.yaml`` upwards within the repository.

    Raises PackFault with every problem of the file, UsageFault where it is a link that leads elsewhere.
    """
    start = os.path.realpath(path if os.path.isdir(path) else os.path.dirname(path) or ".")
    folder = start
    while True:
        file = os.path.join(folder, NAME)
        if os.path.realpath(file) != file:
            raise UsageFault(f"{file} is a link that leads elsewhere, and is not read")
        data = read(file)
        if data is not None:
            return read_project(data, folder)
        above = os.path.dirname(folder)
        if os.path.lexists(os.path.join(folder, ".git")):
            return Project(folder)
        if above == folder:
            here = os.path.realpath(os.getcwd())
            return Project(here if os.path.commonpath([here, start]) == here else start)
        folder = above


def read_project(data: bytes, root: str) -> Project:
    """The project of a file's bytes; ``root`` is its folder. Raises PackFault with every problem."""
    name = f"project-{digest_of_bytes(data)}.json"
    made = kept(name)
    if not isinstance(made, dict):
        made = _read(data)
        keep(name, made)
    return Project(
        root=root,
        file=os.path.join(root, NAME),
        packs={pack: dict(row or {}) for pack, row in made.get("packs", {}).items()},
        own_packs=tuple(made.get("own packs", ())),
        left_out=made.get("left out", {}),
        stop_at=made.get("stop at", ""),
        questions_from=made.get("questions stop from", ""),
        plans=tuple(made.get("plans", ())),
        as_found=made.get("as found", ""),
        words=made.get("summary words", {}),
        roles=made.get("roles", {}),
    )


def inside(project: Project, path: str) -> str:
    """A path of the project file as a real path; raises UsageFault where it leaves the project."""
    real = os.path.realpath(os.path.join(project.root, path))
    if os.path.isabs(path) or os.path.commonpath([project.root, real]) != project.root:
        raise UsageFault(f'{NAME}: "{path}" lies outside the project')
    return real


def _read(data: bytes) -> dict[str, Any]:
    import json

    from speclint.packs.schema import schema_problems
    from speclint.packs.yaml_text import read_yaml

    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise PackFault(Problem(at(NAME, 1), f"this is not UTF-8 text: {error.reason}")) from None
    read = read_yaml(text, NAME)
    with open(os.path.join(data_folder("shared"), "schemas", "project.json"), encoding="utf-8") as stream:
        problems = tuple(schema_problems(read, json.load(stream)))
    if problems:
        raise PackFault(*problems)
    found: dict[str, Any] = read.data
    return found
