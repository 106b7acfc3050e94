"""A takeoff as a table, its figures with their units; cells that a spreadsheet would run as a formula are guarded."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

from speclint.forms.measures import range_text, reading_of
from speclint.forms.safe import safe
from speclint.kernel.quantity import nearest
from speclint.works.lines import Line, Takeoff, Total

HEADER = (
    "kind",
    "place",
    "item",
    "specification",
    "net least",
    "net most",
    "net unit",
    "packs least",
    "packs most",
    "pack",
    "pack holds",
    "how",
    "from",
    "range",
    "missing",
)
BOM = "\ufeff"
_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_DIGITS = 3


def csv_form(found: Takeoff, bom: bool = False) -> str:
    """The table as RFC 4180 has it: CRLF, quotes where needed, one header row; with a byte order mark if wanted."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    for row in table(found):
        writer.writerow([guarded(cell) for cell in row])
    return (BOM if bom else "") + stream.getvalue()


def table(found: Takeoff) -> list[tuple[str, ...]]:
    """The header, the order, then every line; every cell is text."""
    rows: list[tuple[str, ...]] = [HEADER]
    rows.extend(_total(total, found.system) for total in found.order)
    rows.extend(_line(line, found.system) for line in found.lines)
    return rows


def guarded(cell: str) -> str:
    """The cell so that no spreadsheet takes it for a formula: an apostrophe before what would begin one."""
    return f"'{cell}" if cell.startswith(_RUNS) else cell


def _figures(least: Fraction, most: Fraction, size: Fraction) -> tuple[str, str]:
    return tuple(  # type: ignore[return-value]
        f"{float(nearest(one / size, Fraction(1, 10**_DIGITS))):.{_DIGITS}f}".rstrip("0").rstrip(".")
        for one in (least, most)
    )


def _net(line: Line | Total, system: str) -> tuple[str, str, str]:
    if line.net is None:
        return "", "", ""
    reading = reading_of(line.dimension, system)
    return (*_figures(line.net.low, line.net.high, reading.size), reading.unit or "pieces")


def _total(total: Total, system: str) -> tuple[str, ...]:
    packs = ("", "") if total.ordered is None else tuple(str(one) for one in total.ordered)
    return (
        "order", "; ".join(map(safe, total.places)), safe(total.item), safe(total.specification), *_net(total, system),
        *packs, total.pack, safe(total.holds), "all places added, rounded up once", "", "",
        "; ".join(map(safe, total.missing)),
    )  # fmt: skip


def _line(line: Line, system: str) -> tuple[str, ...]:
    packs = ("", "", "", "")
    if line.packs is not None:
        figures = _figures(line.packs.number.low, line.packs.number.high, Fraction(1))
        packs = (*figures, line.packs.name, safe(line.packs.holds))
    inputs = "; ".join(
        f"{safe(one.name)} {range_text(one.figure.low, one.figure.high, one.dimension, system)}" for one in line.inputs
    )
    return (
        "line", safe(line.place), safe(line.item), safe(line.specification), *_net(line, system), *packs, line.formula,
        inputs, "; ".join(map(safe, line.because)), "; ".join(map(safe, line.missing)),
    )  # fmt: skip
