"""The record of a job: what is on file, what is missing, what each paper would show, and forms to fill in by pencil."""

from __future__ import annotations

import csv
import io
import json
from functools import cache
from pathlib import Path

import jsonschema
import pytest
from markdown_it import MarkdownIt

from speclint.engine.nodes import facts_of
from speclint.facts.subject import rests_on
from speclint.files.attached import attached
from speclint.files.plans import load_plan
from speclint.forms.blank_text import WIDTH, blank_text
from speclint.forms.closeout_json import closeout_json
from speclint.forms.closeout_tables import HEADER, closeout_csv, closeout_markdown
from speclint.forms.closeout_text import closeout_rows
from speclint.forms.rows import plain
from speclint.forms.safe import width_of
from speclint.packs.rule import Rule
from speclint.review.kit import Kit
from speclint.review.report import Question
from speclint.review.run import Options, review
from speclint.works.blank_forms import Blank, blank_forms
from speclint.works.closeout import closeout
from speclint.works.closeout_values import NOT_THERE, OUTSIDE, REFERENCE, THERE, Built, Closeout, File, Missing, Place
from speclint.works.sheets import Sheet, sheets_of
from tests.plan.reading import plan_of
from tests.rules.shipped import shipped_kit

ROOT = Path(__file__).resolve().parents[2]
PLANS = [path for kind in ("sound", "hard") for path in sorted((ROOT / "specs_examples" / kind).glob("*.wetspec"))]
SCHEMA = json.loads((ROOT / "shared/schemas/closeout.json").read_text(encoding="utf-8"))
DAY = Options(as_of="2026-06-01")
# what the trade keeps of a wet area: issue by issue in guidance for setters (NTCA Reference Manual, TCNA Handbook)
USUAL = {
    "flood test", "membrane thickness", "warming reading", "lift test", "flatness survey", "mock-up", "certificate",
    "cure record", "sealing", "silica plan", "inspection card", "membrane inspection", "photo record",
}  # fmt: skip
# kinds of record that tell what happened and are due nowhere
TOLD_ONLY = {
    "flow test", "bond test", "sounding", "framing inspection", "deflection test", "lippage check", "slip test",
    "water bead test", "vapor test", "visit", "first use", "commissioning", "pest inspection", "notice", "repair",
    "leak search",
}  # fmt: skip
SHOWER = """plan "Mill Lane"
  answers to  ansi, ipc 2021
  stage  {stage}
room "bath"
  exposure  wet
  use  shower, residential
assembly "floor" in "bath"
  surface  floor, 48 in x 36 in
  framing  wood joists 2x10 at 16 in, span 10 ft
  membrane  liquid A118.10, 2 coats, 30 mil dry
  drain  bonding flange drain, 2 in outlet
  slope  1/4 in per ft to drain
  tile  porcelain, nominal 12 x 12 in, thick 3/8 in
  mortar  A118.4
  joint  3/16 in, hard spacers
{more}"""


def shower(more: str = "", stage: str = "closeout") -> str:
    return SHOWER.format(more=more, stage=stage)


def found_in(text: str) -> Closeout:
    kit = shipped_kit()
    return closeout(plan_of(text, kit), kit, lambda _, name: File(name, THERE), DAY)


def missing_at(found: Closeout, *address: str) -> dict[str, Missing]:
    return {one.sheet: one for place in found.places if place.address == address for one in place.missing}


def forms_of(text: str) -> dict[str, Blank]:
    kit = shipped_kit()
    return {form.kind: form for form in blank_forms(plan_of(text, kit), kit, DAY)}


@cache
def of_file(path: Path) -> Closeout:
    kit = shipped_kit()
    return closeout(load_plan(str(path), kit), kit, attached, DAY)


def test_every_usual_paper_has_its_sheet() -> None:
    sheets = sheets_of(shipped_kit().sheets)
    kinds = {kind for sheet in sheets for kind in sheet.kinds}
    assert USUAL - kinds == set()
    assert set(shipped_kit().vocabulary.kinds["record kind"].words) - kinds == TOLD_ONLY


def test_what_a_rule_says_would_show_it_has_a_sheet() -> None:
    kit = shipped_kit()
    kinds = {kind for sheet in sheets_of(kit.sheets) for kind in sheet.kinds}
    named = {rule.shown_by for pack in kit.packs for rule in pack.rules if rule.shown_by}
    assert named - kinds <= {"notice"}  # a notice is due only where a check failed


def _read_by(rule: Rule, kit: Kit) -> set[str]:
    names = set(facts_of(rule.judgement.demands))
    for name in tuple(names):
        entry = kit.catalogue.find(name)
        names |= rests_on(kit.catalogue, entry) if entry is not None else set()
    return {name for name in names if name.startswith(("record.", "contact.", "reading."))}


