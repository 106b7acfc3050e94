"""Product data from tables: head words, places of what is wrong, what spreadsheets make of figures, hostile files."""

from __future__ import annotations

import csv
import datetime
import io
import sys
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.files.kit import load_kit
from speclint.files.product_data import MOST_COLUMNS, MOST_ROWS, read_product_data, submittal_data
from speclint.kernel.faults import UsageFault
from speclint.kernel.values import Known, Members
from speclint.language.reader import TEXT_LIMIT
from speclint.plan.sections import Section

KIT = load_kit(packs=())
DATA = submittal_data()
HEAD = "item,for,kind,class,size,thickness (in),report date\n"


def read(tmp_path: Path, data: str | bytes, name: str = "products.csv") -> tuple[tuple[Section, ...], list[str]]:
    path = tmp_path / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    sections, problems = read_product_data(str(path), DATA, KIT)
    return sections, [str(one).removeprefix(f"{path}:") for one in problems]


def facts(section: Section) -> dict[str, object]:
    found = {fact: value for entry in section.entries for fact, value in entry.facts.items()}
    return {fact: value.value if isinstance(value, Known) else value for fact, value in found.items()}


def test_one_row_is_one_item(tmp_path: Path) -> None:
    sections, problems = read(tmp_path, HEAD + "Wall mortar,shower / walls,mortar,A118.15 HT,,,\n")
    assert problems == []
    (section,) = sections
    assert (section.kind, section.name, section.path) == ("submittal", "Wall mortar", ("shower", "walls"))
    letters = facts(section)["mortar.letters"]
    assert facts(section)["mortar.class"] == "A118.15" and isinstance(letters, Members) and letters.has == {"H", "T"}
    assert section.entries[0].span.line == 2 and section.entries[0].span.column == 3


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("bom", [b"", b"\xef\xbb\xbf"])
def test_separators_line_ends_and_byte_order_marks(tmp_path: Path, mark: str, end: str, bom: bytes) -> None:
    stream = io.StringIO(newline="")
    rows = [["Item", "FOR", "Kind", "Class", "Size"], ["T1", "walls", "porcelain tile", "", "12 x 24 in"]]
    csv.writer(stream, delimiter=mark, lineterminator=end).writerows(rows)
    sections, problems = read(tmp_path, bom + stream.getvalue().encode())
    assert problems == [] and facts(sections[0])["tile.material"] == "porcelain"


def test_a_unit_in_the_head_is_that_of_bare_figures(tmp_path: Path) -> None:
    sections, problems = read(tmp_path, HEAD + "a,,tile,,,3/8,\nb,,tile,,,9.5 mm,\n")
    assert problems == []
    inch = 254_000_000
    assert facts(sections[0])["tile.thick"] == inch * 3 // 8 and facts(sections[1])["tile.thick"] == 95_000_000


def test_quoted_cells_may_hold_separators_and_inch_marks(tmp_path: Path) -> None:
    row = 'a,,tile,,"12 x 24 in","3/8""",\n'
    sections, problems = read(tmp_path, HEAD.replace(" (in)", "") + row)
    assert problems == [] and facts(sections[0])["tile.thick"] == 95_250_000


@pytest.mark.parametrize("cell", ["8-Mar", "03-Aug", "Mar-08", "3/8/2026", "2026-03-08", "08.03.2026", "8. Mrz 2026", "2026-03-08 00:00:00"])  # fmt: skip
def test_what_a_spreadsheet_made_a_date_is_refused_with_the_reason(tmp_path: Path, cell: str) -> None:
    _, problems = read(tmp_path, HEAD + f"a,,tile,,,{cell},\n")
    assert len(problems) == 1 and problems[0].startswith(f'2:6: "{cell}" is a date: a spreadsheet makes one of 3/8')


def test_dates_stand_where_dates_belong(tmp_path: Path) -> None:
    sections, problems = read(tmp_path, HEAD + "a,,tile,,,,2026-03-08\n")
    assert problems == [] and "test-report.date" in facts(sections[0])


@pytest.mark.parametrize("cell", ["A118.4", "C-90", "R-13", "EN 14891"])
def test_classes_are_no_dates(tmp_path: Path, cell: str) -> None:
    _, problems = read(tmp_path, HEAD + f"a,,mortar,{cell},,,\n")
    assert not any("is a date" in one for one in problems)


@pytest.mark.parametrize("cell", ["=A1", "=cmd|' /C calc'!A0", "+1+1", "@sum(a)", "-a1"])
def test_formulas_are_refused(tmp_path: Path, cell: str) -> None:
    _, problems = read(tmp_path, HEAD + f'a,,mortar,"{cell}",,,\n')
    assert problems == ["2:4: this cell holds a formula: save the table with its values"]


@pytest.mark.parametrize("head,row,told", [
    ("item,kind,clas", "a,mortar,A118.4", '1:3: "clas" is no head word of product data; nearest: "class"'),
    ("item,kind,class,Class", "a,mortar,A118.4,A118.1", '1:4: "class" heads column 3 already; keep one'),
    ("item,for", "a,walls", '1:1: no column tells what the items are: add one named "kind", as in tile or mortar'),
    ("item,kind,class", "a,morter,A118.4", '2:2: "morter" is no kind of product that is known here; nearest: "mortar"'),
    ("item,kind,class", "a,mortar,A119.4", '2:3: "A119.4" is not read under "mortar"'),
    ("item,kind,size", "a,tile,12", "2:3: "),
    ("item,kind,class,letters", "a,mortar,A118.4 T,H", '2:4: "H" tells again what another cell of this row told; keep one'),
])  # fmt: skip
def test_errors_name_row_and_column(tmp_path: Path, head: str, row: str, told: str) -> None:
    _, problems = read(tmp_path, f"{head}\n{row}\n")
    assert len(problems) == 1 and problems[0].startswith(told), problems


