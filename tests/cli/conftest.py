"""The command line in-process: words and facts without rules, and files in a folder of their own."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest

from speclint.cli import review as review_command
from speclint.cli import tidy as tidy_command
from speclint.cli.main import main
from speclint.files.kit import load_kit
from speclint.review.kit import Kit

Run = Callable[..., tuple[int, str, str]]
GOOD = 'plan "Larch House"\n  stage            before tile\n\nroom "bath"\n  exposure         wet\n'


@pytest.fixture(scope="session")
def kit() -> Kit:
    """Loaded once; no rules, so that these tests do not change with them."""
    return load_kit(packs=())


@pytest.fixture
def run(kit: Kit, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run speclint in an empty folder: exit code, standard output, standard error."""
    monkeypatch.chdir(tmp_path)
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "SOURCE_DATE_EPOCH"):
        monkeypatch.delenv(name, raising=False)
    for command in (review_command, tidy_command):
        monkeypatch.setattr(command, "load_kit", lambda **_: kit)

    def go(*words: str, stdin: bytes = b"") -> tuple[int, str, str]:
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(stdin)))
        code = main(words)
        told = capsys.readouterr()
        return code, told.out, told.err

    return go
