"""Movement joints: how far tile moves, how wide the joint, how many lines and where."""

from speclint.calc.guard import not_negative, positive, whole_up
from speclint.calc.units import Count, CubicMetres, Kelvins, Metres, PerKelvin, Ratio
from speclint.kernel.faults import OutOfRange

_MOST_BAYS = 10_000


def thermal_movement(length: Metres, expansion: PerKelvin, range_of_temperature: Kelvins) -> Metres:
    """Free thermal movement in metres: length times coefficient of expansion times temperature range.

    Raises OutOfRange for no length, no coefficient or a negative range. Source: physics.
    """
    positive("length", length=length)
    positive("expansion", expansion=expansion)
    not_negative("temperature difference", range_of_temperature=range_of_temperature)
    return length * expansion * range_of_temperature


def moisture_movement(length: Metres, strain: Ratio) -> Metres:
    """Moisture growth in metres: length times strain. It goes one way, and is added to what goes to and fro.

    Raises OutOfRange for no length or a negative strain. Source: physics; ISO 10545-10 for the strain.
    """
    positive("length", length=length)
    not_negative("ratio", strain=strain)
    return length * strain


def sealant_joint(movement: Metres, capability: Ratio, construction_tolerance: Metres) -> Metres:
    """Width in metres of a sealant joint: movement over the sealant's movement capability, plus a tolerance.

    Capability is a share of the width: 0.25 for class 25 of ASTM C920.
    Raises OutOfRange for a negative movement or tolerance, or no capability. Source: form of ASTM C1472.
    """
    not_negative("length", movement=movement, construction_tolerance=construction_tolerance)
    positive("ratio", capability=capability)
    return movement / capability + construction_tolerance


def joint_spacing(usable_width: Metres, capability: Ratio, strain: Ratio) -> Metres:
    """Spacing in metres that a joint serves: usable width times capability over the strain of what moves.

    Raises OutOfRange for an input that is not above zero. Source: form of BIA Technical Notes 18A.
    """
    positive("length", usable_width=usable_width)
    positive("ratio", capability=capability, strain=strain)
    return usable_width * capability / strain


def widened_joint(
    width: Metres, range_of_temperature: Kelvins, base_range: Kelvins, step_range: Kelvins, step_width: Metres
) -> Metres:
    """Joint width in metres for a temperature range: the base width, plus a step for each step of range
    begun.

    Raises OutOfRange for no width, no step or a negative range. Source: form of handbook method EJ171 (1/16
    in for each 15 F above 100 F).
    """
    positive("length", width=width)
    positive("temperature difference", base_range=base_range, step_range=step_range)
    not_negative("temperature difference", range_of_temperature=range_of_temperature)
    not_negative("length", step_width=step_width)
    return width + max(0, whole_up((range_of_temperature - base_range) / step_range)) * step_width


def joint_lines(length: Metres, spacing_limit: Metres) -> Count:
    """Lines of joint needed across a length: bays rounded up, less one. The perimeter comes besides.

    Raises OutOfRange for no length or no limit. Source: arithmetic.
    """
    return _bays(length, spacing_limit) - 1


def joint_positions(length: Metres, spacing_limit: Metres) -> tuple[Metres, ...]:
    """Where the lines stand, in metres from one end, in even bays none longer than the limit.

    Raises OutOfRange for no length, no limit, or more than ten thousand bays. Source: arithmetic.
    """
    bays = _bays(length, spacing_limit)
    if bays > _MOST_BAYS:
        raise OutOfRange(f"{bays} bays of {spacing_limit:g} m in {length:g} m; at most {_MOST_BAYS} are laid out")
    return tuple(length * line / bays for line in range(1, bays))


def sealant_volume(length: Metres, width: Metres, depth: Metres, loss: Ratio) -> CubicMetres:
    """Sealant in cubic metres: length times width times depth, with the loss as a share added.

    Raises OutOfRange for no length, width or depth, or a negative loss. Source: arithmetic.
    """
    positive("length", length=length, width=width, depth=depth)
    not_negative("ratio", loss=loss)
    return length * width * depth * (1 + loss)


def _bays(length: float, spacing_limit: float) -> int:
    positive("length", length=length, spacing_limit=spacing_limit)
    return max(1, whole_up(length / spacing_limit))
