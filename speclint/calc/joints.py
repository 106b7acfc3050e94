"""Joint width against the size and bow of the tile, and the step between neighbours.

The step model bows each edge as a shallow parabola with all tile ends in plane: no twist, no corner curl, no
setting error, and no clip that bends a tile flat.
"""

from speclint.calc.guard import fraction, not_negative, positive
from speclint.calc.units import Metres, Ratio
from speclint.kernel.faults import OutOfRange


def minimum_joint(size_range: Metres, least_joint: Metres, multiple: Ratio) -> Metres:
    """Narrowest joint in metres: a multiple of the measured size range, never under the least joint.

    Range is largest less smallest measured facing size. Raises OutOfRange for a negative range, no least
    joint or no multiple. Source: ANSI A108.02 4.3.8 (multiple 3, least 1/16 in).
    """
    not_negative("length", size_range=size_range)
    positive("length", least_joint=least_joint)
    positive("ratio", multiple=multiple)
    return max(least_joint, multiple * size_range)


def offset_joint(base_joint: Metres, edge_bow: Metres) -> Metres:
    """Narrowest joint in metres for large tile in a running bond: a base width plus the bow of the longest
    edge.

    Raises OutOfRange for no base width or a negative bow. Source: ANSI A108.02 4.3.8 (base 1/8 in rectified,
    3/16 in calibrated).
    """
    positive("length", base_joint=base_joint)
    not_negative("length", edge_bow=edge_bow)
    return base_joint + edge_bow


def tolerance(side: Metres, share: Ratio, cap: Metres) -> Metres:
    """Size or bow tolerance in metres: a share of the side, never above the cap.

    Raises OutOfRange for no side, a share outside 0 to 1 or no cap.
    Source: form of ANSI A137.1 (caliber and warpage) and of ISO 13006.
    """
    positive("length", side=side, cap=cap)
    fraction(share=share)
    return min(share * side, cap)


def lippage_allowance(
    joint: Metres,
    actual_bow: Metres,
    least_joint: Metres,
    wide_joint: Metres,
    narrow_allowance: Metres,
    wide_allowance: Metres,
) -> Metres:
    """Step allowed between neighbours in metres: an allowance by joint width plus the actual bow of the tile.

    From the least joint up to, but not at, the wide joint the narrow allowance counts, from there the wide
    one. The bow is the one measured, not the one permitted. Raises OutOfRange below the least joint, for a
    negative bow, or when the wide joint is not above the least. Source: ANSI A108.02 4.3.7 (1/16, 1/4, 1/32,
    1/16 in).
    """
    positive("length", joint=joint, least_joint=least_joint, wide_joint=wide_joint)
    not_negative("length", actual_bow=actual_bow, narrow_allowance=narrow_allowance, wide_allowance=wide_allowance)
    if wide_joint <= least_joint:
        raise OutOfRange(f"wide joint is {wide_joint:g} m; it must be above the least joint, {least_joint:g} m")
    if joint < least_joint:
        raise OutOfRange(f"joint is {joint:g} m; the allowance starts at {least_joint:g} m")
    return actual_bow + (narrow_allowance if joint < wide_joint else wide_allowance)


def offset_step(bow: Metres, offset: Ratio) -> Metres:
    """Largest step in metres between neighbours that bow alike: 4 times bow times offset times (1 - offset).

    Offset is the shift as a share of tile length, 0 to 1; bow is the rise at mid-edge in metres.
    Raises OutOfRange for a negative bow or an offset outside 0 to 1. Source: derived from parabolic edges.
    """
    not_negative("length", bow=bow)
    fraction(offset=offset)
    return 2 * 2 * bow * offset * (1 - offset)


def offset_step_opposite(bow: Metres, offset: Ratio) -> Metres:
    """Largest step in metres when one tile bows up and its neighbour down: 2 times bow times (1 - offset
    squared).

    Offset is the shift as a share of tile length; past one half the shorter shift counts. Raises OutOfRange
    for a negative bow or an offset outside 0 to 1. Source: derived from parabolic edges.
    """
    not_negative("length", bow=bow)
    fraction(offset=offset)
    return 2 * bow * (1 - min(offset, 1 - offset) ** 2)


def joint_slide(notch_width: Metres, joint: Metres) -> Ratio:
    """Share of the slide that folds the ridges which the joint leaves room for, 0 to 1: joint over notch
    width.

    A tile is slid about one notch width, so a narrow joint asks for back-and-forth movement. Raises
    OutOfRange for no notch width or a negative joint. Source: common practice.
    """
    positive("length", notch_width=notch_width)
    not_negative("length", joint=joint)
    return min(1.0, joint / notch_width)
