"""Soft joints out of doors: the least width by their spacing."""

from speclint.calc.guard import positive
from speclint.calc.units import Metres


def width_by_spacing(
    spacing: Metres, near_spacing: Metres, near_width: Metres, far_spacing: Metres, far_width: Metres
) -> Metres:
    """Least width in metres of a soft joint from two points of a table: in proportion between them, flat outside.

    Raises OutOfRange for an input that is not above zero, or points out of order. Source: handbook method EJ171
    gives the two points; the straight line between them is arithmetic.
    """
    positive("length", spacing=spacing, near_spacing=near_spacing, near_width=near_width, far_width=far_width)
    positive("length", between=far_spacing - near_spacing)
    part = min(1.0, max(0.0, (spacing - near_spacing) / (far_spacing - near_spacing)))
    return near_width + part * (far_width - near_width)
