"""A takeoff as JSON, for programs; its shape is ``shared/schemas/takeoff.json``. Figures are SI, texts are as read."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from speclint import __version__
from speclint.forms.measures import range_text
from speclint.forms.safe import safe
from speclint.works.lines import Input, Line, Takeoff, Total
from speclint.works.reading import Reach

SCHEMA_VERSION = "1.0"
SI = {
    "area": "m2", "run": "m", "volume": "m3", "mass": "kg", "count": "1", "ratio": "1", "angle": "deg",
    "density": "kg/m3", "slope": "1", "thin": "m", "size": "m",
}  # fmt: skip
_DIGITS = 12

Plain = dict[str, Any]


def takeoff_json(found: Takeoff, not_read: Sequence[tuple[str, str]] = ()) -> str:
    """The whole takeoff as one JSON object in ASCII; the same plans give the same bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "leftOut": [safe(one) for one in found.left_out],
        "order": [_total(total, found.system) for total in found.order],
        "lines": [_line(line, found.system) for line in found.lines],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _figure(value: Fraction) -> float:
    return float(f"{float(value):.{_DIGITS}g}")


def range_value(reach: Reach | None, dimension: str, system: str) -> Plain | None:
    """A range as plain values: SI figures, their unit, and the text that people read."""
    if reach is None:
        return None
    text = range_text(reach.low, reach.high, dimension, system)
    return {"least": _figure(reach.low), "most": _figure(reach.high), "unit": SI[dimension], "text": text}


def _total(total: Total, system: str) -> Plain:
    packs = None
    if total.ordered is not None:
        least, most = total.ordered
        packs = {"name": total.pack, "holds": safe(total.holds), "least": least, "most": most}
    return {
        "item": safe(total.item),
        "specification": safe(total.specification),
        "places": [safe(place) for place in total.places],
        "net": range_value(total.net, total.dimension, system),
        "packs": packs,
        "missing": [safe(one) for one in total.missing],
    }


def _line(line: Line, system: str) -> Plain:
    packs = None
    if line.packs is not None:
        least, most = map(_figure, line.packs.number)
        packs = {"name": line.packs.name, "holds": safe(line.packs.holds), "least": least, "most": most}
    return {
        "place": safe(line.place),
        "item": safe(line.item),
        "specification": safe(line.specification),
        "net": range_value(line.net, line.dimension, system),
        "packs": packs,
        "inputs": [_input(one, system) for one in line.inputs],
        "formula": line.formula,
        "because": [safe(one) for one in line.because],
        "missing": [safe(one) for one in line.missing],
    }


def _input(one: Input, system: str) -> Plain:
    return {"name": safe(one.name), "figure": range_value(one.figure, one.dimension, system)}
