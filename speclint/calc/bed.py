"""Mortar bed volumes over a sloped floor, and their mass."""

from speclint.calc.guard import not_negative, positive, whole_up
from speclint.calc.units import (
    Count,
    CubicMetres,
    Kilograms,
    KilogramsPerCubicMetre,
    Metres,
    Ratio,
    SquareMetres,
)

_MEAN_OF_CONE = 2 / 3
"""Mean share of the fall over any floor seen whole from its drain: 1 less a third."""


def level_perimeter_bed(area: SquareMetres, thickness_at_drain: Metres, fall: Metres) -> CubicMetres:
    """Bed in cubic metres under a floor with a level perimeter: area times (thickness at drain + 2/3 of the
    fall).

    The drain may stand anywhere that a straight line reaches every part of the perimeter from; the result
    does not depend on where. Raises OutOfRange for no area, a negative thickness or no fall. Source: derived;
    the floor is a cone in plan, whose mean depth is a third of its height.
    """
    positive("area", area=area)
    not_negative("length", thickness_at_drain=thickness_at_drain)
    positive("length", fall=fall)
    return area * (thickness_at_drain + fall * _MEAN_OF_CONE)


def even_slope_bed(area: SquareMetres, thickness_at_drain: Metres, slope: Ratio, mean_distance: Metres) -> CubicMetres:
    """Bed in cubic metres under a floor with one slope in every direction, so that its perimeter is not
    level.

    Area times (thickness at drain + slope times mean distance from the drain, see `outline.mean_distance`).
    Raises OutOfRange for no area, a negative thickness, no slope or no distance. Source: derived.
    """
    positive("area", area=area)
    not_negative("length", thickness_at_drain=thickness_at_drain)
    positive("ratio", slope=slope)
    positive("length", mean_distance=mean_distance)
    return area * (thickness_at_drain + slope * mean_distance)


def one_plane_bed(area: SquareMetres, thickness_at_drain: Metres, fall: Metres) -> CubicMetres:
    """Bed in cubic metres under a rectangle in one plane to a linear drain along one side.

    Area times (thickness at drain + half the fall). Raises OutOfRange for no area, a negative thickness or no
    fall. Source: derived.
    """
    positive("area", area=area)
    not_negative("length", thickness_at_drain=thickness_at_drain)
    positive("length", fall=fall)
    return area * (thickness_at_drain + fall / 2)


def even_bed(area: SquareMetres, thickness: Metres) -> CubicMetres:
    """Bed in cubic metres of one thickness, as over a sloped liner: area times thickness.

    Raises OutOfRange for no area or no thickness. Source: arithmetic.
    """
    positive("area", area=area)
    positive("length", thickness=thickness)
    return area * thickness


def bed_mass(volume: CubicMetres, density: KilogramsPerCubicMetre) -> Kilograms:
    """Mass of a bed in kg: volume times density.

    Raises OutOfRange for no volume or no density. Source: arithmetic.
    """
    positive("volume", volume=volume)
    positive("density", density=density)
    return volume * density


def bed_bags(volume: CubicMetres, yield_of_bag: CubicMetres, loss: Ratio) -> Count:
    """Whole bags of bed mortar, rounded up, with the loss as a share added.

    Raises OutOfRange for no volume, no yield or a negative loss. Source: arithmetic.
    """
    positive("volume", volume=volume, yield_of_bag=yield_of_bag)
    not_negative("ratio", loss=loss)
    return whole_up(volume * (1 + loss) / yield_of_bag)