@pytest.mark.parametrize("sheet", sheets_of(shipped_kit().sheets), ids=lambda sheet: sheet.name)
def test_a_form_asks_for_all_that_its_rules_read(sheet: Sheet) -> None:
    kit = shipped_kit()
    keys = kit.vocabulary.sections["record"].keys
    if sheet.sort != "record":
        return
    asked = {fact for line in sheet.lines for fact in keys[line].facts} | set(sheet.readings)
    judged = [
        rule
        for pack in kit.packs
        for rule in pack.rules
        if rule.judges == "record" and any(f'record.kind = "{kind}"' in rule.applies_text for kind in sheet.kinds)
    ]
    computed = {"contact.estimate", "record.between", "record.duration", "record.net-drop", "record.lasted"}
    first = {
        "record.kind",
        "record.after-step",
        "record.level-below",
    }  # told by its heading, or only where it went wrong
    for rule in judged:
        assert _read_by(rule, kit) - asked - computed - first == set(), rule.name


def test_what_a_record_found_stands_before_what_was_planned() -> None:
    text = shower('record "as found" for "floor"\n  kind  visit\n  joint  1/8 in\n  coverage  96%\n')
    place = found_in(text).places[1]
    lines = {line.key: line for line in place.built}
    assert lines["joint"] == Built("joint", "1/8 in", "3/16 in, hard spacers", "as found")
    assert lines["coverage"] == Built("coverage", "96%", "", "as found")
    assert lines["mortar"] == Built("mortar", "A118.4", "", "")
    agrees = found_in(text.replace("joint  1/8 in", "joint  3/16 in")).places[1]
    assert {line.key: line for line in agrees.built}["joint"] == Built("joint", "3/16 in, hard spacers", "", "as found")


def test_a_layer_that_a_record_found_stands_before_the_planned_one() -> None:
    text = shower('record "as found" for "floor"\n  kind  visit\n  membrane  bonded sheet A118.10\n')
    lines = [line for line in found_in(text).places[1].built if line.key == "membrane"]
    assert lines == [Built("membrane", "bonded sheet A118.10", "liquid A118.10, 2 coats, 30 mil dry", "as found")]


def test_a_missing_test_tells_what_it_would_have_shown_and_one_on_file_does_not() -> None:
    lacking = missing_at(found_in(shower()), "bath")["flood test"]
    shown = {one.rule: one for one in lacking.shows}
    # IPC 312.9: 2 in of water at the threshold for 15 min
    assert "2 in deep" in shown["flood-test-too-shallow"].says and "15 min" in shown["flood-test-too-short"].says
    assert shown["pan-not-flood-tested"].weight == "callback"
    assert (lacking.due, lacking.late, lacking.by) == ("before tile", True, "contractor") and lacking.second_best
    early = missing_at(found_in(shower(stage="design")), "bath")["flood test"]
    assert not early.late and {one.outcome for one in early.shows} <= {"to come", "not shown"}
    there = found_in(shower('record "test" for "bath"\n  kind  flood test\n  depth  1 in at threshold\n'))
    assert "flood test" not in missing_at(there, "bath")
    kept = there.places[0].kept[0]
    assert [one.rule for one in kept.fails if one.rule == "flood-test-too-shallow"] and "begin" in " ".join(kept.asks)


def test_what_is_not_built_calls_for_no_paper() -> None:
    dry = 'plan "p"\nroom "hall"\n  exposure  dry\n  use  corridor, residential\nassembly "wall" in "hall"\n  surface  wall\n'
    kinds = {one.kind for place in found_in(dry).places for one in place.missing}
    assert kinds & {"flood test", "warming reading", "membrane thickness", "photo record", "moisture test"} == set()
    assert "membrane thickness" not in forms_of(shower().replace("liquid A118.10, 2 coats, 30 mil dry", "bonded sheet"))


def test_a_file_is_looked_for_beside_the_plan_and_never_outside(tmp_path: Path) -> None:
    (tmp_path / "job" / "photos").mkdir(parents=True)
    (tmp_path / "job" / ".git").mkdir()
    (tmp_path / "job" / "photos" / "pan.jpg").write_bytes(b"abc")
    (tmp_path / "secret").write_text("x")
    plan = str(tmp_path / "job" / "a.wetspec")
    # FIPS 180-4, the message "abc"
    digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert attached(plan, "photos/pan.jpg") == File("photos/pan.jpg", THERE, 3, digest)
    assert attached(plan, "photos").state == NOT_THERE and attached(plan, "gone.pdf").state == NOT_THERE
    assert attached(plan, "../secret").state == OUTSIDE and attached(plan, "/etc/hostname").state == OUTSIDE
    (tmp_path / "job" / "link").symlink_to(tmp_path / "secret")
    assert attached(plan, "link").state == OUTSIDE
    assert attached(plan, "https://example.invalid/a.jpg").state == REFERENCE
    assert attached(plan, "a\x00b").state == NOT_THERE and attached(plan, "a" * 5000).state == NOT_THERE


def test_the_band_of_a_cable_is_printed_from_its_label() -> None:
    more = "  warming  cable, resistance 30 ohm, label down 5%, label up 10%\n"
    form = forms_of(shower(more, stage="before tile"))["warming reading"]
    # 30 ohm less 5 % is 28.5, more 10 % is 33
    assert [figure for _, figure in form.figures] == ["30 ohm", "28.5 ohm", "33 ohm"]
    assert form.of == ("cable", "sensor", "spare sensor") and "licensed electrician" in form.caution


