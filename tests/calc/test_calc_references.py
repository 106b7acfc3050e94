"""The same answers from general-purpose libraries: frames, psychrometrics, integration, plane geometry,
units.
"""

import math
import random

import anastruct
import numpy as np
import pint
import psychrolib
import pytest
from scipy import integrate, stats
from shapely import MultiPoint, Point, Polygon, box, unary_union
from shapely.affinity import translate

from speclint.calc import (
    bed,
    condensation,
    deflection,
    flood,
    grout,
    joints,
    joists,
    lift_test,
    mass,
    outline,
    pan,
    stack,
    trowel,
    vapour,
)

WMO = vapour.Saturation(611.2, 17.62, 243.12, -45, 60)
UNITS = pint.UnitRegistry()
psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize(("span", "line_load"), [(4.7, 778.0), (2.5, 1500.0)])
def test_beam_against_a_frame_solver(span: float, line_load: float) -> None:
    moment, elasticity = deflection.second_moment(0.038, 0.235), 9.65e9
    frame = anastruct.SystemElements(EI=elasticity * moment, mesh=100)
    frame.add_multiple_elements([[0, 0], [span, 0]], n=2)
    frame.add_support_hinged(1)
    frame.add_support_roll(3)
    frame.q_load(q=-line_load, element_id=[1, 2])
    frame.solve()
    found = abs(frame.get_node_displacements(2)["uy"])
    assert deflection.uniform_deflection(line_load, span, elasticity, moment) == pytest.approx(found, rel=1e-3)
    moments = [part["Mmax"] for part in frame.get_element_results()] + [
        part["Mmin"] for part in frame.get_element_results()
    ]
    largest = max(abs(value) for value in moments)
    modulus = joists.section_modulus(0.038, 0.235)
    assert joists.bending_span(line_load, largest / modulus, modulus, 1) == pytest.approx(span, rel=1e-3)


def test_point_load_against_a_frame_solver() -> None:
    span, load = 4.7, 1334.0
    moment, elasticity = deflection.second_moment(0.038, 0.235), 9.65e9
    frame = anastruct.SystemElements(EI=elasticity * moment)
    frame.add_multiple_elements([[0, 0], [span, 0]], n=2)
    frame.add_support_hinged(1)
    frame.add_support_roll(3)
    frame.point_load(2, Fy=-load)
    frame.solve()
    found = abs(frame.get_node_displacements(2)["uy"])
    assert deflection.point_deflection(load, span, elasticity, moment) == pytest.approx(found, rel=1e-3)
    strip = 0.3048
    panel = deflection.panel_point_deflection(load, span, elasticity * moment / strip, strip)
    assert panel == pytest.approx(found, rel=1e-3)


def test_three_span_panel_against_a_frame_solver() -> None:
    """The continuity factor 0.0069 of the table, mid-span of an end span; its peak lies a little nearer
    the end.
    """
    span, load, stiffness = 0.4064, 1915.0, 2800.0
    frame = anastruct.SystemElements(EI=stiffness)
    frame.add_multiple_elements([[0, 0], [3 * span, 0]], n=60)
    frame.add_support_hinged(1)
    for node in (21, 41, 61):
        frame.add_support_roll(node)
    frame.q_load(q=-load, element_id=list(range(1, 61)))
    frame.solve()
    found = max(abs(frame.get_node_displacements(node)["uy"]) for node in range(2, 21))
    assert deflection.panel_uniform_deflection(load, span, stiffness, 0.0069) == pytest.approx(found, rel=0.01)
    one_span = deflection.panel_uniform_deflection(load, span, stiffness, 5 / 384)
    assert one_span == pytest.approx(deflection.uniform_deflection(load, span, stiffness, 1.0))


@pytest.mark.parametrize("at", [5.0, 20.0, 24.0, 40.0])
@pytest.mark.parametrize("humidity", [0.3, 0.5, 0.8, 1.0])
def test_dew_point_against_psychrometrics(at: float, humidity: float) -> None:
    assert vapour.saturation_pressure(at, WMO) == pytest.approx(psychrolib.GetSatVapPres(at), rel=0.003)
    found = psychrolib.GetTDewPointFromRelHum(at, humidity)
    if found >= 0:
        assert vapour.dew_point(at, humidity, WMO) == pytest.approx(found, abs=0.1)


