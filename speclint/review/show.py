"""Value sets as people read them: as written, else in the plan's own units to what can be measured."""

from __future__ import annotations

from fractions import Fraction

from speclint.facts.catalogue import Catalogue, Fact
from speclint.facts.subject import Subject
from speclint.kernel.quantity import Unit, Units, figure, from_base, nearest
from speclint.kernel.values import (
    ASSUMED,
    STATED,
    Absent,
    Among,
    Between,
    Cases,
    Known,
    Members,
    Number,
    Unknown,
    ValueSet,
)

INCH, METRIC = "inch", "metric"
METRIC_ENDS = ("mm", "cm", " m", "metres", "meters")
BARE = ("ratio", "count")  # dimensions of which a figure alone is whole
FINEST = 6  # doublings or decimals beyond the resolution before two figures may print alike


def system_of(root: Subject) -> str:
    """The system of units that a plan is written in: that of its first length with a unit of its own."""
    waiting = [root]
    while waiting:
        subject = waiting.pop(0)
        for fact, value in subject.own.items():
            entry = root.catalogue.facts.get(fact)
            text = value.text.rstrip().casefold()
            if entry is not None and entry.detail == "length" and isinstance(value, Known) and text[-1:].isalpha():
                return METRIC if text.endswith(METRIC_ENDS) else INCH
        for items in subject.collections.values():
            waiting.extend(items)
    return INCH


def show(value: ValueSet, fact: Fact | None, catalogue: Catalogue, system: str, finer: int = 0) -> str:
    """A value set in words; ``finer`` adds digits so that two figures differ."""
    if isinstance(value, Cases):
        joiner = " and " if value.together else " or "
        shown = [show(member, fact, catalogue, system, finer) for member in value.members]
        return value.text or joiner.join(dict.fromkeys(shown))
    if isinstance(value, Unknown):
        return f'"{value.text}"' if value.text and value.told else "not stated"
    if isinstance(value, Absent):
        return "none"
    if isinstance(value, Members):
        return value.text or (" ".join(sorted(value.has)) or "none")
    if isinstance(value, Among):
        return value.text or " or ".join(sorted(value.members))
    if isinstance(value, Between):
        return value.text if value.text and not finer else _range(value, fact, catalogue, system, finer)
    said = value.text and not finer and value.origin in (STATED, "demanded", "measured", ASSUMED)
    if said and not _lacks_unit(value.text, fact):
        return value.text.strip('"')
    if isinstance(value.value, bool):
        return "yes" if value.value else "no"
    if isinstance(value.value, str):
        return value.value
    return number(value.value, fact, catalogue, system, finer)


def _lacks_unit(text: str, fact: Fact | None) -> bool:
    """Whether words are a figure alone whose unit stands further on in the line, as the first of ``12 x 24 in``."""
    bare = text[-1:].isnumeric() and not any(map(str.isalpha, text))
    return bare and fact is not None and fact.sort == "quantity" and fact.detail not in BARE


def number(value: Number, fact: Fact | None, catalogue: Catalogue, system: str, finer: int = 0) -> str:
    """A figure with its unit; ``about`` stands before one that is rounded."""
    if fact is not None and fact.detail == "time" and not finer:
        return duration(value)
    unit = unit_for(fact, catalogue, system, value)
    if unit is None:
        return str(value)
    step = (fact.metric_step if system == METRIC else fact.step) if fact else None
    exact = from_base(value, unit)
    shown = from_base(nearest(value, step), unit) if step and not unit.offset and finer == 0 else exact
    places = max(_places(step, unit), finer + 1 if finer else 0)
    text = figure(shown, unit, places if not unit.fractions else 1 + finer)
    about = "" if _says(text, exact, unit) else "about "
    return f"{about}{text}{unit_text(unit.name)}"


def in_units_of(system: str, text: str, value: ValueSet, units: Units) -> str:
    """`` (about 381 mm)`` after a figure written in units of the other system, else nothing."""
    written = units.unit(text.partition(" ")[2])
    if written is None or written.system in ("", system) or not isinstance(value, Known):
        return ""
    unit = next((one for one in units.dimensions[written.dimension].units if one.system == system), None)
    if unit is None or isinstance(value.value, str):
        return ""
    exact = from_base(value.value, unit)
    told = figure(exact, unit, 1 if exact < 100 else 0)
    return f" ({'' if _says(told, exact, unit) else 'about '}{told}{unit_text(unit.name)})"


def duration(seconds: Number) -> str:
    """A time as people say it: days from three days on, else hours and minutes."""
    minutes = int(nearest(Fraction(seconds) / 60, 1))
    days, rest = divmod(minutes, 1440)
    if days >= 3:
        hours = rest // 60
        return f"{days} days" + (f" {hours} h" if hours else "")
    hours, minutes = divmod(minutes, 60)
    told = [f"{hours} h"] if hours else []
    if minutes or not hours:
        told.append(f"{minutes} min")
    return " ".join(told)


def _says(text: str, exact: Fraction, unit: Unit) -> bool:
    whole, _, part = text.partition("-") if not text.startswith("-") and "/" in text else (text, "", "")
    return Fraction(whole) + (Fraction(part) if part else 0) == exact


def unit_text(name: str) -> str:
    """A unit as it follows its figure."""
    return name if name in ("%", "") else f" {name}"


def unit_for(fact: Fact | None, catalogue: Catalogue, system: str, value: Number) -> Unit | None:
    """The unit in which a fact is read in a system: that of its resolution, else the first of its dimension there."""
    if fact is None or fact.sort != "quantity":
        return None
    name = fact.metric_unit if system == METRIC and fact.metric_unit else fact.step_unit
    wanted = catalogue.words.units.unit(name) if name else None
    dimension = catalogue.words.units.dimensions.get(fact.detail)
    if dimension is None or (wanted is not None and wanted.system in ("", system)):
        return wanted
    fitting = [unit for unit in dimension.units if unit.system in ("", system)]
    return fitting[0] if fitting else (wanted or dimension.units[0])


def _places(step: Number | None, unit: Unit) -> int:
    if step is None:
        return 2
    size = Fraction(step) / unit.size
    places = 0
    while places < 4 and size * 10**places < 1:
        places += 1
    return places


def _range(value: Between, fact: Fact | None, catalogue: Catalogue, system: str, finer: int) -> str:
    low = None if value.low is None else number(value.low, fact, catalogue, system, finer)
    high = None if value.high is None else number(value.high, fact, catalogue, system, finer)
    if low is None or high is None:
        return f"at most {high}" if low is None and high is not None else f"at least {low}"
    return low if low == high else f"{low} to {high}"
