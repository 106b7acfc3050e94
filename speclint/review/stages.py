"""Stages of a job in order, as the vocabulary gives them: where a subject stands, and what is due by then."""

from __future__ import annotations

from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.values import Known
from speclint.plan.vocabulary import Vocabulary

STAGE_FACT = "stage.now"


class Stages(NamedTuple):
    """The order of stages; ``forced`` overrides what plans say, and on ``day`` papers must still hold."""

    order: tuple[str, ...]
    forced: str = ""
    day: str = ""

    def of(self, subject: Subject) -> str:
        """The stage a subject is at: the nearest one stated, else the first."""
        if self.forced:
            return self.forced
        value = subject.get(STAGE_FACT)
        return str(value.value) if isinstance(value, Known) else self.order[0]

    def reached(self, stage: str, wanted: str) -> bool:
        """Whether a stage is at or past another."""
        return self.order.index(stage) >= self.order.index(wanted)


def stages_of(words: Vocabulary, forced: str = "", day: str = "") -> Stages:
    """The stages of a vocabulary, on a day such as ``2026-04-02``; without one no paper has ended."""
    return Stages(words.kinds["stage"].order, forced, day)
