"""Every row of check_values.yaml: published and hand-worked values against the computations."""

import math
import random
import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml

from speclint.calc import (
    bed,
    condensation,
    courses,
    cure,
    deflection,
    flood,
    grout,
    joints,
    joists,
    layout,
    lift_test,
    mass,
    mortar,
    movement,
    order,
    outline,
    pan,
    stack,
    trowel,
    vapour,
    warming,
)

HERE = Path(__file__).parent
TABLES = HERE.parents[1] / "shared" / "tables"
ROWS = yaml.safe_load((HERE / "check_values.yaml").read_text(encoding="utf-8"))

UNITS = pint.UnitRegistry()
UNITS.define("psf = pound_force / foot ** 2")
UNITS.define("perm = grain / hour / foot ** 2 / inHg")

WMO = vapour.Saturation(611.2, 17.62, 243.12, -45, 60)
ISO = vapour.Saturation(610.5, 17.269, 237.3, 0, 60)
WATER, AIR = 1000.0, 2e-10
INCH, FOOT = 0.0254, 0.3048
DRESSED = {"2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}

Given = dict[str, Any]


def quantity(text: Any) -> Any:
    """`0.25 in` as a quantity; plain numbers and words as they are."""
    if not isinstance(text, str) or not text.lstrip("-")[:1].isdigit() or " " not in text:
        return text
    number, unit = text.split(" ", 1)
    return UNITS.Quantity(float(number), unit)


def si(value: Any) -> Any:
    """A quantity as a plain number in the unit that `speclint.calc` speaks."""
    if not isinstance(value, pint.Quantity):
        return value
    if value.units in (UNITS.degC, UNITS.degF):
        return value.to("degC").magnitude
    if value.units == UNITS.degree:
        return value.magnitude
    return value.to_base_units().magnitude


def table(given: Given) -> dict[str, Any]:
    """What the tables of `shared/tables` say, by the names that the row asks for."""
    file = yaml.safe_load((TABLES / f"{given['table']}.yaml").read_text(encoding="utf-8"))

    def read(cell: Given, entry: Given) -> Any:
        unit = re.sub(r"(?<=[a-z])(?=\d)", "**", entry["unit"].split(",")[0])
        return si(UNITS.Quantity(float(Fraction(cell["value"])), "" if unit == "1" else unit))

    if "background" in given:
        entry = file["background-capacity"]
        return {"limit": next(read(row, entry) for row in entry["rows"] if row["background"] == given["background"])}
    if "spacing" in given:
        entry, feet = file["movement-width"], round(given["spacing"] / FOOT)
        return {"joint-width": next(read(row, entry) for row in entry["rows"] if row["spacing"] == feet)}
    return {name: read(entry, entry) for name, entry in file.items() if "value" in entry}


def _bed(g: Given, angle: float | None = None) -> float:
    return trowel.bed_from_notch(
        g.get("shape", "square"), g["notch-width"], g["notch-depth"], g["land"], angle or g["blade-angle"]
    )


def bag_coverage(g: Given) -> Given:
    upright, low = (mortar.bag_coverage(g["bag-yield"], _bed(g, angle), 0) for angle in (90, 45))
    middle = {0.25 * INCH: 90, 0.375 * INCH: 70}[g["notch-depth"]] if g["notch-width"] < 0.01 else 45
    return {
        "theory-area-90deg": upright,
        "theory-area-45deg": low,
        "share-of-published-middle": low / (middle * FOOT**2),
    }


def bed_needed(g: Given) -> Given:
    bow, gap, least = g["tile-warpage"], g["substrate-gap-in-24in"], g["minimum-bed"]
    needed = trowel.bed_needed(least, bow, gap, 2 / 3)
    half = INCH / 2
    return {
        "maximum-gap": trowel.reach_needed(least, bow, gap) - least,
        "mean-bed-needed": needed,
        "equal-land-ridge-height": trowel.notch_depth_for("square", half, half, 90, needed),
        "equal-land-notch-depth-at-45deg": trowel.notch_depth_for("square", half, half, 45, needed),
    }


def grout_use(g: Given, share: Callable[[float, float, float], float]) -> Given:
    part = share(g["tile-length"], g["tile-width"], g["joint-width"])
    per = grout.grout_per_area(part, g["joint-depth"], g["powder-factor"], g.get("waste", 0))
    area = g.get("area", 96 * FOOT**2)
    total = grout.grout_mass(grout.joint_volume(part, area, g["joint-depth"]), g["powder-factor"], g.get("waste", 0))
    return {"consumption": per, "total-for-96-ft2": total, "mass": total}


def grout_factor(g: Given) -> Given:
    share = grout.joint_share_by_sides(g["tile-length"], g["tile-width"], g["joint-width"])
    return {
        "joint-volume": grout.joint_volume(share, g["area"], g["joint-depth"]),
        "powder-factor": grout.factor_from_use(g["mass"], share, g["area"], g["joint-depth"]),
    }


def side_limits(g: Given) -> Given:
    deviation = joints.tolerance(g["average-side"], g["limit-percent"], g["limit-cap"])
    side = g["average-side"]
    return {"minimum-side": side - deviation, "maximum-side": side + deviation, "deviation": deviation}


def offset_step(g: Given) -> Given:
    bow = g["bow"]
    return {
        "lippage-over-bow": joints.offset_step(bow, g.get("offset-fraction", 0)) / bow,
        "at-50-percent": joints.offset_step(bow, 1 / 2),
        "at-33-percent": joints.offset_step(bow, 1 / 3),
    }


def joist_span(g: Given) -> Given:
    depth = DRESSED[g["size"]] * INCH
    loads = (g["spacing"], g["live-load"], g["dead-load"])
    return {"span": joists.joist_span(1.5 * INCH, depth, *loads, g["E"], g["Fb"], g["CF"] * g["Cr"], 360)}


def deflection_span(g: Given) -> Given:
    load = joists.line_load(g["live-load"], g["spacing"])
    at_360, at_720 = (joists.deflection_span(load, g["E"], g["I"], divisor) for divisor in (360, 720))
    return {"span": at_720, "ratio-to-L360-span": at_720 / at_360}


def sagging(g: Given, deflected: float) -> Given:
    return {"deflection": deflected, "span-over": deflection.span_over(g["span"], deflected)}


def total_load_ratio(g: Given) -> Given:
    def ratio(pressure: float) -> float:
        load = joists.line_load(pressure, 16 * INCH)
        return sagging(g, deflection.uniform_deflection(load, g["span"], g["E"], g["I"]))["span-over"]

    return {"span-over-50": ratio(g["total-a"]), "span-over-60": ratio(g["total-b"])}


def stone_deflection(g: Given) -> Given:
    cap = 7 / 32 * INCH

    def allowed(span: float) -> float:
        return deflection.stone_deflection(span, 720, 14 * FOOT, cap)

    crossing = 13.125 * FOOT
    assert deflection.allowed_deflection(crossing, 720) == pytest.approx(cap)
    return {"L720": allowed(g["span"]), "cap": allowed(g["span"] + INCH), "crossover-span": cap * 720}


def flooding(g: Given) -> Given:
    area, density = g["length"] * g["width"], 62.43 * 16.018463
    volume = flood.level_perimeter_water(area, g["depth-at-perimeter"], g["fall"])
    return {
        "volume": volume,
        "weight": volume * density,
        "mean-load": flood.water_load(volume / area, density),
        "load-over-drain": flood.water_load(g["depth-at-perimeter"] + g["fall"], density),
    }


def evaporation(g: Given) -> Given:
    pressures = (vapour.saturation_pressure(g["water"], WMO), vapour.vapour_pressure(g["air"], g["rh"], WMO))
    still = si(UNITS.Quantity(95, "BTU/hour/ft**2/inHg"))
    speed = si(UNITS.Quantity(0.425, "BTU/hour/ft**2/inHg/(ft/min)"))
    day = 24 * 3600

    def drop(share: float) -> float:
        flow = flood.evaporation(*pressures, 0, still, speed, 2.45e6, share)
        return flood.level_drop(flow, day, WATER)

    return {"full": drop(1), "undisturbed": drop(0.74)}


def leak(g: Given) -> Given:
    rate = flood.detectable_leak(g["area"], g["drop"], g["time"])
    return {"rate": rate, "ratio-to-24h": rate / flood.detectable_leak(g["area"], g["drop"], 24 * 3600)}


def level_perimeter(g: Given) -> Given:
    place = (g["length"], g["width"], g["drain-x"], g["drain-y"])
    run, near = pan.longest_run(*place), pan.shortest_run(*place)
    drop = pan.fall(g["slope"], run)
    thick = g["thickness-at-drain"]
    return {
        "longest-run": run,
        "fall": drop,
        "perimeter-thickness": thick + drop,
        "steepest-slope": pan.steepest_slope(g["slope"], run, near),
        "bed-volume": bed.level_perimeter_bed(g["length"] * g["width"], thick, drop),
    }


def even_slope(g: Given) -> Given:
    mean = outline.mean_distance(outline.rectangle(g["length"], g["width"]), (g["drain-x"], g["drain-y"]))
    volume = bed.even_slope_bed(g["length"] * g["width"], g["thickness-at-drain"], g["slope"], mean)
    return {"mean-distance": mean, "bed-volume": volume}


def one_plane(g: Given) -> Given:
    drop = pan.fall(g["slope"], g["run"])
    return {
        "fall": drop,
        "bed-volume": bed.one_plane_bed(g["run"] * g["width"], g["thickness-at-drain"], drop),
    }


def sealant_joint(g: Given) -> Given:
    moved = movement.thermal_movement(g["bay"], g["alpha"], g["delta-T"])
    width = movement.sealant_joint(moved, g["movement-capability"], g["tolerance"])
    return {"movement": moved, "joint-width": width}


def joint_lines(g: Given) -> Given:
    across, along = (movement.joint_lines(g[side], g["limit"]) for side in ("length", "width"))
    return {
        "lines-across": across,
        "lines-along": along,
        "field-joint-length": across * g["width"] + along * g["length"],
        "perimeter": 2 * (g["length"] + g["width"]),
    }


def slip_test(g: Given) -> Given:
    per_area = g["mass"] / g["side"] ** 2
    return {"stress": stack.sag_stress(per_area, 1), "equivalent-mass": per_area}


def stacked(g: Given) -> Given:
    load = stack.stack_line_load(g["mass"], g["height"])
    return {"line-load": load, "spacer-load": stack.spacer_load(load, g["tile-width"], g["spacers"])}


def laid_out(g: Given) -> Given:
    rows = {centre: layout.centred_row(g["field"], g["tile"], g["joint"], centre) for centre in ("joint", "tile")}
    return {f"full-tiles-{centre}-on-centre": row.full for centre, row in rows.items()} | {
        f"end-cut-{centre}-on-centre": row.last for centre, row in rows.items()
    }


def module_rule(g: Given) -> Given:
    """A joint next to nothing makes module and tile alike."""
    choice = layout.better_centre(g["modules"], 1, 0)
    return {
        "choice": f"{choice}-on-centre",
        "end-cut-in-modules": layout.centred_row(g["modules"], 1, 0, choice).first,
    }


def theorem(g: Given) -> Given:
    dice = random.Random(7)
    least = math.inf
    for _ in range(g["trials"]):
        tile, joint = dice.uniform(0.02, 1.2), dice.uniform(0, 0.012)
        field = dice.uniform(tile + 2 * joint + 0.01, 12)
        rest = layout.end_rest(field, tile, joint, layout.better_centre(field, tile, joint))
        least = min(least, (rest or tile + joint) / (tile + joint))
    return {"minimum-max-cut-over-module": least}


def ordered(g: Given) -> Given:
    area = g["a"] * g["b"]
    square_feet = order.units_for_area(area, FOOT**2, 0)
    return {
        "net-rounded": square_feet * FOOT**2,
        "order": order.units_for_area(square_feet * FOOT**2, FOOT**2, g["waste"]) * FOOT**2,
    }


def cure_factor(g: Given) -> Given:
    at, reference = g["temperature"], g["reference"]
    return {
        "datum-0C": cure.maturity_multiple(at, reference, 0),
        "datum-minus10C": cure.maturity_multiple(at, reference, -10),
        "equivalent-age": cure.equivalent_age_multiple(at, reference, g["Q"]),
    }


def wait(g: Given) -> Given:
    known = (g["time"], g["from-temp"], g["to-temp"])
    return {
        "datum-0C": cure.waiting_time(*known, 0, 5),
        "datum-minus10C": cure.waiting_time(*known, -10, 5),
        "equivalent-age": g["time"] * cure.equivalent_age_multiple(g["to-temp"], g["from-temp"], 5000),
    }


def steam_drive(g: Given) -> Given:
    pressures = (
        vapour.vapour_pressure(g["hot"], g["hot-rh"], WMO),
        vapour.vapour_pressure(g["cool"], g["cool-rh"], WMO),
    )
    flow = vapour.vapour_flow(g["permeance"], *pressures)
    return {"pressure-difference": pressures[0] - pressures[1], "flow": flow, "flow-day": flow}


def steam_wall(g: Given) -> Given:
    layers = (
        condensation.Layer(0, vapour.air_layer(g["membrane"], AIR)),
        condensation.Layer(0.05, g["board-sd"]),
        condensation.Layer(g["insulation-R"], g["insulation-sd"]),
        condensation.Layer(g["sheathing-R"], g["sheathing-sd"]),
    )
    inside = condensation.Climate(g["inside"], g["inside-rh"], 0.13)
    outside = condensation.Climate(g["outside"], g["outside-rh"], 0.04)
    (plane,) = condensation.wet_planes(inside, outside, layers, AIR, WMO)
    assert plane.after_layers == 3
    return {
        "plane-temperature": plane.temperature,
        "inflow": plane.inflow,
        "outflow": plane.outflow,
        "condensation": plane.condensing,
    }


def circuit(g: Given) -> Given:
    power = warming.circuit_power(g["breaker"], 0.8, g["voltage"])
    return {
        "current": warming.heating_current(power, g["voltage"]),
        "power": power,
        "area-12": power / (12 / FOOT**2),
        "area-15": power / (15 / FOOT**2),
    }


def resistance_band(g: Given) -> Given:
    low, high = (warming.resistance_limit(g["nominal"], g[end]) for end in ("low", "high"))
    return {
        "minimum": low,
        "maximum": high,
        "power-at-minimum": warming.element_power(120, low),
        "power-at-maximum": warming.element_power(120, high),
    }


def coverage_record(g: Given) -> Given:
    readings = (g["a"], g["b"], g["c"])
    return {
        "mean": lift_test.mean_coverage(readings),
        "minimum": lift_test.least_coverage(readings),
        "lower-bound": lift_test.lower_bound(readings, 0.95),
    }


def saturation(g: Given) -> Given:
    at = g["temperature"]
    by_wmo = vapour.saturation_pressure(at, WMO)
    assert vapour.saturation_pressure(at, ISO) == pytest.approx(by_wmo, rel=0.005)
    return {"psat": by_wmo}


COMPUTE: dict[str, Callable[[Given], Given]] = {
    "table": table,
    "bed": lambda g: {"bed-thickness": _bed(g)},
    "contact": lambda g: {"contact-fraction": trowel.contact_estimate(_bed(g), g["stopped-bed-thickness"])},
    "bag yield": lambda g: dict.fromkeys(
        ("wet-volume", "wet-volume-ft3"),
        mortar.bag_yield(g["powder"], g["water"] * WATER, g["wet-density"]),
    ),
    "bag coverage": bag_coverage,
    "bed needed": bed_needed,
    "grout exact": lambda g: grout_use(g, grout.joint_share),
    "grout by sides": lambda g: grout_use(g, grout.joint_share_by_sides),
    "grout factor": grout_factor,
    "minimum joint": lambda g: {"minimum-joint": joints.minimum_joint(g["size-variation"], INCH / 16, 3)},
    "side limits": side_limits,
    "side deviation": side_limits,
    "bow limit": lambda g: {"limit": joints.tolerance(g["edge"], g["limit-percent"], g["limit-cap"])},
    "offset step": offset_step,
    "opposite step": lambda g: {"lippage-over-bow": joints.offset_step_opposite(1, g["offset-fraction"])},
    "lippage allowance": lambda g: {
        "allowed": joints.lippage_allowance(g["joint"], g["bow"], INCH / 16, INCH / 4, INCH / 32, INCH / 16)
    },
    "joist span": joist_span,
    "deflection span": deflection_span,
    "uniform deflection": lambda g: sagging(
        g, deflection.uniform_deflection(g["line-load"], g["span"], g["E"], g["I"])
    ),
    "total load ratio": total_load_ratio,
    "point deflection": lambda g: sagging(g, deflection.point_deflection(g["load"], g["span"], g["E"], g["I"])),
    "allowed deflection": lambda g: {"deflection": deflection.allowed_deflection(g["span"], g["limit"])},
    "stone deflection": stone_deflection,
    "clear span": lambda g: {"clear-span": joists.clear_span(g["table-span"], g["bearing-each-end"])},
    "panel point": lambda g: sagging(g, deflection.panel_point_deflection(g["load"], g["span"], g["EI-per-ft"], FOOT)),
    "water load": lambda g: {"load": flood.water_load(g["depth"], g["unit-weight"])},
    "flood": flooding,
    "depth for load": lambda g: {"depth": flood.depth_for_load(g["live-load"], WATER)},
    "evaporation": evaporation,
    "detectable leak": leak,
    "level perimeter": level_perimeter,
    "even slope": even_slope,
    "one plane": one_plane,
    "fall": lambda g: {
        "fall-rounded-run": pan.fall(g["slope"], math.ceil(g["run"] / FOOT) * FOOT),
        "fall-exact": pan.fall(g["slope"], g["run"]),
    },
    "curb": lambda g: {"curb-above-floor": pan.curb_above_floor(g["curb-above-drain"], g["slope"], g["run"])},
    "slope": lambda g: {f"{end}-percent": pan.slope_over(g[end], 1) for end in ("a", "b")},
    "joint spacing": lambda g: {
        "usable-movement": g["joint"] * g["movement-capability"],
        "spacing": movement.joint_spacing(
            g["joint"], g["movement-capability"], g["moisture-strain"] + g["thermal-strain"]
        ),
    },
    "thermal movement": lambda g: {"expansion": movement.thermal_movement(g["length"], g["alpha"], g["delta-T"])},
    "sealant joint": sealant_joint,
    "joint lines": joint_lines,
    "widened joint": lambda g: {
        "joint-width": movement.widened_joint(INCH / 2, g["delta-T"], 100 / 1.8, 15 / 1.8, INCH / 16)
    },
    "moisture movement": lambda g: {"movement": movement.moisture_movement(g["length"], g["strain"])},
    "published mass": lambda g: {"mass": mass.layer_mass(g["thickness"], 2000)},
    "layer mass": lambda g: {"mass": mass.layer_mass(g["thickness"], g["density"])},
    "solid bed": lambda g: {"trigger": mass.solid_bed_from(g["capacity"], g["fraction"])},
    "load": lambda g: {"load": mass.dead_load(mass.layer_mass(g["thickness"], g["density"]))},
    "slip test": slip_test,
    "sag": lambda g: {"stress": stack.sag_stress(g["mass"], g["contact"])},
    "stack": stacked,
    "spacer": lambda g: {
        name: stack.spacer_shortening(g["load"], g["height"], g["area"], g[f"E-{name}"]) for name in ("soft", "hard")
    },
    "layout": laid_out,
    "module rule": module_rule,
    "theorem": theorem,
    "order": ordered,
    "joint gain": lambda g: {"gain": courses.gained_by_joints(g["increase"], g["joints"])},
    "cure factor": cure_factor,
    "doubling": lambda g: {"time-multiple": cure.maturity_multiple(20 - g["drop"], 20, 0)},
    "wait": wait,
    "saturation": saturation,
    "dew point": lambda g: {"dew-point": vapour.dew_point(g["temperature"], g["rh"], WMO)},
    "perm": lambda g: {"permeance": vapour.permeance_in_series((g["perm"],))},
    "steam drive": steam_drive,
    "air layer": lambda g: {"sd": vapour.air_layer(g["permeance"], g["delta0"])},
    "series": lambda g: {"total": vapour.permeance_in_series((g["a"], g["b"], g["c"]))},
    "steam wall": steam_wall,
    "power density": lambda g: {"density": warming.power_density(g["current"] * g["voltage"], g["area"])},
    "circuit": circuit,
    "resistance band": resistance_band,
    "wrong voltage": lambda g: {
        "low": warming.power_multiple(120, 240),
        "high": warming.power_multiple(240, 120),
    },
    "coverage record": coverage_record,
    "reliability": lambda g: {"reliability": lift_test.reliability_shown(g["n"], g["confidence"])},
    "passes": lambda g: {f"n-for-{share}": lift_test.passes_needed(share / 100, g["confidence"]) for share in (90, 95)},
    "dot grid": lambda g: {f"se-{dots}": lift_test.dot_grid_error(g["coverage"], dots) for dots in (100, 400)},
    "void": lambda g: {f"void-{share}": lift_test.void_allowed(g["tile"] ** 2, share / 100) for share in (95, 80)},
}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["check"])
def test_check_value(row: Given) -> None:
    given = {name: si(quantity(text)) for name, text in row["given"].items()}
    made = COMPUTE[row["of"]](given)
    for name, text in row["gives"].items():
        expected = quantity(text)
        if isinstance(expected, str):
            assert made[name] == expected, name
            continue
        value = made[name]
        if isinstance(expected, pint.Quantity):
            if expected.units == UNITS.degC:
                expected = expected.magnitude
            else:
                base = UNITS.Quantity(1, expected.units).to_base_units().units
                value = UNITS.Quantity(value, base).to(expected.units).magnitude
                expected = expected.magnitude
        within = row["within"].get("abs")
        within = abs(expected) * row["within"]["rel"] if within is None else within
        assert abs(value - expected) <= within + 1e-9, (name, value, expected)


def test_rows_are_whole() -> None:
    assert len(ROWS) >= 122
    assert len({row["check"] for row in ROWS}) == len(ROWS)
    used = {row["of"] for row in ROWS}
    assert used == set(COMPUTE)
    for row in ROWS:
        assert row["basis"] in {"looked-up", "memory", "derived", "common practice"}, row["check"]
        assert row["source"], row["check"]
        assert "://" not in row["source"], row["check"]
