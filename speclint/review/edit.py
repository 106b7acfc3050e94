"""A change of one line of a plan."""

from __future__ import annotations

from typing import NamedTuple

from speclint.kernel.span import Span


class Edit(NamedTuple):
    """A line to write in the place of the one at ``span``, or a ``fresh`` one below the heading there."""

    span: Span
    text: str
    fresh: bool = False
