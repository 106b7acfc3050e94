"""How a form tells what became of findings recorded as found: mended ones to strike off, withdrawn ones not cleared."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.forms.phrases import phrase
from speclint.forms.place import address_words
from speclint.forms.safe import safe
from speclint.kernel.span import Span
from speclint.review.identity import Mark
from speclint.review.report import KNOWN, MENDED, Recorded, Report

NAMES = {"mended": "mended-as-found", "withdrawn": "withdrawn-as-found"}
WEIGHT = "callback"


class Stopping(NamedTuple):
    """One recorded finding that stops: what happened to it, its mark, the sentence, and the head of the plan's file."""

    name: str
    state: str
    mark: Mark
    text: str
    span: Span


def stopping_records(report: Report, file: str) -> Iterator[Stopping]:
    """The recorded findings of a plan that are mended or withdrawn; ``file`` is its path from the repository's root."""
    for one in report.as_found:
        if one.state != KNOWN:
            name = NAMES[one.state]
            mark = Mark(f"{name} {one.rule}", safe(file), tuple(map(safe, one.address)), one.ordinal)
            yield Stopping(name, one.state, mark, record_words(one), Span(report.file, 1, 1, 1, 2))


def record_words(one: Recorded) -> str:
    """What became of one recorded finding, as a sentence without its full stop."""
    what = f"{safe(one.rule)} at {address_words(one.address)}" + (f" (number {one.ordinal})" if one.ordinal > 1 else "")
    if one.state == MENDED:
        return f"mended: {what}: {phrase(one.why)}; strike it off with --as-found rewrite"
    way = "say in the plan what settles it, or strike its line off in a reviewed change"
    return f"withdrawn, not cleared: {what}: {phrase(one.why)}; {way}"
