"""How computations are told: inputs as the plan writes them, the formula in words, the result as calc gives it."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import jsonschema

from speclint.files.kit import load_kit
from speclint.forms.json_form import json_form
from speclint.forms.rows import plain
from speclint.forms.safe import width_of
from speclint.forms.text import Look, text_rows
from speclint.review.kit import Kit
from speclint.review.report import Report
from speclint.review.run import Options, review
from speclint.review.working import formula_of
from tests.plan.reading import plan_of

ROOT = Path(__file__).resolve().parents[2]
PLAN = """plan "Mill Lane"
room "bath"
  exposure         wet
assembly "walls" in "bath"
  surface          wall "back", 60 in x 96 in
  mortar           A118.15 H T
  tile             porcelain, 12 x 24 in, thick 3/8 in, rectified
  trowel           square 1/4 x 1/4 x 1/4 in, blade at 45 deg
  joint            1/8 in
  short flatness   1/8 in in 24 in
"""


def told(kit: Kit, text: str = PLAN, working: bool = True) -> Report:
    return review(plan_of(text, kit), kit, Options(working=working))


def test_a_computation_is_told_with_its_inputs_its_formula_and_its_result() -> None:
    report = told(load_kit())
    bed = next(one for one in report.workings if one.fact == "bed.from-notch")
    assert bed.address == ("bath", "walls") and ("depth of the notch", "1/4 in") in bed.inputs
    assert "times the sine of the blade angle" in bed.formula and "metres" not in bed.formula
    shown = 0.25 * 0.25 / 0.5 * math.sin(math.radians(45))  # square ridge, equal tooth and gap: 0.088 in
    assert 0.08 < shown < 0.09 and bed.result == "about 3/32 in"


def test_a_finding_carries_the_computations_behind_it() -> None:
    report = told(load_kit())
    found = next(one for one in report.findings if one.rule == "bed-thinner-than-the-gap")
    assert any("once every ridge has folded" in step for step in found.working)
    text = " ".join(plain(text_rows(report, Look(80))).split())
    assert "worked out: bed that the notch leaves" in text and "by mean bed once every ridge has folded" in text


def test_nothing_is_told_where_nobody_asked() -> None:
    report = told(load_kit(), working=False)
    assert not report.workings and not any(one.working for one in report.findings)


def test_what_is_out_of_its_limits_says_which() -> None:
    report = told(load_kit(), PLAN.replace("joint            1/8 in", "ambient          2 C"))
    cold = next(one for one in report.workings if one.fact == "curing.grout-wait-in-the-cold")
    assert cold.result.startswith("not worked out: temperature is 2 C; below 5 C")


def test_it_fits_the_terminal_and_its_schema() -> None:
    report = told(load_kit())
    for width in (46, 80):
        assert max(width_of(line) for line in plain(text_rows(report, Look(width))).split("\n")) <= width
    schema = json.loads((ROOT / "shared/schemas/report.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads(json_form([report])), schema)


def test_every_computation_of_the_catalogue_has_a_formula_in_words() -> None:
    kit = load_kit(packs=())
    for name in kit.catalogue.facts:
        source = kit.catalogue.facts[name].source
        if source is not None and source.way == "function":
            formula = formula_of(source, kit.catalogue)
            assert len(formula) > 20 and not re.search(r"[`_]|Raises|Source", formula), (name, formula)
