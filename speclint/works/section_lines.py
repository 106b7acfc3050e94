"""Where a plan tells of what: the file and line of every key, section by section."""

from __future__ import annotations

from speclint.facts.subject import Subject, section_of
from speclint.plan.tree import Node
from speclint.works.section_values import Lines


class Told:
    """The lines of a plan by section and key."""

    def __init__(self, root: Node) -> None:
        """Gather every line of a plan."""
        self.by_key: dict[tuple[tuple[str, ...], str], Lines] = {}
        self.headings: dict[tuple[str, ...], Lines] = {}
        self._gather(root)

    def _gather(self, node: Node) -> None:
        self.headings[node.address] = ((node.span.file, node.span.line),)
        for entry in node.entries:
            at = node.address, entry.key
            self.by_key[at] = (*self.by_key.get(at, ()), (entry.span.file, entry.span.line))
        for child in node.children:
            if child.kind in ("room", "assembly", "part"):
                self._gather(child)

    def of(self, section: Subject, *keys: str) -> Lines:
        """The lines of some keys in a section."""
        return tuple(line for key in keys for line in self.by_key.get((section.address, key), ()))

    def item(self, item: Subject, *keys: str) -> Lines:
        """The line of a repeated thing, and those of keys that tell more of it."""
        return ((item.span.file, item.span.line), *self.of(section_of(item), *keys))
