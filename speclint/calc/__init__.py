"""Pure computations of the tile trade, one file a subject.

Every function takes and returns plain numbers in SI units (metres, kilograms, seconds, degrees Celsius,
degrees of angle); the aliases in `speclint.calc.units` carry the dimension of each. Limits and coefficients
that a source could change are arguments, kept as named tables under `shared/tables`. Input outside the stated
limits raises `speclint.kernel.faults.OutOfRange`, which names the limit and what was read.
"""
