"""A rule as data: what it judges, when it applies, what it demands, what it says, and the clauses it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from speclint.engine.outcomes import Judgement
from speclint.kernel.span import Span

WEIGHTS = ("remark", "callback", "tear-out")  # lightest first


class Cite(NamedTuple):
    """A clause by number only; ``basis`` is looked-up, derived, common practice or memory."""

    standard: str
    edition: str
    clause: str
    basis: str
    confidence: str
    bears_on: str = ""


class Example(NamedTuple):
    """A plan text and how the rule must end on it; an empty field is not asked about."""

    shows: str
    text: str
    ends: str
    points_at: str = ""
    message: str = ""
    missing: tuple[str, ...] = ()
    admits: str = ""
    stage: str = ""
    span: Span | None = None


class Rule(NamedTuple):
    """One rule of a pack; ``name`` is its file's name, ``topic`` its folder.

    ``reads`` are the facts that bear on it, and ``reads_record`` says that it reads the record which shows it, as the
    compiled form keeps them.
    """

    name: str
    pack: str
    topic: str
    weight: str
    judges: str
    spec_part: int
    acts: str
    varied_by: tuple[str, ...]
    due: str
    judgement: Judgement
    limits: tuple[tuple[str, str, str], ...]
    applies_text: str
    demands_text: str
    points_at: tuple[str, ...]
    message: str
    passes: str
    settles: str
    shown_by: str
    route: str
    asks_only: bool
    alternates: tuple[str, ...]
    cites: tuple[Cite, ...]
    formerly: tuple[str, ...]
    examples: tuple[Example, ...]
    span: Span
    reads: frozenset[str] = frozenset()
    reads_record: bool = False
    also_at: tuple[str, ...] = ()


class Stand(NamedTuple):
    """What is known of a rule before it is loaded.

    ``gates`` are the parts of its ``applies`` that need no limit, as texts by which rules share them; ``wholly`` says
    that there is nothing else in it. ``formerly`` are the names it had.
    """

    name: str
    judges: str
    gates: tuple[str, ...] = ()
    wholly: bool = False
    formerly: tuple[str, ...] = ()


class Pack(NamedTuple):
    """A pack of rules with its name, version and the hash of its content; ``stands`` tells of each rule in order."""

    name: str
    version: str
    title: str
    region: str
    answers_to: tuple[str, ...]
    hash: str
    rules: Sequence[Rule]
    stands: tuple[Stand, ...]
