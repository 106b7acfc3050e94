"""Cells of a table as they come: their places, the names of columns, and what a spreadsheet may have made of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from speclint.plan.row import tokens_of
from speclint.plan.vocabulary import Key

MOST_SIGNS = 2_000
_UNIT = re.compile(r"(?P<name>.*?)\s*[(\[]\s*(?P<unit>[^()\[\]]+?)\s*[)\]]")
_CLOCK = r"(?:[ T]\d{1,2}:\d{2}(?::\d{2})?)?"
_MONTH = r"(?P<{}>[^\W\d_]{{3,9}})\.?"
_DATE = re.compile(
    rf"\d{{1,2}}[-/. ]{{1,2}}{_MONTH.format('after')}(?:[-/. ]\d{{2,4}})?{_CLOCK}"
    rf"|{_MONTH.format('before')}[-/. ]\d{{1,4}}{_CLOCK}"
    rf"|\d{{1,4}}[-/.]\d{{1,2}}[-/.]\d{{1,4}}{_CLOCK}"
)
_MONTHS = frozenset(
    ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "mär", "mrz", "mai", "okt",
     "dez")
)  # fmt: skip
_BARE = re.compile(r"\d[\d./ -]*(?:\s*[x×]\s*\d[\d./ -]*)*")
_FORMULA = ("=", "+", "@")


class Cell(NamedTuple):
    """The text of one cell and its place: row and column from 1; ``date`` where the file itself holds a date."""

    text: str
    row: int
    column: int
    date: bool = False

    @property
    def said(self) -> str:
        """The text without blanks around it and without the apostrophe by which spreadsheets mark text."""
        return self.text.strip().removeprefix("'")


def folded(text: str) -> str:
    """How names of columns compare."""
    return " ".join(text.replace("_", " ").casefold().split()).rstrip(".:")


def named(text: str) -> tuple[str, str]:
    """The name of a column and the unit that stands with it, as in ``thickness (in)``."""
    found = _UNIT.fullmatch(text.strip())
    return (folded(found["name"]), found["unit"]) if found else (folded(text), "")


def with_unit(text: str, unit: str) -> str:
    """A bare figure with the unit of its column; whatever else stands there keeps its own."""
    return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text


def refusal(cell: Cell, key: Key, says: Sequence[str]) -> str:
    """Why a cell is not read: what a spreadsheet made of it, a formula, a text beyond measure; empty if it is read."""
    text = cell.text.strip()
    if len(text) > MOST_SIGNS:
        return f"this cell has more than {MOST_SIGNS:,} signs and is not read"
    if text.startswith(_FORMULA) or (text.startswith("-") and not text[1:2].isdigit()):
        return "this cell holds a formula: save the table with its values"
    if (cell.date or _is_date(text)) and not _for_dates(key, says):
        return f'"{text}" is a date: a spreadsheet makes one of 3/8; format the column as text and write 3/8 in'
    return ""


def _is_date(text: str) -> bool:
    """Whether a text is a date as spreadsheets write it: ``8-Mar``, ``Mar-08``, ``3/8/2026``."""
    found = _DATE.fullmatch(text)
    month = found and (found["after"] or found["before"])
    return found is not None and (not month or month[:3].casefold() in _MONTHS)


def _for_dates(key: Key, says: Sequence[str]) -> bool:
    """Whether the cells of a column stand where a date may: alone, or after the words that lead to one."""
    leads = {tokens_of(one.replace("{}", " ")) if one != "{}" else () for one in says}
    return any(
        tuple(name for shape, name in pattern.elements if shape is None) in leads
        and any(shape is not None and shape.sort == "moment" for shape, _ in pattern.elements)
        for pattern in key.patterns
    )
