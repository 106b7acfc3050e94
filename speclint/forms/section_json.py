"""Cuts as JSON, for programs; the shape is ``shared/schemas/section.json``. Lengths are metres, falls are ratios."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from speclint import __version__
from speclint.forms.safe import safe
from speclint.works.reading import Reach
from speclint.works.section_pins import Pin
from speclint.works.section_values import Cut

SCHEMA_VERSION = "1.0"
_DIGITS = 12
_LEFT_OUT = frozenset({"lines", "drain_lines"})

Plain = dict[str, Any]


def section_json(cuts: Sequence[tuple[str, Cut, Sequence[Pin]]], not_read: Sequence[tuple[str, str]] = ()) -> str:
    """All cuts, each with its plan and its findings, as one JSON object in ASCII; equal plans give equal bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "cuts": [
            {"plan": safe(plan), **_value(cut), "findings": [_value(pin) for pin in pins]} for plan, cut, pins in cuts
        ],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _value(value: Any) -> Any:
    """A value of a cut as plain JSON: its fields by name, a figure by its least and its most."""
    if isinstance(value, Reach):
        return {"least": _figure(value.low), "most": _figure(value.high)}
    if hasattr(value, "_fields"):
        fields = (name for name in value._fields if name not in _LEFT_OUT)
        return {_named(name): _value(getattr(value, name)) for name in fields}
    if isinstance(value, tuple):
        return [_value(one) for one in value]
    return safe(value) if isinstance(value, str) else value


def _figure(value: Fraction) -> float:
    return float(f"{float(value):.{_DIGITS}g}")


def _named(name: str) -> str:
    first, *rest = name.split("_")
    return first + "".join(word.capitalize() for word in rest)