@pytest.mark.parametrize("data,told", [
    (b"", "this table is empty"),
    (b"item,kind\n", "head words and no item"),
    (b"item,kind\na,\x00mortar\n", "there is a NUL here"),
    (b"item,kind\na,m\xf6rtel\n", "byte 0xf6 is not UTF-8"),
    ("item,kind\na,mortar\n".encode("utf-16"), "UTF-16"),
    (b'item,kind\n"a,mortar\n', "a quote is opened and not closed"),
    (b'item,kind\n"a"b,mortar\n', "after a quoted cell"),
    (b"item,kind\n" + b"x" * 200_000 + b",mortar\n", "far too long"),
    (b"a" * (TEXT_LIMIT + 1), "1 MiB"),
    (b"," * (MOST_COLUMNS + 5) + b"\n", f"more than {MOST_COLUMNS} columns"),
    (b"item,kind\n" + b"a,mortar\n" * (MOST_ROWS + 5), f"more than {MOST_ROWS:,} rows"),
])  # fmt: skip
def test_hostile_files_are_told_and_not_read(tmp_path: Path, data: bytes, told: str) -> None:
    sections, problems = read(tmp_path, data)
    assert sections == () and len(problems) == 1 and told in problems[0], problems


def test_a_cell_beyond_measure_is_refused(tmp_path: Path) -> None:
    _, problems = read(tmp_path, HEAD + f"a,,mortar,{'T ' * 2000},,,\n")
    assert problems == ["2:4: this cell has more than 2,000 signs and is not read"]


@settings(max_examples=120, deadline=None)
@given(st.lists(st.lists(st.text(max_size=20), min_size=1, max_size=6), min_size=2, max_size=5))
def test_no_table_brings_anything_but_sections_and_places(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]]
) -> None:
    stream = io.StringIO(newline="")
    csv.writer(stream).writerows([["item", "for", "kind", "class", "report date", "properties"], *rows])
    path = tmp_path_factory.mktemp("fuzz") / "f.csv"
    path.write_bytes(stream.getvalue().encode("utf-8", "replace"))
    sections, problems = read_product_data(str(path), DATA, KIT)
    assert all(problem.span.line >= 1 for problem in problems)
    assert all(section.kind == "submittal" for section in sections)


def _book(path: Path, rows: list[list[object]]) -> str:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    book.save(path)
    return str(path)


def test_a_workbook_is_read_as_the_table_it_holds(tmp_path: Path) -> None:
    path = _book(
        tmp_path / "p.xlsx",
        [
            ["item", "kind", "class", "thickness (mm)"],
            ["a", "mortar", "A118.4", None],
            ["t", "porcelain tile", None, 9.5],
        ],
    )
    sections, problems = read_product_data(path, DATA, KIT)
    assert problems == () and facts(sections[1])["tile.thick"] == 95_000_000


def test_a_size_that_a_workbook_made_a_date_is_refused(tmp_path: Path) -> None:
    path = _book(tmp_path / "p.xlsx", [["item", "kind", "thickness"], ["t", "tile", datetime.datetime(2026, 3, 8)]])
    _, problems = read_product_data(path, DATA, KIT)
    assert [str(one).removeprefix(f"{path}:") for one in problems] == [
        '2:3: "2026-03-08" is a date: a spreadsheet makes one of 3/8; format the column as text and write 3/8 in'
    ]


def test_formulas_of_a_workbook_are_not_run(tmp_path: Path) -> None:
    path = _book(tmp_path / "p.xlsx", [["item", "kind", "class"], ["t", "mortar", "=1+1"]])
    sections, _ = read_product_data(path, DATA, KIT)
    assert facts(sections[0]) == {}


def test_a_broken_workbook_and_an_old_one_are_told(tmp_path: Path) -> None:
    (tmp_path / "p.xlsx").write_bytes(b"PK nothing")
    with pytest.raises(UsageFault, match="no workbook that can be read"):
        read_product_data(str(tmp_path / "p.xlsx"), DATA, KIT)
    (tmp_path / "p.xls").write_bytes(b"\xd0\xcf")
    with pytest.raises(UsageFault, match="save it as CSV"):
        read_product_data(str(tmp_path / "p.xls"), DATA, KIT)


def test_a_workbook_needs_its_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = _book(tmp_path / "p.xlsx", [["item", "kind"]])
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    with pytest.raises(UsageFault, match=r"speclint\[xlsx\]"):
        read_product_data(path, DATA, KIT)


def test_sections_may_stand_in_a_file_of_their_own(tmp_path: Path) -> None:
    text = 'plan "of the contractor"\nroom "not taken"\nsubmittal "m" for "walls"\n  mortar A118.4\n'
    sections, problems = read(tmp_path, text, "handed-in.wetspec")
    assert problems == [] and [one.name for one in sections] == ["m"]
    assert read(tmp_path, 'plan "x"\n', "none.wetspec")[1][0].startswith("1:1: no submittal stands here")
