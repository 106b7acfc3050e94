"""What changed between two plans or two editions of packs as JSON; its shape is ``shared/schemas/redline.json``."""

from __future__ import annotations

import json
from typing import Any

from speclint import __version__
from speclint.forms.json_form import finding_value, question_value, span_value
from speclint.forms.safe import safe
from speclint.works.redline import Line, Redline

SCHEMA_VERSION = "1.0"
Plain = dict[str, Any]


def redline_json(found: Redline) -> str:
    """The whole redline as one JSON object in ASCII; the same files give the same bytes."""
    summaries = None if found.summaries is None else {"old": found.summaries[0], "new": found.summaries[1]}
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "old": safe(found.old),
        "new": safe(found.new),
        "summaries": summaries,
        "appeared": [finding_value(one) for one in found.appeared],
        "settled": [finding_value(one) for one in found.settled],
        "asked": [question_value(one) for one in found.asked],
        "answered": [question_value(one) for one in found.answered],
        "lines": [_line(one) for one in found.lines],
        "rules": [_line(one) for one in found.rules],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _line(one: Line) -> Plain:
    return {
        "change": one.change,
        "address": [safe(name) for name in one.address],
        "what": safe(one.what),
        "old": safe(one.old),
        "new": safe(one.new),
        "span": None if one.span is None else span_value(one.span),
    }
