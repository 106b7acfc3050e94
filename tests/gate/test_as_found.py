"""Findings as found: known, mended, withdrawn; the file; and no line whose loss opens the gate."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speclint.files.as_found import line_of, read_as_found
from speclint.files.plans import plan_of_bytes
from speclint.kernel.faults import ReadFault
from speclint.plan.tree import Node, same
from speclint.review.gate import exit_code
from speclint.review.identity import Mark, kept_marks
from speclint.review.kit import Kit
from speclint.review.report import KNOWN, MENDED, WITHDRAWN, Report
from speclint.review.run import Ground, Options, review
from tests.gate.conftest import OFFSET, PLAN, Run, edit

FLAWED = sorted((Path(__file__).parents[2] / "specs_examples" / "flawed").glob("*.wetspec"))
STRIDE = 1 if os.environ.get("SPECLINT_WHOLE") else 11  # the whole corpus takes a minute of processor time
INHERITED = {"accent-sinks-below-the-field"}  # without its own line a band has the tile of the field, which is written
DAY = Options(as_of="2026-06-01")


def recorded(text: str, kit: Kit) -> frozenset[Mark]:
    """All findings and questions of a plan, as they would be recorded."""
    return frozenset(
        mark for _, mark in kept_marks(review(plan_of_bytes(text.encode(), "a.wetspec", kit), kit, DAY), "")
    )


def against(text: str, old: frozenset[Mark], kit: Kit) -> Report:
    return review(plan_of_bytes(text.encode(), "a.wetspec", kit), kit, DAY, Ground(old))


def state_of(report: Report, rule: str) -> str:
    return next(one.state for one in report.as_found if one.rule == rule)


@pytest.mark.parametrize(
    ("old", "new", "state", "why"),
    [
        ("# x", "# y", KNOWN, ""),
        ("running bond 50%", "running bond 45%", KNOWN, ""),
        ("running bond 50%", "running bond 33%", MENDED, "meets it now"),
        ("running bond 50%", "stacked", MENDED, "no longer applies"),
        ("  pattern          running bond 50%\n", "", WITHDRAWN, "question"),
        ("running bond 50%", "not stated", WITHDRAWN, "question"),
        ("running bond 50%", "runing bnd 50%", WITHDRAWN, "question"),
        ("porcelain, 12 x 24 in,", "porcelain,", WITHDRAWN, "question"),
        ('"walls"', '"other walls"', WITHDRAWN, "section is gone"),
        (
            'plan "Larch House"\n  answers to       ansi, irc 2021\n  stage            design\n',
            "",
            WITHDRAWN,
            "heading plan",
        ),
    ],
)
def test_what_becomes_of_a_recorded_finding(kit: Kit, old: str, new: str, state: str, why: str) -> None:
    """Known while it is there; mended by what is written; withdrawn where a line, a section or the plan went."""
    text = PLAN + "# x\n"
    assert old in text
    marks = frozenset(mark for mark in recorded(text, kit) if mark.rule == "offset-over-a-third")
    assert len(marks) == 1
    report = against(text.replace(old, new), marks, kit)
    assert state_of(report, "offset-over-a-third") == state
    assert why in report.as_found[0].why
    if state != KNOWN:
        assert exit_code(report) == 1


def test_a_finding_under_a_variance_is_still_known(kit: Kit) -> None:
    let = PLAN + (
        '\nvariance "offset-over-a-third" on "walls"\n  accepts  running bond 50%\n  because "mock-up accepted"\n'
        '  granted by "designer"\n  until 2026-12-31\n'
    )
    marks = frozenset(mark for mark in recorded(PLAN, kit) if mark.rule == "offset-over-a-third")
    assert state_of(against(let, marks, kit), "offset-over-a-third") == KNOWN


def test_a_recorded_question_is_mended_by_an_answer_only(kit: Kit) -> None:
    text = PLAN.replace("  pattern          running bond 50%\n", "")
    question = next(mark for mark in recorded(text, kit) if "pattern" in mark.rule)
    assert state_of(against(PLAN, frozenset([question]), kit), question.rule) == MENDED
    without = "\n".join(line for line in text.split("\n") if "tile  " not in line)
    assert state_of(against(without, frozenset([question]), kit), question.rule) in (KNOWN, WITHDRAWN)


def repeated_lines(node: Node, kit: Kit) -> frozenset[int]:
    """Lines of lists, such as layers: what is left of a list is still written."""
    keys = kit.vocabulary.sections[node.kind].keys
    here = {entry.span.line for entry in node.entries if keys[entry.key].repeats}
    return frozenset(here).union(*(repeated_lines(child, kit) for child in node.children))


@pytest.mark.parametrize("path", FLAWED[::STRIDE], ids=lambda path: path.stem)
def test_no_line_whose_loss_opens_the_gate(path: Path, kit: Kit) -> None:
    """Every finding recorded is told after any one line is gone; none counts as mended by the loss of its own line."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    name = str(path)
    whole = review(plan_of_bytes("".join(lines).encode(), name, kit), kit, DAY)
    pairs = [(one, mark) for one, mark in kept_marks(whole, "") if hasattr(one, "rule")]
    old = frozenset(mark for _, mark in pairs)
    listed = repeated_lines(plan_of_bytes("".join(lines).encode(), name, kit).root, kit)
    stands_on = {mark: one.span.line for one, mark in pairs if hasattr(one, "span") and one.words}
    for index, line in enumerate(lines):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        report = review(
            plan_of_bytes("".join(lines[:index] + lines[index + 1 :]).encode(), name, kit), kit, DAY, Ground(old)
        )
        assert len(report.as_found) == len(old)
        if any(one.state != KNOWN for one in report.as_found):
            assert exit_code(report) == 1
        mended = {(one.rule, one.address, one.ordinal) for one in report.as_found if one.state == MENDED}
        own = {
            (mark.rule, mark.address, mark.ordinal)
            for mark, at in stands_on.items()
            if at == index + 1 and at not in listed
        }
        assert not {one for one in mended & own if one[0] not in INHERITED}, f"{path.name}:{index + 1}: {line.strip()}"