def _bed_depth(corners: tuple[tuple[float, float], ...], drain: tuple[float, float], spread: int) -> float:
    """Mean of ray fraction over a polygon by sampling its plan: distance over distance to the edge along
    the ray.
    """
    shape = Polygon(corners)
    left, low, right, high = shape.bounds
    total = count = 0.0
    for x in np.linspace(left, right, spread, endpoint=False) + (right - left) / spread / 2:
        for y in np.linspace(low, high, spread, endpoint=False) + (high - low) / spread / 2:
            if not shape.contains(Point(x, y)):
                continue
            away = math.hypot(x - drain[0], y - drain[1])
            far = (drain[0] + (x - drain[0]) / away * 10, drain[1] + (y - drain[1]) / away * 10)
            edge = _edge(corners, drain, far)
            total += away / edge
            count += 1
    return total / count


def _edge(corners: tuple[tuple[float, float], ...], drain: tuple[float, float], far: tuple[float, float]) -> float:
    best = math.inf
    dx, dy = far[0] - drain[0], far[1] - drain[1]
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        ex, ey = bx - ax, by - ay
        cross = dx * ey - dy * ex
        if cross == 0:
            continue
        along = ((ax - drain[0]) * ey - (ay - drain[1]) * ex) / cross
        on = ((ax - drain[0]) * dy - (ay - drain[1]) * dx) / cross
        if along > 0 and -1e-12 <= on <= 1 + 1e-12:
            best = min(best, along * math.hypot(dx, dy))
    return best


@pytest.mark.parametrize(
    ("corners", "drain"),
    [
        (((0, 0), (1.2, 0), (1.2, 0.9), (0, 0.9)), (0.2, 0.45)),
        (((0, 0), (1.5, 0), (1.5, 0.6), (0.9, 1.2), (0, 1.2)), (0.6, 0.5)),
        (((0, 0), (3, 0), (3, 1), (1, 1), (1, 3), (0, 3)), (0.5, 0.5)),
    ],
)
def test_level_perimeter_against_sampling(corners: tuple[tuple[float, float], ...], drain: tuple[float, float]) -> None:
    area, thick, fall = outline.outline_area(corners), 0.03, 0.02
    mean = thick + fall * _bed_depth(corners, drain, 60)
    assert bed.level_perimeter_bed(area, thick, fall) == pytest.approx(area * mean, rel=0.003)
    water = area * (0.05 + fall * (1 - (mean - thick) / fall))
    assert flood.level_perimeter_water(area, 0.05, fall) == pytest.approx(water, rel=0.003)


def test_pan_volumes_against_integration() -> None:
    length, width, drain, slope, thick = 1.5, 0.8, (0.25, 0.4), 1 / 48, 0.032

    def cone(y: float, x: float) -> float:
        return thick + slope * math.hypot(x - drain[0], y - drain[1])

    found = integrate.dblquad(cone, 0, length, 0, width, epsabs=1e-9)[0]
    mean = outline.mean_distance(outline.rectangle(length, width), drain)
    assert bed.even_slope_bed(length * width, thick, slope, mean) == pytest.approx(found, rel=1e-6)
    plane = integrate.quad(lambda x: width * (thick + slope * x), 0, length)[0]
    fall = pan.fall(slope, length)
    assert bed.one_plane_bed(length * width, thick, fall) == pytest.approx(plane)
    water = integrate.quad(lambda x: width * (0.05 + fall - slope * x), 0, length)[0]
    assert flood.one_plane_water(length * width, 0.05, fall) == pytest.approx(water)


