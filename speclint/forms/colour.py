"""Colour for the terminal form; the only module that imports rich, and only once a terminal is there."""

from __future__ import annotations

import io
from collections.abc import Iterable

from rich.console import Console
from rich.text import Text

from speclint.forms.rows import Row

STYLES = {
    "strong": "bold",
    "faint": "dim",
    "tear-out": "bold red",
    "callback": "bold yellow",
    "remark": "bold cyan",
    "good": "bold green",
}


def coloured(rows: Iterable[Row]) -> str:
    """The rows as text with colour; the words alone say everything that the colour says."""
    stream = io.StringIO()
    console = Console(
        file=stream,
        force_terminal=True,
        color_system="standard",
        no_color=False,
        width=200,  # rows are folded already
        highlight=False,
        legacy_windows=False,
    )
    for row in rows:
        line = Text(no_wrap=True, overflow="ignore")
        for text, style in row:
            line.append(text, STYLES.get(style, ""))
        line.rstrip()
        console.print(line, markup=False, emoji=False, soft_wrap=True)
    return stream.getvalue()
