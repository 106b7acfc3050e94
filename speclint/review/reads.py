"""What bears on a rule, worked out when its pack is compiled: the facts behind it, its gates, the record it reads."""

from __future__ import annotations

import json

from speclint.engine.nodes import facts_of, joined, limits_of, walk
from speclint.engine.outcomes import Judgement
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import rests_on
from speclint.review.messages import holes_in
from speclint.review.stages import STAGE_FACT

FILED = ("records", "papers", "decisions", "readings")


def facts_behind(judgement: Judgement, points_at: tuple[str, ...], said: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Every fact that can bear on what a rule says of a subject, through all computed facts, in order."""
    nodes = [judgement.demands, *([judgement.applies] if judgement.applies is not None else [])]
    nodes += [variant.when for each in judgement.limits.values() for variant in each if variant.when is not None]
    names = {fact for node in nodes for fact in facts_of(node)} | {STAGE_FACT, *points_at, *holes_in(said)}
    found: set[str] = set()
    for name in names:
        entry = catalogue.find(name)
        found |= {name} if entry is None else {name, *rests_on(catalogue, entry)}
    return tuple(sorted(found))


def gates_behind(judgement: Judgement) -> tuple[str, ...]:
    """The parts of ``applies`` that read no limit, each as the text by which rules share it."""
    return tuple(json.dumps(part) for part in joined(judgement.applies) if not limits_of(part))


def record_behind(judgement: Judgement, shown_by: str) -> bool:
    """Whether a rule reads the record that shows it, so that its absence is what fails."""
    head = f"{shown_by.replace(' ', '-')}."
    nodes = (judgement.demands, *([judgement.applies] if judgement.applies is not None else []))
    for one in (inner for node in nodes for inner in walk(node)):
        if one[0] in ("any", "all", "none", "count") and one[1] in FILED:
            return True
        if one[0] == "fact" and one[1].startswith(head):
            return True
    return False
