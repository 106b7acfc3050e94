"""Forms against golden files, the GNU line shape, the published schema, and hostile text."""

from __future__ import annotations

import json
import os
import re
import unicodedata
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.forms.cites import cite_words
from speclint.forms.json_form import json_form
from speclint.forms.lines import lines_form
from speclint.forms.place import address_words, several_places
from speclint.forms.rows import fold, plain
from speclint.forms.safe import safe, width_of
from speclint.forms.text import Look, tally, text_form, text_rows
from speclint.kernel.faults import Problem
from speclint.kernel.span import at
from speclint.packs.rule import Cite
from speclint.review.report import Place, Report
from tests.forms.reports import (
    ALL,
    COMING,
    FULL,
    GRANTED,
    LINER,
    QUESTIONS,
    REMARK,
    SIDES,
    finding,
    line,
    report,
)

GOLDEN = Path(__file__).parent / "golden"
SINCE_MINOR = {"instead", "squeezedBy"}
SCHEMA = json.loads((Path(__file__).parents[2] / "shared" / "schemas" / "report.json").read_text(encoding="utf-8"))
# GNU Coding Standards, "Formatting Error Messages": file:line:column: message, no capital at its head, no full stop
GNU = re.compile(r"^[^:\n]+:[1-9][0-9]*:[1-9][0-9]*: [^A-Z\s].*[^.\s]$")


def _same(name: str, got: str) -> None:
    """Compare with the golden file; GOLDEN=write in the environment writes it anew."""
    path = GOLDEN / name
    if os.environ.get("GOLDEN") == "write":
        path.parent.mkdir(exist_ok=True)
        path.write_text(got, encoding="utf-8")
    assert got == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("width", [80, 46])
def test_text_is_as_agreed(name: str, width: int) -> None:
    """The terminal form at the width of a terminal and of a phone."""
    _same(f"{name}-{width}.txt", text_form(ALL[name], Look(width)))


@pytest.mark.parametrize("name", ALL)
def test_lines_are_as_agreed(name: str) -> None:
    """The lines of each report."""
    _same(f"{name}.lines", lines_form(ALL[name]))


@pytest.mark.parametrize("width", [40, 46, 60, 80, 100])
def test_no_row_is_wider_than_the_terminal(width: int) -> None:
    """A row that runs over the edge would be broken in the middle of a word."""
    for text in text_form(FULL, Look(width)).splitlines():
        assert width_of(text) <= width, text


def test_findings_come_heaviest_first_and_the_let_through_last() -> None:
    """Groups by weight; what a variance lets through is told with the variance, not as an open finding."""
    text = text_form(FULL)
    order = [text.index(name) for name in (LINER.rule, "bed-thinner-than-the-gap", "cut-thinner-than-half")]
    assert order == sorted(order)
    assert text.index("grout-of-another-class") > text.index("variances")


@pytest.mark.parametrize(
    ("stage", "said"),
    [
        ("design", "would have to come out once built"),
        ("before membrane", "would have to come out once built"),
        ("before grout", "would come out again"),
        ("closeout", "would come out again"),
        ("in service", "would come out again"),
    ],
)
def test_weight_is_said_for_the_stage(stage: str, said: str) -> None:
    """What is not built yet cannot come out again."""
    assert f"1 finding, {said}" in text_form(report(stage=stage, findings=(LINER,)))


def test_questions_are_seven_at_most_unless_all_are_asked_for() -> None:
    """Nine questions: seven and a count, or nine."""
    few, every = text_form(FULL), text_form(FULL, Look(80, all_questions=True))
    assert "9 in all, the first 7 here" in few
    assert few.count("keeps open") == 7
    assert every.count("keeps open") == 9
    assert "the first" not in every


def test_a_wide_choice_is_not_told_twice() -> None:
    """The message of a choice already names the failing member."""
    admits = "mortar class A118.1"
    one = finding(admits=(admits,), message=f"The plan also admits {admits}. It bonds too weakly here.")
    assert text_form(report(findings=(one,))).count(admits) == 1
    assert "admits:" in text_form(report(findings=(one._replace(message="It bonds too weakly."),)))


