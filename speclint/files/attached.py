"""Files that a plan names, such as pictures and papers: whether they are there, inside the repository of the plan."""

from __future__ import annotations

import hashlib
import os
import stat

from speclint.files.plans import repository_root
from speclint.works.closeout_values import NOT_THERE, OUTSIDE, REFERENCE, THERE, File

_CHUNK = 1 << 20
_MOST = 1 << 28  # bytes of a file that are hashed


def attached(plan: str, name: str) -> File:
    """What there is of a file that a section of the file ``plan`` names, looked for beside that file.

    An address of the web is kept by reference; nothing outside the repository is looked at.
    """
    if "://" in name:
        return File(name, REFERENCE)
    try:
        folder = os.path.dirname(os.path.realpath(plan))
        real, root = os.path.realpath(os.path.join(folder, name)), repository_root(folder)
        if os.path.commonpath([root, real]) != root:
            return File(name, OUTSIDE)
        status = os.stat(real)
        if not stat.S_ISREG(status.st_mode):
            return File(name, NOT_THERE)
        return File(name, THERE, status.st_size, _digest(real) if status.st_size <= _MOST else "")
    except (OSError, ValueError):
        return File(name, NOT_THERE)


def _digest(path: str) -> str:
    made = hashlib.sha256()
    with open(path, "rb") as stream:
        while chunk := stream.read(_CHUNK):
            made.update(chunk)
    return made.hexdigest()
