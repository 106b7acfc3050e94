"""``takeoff`` and ``layout`` from the command line."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from speclint.cli import closeout as closeout_command
from tests.cli.conftest import Run

PLAN = (Path(__file__).resolve().parents[1] / "works" / "golden.wetspec").read_text(encoding="utf-8")


@pytest.fixture
def plan(tmp_path: Path) -> str:
    (tmp_path / "job.wetspec").write_text(PLAN, encoding="utf-8")
    return "job.wetspec"


def test_takeoff_tells_the_order_first(run: Run, plan: str) -> None:
    code, out, err = run("takeoff", plan)
    assert (code, err) == (0, "") and out.startswith("Order, rounded up once on the whole\n")
    assert "7 to 8 cartons" in out and "hall shower" in out
    assert "blade angle" not in run("takeoff", plan, "--order-only")[1]


def test_takeoff_of_standard_input_is_the_same(run: Run, plan: str) -> None:
    assert run("takeoff", "-", stdin=PLAN.encode())[1] == run("takeoff", plan)[1]


def test_a_folder_is_one_order(run: Run, plan: str, tmp_path: Path) -> None:
    (tmp_path / "other.wetspec").write_text(PLAN.replace("Larch House", "Mill Lane"), encoding="utf-8")
    found = json.loads(run("takeoff", "--as", "json")[1])
    mortar = next(one for one in found["order"] if one["item"] == "pre-slope")
    assert mortar["packs"]["most"] == 5  # twice 2.06 bags, rounded up once
    assert {one["place"] for one in found["lines"]} == {"Larch House / hall shower", "Mill Lane / hall shower"}


def test_csv_and_workbook_go_into_files(run: Run, plan: str, tmp_path: Path) -> None:
    assert run("takeoff", plan, "--as", "csv", "--bom", "--into", "order.csv")[0] == 0
    data = (tmp_path / "order.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbfkind,place,") and b"\r\n" in data and b"\r\r" not in data
    assert run("takeoff", plan, "--as", "xlsx", "--into", "order.xlsx")[0] == 0
    assert (tmp_path / "order.xlsx").read_bytes().startswith(b"PK")


def test_a_workbook_needs_its_package(run: Run, plan: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    code, _, err = run("takeoff", plan, "--as", "xlsx", "--into", "order.xlsx")
    assert code == 2 and "speclint[xlsx]" in err


def test_what_does_not_go_together_is_told(run: Run, plan: str) -> None:
    assert run("takeoff", plan, "--as", "xlsx")[::2] == (
        2,
        "speclint: a workbook is written into a file: add --into order.xlsx\n",
    )
    assert run("takeoff", plan, "--bom")[0] == 2
    code, _, err = run("layout", plan, "--surface", "bakc")
    assert (code == 2 and 'wall "back"' in err) or "no surface is named" in err


@pytest.mark.parametrize("command", ["takeoff", "layout", "sequence"])
def test_nothing_to_read_is_exit_2(run: Run, command: str) -> None:
    assert run(command)[0] == 2 and run(command, "gone.wetspec")[0] == 2


def test_lines_not_read_are_told_on_both_streams(run: Run, tmp_path: Path) -> None:
    (tmp_path / "job.wetspec").write_text(
        PLAN.replace("  pattern          stacked\n", "  colour red\n"), encoding="utf-8"
    )
    assert run("layout", "job.wetspec")[0] == 1
    code, out, err = run("takeoff", "job.wetspec")
    assert code == 1 and "job.wetspec:" in err and "one line is not read" in " ".join(out.split())


def test_layout_draws_one_file_a_surface_or_one_for_all(run: Run, plan: str, tmp_path: Path) -> None:
    assert run("layout", plan, "--as", "svg", "--into", "drawings/")[0] == 0
    names = sorted(path.name for path in (tmp_path / "drawings").iterdir())
    assert len(names) == 4 and names[1] == "larch-house-hall-shower-walls-wall-back.svg"
    whole = run("layout", plan, "--as", "svg")[1]
    assert whole.count("<svg") == 1 and whole.count("<g id=") == 4


def test_layout_text_and_json(run: Run, plan: str) -> None:
    code, out, _ = run("layout", plan, "--surface", "back")
    assert code == 0 and "first line:" in out and out.count('wall "') == 1
    assert len(json.loads(run("layout", plan, "--as", "json")[1])["surfaces"]) == 4


def test_sequence_in_its_forms(run: Run, plan: str, tmp_path: Path) -> None:
    day = ("--from", "2026-03-02", "--as-of", "2026-03-02")
    code, out, err = run("sequence", plan, *day, "--days", "mon-sat", "--closed", "2026-03-07", "--hours", "7-15")
    assert (code, err) == (
        0,
        "",
    ) and "working mon, tue, wed, thu, fri, sat, 07:00 to 15:00, without 1 closed day" in " ".join(out.split())
    assert json.loads(run("sequence", plan, *day, "--as", "json")[1])["from"] == "2026-03-02T08:00"
    assert run("sequence", plan, *day, "--as", "ics", "--into", "job.ics")[0] == 0
    assert (tmp_path / "job.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n")
    steps = json.loads(run("sequence", plan, *day, "--takes", "wall tile=5", "--as", "json")[1])["rooms"][0]["steps"]
    assert next(one for one in steps if one["step"] == "wall tile")["workingDays"] == 5


def test_a_record_against_the_order_stops(run: Run, tmp_path: Path) -> None:
    text = (
        PLAN
        + 'record "tile setting" for "hall shower"\n  on 2026-03-10\nrecord "grouting" for "hall shower"\n  on 2026-03-09\n'
    )
    (tmp_path / "job.wetspec").write_text(text, encoding="utf-8")
    code, out, err = run("sequence", "job.wetspec", "--as-of", "2026-04-01")
    assert code == 1 and "too soon after wall tile" in out and "stands against the order" in err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--from", "2026-02-30"), "is no day"),
        (("--days", "mo-fr"), "names no working days"),
        (("--days", "mon-tue-wed"), "names no working days"),
        (("--hours", "16-8"), "no working hours"),
        (("--hours", "8-25"), "no working hours"),
        (("--closed", "tomorrow"), "is no day"),
        (("--takes", "wal tile=3"), "wall tile"),
        (("--takes", "wall tile=0"), "from 1 to 366"),
        (("--takes", "wall tile=99999999999999999999"), "from 1 to 366"),
    ],
)
def test_sequence_says_what_is_wrong_with_an_option(run: Run, plan: str, words: tuple[str, str], told: str) -> None:
    code, _, err = run("sequence", plan, *words)
    assert code == 2 and told in err


def test_dates_at_the_ends_of_the_calendar_do_no_harm(run: Run, tmp_path: Path) -> None:
    text = (
        PLAN
        + 'record "grouting" for "hall shower"\n  on 9999-12-31\nrecord "tile setting" for "hall shower"\n  on 0001-01-01\n'
    )
    (tmp_path / "job.wetspec").write_text(
        text.replace("  lift ", "  curing 9999999 years before grout\n  lift "), encoding="utf-8"
    )
    for start in ("0001-01-01", "9999-12-31"):
        for form in ("text", "json", "ics"):
            assert run("sequence", "job.wetspec", "--from", start, "--as", form, "--as-of", start)[0] in (0, 1)


RECORD = '\nrecord "pan test" for "hall shower"\n  kind  flood test\n  photos  taken, "photos/pan.jpg"\n'


@pytest.fixture
def with_rules(monkeypatch: pytest.MonkeyPatch) -> None:
    from tests.rules.shipped import shipped_kit

    monkeypatch.setattr(closeout_command, "load_kit", lambda **_: shipped_kit())


def test_closeout_tells_what_is_missing_and_which_file_is_not_there(
    run: Run, plan: str, tmp_path: Path, with_rules: None
) -> None:
    (tmp_path / plan).write_text(PLAN + RECORD, encoding="utf-8")
    code, out, err = run("closeout", plan, "--stage", "closeout", "--as-of", "2026-06-01")
    assert (code, err) == (0, "") and "missing" in out and "photos/pan.jpg (not there)" in out and "second best" in out
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "pan.jpg").write_bytes(b"x")
    assert "photos/pan.jpg (not there)" not in run("closeout", plan)[1]


def test_closeout_in_other_forms_and_into_a_file(run: Run, plan: str, tmp_path: Path, with_rules: None) -> None:
    found = json.loads(run("closeout", plan, "--as", "json")[1])
    assert [place["kind"] for place in found["plans"][0]["places"]][:2] == ["room", "assembly"]
    assert run("closeout", plan, "--as", "csv")[1].startswith("plan,place,state,")
    assert run("closeout", plan, "--as", "md")[1].startswith("# ")
    assert run("closeout", plan, "--blank", "--into", "forms.txt") == (0, "", "")
    assert (tmp_path / "forms.txt").read_text(encoding="utf-8").count("form 1 of ") == 1


def test_closeout_refuses_what_does_not_go_together(run: Run, plan: str, with_rules: None) -> None:
    assert run("closeout", plan, "--blank", "--as", "json")[0] == 2
    assert run("closeout", "gone.wetspec")[0] == 2
    code, _, err = run("closeout", plan, "--stage", "closeuot")
    assert code == 2 and "closeout" in err


def test_section_tells_and_draws_every_cut(run: Run, plan: str, tmp_path: Path) -> None:
    code, out, err = run("section", plan)
    assert (code, err) == (0, "") and "hall shower / walls" in out and "bed when all has folded" in out
    assert run("section", plan, "--as", "svg", "--into", "cuts/")[0] == 0
    names = sorted(path.name for path in (tmp_path / "cuts").iterdir())
    assert "larch-house-hall-shower-walls-layers.svg" in names and len(names) == len(set(names)) > 5
    code, _, err = run("section", plan, "--assembly", "wals")
    assert code == 2 and 'no assembly is named "wals"' in err
    assert run("section", "gone.wetspec")[0] == 2


def test_the_page_is_one_file_and_the_same_again(run: Run, plan: str, tmp_path: Path) -> None:
    pytest.importorskip("jinja2", reason="the page needs jinja2: pip install 'speclint[report]'")
    words = ("review", plan, "--as", "html", "--as-of", "2026-04-02")
    code, out, err = run(*words)
    assert (code, err) == (0, "") and out.startswith("<!DOCTYPE html>") and out == run(*words)[1]
    assert run(*words, "--by", "room", "--into", "page.html")[0] == 0
    text = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert text.count("<svg viewBox") == out.count("<svg viewBox") > 5 and "What to order" in text


def test_the_page_needs_its_package(run: Run, plan: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    code, _, err = run("review", plan, "--as", "html")
    assert code == 2 and "speclint[report]" in err


@pytest.mark.parametrize("command", ["takeoff", "layout", "sequence", "section", "closeout", "closeout --blank"])
@pytest.mark.parametrize("bad", [b"", PLAN.encode() + b"  nonsense  here\n", b'plan "p"\n  answers to \x00\n'])
def test_a_plan_not_read_whole_never_passes(run: Run, tmp_path: Path, command: str, bad: bytes) -> None:
    (tmp_path / "bad.wetspec").write_bytes(bad)
    code, out, err = run(*command.split(), "bad.wetspec")
    assert code == 1 and "bad.wetspec:" in err
    assert "No form is due" not in out
