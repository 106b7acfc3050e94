"""Expands ``like "walls"``: the lines of another section, save those that the section says itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from speclint.kernel.faults import Problem
from speclint.kernel.values import Known
from speclint.plan.sections import Entry, Section
from speclint.plan.vocabulary import Key, Vocabulary

CHAIN = 16
Find = Callable[[str, Iterable[str]], list[int]]
Lines = dict[int, tuple[Entry, ...]]


def lines_with_likeness(
    sections: tuple[Section, ...], words: Vocabulary, find: Find
) -> tuple[Lines, tuple[Problem, ...]]:
    """The lines of every section with those of the section it is like; cycles and long chains are problems."""
    problems: list[Problem] = []
    done: Lines = {}

    def lines(index: int, path: tuple[int, ...]) -> tuple[Entry, ...]:
        if index in done:
            return done[index]
        section = sections[index]
        like = next((entry for entry in section.entries if entry.key == "like"), None)
        own = tuple(_plain(entry, words, section.kind) for entry in section.entries if entry.key != "like")
        if like is not None:
            source = _source(index, like, path)
            if source is not None:
                own = _overlaid(lines(source, (*path, index)), own, words, section.kind)
        done[index] = own
        return own

    def _source(index: int, like: Entry, path: tuple[int, ...]) -> int | None:
        name = next((value.value for value in like.facts.values() if isinstance(value, Known)), "")
        found = [i for i in find(str(name), (sections[index].kind,)) if i != index]
        if index in path or (found and found[0] in (*path, index)):
            way = " -> ".join(f'"{sections[i].name}"' for i in (*path, index, *found[:1]))
            problems.append(Problem(like.span, f"likeness runs in a circle: {way}"))
            return None
        if len(path) >= CHAIN:
            problems.append(Problem(like.span, f"likeness goes through more than {CHAIN} sections"))
            return None
        if not found:
            problems.append(Problem(like.span, f'no {sections[index].kind} is named "{name}"'))
            return None
        return found[0]

    for index in range(len(sections)):
        lines(index, ())
    return done, tuple(problems)


def _plain(entry: Entry, words: Vocabulary, kind: str) -> Entry:
    """A shorthand line as the line that it stands for."""
    key = words.sections[kind].keys.get(entry.key)
    if key is None or not key.of:
        return entry
    facts = dict(entry.facts)
    for fact, word in key.short_for.items():
        facts[fact] = Known(word, entry.key, entry.span)
    return entry._replace(key=key.of, facts=facts, mark=entry.mark or "placed by rank")


def _overlaid(theirs: tuple[Entry, ...], own: tuple[Entry, ...], words: Vocabulary, kind: str) -> tuple[Entry, ...]:
    """The other section's lines without those that are said anew, and then the own ones."""
    said = {_identity(entry, words.sections[kind].keys.get(entry.key)) for entry in own}
    keys_said = {mark[0] for mark in said if not mark[1]}
    kept = [
        entry
        for entry in theirs
        if entry.key not in keys_said
        and _identity(entry, words.sections[kind].keys.get(entry.key)) not in said
        and not (entry.key in {mark[0] for mark in said} and not _has_view(entry, words, kind))
    ]
    return (*kept, *own)


def _has_view(entry: Entry, words: Vocabulary, kind: str) -> bool:
    key = words.sections[kind].keys.get(entry.key)
    return bool(key and key.view)


def _identity(entry: Entry, key: Key | None) -> tuple[str, str]:
    """A key, and for a line that is told by its role, that role; a key alone or with ``none`` speaks of all of them."""
    role = entry.facts.get(key.view) if key and key.view else None
    return entry.key, str(role.value) if isinstance(role, Known) else ""
