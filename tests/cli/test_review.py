"""``speclint review`` through the command line: exit codes, bad input of every kind, forms, streams."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from speclint.cli import job as job_command
from speclint.cli import review as review_command
from speclint.cli.main import main
from speclint.cli.review import day, stage_of
from speclint.cli.terminal import want_colour, width_of_output
from speclint.files.plans import plan_of_bytes
from speclint.forms.lines import lines_form
from speclint.forms.text import text_form
from speclint.kernel.faults import EngineDefect, UsageFault
from speclint.review.kit import Kit
from speclint.review.run import review
from tests.cli.conftest import GOOD, Run
from tests.forms.reports import CLEAN, FULL, LINER, QUESTIONS, REMARK, report

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "shared" / "schemas" / "report.json").read_text(encoding="utf-8"))


def test_a_plan_with_nothing_to_say(run: Run) -> None:
    """Exit 0 and a summary in each form (a plan without an assembly reads open questions, semantics 11)."""
    Path("a.wetspec").write_text(GOOD)
    code, out, err = run("review", "a.wetspec")
    assert (code, err) == (0, "")
    assert out.startswith("Larch House")
    assert "open questions" in out
    code, out, err = run("review", "a.wetspec", "--as", "lines")
    assert (code, err) == (0, "")
    assert out.startswith("a.wetspec:1:1: summary: open questions")


@pytest.mark.parametrize(
    ("name", "data", "code", "said"),
    [
        ("empty", b"", 1, "no heading"),
        ("binary", bytes(range(256)), 1, "byte 0x80 is not UTF-8"),
        ("nul", GOOD.encode() + b"\x00", 1, "NUL"),
        ("latin", GOOD.encode() + b"  note \xe9\n", 1, "not UTF-8"),
        ("utf16", GOOD.encode("utf-16"), 1, "UTF-16"),
        ("bom", b"\xef\xbb\xbf" + GOOD.encode(), 0, "open questions"),
        ("crlf", GOOD.replace("\n", "\r\n").encode(), 0, "open questions"),
        ("large", GOOD.encode() + b"#" * (1 << 20), 1, "1 MiB"),
        ("key", GOOD.encode() + b"  exposur dry\n", 1, "is no key of room"),
        ("fragment", b'room "bath"\n', 0, "fragment"),
        ("number", GOOD.encode() + b"  ceiling height " + b"9" * 5000 + b" in\n", 1, "digits"),
        ("string", GOOD.encode() + b'  note "' + b"x" * 5000 + b'"\n', 1, "4,096"),
        ("circle", GOOD.encode() + b'  include "a.wetspec"\n', 1, "run in a circle"),
        ("escape", GOOD.encode() + b'  include "../../x.wetspec"\n', 1, "leads out of the repository"),
    ],
)
def test_every_kind_of_bad_file(run: Run, name: str, data: bytes, code: int, said: str) -> None:
    """A clear line with its place and no trace; the exit code of each (semantics 11, 17)."""
    Path("a.wetspec").write_bytes(data)
    for form in ("lines", "text", "json"):
        got, out, err = run("review", "a.wetspec", "--as", form)
        assert got == code, name
        assert "Traceback" not in out + err
        assert said in " ".join(out.split())


def test_what_is_not_there_is_2_and_the_rest_is_reviewed(run: Run) -> None:
    """An absent file, an absent folder, a folder without plans, a pipe; beside a good plan."""
    Path("a.wetspec").write_text(GOOD)
    Path("empty").mkdir()
    os.mkfifo("pipe.wetspec")
    for bad, said in (
        ("b.wetspec", "no such file or folder"),
        ("absent/", "no such file or folder"),
        ("pipe.wetspec", "no plain file"),
    ):
        code, out, err = run("review", bad, "a.wetspec", "--as", "lines")
        assert code == 2
        assert said in err
        assert err.startswith(f"speclint: {bad}: ")
        assert "a.wetspec:1:1: summary" in out
    code, out, err = run("review", "empty")
    assert (code, out) == (2, "")
    assert "there is no plan here" in err


def test_an_unreadable_file_is_2(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """As when the system refuses to open it."""
    Path("a.wetspec").write_text(GOOD)

    def refuse(*_: object) -> object:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr("speclint.files.plans.open", refuse, raising=False)
        code, _, err = run("review", "a.wetspec")
    assert code == 2
    assert err == "speclint: a.wetspec: this file cannot be read: permission denied\n"


def test_json_names_what_was_not_read(run: Run) -> None:
    """So that a program never takes silence for a pass; valid by the published schema."""
    Path("a.wetspec").write_text(GOOD)
    code, out, _ = run("review", "a.wetspec", "b.wetspec", "--as", "json")
    whole = json.loads(out)
    jsonschema.validate(whole, SCHEMA, cls=jsonschema.Draft7Validator)
    assert code == 2
    assert [one["file"] for one in whole["notRead"]] == ["b.wetspec"]
    assert len(whole["plans"]) == 1
    assert "did you" not in out
    assert '"a.wetspec' in whole["notRead"][0]["message"]


@pytest.mark.parametrize(
    ("reports", "options", "code"),
    [
        ([CLEAN], [], 0),
        ([report(findings=(REMARK,))], [], 0),
        ([report(findings=(REMARK,))], ["--stop-at", "remark"], 1),
        ([report(findings=(LINER,))], ["--stop-at", "tear-out"], 1),
        ([report(questions=QUESTIONS)], [], 0),
        ([report(questions=QUESTIONS)], ["--stop-on", "questions"], 1),
        ([report(questions=QUESTIONS, stage="before tile")], [], 1),
        ([CLEAN, FULL, CLEAN], [], 1),
        ([CLEAN, EngineDefect("x"), FULL], [], 70),
        ([CLEAN, ZeroDivisionError("x"), FULL], [], 70),
        ([CLEAN, UsageFault("x"), FULL], [], 2),
        ([UsageFault("x"), RecursionError("x")], [], 70),
    ],
)
def test_exit_codes(
    run: Run, monkeypatch: pytest.MonkeyPatch, reports: list[object], options: list[str], code: int
) -> None:
    """Many files: 70 over 2 over 1 over 0, and every other plan is still told."""
    waiting = iter(reports)

    def told(*_: object) -> object:
        one = next(waiting)
        if isinstance(one, Exception):
            raise one
        return one

    monkeypatch.setattr(job_command, "review", told)
    for number in range(len(reports)):
        Path(f"{number}.wetspec").write_text(GOOD)
    got, out, err = run("review", ".", "--as", "lines", *options)
    assert got == code
    assert "Traceback" not in err
    faults = [one for one in reports if isinstance(one, Exception)]
    assert out.count(": summary: ") == len(reports) - len(faults)
    assert err.count("\n") == len(faults)


def test_a_fault_before_the_first_plan_is_70(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """One line, no trace, and it asks for a report."""

    def broken(**_: object) -> object:
        raise KeyError("x")

    monkeypatch.setattr(review_command, "load_kit", broken)
    code, _, err = run("review")
    assert code == 70
    assert "please report" in err
    assert err.count("\n") == 1


def test_interrupted_is_130(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a shell expects."""

    def stop(*_: object) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr(job_command, "review", stop)
    Path("a.wetspec").write_text(GOOD)
    assert run("review", "a.wetspec")[0] == 130


