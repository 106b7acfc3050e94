"""Wall tile before the mortar sets: sag, and the stack that stands on the spacers below.

Advisory: real load is less by what the fresh mortar holds, and falls as it sets.
"""

from speclint.calc.guard import fraction, not_negative, positive, whole, whole_down
from speclint.calc.units import (
    STANDARD_GRAVITY,
    Count,
    KilogramsPerSquareMetre,
    Metres,
    Newtons,
    NewtonsPerMetre,
    Pascals,
    Ratio,
    SquareMetres,
)


def sag_stress(mass: KilogramsPerSquareMetre, contact: Ratio) -> Pascals:
    """Shear in pascals on fresh mortar under a wall tile: mass of tile and mortar times gravity over contact
    share.

    Raises OutOfRange for no mass, or contact not above 0 or above 1. Source: mechanics; the slip test of EN
    12004 puts 200 g on 100 x 100 mm.
    """
    positive("mass per area", mass=mass)
    positive("ratio", contact=contact)
    fraction(contact=contact)
    return mass * STANDARD_GRAVITY / contact


def sag_reserve(yield_stress: Pascals, stress: Pascals) -> Ratio:
    """Reserve against sag: yield stress of the fresh mortar over the stress on it.

    Raises OutOfRange for no yield stress or no stress. Source: mechanics.
    """
    positive("pressure", yield_stress=yield_stress, stress=stress)
    return yield_stress / stress


def stack_line_load(mass: KilogramsPerSquareMetre, height: Metres) -> NewtonsPerMetre:
    """Load in N/m on the first course with no grip at all: mass times gravity times height of the stack.

    Raises OutOfRange for no mass or no height. Source: mechanics.
    """
    positive("mass per area", mass=mass)
    positive("length", height=height)
    return mass * STANDARD_GRAVITY * height


def spacer_load(line_load: NewtonsPerMetre, tile_width: Metres, spacers: Count) -> Newtons:
    """Load in newtons on each spacer under a tile: line load times tile width over the number of spacers.

    Raises OutOfRange for no load, no width or no spacer. Source: mechanics.
    """
    positive("line load", line_load=line_load)
    positive("length", tile_width=tile_width)
    whole(1, spacers=spacers)
    return line_load * tile_width / spacers


def spacer_shortening(load: Newtons, height: Metres, area: SquareMetres, elasticity: Pascals) -> Metres:
    """How much a spacer closes in metres: load times height over area times modulus, never past its height.

    Linear; a soft spacer stiffens before it is flat. Raises OutOfRange for an input that is not above zero.
    Source: linear elasticity.
    """
    positive("force", load=load)
    positive("length", height=height)
    positive("area", area=area)
    positive("pressure", elasticity=elasticity)
    return min(height, load * height / (area * elasticity))


def courses_in_lift(lift: Metres, tile: Metres, joint: Metres) -> Count:
    """Whole courses within a day's lift: lift over tile plus joint, rounded down.

    Raises OutOfRange for no lift, no tile or a negative joint. Source: arithmetic.
    """
    positive("length", lift=lift, tile=tile)
    not_negative("length", joint=joint)
    return whole_down(lift / (tile + joint))
