"""Pages for tests: of example plans as the program writes them, and of reports made by hand."""

from __future__ import annotations

import contextlib
import io
from pathlib import Path

import pytest

from speclint.cli.main import main

AS_OF = "2026-06-01"


def page_of_file(path: Path, *more: str, form: str = "html") -> str:
    """What ``review --as html`` (or another form of page) writes for one plan."""
    pytest.importorskip("jinja2", reason="the page needs jinja2: pip install 'speclint[report]'")
    stream = io.StringIO()
    with contextlib.redirect_stdout(stream):
        code = main(["review", str(path), "--as", form, "--as-of", AS_OF, *more])
    assert code in (0, 1)
    return stream.getvalue()
