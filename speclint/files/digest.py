"""The hash of what stands in folders, fast enough to be taken at every start."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from typing import Any

try:  # importing hashlib takes longer than hashing all the data
    from _blake2 import blake2b
except ImportError:  # pragma: no cover
    from hashlib import blake2b

SIZE = 16
WANTED = (".yaml", ".json")


def folder_digest(folder: str) -> str:
    """The hash of names and contents of all data files below a folder, in an order that is the same everywhere."""
    told: Any = blake2b(digest_size=SIZE)
    for path, name in sorted(_files(folder, "")):
        told.update(name.encode("utf-8", "surrogateescape") + b"\0")
        told.update(_content(path))
        told.update(b"\0")
    return str(told.hexdigest())


def folder_stamp(folder: str) -> tuple[str, int]:
    """What the system keeps of all data files below a folder, as a hash, and when one was last changed (ns from 1970).

    Two states of a folder differ in it, unless they follow one another within the steps of the system's clock.
    """
    told: list[str] = []
    last = 0
    for path, name in sorted(_files(folder, "")):
        state = os.stat(path)
        told.append(f"{name} {state.st_ino} {state.st_size} {state.st_mtime_ns} {state.st_ctime_ns}")
        last = max(last, state.st_mtime_ns, state.st_ctime_ns)
    return digest_of([folder, *told]), last


def digest_of(parts: Iterable[str]) -> str:
    """The hash of some texts in order."""
    told: Any = blake2b(digest_size=SIZE)
    for part in parts:
        told.update(part.encode("utf-8", "surrogateescape") + b"\0")
    return str(told.hexdigest())


def digest_of_bytes(data: bytes) -> str:
    """The hash of some bytes."""
    return str(blake2b(data, digest_size=SIZE).hexdigest())


def code_stamp(package: str, folders: Iterable[str]) -> str:
    """Size and time of the modules that make the compiled form, so that work on them is seen at once."""
    found: list[str] = []
    for folder in folders:
        with os.scandir(os.path.join(package, folder)) as entries:
            for entry in entries:
                if entry.name.endswith((".py", ".lark")):
                    state = entry.stat()
                    found.append(f"{folder}/{entry.name} {state.st_size} {state.st_mtime_ns}")
    return digest_of(sorted(found))


def _files(folder: str, below: str) -> Iterator[tuple[str, str]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            name = f"{below}{entry.name}"
            if entry.name.endswith(WANTED):
                yield entry.path, name
            elif entry.is_dir() and not entry.name.startswith("."):
                yield from _files(entry.path, f"{name}/")


def _content(path: str) -> bytes:
    # the plain calls of the system, which cost a third of a file object
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_BINARY", 0))
    try:
        pieces = []
        while piece := os.read(handle, 1 << 20):
            pieces.append(piece)
    finally:
        os.close(handle)
    return pieces[0] if len(pieces) == 1 else b"".join(pieces)
