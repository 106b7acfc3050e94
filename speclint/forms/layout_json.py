"""Layouts as JSON, for programs; the shape is ``shared/schemas/layout.json``. Lengths are metres."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from speclint import __version__
from speclint.forms.safe import safe
from speclint.works.layout import Opening, SurfaceLayout
from speclint.works.runs import Run
from speclint.works.setting import Setting
from speclint.works.ways import Way

SCHEMA_VERSION = "1.0"
_DIGITS = 12

Plain = dict[str, Any]


def layout_json(layouts: Sequence[SurfaceLayout], not_read: Sequence[tuple[str, str]] = ()) -> str:
    """All layouts as one JSON object in ASCII; the same plans give the same bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "surfaces": [_surface(layout) for layout in layouts],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _m(value: Fraction) -> float:
    return float(f"{float(value):.{_DIGITS}g}")


def _surface(layout: SurfaceLayout) -> Plain:
    one = layout.counted
    return {
        "address": [safe(name) for name in layout.address],
        "name": safe(layout.name),
        "upright": layout.upright,
        "width": _m(layout.width),
        "height": _m(layout.height),
        "setting": _setting(layout.setting) if layout.setting is not None else None,
        "along": [_way(way) for way in layout.across],
        "up": [_way(way) for way in layout.up],
        "turned": [_way(way) for way in layout.turned],
        "storyPole": [_m(mark) for mark in layout.marks],
        "openings": [_opening(opening) for opening in layout.openings],
        "holes": [
            {
                "name": safe(fitting.name),
                "left": _m(fitting.left),
                "up": _m(fitting.up),
                "size": _m(fitting.size),
                "course": fitting.course,
                "piece": fitting.number,
                "fromLeftOfPiece": _m(fitting.in_left),
                "fromFootOfPiece": _m(fitting.in_foot),
            }
            for fitting in layout.fittings
        ],
        "pieces": [
            {"course": piece.course, "number": piece.number, "box": [_m(side) for side in piece.box], "cut": piece.cut}
            for piece in layout.pieces
        ],
        "count": None if one is None else {
            "pieces": one.pieces, "full": one.full, "cut": one.cut, "tilesLeast": one.least, "tilesMost": one.most
        },
        "notes": [safe(note) for note in layout.notes],
        "missing": [safe(note) for note in layout.missing],
    }  # fmt: skip


def _setting(setting: Setting) -> Plain:
    return {
        "tileAlong": _m(setting.along),
        "tileUp": _m(setting.high),
        "joint": _m(setting.joint),
        "endGap": _m(setting.gap),
        "offset": _m(setting.offset),
        "pattern": safe(setting.pattern),
        "nominal": setting.nominal,
    }


def _way(way: Way) -> Plain:
    return {
        "name": way.name,
        "rows": [_run(run) for run in way.runs],
        "smallestCut": _m(way.least),
        "because": list(way.because),
        "asksDesigner": way.asks,
    }


def _run(run: Run) -> Plain:
    return {
        "firstGap": _m(run.first_gap),
        "first": _m(run.first),
        "full": run.full,
        "tile": _m(run.tile),
        "joint": _m(run.joint),
        "last": _m(run.last),
        "lastGap": _m(run.last_gap),
    }


def _opening(opening: Opening) -> Plain:
    kept = opening.around
    return {
        "name": safe(opening.name),
        "box": [_m(side) for side in opening.box],
        "optional": opening.optional,
        "keeps": {"left": _m(kept.left), "right": _m(kept.right), "below": _m(kept.below), "above": _m(kept.above)},
        "small": list(kept.small),
    }
