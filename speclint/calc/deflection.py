"""Bending of joists and panels under load: elastic, straight, simply supported unless said otherwise.

A check for ranking and for questions; it replaces no structural design. Creep, shear deflection, sharing
between joists, subfloor action and bearing are left out.
"""

from speclint.calc.guard import positive
from speclint.calc.units import (
    Metres,
    Newtons,
    NewtonsPerMetre,
    Pascals,
    Ratio,
    SecondMoment,
    StiffnessPerWidth,
)

_UNIFORM = 5 / 384
"""Mid-span deflection of a simple span under uniform load, over w L^4 / (E I)."""
_POINT = 1 / 48
"""Mid-span deflection of a simple span under a load at mid-span, over P L^3 / (E I)."""
_RECTANGLE = 1 / 12
"""Second moment of area of a rectangle, over breadth times depth cubed."""


def second_moment(breadth: Metres, depth: Metres) -> SecondMoment:
    """Second moment of area of a rectangle in m4: breadth times depth cubed over 12, by actual dressed sizes.

    Raises OutOfRange for no breadth or no depth. Source: beam theory.
    """
    positive("length", breadth=breadth, depth=depth)
    return _RECTANGLE * breadth * depth**3


def uniform_deflection(line_load: NewtonsPerMetre, span: Metres, elasticity: Pascals, moment: SecondMoment) -> Metres:
    """Mid-span deflection in metres under uniform load: 5 w L^4 / (384 E I).

    Raises OutOfRange for an input that is not above zero. Source: beam theory.
    """
    positive("line load", line_load=line_load)
    stiffness = _stiffness(span, elasticity, moment)
    return _UNIFORM * line_load * span**4 / stiffness


def point_deflection(load: Newtons, span: Metres, elasticity: Pascals, moment: SecondMoment) -> Metres:
    """Mid-span deflection in metres under a load at mid-span: P L^3 / (48 E I).

    One member alone, nothing shared. Raises OutOfRange for an input that is not above zero. Source: beam
    theory.
    """
    positive("force", load=load)
    stiffness = _stiffness(span, elasticity, moment)
    return _POINT * load * span**3 / stiffness


def panel_point_deflection(load: Newtons, span: Metres, stiffness: StiffnessPerWidth, strip_width: Metres) -> Metres:
    """Deflection in metres of a strip of panel between joists under a load at mid-span.

    P L^3 / (48 E I), E I being stiffness per width times the width of the strip. Crude: no two-way action, no
    tile layer, one span. Use it to rank panels, never to pass one.
    Raises OutOfRange for an input that is not above zero. Source: beam theory.
    """
    positive("force", load=load)
    positive("length", span=span, strip_width=strip_width)
    positive("bending stiffness per width", stiffness=stiffness)
    return _POINT * load * span**3 / (stiffness * strip_width)


def panel_uniform_deflection(
    pressure: Pascals, span: Metres, stiffness: StiffnessPerWidth, continuity: Ratio
) -> Metres:
    """Deflection in metres of panel between joists under uniform load: continuity factor times q L^4 / E I.

    The factor is 5/384 for one span and near 0.0069 for three or more.
    Raises OutOfRange for an input that is not above zero. Source: beam theory.
    """
    positive("pressure", pressure=pressure)
    positive("length", span=span)
    positive("bending stiffness per width", stiffness=stiffness)
    positive("ratio", continuity=continuity)
    return continuity * pressure * span**4 / stiffness


def span_over(span: Metres, deflection: Metres) -> Ratio:
    """Span over deflection: 360 means L/360. Raises OutOfRange for no span or no deflection."""
    positive("length", span=span, deflection=deflection)
    return span / deflection


def allowed_deflection(span: Metres, divisor: Ratio) -> Metres:
    """Deflection in metres that a limit L over divisor allows. Raises OutOfRange for no span or no
    divisor.
    """
    positive("length", span=span)
    positive("ratio", divisor=divisor)
    return span / divisor


def stone_deflection(span: Metres, divisor: Ratio, capped_above: Metres, cap: Metres) -> Metres:
    """Deflection in metres allowed under stone: span over divisor up to a span, above it one fixed figure.

    The two need not meet: 14 ft over 720 is 0.233 in, and above 14 ft the figure is 7/32 in. Raises
    OutOfRange for an input that is not above zero. Source: stone trade limit, L/720 to 14 ft, 7/32 in above.
    """
    positive("length", capped_above=capped_above, cap=cap)
    by_span = allowed_deflection(span, divisor)
    return by_span if span <= capped_above else cap


def _stiffness(span: float, elasticity: float, moment: float) -> float:
    positive("length", span=span)
    positive("pressure", elasticity=elasticity)
    positive("second moment of area", moment=moment)
    return elasticity * moment
