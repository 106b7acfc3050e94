"""Reads one slot of a phrase: the longest text at a place that its fact can take."""

from __future__ import annotations

from speclint.kernel.values import DEMANDED, Absent, Among, Known, Members, Single, Unknown
from speclint.plan.figures import Note, read_quantity
from speclint.plan.moments import read_moment
from speclint.plan.row import Row
from speclint.plan.spelling import Tokens, longest
from speclint.plan.vocabulary import FactShape, Kind, Vocabulary

Read = tuple[Single, int]


def read_slot(row: Row, start: int, shape: FactShape, words: Vocabulary, note: Note, led: bool) -> Read | None:
    """The value of a slot and where it ends; ``led`` says that a literal stands before it, so that open words count."""
    found = _read(row, start, shape, words, note, led)
    if found is None and led:
        return read_open(row, start, words) or _degree(row, start, words)
    return found


def read_open(row: Row, start: int, words: Vocabulary) -> Read | None:
    """``by maker``, ``none``, ``not stated`` and the like at a place."""
    opened = longest(words.open_words, row.norms, start)
    if opened is None or opened[0] == "beyond":
        return None
    sort, end = opened
    if sort == "by section":
        end = len(row.norms)
    text, span = row.words(start, end), row.span(start, end)
    if sort == "absent":
        return Absent(text, span), end
    origin = DEMANDED if sort == "demanded" else sort
    return Unknown(text, span, origin=origin, told=sort in ("demanded", "by section")), end


def _degree(row: Row, start: int, words: Vocabulary) -> Read | None:
    degree = longest(words.degrees, row.norms, start)
    if degree is None:
        return None
    return Unknown(row.words(start, degree[1]), row.span(start, degree[1]), told=True), degree[1]


def _read(row: Row, start: int, shape: FactShape, words: Vocabulary, note: Note, led: bool) -> Read | None:
    sort = shape.sort
    if start >= len(row.tokens):
        return None
    if sort == "quantity":
        return read_quantity(row, start, shape.detail, words, note)
    if sort == "word":
        return _word(row, start, words.kinds[shape.detail], words)
    if sort == "words":
        return _set(row, start, words.kinds[shape.detail], words)
    if sort == "flag":
        return _flag(row, start, shape, words)
    if sort == "moment":
        return read_moment(row, start, note)
    return _text(row, start, led)


def may_start(row: Row, start: int, shape: FactShape, words: Vocabulary) -> bool:
    """Whether a value of a shape can begin with the token at a place, from that token alone."""
    kind, norm = row.tokens[start].kind, row.norms[start]
    sort = shape.sort
    if sort == "text":
        return kind == "string"
    if sort == "quantity":
        return kind == "number" or norm in words.bounds
    if sort == "moment":
        return kind == "date"
    if norm in words.negations:
        return True
    if sort == "flag":
        return any(said[0] == norm for said in (*shape.yes, *shape.no))
    found = words.kinds[shape.detail]
    return norm in found.spellings or norm in words.bounds or found.letters


def _text(row: Row, start: int, led: bool) -> Read | None:
    """A quoted text; after a literal also plain words up to the end of the phrase."""
    token = row.tokens[start]
    if token.kind == "string":
        return Known(str(token.value), token.text, row.span(start, start + 1)), start + 1
    if not led:
        return None
    end = len(row.tokens)
    return Known(row.words(start, end), row.words(start, end), row.span(start, end)), end


def _word(row: Row, start: int, kind: Kind, words: Vocabulary) -> Read | None:
    whole = longest(kind.spellings, row.norms, start)
    if whole is None and row.norms[start] in words.negations:
        found = longest(kind.spellings, row.norms, start + 1)
        if found is None:
            return None
        rest = frozenset(kind.words) - {found[0]} - _members(kind, found[0])
        return Among(rest, row.words(start, found[1]), row.span(start, found[1])), found[1]
    bound = None if whole else longest(words.bounds, row.norms, start)
    found = whole or longest(kind.spellings, row.norms, bound[1] if bound else start)
    if found is None:
        return None
    name, end = found
    text, span = row.words(start, end), row.span(start, end)
    if bound:
        return Among(_towards(kind, name, bound[0]), text, span), end
    beyond = longest(words.open_words, row.norms, end)
    if beyond is not None and beyond[0] == "beyond":
        return Among(frozenset({name}), row.words(start, beyond[1]), row.span(start, beyond[1]), beyond=True), beyond[1]
    family = _members(kind, name)
    return (Among(family, text, span) if family else Known(name, text, span)), end


def _members(kind: Kind, name: str) -> frozenset[str]:
    return frozenset(kind.words[name].any_of)


def _towards(kind: Kind, name: str, sort: str) -> frozenset[str]:
    """The words on one side of another: by the order of the kind, else by what covers what."""
    if name in kind.order:
        place = kind.order.index(name)
        side = kind.order[place:] if sort in ("from", "above") else kind.order[: place + 1]
        return frozenset(side) - ({name} if sort in ("above", "below") else set())
    return frozenset({name}) | {word.name for word in kind.words.values() if name in word.covers}


def _set(row: Row, start: int, kind: Kind, words: Vocabulary) -> Read | None:
    has: set[str] = set()
    lacks: set[str] = set()
    at = start
    while at < len(row.norms):
        negated = row.norms[at] in words.negations and longest(kind.spellings, row.norms, at) is None
        found = longest(kind.spellings, row.norms, at + negated) or _joined(kind, row.norms, at + negated)
        if found is None:
            break
        names, at = found
        (lacks if negated else has).update((names,) if names in kind.words else names)
    if at == start:
        return None
    closed = not kind.open and bool(has)
    lacks.update(*(kind.words[name].excludes for name in has))
    lacks -= has
    return Members(frozenset(has), frozenset(lacks), closed, row.words(start, at), row.span(start, at)), at


def _joined(kind: Kind, norms: Tokens, at: int) -> tuple[str, int] | None:
    """Letters written together, such as ``HTE``."""
    if not kind.letters or at >= len(norms):
        return None
    letters = norms[at].upper()
    return (letters, at + 1) if all(letter in kind.words for letter in letters) else None


def _flag(row: Row, start: int, shape: FactShape, words: Vocabulary) -> Read | None:
    for said, value in ((shape.no, False), (shape.yes, True)):
        for tokens in said:
            end = start + len(tokens)
            if row.norms[start:end] == tokens:
                return Known(value, row.words(start, end), row.span(start, end)), end
    if row.norms[start] in words.negations:
        for tokens in shape.yes:
            end = start + 1 + len(tokens)
            if row.norms[start + 1 : end] == tokens:
                return Known(False, row.words(start, end), row.span(start, end)), end
    return None
