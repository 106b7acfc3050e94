"""Notched trowels: the bed a notch leaves, the bed a tile needs, and what stands up in the joint.

Geometry only: mortar combed equals mortar under the tile. Trapped air, skinned mortar, curved combing and
ribbed tile backs are not predicted; a lifted tile is the only acceptance test (ANSI A108.5 3.3.2).
"""

import math

from speclint.calc.guard import between, fraction, not_negative, positive
from speclint.calc.units import Degrees, Metres, Ratio
from speclint.kernel.faults import OutOfRange

_UPRIGHT = 90
"""Degrees in a right angle."""


def bed_from_notch(shape: str, notch_width: Metres, notch_depth: Metres, land: Metres, blade_angle: Degrees) -> Metres:
    """Mean bed in metres once every ridge has folded and contact is complete.

    Area of one ridge over one notch and land, times the sine of the blade angle to the substrate (90 =
    upright). Ridge area: square and slanted, width x depth; V, half of that; U (round crown), the depth less
    half the width times the width, and half a circle on top. Lengths in metres, angle in degrees. The blade
    is pulled square to its edge and does not bow; the depth of a slanted notch is taken at right angles to
    the blade edge. Raises OutOfRange for an unknown shape, no width, no depth, a square, U or slanted notch
    without land, a U shallower than half its width, or an angle outside 0 to 90 degrees. Source: conservation
    of volume, derived.
    """
    _blade(blade_angle)
    positive("length", notch_depth=notch_depth)
    return _ridge_area(shape, notch_width, notch_depth, land) * _sine(blade_angle) / (notch_width + land)


def notch_depth_for(shape: str, notch_width: Metres, land: Metres, blade_angle: Degrees, bed: Metres) -> Metres:
    """Notch depth in metres that leaves the mean bed asked for: `bed_from_notch` solved for the depth.

    Raises OutOfRange as `bed_from_notch` does, also where a U of this width gives the bed only below half a
    width. Source: derived.
    """
    _blade(blade_angle)
    positive("length", bed=bed, notch_width=notch_width)
    wanted = bed * (notch_width + land) / _sine(blade_angle)
    depth = wanted / notch_width
    if shape.lower() == "v":
        depth = 2 * depth
    elif shape.lower() == "u":
        depth = depth + notch_width * (1 - math.pi / (2 * 2)) / 2
    positive("length", notch_depth=depth)
    _ridge_area(shape, notch_width, depth, land)
    return depth


def ridge_reach(notch_depth: Metres, blade_angle: Degrees) -> Metres:
    """Height in metres to which a ridge stands: notch depth times the sine of the blade angle.

    Raises OutOfRange for no depth or an angle outside 0 to 90 degrees. Source: derived.
    """
    positive("length", notch_depth=notch_depth)
    _blade(blade_angle)
    return notch_depth * _sine(blade_angle)


def departure_over(length: Metres, base: Metres, departure: Metres) -> Metres:
    """Departure in metres over a length, from one stated over a longer base, for a shallow arc.

    Departure times the square of length over base. A step or a local hump is not a shallow arc: use the
    figure stated for the short base where there is one. Raises OutOfRange when the length exceeds the base.
    Source: derived (an arc is a parabola while it is shallow).
    """
    positive("length", length=length, base=base)
    not_negative("length", departure=departure)
    between("length", 0, base, length=length)
    return departure * (length / base) ** 2


def bed_needed(minimum_bed: Metres, tile_bow: Metres, substrate_departure: Metres, mean_share: Ratio) -> Metres:
    """Mean bed in metres that fills under one tile: the volume test.

    Minimum bed plus the mean of the gap, the gap being tile bow plus substrate departure and the mean a share
    of it (2/3 where the gap is in the middle of the span, 1/3 where it is at the ends, for a one-way
    parabola). Raises OutOfRange for a negative length or a share outside 0 to 1. Source: derived.
    """
    positive("length", minimum_bed=minimum_bed)
    not_negative("length", tile_bow=tile_bow, substrate_departure=substrate_departure)
    fraction(mean_share=mean_share)
    return minimum_bed + mean_share * (tile_bow + substrate_departure)


def reach_needed(minimum_bed: Metres, tile_bow: Metres, substrate_departure: Metres) -> Metres:
    """Ridge height in metres that touches the tile everywhere: minimum bed plus the whole gap, the reach
    test.

    Raises OutOfRange for a negative length. Source: derived.
    """
    return bed_needed(minimum_bed, tile_bow, substrate_departure, 1)


def contact_estimate(bed: Metres, space: Metres) -> Ratio:
    """Share of the tile back in contact, 0 to 1: bed the notch gives over the mean space it has to fill.

    An upper estimate where the mean space exceeds the bed; 1 where it does not. Raises OutOfRange for no bed
    or no space. Source: conservation of volume, derived.
    """
    positive("length", bed=bed, space=space)
    return min(1.0, bed / space)


def ridge_in_joint(notch_depth: Metres, blade_angle: Degrees, bed: Metres) -> Metres:
    """Height in metres of the ridge left standing in an open joint: ridge reach less the bed, never below
    zero.

    Raises OutOfRange for no depth, no bed or an angle outside 0 to 90 degrees. Source: derived.
    """
    positive("length", bed=bed)
    return max(0.0, ridge_reach(notch_depth, blade_angle) - bed)


def _blade(blade_angle: float) -> None:
    positive("angle", blade_angle=blade_angle)
    between("angle", 0, _UPRIGHT, blade_angle=blade_angle)


def _sine(blade_angle: float) -> float:
    return math.sin(math.radians(blade_angle))


def _ridge_area(shape: str, notch_width: float, notch_depth: float, land: float) -> float:
    positive("length", notch_width=notch_width)
    name = shape.lower()
    if name == "v":
        not_negative("length", land=land)
        return notch_width * notch_depth / 2
    if name not in {"square", "slanted", "u"}:
        raise OutOfRange(f"notch shape is {shape!r:.40}; it must be square, slanted, U or V")
    positive("length", land=land)
    if name == "u":
        radius = notch_width / 2
        if notch_depth < radius:
            raise OutOfRange(
                f"notch depth is {notch_depth:g} m; a U must be at least half its width deep, {radius:g} m"
            )
        return notch_width * (notch_depth - radius) + math.pi * radius**2 / 2
    return notch_width * notch_depth
