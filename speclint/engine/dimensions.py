"""Dimensions of sums, products and quotients, and exact figures in base units."""

from __future__ import annotations

from fractions import Fraction

from speclint.kernel.quantity import Units, to_base, whole
from speclint.kernel.values import Number

BARE = "number"  # a figure without a unit
SCALARS = frozenset({BARE, "count", "ratio"})
_PRODUCTS = {
    ("length", "length"): "area",
    ("area", "length"): "volume",
    ("mass per area", "area"): "mass",
    ("density", "length"): "mass per area",
    ("density", "volume"): "mass",
    ("pressure", "area"): "force",
    ("flow", "time"): "volume",
    ("power per area", "area"): "power",
    ("electric potential", "current"): "power",
}


def go_together(first: str, second: str) -> bool:
    """Whether values of two dimensions compare and add; a bare figure goes with a count or a ratio."""
    return first == second or (BARE in (first, second) and {first, second} <= SCALARS)


def multiplied(first: str, second: str, units: Units) -> tuple[str, Fraction] | None:
    """The dimension of a product and the factor its base units need; None if it means nothing."""
    if first in SCALARS or second in SCALARS:
        one, other = (first, second) if first in SCALARS else (second, first)
        if other in SCALARS:
            return (other if one == BARE else one if other == BARE else "ratio"), Fraction(1)
        return other, Fraction(1)
    result = _PRODUCTS.get((first, second)) or _PRODUCTS.get((second, first))
    return None if result is None else (result, _si(units, result) / (_si(units, first) * _si(units, second)))


def divided(first: str, second: str, units: Units) -> tuple[str, Fraction] | None:
    """The dimension of a quotient and the factor its base units need; None if it means nothing."""
    if first == second:
        return (BARE if first == BARE else "ratio"), Fraction(1)
    if second in SCALARS:
        return ("ratio" if first == BARE else first), Fraction(1)
    for (one, other), product in _PRODUCTS.items():
        if product == first and second in (one, other):
            result = other if second == one else one
            return result, _si(units, result) * _si(units, second) / _si(units, first)
    return None


def _si(units: Units, dimension: str) -> Fraction:
    return units.dimensions[dimension].si


def exact(text: str) -> Fraction:
    """A figure as written, exactly: ``3``, ``0.25``, ``3/8``, ``1-1/2``, ``1 1/2``, ``1:48`` or ``-5``."""
    sign, size = (-1, text[1:]) if text.startswith("-") else (1, text)
    if ":" in size:
        over, under = size.split(":")
        return sign * Fraction(int(over), int(under))
    parts = size.replace("-", " ").split()
    return sign * sum(map(Fraction, parts), Fraction(0))


def in_base(text: str, spelling: str, units: Units) -> tuple[str, Number] | None:
    """The dimension and base units of a figure with a unit, None if there is no such unit."""
    number = exact(text)
    if ":" in text and not spelling:
        return "ratio", whole(number * _si(units, "ratio"))
    if not spelling:
        return BARE, whole(number)
    unit = units.unit(spelling)
    return None if unit is None else (unit.dimension, to_base(number, unit))
