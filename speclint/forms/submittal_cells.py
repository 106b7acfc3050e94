"""The submittal review as a table: one row a requirement; no cell is taken for a formula."""

from __future__ import annotations

import csv
import io

from speclint.forms.place import address_words, exact_words
from speclint.forms.safe import safe
from speclint.forms.submittal_text import sorted_rows
from speclint.forms.takeoff_cells import BOM, guarded
from speclint.review.report import FAILS, NOT_SHOWN
from speclint.works.handed import Item, Missing, Package

HEADER = (
    "item", "for", "item outcome", "outcome", "property", "specified", "handed in", "why", "clause", "settled by",
    "place",
)  # fmt: skip
NOT_THERE = "not handed in"


def submittal_csv(package: Package, bom: bool = False) -> str:
    """The table as RFC 4180 has it; with a byte order mark if wanted."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(HEADER)
    for item in package.items:
        writer.writerows(_guarded(row) for row in _item(item))
    for one in (*package.not_handed_in, *package.papers):
        writer.writerow(_guarded(_missing(one)))
    return (BOM if bom else "") + stream.getvalue()


def _guarded(row: tuple[str, ...]) -> list[str]:
    return [guarded(safe(cell)) for cell in row]


def _item(item: Item) -> list[tuple[str, ...]]:
    head = (item.name, address_words(item.address), item.said or item.summary)
    rows: list[tuple[str, ...]] = [
        (
            *head,
            row.outcome,
            row.means,
            row.specified,
            row.submitted,
            row.why,
            row.clause,
            row.settles or row.decided,
            exact_words(row.place) if row.place else "",
        )
        for row in sorted_rows(item)
    ]
    rows.extend(
        (*head, FAILS, one.rule, one.passes, one.words, one.message, "", one.settles, exact_words(one.span))
        for one in item.breaks
    )
    rows.extend((*head, NOT_SHOWN, one.fact, "", "", one.text, "", one.answers, "") for one in item.opens)
    return rows or [(*head, "", "", "", "", "", "", "", exact_words(item.span))]


def _missing(one: Missing) -> tuple[str, ...]:
    place = exact_words(one.span)
    return (one.what, address_words(one.address), NOT_THERE, NOT_SHOWN, "", one.words, "", "", "", one.settles, place)
