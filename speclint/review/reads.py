"""What bears on a rule, worked out when its pack is compiled: the facts behind it, the gates it stands behind."""

from __future__ import annotations

import json

from speclint.engine.nodes import Node, facts_of, limits_of
from speclint.engine.outcomes import Judgement
from speclint.facts.catalogue import Catalogue
from speclint.facts.subject import rests_on
from speclint.review.messages import HOLE
from speclint.review.stages import STAGE_FACT


def facts_behind(judgement: Judgement, points_at: tuple[str, ...], said: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Every fact that can bear on what a rule says of a subject, through all computed facts, in order."""
    nodes = [judgement.demands, *([judgement.applies] if judgement.applies is not None else [])]
    nodes += [variant.when for each in judgement.limits.values() for variant in each if variant.when is not None]
    names = {fact for node in nodes for fact in facts_of(node)} | {STAGE_FACT, *points_at, *HOLE.findall(said)}
    found: set[str] = set()
    for name in names:
        entry = catalogue.find(name)
        found |= {name} if entry is None else {name, *rests_on(catalogue, entry)}
    return tuple(sorted(found))


def gates_behind(judgement: Judgement) -> tuple[str, ...]:
    """The parts of ``applies`` that read no limit, each as the text by which rules share it."""
    return tuple(json.dumps(part) for part in _parts(judgement.applies) if not limits_of(part))


def _parts(applies: Node | None) -> tuple[Node, ...]:
    if applies is None:
        return ()
    return tuple(applies[1:]) if applies[0] == "and" else (applies,)