def test_limits_are_those_of_the_rules_at_that_place() -> None:
    forms = forms_of(shower(stage="before membrane"))
    assert any("2 in deep" in text for text in forms["flood test"].limits)  # IPC 312.9
    assert any(text.startswith("95 %") for text in forms["lift test"].limits)  # ANSI A108.5, wet
    assert [text for _, text in forms["membrane thickness"].figures] == ["30 mil"]  # the plan's own figure
    dry = (
        shower(stage="before membrane")
        .replace("exposure  wet", "exposure  dry")
        .replace("use  shower", "use  bathroom")
    )
    assert any(text.startswith("80 %") for text in forms_of(dry)["lift test"].limits)  # ANSI A108.5, dry
    assert any(
        "1/4 in or less" in text for text in forms_of(shower("  flatness  1/8 in in 10 ft\n"))["flatness survey"].limits
    )


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_plan_has_its_record_in_every_form(path: Path) -> None:
    kit = shipped_kit()
    found = of_file(path)
    jsonschema.validate(json.loads(closeout_json([found])), SCHEMA)
    rows = list(csv.reader(io.StringIO(closeout_csv([found]), newline="")))
    assert rows[0] == list(HEADER) and {len(row) for row in rows} == {len(HEADER)}
    tokens = MarkdownIt("commonmark").enable("table").parse(closeout_markdown([found]))
    headings = [token for token in tokens if token.type == "heading_open"]
    assert len(headings) == 1 + len(found.places)
    for width in (40, 80):
        assert max(width_of(line) for line in plain(closeout_rows(found, width)).split("\n")) <= width
    forms = blank_forms(load_plan(str(path), kit), kit, DAY)
    sheets = blank_text(forms).split("\f")
    assert len(sheets) == max(1, len(forms))
    assert max(width_of(line) for sheet in sheets for line in sheet.split("\n")) <= WIDTH


def test_a_whole_record_leaves_nothing_missing() -> None:
    found = of_file(ROOT / "specs_examples/sound/mud-pan-handed-over.wetspec")
    assert [one.sheet for place in found.places for one in place.missing] == []
    kit = shipped_kit()
    assert blank_forms(load_plan(found.file, kit), kit, DAY) == ()


def test_what_is_filled_in_shows_what_it_was_said_to_show() -> None:
    """Each record that a place lacks, written with its kind alone, turns the asking rules to met and goes off the list."""
    kit = shipped_kit()
    bare = found_in(shower())
    for place in bare.places:
        for one in place.missing:
            if one.sheet not in kit.sheets or "record" not in kit.sheets[one.sheet]:
                continue
            more = f'record "filled" for "{place.address[-1]}"\n  kind  {one.kind}\n'
            assert one.sheet not in missing_at(found_in(shower(more)), *place.address)
            now = review(plan_of(shower(more), kit), kit, DAY)
            asked = {shown.rule for shown in one.shows} & _asking(one.kind)
            met = {rule for rule, _ in now.passed}
            assert asked <= met | {rule for question in now.questions for rule in question.frees}
            open_here = {
                rule for question in now.questions for rule in question.frees if rule in asked and _at(question, place)
            }
            assert open_here == set(), one.sheet


def _at(question: Question, place: Place) -> bool:
    return question.fact.startswith("paper ") and any(each.address == place.address for each in question.places)


def _asking(kind: str) -> set[str]:
    return {
        rule.name
        for pack in shipped_kit().packs
        for rule in pack.rules
        if f'record.kind = "{kind}"' in rule.demands_text or f"record.kind = {kind}" in rule.demands_text
    }


HOSTILE = shower(
    'record "a\x1b]0;x\x07|<b>" for "floor"\n  kind  visit\n  done  "=cmd()|[x](javascript:y)\u202e"\n  file  "../../etc/passwd"\n'
)


def test_text_of_a_plan_leaves_its_place_in_no_form() -> None:
    kit = shipped_kit()
    found = closeout(plan_of(HOSTILE, kit), kit, attached, DAY)
    texts = [plain(closeout_rows(found, 80)), closeout_json([found]), closeout_csv([found]), closeout_markdown([found])]
    for text in texts:
        assert "\x1b" not in text and "\x07" not in text and "\u202e" not in text
    page = closeout_markdown([found])
    assert "<b>" not in page and "](javascript" not in page
    assert all(not cell.startswith("=") for row in csv.reader(io.StringIO(texts[2], newline="")) for cell in row)
    kinds = {token.type for token in MarkdownIt("commonmark").enable("table").parse(page)}
    inner = {one.type for token in MarkdownIt("commonmark").parse(page) for one in token.children or ()}
    assert not {"html_block", "html_inline", "link_open", "image"} & (kinds | inner)
    assert [file.state for place in found.places for kept in place.kept for file in kept.files] == [OUTSIDE]


def test_the_same_plan_gives_the_same_bytes() -> None:
    one, two = found_in(shower()), found_in(shower())
    assert closeout_json([one]) == closeout_json([two]) and closeout_markdown([one]) == closeout_markdown([two])
