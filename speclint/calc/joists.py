"""Longest joist spans: by deflection under live load and by bending under total load.

Simple span, uniform load, dressed lumber by its actual size; a span table of the code governs where it
differs.
"""

import math

from speclint.calc.deflection import second_moment, uniform_deflection
from speclint.calc.guard import not_negative, positive
from speclint.calc.units import (
    Metres,
    NewtonsPerMetre,
    Pascals,
    Ratio,
    SecondMoment,
    SectionModulus,
)
from speclint.kernel.faults import OutOfRange

_UNIFORM = 5 / 384
"""Mid-span deflection of a simple span under uniform load, over w L^4 / (E I)."""
_MOMENT = 1 / 8
"""Mid-span moment of a simple span under uniform load, over w L^2."""
_MODULUS = 1 / 6
"""Section modulus of a rectangle, over breadth times depth squared."""


def line_load(pressure: Pascals, spacing: Metres) -> NewtonsPerMetre:
    """Load in N/m on one joist: load per area times spacing.

    Raises OutOfRange for no load or no spacing. Source: mechanics.
    """
    positive("pressure", pressure=pressure)
    positive("length", spacing=spacing)
    return pressure * spacing


def section_modulus(breadth: Metres, depth: Metres) -> SectionModulus:
    """Section modulus of a rectangle in m3: breadth times depth squared over 6.

    Raises OutOfRange for no breadth or no depth. Source: beam theory.
    """
    positive("length", breadth=breadth, depth=depth)
    return _MODULUS * breadth * depth**2


def deflection_span(
    live_line_load: NewtonsPerMetre, elasticity: Pascals, moment: SecondMoment, divisor: Ratio
) -> Metres:
    """Longest span in metres with deflection up to span over divisor: cube root of 384 E I / (5 divisor w).

    Raises OutOfRange for an input that is not above zero. Source: beam theory.
    """
    positive("line load", live_line_load=live_line_load)
    positive("pressure", elasticity=elasticity)
    positive("second moment of area", moment=moment)
    positive("ratio", divisor=divisor)
    return math.cbrt(elasticity * moment / (_UNIFORM * divisor * live_line_load))


def bending_span(
    total_line_load: NewtonsPerMetre, bending_value: Pascals, modulus: SectionModulus, factors: Ratio
) -> Metres:
    """Longest span in metres by bending: square root of 8 times bending value times factors times S over w.

    Factors is the product of the size, repetitive-member and load-duration factors.
    Raises OutOfRange for an input that is not above zero. Source: beam theory; NDS for the factors.
    """
    positive("line load", total_line_load=total_line_load)
    positive("pressure", bending_value=bending_value)
    positive("section modulus", modulus=modulus)
    positive("ratio", factors=factors)
    return math.sqrt(bending_value * factors * modulus / (_MOMENT * total_line_load))


def joist_span(
    breadth: Metres,
    depth: Metres,
    spacing: Metres,
    live_load: Pascals,
    dead_load: Pascals,
    elasticity: Pascals,
    bending_value: Pascals,
    factors: Ratio,
    divisor: Ratio,
) -> Metres:
    """Longest joist span in metres: the lesser of `deflection_span` on live load and `bending_span` on total
    load.

    Measured from face of support plus half the required bearing at each end. Raises OutOfRange for an input
    that is not above zero (dead load may be zero). Source: beam theory; reproduces IRC Table R502.3.1(2) to
    the nearest inch with NDS Supplement values.
    """
    positive("pressure", live_load=live_load)
    not_negative("pressure", dead_load=dead_load)
    by_deflection = deflection_span(line_load(live_load, spacing), elasticity, second_moment(breadth, depth), divisor)
    by_bending = bending_span(
        line_load(live_load + dead_load, spacing), bending_value, section_modulus(breadth, depth), factors
    )
    return min(by_deflection, by_bending)


def clear_span(design_span: Metres, bearing: Metres) -> Metres:
    """Clear span in metres between supports: design span less half the required bearing at each end.

    Raises OutOfRange for no span, a negative bearing, or a bearing that leaves nothing clear. Source: NDS
    3.2.1.
    """
    positive("length", design_span=design_span)
    not_negative("length", bearing=bearing)
    if bearing >= design_span:
        raise OutOfRange(f"bearing is {bearing:g} m; it must be below the span, {design_span:g} m")
    return design_span - bearing


def joist_bending(
    breadth: Metres, depth: Metres, spacing: Metres, span: Metres, live_load: Pascals, elasticity: Pascals
) -> Metres:
    """Mid-span deflection in metres of one joist under live load: 5 w L^4 / (384 E I), w the load times spacing.

    A check to ask by; the designer's figure governs. Raises OutOfRange for an input that is not above zero.
    Source: beam theory.
    """
    moment = second_moment(breadth, depth)
    return uniform_deflection(line_load(live_load, spacing), span, elasticity, moment)
