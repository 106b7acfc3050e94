"""Compiled forms kept as JSON in the user's cache folder: what is missing, foreign or broken is simply made anew."""

from __future__ import annotations

import json
import os
from typing import Any

KEPT = 8  # compiled forms; the oldest go
FORM = 1


def cache_folder() -> str | None:
    """Where compiled forms are kept: SPECLINT_CACHE (``off``: nowhere), else below XDG_CACHE_HOME or ~/.cache."""
    told = os.environ.get("SPECLINT_CACHE", "")
    if told == "off":
        return None
    if told:
        return told
    base = os.environ.get("XDG_CACHE_HOME", "")
    if not os.path.isabs(base):
        home = os.path.expanduser("~")
        if home == "~":
            return None
        base = os.path.join(home, ".cache")
    return os.path.join(base, "speclint")


def kept(name: str) -> Any:
    """The value kept under a name; None if there is none that can be read."""
    folder = cache_folder()
    if folder is None:
        return None
    try:
        with open(os.path.join(folder, name), encoding="utf-8") as stream:
            data = json.load(stream)
    except (OSError, ValueError, RecursionError):
        return None
    return data["value"] if isinstance(data, dict) and data.get("form") == FORM and "value" in data else None


def keep(name: str, value: Any) -> None:
    """Keep a value under a name, whole or not at all; a folder that cannot be written is no fault."""
    folder = cache_folder()
    if folder is None:
        return
    path = os.path.join(folder, name)
    draft = f"{path}.{os.getpid()}.part"
    try:
        os.makedirs(folder, mode=0o700, exist_ok=True)
        with open(draft, "w", encoding="utf-8") as stream:
            json.dump({"form": FORM, "value": value}, stream, separators=(",", ":"))
        os.replace(draft, path)
        _drop_oldest(folder)
    except OSError:
        _remove(draft)


def _drop_oldest(folder: str) -> None:
    with os.scandir(folder) as entries:
        found = [(entry.stat().st_mtime_ns, entry.path) for entry in entries if entry.name.startswith("kit-")]
    for _, path in sorted(found, reverse=True)[2 * KEPT :]:
        _remove(path)


def _remove(path: str) -> None:
    try:
        os.remove(path)
    except OSError:
        pass
