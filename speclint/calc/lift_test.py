"""Lifted tiles: coverage by mean, by worst, and how much a few lifts can show.

Coverage is contact area over tile back area, from 0 to 1. A few passing lifts check technique; they prove
little about the tiles that were not lifted.
"""

import math
from statistics import fmean, stdev

from speclint.calc.guard import between, fraction, positive, whole, whole_up
from speclint.calc.units import Count, Ratio, SquareMetres
from speclint.kernel.faults import OutOfRange

_MOST = 1_000
"""Readings in one record; more was misread."""
_NEAR_ONE = 1e-6
"""How near to certainty a share or a confidence may come."""
_HALVINGS = 64
"""Enough to bisect to the last bit of a float."""


def mean_coverage(readings: tuple[Ratio, ...]) -> Ratio:
    """Mean of the readings, the figure that ANSI A108.5 3.3.2 judges by.

    Raises OutOfRange for no reading, or one outside 0 to 1. Source: arithmetic.
    """
    _checked(readings, 1)
    return fmean(readings)


def least_coverage(readings: tuple[Ratio, ...]) -> Ratio:
    """Lowest of the readings, to be reported beside the mean. Raises OutOfRange as `mean_coverage`."""
    _checked(readings, 1)
    return min(readings)


def lower_bound(readings: tuple[Ratio, ...], confidence: Ratio) -> Ratio:
    """One-sided lower bound of the mean: mean less Student's t times the sample deviation over root n.

    t is the quantile of the confidence with n - 1 degrees of freedom; never below zero. Readings are taken as
    independent and roughly normal. Raises OutOfRange for fewer than two readings, one outside 0 to 1, or a
    confidence outside 0.5 to below 1. Source: elementary statistics.
    """
    _checked(readings, 2)
    _confidence(confidence)
    spread = stdev(readings) / math.sqrt(len(readings))
    return max(0.0, fmean(readings) - _student(confidence, len(readings) - 1) * spread)


def dot_grid_error(coverage: Ratio, dots: Count) -> Ratio:
    """Standard error of a dot count on one tile: root of coverage times (1 - coverage) over dots.

    Raises OutOfRange for a coverage outside 0 to 1 or no dot. Source: binomial distribution.
    """
    fraction(coverage=coverage)
    whole(1, dots=dots)
    return math.sqrt(coverage * (1 - coverage) / dots)


def void_allowed(tile_area: SquareMetres, coverage: Ratio) -> SquareMetres:
    """Area in square metres that may be void under one tile: tile area times (1 - coverage asked for).

    Raises OutOfRange for no area or a coverage outside 0 to 1. Source: arithmetic.
    """
    positive("area", tile_area=tile_area)
    fraction(coverage=coverage)
    return tile_area * (1 - coverage)


def reliability_shown(lifts: Count, confidence: Ratio) -> Ratio:
    """Share of tiles shown to comply when every lift passed: (1 - confidence) to the power 1 over lifts.

    Raises OutOfRange for no lift or a confidence outside 0.5 to below 1. Source: success-run theorem.
    """
    whole(1, lifts=lifts)
    _confidence(confidence)
    return float((1 - confidence) ** (1 / lifts))


def passes_needed(reliability: Ratio, confidence: Ratio) -> Count:
    """Lifts, all passing, that show a share of tiles to comply: log(1 - confidence) over log(share), rounded
    up.

    Raises OutOfRange for a share outside 0 to 1, at 0 or at 1, or a confidence outside 0.5 to below 1.
    Source: success-run theorem.
    """
    _confidence(confidence)
    positive("ratio", reliability=reliability)
    between("ratio", 0, 1 - _NEAR_ONE, reliability=reliability)
    return max(1, whole_up(math.log(1 - confidence) / math.log(reliability)))


def chance_all_pass(bad_share: Ratio, lifts: Count) -> Ratio:
    """Chance that every lift passes though a share of the tiles is bad: (1 - bad share) to the power of
    lifts.

    Raises OutOfRange for a share outside 0 to 1 or no lift. Source: probability.
    """
    fraction(bad_share=bad_share)
    whole(1, lifts=lifts)
    return float((1 - bad_share) ** lifts)


def _checked(readings: tuple[float, ...], least: int) -> None:
    if not least <= len(readings) <= _MOST:
        raise OutOfRange(f"{len(readings)} coverage readings; there must be from {least} to {_MOST}")
    for reading in readings:
        fraction(coverage_reading=reading)


def _confidence(confidence: float) -> None:
    between("ratio", 1 / 2, 1 - _NEAR_ONE, confidence=confidence)


def _student(confidence: float, freedom: int) -> float:
    """Quantile of Student's t by bisection in the angle whose tangent is t over root freedom."""
    low, high = 0.0, math.pi / 2
    for _ in range(_HALVINGS):
        angle = (low + high) / 2
        low, high = (angle, high) if _below(angle, freedom) < confidence else (low, angle)
    return math.tan(low) * math.sqrt(freedom)


def _below(angle: float, freedom: int) -> float:
    """Chance that t stays below root freedom times tan(angle): finite sums of Abramowitz and Stegun
    26.7.3-4.
    """
    cosine, sine = math.cos(angle), math.sin(angle)
    term = cosine if freedom % 2 else 1.0
    total = 0.0
    for power in range(freedom % 2 + 2, freedom + 1, 2):
        total += term
        term *= cosine**2 * (power - 1) / power
    share = (angle + sine * total) * 2 / math.pi if freedom % 2 else sine * total
    return (1 + share) / 2
