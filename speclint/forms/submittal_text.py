"""The submittal review on a terminal: item by item what is specified and what was handed in, side by side."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.cites import cite_words
from speclint.forms.phrases import counted, phrase, sentence
from speclint.forms.place import address_words, line_words
from speclint.forms.rows import EMPTY, Piece, Row, across, fold, labelled, paragraph
from speclint.forms.safe import safe, width_of
from speclint.forms.words import PERSON
from speclint.review.report import CLEAR, DOES_NOT_APPLY, FAILS, MEETS, NOT_SHOWN, REVISE, Finding
from speclint.works.handed import Item, Missing, Package, Requirement

ORDER = (FAILS, NOT_SHOWN, DOES_NOT_APPLY, MEETS)
NOTHING = "nothing told"
_NARROW, _LEAST, _MOST = 60, 40, 100
_OUTCOME, _INDENT = 15, 3
_STYLES = {FAILS: "tear-out", NOT_SHOWN: "callback", MEETS: "good"}


def submittal_rows(package: Package, width: int) -> list[Row]:
    """The whole review as rows of styled pieces."""
    width = min(max(width, _LEAST), _MOST)
    rows = _head(package, width)
    for problem in package.unread:
        rows.extend(paragraph(f"not read: {safe(str(problem))}", width, 0, "callback", 2))
    rows.extend([EMPTY] if package.unread else [])
    for number, item in enumerate(package.items, 1):
        rows.extend(_item(number, item, width))
        rows.append(EMPTY)
    rows.extend(_breaks("newly broken by the items together", package.breaks, width))
    rows.extend(_missing("specified and not handed in", package.not_handed_in, width))
    rows.extend(_missing("papers demanded and not handed in", package.papers, width))
    packs = ", ".join(f"{name} {version} ({mark[:12]})" for name, version, mark in package.packs)
    rows.extend(labelled("rules", f"{safe(packs)}; as of {safe(package.as_of)}", width, 0))
    rows.extend(paragraph(f"Work on site is not judged by a submittal. {PERSON}", width, 0, "faint"))
    return rows


def sorted_rows(item: Item) -> list[Requirement]:
    """The requirements of an item, what does not meet first, each group in the order of the specification."""
    return sorted(item.requirements, key=lambda row: ORDER.index(row.outcome))


def tally(package: Package) -> str:
    """How many items were handed in and what became of them."""
    words = [item.summary for item in package.items]
    told = ", ".join(f"{words.count(word)} {word}" for word in dict.fromkeys(words))
    return f"{counted(len(words), 'item')}: {told}" if words else "nothing was handed in"


def note_of(row: Requirement) -> str:
    """Why a requirement stands as it does, and what would settle it."""
    settles = f"settled by {phrase(row.settles)}" if row.settles else ""
    decided = f"taken by decision {phrase(row.decided)}" if row.decided else ""
    told = row.outcome != MEETS and row.clause and row.clause not in row.settles and row.clause not in row.means
    clause = f"by {safe(row.clause)}" if told else ""
    return "; ".join(part for part in (phrase(row.why), clause, settles, decided) if part)


def _head(package: Package, width: int) -> list[Row]:
    style = {REVISE: "tear-out", CLEAR: "good"}.get(package.summary, "callback")
    name = Piece(safe(package.plan) or "specification without a name", "strong")
    rows = _title((name,), safe(package.file), width, 0)
    if package.data:
        rows.extend(paragraph(f"product data of {safe(package.data)}", width, 0, "faint"))
    rows.extend(paragraph(safe(package.said or package.summary), width, 0, style))
    rows.extend(paragraph(f"{tally(package)}, among {counted(package.rules, 'rule')}", width, _INDENT))
    return [*rows, EMPTY]


def _title(left: Row, right: str, width: int, indent: int) -> list[Row]:
    """A name and what stands at the right of it; below it, folded, where both do not fit."""
    used = sum(width_of(piece.text) for piece in left)
    if used + 2 + width_of(right) <= width:
        return across(left, right, width)
    rows = [left] if used <= width else paragraph("".join(piece.text for piece in left), width, 0, "strong", indent)
    return [*rows, *paragraph(right, width, indent, "faint")]


def _item(number: int, item: Item, width: int) -> list[Row]:
    style = {REVISE: "tear-out", CLEAR: "good"}.get(item.summary, "callback")
    head = (
        Piece(f"{number}  "),
        Piece(safe(item.name), "strong"),
        Piece(f"  {safe(item.said or item.summary)}", style),
    )
    rows = _title(head, address_words(item.address), width, _INDENT)
    rows.extend(paragraph(line_words(item.span), width, _INDENT, "faint"))
    if width >= _NARROW and item.requirements:
        rows.extend(_table_head(width))
    for row in sorted_rows(item):
        rows.extend(_wide(row, width) if width >= _NARROW else _narrow(row, width))
    if not item.requirements:
        rows.extend(paragraph("it claims nothing that the specification asks for", width, _INDENT))
    for finding in item.breaks:
        rows.extend(_break(finding, width, _INDENT))
    for question in item.opens:
        rows.extend(labelled("asks", sentence(question.text), width, _INDENT))
    return rows


def _columns(width: int) -> tuple[int, int, int]:
    """Widths of property, specified and submitted."""
    room = width - _INDENT - _OUTCOME - 4
    side = room * 3 // 10
    return room - 2 * side, side, side


def _table_head(width: int) -> list[Row]:
    first, second, _ = _columns(width)
    told = f"{' ' * (_INDENT + _OUTCOME)}{'':<{first}}  {'specified':<{second}}  handed in"
    return [(Piece(told, "faint"),)]


def _wide(row: Requirement, width: int) -> list[Row]:
    """One requirement as a row of a table, its reason below it."""
    sizes = _columns(width)
    told = (safe(row.means), safe(row.specified) or NOTHING, safe(row.submitted) or NOTHING)
    cells = [fold(text, size) for text, size in zip(told, sizes, strict=True)]
    rows: list[Row] = []
    for at in range(max(map(len, cells))):
        line = "  ".join(
            _padded(cell[at] if at < len(cell) else "", size) for cell, size in zip(cells, sizes, strict=True)
        )
        outcome = row.outcome if not at else ""
        rows.append((Piece(" " * _INDENT), Piece(outcome.ljust(_OUTCOME), _STYLES.get(row.outcome, "")), Piece(line)))
    note = note_of(row)
    return [*rows, *(paragraph(note, width, _INDENT + _OUTCOME, "faint") if note else [])]


def _padded(text: str, size: int) -> str:
    return text + " " * max(size - width_of(text), 0)


def _narrow(row: Requirement, width: int) -> list[Row]:
    style = _STYLES.get(row.outcome, "")
    rows = paragraph(f"{row.outcome}: {safe(row.means)}", width, _INDENT, style, 2)
    rows.extend(labelled("specified", safe(row.specified) or NOTHING, width, _INDENT + 2))
    rows.extend(labelled("handed in", safe(row.submitted) or NOTHING, width, _INDENT + 2))
    note = note_of(row)
    return [*rows, *(paragraph(note, width, _INDENT + 2, "faint", 2) if note else [])]


def _break(finding: Finding, width: int, indent: int) -> list[Row]:
    label = "breaks"
    rows = labelled(label, f"{finding.weight}: {sentence(finding.message)} ({finding.rule})", width, indent)
    if finding.passes:
        rows.extend(labelled("would pass", phrase(finding.passes), width, indent))
    rows.extend(labelled("by", "; ".join(cite_words(cite) for cite in finding.cites), width, indent))
    return rows


def _breaks(title: str, findings: Sequence[Finding], width: int) -> list[Row]:
    if not findings:
        return []
    rows: list[Row] = [(Piece(title, "strong"),)]
    for finding in findings:
        rows.extend(_break(finding, width, _INDENT))
    return [*rows, EMPTY]


def _missing(title: str, missing: Sequence[Missing], width: int) -> list[Row]:
    if not missing:
        return []
    rows: list[Row] = [(Piece(title, "strong"),)]
    for one in missing:
        rows.extend(paragraph(f"{safe(one.what)}: {safe(one.words)}", width, _INDENT, "", 2))
        rows.extend(paragraph(f"{address_words(one.address)}, {line_words(one.span)}", width, _INDENT + 2, "faint"))
    return [*rows, EMPTY]
