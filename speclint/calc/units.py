"""Names for the numbers that `speclint.calc` takes and returns.

Each alias is a plain float (a count is an int) in the SI unit of its name, and carries its dimension as the
first annotation, so that a catalogue of facts can be held against a signature with
`typing.get_type_hints(function, include_extras=True)`.
"""

from typing import Annotated

Metres = Annotated[float, "length"]
SquareMetres = Annotated[float, "area"]
CubicMetres = Annotated[float, "volume"]
Kilograms = Annotated[float, "mass"]
KilogramsPerSquareMetre = Annotated[float, "mass per area"]
KilogramsPerCubicMetre = Annotated[float, "density"]
Pascals = Annotated[float, "pressure"]
Newtons = Annotated[float, "force"]
NewtonsPerMetre = Annotated[float, "line load"]
Seconds = Annotated[float, "time"]
Celsius = Annotated[float, "temperature"]
Kelvins = Annotated[float, "temperature difference"]
Degrees = Annotated[float, "angle"]
Ratio = Annotated[float, "ratio"]
Count = Annotated[int, "count"]
PerKelvin = Annotated[float, "expansion"]
MetresPerSecond = Annotated[float, "speed"]
Watts = Annotated[float, "power"]
WattsPerSquareMetre = Annotated[float, "power per area"]
Volts = Annotated[float, "electric potential"]
Ohms = Annotated[float, "resistance"]
Amperes = Annotated[float, "current"]
Permeance = Annotated[float, "permeance"]
"""kg/(s m2 Pa)."""
Permeability = Annotated[float, "permeability"]
"""kg/(s m Pa)."""
VapourFlow = Annotated[float, "vapour flow"]
"""kg/(s m2)."""
ThermalResistance = Annotated[float, "thermal resistance"]
"""m2 K/W."""
LatentHeat = Annotated[float, "latent heat"]
"""J/kg."""
EvaporationFactor = Annotated[float, "evaporation factor"]
"""W/(m2 Pa)."""
EvaporationPerSpeed = Annotated[float, "evaporation factor per speed"]
"""W s/(m3 Pa)."""
CubicMetresPerSecond = Annotated[float, "flow"]
SectionModulus = Annotated[float, "section modulus"]
"""m3."""
SecondMoment = Annotated[float, "second moment of area"]
"""m4."""
StiffnessPerWidth = Annotated[float, "bending stiffness per width"]
"""N m2 for each metre of width."""

STANDARD_GRAVITY = 9.80665
"""m/s2, fixed by definition (ISO 80000-3); turns kilograms into newtons."""
