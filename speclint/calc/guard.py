"""The one gate that every number passes before it is computed with.

A number must be finite and of a size that can occur on a job; the reach of each dimension is wide (lengths
from a tenth of a nanometre to a kilometre) and only keeps out what was misread, so that a division or a power
cannot run away. The limits of a formula are checked beside the formula.
"""

import math
from typing import NoReturn

from speclint.kernel.faults import OutOfRange

_SHOWN = 40
"""Characters of a misread value that a message repeats."""
_HAIR = 1e-9
"""Float dust, in the unit counted: 25 ft in 50 ft is two bays, not two and a speck."""

_REACH: dict[str, tuple[float, float, str]] = {
    "length": (1e-10, 1e3, "m"),
    "area": (1e-12, 1e6, "m2"),
    "volume": (1e-15, 1e6, "m3"),
    "mass": (1e-9, 1e9, "kg"),
    "mass per area": (1e-9, 1e5, "kg/m2"),
    "density": (1e-3, 1e5, "kg/m3"),
    "pressure": (1e-6, 1e13, "Pa"),
    "force": (1e-9, 1e9, "N"),
    "line load": (1e-9, 1e9, "N/m"),
    "time": (1e-3, 1e10, "s"),
    "temperature": (-273.15, 1e3, "C"),
    "temperature difference": (1e-9, 1e3, "K"),
    "angle": (1e-6, 360.0, "deg"),
    "ratio": (1e-9, 1e6, ""),
    "count": (1, 1e7, ""),
    "expansion": (1e-12, 1e-2, "1/K"),
    "flow": (1e-18, 1e6, "m3/s"),
    "speed": (1e-9, 1e3, "m/s"),
    "power": (1e-6, 1e8, "W"),
    "power per area": (1e-6, 1e8, "W/m2"),
    "electric potential": (1e-3, 1e6, "V"),
    "resistance": (1e-6, 1e9, "ohm"),
    "current": (1e-9, 1e6, "A"),
    "permeance": (1e-18, 1e-3, "kg/(s m2 Pa)"),
    "permeability": (1e-16, 1e-6, "kg/(s m Pa)"),
    "vapour flow": (1e-18, 1e3, "kg/(s m2)"),
    "thermal resistance": (1e-9, 1e4, "m2 K/W"),
    "latent heat": (1.0, 1e9, "J/kg"),
    "evaporation factor": (1e-9, 1e3, "W/(m2 Pa)"),
    "evaporation factor per speed": (1e-9, 1e3, "W s/(m3 Pa)"),
    "section modulus": (1e-15, 1e3, "m3"),
    "second moment of area": (1e-18, 1e3, "m4"),
    "bending stiffness per width": (1e-6, 1e12, "N m2/m"),
}


def positive(dimension: str, **values: float) -> None:
    """Let each value through that is above zero and within the reach of its dimension.

    Raises OutOfRange naming the value, its unit and the limit.
    """
    smallest, largest, unit = _REACH[dimension]
    for name, value in values.items():
        _finite(name, value, unit)
        if value <= 0:
            _refuse(name, value, unit, "must be above 0")
        if value < smallest or value > largest:
            _refuse(name, value, unit, f"must lie between {smallest:g} and {largest:g}")


def not_negative(dimension: str, **values: float) -> None:
    """Let each value through that is zero or above and within the reach of its dimension.

    Raises OutOfRange naming the value, its unit and the limit.
    """
    largest, unit = _REACH[dimension][1:]
    for name, value in values.items():
        _finite(name, value, unit)
        if value < 0 or value > largest:
            _refuse(name, value, unit, f"must lie between 0 and {largest:g}")


def between(dimension: str, least: float, most: float, **values: float) -> None:
    """Let each value through that lies from `least` to `most`, both included.

    Raises OutOfRange naming the value, its unit and both limits.
    """
    unit = _REACH[dimension][2]
    for name, value in values.items():
        _finite(name, value, unit)
        if value < least or value > most:
            _refuse(name, value, unit, f"must lie between {least:g} and {most:g}")


def fraction(**values: float) -> None:
    """Let each share through from 0 to 1, both included.

    Raises OutOfRange naming the value and both limits.
    """
    between("ratio", 0, 1, **values)


def temperature(**values: float) -> None:
    """Let each temperature through from absolute zero to 1000 C.

    Raises OutOfRange naming the value and both limits.
    """
    lowest, highest, _ = _REACH["temperature"]
    between("temperature", lowest, highest, **values)


def whole(least: int, **values: float) -> None:
    """Let each whole number through from `least` to ten million.

    Raises OutOfRange naming the value and the limit.
    """
    for name, value in values.items():
        between("count", least, _REACH["count"][1], **{name: value})
        if value != int(value):
            _refuse(name, value, "", "must be a whole number")


def whole_up(number: float) -> int:
    """The next whole number up, forgiving float dust just above a whole one."""
    return math.ceil(number - _HAIR)


def whole_down(number: float) -> int:
    """The next whole number down, forgiving float dust just below a whole one."""
    return math.floor(number + _HAIR)


def _finite(name: str, value: object, unit: str) -> None:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        _refuse(name, value, unit, "must be a number")
    if abs(value) > _REACH["pressure"][1] or not math.isfinite(value):
        _refuse(name, value, unit, "must be a finite number of a size found on a job")


def _refuse(name: str, value: object, unit: str, limit: str) -> NoReturn:
    read = f"{value:g}" if isinstance(value, float) else str(value)[:_SHOWN]
    raise OutOfRange(f"{name.replace('_', ' ')} is {read}{unit and ' ' + unit}; it {limit}")
