"""The project file ``speclint.yaml``: what a repository settles for all its plans; found upwards, never outside it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Any, NamedTuple

from speclint.files.cache import keep, kept
from speclint.files.data import data_folder
from speclint.files.digest import digest_of_bytes
from speclint.kernel.faults import PackFault, Problem, UsageFault
from speclint.kernel.span import at

NAME = "speclint.yaml"
AS_FOUND = "speclint-as-found.txt"
MOST = 1 << 20


class Project(NamedTuple):
    """What the project file says, with paths from its own folder; empty where it says nothing."""

    root: str = ""
    packs: Mapping[str, Mapping[str, str]] = {}
    own_packs: tuple[str, ...] = ()
    stage: str = ""
    stop_at: str = ""
    questions_from: str = ""
    plans: tuple[str, ...] = ()
    as_found: str = AS_FOUND
    words: Mapping[str, str] = {}


def find_project(path: str) -> Project:
    """The project that a path lies in: the nearest ``speclint.yaml`` upwards within the repository.

    Raises PackFault with every problem of the file.
    """
    folder = os.path.realpath(path if os.path.isdir(path) else os.path.dirname(path) or ".")
    while True:
        file = os.path.join(folder, NAME)
        if os.path.isfile(file):
            with open(file, "rb") as stream:
                return read_project(stream.read(MOST + 1), folder)
        above = os.path.dirname(folder)
        if os.path.lexists(os.path.join(folder, ".git")) or above == folder:
            return Project()
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
        packs={pack: dict(row or {}) for pack, row in made.get("packs", {}).items()},
        own_packs=tuple(made.get("own packs", ())),
        stage=made.get("stage", ""),
        stop_at=made.get("stop at", ""),
        questions_from=made.get("questions stop from", ""),
        plans=tuple(made.get("plans", ())),
        as_found=made.get("as found", AS_FOUND),
        words=made.get("summary words", {}),
    )


def inside(project: Project, path: str) -> str:
    """A path of the project file as a real path; raises UsageFault where it leaves the project."""
    real = os.path.realpath(os.path.join(project.root, path))
    if os.path.commonpath([project.root, real]) != project.root:
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
