"""The other commands through the command line: tidy, starter, cite, pack."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from speclint.cli import tidy as tidy_command
from speclint.cli.cite import rules_citing
from speclint.cli.starter import starters
from speclint.cli.tidy import key_lengths, plain_form
from speclint.files.kit import load_kit
from speclint.files.plans import load_plan
from speclint.forms.plain_words import plain_condition
from speclint.kernel.faults import ReadFault
from speclint.language.reader import read
from speclint.packs.rule import Cite
from speclint.plan.sections import read_sections
from speclint.review.kit import Kit
from speclint.review.run import review
from tests.cli.conftest import GOOD, Run

UNTIDY = 'plan "Larch House"\n\tstage   before tile   # told by the setter\n room "bath"\n   floor: ½ in × 3ft\n'
TIDY = (
    'plan "Larch House"\n  stage            before tile  # told by the setter\n\n'
    'room "bath"\n  floor            1/2 in x 3ft\n'
)


def test_tidy_writes_the_plain_form_once(run: Run) -> None:
    """The second run changes nothing, not even the time of the file."""
    path = Path("a.wetspec")
    path.write_text(UNTIDY)
    path.chmod(0o600)
    assert run("tidy") == (0, "", "")
    assert path.read_text() == TIDY
    assert path.stat().st_mode & 0o777 == 0o600
    os.utime(path, (0, 0))
    assert run("tidy", "a.wetspec") == (0, "", "")
    assert path.stat().st_mtime == 0


def test_tidy_checks_and_shows_without_writing(run: Run) -> None:
    """1 when something would change; names with --check, lines with --diff."""
    Path("a.wetspec").write_text(UNTIDY)
    Path("b.wetspec").write_text(TIDY)
    assert run("tidy", "--check") == (1, "a.wetspec\n", "")
    code, out, _ = run("tidy", "--diff")
    assert code == 1
    assert "+  floor            1/2 in x 3ft\n" in out
    assert out.count("--- ") == 1
    assert Path("a.wetspec").read_text() == UNTIDY
    assert run("tidy", "--check", "b.wetspec") == (0, "", "")


def test_tidy_works_between_pipes(run: Run) -> None:
    """Standard input to standard output."""
    assert run("tidy", "-", stdin=UNTIDY.encode()) == (0, TIDY, "")


def test_tidy_leaves_alone_what_it_cannot_read(run: Run) -> None:
    """Exit 2, the file untouched, the others still done; an unreadable line stays as written."""
    Path("a.wetspec").write_bytes(b"plan \x00")
    Path("b.wetspec").write_text(UNTIDY)
    code, _, err = run("tidy")
    assert code == 2
    assert "a.wetspec:1:6: there is a NUL" in err
    assert Path("a.wetspec").read_bytes() == b"plan \x00"
    assert Path("b.wetspec").read_text() == TIDY
    assert run("tidy", "absent")[0] == 2
    odd = GOOD + '  floor  60" x 01/02/26 ,, 3\n'
    assert odd.splitlines()[-1].split() == run("tidy", "-", stdin=odd.encode())[1].splitlines()[-1].split()


def test_tidy_refuses_to_lose_anything(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """If the plain form lost a comment or a digit, the file would stay and the fault be told (70)."""
    Path("a.wetspec").write_text(UNTIDY)
    for lost in (TIDY.replace("  # told by the setter", ""), TIDY.replace("3ft", "ft")):
        monkeypatch.setattr(tidy_command, "tidy", lambda *_, lost=lost: lost)
        code, _, err = run("tidy")
        assert code == 70
        assert "would lose" in err
    assert Path("a.wetspec").read_text() == UNTIDY


PARTS = st.sampled_from(
    [
        "plan",
        "room",
        "  floor",
        " tile",
        '"a"',
        "60",
        " in",
        " x ",
        "×",
        "½",
        "1-1/2",
        ",",
        " ",
        "  ",
        "\t",
        "\n",
        "# 1 c",
        "#",
        "3/8",
        '"',
        "mortar",
        "A118.4",
        ":",
        ".",
        "”",
        "’",
        "–",
        "12",
        "'",
    ]
)


@given(st.lists(PARTS, max_size=40).map("".join))
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_tidy_of_tidy_is_tidy_and_tells_the_same(kit: Kit, text: str) -> None:
    """Idempotent; the same sections, keys and problems are read from it; nothing is lost (checked within)."""
    measure = key_lengths(kit.vocabulary)
    try:
        once = plain_form(text, "a", kit.driver, measure)
    except ReadFault:
        return
    assert plain_form(once, "a", kit.driver, measure) == once
    before, after = (read_sections(read(one, "a", kit.driver), kit.vocabulary) for one in (text, once))

    def told(draft: object) -> list[tuple[object, ...]]:
        return [(s.kind, s.name, s.path, [entry.key for entry in s.entries]) for s in draft.sections]  # type: ignore[attr-defined]

    assert told(before) == told(after)
    assert len(before.problems) == len(after.problems)


def test_starters_are_listed_written_and_never_overwrite(run: Run) -> None:
    """Without a kind the list; a file that is there stays."""
    code, out, _ = run("starter")
    assert code == 0
    assert [line.split("  ")[0] for line in out.splitlines()] == [
        "bonded-membrane pan",
        "firm",
        "shower walls",
        "steam room",
        "tub surround",
    ]
    assert run("starter", "shower walls", "--into", "walls.wetspec") == (0, "", "")
    assert run("starter", "Shower", "Walls")[1] == Path("walls.wetspec").read_text(encoding="utf-8")
    code, _, err = run("starter", "tub", "surround", "--into", "walls.wetspec")
    assert code == 2
    assert "is there already" in err
    assert 'nearest: "tub surround"' in run("starter", "tub")[2]
    assert "there are bonded-membrane pan" in run("starter", "zzz")[2]


@pytest.mark.parametrize("kind", starters())
def test_each_starter_reads_whole_and_is_tidy(run: Run, kind: str) -> None:
    """Every line is read, the layout is the plain one, and no finding is above a remark by the rules that ship."""
    path = starters()[kind]
    assert run("tidy", "--check", path) == (0, "", "")
    whole = load_kit()
    one = review(load_plan(path, whole), whole)
    assert one.unread == ()
    assert one.fragment is (kind == "firm")
    assert [finding.rule for finding in one.findings if finding.weight != "remark"] == []


def test_the_firm_starter_does_what_its_comment_says(kit: Kit, tmp_path: Path) -> None:
    """A plan beside it that is like its walls gets their lines."""
    text = Path(starters()["firm"]).read_text(encoding="utf-8")
    told = [line.removeprefix("#   ") for line in text.splitlines() if line.startswith("#   ")]
    (tmp_path / "firm.wetspec").write_text(text, encoding="utf-8")
    rooms = 'room "hall shower"\n  exposure wet\n'
    (tmp_path / "a.wetspec").write_text("\n".join([*told[:2], rooms, *told[2:]]) + "\n", encoding="utf-8")
    plan = load_plan(str(tmp_path / "a.wetspec"), kit)
    assert plan.problems == ()
    walls = plan.root.of_kind("room")[0].of_kind("assembly")[0]
    assert {"surface", "framing", "mortar", "grout"} <= {entry.key for entry in walls.entries}


def test_a_condition_in_plain_words() -> None:
    """Facts by their meaning, limits by figures, signs by words; words of the trade stay."""
    means = {"tile.long-side": "longest side of one tile", "mortar.class": "class of the mortar"}
    limits = (("from", "15 in", "2013"), ("from", "20 in", "2021"))
    told = plain_condition("tile.long-side >= limit.from and mortar.class != A118.4", means, limits)
    assert told == (
        "the longest side of one tile is at least 15 in (2013) or 20 in (2021) and the class of the mortar is not A118.4"
    )
    assert (
        plain_condition('a.b = "x >= y" or limit.gone > 1/4 in', {}, ())
        == 'a.b is "x >= y" or limit gone is over 1/4 in'
    )


class _Rule:
    """As much of a rule as citing looks at."""

    def __init__(self, *cites: Cite) -> None:
        self.cites = cites


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("ANSI A108.5", 1),
        ("ansi a108.5 3.3.2", 1),
        ("ANSI A108.5, 3.3", 1),
        ("A108.5 3.3.2", 1),
        ("ANSI A108.5:2024 3.3.2", 1),
        ("ANSI A108.5 3.3.20", 0),
        ("ANSI A108.5 2", 0),
        ("ANSI A108.51", 0),
        ("A108", 0),
        ("", 0),
    ],
)
def test_a_clause_finds_its_rules(asked: str, found: int) -> None:
    """By standard, alias, edition and clause; a clause finds what stands under it, and no other clause."""
    rule = _Rule(Cite("ANSI A108.5", "2024", "3.3.2", "looked-up", "high"))
    register = {"ANSI A108.5": {"aliases": ["A108.5"]}}
    assert len(list(rules_citing(asked, [rule], register))) == found  # type: ignore[list-item]


@pytest.mark.parametrize(
    ("asked", "near"),
    [("bed-thiner", "bed-thinner-than-the-gap"), ("curb low", "curb-too-low"), ("curb-to-low", "curb-too-low")],
)
def test_cite_offers_the_names_that_were_meant(run: Run, asked: str, near: str) -> None:
    code, out, err = run("cite", asked)
    assert (code, out) == (2, "")
    assert f'"{near}"' in err


def test_cite_tells_every_rule_that_ships(run: Run) -> None:
    """Each has a card at the width of a phone; a misspelt name is answered with the right one."""
    kit = load_kit()
    names = [rule.name for pack in kit.packs for rule in pack.rules]
    assert names
    name = names[0]
    code, out, _ = run("cite", name)
    assert code == 0
    assert out.startswith(f"{name}\n")
    assert "\nby: " in out.replace("by:          ", "by: ")
    assert run("cite", *name.split("-"))[1] == out
    code, _, err = run("cite", name[:-2] + "zz")
    assert code == 2
    assert f'"{name}"' in err
    assert run("cite", "zzz")[0] == 2


def test_pack_lists_and_refuses_unknown_names(run: Run) -> None:
    """Name, version and hash of each."""
    code, out, _ = run("pack", "list")
    assert code == 0
    assert len(out.splitlines()) == 3
    assert out.startswith("practice ")
    code, _, err = run("pack", "check", "practise")
    assert code == 2
    assert "practice" in err


BAD_PACK = "name: own\nversion: 1.0.0\ntitle: Own rules\nregion: here\n"


def test_pack_check_finds_what_is_wrong(run: Run) -> None:
    """A pack whose rule does not hold together: its problems by place, exit 1; by review it could not run, exit 2."""
    Path("own").mkdir()
    Path("own/pack.yaml").write_text(BAD_PACK + "means: Rules of one firm.\n")
    Path("own/t").mkdir()
    Path("own/t/r.yaml").write_text("name: r\nweight: heavy\n")
    code, out, err = run("pack", "check", "own")
    assert (code, err) == (1, "")
    assert "own/t/r.yaml:" in out
    assert "problem" in out.splitlines()[-1]
