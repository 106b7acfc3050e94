"""How a waiting time stretches in the cold.

The two functions of ASTM C1074 are for one concrete mix; polymer mortar between dense tile and a membrane
must also dry, which warmth alone does not do, and rapid mortar follows its own sheet. Estimates for planning
only.
"""

import math

from speclint.calc.guard import between, positive, temperature
from speclint.calc.units import Celsius, Kelvins, Ratio, Seconds
from speclint.kernel.faults import OutOfRange

_FREEZING = 273.15
"""Kelvins at 0 C, by definition."""
_MOST = 10_000
"""Steps of one temperature record; more was misread."""
_LEAST_ABOVE = 1e-3
"""Kelvins above the datum that still count; nearer, the multiple runs away."""
_WEATHER = (-50, 100)
"""Celsius between which anything is laid or kept."""
_STEEPEST = 20_000
"""Kelvins: several times any activation of cement."""
_DUST = 1e-12


def maturity_multiple(at: Celsius, reference: Celsius, datum: Celsius) -> Ratio:
    """Waiting time at a temperature as a multiple of that at the reference: (reference - datum) / (at -
    datum).

    Raises OutOfRange where either temperature is not above the datum. Source: temperature-time factor, ASTM
    C1074.
    """
    temperature(at=at, reference=reference, datum=datum)
    for name, value in (("at", at), ("reference", reference)):
        if value - datum < _LEAST_ABOVE:
            raise OutOfRange(f"temperature {name} is {value:g} C; it must be above the datum, {datum:g} C")
    return (reference - datum) / (at - datum)


def equivalent_age_multiple(at: Celsius, reference: Celsius, activation: Kelvins) -> Ratio:
    """Waiting time at a temperature as a multiple of that at the reference: exp[Q (1/at - 1/reference)], in
    kelvin.

    Q is the activation energy over the gas constant, in kelvin. Raises OutOfRange below -50 C, above 100 C,
    or for a Q outside 0 to 20 000. Source: equivalent age, ASTM C1074.
    """
    for value in (at, reference):
        between("temperature", *_WEATHER, temperature=value)
    between("temperature difference", 0, _STEEPEST, activation=activation)
    return math.exp(activation * (1 / (at + _FREEZING) - 1 / (reference + _FREEZING)))


def waiting_time(stated: Seconds, stated_at: Celsius, at: Celsius, datum: Celsius, stop_below: Celsius) -> Seconds:
    """Waiting time in seconds on a colder job: stated time times `maturity_multiple`; a warmer job gains
    nothing.

    Raises OutOfRange for no time, a job below the stop temperature (nothing cures as stated), or a
    temperature not above the datum. Source: ASTM C1074 function; no credit above the reference is common
    practice.
    """
    positive("time", stated=stated)
    temperature(stop_below=stop_below)
    multiple = maturity_multiple(at, stated_at, datum)
    if at < stop_below:
        raise OutOfRange(f"temperature is {at:g} C; below {stop_below:g} C the work stops")
    return stated * max(1.0, multiple)


def working_time(stated: Seconds, stated_at: Celsius, at: Celsius, datum: Celsius) -> Seconds:
    """Pot life or open time in seconds on a warmer job: stated time times the multiple; colder gains nothing.

    Raises OutOfRange for no time or a temperature not above the datum. Source: the same function turned
    round, common practice.
    """
    positive("time", stated=stated)
    return stated * min(1.0, maturity_multiple(at, stated_at, datum))


def time_to_cure(
    stated: Seconds,
    stated_at: Celsius,
    temperatures: tuple[Celsius, ...],
    step: Seconds,
    datum: Celsius,
    stop_below: Celsius,
) -> Seconds:
    """Elapsed seconds until a stated waiting time has been earned over a record of temperatures, one a step.

    Each step earns its length over the multiple of its temperature, never more than its length, and nothing
    below the stop temperature or at the datum. So a colder step never shortens the wait. Raises OutOfRange
    for no time, no step, no record or too long a one, or a record that ends too soon. Source:
    temperature-time factor summed, ASTM C1074.
    """
    positive("time", stated=stated, step=step)
    temperature(stated_at=stated_at, stop_below=stop_below, datum=datum)
    if not 1 <= len(temperatures) <= _MOST:
        raise OutOfRange(f"{len(temperatures)} temperatures; there must be from 1 to {_MOST}")
    earned = 0.0
    for number, at in enumerate(temperatures):
        temperature(at=at)
        above = at - datum >= _LEAST_ABOVE and at >= stop_below
        rate = 1 / max(1.0, maturity_multiple(at, stated_at, datum)) if above else 0.0
        if earned + rate * step >= stated * (1 - _DUST):
            return number * step + max(0.0, stated - earned) / rate
        earned += rate * step
    raise OutOfRange(f"{earned:g} s are earned over {len(temperatures)} steps; {stated:g} s are needed")
