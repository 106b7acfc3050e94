"""Closeouts as JSON, for programs; the shape is ``shared/schemas/closeout.json``."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from speclint import __version__
from speclint.forms.safe import safe
from speclint.works.closeout_values import Closeout, Kept, Missing, Place, Shown

SCHEMA_VERSION = "1.0"

Plain = dict[str, Any]


def closeout_json(found: Sequence[Closeout], not_read: Sequence[tuple[str, str]] = ()) -> str:
    """All closeouts of a run as one JSON object in ASCII; the same plans give the same bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "notRead": [{"file": safe(file), "message": safe(why)} for file, why in not_read],
        "plans": [_plan(one) for one in found],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _plan(one: Closeout) -> Plain:
    return {
        "file": safe(one.file),
        "plan": safe(one.plan),
        "fragment": one.fragment,
        "stage": one.stage,
        "summary": one.summary,
        "asOf": one.as_of,
        "rules": one.rules,
        "packs": [{"name": name, "version": version, "hash": mark} for name, version, mark in one.packs],
        "unreadable": [safe(text) for text in one.unread],
        "variances": [safe(text) for text in one.variances],
        "places": [_place(place) for place in one.places],
        "signatures": list(one.signs),
    }


def _place(place: Place) -> Plain:
    return {
        "kind": place.kind,
        "address": [safe(name) for name in place.address],
        "stage": place.stage,
        "asBuilt": [
            {"key": line.key, "text": safe(line.text), "planned": safe(line.planned), "record": safe(line.record)}
            for line in place.built
        ],
        "onFile": [_kept(one) for one in place.kept],
        "missing": [_missing(one) for one in place.missing],
    }


def _kept(one: Kept) -> Plain:
    return {
        "sort": one.sort,
        "kind": safe(one.kind),
        "name": safe(one.name),
        "line": one.span.line,
        "when": safe(one.when),
        "by": safe(one.by),
        "lines": [{"key": key, "text": safe(text)} for key, text in one.lines],
        "files": [
            {"name": safe(file.name), "state": file.state, "size": file.size, "sha256": file.digest}
            for file in one.files
        ],
        "fails": [_shown(rule) for rule in one.fails],
        "open": [safe(text) for text in one.asks],
    }


def _missing(one: Missing) -> Plain:
    return {
        "sheet": one.sheet,
        "title": one.title,
        "kind": one.kind,
        "due": one.due,
        "late": one.late,
        "by": one.by,
        "wouldShow": [_shown(rule) for rule in one.shows],
        "secondBest": one.second_best,
    }


def _shown(one: Shown) -> Plain:
    return {"rule": one.rule, "outcome": one.outcome, "weight": one.weight, "says": safe(one.says)}
