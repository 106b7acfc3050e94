"""Standard input, output and error, and what may go wrong with them."""

from __future__ import annotations

import os
import sys
from typing import Any, NoReturn

from speclint.forms.safe import safe
from speclint.kernel.faults import UsageFault
from speclint.language.reader import TEXT_LIMIT


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
        from speclint.files.write import replace_file

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
