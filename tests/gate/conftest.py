"""A repository of an invented firm in a folder of its own, and the command line run in it."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from speclint.cli.main import main

Run = Callable[..., tuple[int, str, str]]
Git = Callable[..., str]
PLAN = """\
plan "Larch House"
  answers to       ansi, irc 2021
  stage            design

room "bath"
  exposure         wet

assembly "walls" in "bath"
  surface          wall "back", 60 in x 96 in
  tile             porcelain, 12 x 24 in, thick 3/8 in
  pattern          running bond 50%
"""
OFFSET = "plans/a.wetspec: offset-over-a-third at bath / walls"


@pytest.fixture
def git(tmp_path: Path) -> Git:
    """Runs git in the repository."""
    if shutil.which("git") is None:
        pytest.skip("git is not installed here")
    quiet = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1", "PATH": os.environ["PATH"]}
    names = {
        f"GIT_{who}_{what}": "mill@example.invalid" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")
    }

    def run_git(*words: str) -> str:
        told = subprocess.run(["git", *words], cwd=tmp_path, capture_output=True, check=True, env={**quiet, **names})
        return told.stdout.decode()

    run_git("init", "-q", "-b", "main")
    return run_git


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs speclint in the folder: exit code, standard output, standard error."""
    monkeypatch.chdir(tmp_path)
    Path("plans").mkdir()
    Path("plans/a.wetspec").write_text(PLAN)

    def go(*words: str) -> tuple[int, str, str]:
        code = main(["review", *words, "--as-of", "2026-06-01"])
        told = capsys.readouterr()
        return code, told.out, told.err

    return go


def edit(old: str, new: str, path: str = "plans/a.wetspec") -> None:
    """Change one stretch of a file."""
    text = Path(path).read_text()
    assert old in text
    Path(path).write_text(text.replace(old, new, 1))
