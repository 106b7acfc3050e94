"""Reads the templates that travel inside the package."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping

from speclint.files.data import PACKAGE


def templates(names: Iterable[str]) -> Mapping[str, str]:
    """The texts of some templates by their names."""
    found: dict[str, str] = {}
    for name in names:
        with open(os.path.join(PACKAGE, "forms", "templates", name), encoding="utf-8") as stream:
            found[name] = stream.read()
    return found
