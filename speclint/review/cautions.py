"""The usual cautions, each once, when something in the plan calls for it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from speclint.engine.closures import compile_condition
from speclint.engine.reading import Env
from speclint.facts.subject import Subject


def cautions_for(
    cautions: tuple[Mapping[str, Any], ...], subjects: Mapping[str, tuple[Subject, ...]]
) -> tuple[str, ...]:
    """The sentences of those cautions whose condition holds for some subject; ``when`` is a checked condition."""
    found: list[str] = []
    for caution in cautions:
        condition = compile_condition(caution["when"])
        for subject in subjects.get(str(caution.get("judges", "assembly")), ()):
            if condition(Env(subject, {})):
                found.append(str(caution["says"]))
                break
    return tuple(found)
