"""A cut through an assembly: its figures are those of the computations, and what is not told is not there.

Expected figures: geometry worked by hand beside each test; the fall of 1/4 in per ft is 1/48 (IRC P2709.1).
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest

from speclint.calc.trowel import bed_from_notch, ridge_in_joint, ridge_reach
from speclint.facts.build import build_subjects
from speclint.forms.drawing import Drawing, Shape, svg
from speclint.forms.rows import plain
from speclint.forms.section_drawing import pictures_of, section_drawings
from speclint.forms.section_json import section_json
from speclint.forms.section_text import section_rows
from speclint.forms.sheet import Picture
from speclint.review.kit import Kit
from speclint.review.run import Options, review
from speclint.works.reading import Reach
from speclint.works.section import cuts_of
from speclint.works.section_pins import WHOLE, numbered, pins_of
from speclint.works.section_values import Cut
from tests.plan.reading import plan_of

ROOT = Path(__file__).resolve().parents[2]
PAN = """plan "Mill Lane"
  stage            before tile
room "bath"
  exposure         wet
  floor            48 in x 48 in
assembly "pan" in "bath"
  surface          floor, 48 in x 48 in
  framing          wood joists 2x10 at 16 in
  subfloor         exterior-glue plywood 3/4 in
  pre-slope        deck mud, 1/2 in at drain, slope 1/4 in per ft
  liner            PVC D4551 0.040 in, turned up 10 in, over curb
  mortar bed       deck mud 1-1/2 in
  drain            clamping drain, 2 in outlet, center, weeps open, gravel
  slope            1/4 in per ft to drain, level perimeter, farthest run 36 in
  mortar           A118.4
  tile             porcelain, nominal 4 x 4 in, thick 5/16 in
  trowel           square 1/4 x 3/8 x 1/4 in
  joint            1/8 in
  grout            A118.7, sanded
  change of plane  sealant C920, 1/4 in wide
  movement joint   every 10 ft, sealant C920, 3/8 in wide
  trim             edge profile, stainless steel, at doorway
part "curb" of "pan"
  kind             curb, 36 in wide, 4 in high, deep 5 in
  build            concrete
  top fall         1/4 in per ft, to drain
