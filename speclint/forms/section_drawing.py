"""The drawings of a cut: layers, notch, joint, change of plane, falls, curbs, movement joints and trims."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from speclint.forms.drawing import Drawing, id_of
from speclint.forms.section_bed import joint_picture, notch_picture
from speclint.forms.section_curb import curb_picture
from speclint.forms.section_edges import corner_picture, soft_picture, trim_picture
from speclint.forms.section_layers import layers_picture
from speclint.forms.section_pan import pan_picture
from speclint.forms.sheet import Picture, sheet
from speclint.works.section_pins import WHOLE, Pin
from speclint.works.section_values import Cut


def section_drawings(cut: Cut, pins: Sequence[Pin], system: str, plan: str = "") -> tuple[Drawing, ...]:
    """Every drawing of one cut, each finding pinned once, where its part is shown first; ``plan`` is named."""
    names = tuple(one for one in (plan, *cut.address) if one)
    left = list(pins)
    found: list[Drawing] = []
    for key, name, picture in _pictures(cut, system):
        shown = {WHOLE, *(note.part for note in picture.notes)}
        here = [pin for pin in left if pin.part in shown]
        left = [pin for pin in left if pin.part not in shown]
        found.append(sheet(id_of((*names, key)), f"{' / '.join(names)}: {name}", picture, here, system))
    return tuple(found)


def pictures_of(cut: Cut, system: str) -> tuple[tuple[str, Picture], ...]:
    """Every picture of a cut with what it is named, in the order in which the drawings stand."""
    return tuple((name, picture) for _, name, picture in _pictures(cut, system))


def _pictures(cut: Cut, system: str) -> Iterator[tuple[str, str, Picture]]:
    yield "layers", "layers", layers_picture(cut, system)
    for key, name, picture in (
        ("falls", "falls to the drain", pan_picture(cut, system)),
        ("notch", "notch, ridges and bed", notch_picture(cut, system)),
        ("joint", "joint", joint_picture(cut, system)),
        ("corner", "change of plane", corner_picture(cut, system)),
    ):
        if picture is not None:
            yield key, name, picture
    for curb in cut.curbs:
        yield f"curb {curb.name}", "curb", curb_picture(curb, system)
    for soft in cut.soft:
        yield soft.id, "movement joint", soft_picture(cut, soft, system)
    for trim in cut.trims:
        yield trim.id, "trim", trim_picture(cut, trim, system)
