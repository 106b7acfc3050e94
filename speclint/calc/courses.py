"""Heights of wall courses, and joints widened to take up a sliver."""

from speclint.calc.guard import fraction, not_negative, positive, whole
from speclint.calc.layout import Row, better_centre, centred_row, row_from
from speclint.calc.units import Count, Metres, Ratio
from speclint.kernel.faults import OutOfRange

_MOST = 10_000
"""More courses than this was misread."""


def story_pole(tile: Metres, joint: Metres, courses: Count) -> tuple[Metres, ...]:
    """Marks in metres at the top of each course above the first-course line: courses times module less one
    joint.

    Raises OutOfRange for no tile, a negative joint, or courses outside 1 to ten thousand. Source: arithmetic.
    """
    positive("length", tile=tile)
    not_negative("length", joint=joint)
    whole(1, courses=courses)
    if courses > _MOST:
        raise OutOfRange(f"courses is {courses}; at most {_MOST} are marked out")
    return tuple(course * (tile + joint) - joint for course in range(1, int(courses) + 1))


def far_cut(field: Metres, tile: Metres, joint: Metres) -> Metres:
    """Cut in metres at the far end when a full tile stands at the visible one; the tile itself where it ends
    full.

    Raises OutOfRange as `layout.row_from`. Source: arithmetic.
    """
    return row_from(field, tile, joint, tile).last or tile


def wall_courses(height: Metres, tile: Metres, joint: Metres, least_share: Ratio) -> Row:
    """Courses up a wall as a run from its foot, so that neither the first nor the top course is a sliver.

    Begins with a full tile while the top cut keeps the least share of a tile; otherwise the better centring,
    both ends alike. Raises OutOfRange as `layout.better_centre`, or for a share outside 0 to 1. Source: ANSI
    A108.02 4.3.2 (share one half).
    """
    fraction(least_share=least_share)
    from_foot = row_from(height, tile, joint, tile)
    if (from_foot.last or tile) >= least_share * tile:
        return from_foot
    return centred_row(height, tile, joint, better_centre(height, tile, joint))


def absorbing_joint(field: Metres, tile: Metres, tiles: Count) -> Metres:
    """Joint in metres that makes a number of whole tiles fill a field: what is left over tiles less one
    joints.

    Compare it with the joints the tile and the designer allow. Raises OutOfRange for no field, no tile, fewer
    than two tiles, or tiles that do not fit. Source: arithmetic.
    """
    positive("length", field=field, tile=tile)
    whole(2, tiles=tiles)
    left = field - tiles * tile
    if left < 0:
        raise OutOfRange(f"field is {field:g} m; {tiles} tiles of {tile:g} m do not fit")
    return left / (tiles - 1)


def gained_by_joints(widening: Metres, joints: Count) -> Metres:
    """Length in metres taken up by widening each of a number of joints. Raises OutOfRange for no joint."""
    not_negative("length", widening=widening)
    whole(1, joints=joints)
    return widening * joints