"""
BARE = (
    'plan "Mill Lane"\nroom "bath"\n  exposure wet\nassembly "walls" in "bath"\n  surface wall "back", 60 in x 84 in\n'
)
CONCRETE = PAN.replace("wood joists 2x10 at 16 in", "slab on ground").replace(" in wide\n", " in wide\n")


def cut_of(text: str, kit: Kit) -> Cut:
    plan = plan_of(text, kit)
    assert not plan.problems, plan.problems
    (found,) = cuts_of(plan, build_subjects(plan, kit.catalogue))
    return found


def picture(cut: Cut, name: str, system: str = "inch") -> Picture:
    return dict(pictures_of(cut, system))[name]


def inches(reach: Reach | None) -> float:
    assert reach is not None
    return float(reach.high / Fraction(127, 5000))


def styled(one: Picture | Drawing, style: str, kind: str = "rect") -> list[Shape]:
    return [shape for shape in one.shapes if shape.style == style and shape.kind == kind]


def test_layers_stand_in_their_order_with_their_thickness(kit: Kit) -> None:
    cut = cut_of(PAN, kit)
    roles = [one.role for one in cut.strata]
    assert roles == ["framing", "subfloor", "pre-slope", "liner", "mortar bed", "mortar", "tile"]
    thick = {one.role: one for one in cut.strata}
    assert inches(thick["subfloor"].thick) == 0.75 and inches(thick["liner"].thick) == pytest.approx(0.04)
    assert inches(thick["framing"].thick) == 9.25  # dressed size of a 2x10: 1-1/2 x 9-1/4 in (PS 20)
    assert inches(thick["pre-slope"].at_wall) == pytest.approx(0.5 + 36 / 48)
    assert [one.role for one in cut.strata if one.holds_water] == ["liner"]


def test_what_is_not_told_is_not_there(kit: Kit) -> None:
    cut = cut_of(BARE, kit)
    assert [one.thick for one in cut.strata] == [None] * len(cut.strata)
    assert cut.pan is None and cut.curbs == () and cut.notch.width is None and cut.joint.width is None
    (shown,) = pictures_of(cut, "inch")
    assert shown[0] == "layers"
    hatched = {shape.style for shape in shown[1].shapes} - {"untold", "line", "outline"}
    assert hatched == set(), hatched
    assert "not told" in plain(section_rows(cut, (), "inch", "Mill Lane", 80))


def test_layers_are_drawn_to_their_scale(kit: Kit) -> None:
    cut = cut_of(PAN, kit)
    for system in ("inch", "metric"):
        drawn = picture(cut, "layers", system)
        ratio = float(drawn.scale.ratio)
        (tile, *_) = styled(drawn, "tile")
        assert tile.figures[3] == pytest.approx(5 / 16 * 25.4 / ratio)
        assert max(one.figures[3] for one in styled(drawn, "mortar")) == pytest.approx(1.5 * 25.4 / ratio)
        (joint,) = styled(drawn, "grout")
        assert joint.figures[2] == pytest.approx(25.4 / 8 / ratio)
        (liner,) = styled(drawn, "barrier", "line")
        above = [one for one in styled(drawn, "mortar") if one.figures[1] < liner.figures[1]]
        assert len(above) == 2  # the thin bed and the mortar bed stand over the liner, the pre-slope under it


def test_falls_are_drawn_to_their_scale(kit: Kit) -> None:
    """36 in at 1/4 in per ft rise 3/4 in; the pre-slope is 1/2 in thick at the drain."""
    drawn = picture(cut_of(PAN, kit), "falls to the drain")
    larger = int(next(text for text in drawn.said if "Heights" in text).split()[3])
    wedge = styled(drawn, "mortar", "path")[0].figures
    left, low, right, low_right, _, high_right, _, high_left = wedge
    ratio = float(drawn.scale.ratio)
    assert right - left == pytest.approx(36 * 25.4 / ratio)
    assert low == low_right and low - high_left == pytest.approx(0.5 * 25.4 / ratio * larger)
    assert high_left - high_right == pytest.approx(0.75 * 25.4 / ratio * larger)
    tile = styled(drawn, "tile", "path")[0].figures
    assert tile[1] - tile[3] == pytest.approx(0.75 * 25.4 / ratio * larger)  # the finished floor falls as much


def test_a_bed_of_told_ends_is_drawn_by_them(kit: Kit) -> None:
    text = PAN.replace(
        "pre-slope        deck mud, 1/2 in at drain, slope 1/4 in per ft",
        "pre-slope        deck mud, 1/2 in at drain, 1 in at wall",
    )
    drawn = picture(cut_of(text, kit), "falls to the drain")
    larger = int(next(text for text in drawn.said if "Heights" in text).split()[3])
    figures = styled(drawn, "mortar", "path")[0].figures
    assert figures[7] - figures[5] == pytest.approx(0.5 * 25.4 / float(drawn.scale.ratio) * larger)


def test_notch_ridges_and_bed_are_those_of_the_computations(kit: Kit) -> None:
    cut = cut_of(PAN, kit)
    drawn = picture(cut, "notch, ridges and bed")
    ratio = float(drawn.scale.ratio)
    width, depth = 0.25 * 0.0254, 0.375 * 0.0254
    low, high = ridge_reach(depth, 35), ridge_reach(depth, 60)  # the angles that the catalogue assumes
    ridges = styled(drawn, "mortar", "path")
    tall = max(ridges[0].figures[1::2]) - min(ridges[0].figures[1::2])
    assert tall == pytest.approx(low * 1000 / ratio, rel=0.02)
    most = styled(drawn, "ghost", "path")[0].figures
    assert max(most[1::2]) - min(most[1::2]) == pytest.approx(high * 1000 / ratio, rel=0.02)
    assert max(most[::2]) - min(most[::2]) == pytest.approx(width * 1000 / ratio)
    (bed,) = styled(drawn, "mortar")
    assert bed.figures[3] == pytest.approx(bed_from_notch("square", width, depth, width, 35) * 1000 / ratio, rel=0.02)


def test_the_joint_holds_what_stands_in_it(kit: Kit) -> None:
    drawn = picture(cut_of(PAN, kit), "joint")
    ratio = float(drawn.scale.ratio)
    width, depth = 0.25 * 0.0254, 0.375 * 0.0254
    bed = bed_from_notch("square", width, depth, width, 60)
    stands = ridge_in_joint(depth, 35, bed)
    (grout,) = styled(drawn, "grout")
    assert grout.figures[2] == pytest.approx(25.4 / 8 / ratio)
    ridge = next(one for one in styled(drawn, "mortar") if one.figures[2] == grout.figures[2])
    assert ridge.figures[3] == pytest.approx(stands * 1000 / ratio, rel=0.05)
    assert grout.figures[3] + ridge.figures[3] == pytest.approx(5 / 16 * 25.4 / ratio)


def test_change_of_plane_movement_joint_trim_and_curb(kit: Kit) -> None:
    cut = cut_of(PAN, kit)
    corner = picture(cut, "change of plane")
    (filled,) = styled(corner, "sealant")
    assert filled.figures[3] == pytest.approx(25.4 / 4 / float(corner.scale.ratio))
    soft = picture(cut, "movement joint")
    (filled,) = styled(soft, "sealant")
    assert filled.figures[2] == pytest.approx(25.4 * 3 / 8 / float(soft.scale.ratio))
    curb = picture(cut, "curb")
    ratio = float(curb.scale.ratio)
    core = styled(curb, "slab", "path")[0].figures
    assert core[4] - core[2] == pytest.approx(5 * 25.4 / ratio) and core[1] - core[3] == pytest.approx(4 * 25.4 / ratio)
    assert core[5] - core[3] == pytest.approx(5 * 25.4 / ratio / 48)  # the top falls 1/4 in per ft toward the drain
    assert styled(curb, "barrier", "open") and picture(cut, "trim").notes[0].title == "profile"
    grouted = picture(cut_of(PAN.replace("sealant C920, 1/4 in wide", "grout"), kit), "change of plane")
    assert styled(grouted, "grout") and not styled(grouted, "sealant")


def test_framing_is_hatched_as_it_is_cut(kit: Kit) -> None:
    wood = picture(cut_of(PAN, kit), "layers")
    (stud,) = styled(wood, "timber")
    left, top, wide, high = stud.figures
    crosses = [one.figures for one in styled(wood, "line", "line")]
    assert (left, top, left + wide, top + high) in crosses and (left, top + high, left + wide, top) in crosses
    ground = picture(cut_of(CONCRETE, kit), "layers")
    assert styled(ground, "slab") and styled(ground, "earth")


def test_every_finding_stands_at_the_part_it_concerns(kit: Kit) -> None:
    text = PAN.replace("PVC D4551 0.040 in", "PVC 0.030 in, flat").replace("sealant C920, 1/4 in wide", "grout")
    plan = plan_of(text, kit)
    report = review(plan, kit, Options(as_of="2026-04-02"))
    (cut,) = cuts_of(plan, build_subjects(plan, kit.catalogue))
    pins = pins_of(cut, report)
    by_number = dict(numbered(report))
    at = {number: part for part, number, _, _ in pins}
    assert len(at) == len(pins) and pins_of(cut, None) == ()
    liner = next(one.id for one in cut.strata if one.role == "liner")
    flat, hard = ([number for number, one in by_number.items() if one.words == words] for words in ("flat", "grout"))
    assert flat and {at[number] for number in flat} == {liner}
    assert hard and {at[number] for number in hard} == {"corner"}
    drawings = section_drawings(cut, pins, "inch")
    counted = [shape.text for one in drawings for shape in one.shapes if shape.style == "count"]
    on_parts = [str(number) for part, number, _, _ in pins if part != WHOLE]
    assert sorted(counted) == sorted([*on_parts, *(str(number) for _, number, _, _ in pins)])  # a pin and a row each


def test_a_cut_is_plain_svg_and_the_same_again(kit: Kit) -> None:
    cut = cut_of(PAN, kit)
    drawings = section_drawings(cut, (), "inch", "Mill Lane")
    text = svg(drawings)
    assert text == svg(section_drawings(cut_of(PAN, kit), (), "inch", "Mill Lane"))
    root = ElementTree.fromstring(text)
    tags = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "style", "g", "rect", "line", "circle", "path", "text", "defs", "pattern"}
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) and "mill-lane-bath-pan-layers" in ids
    used = {one.split(")")[0] for one in text.split("url(#")[1:]}
    drawn = {element.get("class") for element in root.iter()}
    assert {one for one in ids if one.startswith("hatch-")} == {
        one for one in used if one.removeprefix("hatch-") in drawn
    }


def test_hostile_names_stay_text_in_a_cut(kit: Kit) -> None:
    name = "</text><script>alert(1)</script>"
    text = PAN.replace('"bath"', f'"{name}"').replace("A118.7, sanded", 'A118.7, color "<b>&"')
    plan = plan_of(text, kit)
    (cut,) = cuts_of(plan, build_subjects(plan, kit.catalogue))
    root = ElementTree.fromstring(svg(section_drawings(cut, (), "inch")))
    assert not [one for one in root.iter() if one.tag.endswith("script")]
    assert any("<script>" in (one.text or "") for one in root.iter())


def test_json_holds_its_schema_and_its_figures(kit: Kit) -> None:
    plan = plan_of(PAN, kit)
    report = review(plan, kit, Options(as_of="2026-04-02"))
    (cut,) = cuts_of(plan, build_subjects(plan, kit.catalogue))
    schema = json.loads((ROOT / "shared/schemas/section.json").read_text(encoding="utf-8"))
    jsonschema.Draft7Validator.check_schema(schema)
    text = section_json([("Mill Lane", cut, pins_of(cut, report)), ("b", cut_of(BARE, kit), ())], [("c", "gone")])
    found = json.loads(text)
    jsonschema.validate(found, schema)
    assert text.isascii() and found["cuts"][0]["pan"]["rise"]["least"] == pytest.approx(0.75 * 0.0254)
    assert found["cuts"][0]["joint"]["width"] == {"least": 0.003175, "most": 0.003175}
    assert found["cuts"][1]["pan"] is None and found["cuts"][1]["joint"]["width"] is None