def test_adopting_checking_and_striking_off(run: Run) -> None:
    """Record all that stops; then nothing stops; a new one does; a mended one does until it is struck off."""
    assert run("plans")[0] == 1
    code, _, err = run("plans", "--as-found", "rewrite")
    assert (code, err) == (0, "speclint: speclint-as-found.txt holds 1 finding as found\n")
    assert Path("speclint-as-found.txt").read_text().splitlines()[2:] == [OFFSET]
    assert run("plans", "--as-found", "check")[0] == 0
    assert run("plans")[0] == 1, "unasked, as found is no excuse"
    edit("running bond 50%", "running bond 33%")
    code, out, _ = run("plans", "--as-found", "check", "--as", "lines")
    assert code == 1
    assert "a.wetspec:1:1: mended: offset-over-a-third at bath / walls: the plan meets it now" in out
    assert run("plans", "--as-found", "rewrite")[0] == 0
    assert OFFSET not in Path("speclint-as-found.txt").read_text()
    edit("running bond 33%", "running bond 50%")
    assert run("plans", "--as-found", "check")[0] == 1, "what comes back is new"
    assert run("plans", "--as-found", "rewrite")[0] == 1, "a file that is there is not added to"


def test_a_withdrawn_finding_stays_shut_through_a_rewrite(run: Run) -> None:
    run("plans", "--as-found", "rewrite")
    edit("  pattern          running bond 50%\n", "")
    for way in ("check", "rewrite", "check"):
        code, out, _ = run("plans", "--as-found", way, "--as", "lines")
        assert code == 1, way
        assert "withdrawn, not cleared: offset-over-a-third at bath / walls" in out
    assert OFFSET in Path("speclint-as-found.txt").read_text()


def test_a_plan_that_went_is_withdrawn(run: Run) -> None:
    Path("plans/b.wetspec").write_text(PLAN)
    run("plans", "--as-found", "rewrite")
    Path("plans/b.wetspec").unlink()
    for form in ("text", "lines", "json", "sarif", "junit", "quality", "annotations", "summary"):
        code, out, _ = run("plans", "--as-found", "check", "--as", form)
        assert code == 1
        assert "withdrawn" in out and "b.wetspec" in out and "the plan is gone" in " ".join(out.split()), form
    assert run("plans/a.wetspec", "--as-found", "check")[0] == 1, "also where only another plan is named"


def test_a_run_on_some_plans_leaves_the_rest_recorded(run: Run) -> None:
    Path("plans/b.wetspec").write_text(PLAN)
    run("plans", "--as-found", "rewrite")
    before = Path("speclint-as-found.txt").read_text()
    assert run("plans/a.wetspec", "--as-found", "check")[0] == 0
    run("plans/a.wetspec", "--as-found", "rewrite")
    assert Path("speclint-as-found.txt").read_text() == before


def test_a_line_that_is_none_is_told_with_its_place(run: Run) -> None:
    Path("speclint-as-found.txt").write_text("# x\nplans/a.wetspec offset-over-a-third\n")
    code, _, err = run("plans", "--as-found", "check")
    assert code == 2
    assert "speclint-as-found.txt:2:1: this is no line of findings as found" in err


names = st.lists(st.text(min_size=1, max_size=12).map(same).filter(bool), max_size=4).map(tuple)


@given(st.text(min_size=1, max_size=20), names, st.integers(1, 999))
def test_any_name_comes_back_from_its_line(file: str, address: tuple[str, ...], ordinal: int) -> None:
    """One line a finding, whatever a path or a section is called."""
    file = file.encode("utf-8", "ignore").decode() or "a"
    address = tuple(one.encode("utf-8", "ignore").decode() or "b" for one in address)
    mark = Mark("offset-over-a-third", file, tuple(map(same, address)), ordinal)
    line = line_of(mark)
    assert line.isprintable()
    assert read_as_found(f"{line}\n".encode(), "x") == {mark}


@given(st.binary(max_size=60))
def test_no_bytes_break_the_reading(data: bytes) -> None:
    told: tuple[object, ...] = ("none",)
    try:
        read_as_found(data, "x")
    except ReadFault as fault:
        told = fault.problems
    assert told
