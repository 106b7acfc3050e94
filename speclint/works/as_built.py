"""A place as it was built: the lines of the plan, and before them what a record of that place tells otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from speclint.kernel.values import Known, ValueSet
from speclint.language.lexer import scan_line
from speclint.plan.row import row_of
from speclint.plan.sections import Entry
from speclint.plan.spelling import longest
from speclint.plan.tree import Node
from speclint.plan.vocabulary import SectionWord, Vocabulary
from speclint.works.closeout_values import Built

FILED = "any"  # sections that may stand under any address
RECORD = "record"


def sections_in(node: Node) -> Iterator[Node]:
    """A section and all within it, outermost first."""
    yield node
    for child in node.children:
        yield from sections_in(child)


def built_lines(node: Node, words: Vocabulary) -> Iterator[Built]:
    """Every line of a section as built; a record's line stands in the place of the planned one, or after them all.

    A record that only agrees with the planned line is named beside it.
    """
    word = words.sections[node.kind]
    told = dict(_told_by_records(node, word))
    for entry in node.entries:
        key, text = line_text(entry, word)
        name, found = told.pop(_mark(entry, word), ("", entry))
        if any(
            _bare(found.facts[fact]) != _bare(entry.facts[fact]) for fact in found.facts.keys() & entry.facts.keys()
        ):
            yield Built(key, line_text(found, words.sections[RECORD])[1], text, name)
        else:
            yield Built(key, text, "", name)
    for name, found in told.values():
        yield Built(*line_text(found, words.sections[RECORD]), "", name)


def _told_by_records(node: Node, word: SectionWord) -> Iterator[tuple[str, tuple[str, Entry]]]:
    """The lines of records that are values of this very section, the last told standing."""
    for record in node.of_kind(RECORD):
        for entry in record.entries:
            mark = _mark(entry, word)
            if mark:
                yield mark, (record.name, entry)


def _mark(entry: Entry, word: SectionWord) -> str:
    """What pairs a line with one of a record: its key, and of a repeated line the word that tells it from others."""
    key = word.keys.get(entry.key)
    if key is None or not key.facts & entry.facts.keys():
        return ""
    value = entry.facts.get(key.view)
    return entry.key if not key.repeats else f"{entry.key} {value.value}" if isinstance(value, Known) else ""


def _bare(value: ValueSet) -> ValueSet:
    """A value without the words and the place in which it was told."""
    return value._replace(text="", span=None)


def line_text(entry: Entry, word: SectionWord) -> tuple[str, str]:
    """The key that a line was written with, and what stands behind it, as written and without its comment."""
    row = row_of(tuple(scan_line(entry.text, 1).tokens), entry.text, "", 1)
    name, start = longest(word.by_first, row.norms, 0) or (entry.key, 0)
    if start < len(row.norms) and row.norms[start] in (":", "."):
        start += 1
    return name, row.words(start, len(row.tokens)) if start < len(row.tokens) else ""


def lines_named(node: Node, keys: tuple[str, ...], words: Vocabulary) -> Iterator[tuple[str, str]]:
    """The lines of a section with one of these keys, or that say the same in full, such as ``layer membrane``."""
    word = words.sections[node.kind]
    for entry in node.entries:
        view = word.keys[entry.key].view if entry.key in word.keys else ""
        seen = entry.facts.get(view)
        if entry.key in keys or (isinstance(seen, Known) and seen.value in keys):
            yield line_text(entry, word)