@pytest.mark.parametrize("seed", range(12))
def test_outline_against_plane_geometry(seed: int) -> None:
    dice = random.Random(seed)
    hull = MultiPoint([(dice.uniform(0, 4), dice.uniform(0, 3)) for _ in range(9)]).convex_hull
    corners = tuple(hull.exterior.coords)[:-1]
    if dice.random() < 0.5:
        corners = corners[::-1]
    drain = hull.representative_point()
    place = (drain.x, drain.y)
    assert outline.outline_area(corners) == pytest.approx(hull.area)
    assert outline.nearest_side(corners, place) == pytest.approx(hull.exterior.distance(drain))
    assert outline.farthest_corner(corners, place) == pytest.approx(hull.hausdorff_distance(drain))
    found = 0.0
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        twice = abs((ax - drain.x) * (by - drain.y) - (bx - drain.x) * (ay - drain.y))
        # The radius over the triangle drain, a, b: two thirds of its area times the mean radius along the side.
        side = integrate.quad(
            lambda t, a=(ax, ay), b=(bx, by): math.hypot(
                a[0] + t * (b[0] - a[0]) - drain.x, a[1] + t * (b[1] - a[1]) - drain.y
            ),
            0,
            1,
        )[0]
        found += twice / 3 * side
    assert outline.mean_distance(corners, place) == pytest.approx(found / hull.area, rel=1e-6)


@pytest.mark.parametrize("seed", range(12))
def test_area_in_a_box_against_plane_geometry(seed: int) -> None:
    """Stars with points in and out, so that a box often holds two separate pieces of one."""
    dice = random.Random(seed)
    ring = [(math.cos(math.tau * at / 11), math.sin(math.tau * at / 11), dice.uniform(0.3, 3)) for at in range(11)]
    star = tuple((reach * x, reach * y) for x, y, reach in ring)[:: dice.choice((1, -1))]
    for _ in range(20):
        (left, foot), (across, along) = (dice.uniform(-3, 1), dice.uniform(-3, 1)), (dice.uniform(0.1, 4), 2.0)
        expected = Polygon(star).intersection(box(left, foot, left + across, foot + along)).area
        assert outline.area_in_box(star, (left, foot), across, along) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("length", "width", "joint", "shift"), [(0.3, 0.15, 0.003, 0.5), (0.0095, 0.0095, 0.0016, 0)])
def test_joint_share_against_laid_tiles(length: float, width: float, joint: float, shift: float) -> None:
    """Six courses of tile laid out as shapes, cut to a window of whole modules."""
    across, up = length + joint, width + joint
    tiles = [
        translate(box(0, 0, length, width), (column + shift * (row % 2)) * across, row * up)
        for column in range(-1, 5)
        for row in range(6)
    ]
    window = box(0.1 * across, 0, 2.1 * across, 6 * up)
    share = 1 - unary_union(tiles).intersection(window).area / window.area
    assert grout.joint_share(length, width, joint) == pytest.approx(share, rel=1e-6)
    assert grout.joint_volume(share, window.area, 0.008) == pytest.approx(share * window.area * 0.008)


@pytest.mark.parametrize("shape", ["square", "U", "V"])
def test_ridge_against_its_outline(shape: str) -> None:
    """The ridge drawn as a shape and spread over notch and land."""
    width, depth, land, angle = 0.0127, 0.016, 0.0095, 55.0
    half = width / 2
    drawn = {
        "square": box(0, 0, width, depth),
        "V": Polygon([(0, 0), (width, 0), (half, depth)]),
        "U": unary_union([box(0, 0, width, depth - half), Point(half, depth - half).buffer(half, quad_segs=256)]),
    }[shape]
    upright = drawn.intersection(box(0, 0, width, depth)).area / (width + land)
    found = trowel.bed_from_notch(shape, width, depth, land, angle)
    assert found == pytest.approx(upright * math.sin(math.radians(angle)), rel=1e-4)


@pytest.mark.parametrize("offset", [0.1, 0.25, 1 / 3, 0.5, 0.6])
def test_offset_step_against_circular_arcs(offset: float) -> None:
    """Neighbours bowed as true arcs, their height compared along every millimetre of the shared edge."""
    length, bow = 0.6, 0.00127
    radius = (length**2 / 4 + bow**2) / (2 * bow)

    def rise(x: float) -> float:
        return math.sqrt(radius**2 - (x - length / 2) ** 2) - (radius - bow)

    def neighbour(x: float) -> float:
        return rise((x - offset * length) % length)

    edge = np.linspace(0, length, 4801)[:-1]
    equal = max(abs(rise(x) - neighbour(x)) for x in edge)
    opposite = max(abs(rise(x) + neighbour(x)) for x in edge)
    assert joints.offset_step(bow, offset) == pytest.approx(equal, rel=0.002)
    assert joints.offset_step_opposite(bow, offset) == pytest.approx(opposite, rel=0.002)


