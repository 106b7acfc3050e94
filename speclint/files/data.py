"""Finds and reads the data that travels with the package: ``rules/`` and ``shared/``."""

from __future__ import annotations

import os
from typing import Any

from speclint.kernel.faults import UsageFault

PACKAGE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def data_folder(name: str) -> str:
    """The folder ``rules`` or ``shared``: inside the installed package, else beside it in a checkout.

    Raises UsageFault that names both places when neither is there.
    """
    inside = os.path.join(PACKAGE, name)
    if os.path.isdir(inside):
        return inside
    root = os.path.dirname(PACKAGE)
    beside = os.path.join(root, name)
    if os.path.isdir(beside) and os.path.isfile(os.path.join(root, "pyproject.toml")):
        return beside
    raise UsageFault(f"the folder {name} is neither at {inside} nor at {beside}: install speclint again")


def yaml_files(folder: str) -> list[tuple[str, str]]:
    """Every YAML file under a folder in order of its path: the path below the folder with slashes, and its text."""
    found: list[tuple[str, str]] = []
    for where, folders, names in os.walk(folder):
        folders.sort()
        for name in sorted(names):
            if name.endswith(".yaml"):
                path = os.path.join(where, name)
                with open(path, encoding="utf-8") as stream:
                    found.append((os.path.relpath(path, folder).replace(os.sep, "/"), stream.read()))
    found.sort()
    return found


def under(files: list[tuple[str, Any]], prefix: str) -> list[tuple[str, Any]]:
    """The files below one folder."""
    return [(path, data) for path, data in files if path.startswith(prefix)]
