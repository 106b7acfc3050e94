"""Grout: joint volume over an area of tile, and the mass or bags that fill it."""

from speclint.calc.guard import not_negative, positive, whole_up
from speclint.calc.units import (
    Count,
    CubicMetres,
    Kilograms,
    KilogramsPerCubicMetre,
    KilogramsPerSquareMetre,
    Metres,
    Ratio,
    SquareMetres,
)


def joint_share(tile_length: Metres, tile_width: Metres, joint: Metres) -> Ratio:
    """Share of the surface that is joint: 1 less tile area over tile-and-joint area, exact for any rectangle.

    Holds for stacked and offset patterns alike. Raises OutOfRange for no tile side or a negative joint.
    Source: plane geometry.
    """
    positive("length", tile_length=tile_length, tile_width=tile_width)
    not_negative("length", joint=joint)
    return 1 - tile_length * tile_width / ((tile_length + joint) * (tile_width + joint))


def joint_share_by_sides(tile_length: Metres, tile_width: Metres, joint: Metres) -> Ratio:
    """Share of the surface that is joint by the usual short rule: (length + width) over their product times
    joint.

    Counts the crossings twice and leaves the joint out of the module, so it overstates: by about 1 percent on
    300 mm tile, a quarter on 10 mm mosaic. Raises OutOfRange for no tile side or a negative joint. Source:
    rule printed on grout charts, common practice.
    """
    positive("length", tile_length=tile_length, tile_width=tile_width)
    not_negative("length", joint=joint)
    return (tile_length + tile_width) / (tile_length * tile_width) * joint


def open_depth(tile_thickness: Metres, mortar_in_joint: Metres) -> Metres:
    """Depth of joint in metres left for grout: tile thickness less the mortar standing in it, never below
    zero.

    Raises OutOfRange for no thickness or negative mortar. Source: geometry.
    """
    positive("length", tile_thickness=tile_thickness)
    not_negative("length", mortar_in_joint=mortar_in_joint)
    return max(0.0, tile_thickness - mortar_in_joint)


def joint_volume(share: Ratio, area: SquareMetres, depth: Metres) -> CubicMetres:
    """Joint volume in cubic metres: share of joint times area times open depth.

    For hexagons and sheets give joint length per area times joint width as the share.
    Raises OutOfRange for a negative share, no area or a negative depth. Source: geometry.
    """
    not_negative("ratio", share=share)
    positive("area", area=area)
    not_negative("length", depth=depth)
    return share * area * depth


def grout_mass(volume: CubicMetres, factor: KilogramsPerCubicMetre, loss: Ratio) -> Kilograms:
    """Grout in kg: joint volume times factor, with the loss as a share added.

    The factor is kg of powder, or of mixed resin, for each cubic metre of filled joint.
    Raises OutOfRange for a negative volume or loss, or no factor. Source: arithmetic.
    """
    not_negative("volume", volume=volume)
    positive("density", factor=factor)
    not_negative("ratio", loss=loss)
    return volume * factor * (1 + loss)


def grout_per_area(share: Ratio, depth: Metres, factor: KilogramsPerCubicMetre, loss: Ratio) -> KilogramsPerSquareMetre:
    """Grout in kg for each square metre: `grout_mass` of one square metre of `joint_volume`. Errors as
    there.
    """
    return grout_mass(joint_volume(share, 1, depth), factor, loss)


def factor_from_use(mass: Kilograms, share: Ratio, area: SquareMetres, depth: Metres) -> KilogramsPerCubicMetre:
    """Factor in kg/m3 that a printed or measured use implies: mass over joint volume.

    Raises OutOfRange for no mass or no joint volume. Source: arithmetic.
    """
    positive("mass", mass=mass)
    volume = joint_volume(share, area, depth)
    positive("volume", joint_volume=volume)
    return mass / volume


def grout_bags(mass: Kilograms, bag: Kilograms) -> Count:
    """Whole bags or units for a mass, rounded up. Raises OutOfRange for no mass or no bag. Source:
    arithmetic.
    """
    positive("mass", mass=mass, bag=bag)
    return whole_up(mass / bag)
