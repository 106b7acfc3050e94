"""What is known of goods: the lines that call for them, the facts that are their properties, and what proves those."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any, NamedTuple

from speclint.facts.catalogue import Catalogue, quantity
from speclint.kernel.values import Known
from speclint.plan.sections import Entry
from speclint.plan.vocabulary import Kind

ROLE, MATERIAL, FAMILY = "layer.role", "layer.material", "family"


class Goods(NamedTuple):
    """One sort of goods: the word for it, the line (of a layer, with its role) and the facts that are its properties.

    ``also`` names further lines that call for it, each with its facts and those of the goods that answer them;
    ``families`` are those of the stuffs that are goods, all if empty.
    """

    item: str
    key: str
    role: str
    families: frozenset[str]
    facts: tuple[str, ...]
    also: Mapping[str, Mapping[str, str]]


class Together(NamedTuple):
    """Figures that are told as one: what they mean, whether their order counts, and how far names may lie apart."""

    facts: tuple[str, ...]
    means: str
    turned: bool
    names_within: Fraction


class Knowledge(NamedTuple):
    """All that a submittal review knows of goods; ``by_method`` pairs figures with the facts that tell their method."""

    goods: tuple[Goods, ...]
    together: tuple[Together, ...]
    by_method: Mapping[str, str]
    settled_by: Mapping[str, str]

    def of(self, entry: Entry) -> Goods | None:
        """The goods that a line calls for, by its key and role."""
        role = role_of(entry)
        return next((one for one in self.goods if one.key == entry.key and (not one.role or one.role == role)), None)

    def answering(self, key: str) -> Iterator[tuple[Goods, Mapping[str, str]]]:
        """The goods that answer the line of another key, with the facts that stand for one another."""
        return ((one, one.also[key]) for one in self.goods if key in one.also)

    def joined(self, fact: str) -> Together | None:
        """The figures that a fact is told together with."""
        return next((one for one in self.together if fact in one.facts), None)


def knowledge(data: Mapping[str, Any], catalogue: Catalogue) -> Knowledge:
    """What ``shared/submittals.yaml`` tells of goods."""
    return Knowledge(
        goods=tuple(
            Goods(
                item=row["item"],
                key=row["key"],
                role=row.get("role", ""),
                families=frozenset(row.get("families", ())),
                facts=tuple(row["facts"]),
                also=row.get("also", {}),
            )
            for row in data["goods"]
        ),
        together=tuple(
            Together(
                tuple(row["facts"]),
                row["means"],
                bool(row.get("turned", False)),
                Fraction(quantity(row.get("names within", "0 %"), catalogue.words.units)),
            )
            for row in data["together"]
        ),
        by_method=data["by method"],
        settled_by=data["settled by"],
    )


def role_of(entry: Entry) -> str:
    """The role of a layer; empty for other lines."""
    role = entry.facts.get(ROLE)
    return str(role.value) if isinstance(role, Known) else ""


def is_goods(found: Goods, entry: Entry, materials: Kind) -> bool:
    """Whether what a line names is handed in: a board is, a slab is not."""
    stuff = entry.facts.get(MATERIAL)
    word = materials.words.get(str(stuff.value)) if isinstance(stuff, Known) else None
    return not found.families or (word is not None and word.properties.get(FAMILY) in found.families)