@pytest.mark.parametrize(
    ("cite", "said"),
    [
        (Cite("ANSI A108.5", "", "3.3.2", "looked-up", "high"), "ANSI A108.5, 3.3.2 (looked up)"),
        (Cite("IPC", "2021", "417.5.2", "looked-up", "high"), "IPC 2021, 417.5.2 (looked up)"),
        (Cite("ANSI A118.10:2014", "2014", "", "memory", "low"), "ANSI A118.10:2014 (from memory, not looked up)"),
        (Cite("", "", "", "common practice", "medium"), "common practice"),
        (Cite("", "", "", "derived", "high", "the bed"), "derived, for the bed"),
    ],
)
def test_cites_are_numbers_with_their_basis(cite: Cite, said: str) -> None:
    """By number only, and with what the knowledge rests on."""
    assert cite_words(cite) == said


def test_places_are_told_once_and_counted_beyond_six() -> None:
    """Ten bathrooms of a line do not fill the screen."""
    many = tuple(Place((f"bath {n}",), line(n)) for n in range(1, 11))
    assert several_places(many).endswith("; and 4 more")
    assert several_places((many[0], many[0])) == "bath 1, plans/larch-house.wetspec:1"
    assert several_places(many[:1], home="plans/larch-house.wetspec") == "bath 1, line 1"
    assert several_places(many[:1], home="plans/other.wetspec") == "bath 1, plans/larch-house.wetspec:1"
    assert address_words(()) == "the whole plan"


@pytest.mark.parametrize("name", ALL)
def test_lines_have_the_gnu_shape(name: str) -> None:
    """Each line can be jumped to by an editor."""
    for text in lines_form(ALL[name]).splitlines():
        assert GNU.match(text), text


def test_json_keeps_to_its_schema() -> None:
    """Against the published schema, itself checked against draft-07; and closed: one field more is refused."""
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    whole = json.loads(json_form(list(ALL.values())))
    jsonschema.validate(whole, SCHEMA, cls=jsonschema.Draft7Validator)
    whole["plans"][0]["findings"][0]["colour"] = "red"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(whole, SCHEMA, cls=jsonschema.Draft7Validator)


def test_schema_describes_every_field_and_is_closed() -> None:
    """Every object is closed, requires all but what a minor version added, and every field says what it means."""

    def look(node: object) -> int:
        if isinstance(node, list):
            return sum(look(one) for one in node)
        if not isinstance(node, dict):
            return 0
        if node.get("type") == "object":
            assert node["additionalProperties"] is False
            assert set(node["properties"]) - set(node["required"]) <= SINCE_MINOR
            assert set(node["required"]) <= set(node["properties"])
            for field in node["properties"].values():
                assert "description" in field or "$ref" in field
        return (node.get("type") == "object") + sum(look(one) for one in node.values())

    assert look(SCHEMA) >= 14


def test_json_carries_all_that_the_report_holds() -> None:
    """Machine forms leave nothing out: all questions, and findings let through by a variance."""
    plan = json.loads(json_form([FULL]))["plans"][0]
    assert json.loads(json_form([FULL]))["schemaVersion"] == "1.1"
    assert len(plan["questions"]) == len(QUESTIONS)
    assert [one["rule"] for one in plan["findings"]] == [one.rule for one in FULL.findings]
    assert plan["findings"][2]["sides"] == [{"source": a, "outcome": b} for a, b in SIDES.sides]
    assert plan["met"] == [{"rule": "joint-too-narrow", "address": "hall shower / shower walls / back"}]


def test_forms_give_the_same_bytes_twice() -> None:
    """No clock, no hash order."""
    for one in ALL.values():
        assert (text_form(one), lines_form(one), json_form([one])) == (
            text_form(one),
            lines_form(one),
            json_form([one]),
        )


