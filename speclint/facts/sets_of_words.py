"""Sets of words: all that the items of a collection tell, and whether a set holds a word."""

from __future__ import annotations

from speclint.facts.subject import Subject
from speclint.kernel.logic import has_any
from speclint.kernel.values import NOTHING, TAKEN, Absent, Among, Known, Members, Single


def words_over(subject: Subject, collection: str, fact: str) -> Single:
    """Every word that the items of a collection tell of a fact; absent where none tells one."""
    items = subject.members(collection)
    if items is None:
        return NOTHING
    told = [value for item in items if isinstance(value := item.get(fact), (Known, Members))]
    words = frozenset(word for one in told for word in (one.has if isinstance(one, Members) else {str(one.value)}))
    if not words:
        return Absent(origin=TAKEN)
    return Members(words, closed=True, text=", ".join(one.text for one in told), span=told[0].span)


def held(words: Single, word: Single) -> Single:
    """Whether a set holds a word: yes or no where it is so for every word that may stand there, else unknown."""
    if isinstance(words, Absent) or isinstance(word, Absent):
        return Known(False, origin=words.origin if isinstance(words, Absent) else word.origin)
    if isinstance(word, Known):
        truths = {has_any(words, (str(word.value),))}
    elif isinstance(word, Among) and not word.beyond:
        truths = {has_any(words, (each,)) for each in word.members}
    else:
        return NOTHING
    truth = truths.pop() if len(truths) == 1 else None
    return NOTHING if truth is None else Known(truth, span=word.span, origin=word.origin)
