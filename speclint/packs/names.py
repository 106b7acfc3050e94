"""What a pack is checked against, besides the names that conditions use."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, Protocol

from speclint.engine.catalogue import Catalogue


class Names(Catalogue, Protocol):
    """The names of conditions, the subjects that rules judge, and the register of standards."""

    def subjects(self) -> Collection[str]:
        """Every kind of subject that a rule may judge."""

    def may_be_missing(self, fact: str) -> bool:
        """Whether a plan that leaves lines out can leave this fact unknown."""

    def standards(self) -> Mapping[str, Any]:
        """The register of standards by name and alias; empty where none is kept."""
