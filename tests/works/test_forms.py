"""Forms of takeoff and layout: CSV by RFC 4180 read back, formula guard, workbook, JSON by its schema, SVG by its rules."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.forms.drawing import SHEET, Drawing, Shape, scale_for, svg
from speclint.forms.layout_drawing import elevation
from speclint.forms.layout_json import layout_json
from speclint.forms.layout_text import layout_rows
from speclint.forms.rows import plain
from speclint.forms.safe import width_of
from speclint.forms.takeoff_cells import BOM, HEADER, csv_form, guarded, table
from speclint.forms.takeoff_json import takeoff_json
from speclint.forms.takeoff_text import takeoff_rows
from speclint.forms.takeoff_xlsx import workbook
from speclint.review.kit import Kit
from speclint.works.lines import Takeoff
from tests.works.jobs import IN, job, laid, taken

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = (ROOT / "tests/works/golden.wetspec").read_text(encoding="utf-8").partition("\n")[2]
EVIL = job(
    'surface wall "back", 60 in x 84 in', "tile porcelain, 3/8 x 24 in, thick 3/8 in", 'grout color "=1+1"', "pattern stacked"
).replace('room "bath"', 'room "=cmd()"').replace('in "bath"', 'in "=cmd()"')  # fmt: skip


@pytest.fixture(scope="module")
def golden(kit: Kit) -> Takeoff:
    return taken(GOLDEN, kit)


def test_csv_is_read_back_cell_for_cell(golden: Takeoff) -> None:
    text = csv_form(golden)
    assert text.count("\r\n") == text.count("\n") and text.endswith("\r\n")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert tuple(rows[0]) == HEADER and len(rows) == 1 + len(golden.order) + len(golden.lines)
    assert [tuple(row) for row in rows] == [tuple(map(guarded, row)) for row in table(golden)]
    assert csv_form(golden, bom=True) == BOM + text


def test_sizes_keep_their_unit_so_that_none_is_a_date(golden: Takeoff) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_form(golden), newline="")))
    assert any("joint 1/8 in" in row["from"] for row in rows)
    for row in rows:
        assert not any(re.fullmatch(r"\d+/\d+", cell or "") for cell in row.values())
        assert row["net unit"] in ("", "sq ft", "cu ft", "lb", "ft", "pieces")


def test_a_cell_that_would_run_is_guarded(kit: Kit) -> None:
    rows = list(csv.reader(io.StringIO(csv_form(taken(EVIL, kit)), newline="")))
    places = {row[1] for row in rows[1:]}
    assert places == {"'=cmd()"}


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=12))
def test_no_guarded_cell_begins_a_formula(cell: str) -> None:
    told = guarded(cell)
    assert not told.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert told.removeprefix("'") == cell.removeprefix("'") or told == cell


def test_the_workbook_holds_the_table_as_text_and_numbers(golden: Takeoff, kit: Kit) -> None:
    """Read back with openpyxl, which did not write it."""
    openpyxl = pytest.importorskip("openpyxl")
    book = openpyxl.load_workbook(io.BytesIO(workbook(golden)))
    assert book.sheetnames == ["Order", "Lines"]
    rows = list(book["Order"].iter_rows(values_only=True))
    assert rows[0] == HEADER and len(rows) == 1 + len(golden.order)
    assert all(isinstance(row[7], (int, float)) for row in rows[1:])
    evil = openpyxl.load_workbook(io.BytesIO(workbook(taken(EVIL, kit))))
    cells = [cell for sheet in evil for row in sheet.iter_rows() for cell in row]
    assert any(cell.value == "=cmd()" for cell in cells)
    assert all(cell.data_type in ("s", "n") and not cell.is_date for cell in cells)
    assert workbook(golden) == workbook(golden)


def test_json_holds_its_schema(golden: Takeoff, kit: Kit) -> None:
    for name, text in (("takeoff", takeoff_json(golden)), ("layout", layout_json(laid(GOLDEN, kit)))):
        schema = json.loads((ROOT / f"shared/schemas/{name}.json").read_text(encoding="utf-8"))
        jsonschema.Draft7Validator.check_schema(schema)
        found = json.loads(text)
        jsonschema.validate(found, schema)
        assert text.isascii()
    for surface in found["surfaces"]:
        for way, length in ((surface["along"][0], surface["width"]), (surface["up"][0], surface["height"])):
            for row in way["rows"]:
                ends = [row["first"], row["last"]]
                number = row["full"] + sum(end > 0 for end in ends)
                filled = row["firstGap"] + sum(ends) + row["full"] * row["tile"] + row["lastGap"]
                assert filled + row["joint"] * (number - 1) == pytest.approx(length, abs=1e-9)


@pytest.mark.parametrize("width", [46, 80, 120])
def test_text_fits_the_terminal(golden: Takeoff, kit: Kit, width: int) -> None:
    for rows in (takeoff_rows(golden, width), layout_rows(laid(GOLDEN, kit), "inch", width)):
        assert max(width_of(line) for line in plain(rows).split("\n")) <= width


def test_a_drawing_is_plain_svg_with_ids_that_stay(kit: Kit) -> None:
    drawings = [elevation(layout, "inch") for layout in laid(GOLDEN, kit)]
    text = svg(drawings)
    assert text == svg([elevation(layout, "inch") for layout in laid(GOLDEN, kit)])
    root = ElementTree.fromstring(text)
    tags = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "style", "g", "rect", "line", "circle", "path", "text"}
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) and "hall-shower-walls-wall-back" in ids
    assert "prefers-color-scheme:dark" in text and "http" not in text.replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"\d\.\d{3}", text)


def test_a_drawing_is_to_scale(kit: Kit) -> None:
    (back,) = [one for one in laid(GOLDEN, kit) if one.name == 'wall "back"']
    face = next(shape for shape in elevation(back, "inch").shapes if shape.style == "face")
    assert face.figures[2:] == pytest.approx((60 * 25.4 / 24, 84 * 25.4 / 24))
    drawn = [shape for shape in elevation(back, "inch").shapes if shape.kind == "rects"]
    sizes = sorted(one for shape in drawn for one in zip(shape.figures[2::4], shape.figures[3::4], strict=True))
    told = sorted((float(piece.box.width) * 1000 / 24, float(piece.box.height) * 1000 / 24) for piece in back.pieces)
    assert [one for size in sizes for one in size] == pytest.approx([one for size in told for one in size])
    bar = next(shape for shape in elevation(back, "inch").shapes if shape.style == "strong")
    assert bar.figures[2] - bar.figures[0] == pytest.approx(24 * 25.4 / 24)  # says 2 ft


def test_texts_of_a_drawing_do_not_overlap_and_stay_on_the_sheet(kit: Kit) -> None:
    for layout in laid(GOLDEN, kit):
        drawing = elevation(layout, "inch")
        boxes = [_box(shape) for shape in drawing.shapes if shape.kind == "text"]
        for at, (left, top, right, bottom) in enumerate(boxes):
            assert left >= -0.5 and right <= SHEET + 0.5 and top >= 0 and bottom <= drawing.height
            for other in boxes[at + 1 :]:
                apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
                assert apart, (layout.name, drawing.shapes)


def _box(shape: Shape) -> tuple[float, float, float, float]:
    x, y = shape.figures
    width = width_of(shape.text) * shape.size * 0.5
    left = {"start": x, "middle": x - width / 2, "end": x - width}[shape.anchor]
    return left, y - 0.75 * shape.size, left + width, y + 0.2 * shape.size


def test_hostile_names_cannot_leave_their_place_in_a_drawing() -> None:
    shape = Shape("text", (1.0, 2.0), "note", "</text><script>alert(1)</script>\x1b[31m")
    text = svg([Drawing("a-b", 'a "b" <c>', "d & e", 100, 50, (shape,))])
    root = ElementTree.fromstring(text)
    assert not [one for one in root.iter() if one.tag.endswith("script")] and "\x1b" not in text


def test_scales_are_usual_ones() -> None:
    assert scale_for(60 * IN, 84 * IN, 95, 150, inch=True).text == "1/2 in = 1 ft, 1:24"
    assert scale_for(60 * IN, 84 * IN, 95, 150, inch=False).ratio == 20
    assert scale_for(10 * IN**0, 10 * IN**0, 95, 150, inch=False).ratio == 200
