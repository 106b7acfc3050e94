"""What would pass instead: the smallest changes of a plan's lines that clear a finding and raise no other.

Choices come from the catalogue; single changes are tried first, then pairs; the work is counted in reviews of the
changed plan, never in seconds.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.facts.catalogue import Fact
from speclint.facts.subject import Subject
from speclint.kernel.values import Known, ValueSet
from speclint.plan.rewrite import Writer, bare
from speclint.plan.sections import Entry, Section
from speclint.plan.tree import Plan
from speclint.review.edit import Edit
from speclint.review.findings import findings_of
from speclint.review.kit import Kit
from speclint.review.report import DIFFER, FAILS, Finding, Report
from speclint.review.settle import Settled
from speclint.review.show import system_of
from speclint.review.trials import Change, Regrow, Trials, key_of

MOST_REVIEWS = 2000  # for one finding
MOST = 5  # alternates that are told of one finding
FILED = "any"  # sections that record what was seen or agreed: no alternate rewrites them


class Step(NamedTuple):
    """One change, and how many choices it lies away from what the plan says; its ``phrase`` may join another's line."""

    change: Change
    away: int
    fact: str
    phrase: str


def with_alternates(report: Report, plan: Plan, kit: Kit, stage: str, regrow: Regrow) -> Report:
    """The report with what would pass instead at every finding whose rule names facts to vary.

    ``regrow`` makes a plan of sections as the run reads them; ``stage`` stands before that of the plan.
    """
    if report.fragment or not any(one.outcome in (FAILS, DIFFER) for one in report.findings):
        return report
    search = _Search(Trials(plan, kit, stage, regrow, report.as_of))
    groups: dict[tuple[object, ...], list[Settled]] = {}
    for one in search.trials.settled:
        if one.outcome == FAILS and one.rule.alternates:
            for subject in one.subjects:
                alone = one._replace(subject=subject, alike=())
                told = findings_of((alone,), search.system)[0]
                groups.setdefault((told.rule, told.span, told.message), []).append(alone)
    found = []
    for finding in report.findings:
        group = groups.get((finding.rule, finding.span, finding.message))
        asked = group is not None and not (finding.variance or finding.known)
        found.append(search.of(finding, group) if asked and group else finding)
    return report._replace(findings=tuple(found))