def test_steam_wall_against_relaxation() -> None:
    """The vapour profile relaxed on a grid and capped at saturation, as a second method."""
    inside, outside = condensation.Climate(46.1, 1, 0.13), condensation.Climate(0, 0.8, 0.04)
    layers = (
        condensation.Layer(0, 7.0),
        condensation.Layer(0.05, 0.4),
        condensation.Layer(2.29, 0.1),
        condensation.Layer(0.085, 2.2),
    )
    temperatures = condensation.plane_temperatures(inside, outside, layers)
    depths = np.concatenate([[0.0], np.cumsum([layer.air_layer for layer in layers])])
    step = 0.1
    grid = np.arange(0, depths[-1] + step / 2, step)
    heat = np.interp(grid, depths, temperatures)
    cap = np.array([vapour.saturation_pressure(at, WMO) for at in heat])
    interior = np.round(depths / step).astype(int)
    free = np.full(len(grid), np.inf)
    free[interior] = cap[interior]
    pressure = np.linspace(cap[0], 0.8 * 611.2, len(grid))
    pressure[0] = min(cap[0], vapour.vapour_pressure(46.1, 1, WMO))
    for _ in range(20000):
        pressure[1:-1] = np.minimum((pressure[:-2] + pressure[2:]) / 2, free[1:-1])
    slope = np.diff(pressure) / step
    stays = 2e-10 * (slope[1:] - slope[:-1])
    planes = condensation.wet_planes(inside, outside, layers, 2e-10, WMO)
    assert condensation.total_condensing(planes) == pytest.approx(float(stays[stays > 1e-12].sum()), rel=0.01)
    (plane,) = planes
    assert interior[plane.after_layers] == int(np.argmax(stays)) + 1


@pytest.mark.parametrize("count", [2, 3, 4, 5, 8, 30])
@pytest.mark.parametrize("confidence", [0.9, 0.95, 0.99])
def test_lower_bound_against_statistics(count: int, confidence: float) -> None:
    dice = random.Random(count)
    record = tuple(dice.uniform(0.9, 1) for _ in range(count))
    found = stats.t.interval(2 * confidence - 1, count - 1, np.mean(record), stats.sem(record))[0]
    assert lift_test.lower_bound(record, confidence) == pytest.approx(max(0, found), rel=1e-9)


def test_dot_grid_and_runs_against_statistics() -> None:
    assert lift_test.dot_grid_error(0.95, 400) == pytest.approx(stats.binom.std(400, 0.95) / 400)
    assert lift_test.chance_all_pass(0.2, 3) == pytest.approx(stats.binom.pmf(3, 3, 0.8))
    lower = stats.beta.ppf(0.05, 3, 1)
    assert lift_test.reliability_shown(3, 0.95) == pytest.approx(lower)


def test_loads_against_units() -> None:
    """Trade units in, trade units out, through a units library."""
    density = UNITS.Quantity(62.43, "lb/ft**3").to("kg/m**3").magnitude
    load = UNITS.Quantity(flood.water_load(0.0254, density), "Pa")
    assert load.to("lbf/ft**2").magnitude == pytest.approx(62.43 / 12, rel=1e-4)
    tile = mass.layer_mass(UNITS.Quantity(3 / 8, "in").to("m").magnitude, 2400)
    pounds = UNITS.Quantity(mass.dead_load(tile), "Pa").to("lbf/ft**2").magnitude
    assert pounds == pytest.approx(UNITS.Quantity(tile, "kg/m**2").to("lb/ft**2").magnitude)
    piece = mass.piece_mass(tile, UNITS.Quantity(2, "ft**2").to("m**2").magnitude)
    assert UNITS.Quantity(piece, "kg").to("lb").magnitude == pytest.approx(2 * pounds)
    hung = UNITS.Quantity(stack.stack_line_load(tile, 8 * 0.3048), "N/m").to("lbf/ft").magnitude
    assert hung == pytest.approx(8 * pounds)
    assert mass.tiling_mass(tile, 4, 1, 10) == pytest.approx(tile + 15)
    perm = UNITS.Quantity(1, "grain/hour/ft**2/inHg").to_base_units().magnitude
    assert vapour.air_layer(perm, 2e-10) == pytest.approx(3.5, rel=0.002)
