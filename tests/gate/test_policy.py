"""What a repository settles: its project file, its pins, its packs, and all of it as it stood at a revision."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from speclint.cli.main import main
from speclint.files.history import revision
from speclint.files.project import find_project
from speclint.kernel.faults import PackFault, UsageFault
from tests.gate.conftest import OFFSET, PLAN, Git, Run, edit

VARIANCE = """
variance "offset-over-a-third" on "walls"
  accepts          running bond 50%
  because          "mock-up accepted by the owner"
  granted by       "designer"
  until            2026-12-31
"""
RULE = """\
name: tile-too-thin-for-the-firm
weight: remark
spec part: 2
acts: setter
may be varied by: designer
judges: assembly
applies: tile.material is stated
demands: tile.thick >= 1/2 in
points at: tile.thick
message: "Tile of {tile.thick} is thinner than the firm takes."
settles: the label on the box
cites: [{basis: common practice, confidence: medium}]
examples:
  - {shows: just thick enough, text: "tile porcelain, thick 1/2 in", ends: meets}
  - {shows: a step too thin, text: "tile porcelain, thick 63/128 in", ends: does not meet, points at: "63/128 in",
     message: "Tile of 63/128 in is thinner than the firm takes."}
  - {shows: no thickness told, text: "tile porcelain", ends: not shown, missing: [tile.thick]}
"""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty"),
        ("packs: [ansi]\n", "1:8: a list stands where a mapping is due"),
        ("pack: {}\n", '"pack" is no field'),
        ("stop at: none\n", "none of tear-out, callback, remark"),
        ("packs: {ansi: {version: '9.9'}}\n", "pack ansi is version 1.0.0, pinned is 9.9"),
        ("packs: {ansi: {hash: '000000'}}\n", "pinned is 000000"),
        ("packs: {anse: }\n", 'no pack is named "anse"'),
        ("own packs: [../elsewhere]\n", "lies outside the project"),
        ("own packs: [/etc]\n", "lies outside the project"),
        ("own packs: [absent]\n", "there is no folder"),
        ("plans: [../..]\n", "lies outside the project"),
        ("as found: ../x\n", "lies outside the project"),
        ("questions stop from: before lunch\n", 'no stage is named "before lunch"'),
        ("roles: {Larch Studio: desiner}\n", '"desiner" of Larch Studio is no role; nearest: "designer"'),
        ("left out: {answer tu: ansi}\n", "under left out"),
        ("left out: {answers to: nonsense}\n", "under left out"),
        ('left out: {answers to: "ansi\\nroom"}\n', "is not shaped like"),
        ('left out: {include: "../x.wetspec"}\n', "under left out"),
        ("a: &x 1\n", "anchors and aliases are not read"),
        ("\xff", "not UTF-8"),
    ],
)
def test_a_project_file_that_does_not_hold_is_exit_2(run: Run, text: str, said: str) -> None:
    """With the reason, and in forms for programs too a run that could not run."""
    Path("speclint.yaml").write_bytes(text.encode("latin-1"))
    code, _, err = run("plans")
    assert code == 2
    assert said in err and "Traceback" not in err
    code, out, _ = run("plans", "--as", "sarif")
    assert code == 2
    assert json.loads(out)["runs"][0]["invocations"][0]["executionSuccessful"] is False


def test_what_a_project_settles(run: Run) -> None:
    """Level, stage from which questions stop, folders, lines left out, words; an option stands before it."""
    Path("speclint.yaml").write_text("stop at: tear-out\nplans: [plans]\nsummary words: {revise: send it back}\n")
    code, out, _ = run()
    assert code == 0
    assert "send it back" in out
    assert run("--stop-at", "callback")[0] == 1
    Path("plans/a.wetspec").write_text(PLAN.replace("  answers to       ansi, irc 2021\n", ""))
    _, out, _ = run("--as", "json")
    assert "Which codes and standards" in out
    Path("speclint.yaml").write_text("left out: {answers to: 'ansi, irc 2021', stage: closeout}\n")
    _, out, _ = run("plans", "--as", "json")
    assert "Which codes and standards" not in out
    assert json.loads(out)["plans"][0]["stage"] == "design", "what the plan says stands before it"
    Path("plans/a.wetspec").write_text(PLAN.replace("running bond 50%", "stacked"))
    assert run("plans")[0] == 0
    Path("speclint.yaml").write_text("questions stop from: design\n")
    assert run("plans")[0] == 1


def test_a_named_office_grants_in_its_role(run: Run) -> None:
    """A variance by a name that nobody knows is void; the project file says whose name stands for which role."""
    granted = """
