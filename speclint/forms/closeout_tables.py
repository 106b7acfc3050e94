"""A closeout as a table for spreadsheets, and as a Markdown page."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from speclint.forms.closeout_text import FRAGMENT, built_words, file_words, head_words
from speclint.forms.markup import markdown
from speclint.forms.place import address_words
from speclint.forms.safe import safe
from speclint.forms.takeoff_cells import guarded
from speclint.forms.words import PERSON
from speclint.works.closeout_values import Closeout, Kept, Missing, Place

HEADER = ("plan", "place", "state", "what", "name", "due", "by", "when", "says", "files", "rules", "second best")
_SIGNED = ("role", "signature", "date")


def closeout_csv(found: Sequence[Closeout]) -> str:
    """One row for each paper that is there or missing and each line as built, as RFC 4180 has it."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(HEADER)
    for one in found:
        for place in one.places:
            for row in _rows(place):
                writer.writerow([guarded(safe(cell)) for cell in (one.plan, address_words(place.address), *row)])
    return stream.getvalue()


def _rows(place: Place) -> Iterable[tuple[str, ...]]:
    for lacking in place.missing:
        yield _lacking(lacking)
    for filed in place.kept:
        yield ("on file", filed.kind, filed.name, "", filed.by, filed.when, _says(filed), *_proof(filed), "")
    for line in place.built:
        yield (
            "as built",
            line.key,
            line.record,
            "",
            "",
            "",
            line.text,
            "",
            "",
            line.planned and f"planned: {line.planned}",
        )


def _lacking(one: Missing) -> tuple[str, ...]:
    rules = "; ".join(shown.rule for shown in one.shows)
    state = "missing" if one.late else "to come"
    return (state, one.kind, one.title, one.due, one.by, "", "", "", rules, one.second_best)


def _says(filed: Kept) -> str:
    return "; ".join(f"{key} {text}" for key, text in filed.lines if text)


def _proof(filed: Kept) -> tuple[str, str]:
    return "; ".join(map(file_words, filed.files)), "; ".join(f"fails {one.rule}" for one in filed.fails)


def closeout_markdown(found: Sequence[Closeout]) -> str:
    """The closeouts as one page; nothing of a plan's text can end a row, open a tag or make a link."""
    lines: list[str] = []
    for one in found:
        lines += [f"# {markdown(one.plan or 'plan without a name')}", ""]
        lines += [markdown(FRAGMENT if one.fragment else head_words(one)), ""]
        for place in one.places if not one.fragment else ():
            lines.extend(_page(place))
        lines.extend(_table(_SIGNED, [(role, "", "") for role in one.signs]))
    return "\n".join([*lines, PERSON]) + "\n"


def _page(place: Place) -> Iterable[str]:
    yield from (f"## {markdown(address_words(place.address))}", "")
    missing = [(one.title, f"{one.due}, by {one.by}", _would(one), one.second_best) for one in place.missing]
    yield from _table(("missing or to come", "due", "would show", "second best"), missing)
    filed = [
        (f"{one.kind}: {one.name}", one.when, one.by, _says(one), "; ".join(filter(None, _proof(one))))
        for one in place.kept
    ]
    yield from _table(("on file", "when", "by", "says", "files"), filed)
    yield from _table(("as built", "value"), [(line.key, built_words(line)) for line in place.built])


def _would(one: Missing) -> str:
    return "; ".join(f"{shown.rule}: {shown.says}" for shown in one.shows)


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """A table, or nothing where it has no row."""
    if not rows:
        return []
    made = [f"| {' | '.join(head)} |", f"|{'---|' * len(head)}"]
    made += [f"| {' | '.join(markdown(cell) for cell in row)} |" for row in rows]
    return [*made, ""]
