"""From the compiled form of a pack to its rules; closures are made when a rule is first decided."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from speclint.engine.outcomes import Judgement
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.packs.rule import Cite, Example, Pack, Rule


def load_pack(data: Mapping[str, Any]) -> Pack:
    """The pack of a compiled form; its rules carry no examples."""
    return Pack(
        name=data["name"],
        version=data["version"],
        title=data["title"],
        region=data["region"],
        hash=data["hash"],
        rules=tuple(_rule(data["name"], row) for row in data["rules"]),
    )


def load_examples(rows: Iterable[Mapping[str, Any]]) -> tuple[Example, ...]:
    """The examples of one rule from their compiled form."""
    return tuple(
        Example(
            shows=row["shows"],
            text=row["text"],
            ends=row["ends"],
            points_at=row["points at"],
            message=row["message"],
            missing=tuple(row["missing"]),
            admits=row["admits"],
            stage=row["stage"],
            span=Span(*row["span"]),
        )
        for row in rows
    )


def shared_names(packs: Iterable[Pack]) -> tuple[Problem, ...]:
    """Rules, of one pack or of several, that share a name, and former names that are in use."""
    problems: list[Problem] = []
    rules = [rule for pack in packs for rule in pack.rules]
    first: dict[str, Rule] = {}
    for rule in rules:
        other = first.setdefault(rule.name, rule)
        if other is not rule:
            problems.append(Problem(rule.span, f'another rule is named "{rule.name}": {other.span.file}'))
    former = dict(first)
    for rule in rules:
        for name in rule.formerly:
            other = former.setdefault(name, rule)
            if other is not rule:
                problems.append(Problem(rule.span, f'the former name "{name}" is in use: {other.span.file}'))
    return tuple(problems)


def _rule(pack: str, row: Mapping[str, Any]) -> Rule:
    judged = row["judgement"]
    return Rule(
        name=row["name"],
        pack=pack,
        topic=row["topic"],
        weight=row["weight"],
        judges=row["judges"],
        spec_part=row["spec part"],
        acts=row["acts"],
        varied_by=tuple(row["may be varied by"]),
        due=row["due"],
        judgement=Judgement(judged["demands"], judged["applies"], judged["limits"]),
        limits=tuple((name, text, label) for name, text, label in row["limits"]),
        applies_text=row["applies"],
        demands_text=row["demands"],
        points_at=tuple(row["points at"]),
        message=row["message"],
        passes=row["passes"],
        settles=row["settles"],
        shown_by=row["shown by"],
        route=row["route"],
        asks_only=row["asks only"],
        alternates=tuple(row["alternates"]),
        cites=tuple(Cite(*cite) for cite in row["cites"]),
        formerly=tuple(row["formerly"]),
        examples=(),
        span=Span(*row["span"]),
        reads=frozenset(row.get("reads", ())),
        gates=tuple(row.get("gates", ())),
    )