class _Search:
    def __init__(self, trials: Trials) -> None:
        self.trials = trials
        self.system = system_of(trials.root)
        self.words, self.catalogue = trials.kit.vocabulary, trials.kit.catalogue
        self.writer = Writer(self.words, trials.kit.driver)
        self.lines: dict[tuple[str, int], tuple[Section, Entry]] = {}
        for section in trials.plan.sections:
            if self.words.sections[section.kind].within != FILED:
                self.lines.update({(one.span.file, one.span.line): (section, one) for one in section.entries})

    def of(self, finding: Finding, group: list[Settled]) -> Finding:
        """A finding with its alternates, or with the rule that squeezes it."""
        rule, keys = group[0].rule, [key_of(one.rule.name, one.subject) for one in group]
        steps = [step for fact in rule.alternates for step in self._steps(group[0].subject, fact)]
        steps.sort(key=lambda step: (step.away, step.change.entry.text))
        clear: list[tuple[Change, ...]] = []
        barred: list[tuple[Step, tuple[str, ...]]] = []
        spent = 0
        for step in steps:
            spent += 1
            if self.trials.clears(rule.name, keys, (step.change,)):
                raised = self.trials.raised((step.change,))
                if raised:
                    barred.append((step, raised))
                else:
                    clear.append((step.change,))
        if not clear:
            clear = self._pairs(rule.name, group, steps, barred, MOST_REVIEWS - spent)
        squeezed = (barred[0][1][0], barred[0][0].change.entry.text) if barred and not clear else ("", "")
        told = tuple(tuple(change.edit for change in changes) for changes in clear[:MOST])
        return finding._replace(instead=told, squeezed=squeezed)

    def _pairs(
        self,
        rule: str,
        group: list[Settled],
        steps: list[Step],
        barred: list[tuple[Step, tuple[str, ...]]],
        left: int,
    ) -> list[tuple[Change, ...]]:
        """Pairs that clear the finding: two of the rule's own facts, or one with what the rules it raised may vary."""
        keys, subject = [key_of(one.rule.name, one.subject) for one in group], group[0].subject
        others = dict.fromkeys(name for _, raised in barred for name in raised)
        facts = dict.fromkeys(fact for name in others for fact in self.trials.rules[name].alternates)
        more = [step for fact in facts for step in self._steps(subject, fact)]
        firsts = [step for step, _ in barred] or steps
        pairs: dict[tuple[Edit, ...], tuple[int, tuple[Change, ...]]] = {}
        for one in firsts:
            for two in (*steps, *more):
                changes = self._together(one, two)
                if changes:
                    edits = tuple(sorted(change.edit for change in changes))
                    pairs.setdefault(edits, (one.away + two.away, changes))
        ranked = sorted(pairs.values(), key=lambda pair: (pair[0], *(change.entry.text for change in pair[1])))
        found: list[tuple[Change, ...]] = []
        for _, changes in ranked[: max(left, 0)]:
            if self.trials.clears(rule, keys, changes) and not self.trials.raised(changes):
                found.append(changes)
                if len(found) == MOST:
                    break
        return found

    def _together(self, one: Step, two: Step) -> tuple[Change, ...]:
        """Both changes at once, in one line where they stand in one; nothing where they are of the same fact."""
        first, second = one.change, two.change
        if one.fact == two.fact:
            return ()
        if first.edit.span != second.edit.span:
            return (first, second)
        section, old = self.lines.get((first.edit.span.file, first.edit.span.line), (None, None))
        if section is None or old is None or first.edit.fresh or second.edit.fresh:
            return ()
        new = self.writer.with_phrase(section.kind, first.entry, two.phrase)
        return () if new is None else (Change(Edit(old.span, new.text), new, _differing(old, new)),)

    def _steps(self, subject: Subject, fact: str) -> Iterator[Step]:
        """Every choice of a fact, written where the plan says that fact to the subject."""
        entry = self.catalogue.find(fact)
        if entry is None:
            return
        phrases = [phrase for phrase in self._phrases(entry) if self._fits(phrase)]
        for owner, name in _tellers(subject, fact):
            for place, phrase in enumerate(phrases):
                change = self._change(owner, name, phrase)
                if change is not None:
                    away = self._away(owner.get(name), entry.name, place, phrases, change.entry)
                    yield Step(change, away, entry.name, phrase)

    def _phrases(self, entry: Fact) -> tuple[str, ...]:
        """What the catalogue offers of a fact: its choices, else its two sides, else its words in their order."""
        if entry.choices:
            return entry.choices
        if entry.sort == "flag":
            shape = self.words.shapes[entry.name]
            return tuple(" ".join(min(said, key=lambda one: len(tuple(one)))) for said in (shape.yes, shape.no) if said)
        if entry.sort == "word":
            kind = self.words.kinds[entry.detail]
            return kind.order or tuple(name for name, word in kind.words.items() if not word.any_of)
        return ()

    def _fits(self, phrase: str) -> bool:
        """Whether a phrase is in the units of the plan."""
        units = [unit for word in phrase.split() if (unit := self.words.units.unit(word)) is not None]
        return all(unit.system in ("", self.system) for unit in units)

    def _change(self, owner: Subject, fact: str, phrase: str) -> Change | None:
        found = self._line(owner, fact)
        if found is not None:
            section, old = found
            new = self.writer.with_phrase(section.kind, old, phrase)
            return None if new is None else Change(Edit(old.span, new.text), new, _differing(old, new))
        home = self._home(owner, fact)
        fresh = self.writer.fresh(home.kind, fact, phrase) if home is not None else None
        if home is None or fresh is None or any(one.key == fresh.key for one in home.entries):
            return None
        return Change(Edit(home.span, fresh.text, fresh=True), fresh, frozenset(fresh.facts))

    def _line(self, owner: Subject, fact: str) -> tuple[Section, Entry] | None:
        """The line that says a fact to a subject, else the one where it would be said."""
        span = owner.get(fact).span
        if span is not None:
            return self.lines.get((span.file, span.line))
        at: Subject | None = owner
        while at is not None:
            here = self.lines.get((at.span.file, at.span.line))
            if here is not None and fact in self.words.sections[here[0].kind].keys[here[1].key].facts:
                return here
            for section, entry in self.lines.values():
                key = self.words.sections[section.kind].keys[entry.key]
                if section.span == at.span and fact in key.facts and not key.repeats:
                    return section, entry
            at = at.outer
        return None

    def _home(self, owner: Subject, fact: str) -> Section | None:
        """The innermost section in which a line could say a fact, if the plan says nothing of it."""
        if owner.get(fact).span is not None:
            return None
        at: Subject | None = owner
        while at is not None:
            word = self.words.sections.get(at.kind)
            if word is not None and word.within != FILED and fact in word.facts:
                return next((one for one in self.trials.plan.sections if one.span == at.span), None)
            at = at.outer
        return None

    def _away(self, now: ValueSet, fact: str, place: int, phrases: list[str], written: Entry) -> int:
        """How many choices lie between what the plan says and another; from nothing said, by their order."""
        if not isinstance(now, Known):
            return place + 1
        wanted = written.facts.get(fact)
        if isinstance(now.value, str) or not isinstance(wanted, Known) or isinstance(wanted.value, str):
            said = [one for one, phrase in enumerate(phrases) if phrase.casefold() == str(now.value).casefold()]
            return abs(place - said[0]) if said else place + 1
        between = sorted((now.value, wanted.value))
        values = [one.value for one in self._values(fact, phrases, written) if not isinstance(one.value, str)]
        return sum(between[0] <= value <= between[1] for value in values)

    def _values(self, fact: str, phrases: list[str], written: Entry) -> Iterator[Known]:
        for section in self.words.sections:
            if written.key in self.words.sections[section].keys:
                for phrase in phrases:
                    entry = self.writer.entry(section, f"{written.key} {phrase}")
                    value = entry.facts.get(fact) if entry else None
                    if isinstance(value, Known):
                        yield value
                return


def _tellers(subject: Subject, fact: str) -> tuple[tuple[Subject, str], ...]:
    """The subject to which a line says the fact: itself, or the items that a view of it reads."""
    if subject.get(fact).span is not None or fact in subject.catalogue.facts:
        return ((subject, fact),)
    return tuple((owner, name) for owner, name, _ in subject.roots(fact)) or ((subject, fact),)


def _differing(old: Entry, new: Entry) -> frozenset[str]:
    facts = old.facts.keys() | new.facts.keys()
    return frozenset(fact for fact in facts if bare(old.facts.get(fact)) != bare(new.facts.get(fact)))
