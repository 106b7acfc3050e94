"""Where vapour condenses inside an assembly: the steady check of ISO 13788.

No air leakage, no storage, constant conditions on both sides, no thermal bridges; short use is overstated.
Two vapour barriers with a wet layer between them are a fault whatever comes out here.
"""

from itertools import accumulate, pairwise
from typing import NamedTuple

from speclint.calc.guard import between, not_negative, positive, temperature
from speclint.calc.units import (
    Celsius,
    Count,
    Metres,
    Pascals,
    Permeability,
    Ratio,
    ThermalResistance,
    VapourFlow,
)
from speclint.calc.vapour import Saturation, saturation_pressure, vapour_pressure
from speclint.kernel.faults import OutOfRange

_MOST = 100
"""Layers of one assembly; more was misread."""
_TIGHTEST = 1e6
"""Metres of air layer: metal foil is near two thousand."""
_THIN = 1e-9
"""Metres of air layer: a layer without it lets vapour straight through."""


class Layer(NamedTuple):
    """One layer from the warm side: thermal resistance in m2 K/W and equivalent air layer in metres,
    either may be 0.
    """

    resistance: ThermalResistance
    air_layer: Metres


class Climate(NamedTuple):
    """Air on one side: temperature, relative humidity from 0 to 1, surface resistance in m2 K/W."""

    temperature: Celsius
    humidity: Ratio
    surface_resistance: ThermalResistance


class Plane(NamedTuple):
    """A plane that gets wet: number of layers before it, temperature, flow in, flow out and what stays."""

    after_layers: Count
    temperature: Celsius
    inflow: VapourFlow
    outflow: VapourFlow
    condensing: VapourFlow


def plane_temperatures(inside: Climate, outside: Climate, layers: tuple[Layer, ...]) -> tuple[Celsius, ...]:
    """Temperatures in Celsius at the warm face, between the layers and at the cold face.

    They fall in step with thermal resistance. Raises OutOfRange for no layer, more than a hundred, a negative
    resistance, or no resistance at all. Source: steady conduction.
    """
    _checked(inside, outside, layers)
    steps = (inside.surface_resistance, *(layer.resistance for layer in layers))
    total = sum(steps) + outside.surface_resistance
    positive("thermal resistance", resistance_of_the_assembly=total)
    drop = inside.temperature - outside.temperature
    return tuple(inside.temperature - drop * passed / total for passed in accumulate(steps))


def wet_planes(
    inside: Climate,
    outside: Climate,
    layers: tuple[Layer, ...],
    permeability_of_air: Permeability,
    curve: Saturation,
) -> tuple[Plane, ...]:
    """Planes inside the assembly where vapour condenses, from the warm side; empty where none does.

    Over the axis of equivalent air layers the vapour pressure is a string pulled tight between both faces and
    held under saturation at every plane; where it rests on saturation, more flows in than out. The pressure
    at each face is that of its air, capped at saturation, also that of planes which no vapour resistance
    parts from the face; a face so capped is itself wet and is not listed. Raises OutOfRange as
    `plane_temperatures`, outside the curve, for a humidity outside 0 to 1, or layers without any vapour
    resistance. Source: ISO 13788.
    """
    temperatures = plane_temperatures(inside, outside, layers)
    positive("permeability", permeability_of_air=permeability_of_air)
    depths = (0.0, *accumulate(layer.air_layer for layer in layers))
    between("length", _THIN, _MOST * _TIGHTEST, air_layer_of_the_assembly=depths[-1])
    limits = [saturation_pressure(at, curve) for at in temperatures]
    limits[0] = min(_at(limits, depths, 0), vapour_pressure(inside.temperature, inside.humidity, curve))
    limits[-1] = min(_at(limits, depths, -1), vapour_pressure(outside.temperature, outside.humidity, curve))
    held = _tight_string(depths, tuple(limits))
    flows = [permeability_of_air * (limits[a] - limits[b]) / (depths[b] - depths[a]) for a, b in pairwise(held)]
    return tuple(
        Plane(at, temperatures[at], inflow, outflow, inflow - outflow)
        for at, inflow, outflow in zip(held[1:], flows, flows[1:], strict=False)
        if inflow > outflow
    )


def total_condensing(planes: tuple[Plane, ...]) -> VapourFlow:
    """What stays in the assembly in kg/(s m2), summed over its wet planes; 0 for none."""
    return sum((plane.condensing for plane in planes), 0.0)


def _checked(inside: Climate, outside: Climate, layers: tuple[Layer, ...]) -> None:
    if not 1 <= len(layers) <= _MOST:
        raise OutOfRange(f"{len(layers)} layers; there must be from 1 to {_MOST}")
    temperature(inside=inside.temperature, outside=outside.temperature)
    for layer in layers:
        not_negative("thermal resistance", resistance=layer.resistance)
        between("length", 0, _TIGHTEST, air_layer=layer.air_layer)
    for side in (inside, outside):
        between("ratio", 0, 1, humidity=side.humidity)
        not_negative("thermal resistance", surface_resistance=side.surface_resistance)


def _at(limits: list[Pascals], depths: tuple[Metres, ...], end: int) -> Pascals:
    return min(limit for limit, depth in zip(limits, depths, strict=True) if abs(depth - depths[end]) <= _THIN)


def _tight_string(depths: tuple[Metres, ...], limits: tuple[Pascals, ...]) -> list[int]:
    """Places that hold the string: the lower hull of limit over depth, both ends kept."""
    last = len(depths) - 1
    held = [0]
    for place in range(1, last + 1):
        if place < last and min(depths[place] - depths[0], depths[last] - depths[place]) <= _THIN:
            continue
        while len(held) > 1 and _above(depths, limits, held, place):
            held.pop()
        held.append(place)
    return held


def _above(depths: tuple[Metres, ...], limits: tuple[Pascals, ...], held: list[int], place: int) -> bool:
    a, b = held[-2], held[-1]
    return (limits[b] - limits[a]) * (depths[place] - depths[a]) >= (limits[place] - limits[a]) * (
        depths[b] - depths[a]
    )
