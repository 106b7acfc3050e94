"""A closeout for people: each place with what is missing, what is on file and how it was built, and room to sign."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.forms.phrases import counted, sentence
from speclint.forms.place import address_words
from speclint.forms.rows import EMPTY, Piece, Row, across, labelled, paragraph
from speclint.forms.safe import safe, width_of
from speclint.forms.words import PERSON
from speclint.works.closeout_values import THERE, Built, Closeout, File, Kept, Missing, Place, Shown

_LEAST, _MOST = 40, 100
_ROOMY = 60
_LINE = "_" * 24
FRAGMENT = "a fragment: it has no record of its own"


def closeout_rows(found: Closeout, width: int) -> list[Row]:
    """The rows of a closeout for a terminal, between 40 and 100 columns wide."""
    width = min(max(width, _LEAST), _MOST)
    name = (Piece(safe(found.plan) or "plan without a name", "strong"),)
    rows: list[Row] = [*across(name, safe(found.file), width)]
    if found.fragment:
        return [*rows, *paragraph(FRAGMENT, width, 0, "faint")]
    rows.extend(paragraph(head_words(found), width, 0, "faint"))
    for problem in found.unread:
        rows.extend(labelled("unreadable", safe(problem), width, 0))
    for place in found.places:
        rows.extend(_place(place, width))
    if found.variances:
        rows.append(EMPTY)
    for one in found.variances:
        rows.extend(labelled("variance", safe(one), width, 0))
    rows += [EMPTY, (Piece("signatures", "strong"),)]
    rows.extend(row for role in found.signs for row in _signed(role, width))
    packs = ", ".join(f"{pack} {version} ({mark[:12]})" for pack, version, mark in found.packs)
    as_of = f"; as of {found.as_of}" if found.as_of else ""
    rows += [EMPTY, *labelled("rules", safe(packs) + as_of, width, 0), *paragraph(PERSON, width, 0, "faint")]
    return rows


def head_words(found: Closeout) -> str:
    """The stage, the summary of the review, and how many papers are there and missing."""
    kept = sum(len(place.kept) for place in found.places)
    missing = [one for place in found.places for one in place.missing]
    late = sum(one.late for one in missing)
    waits = f", {len(missing) - late} not yet due" if len(missing) > late else ""
    filed = counted(kept, "paper")
    return f"stage {found.stage}; {found.summary} among {found.rules} rules; {filed} on file, {late} missing{waits}"


def file_words(file: File) -> str:
    """A file by its name, and whether it is there."""
    return safe(file.name) if file.state == THERE else f"{safe(file.name)} ({file.state})"


def built_words(line: Built) -> str:
    """A line as built, with what was planned where a record tells it otherwise."""
    if not line.record:
        return safe(line.text)
    told = f', by the record "{safe(line.record)}"'
    return f"{safe(line.text)}{told}" + (f"; planned was {safe(line.planned)}" if line.planned else "")


def _place(place: Place, width: int) -> Iterable[Row]:
    yield EMPTY
    yield from paragraph(address_words(place.address), width, 0, "strong")
    for one in place.missing:
        yield from _missing(one, width)
    for filed in place.kept:
        yield from _kept(filed, width)
    if place.built:
        yield (Piece("  as built", "good"),)
    for line in place.built:
        yield from paragraph(f"{safe(line.key)}: {built_words(line)}", width, 4, hang=2)


def _signed(role: str, width: int) -> list[Row]:
    """Room for a signature and its day; on a narrow sheet under the role."""
    if width < _ROOMY:
        return [(Piece(f"  {role}"),), (Piece(f"  {_LINE[:16]} date {_LINE[:12]}"),)]
    return [(Piece(f"  {role:<16}{_LINE}  date {_LINE[:12]}"),)]


def _titled(mark: str, style: str, title: str, kind: str, width: int) -> list[Row]:
    """The state and title of a paper with its kind at the right edge, or folded where that has no room."""
    if 2 + len(mark) + 2 + width_of(title) + 2 + width_of(kind) <= width:
        return across((Piece(f"  {mark}  ", style), Piece(title)), kind, width)
    return paragraph(f"{mark}  {title}, {kind}", width, 2, style, hang=2)


def _missing(one: Missing, width: int) -> Iterable[Row]:
    style = "callback" if one.late else "faint"
    yield from _titled("missing" if one.late else "to come", style, one.title, one.kind, width)
    yield from labelled("due", f"{one.due}, by {one.by}", width, 4)
    yield from _shown("would show", one.shows, width)
    yield from labelled("second best", sentence(one.second_best), width, 4)


def _kept(one: Kept, width: int) -> Iterable[Row]:
    yield from _titled("on file", "good", f"{one.sort} {safe(one.name)}", safe(one.kind), width)
    told = [safe(f"{key} {text}") for key, text in one.lines if text and key not in ("kind", "file")]
    if told:
        yield from labelled("says", "; ".join(told), width, 4)
    for file in one.files:
        yield from labelled("file", file_words(file), width, 4)
    yield from _shown("fails", one.fails, width)
    for text in one.asks:
        yield from labelled("open", safe(text), width, 4)


def _shown(label: str, rules: Iterable[Shown], width: int) -> Iterable[Row]:
    for one in rules:
        yield from labelled(label, f"{one.rule} ({one.weight}): {sentence(one.says)}", width, 4)
