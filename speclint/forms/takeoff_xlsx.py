"""A takeoff as a workbook: the same table as the CSV, figures as numbers, every other cell as plain text."""

from __future__ import annotations

import io
from typing import Any

from speclint.forms.takeoff_cells import HEADER, table
from speclint.kernel.faults import UsageFault
from speclint.works.lines import Takeoff

_NUMBERS = frozenset({"net least", "net most", "packs least", "packs most"})
_WIDE = {"specification": 46, "item": 26, "how": 40, "from": 60, "range": 40, "missing": 40, "place": 24}
_USUAL = 11
_CELL = 32_000
"""Signs that a cell holds; a longer text is cut, and says so."""


def workbook(found: Takeoff) -> bytes:
    """The bytes of the workbook, the same for the same plans. Raises UsageFault where the writer is not installed."""
    try:
        import xlsxwriter  # type: ignore[import-untyped,unused-ignore]
    except ImportError:
        raise UsageFault("workbooks need one more package: pip install 'speclint[xlsx]', or take --as csv") from None
    stream = io.BytesIO()
    plain = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(stream, plain)
    book.set_properties({"title": "Takeoff", "created": _fixed()})
    rows = table(found)
    for name, kind in (("Order", "order"), ("Lines", "line")):
        _sheet(book, name, [row for row in rows[1:] if row[0] == kind])
    book.close()
    return stream.getvalue()


def _fixed() -> Any:
    """One day for every workbook, so that it has the same bytes."""
    from datetime import datetime

    return datetime(2000, 1, 1)


def _sheet(book: Any, name: str, rows: list[tuple[str, ...]]) -> None:
    sheet = book.add_worksheet(name)
    bold, text = book.add_format({"bold": True, "text_wrap": True}), book.add_format({"num_format": "@"})
    text.set_text_wrap()
    for column, title in enumerate(HEADER):
        sheet.set_column(column, column, _WIDE.get(title, _USUAL))
        sheet.write_string(0, column, title, bold)
    sheet.freeze_panes(1, 0)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    for at, row in enumerate(rows, 1):
        for column, cell in enumerate(row):
            if HEADER[column] in _NUMBERS and cell:
                sheet.write_number(at, column, float(cell))
            elif cell:
                shown = cell if len(cell) <= _CELL else cell[:_CELL] + " (cut here)"
                sheet.write_string(at, column, shown, text)
