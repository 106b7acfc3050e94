"""What changed between two states of a plan, or two editions of packs: lines, findings and questions, and rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from speclint.kernel.span import Span
from speclint.packs.rule import Cite, Rule
from speclint.plan.tree import Node, same
from speclint.review.identity import kept_marks
from speclint.review.report import Finding, Question, Report
from speclint.works.goods import role_of

NEW, GONE, CHANGED = "new", "gone", "changed"


class Line(NamedTuple):
    """A line of a plan, or a field of a rule, that is new, gone or changed; empty text where it was not or is not."""

    change: str
    address: tuple[str, ...]
    what: str
    old: str
    new: str
    span: Span | None = None


class Redline(NamedTuple):
    """All that changed: the two summaries, lines of the plan, rules of the packs, findings and questions."""

    old: str
    new: str
    summaries: tuple[str, str] | None
    lines: tuple[Line, ...]
    rules: tuple[Line, ...]
    appeared: tuple[Finding, ...]
    settled: tuple[Finding, ...]
    asked: tuple[Question, ...]
    answered: tuple[Question, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing changed."""
        return not (self.lines or self.rules or self.appeared or self.settled or self.asked or self.answered)


def changed_reports(old: Report, new: Report) -> Redline:
    """The findings and questions that came or went; one that only moved or was reworded is the same."""
    before = {mark: one for one, mark in kept_marks(old, "")}
    after = {mark: one for one, mark in kept_marks(new, "")}
    came = list(dict.fromkeys(after[mark] for mark in after if mark not in before))
    went = list(dict.fromkeys(before[mark] for mark in before if mark not in after))
    return Redline(
        old=old.file,
        new=new.file,
        summaries=(old.summary, new.summary),
        lines=(),
        rules=(),
        appeared=tuple(one for one in came if isinstance(one, Finding)),
        settled=tuple(one for one in went if isinstance(one, Finding)),
        asked=tuple(one for one in came if isinstance(one, Question)),
        answered=tuple(one for one in went if isinstance(one, Question)),
    )


def changed_lines(old: Node, new: Node) -> tuple[Line, ...]:
    """The lines of a plan that are new, gone or say something else, section by section in the order of the new plan."""
    before, after = dict(_lines(old)), dict(_lines(new))
    return tuple(_changes(before, after))


def changed_rules(old: Iterable[Rule], new: Iterable[Rule]) -> tuple[Line, ...]:
    """The rules that are new, gone or ask something else; one that was renamed is the same rule."""
    before, after = {one.name: one for one in old}, {one.name: one for one in new}
    former = {name: one.name for one in after.values() for name in one.formerly if name in before}
    found: list[Line] = []
    for name, rule in before.items():
        now = after.get(former.get(name, name))
        if now is None:
            found.append(Line(GONE, (rule.pack,), name, rule.message, ""))
            continue
        fields, others = _fields(rule), _fields(now)
        found.extend(
            Line(CHANGED, (now.pack, now.name), field, fields[field], others[field])
            for field in fields
            if fields[field] != others[field]
        )
    known = set(before) | set(former.values())
    found.extend(Line(NEW, (rule.pack,), name, "", rule.message) for name, rule in after.items() if name not in known)
    return tuple(sorted(found, key=lambda one: (one.address, one.what)))


def _fields(rule: Rule) -> dict[str, str]:
    """What a rule asks and says, field by field, in words."""
    return {
        "name": rule.name,
        "weight": rule.weight,
        "judges": rule.judges,
        "applies": rule.applies_text,
        "demands": rule.demands_text,
        "limits": "; ".join(" ".join(part for part in limit if part) for limit in rule.limits),
        "due": rule.due,
        "message": rule.message,
        "would pass": rule.passes,
        "acts": rule.acts,
        "may be varied by": ", ".join(rule.varied_by),
        "cites": "; ".join(_cite(one) for one in rule.cites),
    }


def _cite(cite: Cite) -> str:
    named = " ".join(part for part in (cite.standard, cite.edition) if part)
    told = ", ".join(part for part in (named, cite.clause) if part)
    return f"{told or 'no standard'} ({cite.basis})"


_Key = tuple[str, tuple[str, ...], str, str, int]


def _lines(node: Node) -> Iterator[tuple[_Key, Line]]:
    """Every line under a section by where it stands: its section, key, role or mark, and number among its like."""
    address = tuple(same(name) for name in node.address)
    seen: dict[tuple[str, str], int] = {}
    yield (node.kind, address, "", "", 0), Line("", node.address, node.kind, "", "", node.span)
    for entry in node.entries:
        mark = role_of(entry) or (entry.mark if entry.mark != "placed by rank" else "")
        number = seen[(entry.key, mark)] = seen.get((entry.key, mark), 0) + 1
        key = (node.kind, address, entry.key, same(mark), number)
        yield key, Line("", node.address, entry.key, "", " ".join(entry.text.split()), entry.span)
    for child in node.children:
        yield from _lines(child)


def _changes(before: Mapping[_Key, Line], after: Mapping[_Key, Line]) -> Iterator[Line]:
    for key, line in after.items():
        old = before.get(key)
        if old is None:
            yield line._replace(change=NEW)
        elif old.new != line.new:
            yield line._replace(change=CHANGED, old=old.new)
    for key, line in before.items():
        if key not in after:
            yield line._replace(change=GONE, old=line.new, new="")
