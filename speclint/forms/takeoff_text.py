"""A takeoff for people: the order first, then every line with how it was reached."""

from __future__ import annotations

from speclint.forms.measures import range_text
from speclint.forms.phrases import counted, sentence
from speclint.forms.rows import EMPTY, Piece, Row, across, labelled, paragraph
from speclint.forms.safe import safe
from speclint.works.lines import Line, Pack, Takeoff, Total

ESTIMATE = (
    "These are estimates from the plan; the label of each product governs. Whoever orders checks them against the job."
)
_COUNTED = ("sq ft", "m2")


def takeoff_rows(found: Takeoff, width: int, short: bool = False) -> list[Row]:
    """The rows of a takeoff for a terminal; ``short`` leaves out how each line was reached."""
    rows: list[Row] = [(Piece("Order", "strong"), Piece(", rounded up once on the whole", "faint"))]
    for total in found.order:
        rows.extend(_total(total, found.system, width))
    if not found.order:
        rows.append((Piece("  nothing to order"),))
    place = ""
    for line in found.lines if not short else ():
        if line.place != place:
            place = line.place
            rows += [EMPTY, (Piece(safe(place), "strong"),)]
        rows.extend(_line(line, found.system, width))
    rows.append(EMPTY)
    for note in (*found.left_out, ESTIMATE):
        rows.extend(paragraph(sentence(note), width, 0, "faint"))
    return rows


def amount_text(line: Line | Total, system: str) -> str:
    """How much of it the work takes; ``at least`` where a part is not known."""
    if line.net is None:
        return "not known"
    text = range_text(line.net.low, line.net.high, line.dimension, system)
    return f"at least {text}" if line.missing else text


def packs_text(total: Total) -> str:
    """How much to order, in whole packs."""
    if total.ordered is None:
        return "not known"
    low, high = total.ordered
    number = f"{high:,}" if low == high else f"{low:,} to {high:,}"
    if total.pack in _COUNTED:
        return f"{number} {total.pack}"
    return f"{number} {_plural(total.pack, high)}"


def _plural(name: str, number: int) -> str:
    head, _, rest = name.partition(" ")
    return counted(number, head).split(" ", 1)[1] + (f" {rest}" if rest else "")


def _held(total: Total) -> str:
    return f" ({safe(total.holds)})" if total.holds else ""


def _total(total: Total, system: str, width: int) -> list[Row]:
    ordered = packs_text(total) if total.ordered is not None else amount_text(total, system)
    if total.missing and total.ordered is not None:
        ordered = f"at least {ordered}"
    rows = across((Piece("  "), Piece(safe(total.item), "strong")), ordered, width, "good" if not total.missing else "")
    said = safe(total.specification) + (_held(total) if total.ordered is not None else "")
    rows.extend(paragraph(said, width, 4, "faint"))
    if total.missing:
        rows.extend(paragraph(f"without {_listed(total.missing)}", width, 4))
    return rows


def _line(line: Line, system: str, width: int) -> list[Row]:
    rows = across((Piece("  "), Piece(safe(line.item), "strong")), amount_text(line, system), width, "")
    rows.extend(paragraph(safe(line.specification), width, 4, "faint"))
    for label, text in line_fields(line, system):
        rows.extend(labelled(label, text, width, 4))
    return rows


def line_fields(line: Line, system: str) -> list[tuple[str, str]]:
    """How a line was reached, labelled: packs, figures, formula, why it is a range, and what is missing."""
    inputs = "; ".join(
        f"{safe(one.name)} {range_text(one.figure.low, one.figure.high, one.dimension, system)}" for one in line.inputs
    )
    fields = [
        ("packs", _exact(line.packs) if line.packs is not None else ""),
        ("from", inputs),
        ("by", line.formula),
        ("range", "; ".join(map(safe, line.because))),
        ("missing", "; ".join(map(safe, line.missing))),
    ]
    return [(label, text) for label, text in fields if text]


def _exact(pack: Pack) -> str:
    number = range_text(pack.number.low, pack.number.high, "run", "metric", unit=False)
    name = pack.name if pack.name in _COUNTED else _plural(pack.name, 2)
    return f"{number} {name}" + (f" ({safe(pack.holds)})" if pack.holds else "")


def _listed(missing: tuple[str, ...]) -> str:
    return "; ".join(safe(one) for one in missing)
