"""Tile: by area and waste, by the cut plan, left with the owner; and the spacers and clips between."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from speclint.facts.subject import Subject
from speclint.kernel.values import Members
from speclint.works.batches import Batch, line
from speclint.works.estimate import estimated, module_of
from speclint.works.faces import Face
from speclint.works.layout import layout_of
from speclint.works.lines import Input, Line, Pack
from speclint.works.pieces import strips
from speclint.works.reading import Reach, Reader, flag, word, words
from speclint.works.setting import setting_of

BY_AREA, OR_BY_AREA = "tile, by area and waste", "or tile, by area and waste"
STRAIGHT = frozenset({"stacked", "running bond", "half offset", "third offset"})
_STRAIGHT = "least: both end cuts from one tile where they fit; most: a whole tile for every piece"
_TURNED = (
    "an estimate, since this pattern is not laid out: least by area; most: a whole tile for all that an edge crosses"
)


def tile_lines(reader: Reader, batch: Batch) -> Iterator[Line]:
    """Every line of one specification of tile in one place."""
    missing: list[str] = []
    sheet = _is_sheet(reader, batch.section)
    unit = _unit(reader, batch.section, missing)
    waste, because = _waste(reader, batch.section)
    area = batch.area
    inputs = [*batch.steps, *((Input("area", area, "area"),) if area else ()), Input("waste", waste, "ratio")]
    pieces = None
    if unit is not None:
        inputs.append(Input("one sheet" if sheet else "one tile", unit, "area"))
        pieces = area.more(waste).over(unit) if area is not None else None
    packs = _packs(reader, batch.section, pieces, area.more(waste) if area else None, sheet)
    yield line(
        batch,
        BY_AREA if sheet else OR_BY_AREA,
        net=area,
        dimension="area",
        packs=packs,
        inputs=inputs,
        formula="net area, waste added, over the area of one",
        because=because if sheet else (*because, "the same tile as by the cut plan: order the larger"),
        missing=missing,
    )
    if not sheet:
        yield _by_cut_plan(reader, batch, unit)
    yield from _for_owner(reader, batch, unit, sheet)
    yield from _spacers(reader, batch, pieces, sheet)
    yield from _clips(reader, batch, pieces, sheet)


def _is_sheet(reader: Reader, section: Subject) -> bool:
    chip = reader.reach(section, "tile.chip-a") is not None
    return chip or reader.reach(section, "tile.sheet-a") is not None or flag(section, "tile.mosaic") is True


def _unit(reader: Reader, section: Subject, missing: list[str]) -> Reach | None:
    """The area of one tile, or of one sheet of a mosaic."""
    names = ("tile.sheet-a", "tile.sheet-b") if _is_sheet(reader, section) else ("tile.a", "tile.b")
    sides = [reader.reach(section, name) for name in names]
    if sides[0] is None or sides[1] is None or sides[0].low <= 0 or sides[1].low <= 0:
        missing.append("size of one mosaic sheet" if names[0] == "tile.sheet-a" else reader.means("tile.nominal-a"))
        return None
    return sides[0].times(sides[1])


def _waste(reader: Reader, section: Subject) -> tuple[Reach, tuple[str, ...]]:
    patterns = words(section, "pattern.kind")
    straight = reader.between("layout.waste-straight-least", "layout.waste-straight-most")
    turned = reader.table("layout.waste-diagonal")
    if patterns and patterns <= STRAIGHT:
        return straight, ("waste differs with cuts and care",)
    if patterns and not patterns & STRAIGHT:
        return turned, ("waste of a turned pattern",)
    if _is_sheet(reader, section):
        return straight, ("waste differs with cuts and care",)
    return Reach(straight.low, turned.high), ("the pattern is not told, so waste is that of straight or turned tile",)


def _packs(reader: Reader, section: Subject, pieces: Reach | None, area: Reach | None, sheet: bool) -> Pack | None:
    """Cartons where the plan tells what one holds, else single tiles or sheets."""
    holds = reader.said(section, "tile carton")
    carton, carton_area = reader.reach(section, "tile-carton.pieces"), reader.reach(section, "tile-carton.area")
    if carton is not None and carton.low > 0 and pieces is not None:
        return Pack("carton", holds, pieces.over(carton))
    if carton_area is not None and carton_area.low > 0 and area is not None:
        return Pack("carton", holds, area.over(carton_area))
    return Pack("sheet" if sheet else "piece", "", pieces) if pieces is not None else None


def _by_cut_plan(reader: Reader, batch: Batch, unit: Reach | None) -> Line:
    missing: list[str] = []
    inputs: list[Input] = []
    least = most = 0
    known = False
    for face in batch.faces:
        found = _pieces(reader, face, missing)
        if found is not None:
            known = known or not face.takes
            least, most = least + found[0], most + found[1]
            inputs.append(Input(face.name, Reach(Fraction(found[0]), Fraction(found[1])), "count"))
    pieces = Reach(Fraction(max(least, 0)), Fraction(most)) if known else None
    area = pieces.times(unit) if pieces is not None and unit is not None else None
    return line(
        batch,
        "tile, by the cut plan",
        net=pieces,
        dimension="count",
        packs=_packs(reader, batch.section, pieces, area, sheet=False) if pieces is not None else None,
        inputs=inputs,
        formula="pieces of every face; no tile for breakage",
        because=(_TURNED if module_of(reader, batch.section) is not None else _STRAIGHT,),
        missing=dict.fromkeys(missing),
    )


def _pieces(reader: Reader, face: Face, missing: list[str]) -> tuple[int, int] | None:
    module = module_of(reader, face.section)
    if module is not None:
        return estimated(face, module, missing)
    if face.takes:
        setting = setting_of(reader, face.section, [])
        if face.area is None or setting is None:
            return None
        return -int(-face.area.low // (setting.along * setting.high)), 0
    if face.surface is not None:
        layout = layout_of(reader, face)
        missing.extend(layout.missing)
        if layout.counted is None:
            return None
        hidden = sum(
            any(one.optional and one.box.covers(piece.box) for one in layout.openings) for piece in layout.pieces
        )
        return max(layout.counted.least - hidden, 0), layout.counted.most
    setting = setting_of(reader, face.section, missing)
    if setting is None or face.area is None or face.width is None or face.height is None:
        return None
    if not (face.width.exact and face.height.exact):
        missing.append(f"sizes of {face.name} as one figure")
        return None
    tile = (setting.along, setting.high)
    return strips(face.width.low, face.height.low, face.many, tile, setting.joint)


def _for_owner(reader: Reader, batch: Batch, unit: Reach | None, sheet: bool) -> Iterator[Line]:
    share, told = reader.reach(batch.section, "extra-stock.share"), reader.reach(batch.section, "extra-stock.area")
    if share is None and told is None:
        return
    area = (
        told if told is not None else batch.area.times(share) if batch.area is not None and share is not None else None
    )
    pieces = area.over(unit) if area is not None and unit is not None else None
    yield line(
        batch,
        "tile left with the owner",
        net=area,
        dimension="area",
        packs=_packs(reader, batch.section, pieces, area, sheet),
        inputs=(Input("extra stock", share, "ratio"),) if share is not None else (),
        formula="net area times the share, or the area as written",
    )


def _spacers(reader: Reader, batch: Batch, pieces: Reach | None, sheet: bool) -> Iterator[Line]:
    told = batch.section.get("joint.spacers")
    if sheet or not (isinstance(told, Members) and told.has):
        return
    each = reader.between("takeoff.spacers-least", "takeoff.spacers-most")
    number = pieces.times(each) if pieces is not None else None
    width = reader.said(batch.section, "joint") or reader.said(batch.section, "spacers")
    yield line(
        batch._replace(specification=width or told.text, missing=() if number is not None else batch.missing),
        "spacers",
        net=number,
        dimension="count",
        packs=Pack("bag", "100", number.over(reader.table("takeoff.spacer-bag"))) if number is not None else None,
        inputs=(Input("spacers for each tile", each, "count"),),
        formula="tiles with waste times spacers for each",
        because=("two hold one edge, four hold every corner",),
        missing=() if number is not None else (reader.means("tile.nominal-a"),),
    )


def _clips(reader: Reader, batch: Batch, pieces: Reach | None, sheet: bool) -> Iterator[Line]:
    """Clips of a levelling system by the number of tiles."""
    kind = word(batch.section, "levelling.kind")
    if sheet or not kind:
        return
    each = reader.between("takeoff.clips-least", "takeoff.clips-most")
    number = pieces.times(each) if pieces is not None else None
    yield line(
        batch._replace(specification=reader.said(batch.section, "levelling") or kind),
        "levelling clips",
        net=number,
        dimension="count",
        packs=Pack("bag", "100", number.over(reader.table("takeoff.clip-bag"))) if number is not None else None,
        inputs=(Input("clips for each tile", each, "count"),),
        formula="tiles with waste times clips for each; wedges and caps are used again",
        because=("a tile side takes one to three, by its length; its leaflet governs",),
        missing=() if number is not None else (reader.means("tile.nominal-a"),),
    )
