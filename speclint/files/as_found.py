"""The file of findings that were there when a repository adopted the gate: plain lines, sorted, made to be reviewed."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import NamedTuple

from speclint.files.write import replace_file
from speclint.kernel.faults import Problem, ReadFault
from speclint.kernel.span import at
from speclint.plan.tree import same

HEAD = """\
# Findings that were here when the gate was adopted; they do not stop it, new ones do.
# A line whose finding is mended must be struck off; speclint review --as-found rewrite does it.
"""


class Old(NamedTuple):
    """One finding as it was found: the plan's path from the root, its rule, its address, and its number there."""

    file: str
    rule: str
    address: tuple[str, ...]
    ordinal: int


def read_as_found(text: str, name: str) -> frozenset[Old]:
    """The findings of such a file; raises ReadFault with every line that is not one."""
    found: set[Old] = set()
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip() or line.startswith("#"):
            continue
        file, colon, rest = line.rpartition(": ")
        rule, word, where = rest.partition(" at ")
        if not colon or not word:
            problems.append(Problem(at(name, number), "write: path: rule at address"))
            continue
        address, _, ordinal = where.partition(" #")
        names = tuple(same(part) for part in address.split(" / ")) if address != "the plan" else ()
        found.add(Old(file, rule, names, int(ordinal) if ordinal.isdigit() else 1))
    if problems:
        raise ReadFault(*problems)
    return frozenset(found)


def write_as_found(path: str, old: Iterable[Old]) -> None:
    """Write the findings in order, replacing the file at once."""
    lines = sorted({line_of(one) for one in old})
    replace_file(path, HEAD + "".join(f"{line}\n" for line in lines))


def line_of(one: Old) -> str:
    """A finding as its line."""
    where = " / ".join(one.address) or "the plan"
    return f"{one.file}: {one.rule} at {where}" + (f" #{one.ordinal}" if one.ordinal > 1 else "")


def load_as_found(path: str) -> frozenset[Old]:
    """The findings of a file; none where there is no such file."""
    if not os.path.isfile(path):
        return frozenset()
    with open(path, encoding="utf-8") as stream:
        return read_as_found(stream.read(), path)
