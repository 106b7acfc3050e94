"""A plan with some of its lines otherwise: read again, and only the rules that read a changed fact decided again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject, section_of
from speclint.kernel.span import Span
from speclint.plan.rewrite import bare
from speclint.plan.sections import Entry, Section
from speclint.plan.tree import Plan
from speclint.review.decisions import apply_decisions
from speclint.review.edit import Edit
from speclint.review.gates import Book, book_of
from speclint.review.judging import Subjects, by_kind, judged
from speclint.review.kit import Kit
from speclint.review.report import DIFFER, DOES_NOT_APPLY, FAILS, MEETS, NOT_SHOWN
from speclint.review.settle import Settled
from speclint.review.stages import stages_of

Regrow = Callable[[tuple[Section, ...]], Plan]
Key = tuple[str, str, tuple[str, ...], Span]
Ends = Mapping[Key, tuple[str, str]]
WEIGHTS = ("", "remark", "callback", "tear-out")


class Change(NamedTuple):
    """One line otherwise: the edit, the entry that it makes, and the facts that it changes."""

    edit: Edit
    entry: Entry
    facts: frozenset[str]


class Trials:
    """Reviews one plan as it stands, then with changes; what was worked out for the same changes is kept."""

    def __init__(self, plan: Plan, kit: Kit, stage: str, regrow: Regrow, day: str) -> None:
        """Review the plan as it stands on a day; ``regrow`` makes a plan of sections as they would be read."""
        self.plan, self.kit, self.regrow = plan, kit, regrow
        self.book = book_of(kit.packs, kit.catalogue)
        self.rules = self.book.rules
        self.books: dict[frozenset[str], Book] = {}
        self.stages = stages_of(kit.vocabulary, stage, day)
        self.root = build_subjects(plan, kit.catalogue)
        self.kept: dict[tuple[Edit, ...], tuple[Subject, Subjects]] = {}
        self.settled = self._settled(self.root, by_kind(self.root), self.book)
        self.before = ends(self.settled)

    def clears(self, rule: str, keys: Iterable[Key], changes: tuple[Change, ...]) -> bool:
        """Whether a rule then meets or does not apply wherever it did not meet."""
        after = self._after((rule,), changes)
        return all(after.get(key, (DOES_NOT_APPLY, ""))[0] in (MEETS, DOES_NOT_APPLY) for key in keys)

    def raised(self, changes: tuple[Change, ...]) -> tuple[str, ...]:
        """The rules that are then not met where they were, weigh more, or are open where they were decided."""
        changed = frozenset(fact for change in changes for fact in change.facts)
        names = tuple(name for name, rule in self.rules.items() if not rule.reads.isdisjoint(changed))
        after = self._after(names, changes)
        worse = (key[0] for key, end in after.items() if _is_worse(self.before.get(key), end))
        return tuple(dict.fromkeys(worse))

    def _after(self, names: Iterable[str], changes: tuple[Change, ...]) -> Ends:
        edits = tuple(change.edit for change in changes)
        if edits not in self.kept:
            root = build_subjects(self.regrow(_changed(self.plan.sections, changes)), self.kit.catalogue)
            self.kept[edits] = (root, by_kind(root))
        return ends(self._settled(*self.kept[edits], self._book(frozenset(names))))

    def _book(self, names: frozenset[str]) -> Book:
        """The rules of these names alone."""
        if names not in self.books:
            stands = (stand for pack in self.kit.packs for stand in pack.stands if stand.name in names)
            self.books[names] = Book(stands, self.rules)
        return self.books[names]

    def _settled(self, root: Subject, subjects: Subjects, book: Book) -> tuple[Settled, ...]:
        found = judged(book, subjects, self.stages).settled
        return apply_decisions(found, root)[0]


def ends(settled: Iterable[Settled]) -> Ends:
    """How each rule ends at each place, the worst where several subjects stand there."""
    found: dict[Key, tuple[str, str]] = {}
    for one in settled:
        for subject in one.subjects:
            key, end = key_of(one.rule.name, subject), (one.outcome, one.weight)
            if key not in found or _burden(end) > _burden(found[key]):
                found[key] = end
    return found


def key_of(rule: str, subject: Subject) -> Key:
    """A rule at the place of a subject, which stays the same when the words of its line change."""
    return (rule, subject.kind, section_of(subject).address, subject.span)


def _burden(end: tuple[str, str]) -> tuple[int, int]:
    return ({FAILS: 2, DIFFER: 2, NOT_SHOWN: 1}.get(end[0], 0), WEIGHTS.index(end[1]))


def _is_worse(before: tuple[str, str] | None, after: tuple[str, str]) -> bool:
    """A finding that was none or weighed less, or a question where there was none."""
    old, new = _burden(before or (DOES_NOT_APPLY, "")), _burden(after)
    return new[0] > 0 and (new > old or (new[0] == 1 and old[0] == 2))


def _changed(sections: tuple[Section, ...], changes: tuple[Change, ...]) -> tuple[Section, ...]:
    """The sections with the changed lines in them, each where it stood."""
    by_span = {change.edit.span: change for change in changes if not change.edit.fresh}
    fresh: dict[Span, list[Entry]] = {}
    for change in changes:
        if change.edit.fresh:
            fresh.setdefault(change.edit.span, []).append(change.entry)
    found: list[Section] = []
    for section in sections:
        entries = tuple(_in_place(entry, by_span.get(entry.span)) for entry in section.entries)
        found.append(section._replace(entries=(*fresh.get(section.span, ()), *entries)))
    return tuple(found)


def _in_place(entry: Entry, change: Change | None) -> Entry:
    """The line with only the changed values replaced, so that all others keep their places and their choices."""
    if change is None:
        return entry
    new = change.entry.facts
    kept = {fact: value for fact, value in entry.facts.items() if fact in new and bare(value) == bare(new[fact])}
    return entry._replace(facts={**new, **kept}, text=change.entry.text)