def test_tally_counts_plans_and_fragments() -> None:
    """One line over all files."""
    assert tally([(one.summary, one.fragment) for one in (FULL, ALL["clean"], ALL["fragment"])]) == (
        "2 plans: 1 revise, 1 no exceptions, 1 fragment not judged alone\n"
    )


def test_fold_keeps_every_sign() -> None:
    """Long words are cut, none is lost, none runs over."""
    text = "a " + "b" * 95 + " cc"
    assert "".join(fold(text, 40)).replace(" ", "") == text.replace(" ", "")
    assert all(width_of(part) <= 40 for part in fold(text, 40))


HOSTILE = st.text(
    alphabet=st.one_of(
        st.sampled_from(
            "\x1b\x9b\x07\x08\r\n\t\x00\x85\u2028\u2029\u202e\u2066\u200f\ufeff:.,/ \u00a0\ud800a1\u00bd\u4e00"
        ),
        st.characters(),
    ),
    max_size=30,
)


def _hostile(bad: str) -> Report:
    """A report in which every text that a plan can fill holds the same hostile text."""
    span = at(f"plans/{bad}.wetspec", 3, 5, 2)
    place = Place((bad, "walls"), span)
    return report(
        file=f"plans/{bad}.wetspec",
        plan=bad,
        stage_stated=True,
        findings=(
            finding(message=bad + ".", words=bad, span=span, places=(place, place._replace(address=(bad + "b",)))),
            SIDES._replace(sides=((bad, "meets"),), span=span, admits=bad),
            REMARK._replace(passes=bad, working=(bad,), rests_on=(bad,), span=span, places=()),
        ),
        questions=(
            QUESTIONS[0].__class__(fact="x", text=bad, answers=bad, weight="remark", frees=(bad,), places=(place,)),
        ),
        to_come=(COMING._replace(record=bad, places=(place,), settles=bad),),
        variances=(GRANTED._replace(rule=bad, address=bad, because=bad, why=bad, span=span),),
        decisions=(bad,),
        notes=(bad,),
        unread=(Problem(span, bad),),
        taken_as_absent=(bad,),
        assumed=(bad,),
        cautions=(bad,),
        passed=((bad, bad),),
    )


def _shows(text: str) -> bool:
    """Whether a text holds only line ends and signs that show: no control, no sign that turns or hides text."""
    return all(
        sign == "\n" or unicodedata.category(sign) not in ("Cc", "Zl", "Zp", "Cs", "Cf") or sign in "\u200c\u200d"
        for sign in text
    )


@given(HOSTILE)
@settings(max_examples=150, deadline=None)
def test_no_text_injects_a_line_or_an_escape(bad: str) -> None:
    """Controls, direction marks and line ends in a plan never reach a terminal or begin a line of their own."""
    one = _hostile(bad)
    lines = lines_form(one)
    assert _shows(lines)
    rows = lines.split("\n")[:-1]
    assert len(rows) == 1 + 3 + 1 + 1 + 1 + 1
    assert all(row.startswith("plans/") for row in rows)
    assert _shows(text_form(one))
    assert _shows(text_form(one, Look(46)))
    assert "\n" not in "".join(piece.text for row in text_rows(one) for piece in row)
    whole = json_form([one])
    assert whole.isascii()
    assert _shows(whole)
    assert json.loads(whole)["plans"][0]["plan"] == safe(bad)


def test_what_would_not_be_seen_is_shown() -> None:
    """A turned direction stands as its number; an escape loses its sign; no-break space is a blank."""
    assert safe("a\u202eb") == "a<U+202E>b"
    assert safe("\x1b[31mred\x1b[0m\r\nnext\u00a0x") == "[31mred[0m  next x"
    assert safe("½ × 3/8″") == "½ × 3/8″"


def test_colour_adds_nothing_but_colour() -> None:
    """Without its escapes the coloured form is the plain one."""
    from speclint.forms.colour import coloured

    told = coloured(text_rows(FULL))
    assert "\x1b[" in told
    assert re.sub(r"\x1b\[[0-9;]*m", "", told) == plain(text_rows(FULL))
