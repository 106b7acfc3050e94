"""Flood tests: what the water weighs, what dries up, and the smallest leak a drop can show."""

from speclint.calc.guard import between, fraction, not_negative, positive
from speclint.calc.units import (
    STANDARD_GRAVITY,
    CubicMetres,
    CubicMetresPerSecond,
    EvaporationFactor,
    EvaporationPerSpeed,
    KilogramsPerCubicMetre,
    LatentHeat,
    Metres,
    MetresPerSecond,
    Pascals,
    Ratio,
    Seconds,
    SquareMetres,
    VapourFlow,
)

_MEAN_UNDER_CONE = 1 / 3
"""Mean depth under a cone as a share of its height."""
_REACH = 1e3
"""Metres: a level further off than this was misread."""


def water_load(depth: Metres, water_density: KilogramsPerCubicMetre) -> Pascals:
    """Load in pascals under still water: density times gravity times depth.

    Raises OutOfRange for a negative depth or no density. Source: hydrostatics.
    """
    not_negative("length", depth=depth)
    positive("density", water_density=water_density)
    return water_density * STANDARD_GRAVITY * depth


def depth_for_load(load: Pascals, water_density: KilogramsPerCubicMetre) -> Metres:
    """Depth in metres of still water that makes a load: load over density times gravity.

    Raises OutOfRange for no load or no density. Source: hydrostatics.
    """
    positive("pressure", load=load)
    positive("density", water_density=water_density)
    return load / (water_density * STANDARD_GRAVITY)


def level_perimeter_water(area: SquareMetres, depth_at_perimeter: Metres, fall: Metres) -> CubicMetres:
    """Water in cubic metres on a pan with a level perimeter: area times (depth at perimeter + a third of the
    fall).

    The drain may stand anywhere that a straight line reaches every part of the perimeter from. Raises
    OutOfRange for no area, or a negative depth or fall. Source: derived (volume of a cone).
    """
    positive("area", area=area)
    not_negative("length", depth_at_perimeter=depth_at_perimeter, fall=fall)
    return area * (depth_at_perimeter + fall * _MEAN_UNDER_CONE)


def one_plane_water(area: SquareMetres, depth_at_high_side: Metres, fall: Metres) -> CubicMetres:
    """Water in cubic metres on a rectangle in one plane: area times (depth at the high side + half the fall).

    Raises OutOfRange for no area, or a negative depth or fall. Source: derived.
    """
    positive("area", area=area)
    not_negative("length", depth_at_high_side=depth_at_high_side, fall=fall)
    return area * (depth_at_high_side + fall / 2)


def evaporation(
    water_pressure: Pascals,
    air_pressure: Pascals,
    air_speed: MetresPerSecond,
    still_factor: EvaporationFactor,
    speed_factor: EvaporationPerSpeed,
    latent_heat: LatentHeat,
    undisturbed_share: Ratio,
) -> VapourFlow:
    """Water lost to the air in kg/(s m2).

    (still factor + speed factor times air speed) times (vapour pressure at the water less that of the air)
    over latent heat, times the share that an undisturbed surface gives. An estimate, indoors and without sun;
    zero when the air is as moist as the water surface. Raises OutOfRange for a negative input, no pressure,
    no latent heat or a share outside 0 to 1. Source: pool evaporation formula of the ASHRAE Handbook, HVAC
    Applications.
    """
    positive("pressure", water_pressure=water_pressure)
    not_negative("pressure", air_pressure=air_pressure)
    not_negative("speed", air_speed=air_speed)
    positive("evaporation factor", still_factor=still_factor)
    not_negative("evaporation factor per speed", speed_factor=speed_factor)
    positive("latent heat", latent_heat=latent_heat)
    fraction(undisturbed_share=undisturbed_share)
    drive = max(0.0, water_pressure - air_pressure)
    return undisturbed_share * (still_factor + speed_factor * air_speed) * drive / latent_heat


def level_drop(flow: VapourFlow, time: Seconds, water_density: KilogramsPerCubicMetre) -> Metres:
    """Drop of the level in metres from evaporation: flow times time over density.

    Raises OutOfRange for a negative flow, no time or no density. Source: conservation of mass.
    """
    not_negative("vapour flow", flow=flow)
    positive("time", time=time)
    positive("density", water_density=water_density)
    return flow * time / water_density


def drop_beyond_control(drop: Metres, control_drop: Metres) -> Metres:
    """Drop in metres that a control pan beside the test does not explain; negative when the control fell
    further.

    Compare it with the reading error. Raises OutOfRange for a drop beyond a kilometre either way (a rise is a
    negative drop). Source: arithmetic.
    """
    between("length", -_REACH, _REACH, drop=drop, control_drop=control_drop)
    return drop - control_drop


def detectable_leak(area: SquareMetres, readable_drop: Metres, time: Seconds) -> CubicMetresPerSecond:
    """Smallest leak in cubic metres a second that lowers the level by a readable drop: area times drop over
    time.

    Raises OutOfRange for no area, no drop or no time. Source: conservation of volume.
    """
    positive("area", area=area)
    positive("length", readable_drop=readable_drop)
    positive("time", time=time)
    return area * readable_drop / time
