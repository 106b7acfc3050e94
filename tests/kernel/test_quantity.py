"""Exact quantities: the shipped units against the pint library, and figures against their own reading."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from speclint.kernel.quantity import Unit, figure, from_base, nearest, to_base, whole

SHIPPED = yaml.safe_load((Path(__file__).parents[2] / "shared" / "units.yaml").read_text(encoding="utf-8"))
REGISTRY: Any = pint.UnitRegistry()
# the unit as pint spells it, and the SI unit of its dimension; degrees are tested apart
PINT = {
    "in": ("inch", "m"), "ft": ("foot", "m"), "yd": ("yard", "m"), "mil": ("thou", "m"), "mm": ("mm", "m"),
    "cm": ("cm", "m"), "m": ("m", "m"), "sq ft": ("foot**2", "m**2"), "sq in": ("inch**2", "m**2"),
    "cu ft": ("foot**3", "m**3"), "gal": ("US_liquid_gallon", "m**3"), "l": ("liter", "m**3"),
    "lb": ("pound", "kg"), "lb per sq ft": ("pound/foot**2", "kg/m**2"), "lb per cu ft": ("pound/foot**3", "kg/m**3"),
    "lbf": ("force_pound", "N"), "psi": ("psi", "Pa"), "MPa": ("MPa", "Pa"), "kPa": ("kPa", "Pa"),
    "bar": ("bar", "Pa"), "min": ("minute", "s"), "h": ("hour", "s"), "day": ("day", "s"), "week": ("week", "s"),
    "%": ("percent", ""), "in per ft": ("inch/foot", ""), "mm per m": ("mm/m", ""), "kW": ("kW", "W"),
    "W per sq ft": ("watt/foot**2", "W/m**2"), "mA": ("mA", "A"), "gpm": ("US_liquid_gallon/minute", "m**3/s"),
    "l per min": ("liter/minute", "m**3/s"),
}  # fmt: skip


def shipped(name: str) -> tuple[Fraction, Fraction]:
    """Size in SI units, and base units to the SI unit, of a shipped unit."""
    for dimension in SHIPPED["dimensions"].values():
        if name in dimension["units"]:
            entry: dict[str, Any] = dimension["units"][name]
            return Fraction(str(entry["size"])), Fraction(str(dimension["si"]))
    raise LookupError(name)


@pytest.mark.parametrize("name", PINT)
def test_a_shipped_unit_is_as_large_as_pint_says(name: str) -> None:
    theirs, si = PINT[name]
    expected = REGISTRY.Quantity(1, theirs).to(si or "dimensionless").magnitude
    assert float(shipped(name)[0]) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("degrees", [-40, 0, 32, 50, 100, 212])
def test_degrees_agree_with_pint(degrees: int) -> None:
    size, si = shipped("F")
    fahrenheit = Unit("F", "temperature", size * si, Fraction(-32))
    expected = REGISTRY.Quantity(degrees, "degF").to("degC").magnitude
    assert float(Fraction(to_base(degrees, fahrenheit)) / si) == pytest.approx(expected, abs=1e-9)
    assert from_base(to_base(degrees, fahrenheit), fahrenheit) == degrees


def test_an_inch_a_gallon_and_a_pound_are_the_defined_ones() -> None:
    """1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly (international agreement of 1959); 1 US gal = 231 cu in."""
    assert shipped("in")[0] == Fraction("0.0254")
    assert shipped("lb")[0] == Fraction("0.45359237")
    assert shipped("gal")[0] == 231 * shipped("in")[0] ** 3


def test_a_64th_of_an_inch_is_a_whole_number_of_base_units() -> None:
    size, si = shipped("in")
    inch = Unit("in", "length", size * si, fractions=64)
    assert isinstance(to_base(Fraction(1, 64), inch), int)
    assert to_base(Fraction(1, 4), Unit("in per ft", "ratio", Fraction(1, 12))) == Fraction(1, 48)


INCH = Unit("in", "length", Fraction(254_000_000), fractions=64)
METRIC = Unit("mm", "length", Fraction(10_000_000))


@pytest.mark.parametrize(
    ("number", "places", "text"),
    [("3/8", 1, "3/8"), ("3/2", 1, "1-1/2"), ("2", 1, "2"), ("-3/2", 1, "-1-1/2"), ("0", 1, "0"), ("0.3333", 1, "21/64")],
)  # fmt: skip
def test_inches_are_read_in_fractions(number: str, places: int, text: str) -> None:
    assert figure(Fraction(number), INCH, places) == text


@pytest.mark.parametrize(
    ("number", "places", "text"),
    [("9.5", 1, "9.5"), ("9.54", 1, "9.5"), ("9.55", 1, "9.6"), ("10", 1, "10"), ("0.04", 2, "0.04"), ("1200", 0, "1200")],
)  # fmt: skip
def test_metric_is_read_in_decimals(number: str, places: int, text: str) -> None:
    assert figure(Fraction(number), METRIC, places) == text


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 99 * 64))
def test_a_figure_in_64ths_reads_back_as_itself(parts: int) -> None:
    number = Fraction(parts, 64)
    read = sum(map(Fraction, figure(number, INCH, 1).split("-")), Fraction(0))
    assert read == number


@settings(max_examples=100, deadline=None)
@given(st.fractions(-1000, 1000), st.fractions(Fraction(1, 1000), 10))
def test_the_nearest_multiple_is_one_and_is_within_half_a_step(number: Fraction, step: Fraction) -> None:
    found = Fraction(nearest(number, step))
    assert (found / step).denominator == 1
    assert abs(found - number) <= step / 2


def test_whole_numbers_are_plain_integers() -> None:
    assert type(whole(Fraction(4, 2))) is int
    assert type(whole(Fraction(1, 2))) is Fraction
