"""Shower pans: runs, falls and slopes to a drain anywhere on the floor, and the curb above it.

Plain slopes: the floor is straight from the drain to the perimeter. Runs in metres; slopes as rise over run
(1/4 in per ft is 1/48).
"""

from speclint.calc.guard import not_negative, positive
from speclint.calc.outline import farthest_corner, nearest_side, rectangle
from speclint.calc.units import Metres, Ratio
from speclint.kernel.faults import OutOfRange


def longest_run(length: Metres, width: Metres, drain_x: Metres, drain_y: Metres, drain_radius: Metres = 0) -> Metres:
    """Longest run in metres from the drain edge to the farthest corner of a rectangular pan.

    The drain stands drain_x along the length and drain_y along the width from one corner; give its radius
    when it is large. Raises OutOfRange for a drain outside the pan or a radius past the nearest side. Source:
    geometry.
    """
    centre = (drain_x, drain_y)
    outline = rectangle(length, width)
    _radius_fits(drain_radius, nearest_side(outline, centre))
    return farthest_corner(outline, centre) - drain_radius


def shortest_run(length: Metres, width: Metres, drain_x: Metres, drain_y: Metres, drain_radius: Metres = 0) -> Metres:
    """Shortest run in metres from the drain edge to the nearest side of a rectangular pan; 0 at the side
    itself.

    Arguments and errors as `longest_run`. Source: geometry.
    """
    run = nearest_side(rectangle(length, width), (drain_x, drain_y))
    _radius_fits(drain_radius, run)
    return max(0.0, run - drain_radius)


def fall(slope: Ratio, run: Metres) -> Metres:
    """Fall in metres over a run: slope times run.

    Raises OutOfRange for no slope or no run. Source: definition of slope.
    """
    positive("ratio", slope=slope)
    positive("length", run=run)
    return slope * run


def slope_over(fall_over_run: Metres, run: Metres) -> Ratio:
    """Slope as rise over run. With a level perimeter the longest run is the flattest and the shortest the
    steepest.

    Raises OutOfRange for no fall or no run: a drain on the perimeter has no slope there. Source: definition.
    """
    positive("length", fall_over_run=fall_over_run, run=run)
    return fall_over_run / run


def steepest_slope(least_slope: Ratio, longest: Metres, shortest: Metres) -> Ratio:
    """Steepest slope of a pan with a level perimeter whose longest run has the least slope.

    Least slope times longest over shortest run; so a level perimeter keeps between two slopes only while the
    runs stand in no greater ratio than they do. Raises OutOfRange for no slope, no run, or a shortest run
    above the longest. Source: derived; IRC P2709.1 gives both slopes.
    """
    positive("ratio", least_slope=least_slope)
    positive("length", longest=longest, shortest=shortest)
    if shortest > longest:
        raise OutOfRange(f"shortest run is {shortest:g} m; it must not be above the longest, {longest:g} m")
    return least_slope * longest / shortest


def curb_above_floor(curb_above_drain: Metres, slope: Ratio, run: Metres) -> Metres:
    """Height in metres of a curb above the floor beside it: its height above the drain less the fall from
    there.

    Negative when the floor at the curb stands above it. Raises OutOfRange for a negative height, no slope or
    no run. Source: geometry; IRC P2709.1 measures a curb from the drain.
    """
    not_negative("length", curb_above_drain=curb_above_drain)
    return curb_above_drain - fall(slope, run)


def _radius_fits(drain_radius: float, run: float) -> None:
    not_negative("length", drain_radius=drain_radius)
    if drain_radius > run:
        raise OutOfRange(f"drain radius is {drain_radius:g} m; the nearest side is {run:g} m from its centre")
