"""Bonding mortar, grout and sealer: what goes under, between and on the tile."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from speclint.calc import grout as grouting
from speclint.calc import mortar as mixing
from speclint.calc.trowel import bed_from_notch
from speclint.facts.subject import Subject
from speclint.works.batches import Batch, line
from speclint.works.lines import Input, Line, Pack
from speclint.works.reading import Reach, Reader, flag, hull, tried, word, words


def mortar_line(reader: Reader, batch: Batch) -> Line:
    """Mortar of one class and one notch: bags from a blade held low to one held high."""
    missing: list[str] = []
    because: list[str] = []
    inputs = [*((Input("area", batch.area, "area"),) if batch.area else ())]
    bed = _bed(reader, batch.section, inputs, because, missing)
    loss = reader.table("mortar.mortar-loss")
    volume = packs = None
    if bed is not None and batch.area is not None:
        inputs += [Input("bed", bed, "thin"), Input("loss", loss, "ratio")]
        volume = tried(missing, mixing.mortar_volume, area=batch.area, bed=bed, loss=loss)
    if volume is not None:
        packs = _mortar_bags(reader, batch.section, volume, inputs, because, missing)
    return line(
        batch,
        "mortar",
        net=volume,
        dimension="volume",
        packs=packs,
        inputs=inputs,
        formula="area times bed, loss added, over what one bag yields",
        because=because,
        missing=missing,
    )


def _bed(reader: Reader, section: Subject, inputs: list[Input], because: list[str], missing: list[str]) -> Reach | None:
    """The bed as written, or as the notch leaves it, with the coat on the backs."""
    bed = reader.reach(section, "bed.stated")
    if bed is None:
        names = ("trowel.width", "trowel.depth", "trowel.land", "trowel.blade-angle")
        figures = {name: reader.reach(section, name) for name in names}
        shapes = words(section, "trowel.shape")
        missing.extend(reader.means(name) for name, told in figures.items() if told is None)
        missing.extend(() if shapes else (reader.means("trowel.shape"),))
        width, depth, land, angle = figures.values()
        if width is None or depth is None or land is None or angle is None or not shapes:
            return None
        inputs += [Input("notch wide", width, "size"), Input("notch deep", depth, "size"), Input("land", land, "size")]
        inputs.append(Input("blade angle", angle, "angle"))
        because.extend(() if angle.exact else ("the blade is held lower or higher",))
        beds = [
            tried(
                missing, bed_from_notch, shape=shape, notch_width=width, notch_depth=depth, land=land, blade_angle=angle
            )
            for shape in sorted(shapes)
        ]
        bed = hull(one for one in beds if one is not None)
    return _buttered(reader, section, bed, inputs, because) if bed is not None else None


def _buttered(reader: Reader, section: Subject, bed: Reach, inputs: list[Input], because: list[str]) -> Reach:
    buttered = flag(section, "trowel.back-butter")
    if buttered is False or reader.reach(section, "bed.stated") is not None:
        return bed
    coat = reader.reach(section, "trowel.skim")
    if coat is None:
        coat = reader.between("trowel.back-butter-skim-least", "trowel.back-butter-skim-most")
        because.extend(("the coat on the backs is thinner or thicker",) if buttered else ())
    if buttered is None:
        because.append("whether the backs get a coat is not told: none to a full coat")
        coat = Reach(Fraction(0), coat.high)
    inputs.append(Input("coat on the backs", coat, "thin"))
    return bed.plus(coat)


def _mortar_bags(
    reader: Reader, section: Subject, volume: Reach, inputs: list[Input], because: list[str], missing: list[str]
) -> Pack | None:
    if flag(section, "mortar.cementitious") is False:
        missing.append("what one unit of this adhesive yields (label)")
        return None
    told = reader.reach(section, "mortar-bag.powder")
    usual = reader.table("mortar.bag-powder")
    powder = told or usual
    water = reader.table("mortar.bag-water").times(reader.table("mortar.water-density")).times(powder.over(usual))
    density = reader.between("mortar.wet-density-least", "mortar.wet-density-most")
    each = tried(missing, mixing.bag_yield, powder=powder, water=water, wet_density=density)
    if each is None:
        return None
    inputs += [Input("powder in one bag", powder, "mass"), Input("one bag yields", each, "volume")]
    because.append("mixed mortar is denser or lighter")
    return Pack("bag", reader.said(section, "mortar bag") or "50 lb, taken as usual", volume.over(each))


def grout_line(reader: Reader, batch: Batch) -> Line:
    """Grout of one class between one tile."""
    missing: list[str] = []
    because: list[str] = []
    inputs = [*((Input("area", batch.area, "area"),) if batch.area else ())]
    share = joint_share(reader, batch.section, inputs, missing)
    depth = _grout_depth(reader, batch.section, inputs, because, missing)
    factor = _factor(reader, batch.section, because)
    loss = reader.table("grout.grout-loss")
    mass = None
    if share is not None and depth is not None and batch.area is not None and factor is not None:
        inputs += [Input("grout for each litre of joint", factor, "density"), Input("loss", loss, "ratio")]
        volume = tried(missing, grouting.joint_volume, share=share, area=batch.area, depth=depth)
        if volume is not None:
            mass = tried(missing, grouting.grout_mass, volume=volume, factor=factor, loss=loss)
    bag = reader.reach(batch.section, "grout-bag.powder") or reader.table("takeoff.grout-bag")
    holds = reader.said(batch.section, "grout bag") or "25 lb, taken as usual"
    return line(
        batch,
        "grout",
        net=mass,
        dimension="mass",
        packs=Pack("bag", holds, mass.over(bag)) if mass is not None and bag.low > 0 else None,
        inputs=inputs,
        formula="share of joint times area times depth times grout for each litre, loss added",
        because=because,
        missing=missing,
    )


def joint_share(reader: Reader, section: Subject, inputs: list[Input], missing: list[str]) -> Reach | None:
    """The share of the face that is joint."""
    names = {"tile_length": "tile.a", "tile_width": "tile.b", "joint": "joint.width"}
    told = {name: reader.reach(section, fact) for name, fact in names.items()}
    missing.extend(dict.fromkeys(reader.means(names[name]) for name, figure in told.items() if figure is None))
    known = {name: figure for name, figure in told.items() if figure is not None}
    if len(known) < len(names):
        return None
    inputs += [Input(name.replace("_", " "), figure, "size") for name, figure in known.items()]
    share = tried(missing, grouting.joint_share, **known)
    if share is not None:
        inputs.append(Input("share of joint", share, "ratio"))
    return share


def _grout_depth(
    reader: Reader, section: Subject, inputs: list[Input], because: list[str], missing: list[str]
) -> Reach | None:
    depth = reader.reach(section, "grout.depth")
    if depth is None:
        thick = reader.reach(section, "tile.thick")
        if thick is None:
            missing.append(reader.means("tile.thick"))
            return None
        depth = Reach(thick.low * reader.table("grout.grout-depth-share").low, thick.high)
        because.append("mortar may stand in a third of the joint")
    inputs.append(Input("depth of grout", depth, "size"))
    return depth


def _factor(reader: Reader, section: Subject, because: list[str]) -> Reach | None:
    cement = reader.between("grout.grout-factor-cement-least", "grout.grout-factor-cement-most")
    epoxy = reader.between("grout.grout-factor-epoxy-least", "grout.grout-factor-epoxy-most")
    because.append("grouts differ in density")
    if flag(section, "grout.cementitious") is True:
        return cement
    if flag(section, "grout.epoxy") is True or flag(section, "grout.resin") is True:
        return epoxy
    because.append(f"not told: {reader.means('grout.class')}; cement or epoxy")
    return hull((cement, epoxy))


def sealer_lines(reader: Reader, batch: Batch) -> Iterator[Line]:
    """Sealer where the plan tells one: on the face, or on the joints alone."""
    if not word(batch.section, "sealer.kind"):
        return
    missing: list[str] = []
    inputs: list[Input] = [*((Input("area", batch.area, "area"),) if batch.area else ())]
    on = words(batch.section, "sealer.on")
    share = joint_share(reader, batch.section, inputs, missing) if on == {"grout"} else Reach(Fraction(1), Fraction(1))
    film = reader.between("takeoff.sealer-film-least", "takeoff.sealer-film-most")
    inputs.append(Input("sealer taken up, as a film", film, "thin"))
    volume = batch.area.times(share).times(film) if batch.area is not None and share is not None else None
    yield line(
        batch._replace(specification=reader.said(batch.section, "sealer") or batch.specification),
        "sealer",
        net=volume,
        dimension="volume",
        packs=Pack("bottle", "1 qt", volume.over(reader.table("takeoff.sealer-bottle"))) if volume else None,
        inputs=inputs,
        formula="sealed area times what it takes up, one coat",
        because=("dense and open faces take up less or more",),
        missing=missing,
    )
