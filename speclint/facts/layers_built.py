"""Layers as they were built: a layer that a record of the section tells stands in the place of the planned one."""

from __future__ import annotations

from speclint.kernel.values import Known
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, same
from speclint.plan.vocabulary import Vocabulary

RECORD = "record"
Differs = dict[str, tuple[str, str]]


def layers_built(node: Node, words: Vocabulary) -> tuple[tuple[Entry, ...], Differs]:
    """The lines of a section with those of its records before them where a word, such as a layer's role, pairs them.

    Besides, by that word, what was planned and what the record says, where the two differ.
    """
    entries, differs = list(node.entries), dict[str, tuple[str, str]]()
    for record in node.of_kind(RECORD):
        for entry in record.entries:
            word = _word(entry, node, words)
            if not word:
                continue
            at = [place for place, one in enumerate(entries) if _word(one, node, words) == word]
            planned = "; ".join(entries[place].text for place in at)
            if planned and same(planned) != same(entry.text):
                differs[word] = (planned, entry.text)
            entries = [one for place, one in enumerate(entries) if place not in at]
            entries.insert(at[0] if at else len(entries), entry)
    return tuple(entries), differs


def _word(entry: Entry, node: Node, words: Vocabulary) -> str:
    """The word by which a repeated line is told from others of its key; nothing for all other lines."""
    key = words.sections[node.kind].keys.get(entry.key)
    value = entry.facts.get(key.view) if key is not None and key.repeats and key.view else None
    return str(value.value) if isinstance(value, Known) else ""
