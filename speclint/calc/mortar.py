"""Bonding mortar: what a bag yields, how far it goes, how many to order."""

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


def bag_yield(powder: Kilograms, water: Kilograms, wet_density: KilogramsPerCubicMetre) -> CubicMetres:
    """Wet mortar in cubic metres from one bag: powder plus mixing water over the wet density.

    Masses in kg, density in kg/m3. Air beaten in while mixing belongs in the density.
    Raises OutOfRange for no powder, negative water or no density. Source: conservation of mass.
    """
    positive("mass", powder=powder)
    not_negative("mass", water=water)
    positive("density", wet_density=wet_density)
    return (powder + water) / wet_density


def bag_coverage(yield_of_bag: CubicMetres, bed: Metres, loss: Ratio) -> SquareMetres:
    """Area in square metres that one bag beds: its yield over the bed, with the loss as a share added.

    Raises OutOfRange for no yield, no bed or a negative loss. Source: arithmetic.
    """
    positive("volume", yield_of_bag=yield_of_bag)
    positive("length", bed=bed)
    not_negative("ratio", loss=loss)
    return yield_of_bag / (bed * (1 + loss))


def mortar_volume(area: SquareMetres, bed: Metres, loss: Ratio) -> CubicMetres:
    """Wet mortar in cubic metres for an area: area times bed, with the loss as a share added.

    Raises OutOfRange for no area, no bed or a negative loss. Source: arithmetic.
    """
    positive("area", area=area)
    positive("length", bed=bed)
    not_negative("ratio", loss=loss)
    return area * bed * (1 + loss)


def bags(volume: CubicMetres, yield_of_bag: CubicMetres) -> Count:
    """Whole bags for a volume, rounded up.

    Raises OutOfRange for no volume or no yield. Source: arithmetic.
    """
    positive("volume", volume=volume, yield_of_bag=yield_of_bag)
    return whole_up(volume / yield_of_bag)
