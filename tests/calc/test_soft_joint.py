"""Width of soft joints out of doors against the two points of handbook method EJ171 (3/8 in at 8 ft, 1/2 in at 12 ft)."""

import pytest

from speclint.calc.soft_joint import width_by_spacing
from speclint.kernel.faults import OutOfRange

INCH, FOOT = 0.0254, 0.3048
POINTS = (8 * FOOT, 3 / 8 * INCH, 12 * FOOT, 1 / 2 * INCH)


@pytest.mark.parametrize(
    ("feet", "inches"),
    [
        (8, 3 / 8),  # EJ171, first point
        (12, 1 / 2),  # EJ171, second point
        (10, 7 / 16),  # half way, arithmetic
        (6, 3 / 8),  # closer joints keep the least width
        (20, 1 / 2),  # spacing beyond the table is another finding
    ],
)
def test_width_by_spacing(feet: float, inches: float) -> None:
    assert width_by_spacing(feet * FOOT, *POINTS) == pytest.approx(inches * INCH)


def test_points_out_of_order_are_refused() -> None:
    with pytest.raises(OutOfRange):
        width_by_spacing(8 * FOOT, 12 * FOOT, 1 / 2 * INCH, 8 * FOOT, 3 / 8 * INCH)
