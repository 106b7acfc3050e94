"""What git knows of a repository: files that changed since a revision, and a file as it stood then; no hook runs."""

from __future__ import annotations

import os
import subprocess

from speclint.kernel.faults import UsageFault

SECONDS = 60
_QUIET = ("-c", "core.hooksPath=/dev/null", "-c", "core.fsmonitor=false", "-c", "core.quotePath=false")


def changed_since(revision: str, folder: str) -> tuple[str, tuple[str, ...]]:
    """The root of the repository and the paths below it, real and there, that differ from a revision or are untracked.

    Raises UsageFault where there is no repository, no git, or no such revision.
    """
    root = repository_root(folder)
    commit = _commit(revision, root)
    told = _git(root, "diff", "--name-only", "--no-renames", "-z", commit, "--") + _git(
        root, "ls-files", "--others", "--exclude-standard", "-z"
    )
    names = dict.fromkeys(name for name in told.split("\0") if name)
    return root, tuple(os.path.join(root, name) for name in names)


def file_at(revision: str, path: str, root: str) -> bytes | None:
    """The bytes of a file as it stood at a revision; None where it was not there."""
    commit = _commit(revision, root)
    name = os.path.relpath(os.path.realpath(path), root).replace(os.sep, "/")
    found = subprocess.run(
        ["git", *_QUIET, "-C", root, "cat-file", "blob", f"{commit}:{name}"],
        capture_output=True,
        check=False,
        timeout=SECONDS,
        env=_environment(),
    )
    return found.stdout if found.returncode == 0 else None


def repository_root(folder: str) -> str:
    """The top folder of the repository; raises UsageFault where there is none."""
    return os.path.realpath(_git(folder, "rev-parse", "--show-toplevel").strip())


def _commit(revision: str, root: str) -> str:
    if not revision or revision.startswith("-"):
        raise UsageFault(f'"{revision}" is no revision')
    return _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}").strip()


def _git(folder: str, *arguments: str) -> str:
    try:
        told = subprocess.run(
            ["git", *_QUIET, "-C", folder, *arguments],
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
        raise UsageFault(why[0] if why else f"git {arguments[0]} found nothing for {arguments[-1]}")
    return told.stdout.decode("utf-8", "surrogateescape")


def _environment() -> dict[str, str]:
    return {**os.environ, "GIT_OPTIONAL_LOCKS": "0", "LC_ALL": "C"}
