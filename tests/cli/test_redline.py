"""``redline`` from the command line: plans, packs, exit codes."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from speclint.files.data import data_folder
from speclint.works.redline import CHANGED
from tests.cli.conftest import Run
from tests.works.test_redline import OLD


def test_from_the_command_line(run: Run, tmp_path: Path) -> None:
    (tmp_path / "a.wetspec").write_text(OLD, encoding="utf-8")
    (tmp_path / "b.wetspec").write_text(OLD.replace("A118.15", "A118.1"), encoding="utf-8")
    code, out, err = run("redline", "a.wetspec", "b.wetspec", "--as-of", "2026-06-01")
    assert (
        (code, err) == (1, "") and out.startswith("a.wetspec -> b.wetspec\n") and "was:         mortar A118.15" in out
    )
    assert run("redline", "a.wetspec", "a.wetspec")[0] == 0
    assert json.loads(run("redline", "a.wetspec", "b.wetspec", "--as", "json")[1])["lines"][0]["change"] == CHANGED
    (tmp_path / "bad.wetspec").write_text(OLD + "  tyle x\n", encoding="utf-8")
    code, out, err = run("redline", "a.wetspec", "bad.wetspec")
    assert (code, out) == (2, "") and 'bad.wetspec:11:3: "tyle x" is no key of assembly' in err
    assert (
        run("redline", "a.wetspec", ".")[0] == 2
        and run("redline", "a.wetspec", "b.wetspec", "--plan", "a.wetspec")[0] == 2
    )


def test_two_editions_of_a_pack_and_a_plan_by_both(run: Run, tmp_path: Path) -> None:
    source = Path(data_folder("rules")) / "practice"
    for name in ("old", "new"):
        shutil.copytree(source / "records", tmp_path / name / "records")
        shutil.copy(source / "pack.yaml", tmp_path / name / "pack.yaml")
    (tmp_path / "new" / "records" / "no-spare-tile-left.yaml").unlink()
    (tmp_path / "a.wetspec").write_text(OLD, encoding="utf-8")
    code, out, err = run("redline", "old", "new", "--plan", "a.wetspec", "--as-of", "2026-06-01")
    assert (code, err) == (0, "") and "- practice: no-spare-tile-left" in out
    assert run("redline", "old", "old")[1].endswith("nothing changed\n")
