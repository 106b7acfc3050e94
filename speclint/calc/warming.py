"""Electric floor warming: load, circuit and resistance readings. A licensed electrician decides."""

from speclint.calc.guard import between, fraction, positive
from speclint.calc.units import Amperes, Ohms, Ratio, SquareMetres, Volts, Watts, WattsPerSquareMetre


def heating_power(density: WattsPerSquareMetre, heated_area: SquareMetres) -> Watts:
    """Power in watts: density times the heated area, which is not the area of the room.

    Raises OutOfRange for no density or no area. Source: arithmetic.
    """
    positive("power per area", density=density)
    positive("area", heated_area=heated_area)
    return density * heated_area


def power_density(power: Watts, heated_area: SquareMetres) -> WattsPerSquareMetre:
    """Power per area in W/m2: power over heated area. Raises OutOfRange for no power or no area."""
    positive("power", power=power)
    positive("area", heated_area=heated_area)
    return power / heated_area


def heating_current(power: Watts, voltage: Volts) -> Amperes:
    """Current in amperes: power over voltage. Raises OutOfRange for no power or no voltage. Source:
    physics.
    """
    positive("power", power=power)
    positive("electric potential", voltage=voltage)
    return power / voltage


def element_resistance(power: Watts, voltage: Volts) -> Ohms:
    """Resistance in ohms of an element: voltage squared over power. Cold and hot alike to a few percent.

    Raises OutOfRange for no power or no voltage. Source: physics.
    """
    positive("power", power=power)
    positive("electric potential", voltage=voltage)
    return voltage**2 / power


def element_power(voltage: Volts, resistance: Ohms) -> Watts:
    """Power in watts that an element draws: voltage squared over resistance.

    Raises OutOfRange for no voltage or no resistance. Source: physics.
    """
    positive("electric potential", voltage=voltage)
    positive("resistance", resistance=resistance)
    return voltage**2 / resistance


def circuit_power(breaker: Amperes, continuous_share: Ratio, voltage: Volts) -> Watts:
    """Continuous power in watts that a circuit may carry: breaker rating times a share times voltage.

    Raises OutOfRange for no rating, no voltage, or a share not above 0 or above 1. Source: continuous-load
    rule of the NEC (share 0.8).
    """
    positive("current", breaker=breaker)
    positive("ratio", continuous_share=continuous_share)
    fraction(continuous_share=continuous_share)
    positive("electric potential", voltage=voltage)
    return breaker * continuous_share * voltage


def resistance_limit(nominal: Ohms, deviation: Ratio) -> Ohms:
    """One end of the band a reading must lie in: nominal times (1 + deviation), the deviation signed.

    Raises OutOfRange for no nominal, or a deviation outside -1 to 1. Source: the product label gives both
    ends.
    """
    positive("resistance", nominal=nominal)
    between("ratio", -1, 1, deviation=deviation)
    return nominal * (1 + deviation)


def power_multiple(supply: Volts, rated: Volts) -> Ratio:
    """How the power changes on another supply: supply over rated voltage, squared.

    Raises OutOfRange for no voltage. Source: physics.
    """
    positive("electric potential", supply=supply, rated=rated)
    return (supply / rated) ** 2
