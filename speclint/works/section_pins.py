"""Which finding concerns which part of a cut: by the line of the plan that both stand on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.review.report import Finding, Report
from speclint.works.section_values import Curb, Cut, Joint, Lines, Notch, Soft, Stratum, Trim

WHOLE = "assembly"
"""The part that stands for a finding on the heading or on a face of an assembly."""
DRAIN = "drain"


class Pin(NamedTuple):
    """A finding of a report at a part of a cut; ``number`` is its place among the findings that are open."""

    part: str
    number: int
    weight: str
    message: str


def numbered(report: Report) -> tuple[tuple[int, Finding], ...]:
    """The findings that no variance lets through and that are not recorded as found, numbered as in the report."""
    return tuple(enumerate((one for one in report.findings if not (one.variance or one.known)), 1))


def pins_of(cut: Cut, report: Report | None) -> tuple[Pin, ...]:
    """The findings of a report that concern a cut, each pinned to the first part whose line it points at."""
    found: list[Pin] = []
    parts = tuple(_parts(cut))
    for number, finding in numbered(report) if report is not None else ():
        spans = (finding.span, *(place.span for place in finding.places))
        part = next((name for span in spans for name, lines in parts if (span.file, span.line) in lines), "")
        if not part and any((span.file, span.line) in cut.lines for span in spans):
            part = WHOLE
        if part:
            found.append(Pin(part, number, finding.weight, finding.message))
    return tuple(found)


def _parts(cut: Cut) -> Iterator[tuple[str, Lines]]:
    """The parts of a cut with their lines."""
    things: tuple[Stratum | Notch | Joint | Soft | Trim | Curb, ...]
    things = (*cut.strata, cut.notch, cut.joint, cut.corner, *cut.soft, *cut.trims, *cut.curbs)
    for one in things:
        yield one.id, one.lines
    if cut.pan is not None:
        yield DRAIN, cut.pan.drain_lines
        yield cut.pan.id, cut.pan.lines
