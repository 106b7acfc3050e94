"""Exact quantities: units by dimension, base units, and the plain figures that people read."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from speclint.kernel.values import Number


class Unit(NamedTuple):
    """One unit: ``size`` base units make one, ``offset`` is added first (degrees), ``fractions`` asks for 3/8."""

    name: str
    dimension: str
    size: Fraction
    offset: Fraction = Fraction(0)
    system: str = ""
    fractions: int = 0


class Dimension(NamedTuple):
    """One dimension: how many base units make the SI unit, and the units in which each system reads it."""

    name: str
    si: Fraction
    units: tuple[Unit, ...]


class Units(NamedTuple):
    """All dimensions, and every spelling of every unit."""

    dimensions: Mapping[str, Dimension]
    spellings: Mapping[str, Unit]

    def unit(self, spelling: str) -> Unit | None:
        """The unit that a spelling names, if any."""
        return self.spellings.get(spelling)


def whole(number: Fraction) -> Number:
    """An integer where the fraction is one, which compares faster."""
    return number.numerator if number.denominator == 1 else number


def to_base(number: Number, unit: Unit) -> Number:
    """A figure in a unit as base units of its dimension."""
    return whole(Fraction(number + unit.offset) * unit.size)


def from_base(number: Number, unit: Unit) -> Fraction:
    """Base units as a figure in a unit."""
    return Fraction(number) / unit.size - unit.offset


def nearest(number: Number, step: Number) -> Number:
    """The whole multiple of ``step`` nearest to a number; halves go up."""
    return whole(Fraction(Fraction(number) / Fraction(step) + Fraction(1, 2)).__floor__() * Fraction(step))


def figure(number: Fraction, unit: Unit, places: int) -> str:
    """A figure as the trade writes it: ``1-1/2`` in the unit's fractions, else at most ``places`` decimals."""
    sign, size = ("-", -number) if number < 0 else ("", number)
    parts = unit.fractions << max(0, places - 1) if unit.fractions else 0
    if parts and size < 100:
        return sign + _mixed(nearest(size, Fraction(1, parts)))
    return sign + _decimal(size, places)


def _mixed(number: Number) -> str:
    units, rest = divmod(Fraction(number), 1)
    if not rest:
        return str(units)
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{units}-{part}" if units else part


def _decimal(number: Fraction, places: int) -> str:
    scaled = int(nearest(number * 10**places, 1))
    digits = str(scaled).rjust(places + 1, "0")
    if not places:
        return digits
    return f"{digits[:-places]}.{digits[-places:]}".rstrip("0").rstrip(".")
