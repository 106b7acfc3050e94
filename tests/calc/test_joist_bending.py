"""Bending of one joist, held to a span of the code's table and to the cube law of beam theory."""

import pytest

from speclint.calc.joists import joist_bending

INCH, PSI, PSF = 0.0254, 6894.757, 47.880259
BREADTH, DEPTH, SPACING = 1.5 * INCH, 7.25 * INCH, 16 * INCH
SPF_NO_2 = 1_400_000 * PSI  # NDS Supplement table 4A, from memory


def test_at_the_span_of_the_code_table_a_joist_bends_a_360th() -> None:
    """IRC Table R502.3.1(2): spruce-pine-fir number 2, 2x8 at 16 in, 40 and 10 psf, spans 12 ft 3 in."""
    span = 147 * INCH
    bending = joist_bending(BREADTH, DEPTH, SPACING, span, 40 * PSF, SPF_NO_2)
    assert span / bending == pytest.approx(360, rel=0.02)  # the table rounds to the inch


def test_twice_the_span_bends_sixteen_times_as_far() -> None:
    """Beam theory: deflection under uniform load grows with the fourth power of the span."""
    one = joist_bending(BREADTH, DEPTH, SPACING, 2.0, 40 * PSF, SPF_NO_2)
    two = joist_bending(BREADTH, DEPTH, SPACING, 4.0, 40 * PSF, SPF_NO_2)
    assert two == pytest.approx(16 * one)
