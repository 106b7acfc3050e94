"""What lies under the tile: membranes, liners, bands, pre-slopes and beds."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from speclint.calc.bed import even_bed, level_perimeter_bed, one_plane_bed
from speclint.facts.subject import Subject
from speclint.review.show import METRIC
from speclint.works.batches import NOT_TOLD, Batch, line
from speclint.works.faces import UPRIGHT, Face
from speclint.works.lines import Input, Line, Pack
from speclint.works.reading import ZERO, Reach, Reader, flag, tried, word, words

_COVERS = ("membrane", "crack isolation", "uncoupling")
_BEDS = ("pre-slope", "mortar bed")
_SQUARE_FOOT = Fraction(145161, 1562500)


def build_lines(reader: Reader, place: str, assembly: Subject, faces: tuple[Face, ...]) -> Iterator[Line]:
    """The lines of the layers of one assembly; what was there before is not bought."""
    for layer in assembly.members("layers") or ():
        role = word(layer, "layer.role")
        if flag(layer, "layer.existing") is True:
            continue
        batch = Batch(place, assembly, reader.line_of(layer) or NOT_TOLD, faces, None, (), ())
        if role == "liner":
            yield _liner(reader, batch, layer)
        elif role in _COVERS:
            yield _cover(reader, batch, layer, role)
        elif role in _BEDS:
            yield _bed(reader, batch, layer, role)


def _cover(reader: Reader, batch: Batch, layer: Subject, role: str) -> Line:
    """A membrane or mat over the faces, as high on walls as it says."""
    missing: list[str] = []
    inputs: list[Input] = []
    area = _covered(reader, batch, layer, inputs, missing)
    formula, packs = "faces, each as high as the layer goes, laps and cuts added", None
    net, dimension = area, "area"
    if word(layer, "layer.family") == "liquid membrane":
        formula, dimension = "area times wet film of all coats, loss added", "volume"
        net = _liquid(reader, layer, area, inputs, missing)
        packs = Pack("pail", "3-1/2 gal", net.over(reader.table("takeoff.membrane-pail"))) if net else None
    elif area is not None:
        packs = _sheet(reader, area, inputs)
    if word(layer, "layer.family") == "":
        missing.append("what the layer is made of")
    return line(
        batch,
        role,
        net=net,
        dimension=dimension,
        packs=packs,
        inputs=inputs,
        formula=formula,
        because=("laps and cuts differ",) if dimension == "area" else ("liquids differ in what dries away",),
        missing=missing,
    )


def _covered(reader: Reader, batch: Batch, layer: Subject, inputs: list[Input], missing: list[str]) -> Reach | None:
    height = reader.reach(layer, "layer.top-above-floor")
    turn = reader.reach(layer, "layer.turn-up")
    total = ZERO
    for face in batch.faces:
        missing.extend(one for one in face.missing if one not in missing)
        area = face.area
        if area is None:
            continue
        if face.surface is not None and face.sort in UPRIGHT and face.width is not None and face.height is not None:
            full = reader.reach(face.surface, "surface.told-along") or face.height
            top = Reach(min(full.low, height.low), min(full.high, height.high)) if height is not None else full
            area = area.plus(face.width.times(Reach(top.low - face.height.low, top.high - face.height.high)))
        inputs.append(Input(face.name, area, "area"))
        total = total.plus(area)
        if face.sort == "floor" and turn is not None and face.width is not None and face.height is not None:
            edge = face.width.plus(face.height).scaled(2).times(turn)
            inputs.append(Input("turned up at the walls", edge, "area"))
            total = total.plus(edge)
    return total if inputs and total.high > 0 else None


def _liquid(
    reader: Reader, layer: Subject, area: Reach | None, inputs: list[Input], missing: list[str]
) -> Reach | None:
    film = reader.reach(layer, "layer.wet-film")
    if film is None:
        dry = reader.reach(layer, "layer.dry-film")
        if dry is None:
            missing.append("thickness of the film, dry or wet")
            return None
        solids = reader.between("takeoff.membrane-solids-least", "takeoff.membrane-solids-most")
        inputs += [Input("dry film", dry, "thin"), Input("part that stays", solids, "ratio")]
        film = dry.over(solids)
    loss = reader.table("takeoff.membrane-loss")
    inputs += [Input("wet film", film, "thin"), Input("loss", loss, "ratio")]
    return area.times(film).more(loss) if area is not None else None


def _sheet(reader: Reader, area: Reach, inputs: list[Input]) -> Pack:
    waste = reader.between("takeoff.sheet-waste-least", "takeoff.sheet-waste-most")
    inputs.append(Input("laps and cuts", waste, "ratio"))
    return _by_area(reader, area.more(waste))


def _by_area(reader: Reader, area: Reach) -> Pack:
    if reader.system == METRIC:
        return Pack("m2", "with laps and cuts", area)
    return Pack("sq ft", "with laps and cuts", area.scaled(1 / _SQUARE_FOOT))


def _liner(reader: Reader, batch: Batch, layer: Subject) -> Line:
    """A loose liner in one piece: the floor and what turns up on all sides."""
    missing: list[str] = []
    inputs: list[Input] = []
    turn = reader.reach(layer, "layer.turn-up")
    missing.extend(() if turn is not None else (reader.means("layer.turn-up"),))
    total = ZERO
    for face in batch.faces:
        if face.sort != "floor" or face.width is None or face.height is None or turn is None:
            missing.extend(face.missing if face.sort == "floor" else ())
            continue
        sides = [side.plus(turn.scaled(2)) for side in (face.width, face.height)]
        inputs += [Input("liner wide", sides[0], "size"), Input("liner long", sides[1], "size")]
        total = total.plus(sides[0].times(sides[1]))
    known = total.high > 0
    if not known and not missing:
        missing.append("a floor with its size")
    return line(
        batch,
        "liner",
        net=total if known else None,
        dimension="area",
        packs=_by_area(reader, total) if known else None,
        inputs=inputs,
        formula="each side of the floor with the turn-up at both ends, one piece; more where it goes over a curb",
        missing=missing,
    )


def _bed(reader: Reader, batch: Batch, layer: Subject, role: str) -> Line:
    missing: list[str] = []
    inputs: list[Input] = []
    because: list[str] = []
    floors = [face for face in batch.faces if face.surface is not None]
    volume = ZERO
    for face in floors:
        missing.extend(face.missing)
        found = _volume(reader, face, layer, role, inputs, because, missing) if face.area is not None else None
        volume = volume.plus(found) if found is not None else volume
    known = volume.high > 0
    loss, each = reader.table("mortar.mortar-loss"), reader.table("mortar.bed-bag-yield")
    inputs += [Input("loss", loss, "ratio"), Input("one bag yields", each, "volume")]
    return line(
        batch,
        role,
        net=volume if known else None,
        dimension="volume",
        packs=Pack("bag of bed mortar", "60 lb", volume.more(loss).over(each)) if known else None,
        inputs=inputs,
        formula="area times mean thickness; loss added for bags",
        because=because,
        missing=dict.fromkeys(missing),
    )


def _volume(
    reader: Reader,
    face: Face,
    layer: Subject,
    role: str,
    inputs: list[Input],
    because: list[str],
    missing: list[str],
) -> Reach | None:
    """A layer of one thickness, or one that rises from the drain."""
    assert face.area is not None
    area = face.area
    thick, drain = reader.reach(layer, "layer.thick"), reader.reach(layer, "layer.thick-at-drain")
    inputs.append(Input("area", area, "area"))
    if thick is not None and drain is None and role == "mortar bed":
        inputs.append(Input("thick", thick, "size"))
        return tried(missing, even_bed, area=area, thickness=thick)
    if drain is None:
        if role != "pre-slope":
            missing.append("thickness of the mortar bed")
            return None
        drain = thick or reader.between("takeoff.pre-slope-at-drain-least", "takeoff.pre-slope-at-drain-most")
        because.append("its thickness at the drain is not told")
    wall = reader.reach(layer, "layer.thick-at-wall")
    rise = Reach(wall.low - drain.high, wall.high - drain.low) if wall is not None else None
    rise = rise or _rise(reader, face, layer, inputs, missing)
    if rise is None:
        return None
    inputs += [Input("thick at the drain", drain, "size"), Input("rise to the farthest edge", rise, "size")]
    plane = "one plane" in words(face.section, "slope.form") or _drain_flag(face.section, "drain.linear")
    because.extend(() if plane else ("the edge of the floor is taken as level: two thirds of the rise, on the mean",))
    return tried(
        missing, one_plane_bed if plane else level_perimeter_bed, area=area, thickness_at_drain=drain, fall=rise
    )


def _rise(reader: Reader, face: Face, layer: Subject, inputs: list[Input], missing: list[str]) -> Reach | None:
    slope = reader.reach(layer, "layer.is-sloped") or reader.reach(face.section, "slope.fall")
    run = run_to_drain(reader, face.section, face)
    missing.extend(() if slope is not None else (reader.means("slope.fall"),))
    missing.extend(() if run is not None else (reader.means("slope.farthest-run"),))
    if slope is None or run is None:
        return None
    inputs += [Input("fall", slope, "slope"), Input("longest run", run, "size")]
    return slope.times(run)


def run_to_drain(reader: Reader, section: Subject, face: Face | None) -> Reach | None:
    """The longest run in metres from the drain to the edge of a floor: as told, else by its drain and its sides."""
    run = reader.reach(section, "slope.farthest-run")
    for drain in section.members("drains") or ():
        run = run or reader.reach(drain, "drain.longest-run")
    if run is not None or face is None or face.width is None or face.height is None:
        return run
    sides = face.width, face.height
    return (
        Reach(min(one.low for one in sides), max(one.high for one in sides))
        if _drain_flag(section, "drain.linear")
        else None
    )


def _drain_flag(section: Subject, fact: str) -> bool:
    return any(flag(drain, fact) is True for drain in section.members("drains") or ())
