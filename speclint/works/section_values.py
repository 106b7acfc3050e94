"""What a cut through an assembly shows, as values: metres and exact figures, None where the plan does not tell."""

from __future__ import annotations

from typing import NamedTuple

from speclint.works.reading import Reach

Lines = tuple[tuple[str, int], ...]
"""Files and lines of the plan that tell of a thing."""


class Stratum(NamedTuple):
    """One layer of a cut, from the structure outward: its role, its line, its family, and its true thickness in metres.

    ``how`` says where the thickness comes from; ``at_drain`` and ``at_wall`` are those of a layer that makes the fall.
    """

    id: str
    role: str
    said: str
    family: str
    thick: Reach | None
    how: str
    at_drain: Reach | None
    at_wall: Reach | None
    holds_water: bool
    existing: bool
    lines: Lines


class Notch(NamedTuple):
    """The notch of the trowel in metres, the height of the ridges it combs, and the bed that they leave."""

    id: str
    said: str
    shape: str
    width: Reach | None
    depth: Reach | None
    land: Reach | None
    reach: Reach | None
    bed: Reach | None
    lines: Lines


class Joint(NamedTuple):
    """The joint between tiles in metres: its width, the ridge left standing in it, the depth that grout can fill."""

    id: str
    said: str
    grout: str
    clearing: str
    width: Reach | None
    ridge: Reach | None
    room: Reach | None
    lines: Lines


class Soft(NamedTuple):
    """A joint that is to stay soft, a change of plane or a movement joint, in metres; ``backer``: a rod is told."""

    id: str
    said: str
    fill: str
    width: Reach | None
    depth: Reach | None
    spacing: Reach | None
    backer: bool
    lines: Lines


class Pan(NamedTuple):
    """The fall of a floor to its drain, its longest and shortest run and rise in metres; ``plane``: one flat face.

    ``walled`` says that a wall of the room is told.
    """

    id: str
    said: str
    drain: str
    clamps: bool
    outlet: Reach | None
    gravel: bool
    fall: Reach | None
    run: Reach | None
    near: Reach | None
    rise: Reach | None
    plane: bool
    walled: bool
    lines: Lines
    drain_lines: Lines


class Curb(NamedTuple):
    """A curb cut across, in metres: its core, what covers its faces, its cap and the fall of its top.

    ``rough`` says that its height is that of the bare core.
    """

    id: str
    name: str
    build: str
    family: str
    high: Reach | None
    rough: bool
    deep: Reach | None
    above_drain: Reach | None
    fall: Reach | None
    cap: str
    covers: tuple[tuple[str, str], ...]
    barrier: str
    lines: Lines


class Trim(NamedTuple):
    """A piece that ends or turns the tile: its kind, its height in metres and where it goes."""

    id: str
    said: str
    kind: str
    high: Reach | None
    lines: Lines


class Cut(NamedTuple):
    """One assembly as it is cut and drawn; ``lines`` are those of its heading and of its faces."""

    address: tuple[str, ...]
    upright: bool
    strata: tuple[Stratum, ...]
    insulation: str
    notch: Notch
    joint: Joint
    corner: Soft
    pan: Pan | None
    curbs: tuple[Curb, ...]
    soft: tuple[Soft, ...]
    trims: tuple[Trim, ...]
    lines: Lines
