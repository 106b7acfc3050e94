"""The transmittal to send back: one page of Markdown with a word for each item and what must still come."""

from __future__ import annotations

from collections.abc import Iterator

from speclint.forms.cites import cite_words
from speclint.forms.markup import markdown
from speclint.forms.phrases import counted
from speclint.forms.place import address_words, line_words
from speclint.forms.submittal_text import note_of, sorted_rows, tally
from speclint.forms.words import PERSON
from speclint.review.report import MEETS, Finding
from speclint.works.handed import Item, Missing, Package

MOST = 40  # lines below an item that are written out


def transmittal(package: Package) -> str:
    """The page; nothing of a specification's or a submittal's text can end a row, open a tag or make a link."""
    name = markdown(package.plan) or "specification without a name"
    lines = [f"# Submittal review: {name}", ""]
    lines.append(
        f"Specification {markdown(package.file)}" + (f", product data {markdown(package.data)}" if package.data else "")
    )
    lines += [f"Reviewed as of {markdown(package.as_of)}", "", f"**{markdown(package.said or package.summary)}**", ""]
    lines += [f"{markdown(tally(package))}.", "", "| item | for | outcome |", "|---|---|---|"]
    for item in package.items:
        cells = (item.name, address_words(item.address), item.said or item.summary)
        lines.append(f"| {' | '.join(markdown(cell) for cell in cells)} |")
    for problem in package.unread:
        lines += ["", f"Not read: {markdown(str(problem))}"]
    for item in package.items:
        lines += _item(item)
    for one in package.breaks:
        lines += ["", f"- newly broken {_broken(one)}"]
    lines += [*_missing("Specified and not handed in", package.not_handed_in)]
    lines += [*_missing("Papers demanded and not handed in", package.papers)]
    packs = ", ".join(f"{name} {version}" for name, version, _ in package.packs)
    rules = f"Among {counted(package.rules, 'rule')} of packs {markdown(packs)}."
    lines += ["", f"{rules} Work on site is not judged by a submittal. {PERSON}"]
    return "\n".join(lines) + "\n"


def _item(item: Item) -> Iterator[str]:
    """What of an item does not simply meet; an item without exceptions needs no lines."""
    rows = [row for row in sorted_rows(item) if row.outcome != MEETS or row.decided]
    if not (rows or item.breaks or item.opens):
        return
    yield from ("", f"## {markdown(item.name)}", "")
    if rows:
        yield from (
            "| outcome | property | specified | handed in | why, and what settles it |",
            "|---|---|---|---|---|",
        )
    for row in rows[:MOST]:
        cells = (row.outcome, row.means, row.specified, row.submitted, note_of(row))
        yield f"| {' | '.join(markdown(cell) for cell in cells)} |"
    if len(rows) > MOST:
        yield f"| | and {counted(len(rows) - MOST, 'more')} | | | |"
    if item.breaks or item.opens:
        yield ""
    for finding in item.breaks:
        yield f"- newly breaks {_broken(finding)}"
    for question in item.opens:
        yield f"- asks: {markdown(question.text)}"


def _broken(finding: Finding) -> str:
    cites = "; ".join(cite_words(cite) for cite in finding.cites)
    return f"({finding.weight}): {markdown(finding.message)} By {markdown(cites)}."


def _missing(title: str, missing: tuple[Missing, ...]) -> Iterator[str]:
    if missing:
        yield from ("", f"## {title}", "")
    for one in missing:
        where = f"{address_words(one.address)}, {line_words(one.span)}"
        yield f"- {markdown(one.what)}: {markdown(one.words)} ({markdown(where)})"