def test_standard_input_stands_for_a_path(run: Run) -> None:
    """Places and includes go by --stdin-name."""
    Path("firm").mkdir()
    Path("firm/r.wetspec").write_text('room "sauna"\n  exposur wet\n')
    text = GOOD + '  include "r.wetspec"\n'
    code, out, _ = run("review", "-", "--stdin-name", "firm/plan.wetspec", "--as", "lines", stdin=text.encode())
    assert code == 1
    assert 'firm/r.wetspec:2:3: unreadable: "exposur wet"' in out
    assert "firm/plan.wetspec:1:1: summary: revise" in out
    assert run("review", "-", "--as", "lines", stdin=b"")[1].startswith("stdin:1:1: unreadable: there is no heading")


@pytest.mark.parametrize("form", ["text", "lines", "json"])
def test_into_a_file_gives_the_same_bytes_each_time(run: Run, form: str) -> None:
    """Twice into files and once to the terminal: byte for byte the same, and nothing on standard output."""
    Path("plans").mkdir()
    for name in ("b", "a"):
        Path(f"plans/{name}.wetspec").write_text(GOOD + "  exposur wet\n")
    options = ("review", "plans", "--as", form, "--as-of", "2026-04-02")
    code, out, err = run(*options, "--into", "one")
    assert (code, out, err) == (1, "", "")
    run(*options, "--into", "two")
    _, shown, _ = run(*options)
    assert Path("one").read_bytes() == Path("two").read_bytes() == shown.encode()
    code, _, err = run(*options, "--into", "absent/one")
    assert code == 2
    assert "there is no folder" in err


def test_several_plans_end_with_a_tally(run: Run) -> None:
    """The text form counts them."""
    Path("a.wetspec").write_text(GOOD)
    Path("b.wetspec").write_text('room "bath"\n')
    assert run("review")[1].endswith("\n\n1 plan: 1 open questions, 1 fragment not judged alone\n")


