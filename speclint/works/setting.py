"""Tile, joint and pattern of a section as exact figures for laying out."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.kernel.values import Absent
from speclint.works.reading import Reach, Reader, flag, words

NOMINAL = "nominal size: measure five tiles before you trust these cuts"
_STRAIGHT = frozenset({"stacked"})
_TURNED = frozenset({"diagonal", "herringbone", "chevron", "basketweave", "hexagon field", "modular", "random offset"})
_REPEAT = 6
"""Rows after which an offset that people name comes round: halves, thirds, quarters, fifths, sixths."""
_NEAR = Fraction(1, 100)
"""33 % and a third are the same offset."""


class Setting(NamedTuple):
    """Metres: ``along`` the courses and ``high``, the joint between tiles, the open joint at the ends of a face."""

    along: Fraction
    high: Fraction
    joint: Fraction
    gap: Fraction
    offset: Fraction
    repeat: int
    pattern: str
    nominal: bool
    gap_from_joint: bool
    joint_tolerance: Fraction | None
    least_joint: Fraction
    least_share: Fraction


def setting_of(reader: Reader, section: Subject, missing: list[str]) -> Setting | None:
    """The setting of a section; None where something is not told, which is then named."""
    first, second = _figure(reader, section, "tile.a", missing), _figure(reader, section, "tile.b", missing)
    joint = _figure(reader, section, "joint.width", missing)
    shape = words(section, "tile.shape") & {"hexagon", "penny round", "shaped tile"}
    if shape:
        missing.append(f"a tile with four sides: a {min(shape)} is not laid out by courses")
    patterns = words(section, "pattern.kind")
    turned = patterns & _TURNED
    if turned:
        missing.append(f"straight courses: {min(turned)} is not laid out here")
    offset = _offset(reader, section, patterns, missing)
    if first is None or second is None or joint is None or offset is None or shape or turned:
        return None
    if joint > min(first, second):
        missing.append("a true joint: it is wider than the tile, measure both again")
        return None
    return _setting(reader, section, (first, second, joint, offset))


def _setting(reader: Reader, section: Subject, told: tuple[Fraction, Fraction, Fraction, Fraction]) -> Setting:
    first, second, joint, offset = told
    gap = reader.reach(section, "change-of-plane.width")
    tolerance, least = reader.reach(section, "joint.tolerance"), reader.reach(section, "joint.least")
    share = reader.reach(section, "pattern.least-cut") or reader.table("layout.smallest-cut")
    return Setting(
        along=max(first, second),
        high=min(first, second),
        joint=joint,
        gap=gap.low if gap is not None else joint,
        offset=offset,
        repeat=offset.denominator,
        pattern=reader.said(section, "pattern"),
        nominal=reader.reach(section, "tile.chip-a") is None and reader.reach(section, "tile.actual-a") is None,
        gap_from_joint=gap is None,
        joint_tolerance=tolerance.low if tolerance is not None else None,
        least_joint=(least or reader.table("joints.joint-least")).low,
        least_share=share.low,
    )


def _figure(reader: Reader, section: Subject, fact: str, missing: list[str]) -> Fraction | None:
    told: Reach | None = reader.reach(section, fact)
    means = "size of one tile" if fact.startswith("tile.") else reader.means(fact)
    if told is None or not told.exact:
        if means not in missing:
            missing.append(means + ("" if told is None else " as one figure"))
        return None
    if told.low < 0 or (told.low == 0 and fact != "joint.width"):
        missing.append(f"a true figure: {means} is {'nothing' if told.low == 0 else 'below nothing'}")
        return None
    return told.low


def _offset(reader: Reader, section: Subject, patterns: frozenset[str], missing: list[str]) -> Fraction | None:
    """The offset as a share of the module; sheets are set in straight courses."""
    told = reader.reach(section, "pattern.offset")
    if told is not None and told.exact and 0 <= told.low <= 1:
        near = told.low.limit_denominator(_REPEAT)
        return (near if abs(near - told.low) <= _NEAR else told.low.limit_denominator(2 * _REPEAT)) % 1
    sheets = flag(section, "tile.mosaic") is True or reader.reach(section, "tile.chip-a") is not None
    if patterns & _STRAIGHT or (sheets and not patterns) or isinstance(section.get("pattern.kind"), Absent):
        return Fraction(0)
    missing.append(reader.means("pattern.kind") if not patterns else reader.means("pattern.stated-offset"))
    return None