variance "offset-over-a-third" on "walls"
  accepts          running bond 50%
  because          "mock-up accepted"
  granted by       "Larch Studio"
  until            2099-12-31
"""
    plan = Path("plans/a.wetspec")
    plan.write_text(plan.read_text() + granted)
    rule = next(one for one in json.loads(run("plans", "--as", "json")[1])["plans"][0]["variances"])
    assert rule["state"] == "void" and "Larch Studio may not vary this rule" in rule["why"]
    Path("speclint.yaml").write_text("roles: {larch  studio: architect}\n")
    told = json.loads(run("plans", "--as", "json")[1])["plans"][0]["variances"][0]
    assert (told["state"], told["grantedBy"]) == ("granted", "designer")
    Path("speclint.yaml").write_text("roles: {Larch Studio: glazier}\n")
    assert json.loads(run("plans", "--as", "json")[1])["plans"][0]["variances"][0]["state"] == "void"


def test_packs_that_are_named_are_those_used_and_pins_that_hold_pass(run: Run) -> None:
    _, out, _ = run("plans", "--as", "json")
    packs = {pack["name"]: pack for pack in json.loads(out)["plans"][0]["packs"]}
    pin = f"packs: {{ansi: {{version: {packs['ansi']['version']}, hash: {packs['ansi']['hash'][:12]}}}}}\n"
    Path("speclint.yaml").write_text(pin)
    code, out, _ = run("plans", "--as", "json")
    assert code == 1
    assert [pack["name"] for pack in json.loads(out)["plans"][0]["packs"]] == ["ansi"]


def test_the_project_is_found_upwards_and_never_outside_the_repository(git: Git, tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    (inner / "plans").mkdir(parents=True)
    (tmp_path / "speclint.yaml").write_text("stop at: remark\n")
    assert find_project(str(inner / "plans")).stop_at == "remark"
    (inner / ".git").mkdir()
    assert find_project(str(inner / "plans")).stop_at == ""
    assert find_project(str(inner / "plans")).root == str(inner)
    os.symlink(tmp_path / "speclint.yaml", inner / "speclint.yaml")
    with pytest.raises(UsageFault, match="leads elsewhere"):
        find_project(str(inner / "plans"))
    (tmp_path / "speclint.yaml").write_text("x" * (1 << 21))
    with pytest.raises(PackFault, match="more than"):
        find_project(str(tmp_path))


def test_a_change_cannot_excuse_itself(git: Git, run: Run) -> None:
    """Variance, as found, stop level and pins of the change itself count for nothing with --policy-from."""
    Path("plans/a.wetspec").write_text(PLAN.replace("50%", "33%"))
    git("add", ".")
    git("commit", "-qm", "sound")
    assert run("plans", "--policy-from", "main")[0] == 0
    Path("plans/a.wetspec").write_text(PLAN + VARIANCE)
    Path("speclint.yaml").write_text("stop at: tear-out\nas found: old.txt\n")
    Path("old.txt").write_text(OFFSET + "\n")
    assert run("plans")[0] == 0
    code, out, _ = run("plans", "--policy-from", "main", "--as", "lines")
    assert code == 1
    assert "variance void, offset-over-a-third: it does not stand so at the revision" in out
    git("add", ".")
    git("commit", "-qm", "agreed")
    assert run("plans", "--policy-from", "main")[0] == 0
    edit("until            2026-12-31", "until            2027-12-31")
    edit("tear-out", "callback", "speclint.yaml")
    edit(OFFSET, "# none", "old.txt")
    code, out, _ = run("plans", "--policy-from", "main", "--as", "json")
    assert code == 0, "level and as found are still those of main"
    assert [one["state"] for one in json.loads(out)["plans"][0]["variances"]] == ["void"]
    assert run("plans", "--policy-from", "main", "--as-found", "rewrite")[0] == 2


def test_own_packs_are_read_as_they_stood(git: Git, run: Run) -> None:
    """A pack of the project's own that a change weakens still judges that change."""
    folder = Path("firm/tile")
    folder.mkdir(parents=True)
    Path("firm/pack.yaml").write_text(
        "name: firm\nversion: 1.0.0\ntitle: The firm\nregion: anywhere\nmeans: Our own.\n"
    )
    rule = folder / "tile-too-thin-for-the-firm.yaml"
    rule.write_text(RULE)
    Path("speclint.yaml").write_text("own packs: [firm]\n")
    code, out, err = run("plans", "--as", "lines")
    assert "tile-too-thin-for-the-firm" in out, err
    git("add", ".")
    git("commit", "-qm", "own pack")
    rule.write_text(RULE.replace("1/2 in", "1/8 in"))
    assert "tile-too-thin-for-the-firm" not in run("plans", "--as", "lines")[1]
    _, out, _ = run("plans", "--as", "lines", "--policy-from", "HEAD")
    assert "tile-too-thin-for-the-firm" in out
    rule.write_text("name: [\n")
    code, _, err = run("plans")
    assert code == 2 and "firm/tile/tile-too-thin-for-the-firm.yaml" in err