def test_colour_only_where_it_is_wanted(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Never in a machine form, never into a file, by option and variable otherwise."""
    Path("a.wetspec").write_text(GOOD)
    assert "\x1b[" not in run("review")[1]
    assert "\x1b[" in run("review", "--color", "always")[1]
    assert "\x1b[" not in run("review", "--color", "always", "--as", "lines")[1]
    run("review", "--color", "always", "--into", "out")
    assert b"\x1b[" not in Path("out").read_bytes()
    monkeypatch.setenv("FORCE_COLOR", "1")
    assert "\x1b[" in run("review")[1]
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b[" not in run("review")[1]


@pytest.mark.parametrize(
    ("choice", "environ", "terminal", "wanted"),
    [
        ("auto", {}, True, True),
        ("auto", {}, False, False),
        ("auto", {"NO_COLOR": "1"}, True, False),
        ("auto", {"NO_COLOR": ""}, True, True),
        ("auto", {"FORCE_COLOR": "1"}, False, True),
        ("auto", {"FORCE_COLOR": ""}, False, False),
        ("auto", {"NO_COLOR": "1", "FORCE_COLOR": "1"}, True, False),
        ("auto", {"TERM": "dumb"}, True, False),
        ("auto", {"TERM": "dumb", "FORCE_COLOR": "1"}, True, True),
        ("always", {"NO_COLOR": "1"}, False, True),
        ("never", {"FORCE_COLOR": "1"}, True, False),
    ],
)
def test_want_colour(choice: str, environ: dict[str, str], terminal: bool, wanted: bool) -> None:
    """Option, NO_COLOR, FORCE_COLOR, TERM=dumb, terminal, in this order; a variable counts when not empty."""
    assert want_colour(choice, environ, terminal) is wanted


def test_width_and_day_come_from_the_environment(kit: Kit) -> None:
    """COLUMNS, SOURCE_DATE_EPOCH; hostile values are passed over."""
    assert width_of_output({"COLUMNS": "46"}) == 46
    assert width_of_output({"COLUMNS": "-3"}) >= 40
    assert width_of_output({"COLUMNS": "²"}) >= 40
    assert day("", {"SOURCE_DATE_EPOCH": "0"}) == "1970-01-01"
    assert day("2026-02-28", {}) == "2026-02-28"
    for bad in ("2026-02-29", "01/02/26", "20260105", "2026-W02-1", "2026-1-5", "2026-01-05T00:00", "x"):
        with pytest.raises(UsageFault, match="no day"):
            day(bad, {})
    assert stage_of("Before  Tile", kit) == "before tile"
    assert stage_of("handover", kit) == "closeout"
    assert stage_of("rough-in", kit) == "rough-in"
    with pytest.raises(UsageFault, match='nearest: "before tile"'):
        stage_of("befor tile", kit)


def test_a_stage_overrides_all(run: Run) -> None:
    """And is said to be it."""
    Path("a.wetspec").write_text(GOOD)
    assert "stage said to be closeout" in run("review", "--stage", "handover")[1]
    code, _, err = run("review", "--stage", "soon")
    assert code == 2
    assert "no stage is named" in err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["review", "--al-questions"], 'nearest: "--all-questions"'),
        (["review", "--as", "xml"], "invalid choice"),
        (["review", "--as-of", "soon"], "is no day"),
        (["revue"], 'nearest: "review"'),
        (["approve"], "there are review"),
        (["help", "revue"], 'nearest: "review"'),
        (["--colour"], "no command is named"),
    ],
)
def test_wrong_words_are_2(run: Run, words: list[str], said: str) -> None:
    """With the nearest right one."""
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert said in err


def test_help_is_everywhere(run: Run) -> None:
    """No words (which ran nothing: 2), -h, --help, help, help of a command; an example first."""
    code, out, _ = run()
    assert code == 2
    assert out.startswith("example:\n  speclint ")
    for words in (["-h"], ["--help"], ["help"]):
        assert run(*words)[:2] == (0, out)
    told = run("help", "review")
    assert told == run("review", "--help")
    assert told[0] == 0
    assert told[1].index("example:") < told[1].index("--stop-at")
    assert all(len(line) <= 80 for line in out.splitlines())


def test_version(run: Run) -> None:
    """One line; with --verbose packs and Python."""
    code, out, _ = run("--version")
    assert code == 0
    assert re.fullmatch(r"speclint [0-9.]+\n", out)
    assert f"Python {sys.version.split()[0]}" in run("--version", "--verbose")[1]


def started(*words: str, **other: object) -> subprocess.CompletedProcess[bytes]:
    """A process of its own, in the checkout."""
    return subprocess.run(  # type: ignore[call-overload, no-any-return]
        [sys.executable, *words], capture_output=True, cwd=ROOT, timeout=60, **other
    )


def test_lines_load_no_heavy_library(tmp_path: Path) -> None:
    """A hook runs this for each commit: no rich, no schema, no parser generator, no YAML (performance, design 9)."""
    plan = tmp_path / "a.wetspec"
    plan.write_text(GOOD)
    heavy = (
        "rich",
        "jsonschema",
        "lark",
        "yaml",
        "importlib.metadata",
        "speclint.forms.text",
        "speclint.forms.json_form",
    )
    script = (
        "import sys; from speclint.cli.main import main; main(['review', '--as', 'lines', sys.argv[1]]);"
        f"code = main(['review', '--as', 'lines', sys.argv[1]]); print(code, [n for n in {heavy} if n in sys.modules])"
    )
    started("-c", script, str(plan))  # the first run may have to compile the data
    told = started("-c", script, str(plan))
    assert told.stdout.decode().splitlines()[-1].endswith(" []"), told.stderr


def test_a_reader_that_goes_is_141(tmp_path: Path) -> None:
    """No trace on standard error."""
    for number in range(200):
        (tmp_path / f"{number}.wetspec").write_text(GOOD + "  exposur wet\n" * 40)
    process = subprocess.Popen(
        [sys.executable, "-m", "speclint", "review", "--as", "lines", str(tmp_path)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.readline()
    process.stdout.close()
    assert process.stderr.read() == b""
    assert process.wait(60) == 141


def test_ctrl_c_is_130(tmp_path: Path) -> None:
    """Sent while it waits for standard input."""
    process = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import speclint.cli.review; from speclint.cli.main import main; import sys; "
            "print('up', flush=True); sys.exit(main(['review', '-']))",
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    assert process.stdout is not None
    process.stdout.readline()
    import time

    time.sleep(1)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (130, b"")


def test_an_encoding_without_the_sign_does_not_stop_output(tmp_path: Path) -> None:
    """A prime or an em dash on a cp1252 console or an ASCII one."""
    plan = tmp_path / "a.wetspec"
    plan.write_text('plan "Larch ″ House ⅜"\n')
    environ = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    told = started("-m", "speclint", "review", str(plan), env=environ)
    assert told.stdout.startswith(b"Larch ? House ?")
    assert told.stderr == b""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
def test_a_full_disk_is_told(tmp_path: Path) -> None:
    """Exit 2 and one line."""
    plan = tmp_path / "a.wetspec"
    plan.write_text(GOOD)
    with open("/dev/full", "wb") as full:
        told = subprocess.run(
            [sys.executable, "-m", "speclint", "review", str(plan)],
            stdout=full,
            stderr=subprocess.PIPE,
            cwd=ROOT,
            timeout=60,
            check=False,
        )
    assert told.returncode == 2
    assert told.stderr == b"speclint: the output cannot be written: no space left on device\n"


WORDS = st.sampled_from(
    [
        "plan",
        "room",
        "assembly",
        '"',
        "x",
        "\x1b[2J",
        "\u202e",
        "\n",
        "\r",
        "\t",
        "\x07",
        "\u2028",
        "floor",
        "60 in",
        "tile",
        "include",
        "note",
        "::error::",
        ",",
        "#",
        " ",
        "  ",
        "½",
        "\x85",
        "like",
        'plan "a\x1b]0;b"',
        "mortar",
        "A118.4",
    ]
)


@given(st.lists(WORDS, max_size=25).map("".join))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_plan_injects_a_line_or_an_escape(kit: Kit, text: str) -> None:
    """From the text of a plan through the whole review: every line of output is ours, and nothing steers a terminal."""
    one = review(plan_of_bytes(text.encode(), "a.wetspec", kit), kit)
    for row in lines_form(one).split("\n")[:-1]:
        assert re.match(r"a\.wetspec:[0-9]+:[0-9]+: [a-z]", row)
    shown = lines_form(one) + text_form(one)
    assert not set(shown) & set("\x1b\x07\x85\r\t\u2028\u202e")


def test_main_never_raises(run: Run) -> None:
    """Whatever the words."""
    for words in (
        [""],
        ["\x00"],
        ["review", "\x00"],
        ["review", "\ud800"],
        ["cite"],
        ["pack", "mend"],
        ["starter", "\x1b"],
    ):
        assert main(words) == 2
