"""Standard input, output and error: what may go wrong with them, and whether output is coloured."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import IO, Any, NoReturn

from speclint.files.write import replace_file
from speclint.forms.safe import safe
from speclint.kernel.faults import UsageFault
from speclint.language.reader import TEXT_LIMIT

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


def steady() -> None:
    """Let no sign that the terminal's encoding lacks stop the output: it stands as a question mark."""
    for stream in (sys.stdout, sys.stderr):
        change: Any = getattr(stream, "reconfigure", None)
        if change is not None:
            change(errors="replace")


def put(text: str, into: str = "") -> None:
    """Write results to standard output, or into a file at once.

    Raises UsageFault when that cannot be done, BrokenPipeError when the reader has gone.
    """
    if into:
        replace_file(into, text)
    elif sys.stdout is not None:
        try:
            sys.stdout.write(text)
        except BrokenPipeError:
            raise
        except OSError as error:
            _unwritten(error)


def flush() -> None:
    """Send what waits in standard output; raises as ``put`` does."""
    if sys.stdout is not None:
        try:
            sys.stdout.flush()
        except BrokenPipeError:
            raise
        except OSError as error:
            _unwritten(error)


def _unwritten(error: OSError) -> NoReturn:
    raise UsageFault(f"the output cannot be written: {(error.strerror or 'it failed').lower()}") from None


def tell(message: str) -> None:
    """Write to standard error, one line a line, each with the name of the program before it."""
    if sys.stderr is None:
        return
    for line in message.split("\n"):
        sys.stderr.write(f"speclint: {safe(line)}\n")


def drop_output() -> None:
    """After the reader has gone: let the interpreter close its output without a second complaint."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
    except (OSError, ValueError, AttributeError):
        pass


def standard_input() -> bytes:
    """The bytes of standard input, one more than a plan may have at most."""
    if sys.stdin is None:
        raise UsageFault("there is no standard input to read from")
    return sys.stdin.buffer.read(TEXT_LIMIT + 1)
