"""Reads product data for a submittal: a table (CSV, or a workbook) or a file of submittal sections."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterator, Mapping
from typing import Any

from speclint.files.cache import keep, kept
from speclint.files.data import data_folder
from speclint.files.digest import digest_of_bytes
from speclint.files.plans import file_bytes
from speclint.kernel.faults import Problem, UsageFault
from speclint.kernel.span import at
from speclint.language.reader import TEXT_LIMIT, decode, read
from speclint.plan.sections import Section, read_sections
from speclint.plan.table import TableReader
from speclint.plan.table_cells import Cell
from speclint.review.kit import Kit

TABLES, BOOKS = (".csv", ".tsv", ".txt"), (".xlsx", ".xlsm")
MOST_ROWS, MOST_COLUMNS = 5_000, 256
BOOK_LIMIT = 8 << 20
_SEPARATORS = (",", ";", "\t")

Found = tuple[tuple[Section, ...], tuple[Problem, ...]]


def submittal_data() -> Mapping[str, Any]:
    """What ``shared/submittals.yaml`` tells: goods, figures told together, head words of tables."""
    path = os.path.join(data_folder("shared"), "submittals.yaml")
    with open(path, "rb") as stream:
        data = stream.read()
    name = f"submittals-{digest_of_bytes(data)}.json"
    made: Mapping[str, Any] | None = kept(name)
    if not isinstance(made, Mapping):
        from speclint.packs.yaml_text import read_yaml

        made = read_yaml(data.decode("utf-8"), "shared/submittals.yaml").data
        keep(name, made)
    return made


def read_product_data(path: str, data: Mapping[str, Any], kit: Kit) -> Found:
    """The submittal sections of a file and what of it was not read; ``data`` is that of ``submittal_data``.

    Raises UsageFault where the file cannot be opened, is of a sort that is not read, or needs a package not there.
    """
    ending = os.path.splitext(path)[1].casefold()
    shown = os.path.normpath(path).replace(os.sep, "/")
    if ending in BOOKS:
        return _table(list(_book(path, shown)), shown, data, kit)
    raw = file_bytes(path)
    if ending in TABLES:
        return _csv(raw, shown, data, kit)
    if ending == ".xls":
        raise UsageFault(f"{shown}: this is an old workbook: save it as CSV UTF-8 or as .xlsx")
    return _sections(raw, shown, kit)


def _sections(data: bytes, name: str, kit: Kit) -> Found:
    """The submittals, papers and decisions of a file in the language of plans."""
    text = decode(data, name)
    if isinstance(text, Problem):
        return (), (text,)
    draft = read_sections(read(text, name, kit.driver), kit.vocabulary)
    filed = tuple(one for one in draft.sections if kit.vocabulary.sections[one.kind].within == "any")
    found = list(draft.problems)
    if not filed and not found:
        found.append(
            Problem(at(name, 1), 'no submittal stands here; one begins with a line such as: submittal "mortar"')
        )
    return filed, tuple(found)


def _csv(raw: bytes, name: str, data: Mapping[str, Any], kit: Kit) -> Found:
    """A table whose cells are parted by commas, semicolons or tabs."""
    text = decode(raw, name)
    if isinstance(text, Problem):
        return (), (text,)
    rows: list[list[Cell]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=True)
    try:
        while True:
            line = reader.line_num + 1
            row = next(reader, None)
            if row is None:
                break
            if len(row) > MOST_COLUMNS:
                return (), (Problem(at(name, line), f"more than {MOST_COLUMNS} columns are not read"),)
            if len(rows) > MOST_ROWS:
                return (), (Problem(at(name, line), f"more than {MOST_ROWS:,} rows are not read: part the table"),)
            rows.append([Cell(text, line, column) for column, text in enumerate(row, 1)])
    except csv.Error as error:
        return (), (Problem(at(name, reader.line_num), f"this row is not a row of a table: {_why(error)}"),)
    return _table(rows, name, data, kit)


def _why(error: csv.Error) -> str:
    told = str(error)
    if "field larger" in told:
        return "a cell is far too long"
    if "end of data" in told:
        return "a quote is opened and not closed"
    return "after a quoted cell comes neither a separator nor the end of the line"


def _separator(text: str) -> str:
    """The sign that parts the cells of the first row: the one it has most of."""
    head = next((line for line in text.split("\n", 20)[:20] if line.strip()), "")
    return max(_SEPARATORS, key=head.count)


def _table(rows: list[list[Cell]], name: str, data: Mapping[str, Any], kit: Kit) -> Found:
    filled = [row for row in rows if any(cell.text.strip() for cell in row)]
    if not filled:
        return (), (
            Problem(at(name, 1), "this table is empty: its first row names the columns, each other row is an item"),
        )
    reader = TableReader(name, data, kit.vocabulary, kit.driver)
    if len(filled) == 1:
        return (), (Problem(at(name, filled[0][0].row), "this table has head words and no item below them"),)
    found = reader.sections(filled[0], filled[1:])
    return found, tuple(reader.problems)


def _book(path: str, shown: str) -> Iterator[list[Cell]]:
    """The rows of a workbook's first sheet; values only, no formula is run."""
    try:
        import openpyxl  # type: ignore[import-untyped,unused-ignore]
    except ImportError:
        raise UsageFault("workbooks need one more package: pip install 'speclint[xlsx]', or save as CSV") from None
    try:
        if os.path.getsize(path) > BOOK_LIMIT:
            raise UsageFault(f"{shown}: a workbook of more than {BOOK_LIMIT >> 20} MiB is not read")
        book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
        sheet = book.worksheets[0]
        rows = sheet.iter_rows(max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS)
        yield from ([_cell(value, at, column) for column, value in enumerate(row, 1)] for at, row in enumerate(rows, 1))
    except UsageFault:
        raise
    except Exception as error:  # a broken workbook fails in the reader's own many ways
        raise UsageFault(f"{shown}: this is no workbook that can be read ({type(error).__name__})") from None


def _cell(value: Any, row: int, column: int) -> Cell:
    cell = getattr(value, "value", value)
    is_date = bool(getattr(value, "is_date", False))
    if cell is None:
        return Cell("", row, column)
    if is_date:
        return Cell(str(cell).removesuffix(" 00:00:00"), row, column, date=True)
    if isinstance(cell, float):
        return Cell(f"{cell:.12g}", row, column)
    return Cell(str(cell)[:TEXT_LIMIT], row, column)
