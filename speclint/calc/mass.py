"""Mass of tiling on its background."""

from speclint.calc.guard import fraction, not_negative, positive
from speclint.calc.units import (
    STANDARD_GRAVITY,
    Kilograms,
    KilogramsPerCubicMetre,
    KilogramsPerSquareMetre,
    Metres,
    Pascals,
    Ratio,
    SquareMetres,
)


def layer_mass(thickness: Metres, density: KilogramsPerCubicMetre) -> KilogramsPerSquareMetre:
    """Mass of a tile, bed or board layer in kg/m2: thickness times density.

    Ribbed backs and open joints make the real figure lower; a data sheet governs.
    Raises OutOfRange for no thickness or no density. Source: arithmetic.
    """
    positive("length", thickness=thickness)
    positive("density", density=density)
    return thickness * density


def tiling_mass(
    tile: KilogramsPerSquareMetre,
    bed: KilogramsPerSquareMetre,
    grout: KilogramsPerSquareMetre,
    board: KilogramsPerSquareMetre = 0,
) -> KilogramsPerSquareMetre:
    """Mass in kg/m2 that a background carries: tile, bed, grout and any board between.

    Raises OutOfRange for no tile mass or a negative part. Source: BS 5385-1 counts tile, bed and grout.
    """
    positive("mass per area", tile=tile)
    not_negative("mass per area", bed=bed, grout=grout, board=board)
    return tile + bed + grout + board


def solid_bed_from(capacity: KilogramsPerSquareMetre, share: Ratio) -> KilogramsPerSquareMetre:
    """Mass in kg/m2 above which even small tile is bedded solid: a share of what the background carries.

    Raises OutOfRange for no capacity or a share outside 0 to 1. Source: BS 5385-1:2018 (share 0.7).
    """
    positive("mass per area", capacity=capacity)
    fraction(share=share)
    return share * capacity


def dead_load(mass: KilogramsPerSquareMetre) -> Pascals:
    """Dead load in pascals: mass per area times gravity.

    Raises OutOfRange for no mass. Source: mechanics.
    """
    positive("mass per area", mass=mass)
    return mass * STANDARD_GRAVITY


def piece_mass(mass: KilogramsPerSquareMetre, area: SquareMetres) -> Kilograms:
    """Mass in kg of one tile or panel to be lifted: mass per area times its area.

    Raises OutOfRange for no mass or no area. Source: arithmetic.
    """
    positive("mass per area", mass=mass)
    positive("area", area=area)
    return mass * area
