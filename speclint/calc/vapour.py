"""Water vapour: saturation, dew point, permeance of layers and the flow through them."""

import math
from typing import NamedTuple

from speclint.calc.guard import between, not_negative, positive
from speclint.calc.units import Celsius, Metres, Pascals, Permeability, Permeance, Ratio, VapourFlow
from speclint.kernel.faults import OutOfRange

_MOST = 1_000
"""Layers of one assembly; more was misread."""
_THINNEST, _THICKEST = 1e-10, 1e6
"""Metres of equivalent air layer; metal foil is near two thousand."""
_STEEP = 100
_COLD = -100
_NARROW = 200
_WIDE = 500
"""Coefficients outside these are of another kind of formula; inside, nothing divides by zero."""


class Saturation(NamedTuple):
    """Coefficients of saturation over water: pressure = base times exp(slope t / (offset + t)), t in Celsius.

    Holds from `coldest` to `hottest`. WMO-No. 8 and ISO 13788 print a set each, a few parts in a thousand
    apart.
    """

    base: Pascals
    slope: Ratio
    offset: Celsius
    coldest: Celsius
    hottest: Celsius


def saturation_pressure(at: Celsius, curve: Saturation) -> Pascals:
    """Saturation vapour pressure over water in pascals at a temperature, by the curve handed in.

    Raises OutOfRange outside the curve. Source: WMO-No. 8 annex 4.B or ISO 13788 annex E, by the curve.
    """
    _usable(curve)
    between("temperature", curve.coldest, curve.hottest, temperature=at)
    return curve.base * math.exp(curve.slope * at / (curve.offset + at))


def vapour_pressure(at: Celsius, humidity: Ratio, curve: Saturation) -> Pascals:
    """Vapour pressure in pascals of air: relative humidity, 0 to 1, times saturation.

    Raises OutOfRange outside the curve or for a humidity outside 0 to 1. Source: definition.
    """
    between("ratio", 0, 1, humidity=humidity)
    return humidity * saturation_pressure(at, curve)


def dew_point(at: Celsius, humidity: Ratio, curve: Saturation) -> Celsius:
    """Dew point in Celsius of air: the curve solved for the temperature that this vapour saturates.

    With G = ln(humidity) + slope t / (offset + t), offset G / (slope - G); never above the air.
    Raises OutOfRange outside the curve, for no humidity or one above 1, or a dew point colder than the curve.
    Source: inverse of the curve.
    """
    saturation_pressure(at, curve)
    positive("ratio", humidity=humidity)
    between("ratio", 0, 1, humidity=humidity)
    exponent = math.log(humidity) + curve.slope * at / (curve.offset + at)
    point = min(at, curve.offset * exponent / (curve.slope - exponent))
    between("temperature", curve.coldest, curve.hottest, dew_point=point)
    return point


def permeance_in_series(permeances: tuple[Permeance, ...]) -> Permeance:
    """Permeance of layers one behind the other: one over the sum of one over each.

    Raises OutOfRange for no layer, more than a thousand, or one that is not above zero. Source: steady
    diffusion.
    """
    if not 1 <= len(permeances) <= _MOST:
        raise OutOfRange(f"{len(permeances)} layers; there must be from 1 to {_MOST}")
    for permeance in permeances:
        positive("permeance", permeance=permeance)
    return 1 / sum(1 / permeance for permeance in permeances)


def air_layer(permeance: Permeance, permeability_of_air: Permeability) -> Metres:
    """Equivalent air layer s_d in metres: permeability of still air over permeance.

    Raises OutOfRange for no permeance or no permeability. Source: ISO 13788 (2e-10 kg/(s m Pa)).
    """
    positive("permeance", permeance=permeance)
    positive("permeability", permeability_of_air=permeability_of_air)
    return permeability_of_air / permeance


def permeance_of_air_layer(thickness: Metres, permeability_of_air: Permeability) -> Permeance:
    """Permeance of an equivalent air layer: `air_layer` solved for the permeance. Errors as there."""
    between("length", _THINNEST, _THICKEST, thickness=thickness)
    positive("permeability", permeability_of_air=permeability_of_air)
    return permeability_of_air / thickness


def vapour_flow(permeance: Permeance, wet_side: Pascals, dry_side: Pascals) -> VapourFlow:
    """Vapour flow in kg/(s m2) from the wet to the dry side: permeance times the pressure difference.

    Negative when the sides are the other way round. Raises OutOfRange for no permeance or a negative
    pressure. Source: steady diffusion.
    """
    positive("permeance", permeance=permeance)
    not_negative("pressure", wet_side=wet_side, dry_side=dry_side)
    return permeance * (wet_side - dry_side)


def _usable(curve: Saturation) -> None:
    positive("pressure", base=curve.base)
    between("ratio", 1, _STEEP, slope=curve.slope)
    between("temperature", _NARROW, _WIDE, offset=curve.offset)
    between("temperature", _COLD, _WIDE, coldest=curve.coldest, hottest=curve.hottest)
