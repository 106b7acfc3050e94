"""Figures in SI as people read them: inch fractions or millimetres, feet or metres, square feet or square metres."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import NamedTuple

from speclint.kernel.quantity import Unit, figure, nearest

INCH = "inch"
_INCH, _FOOT = Fraction(127, 5000), Fraction(381, 1250)
_POUND, _FOOT3 = Fraction(45359237, 100000000), _FOOT**3
_IN = Unit("in", "length", _INCH, fractions=64)
_DASH = " to "


class Reading(NamedTuple):
    """How a dimension is read in a system: its unit, what one unit is in SI, and the digits that mean something."""

    unit: str
    size: Fraction
    digits: int


READINGS: dict[str, tuple[Reading, Reading]] = {
    "area": (Reading("sq ft", _FOOT**2, 1), Reading("m2", Fraction(1), 2)),
    "run": (Reading("ft", _FOOT, 1), Reading("m", Fraction(1), 2)),
    "volume": (Reading("cu ft", _FOOT3, 2), Reading("l", Fraction(1, 1000), 1)),
    "mass": (Reading("lb", _POUND, 1), Reading("kg", Fraction(1), 1)),
    "count": (Reading("", Fraction(1), 0), Reading("", Fraction(1), 0)),
    "ratio": (Reading("%", Fraction(1, 100), 1), Reading("%", Fraction(1, 100), 1)),
    "angle": (Reading("degrees", Fraction(1), 0), Reading("degrees", Fraction(1), 0)),
    "density": (Reading("kg/l", Fraction(1000), 2), Reading("kg/l", Fraction(1000), 2)),
    "slope": (Reading("in per ft", Fraction(1, 12), 2), Reading("%", Fraction(1, 100), 1)),
    "thin": (Reading("in", _INCH, 3), Reading("mm", Fraction(1, 1000), 2)),
    "film": (Reading("mil", _INCH / 1000, 0), Reading("mm", Fraction(1, 1000), 2)),
    "size": (Reading("in", _INCH, 0), Reading("mm", Fraction(1, 1000), 1)),
}
_FINEST = 4
"""Digits at most, where the usual ones would show a small figure as nothing."""


def reading_of(dimension: str, system: str) -> Reading:
    """How a dimension is read in a system of units."""
    return READINGS[dimension][0 if system == INCH else 1]


def range_text(low: Fraction, high: Fraction, dimension: str, system: str, unit: bool = True) -> str:
    """A range in words with its unit; one figure where both ends read alike."""
    reading = reading_of(dimension, system)
    first, last = plain(low, dimension, system), plain(high, dimension, system)
    text = first if first == last else f"{first}{_DASH}{last}"
    return f"{text}{' ' if reading.unit != '%' else ''}{reading.unit}" if unit and reading.unit else text


def plain(value: Fraction, dimension: str, system: str) -> str:
    """One figure without its unit."""
    reading = reading_of(dimension, system)
    if dimension == "size" and system == INCH:
        return figure(value / _INCH, _IN, 1)
    scaled = value / reading.size
    digits = reading.digits
    while digits < _FINEST and scaled and abs(scaled) < Fraction(1, 2 * 10**digits):
        digits += 1
    rounded = nearest(scaled, Fraction(1, 10**digits))
    text = f"{float(rounded):,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def size_text(value: Fraction, system: str, parts: int = 16) -> str:
    """A length of a drawing to what a tape shows: ``11-13/16 in`` or ``300 mm``; ``about`` where it is rounded."""
    unit = _INCH / parts if system == INCH else Fraction(1, 1000)
    rounded = Fraction(nearest(value, unit))
    about = "" if rounded == value else "about "
    return about + tape_text(value, system, parts)


def tape_text(value: Fraction, system: str, parts: int = 16) -> str:
    """As ``size_text``, without a word before it."""
    if system == INCH:
        inches = Fraction(nearest(value / _INCH, Fraction(1, parts)))
        if inches >= 100:
            whole, rest = divmod(inches, 1)
            return f"{whole}{'-' + str(rest) if rest else ''} in"
        return f"{figure(inches, _IN, 1)} in"
    return f"{math.floor(value * 1000 + Fraction(1, 2))} mm"
