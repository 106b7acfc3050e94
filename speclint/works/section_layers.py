"""The layers of an assembly in order, from what carries it to the tile, each with its true thickness."""

from __future__ import annotations

from collections.abc import Iterator

from speclint.facts.subject import Subject
from speclint.works.reading import Reach, Reader, flag, word
from speclint.works.section_lines import Told
from speclint.works.section_values import Stratum

FRAMING, MORTAR, TILE = "framing", "mortar", "tile"
AT_DRAIN = "at the drain"
_THICK = (
    ("layer.thick", "as written"),
    ("layer.thick-at-drain", AT_DRAIN),
    ("layer.dry-film", "dry film"),
    ("layer.wet-film", "wet film"),
)
_MORE: dict[str, tuple[str, ...]] = {  # keys that tell more of a layer of this role
    "liner": ("liner seams", "slope of liner"),
    "substrate": ("seams of board", "fasteners"),
    "membrane": ("membrane height", "membrane ends", "flashing leg"),
}
_FAMILY = (("framing.concrete", "slab"), ("framing.steel-stud", "steel"), ("framing.wood", "wood"))
_SLOPES = ("pre-slope", "mortar bed")


def strata_of(reader: Reader, told: Told, assembly: Subject, rise: Reach | None) -> tuple[Stratum, ...]:
    """The layers of an assembly from the structure outward; ``rise`` is that of its floor to the edge, in metres."""
    layers = assembly.members("layers") or ()
    found = [_framing(reader, told, assembly)]
    found += [_layer(reader, told, one, at, rise) for at, one in enumerate(layers, 1)]
    bed = reader.reach(assembly, "bed.thickness")
    how = "as written" if reader.reach(assembly, "bed.stated") is not None else "left by the notch"
    found.append(
        _plain(MORTAR, reader.said(assembly, "mortar"), "mortar", bed, how, told.of(assembly, "mortar", "setting"))
    )
    lines = told.of(assembly, "tile", "wet slip", "edges", "cut edges", "pattern", "finish height", "cutting")
    thick = reader.reach(assembly, "tile.thick")
    found.append(_plain(TILE, reader.said(assembly, "tile"), "tile", thick, "as written", lines))
    return tuple(found)


def _plain(
    role: str, said: str, family: str, thick: Reach | None, how: str, lines: tuple[tuple[str, int], ...]
) -> Stratum:
    return Stratum(role, role, said, family, thick, how, None, None, False, False, lines)


def _framing(reader: Reader, told: Told, assembly: Subject) -> Stratum:
    kind = word(assembly, "framing.kind")
    family = {"masonry": "masonry", "slab on ground": "ground slab", "steel joists": "steel"}.get(kind, "")
    family = family or next((name for fact, name in _FAMILY if flag(assembly, fact) is True), "")
    if not family and ("wood" in kind or kind in ("furring", "rafters")):
        family = "wood"
    depth = reader.reach(assembly, "framing.depth")
    thick = depth if depth is not None and depth.exact else None
    lines = told.of(assembly, "framing", "deflection", "blocking", "recess", "insulation")
    found = _plain(FRAMING, reader.said(assembly, "framing"), family, thick, "by its size", lines)
    return found._replace(existing=flag(assembly, "framing.existing") is True)


def _layer(reader: Reader, told: Told, layer: Subject, at: int, rise: Reach | None) -> Stratum:
    role = word(layer, "layer.role")
    thick, how = next(_thickness(reader, layer), (None, ""))
    drain, wall = reader.reach(layer, "layer.thick-at-drain"), reader.reach(layer, "layer.thick-at-wall")
    if drain is None and role == "pre-slope":
        drain = reader.reach(layer, "layer.thick")
    if wall is None and drain is not None and rise is not None and role in _SLOPES:
        wall = drain.plus(rise)
    return Stratum(
        id=f"layer-{at}",
        role=role or "layer",
        said=reader.line_of(layer),
        family=word(layer, "layer.family"),
        thick=thick,
        how=how,
        at_drain=drain,
        at_wall=wall,
        holds_water=flag(layer, "layer.role-holds-water") is True,
        existing=flag(layer, "layer.existing") is True,
        lines=told.item(layer, *_MORE.get(role, ())),
    )


def _thickness(reader: Reader, layer: Subject) -> Iterator[tuple[Reach, str]]:
    for fact, how in _THICK:
        figure = reader.reach(layer, fact)
        if figure is not None:
            yield figure, how