def test_only_what_changed_is_reviewed(git: Git, run: Run) -> None:
    """Plans that changed, are new, or include what changed or went; all of them once the policy changed."""
    for name in ("b", "c", "d"):
        Path(f"plans/{name}.wetspec").write_text(PLAN)
    Path("plans/d.wetspec").write_text(PLAN + '  include "firm.wetspec"\n')
    Path("plans/firm.wetspec").write_text('assembly "usual"\n  grout A118.7\n')
    git("add", ".")
    git("commit", "-qm", "plans")

    def reviewed() -> list[str]:
        out = run("plans", "--changed-since", "main", "--as", "json")[1]
        return [Path(one["file"]).stem for one in json.loads(out)["plans"]]

    assert reviewed() == []
    edit("Larch House", "Larch House, upstairs", "plans/b.wetspec")
    Path("plans/ö 'new.wetspec").write_text(PLAN)
    assert reviewed() == ["b", "ö 'new"]
    edit("A118.7", "A118.3", "plans/firm.wetspec")
    assert reviewed() == ["b", "d", "firm", "ö 'new"]
    Path("plans/firm.wetspec").unlink()
    assert reviewed() == ["b", "d", "ö 'new"]
    Path("speclint.yaml").write_text("stop at: callback\n")
    assert reviewed() == ["a", "b", "c", "d", "ö 'new"]


@pytest.mark.parametrize(
    "name", ["", "--output=x", "-n", "absent", "a..b", "main:plans", "\x00", "$(touch hit)", "@{-9}"]
)
def test_a_revision_is_a_name_and_never_an_option(git: Git, run: Run, name: str) -> None:
    """Whatever is given, nothing is executed and no file appears."""
    git("add", ".")
    git("commit", "-qm", "plans")
    before = sorted(os.listdir("."))
    with pytest.raises(UsageFault):
        revision(name, ".")
    if name:
        assert main(["review", "plans", f"--changed-since={name}"]) == 2
        assert main(["review", "plans", f"--policy-from={name}"]) == 2
    assert sorted(os.listdir(".")) == before


def test_nothing_of_the_repository_is_executed(git: Git, run: Run, tmp_path: Path) -> None:
    """Hooks, watchers, and tools for showing differences that the repository names do not run."""
    git("add", ".")
    git("commit", "-qm", "plans")
    trap = tmp_path / "trap.sh"
    trap.write_text(f"#!/bin/sh\ntouch {tmp_path}/hit\n")
    trap.chmod(0o755)
    for key in (
        "core.fsmonitor",
        "diff.external",
        "core.pager",
        "core.sshCommand",
        "diff.x.textconv",
        "diff.x.command",
    ):
        git("config", key, str(trap))
    hooks = tmp_path / ".git" / "hooks"
    hooks.mkdir(exist_ok=True)
    (hooks / "post-index-change").symlink_to(trap)
    (tmp_path / ".gitattributes").write_text("*.wetspec diff=x\n")
    edit("Larch", "Birch")
    assert run("plans", "--changed-since", "main", "--policy-from", "main")[0] == 1
    assert not (tmp_path / "hit").exists()


def test_without_a_repository_it_says_so(run: Run) -> None:
    code, _, err = run("plans", "--changed-since", "main")
    assert code == 2
    assert "not a git repository" in err
