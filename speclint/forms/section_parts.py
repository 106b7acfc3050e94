"""Pieces that the pictures of a cut are made of: broken edges, measures, and the figures beside them."""

from __future__ import annotations

from fractions import Fraction

from speclint.forms.drawing import Shape
from speclint.forms.measures import INCH, range_text
from speclint.works.reading import Reach

NOT_TOLD = "not told"
SILENT = "the plan does not tell it"
HATCH = {  # a family of the vocabulary: how it is hatched
    "wood": "timber",
    "wood panel": "wood",
    "slab": "slab",
    "ground slab": "slab",
    "masonry": "masonry",
    "mortar": "mortar",
    "plaster": "mortar",
    "self-levelling": "mortar",
    "gypsum screed": "gypsum",
    "gypsum board": "gypsum",
    "cement board": "cement",
    "foam board": "foam",
    "sound mat": "foam",
    "uncoupling mat": "mat",
    "warming": "mat",
    "old finish": "old",
    "board finish": "old",
    "metal": "metal",
    "steel": "metal",
    "lath": "metal",
    "tile": "tile",
    "concrete": "slab",
    "brick": "masonry",
    "foam": "foam",
}
_FOOT = Fraction(381, 1250)
_THIN = Fraction(127, 80000)
"""Metres: below a sixteenth of an inch a thickness is read in decimals."""


def told(figure: Reach | None, system: str) -> str:
    """A length in words, thin ones in decimals; ``not told`` where the plan is silent."""
    if figure is None:
        return NOT_TOLD
    thin = figure.high < _THIN
    return range_text(figure.low, figure.high, "film" if thin and system == INCH else "size", system)


def fall_text(fall: Reach | None, system: str) -> str:
    """A fall in words: inches in a foot, or per cent; ``not told`` where the plan is silent."""
    if fall is None:
        return NOT_TOLD
    if system == INCH:
        return f"{range_text(fall.low * _FOOT, fall.high * _FOOT, 'size', system)} per ft"
    return range_text(fall.low, fall.high, "slope", system)


def hatch_of(family: str, known: bool = True) -> str:
    """The style of a family; one that is not told, or whose thickness is not told, is an empty dashed outline."""
    return HATCH.get(family, "old") if family and known else "untold"


def broken(x: float, y: float, wide: float) -> Shape:
    """A line across, broken in its middle: the thing goes on."""
    middle = x + wide / 2
    return Shape(
        "open",
        (x, y, middle - 1.6, y, middle - 0.8, y - 1.8, middle + 0.8, y + 1.8, middle + 1.6, y, x + wide, y),
        "outline",
    )


def broken_up(x: float, y: float, high: float) -> Shape:
    """A line upward, broken in its middle."""
    middle = y + high / 2
    return Shape(
        "open",
        (x, y, x, middle - 1.6, x - 1.4, middle - 0.8, x + 1.4, middle + 0.8, x, middle + 1.6, x, y + high),
        "line",
    )


def measure(x: float, y: float, wide: float) -> list[Shape]:
    """A measuring line across, with a stroke at both ends."""
    ends = [Shape("open", (one - 0.8, y + 0.8, one + 0.8, y - 0.8), "outline") for one in (x, x + wide)]
    return [Shape("line", (x - 1.2, y, x + wide + 1.2, y), "dim"), *ends]


def measure_up(x: float, y: float, high: float) -> list[Shape]:
    """A measuring line upward, with a stroke at both ends."""
    ends = [Shape("open", (x - 0.8, one + 0.8, x + 0.8, one - 0.8), "outline") for one in (y, y + high)]
    return [Shape("line", (x, y - 1.2, x, y + high + 1.2), "dim"), *ends]
