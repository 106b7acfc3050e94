"""Products that were proved together: one that is changed leaves the others unproved until a letter says otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.kernel.span import Span
from speclint.kernel.values import Known, Members
from speclint.plan.tree import Node, same
from speclint.review.report import FAILS, NOT_SHOWN
from speclint.works.called_for import sections
from speclint.works.handed import EQUAL, SUBSTITUTION, Item, Requirement
from speclint.works.papers import Paper

LETTER = "compatibility letter"


class ProvedSet(NamedTuple):
    """A set as the specification names it, with the words for its goods."""

    name: str
    goods: frozenset[str]
    address: tuple[str, ...]
    span: Span


def proved_sets(root: Node) -> tuple[ProvedSet, ...]:
    """Every set that the specification names."""
    return tuple(_sets(root))


def _sets(root: Node) -> Iterator[ProvedSet]:
    for node in sections(root):
        for entry in node.entries:
            items = entry.facts.get("proved-set.items")
            if isinstance(items, Members):
                name = entry.facts.get("proved-set.name")
                told = str(name.value) if isinstance(name, Known) else entry.mark or items.text
                yield ProvedSet(told, items.has, node.address, entry.span)


def with_sets(items: tuple[Item, ...], sets: tuple[ProvedSet, ...], papers: tuple[Paper, ...]) -> tuple[Item, ...]:
    """The items, each of a set in which another was changed with a line that asks for the letter."""
    return tuple(item._replace(requirements=(*item.requirements, *_asked(item, items, sets, papers))) for item in items)


def _asked(
    item: Item, items: tuple[Item, ...], sets: tuple[ProvedSet, ...], papers: tuple[Paper, ...]
) -> Iterator[Requirement]:
    for proved in sets:
        if item.goods not in proved.goods or not _near(item.address, proved.address):
            continue
        changed = {
            one.goods
            for one in items
            if one.goods in proved.goods and _near(one.address, proved.address) and _changed(one)
        }
        others = sorted(changed - {item.goods}) or (sorted(proved.goods - {item.goods}) if changed else [])
        letter = any(paper.kind == LETTER and _near(paper.address, proved.address) for paper in papers)
        if others and not letter:
            what = "and ".join(f"the {one} " for one in others).strip()
            means = f"proved together with {what}"
            why = "the set is not the one that was proved" if changed else ""
            yield Requirement(
                means, f'set "{proved.name}"', f"{', '.join(sorted(changed))} changed", NOT_SHOWN, proved.span,
                settles=f"a {LETTER}", why=why, key="set",
            )  # fmt: skip


def _changed(item: Item) -> bool:
    return item.offered in (SUBSTITUTION, EQUAL) or any(row.outcome == FAILS for row in item.requirements)


def _near(first: tuple[str, ...], second: tuple[str, ...]) -> bool:
    """Whether one address lies at or within the other."""
    return all(same(a) == same(b) for a, b in zip(first, second, strict=False))
