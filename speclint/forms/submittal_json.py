"""The submittal review as JSON, for programs; its shape is ``shared/schemas/submittal.json``."""

from __future__ import annotations

import json
from typing import Any

from speclint import __version__
from speclint.forms.json_form import finding_value, question_value, span_value
from speclint.forms.safe import safe
from speclint.works.handed import Item, Missing, Package, Requirement

SCHEMA_VERSION = "1.0"
Plain = dict[str, Any]


def submittal_json(package: Package) -> str:
    """The whole review as one JSON object in ASCII; the same files give the same bytes."""
    whole = {
        "schemaVersion": SCHEMA_VERSION,
        "tool": {"name": "speclint", "version": __version__},
        "file": safe(package.file),
        "plan": safe(package.plan),
        "data": safe(package.data),
        "asOf": safe(package.as_of),
        "summary": package.summary,
        "said": safe(package.said),
        "rules": package.rules,
        "packs": [{"name": safe(a), "version": safe(b), "hash": safe(c)} for a, b, c in package.packs],
        "unreadable": [{"span": span_value(one.span), "message": safe(one.message)} for one in package.unread],
        "items": [_item(item) for item in package.items],
        "breaks": [finding_value(one) for one in package.breaks],
        "notHandedIn": [_missing(one) for one in package.not_handed_in],
        "papersNotHandedIn": [_missing(one) for one in package.papers],
    }
    return json.dumps(whole, indent=2, ensure_ascii=True) + "\n"


def _item(item: Item) -> Plain:
    return {
        "name": safe(item.name),
        "goods": safe(item.goods),
        "address": [safe(name) for name in item.address],
        "offered": safe(item.offered),
        "summary": item.summary,
        "said": safe(item.said),
        "span": span_value(item.span),
        "requirements": [_requirement(row) for row in item.requirements],
        "breaks": [finding_value(one) for one in item.breaks],
        "opens": [question_value(one) for one in item.opens],
    }


def _requirement(row: Requirement) -> Plain:
    return {
        "key": safe(row.key),
        "property": safe(row.means),
        "specified": safe(row.specified),
        "submitted": safe(row.submitted),
        "outcome": row.outcome,
        "why": safe(row.why),
        "clause": safe(row.clause),
        "settledBy": safe(row.settles),
        "decidedBy": safe(row.decided),
        "span": span_value(row.place) if row.place else None,
    }


def _missing(one: Missing) -> Plain:
    return {
        "what": safe(one.what),
        "words": safe(one.words),
        "address": [safe(name) for name in one.address],
        "span": span_value(one.span),
        "settledBy": safe(one.settles),
    }
