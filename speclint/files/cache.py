"""Compiled forms kept as JSON in the user's cache folder: what is missing, foreign or broken is simply made anew.

A file has a line with the hash of all that follows, a line of JSON, and then the JSON of the parts that are read only
when they are asked for, one after another.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from speclint.files.digest import digest_of_bytes

KEPT = 48  # files; the oldest go
FORM = 2


class Parts(Mapping[str, Any]):
    """Values by name that are read from their JSON when they are first asked for."""

    __slots__ = ("_body", "_places", "_read")

    def __init__(self, body: bytes, start: int, names: Sequence[str], sizes: Sequence[int]) -> None:
        """Over the bytes of a file, from ``start`` on, one value after another."""
        self._body = body
        self._read: dict[str, Any] = {}
        self._places: dict[str, tuple[int, int]] = {}
        for name, size in zip(names, sizes, strict=True):
            self._places[name] = (start, start + size)
            start += size

    def __getitem__(self, name: str) -> Any:
        """The value of a name; KeyError where there is none."""
        found = self._read.get(name)
        if found is None:
            start, end = self._places[name]
            found = self._read[name] = json.loads(self._body[start:end])
        return found

    def __contains__(self, name: object) -> bool:
        """Whether there is such a name."""
        return name in self._places

    def __iter__(self) -> Iterator[str]:
        """The names in the order in which they were kept."""
        return iter(self._places)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._places)


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
    """The value kept under a name, its parts unread; None if there is none that is whole."""
    folder = cache_folder()
    if folder is None:
        return None
    try:
        with open(os.path.join(folder, name), "rb") as stream:
            told, rest = stream.readline(), stream.read()
        if told.strip().decode("ascii", "replace") != digest_of_bytes(rest):
            return None
        end = rest.index(b"\n") + 1
        head = json.loads(rest[:end])
        return _whole(head, rest, end) if head["form"] == FORM else None
    except (OSError, ValueError, RecursionError, KeyError, TypeError, IndexError):
        return None


def keep(name: str, value: Any, parts: Iterable[tuple[str, ...]] = ()) -> None:
    """Keep a value under a name, whole or not at all; the mappings at the paths ``parts`` are kept to be read by name.

    A folder that cannot be written is no fault.
    """
    folder = cache_folder()
    if folder is None:
        return
    path = os.path.join(folder, name)
    draft = f"{path}.{os.getpid()}.part"
    try:
        os.makedirs(folder, mode=0o700, exist_ok=True)
        rest = _written(value, parts)
        with open(draft, "wb") as stream:
            stream.write(digest_of_bytes(rest).encode("ascii") + b"\n" + rest)
        os.replace(draft, path)
        _drop_oldest(folder)
    except OSError:
        _remove(draft)


def _whole(head: Any, rest: bytes, start: int) -> Any:
    value = head["value"]
    for path, names, sizes in head["parts"]:
        at = value
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] = Parts(rest, start, names, sizes)
        start += sum(sizes)
    return value


def _written(value: Any, parts: Iterable[tuple[str, ...]]) -> bytes:
    index: list[Any] = []
    pieces: list[bytes] = []
    for path in parts:
        at = value
        for step in path:
            at = at[step]
        texts = [json.dumps(one, separators=(",", ":")).encode("ascii") for one in at.values()]
        index.append([path, list(at), [len(text) for text in texts]])
        pieces.extend(texts)
        value = _without(value, path)
    head = json.dumps({"form": FORM, "value": value, "parts": index}, separators=(",", ":"))
    return b"".join((head.encode("ascii"), b"\n", *pieces))


def _without(value: Mapping[str, Any], path: tuple[str, ...]) -> dict[str, Any]:
    """The value with nothing at a path, the value given left as it is."""
    inner = None if len(path) == 1 else _without(value[path[0]], path[1:])
    return {**value, path[0]: inner}


def _drop_oldest(folder: str) -> None:
    with os.scandir(folder) as entries:
        found = [(entry.stat().st_mtime_ns, entry.path) for entry in entries if entry.name.startswith("kit-")]
    for _, path in sorted(found, reverse=True)[KEPT:]:
        _remove(path)


def _remove(path: str) -> None:
    try:
        os.remove(path)
    except OSError:
        pass
