"""``submittal`` from the command line: exit codes, forms, the office's own words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from speclint.cli import submittal as command
from speclint.review.kit import Kit
from tests.cli.conftest import Run

SPEC = 'plan "Mill Lane"\nroom "shower"\n  exposure wet\nassembly "walls" in "shower"\n  mortar A118.4 T\n'
HEAD = "item,for,kind,class\n"


@pytest.fixture(autouse=True)
def files(tmp_path: Path, kit: Kit, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(command, "load_kit", lambda **_: kit)
    (tmp_path / "spec.wetspec").write_text(SPEC, encoding="utf-8")
    (tmp_path / "good.csv").write_text(HEAD + "Mortar,walls,mortar,A118.15 T\n", encoding="utf-8")
    (tmp_path / "open.csv").write_text(HEAD + "Mortar,walls,mortar,A118.15\n", encoding="utf-8")
    (tmp_path / "bad.csv").write_text(HEAD + "Mortar,walls,mortar,A118.1 T\n", encoding="utf-8")
    (tmp_path / "broken.csv").write_text(HEAD + "Mortar,wals,mortar,A118.15 T\n", encoding="utf-8")


@pytest.mark.parametrize("data,code,word", [
    ("good.csv", 0, "no exceptions"), ("open.csv", 0, "open questions"), ("bad.csv", 1, "revise"),
])  # fmt: skip
def test_the_exit_code_says_whether_to_send_it_back(run: Run, data: str, code: int, word: str) -> None:
    found, out, err = run("submittal", "spec.wetspec", "--data", data, "--as-of", "2026-06-01")
    assert (found, err) == (code, "") and out.splitlines()[2] == word
    assert run("submittal", "spec.wetspec", "--data", data, "--stop-on", "questions")[0] == (
        0 if word == "no exceptions" else 1
    )


def test_an_address_that_is_not_there_is_told_at_its_row(run: Run) -> None:
    code, out, _ = run("submittal", "spec.wetspec", "--data", "broken.csv")
    assert code == 1 and 'not read: broken.csv:2:1: no section is named "wals"; nearest: "walls"' in out


@pytest.mark.parametrize("words,told", [
    (("nothing.wetspec",), "nothing.wetspec"),
    (("spec.wetspec", "--data", "nothing.csv"), "nothing.csv"),
    (("spec.wetspec", "--bom"), "--bom goes with --as csv"),
    (("spec.wetspec", "--as-of", "soon"), '"soon" is no day'),
])  # fmt: skip
def test_what_cannot_run_is_told_in_one_line(run: Run, words: tuple[str, ...], told: str) -> None:
    code, out, err = run("submittal", *words)
    assert (code, out) == (2, "") and told in err and err.count("\n") == 1


def test_a_fragment_is_no_specification(run: Run, tmp_path: Path) -> None:
    (tmp_path / "part.wetspec").write_text('room "x"\n', encoding="utf-8")
    code, _, err = run("submittal", "part.wetspec")
    assert code == 2 and 'plan "name"' in err


def test_forms_go_into_files(run: Run, tmp_path: Path) -> None:
    assert run("submittal", "spec.wetspec", "--data", "bad.csv", "--as", "md", "--into", "back.md")[0] == 1
    assert (tmp_path / "back.md").read_text(encoding="utf-8").startswith("# Submittal review: Mill Lane\n")
    assert run("submittal", "spec.wetspec", "--data", "bad.csv", "--as", "csv", "--bom", "--into", "back.csv")[0] == 1
    assert (tmp_path / "back.csv").read_bytes().startswith(b"\xef\xbb\xbfitem,for,")
    assert json.loads(run("submittal", "spec.wetspec", "--data", "bad.csv", "--as", "json")[1])["summary"] == "revise"


def test_an_office_has_its_own_words(run: Run, tmp_path: Path) -> None:
    (tmp_path / "speclint.yaml").write_text("summary words: {revise: rejected as noted}\n", encoding="utf-8")
    out = run("submittal", "spec.wetspec", "--data", "bad.csv")[1]
    assert out.count("rejected as noted") == 2 and "\nrevise" not in out


def test_sections_of_the_specification_itself_are_reviewed(run: Run, tmp_path: Path) -> None:
    (tmp_path / "spec.wetspec").write_text(SPEC + 'submittal "m" for "walls"\n  mortar A118.4 T\n', encoding="utf-8")
    assert run("submittal", "spec.wetspec")[0] == 0


def test_several_files_make_one_package(run: Run) -> None:
    out = run("submittal", "spec.wetspec", "--data", "good.csv", "--data", "bad.csv")[1]
    assert "2 items: 1 no exceptions, 1 revise" in out
