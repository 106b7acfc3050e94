"""Plans for tests, read and taken off in-process."""

from __future__ import annotations

from fractions import Fraction

from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.review.kit import Kit
from speclint.works.layout import SurfaceLayout, layouts_of
from speclint.works.lines import Line, Takeoff
from speclint.works.reading import Reader
from speclint.works.takeoff import takeoff
from tests.plan.reading import plan_of

INCH, FOOT = 0.0254, 0.3048
IN = Fraction(127, 5000)


def job(*lines: str, room: str = "bath", floor: str = "") -> str:
    """A plan with one room and one assembly of walls."""
    body = "".join(f"  {line}\n" for line in lines)
    head = "" if floor == "more" else 'plan "Mill Lane"\n'
    return f'{head}room "{room}"\n  exposure wet\nassembly "walls" in "{room}"\n{body}'


def taken(text: str, kit: Kit) -> Takeoff:
    """The takeoff of a text."""
    return takeoff([plan_of(text, kit)], kit.catalogue)


def line_of(found: Takeoff, item: str, said: str = "", place: str = "") -> Line:
    """The one line of an item."""
    lines = [one for one in found.lines if one.item == item and said in one.specification and place in one.place]
    assert len(lines) == 1, [(one.item, one.specification) for one in found.lines]
    return lines[0]


def laid(text: str, kit: Kit) -> tuple[SurfaceLayout, ...]:
    """The layouts of a text."""
    plan = plan_of(text, kit)
    root: Subject = build_subjects(plan, kit.catalogue)
    return layouts_of(Reader(kit.catalogue, plan.root), root)
