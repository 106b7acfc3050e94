"""The forms of a submittal review: golden pages, the published schema, and texts that try to leave their place."""

from __future__ import annotations

import csv
import io
import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft7Validator

from speclint.files.data import data_folder
from speclint.files.product_data import submittal_data
from speclint.forms.rows import plain
from speclint.forms.submittal_cells import HEADER, submittal_csv
from speclint.forms.submittal_json import submittal_json
from speclint.forms.submittal_md import transmittal
from speclint.forms.submittal_text import submittal_rows
from speclint.kernel.faults import Problem
from speclint.kernel.span import at
from speclint.review.report import FAILS
from speclint.review.run import Options
from speclint.works.goods import knowledge
from speclint.works.handed import Item, Missing, Package, Requirement
from speclint.works.submittal import review_submittal
from tests.forms.reports import QUESTIONS, finding
from tests.plan.reading import plan_of
from tests.rules.shipped import shipped_kit

GOLDEN = Path(__file__).parent / "golden"
SCHEMA = json.loads((Path(data_folder("shared")) / "schemas" / "submittal.json").read_text(encoding="utf-8"))
SPAN = at("spec.wetspec", 12, 3, 4)
ROW = Requirement("class of the bonding mortar", "A118.15", "A118.4", FAILS, SPAN, clause="ANSI A118.15", key="mortar")


def package(text: str = "wall mortar") -> Package:
    """A package in which a text stands in every place where a person's words may."""
    broken = finding(message=text, passes=text, words=text, settles=text)
    asked = QUESTIONS[0]._replace(text=text)
    rows = (
        ROW._replace(specified=text, submitted=text, why=text, settles=text),
        ROW._replace(means=text, outcome="not shown", decided=text, clause=text),
        ROW._replace(outcome="meets"),
        ROW._replace(outcome="does not apply", submitted=text, place=None),
    )
    item = Item(text, "mortar", (text, "walls"), "substitution", SPAN, rows, (broken,), (asked,), "revise", text)
    missing = Missing("grout", text, ("shower", text), SPAN, text)
    return Package(
        file="spec.wetspec", plan=text, data="products.csv", as_of="2026-06-01", items=(item, item._replace(requirements=(), breaks=(), opens=(), summary="no exceptions", said="")),
        not_handed_in=(missing,), papers=(missing,), breaks=(broken,), unread=(Problem(SPAN, text),), rules=3,
        packs=(("practice", "1.0.0", "98e3d8b2393b0000"),), summary="revise", said=text,
    )  # fmt: skip


FORMS = {
    "submittal-80.txt": lambda one: plain(submittal_rows(one, 80)),
    "submittal-46.txt": lambda one: plain(submittal_rows(one, 46)),
    "submittal.md": transmittal,
    "submittal.csv": submittal_csv,
    "submittal.json": submittal_json,
}


@pytest.mark.parametrize("name", FORMS)
def test_a_form_is_as_it_was_read_and_found_good(name: str) -> None:
    made = FORMS[name](package())
    if os.environ.get("REWRITE_GOLDEN"):
        (GOLDEN / name).write_text(made, encoding="utf-8", newline="")
    assert made == (GOLDEN / name).read_bytes().decode("utf-8")


@pytest.mark.parametrize("width", [46, 80, 100])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    assert max(len(line) for line in plain(submittal_rows(package("a longer name " * 4), width)).splitlines()) <= width


def test_json_holds_to_the_published_schema() -> None:
    Draft7Validator.check_schema(SCHEMA)
    Draft7Validator(SCHEMA).validate(json.loads(submittal_json(package())))
    kit = shipped_kit()
    text = 'plan "Mill Lane"\nroom "r"\nassembly "walls" in "r"\n  mortar A118.15\nsubmittal "m" for "walls"\n  mortar A118.4\n'
    real = review_submittal(
        plan_of(text, kit), kit, knowledge(submittal_data(), kit.catalogue), Options(as_of="2026-06-01")
    )
    found = json.loads(submittal_json(real))
    Draft7Validator(SCHEMA).validate(found)
    assert found["items"][0]["requirements"][0]["outcome"] == FAILS


NASTY = st.text(
    alphabet=st.sampled_from("a \n\r\t\x00\x1b[]31m|`*_#<>&=+-@\"',;\u2028\u202e\u0085:/!"), min_size=1, max_size=30
)


@given(NASTY)
def test_no_text_leaves_its_place(text: str) -> None:
    one, usual = package(text), package()
    for name in ("submittal-80.txt", "submittal.md", "submittal.json"):
        made = FORMS[name](one)
        assert not set(made) & set("\x00\x1b\r\u2028\u202e\u0085")
    page = transmittal(one)
    assert len(page.splitlines()) == len(transmittal(usual).splitlines())
    assert "<a" not in page and "](" not in page
    rows = list(csv.reader(io.StringIO(submittal_csv(one), newline="")))
    assert {len(row) for row in rows} == {len(HEADER)} and len(rows) == len(
        list(csv.reader(io.StringIO(submittal_csv(usual))))
    )
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for row in rows for cell in row)
