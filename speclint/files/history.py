"""What git knows of a repository: what changed since a revision, and how files stood then; nothing of it is executed.

Names go to git as arguments of their own, never through a shell; no hook, watcher, pager, prompt or further tool runs.
"""

from __future__ import annotations

import os
from typing import NamedTuple

from speclint.kernel.faults import UsageFault
from speclint.language.reader import TEXT_LIMIT

SECONDS = 60
MOST_FILES = 5_000
_QUIET = (
    *("--no-pager", "-c", "core.hooksPath=/dev/null", "-c", "core.fsmonitor=false"),
    *("-c", "core.quotePath=false", "-c", "core.untrackedCache=false"),
)
_PLAIN = ("100644", "100755")  # modes of plain files; links and repositories within are passed over


class Revision(NamedTuple):
    """One commit of a repository by its full name, with the real path of the repository's top."""

    root: str
    commit: str
    said: str

    def file(self, path: str) -> bytes | None:
        """The bytes of a file by its path on disk; None where it was no plain file then."""
        return _blobs(self, [row for row in _listed(self, path) if row[0] == _name(self, path)]).get(_name(self, path))

    def folder(self, path: str) -> dict[str, bytes]:
        """The plain files below a folder as they stood, by their paths from it."""
        name = _name(self, path)
        found = _blobs(self, _listed(self, path))
        return {one.removeprefix(f"{name}/"): data for one, data in found.items() if one != name}


def revision(said: str, folder: str) -> Revision:
    """The commit that a person named; raises UsageFault where there is no repository, no git, or no such commit."""
    root = os.path.realpath(
        _git(folder, "rev-parse", "--show-toplevel").decode("utf-8", "surrogateescape").rstrip("\n")
    )
    if not said or said.startswith("-") or "\0" in said:
        raise UsageFault(f'"{said}" is no revision')
    try:
        told = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{said}^{{commit}}")
    except UsageFault:
        raise UsageFault(f'there is no revision "{said}" here; a shallow copy must fetch it first') from None
    return Revision(root, told.decode("ascii").strip(), said)


def changed_since(since: Revision) -> frozenset[str]:
    """The real paths that differ from a revision, were deleted since, or are not tracked and not ignored."""
    told = _git(
        since.root, "diff", "--no-ext-diff", "--no-textconv", "--no-renames", "--name-only", "-z", since.commit, "--"
    ) + _git(since.root, "ls-files", "--others", "--exclude-standard", "-z")
    names = (name for name in told.decode("utf-8", "surrogateescape").split("\0") if name)
    return frozenset(os.path.realpath(os.path.join(since.root, name)) for name in names)


def _name(at: Revision, path: str) -> str:
    return os.path.relpath(os.path.realpath(path), at.root).replace(os.sep, "/")


def _listed(at: Revision, path: str) -> list[tuple[str, str]]:
    """The names and object names of the plain files at or below a path."""
    name = _name(at, path)
    if name.startswith("../"):
        return []
    told = _git(at.root, "--literal-pathspecs", "ls-tree", "-r", "-z", "--full-tree", at.commit, "--", name)
    found: list[tuple[str, str]] = []
    for row in told.decode("utf-8", "surrogateescape").split("\0"):
        head, _, file = row.partition("\t")
        mode, _, rest = head.partition(" ")
        if mode in _PLAIN and ".." not in file.split("/"):
            found.append((file, rest.partition(" ")[2]))
    if len(found) > MOST_FILES:
        raise UsageFault(f"{name} held more than {MOST_FILES:,} files at {at.said}")
    return found


def _blobs(at: Revision, rows: list[tuple[str, str]]) -> dict[str, bytes]:
    """The bytes of some objects, each one more than a file may have at most."""
    found: dict[str, bytes] = {}
    rest = _git(at.root, "cat-file", "--batch", into="".join(f"{mark}\n" for _, mark in rows)) if rows else b""
    for name, _ in rows:
        head, _, rest = rest.partition(b"\n")
        size = int(head.rpartition(b" ")[2])
        found[name], rest = rest[: min(size, TEXT_LIMIT + 1)], rest[size + 1 :]
    return found


def _git(folder: str, *arguments: str, into: str = "") -> bytes:
    import subprocess

    try:
        told = subprocess.run(
            ["git", *_QUIET, "-C", folder or ".", *arguments],
            input=into.encode("ascii"),
            capture_output=True,
            check=False,
            timeout=SECONDS,
            env=_environment(),
        )
    except FileNotFoundError:
        raise UsageFault("git is not installed here") from None
    except subprocess.TimeoutExpired:
        raise UsageFault(f"git did not answer within {SECONDS} seconds") from None
    if told.returncode:
        why = told.stderr.decode("utf-8", "replace").strip().splitlines()
        raise UsageFault(why[0] if why else f"git {arguments[0]} found nothing")
    return told.stdout


def _environment() -> dict[str, str]:
    quiet = {"GIT_OPTIONAL_LOCKS": "0", "GIT_NO_LAZY_FETCH": "1", "GIT_TERMINAL_PROMPT": "0", "LC_ALL": "C"}
    return {**os.environ, **quiet}
