"""The tables that hand limits and coefficients to the computations: whole, sourced, in known units."""

import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

SHARED = Path(__file__).parents[2] / "shared"
UNITS = SHARED / "units.yaml"
TABLES = sorted((SHARED / "tables").glob("*.yaml"))
ENTRIES = [
    (f"{path.stem}.{name}", entry)
    for path in TABLES
    for name, entry in yaml.safe_load(path.read_text(encoding="utf-8")).items()
]
BASES = {"looked-up", "memory", "derived", "common practice"}


def test_there_are_tables() -> None:
    assert len(ENTRIES) >= 90


@pytest.mark.parametrize(("name", "entry"), ENTRIES, ids=[name for name, _ in ENTRIES])
def test_entry_is_whole(name: str, entry: dict[str, Any]) -> None:
    assert set(entry) in ({"value", "unit", "source", "meaning"}, {"rows", "unit", "source", "meaning"}), name
    assert re.fullmatch(r"[a-z0-9.-]+", name)
    assert isinstance(entry["unit"], str)
    assert len(entry["meaning"]) > 15
    assert set(entry["source"]) <= {"standard", "clause", "edition", "basis"}
    assert entry["source"]["basis"] in BASES
    assert entry["source"]["standard"]
    assert "://" not in str(entry)
    for cell in [entry["value"]] if "value" in entry else [row.get("value", 0) for row in entry["rows"]]:
        Fraction(str(cell))
    for row in entry.get("rows", ()):
        assert row.get("basis", "memory") in BASES


def test_units_are_known() -> None:
    """A single value stands in a unit of shared/units.yaml, or plainly in the SI unit that `calc` takes."""
    dimensions = yaml.safe_load(UNITS.read_text(encoding="utf-8"))["dimensions"]
    known = {"1", "K", "J/kg", "W/(m2 Pa)", "W s/(m3 Pa)", "N m2/m", "kg/(s m Pa)", "m2 K/W", "in/day"}
    for dimension in dimensions.values():
        for unit, entry in dimension["units"].items():
            known |= {unit, *(entry.get("spellings") or ())}
    for name, entry in ENTRIES:
        assert "rows" in entry or entry["unit"] in known, name


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("trowel.bed-minimum", "3/32"),  # ANSI A108.5 2.2.2
        ("trowel.bed-most-large-tile", "1/2"),  # ANSI A108.5 2.2.2
        ("joints.joint-least", "1/16"),  # ANSI A108.02 4.3.8
        ("joints.joint-range-multiple", "3"),  # ANSI A108.02 4.3.8
        ("joints.offset-joint-rectified", "1/8"),  # ANSI A108.02 4.3.8.1
        ("joints.offset-joint-calibrated", "3/16"),  # ANSI A108.02 4.3.8.2
        ("joints.lippage-wide-joint", "1/4"),  # ANSI A108.02 4.3.7
        ("pan.floor-slope-least", "1/4"),  # IRC P2709.1
        ("pan.floor-slope-most", "1/2"),  # IRC P2709.1
        ("pan.curb-above-drain-most", "9"),  # IRC P2709.1
        ("flood.flood-depth", "2"),  # IPC 312.9
        ("deflection.deflection-divisor-stone", "720"),  # TCNA Handbook F250
        ("vapour.steam-permeance-continuous", "1/2"),  # TCNA Handbook SR613
        ("coverage.coverage-wet", "95"),  # ANSI A108.5 2.2.3
        ("coverage.lifts", "3"),  # ANSI A108.5 2.2.3
    ],
)
def test_limit_of_the_standard(name: str, expected: str) -> None:
    assert Fraction(str(dict(ENTRIES)[name]["value"])) == Fraction(expected)
