"""The terminal: how wide it is, and whether it is coloured."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import IO

USUAL_WIDTH = 80


def want_colour(choice: str, environ: Mapping[str, str], terminal: bool) -> bool:
    """Whether to colour: the option (always, never) before NO_COLOR, FORCE_COLOR, TERM=dumb and the terminal itself.

    A variable counts when it is set and not empty.
    """
    if choice in ("always", "never"):
        return choice == "always"
    if environ.get("NO_COLOR"):
        return False
    if environ.get("FORCE_COLOR"):
        return True
    return terminal and environ.get("TERM") != "dumb"


def width_of_output(environ: Mapping[str, str]) -> int:
    """Columns of the terminal: COLUMNS before what the terminal says, 80 where there is none."""
    columns = environ.get("COLUMNS", "")
    if columns.isascii() and columns.isdigit() and int(columns[:6]) > 0:
        return int(columns[:6])
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or USUAL_WIDTH
    except (OSError, ValueError, AttributeError):
        return USUAL_WIDTH


def is_terminal(stream: IO[str] | None) -> bool:
    """Whether a stream is a terminal; one that is closed or missing is not."""
    try:
        return bool(stream and stream.isatty())
    except ValueError:
        return False
