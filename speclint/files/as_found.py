"""The file of findings that were there when a repository adopted the gate: plain lines, sorted, made to be reviewed."""

from __future__ import annotations

import re
from collections.abc import Iterable

from speclint.files.write import replace_file
from speclint.kernel.faults import Problem, ReadFault
from speclint.kernel.span import at
from speclint.plan.tree import same
from speclint.review.identity import Mark

HEAD = """\
# Findings that were here when the gate was adopted: they do not stop it, new ones do.
# A line whose finding is mended must be struck off: speclint review --as-found rewrite
"""
WHOLE = "the plan"
_LINE = re.compile(r"(?P<file>[^:]+): (?P<rule>[a-z0-9][^:#%]*?) at (?P<where>[^:#]+?)(?: #(?P<ordinal>[1-9]\d{0,5}))?")


def read_as_found(data: bytes, name: str) -> frozenset[Mark]:
    """The findings of such a file; raises ReadFault with every line that is not one."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise ReadFault(Problem(at(name, 1), "this is not UTF-8 text")) from None
    found: set[Mark] = set()
    problems: list[Problem] = []
    for number, line in enumerate(text.split("\n"), 1):
        said = line.rstrip("\r")
        if not said.strip() or said.startswith("#"):
            continue
        parts = _LINE.fullmatch(said)
        if parts is None:
            problems.append(Problem(at(name, number), "this is no line of findings as found: path: rule at section"))
            continue
        file, rule, where, ordinal = parts.group("file", "rule", "where", "ordinal")
        names = () if where == WHOLE else tuple(same(_read(part)) for part in where.split(" / "))
        found.add(Mark(rule, _read(file), names, int(ordinal or 1)))
    if problems:
        raise ReadFault(*problems)
    return frozenset(found)


def write_as_found(path: str, marks: Iterable[Mark]) -> None:
    """Write the findings in order, replacing the file at once; raises UsageFault where that cannot be done."""
    replace_file(path, HEAD + "".join(f"{line}\n" for line in sorted({line_of(one) for one in marks})))


def line_of(mark: Mark) -> str:
    """A finding as its line; signs that would part it otherwise stand as ``%3A``."""
    where = " / ".join(_safe(same(name), "/:#") for name in mark.address) or WHOLE
    if mark.address and where == WHOLE:
        where = "%74he plan"  # a section of that very name
    return f"{_safe(mark.file, ':#')}: {mark.rule} at {where}" + (f" #{mark.ordinal}" if mark.ordinal > 1 else "")


def _safe(text: str, besides: str) -> str:
    """The text with every sign that parts a line, or that does not print, by its bytes."""
    plain = "".join(sign if sign.isprintable() and sign not in f"%{besides}" else _bytes(sign) for sign in text)
    return plain or "%"


def _bytes(sign: str) -> str:
    return "".join(f"%{byte:02X}" for byte in sign.encode("utf-8", "surrogateescape"))


def _read(text: str) -> str:
    from urllib.parse import unquote

    return "" if text == "%" else unquote(text, errors="surrogateescape")
