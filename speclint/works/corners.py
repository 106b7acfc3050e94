"""The bridge from exact figures to the computations: SI floats inside, ranges by their corners, exact figures out."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import product
from typing import Any

Ends = tuple[Fraction, Fraction]


def over_corners(function: Callable[..., Any], **ends: Ends | str) -> Ends:
    """Lowest and highest result of a computation over ranges of its arguments.

    Each argument is a pair of SI figures, least and greatest, or a word. Right where the function rises or falls
    with each argument by itself, for then its extremes stand at corners. Raises OutOfRange as the function does.
    Source: interval arithmetic.
    """
    names = list(ends)
    choices = [(value,) if isinstance(value, str) else dict.fromkeys(map(float, value)) for value in ends.values()]
    results = [Fraction(function(**dict(zip(names, corner, strict=True)))) for corner in product(*choices)]
    return min(results), max(results)


def si_figure(exact: Fraction) -> float:
    """An exact SI figure as the float that the computations take."""
    return float(exact)
