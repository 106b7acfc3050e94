"""From the compiled form of a pack to its rules: each is made when it is first asked for, its closures when decided."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from speclint.engine.outcomes import Judgement
from speclint.kernel.faults import Problem
from speclint.kernel.lazy import Lazy, LazyRow
from speclint.kernel.span import Span
from speclint.packs.rule import Cite, Example, Pack, Rule, Stand


def load_pack(data: Mapping[str, Any]) -> Pack:
    """The pack of a compiled form; its rules carry no examples and are made when they are first asked for."""
    name, gates = data["name"], data["gates"]
    return Pack(
        name=name,
        version=data["version"],
        title=data["title"],
        region=data["region"],
        answers_to=tuple(data["answers to"]),
        hash=data["hash"],
        rules=LazyRow(Lazy(data["rules"], lambda _, row: _rule(name, row))),
        stands=tuple(
            [
                Stand(rule, judges, tuple([gates[number] for number in behind]), wholly, tuple(formerly))
                for rule, judges, behind, wholly, formerly in data["stands"]
            ]
        ),
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
    stands = [(pack, place, stand) for pack in packs for place, stand in enumerate(pack.stands)]
    first: dict[str, tuple[Pack, int]] = {}
    for pack, place, stand in stands:
        other = first.setdefault(stand.name, (pack, place))
        if other != (pack, place):
            why = f'another rule is named "{stand.name}": {_span(*other).file}'
            problems.append(Problem(_span(pack, place), why))
    former = dict(first)
    for pack, place, stand in stands:
        for name in stand.formerly:
            other = former.setdefault(name, (pack, place))
            if other != (pack, place):
                why = f'the former name "{name}" is in use: {_span(*other).file}'
                problems.append(Problem(_span(pack, place), why))
    return tuple(problems)


def _span(pack: Pack, place: int) -> Span:
    return pack.rules[place].span


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
        also_at=tuple(row["also at"]),
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
        reads=frozenset(row["reads"]),
        reads_record=row["reads record"],
    )
