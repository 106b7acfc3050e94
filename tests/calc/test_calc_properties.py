"""What must hold for every job, whatever its numbers."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

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
from speclint.kernel.faults import OutOfRange

few = settings(max_examples=60, deadline=None, database=None)
SIDE = st.floats(0.02, 1.5)
JOINT = st.floats(0, 0.012)
AREA = st.floats(0.1, 50)
THIN = st.floats(0.001, 0.05)
SHARE = st.floats(0, 1)
MORE = st.floats(1.001, 3)
ANGLE = st.floats(5, 89)
SHAPE = st.sampled_from(["square", "slanted", "U", "V"])
WMO = vapour.Saturation(611.2, 17.62, 243.12, -45, 60)
HAIR = 1e-9


@few
@given(shape=SHAPE, width=THIN, extra=THIN, land=THIN, angle=ANGLE, more=MORE)
def test_bed_grows_with_depth_and_angle(
    shape: str, width: float, extra: float, land: float, angle: float, more: float
) -> None:
    depth = width / 2 + extra
    made = trowel.bed_from_notch(shape, width, depth, land, angle)
    assert 0 < made < depth
    assert trowel.bed_from_notch(shape, width, depth * more, land, angle) > made
    assert trowel.bed_from_notch(shape, width, depth, land, min(90, angle * more)) > made
    assert trowel.bed_from_notch(shape, width, depth, land * more, angle) < made
    assert trowel.notch_depth_for(shape, width, land, angle, made) == pytest.approx(depth)


@few
@given(depth=THIN, width=THIN, angle=ANGLE)
def test_bed_by_shape(depth: float, width: float, angle: float) -> None:
    """Equal land and notch: square leaves half its depth, V a quarter; a U lies between a V and a square."""
    assume(depth > width / 2)
    square, rounded, pointed = (
        trowel.bed_from_notch(shape, width, depth, width, angle) for shape in ("square", "U", "V")
    )
    reach = trowel.ridge_reach(depth, angle)
    assert square == pytest.approx(reach / 2)
    assert pointed == pytest.approx(reach / 4)
    assert pointed < rounded < square
    assert trowel.ridge_in_joint(depth, angle, square) == pytest.approx(reach / 2)
    assert trowel.ridge_in_joint(depth, angle, 2 * reach) == 0


@few
@given(least=THIN, bow=THIN, gap=THIN, share=SHARE)
def test_volume_never_asks_for_more_than_reach(least: float, bow: float, gap: float, share: float) -> None:
    needed = trowel.bed_needed(least, bow, gap, share)
    assert least <= needed <= trowel.reach_needed(least, bow, gap) + HAIR
    assert trowel.contact_estimate(needed, needed) == 1
    assert trowel.contact_estimate(needed / 2, needed) == pytest.approx(0.5)


@few
@given(length=SIDE, more=MORE, gap=THIN)
def test_departure_of_an_arc(length: float, more: float, gap: float) -> None:
    assert trowel.departure_over(length, length, gap) == pytest.approx(gap)
    assert trowel.departure_over(length, length * more, gap) == pytest.approx(gap / more**2)
    with pytest.raises(OutOfRange, match="length"):
        trowel.departure_over(length * more, length, gap)


@few
@given(a=SIDE, b=SIDE, joint=st.floats(0.001, 0.012), area=AREA, depth=THIN, more=MORE)
def test_volumes_grow(a: float, b: float, joint: float, area: float, depth: float, more: float) -> None:
    share = grout.joint_share(a, b, joint)
    made = grout.joint_volume(share, area, depth)
    assert made > 0
    assert grout.joint_volume(share, area * more, depth) > made
    assert grout.joint_volume(share, area, depth * more) > made
    assert grout.joint_share(a, b, joint * more) > share
    assert share < grout.joint_share_by_sides(a, b, joint)
    for volume in (bed.level_perimeter_bed, bed.one_plane_bed, flood.level_perimeter_water):
        base = volume(area, depth, joint)
        assert volume(area * more, depth, joint) > base
        assert volume(area, depth * more, joint) > base
        assert volume(area, depth, joint * more) > base
    assert mortar.mortar_volume(area * more, depth, 0.1) > mortar.mortar_volume(area, depth, 0.1)
    assert mortar.mortar_volume(area, depth * more, 0.1) > mortar.mortar_volume(area, depth, 0.1)


@few
@given(area=AREA, depth=THIN, fall=THIN)
def test_bed_and_water_fill_the_box(area: float, depth: float, fall: float) -> None:
    """Bed below and water above a sloped floor fill one box between them, however the floor slopes."""
    box = area * (depth + fall + depth)
    assert bed.level_perimeter_bed(area, depth, fall) + flood.level_perimeter_water(area, depth, fall) == pytest.approx(
        box
    )
    assert bed.one_plane_bed(area, depth, fall) + flood.one_plane_water(area, depth, fall) == pytest.approx(box)


@few
@given(joint=st.floats(0.0016, 0.02), bow=THIN)
def test_lippage_allowance_steps_at_the_wide_joint(joint: float, bow: float) -> None:
    limits = (0.0015875, 0.00635, 0.00079375, 0.0015875)
    allowed = joints.lippage_allowance(joint, bow, *limits) - bow
    assert allowed == pytest.approx(limits[2] if joint < limits[1] else limits[3])
    assert joints.lippage_allowance(limits[1], bow, *limits) - bow == pytest.approx(limits[3])
    with pytest.raises(OutOfRange, match="starts at"):
        joints.lippage_allowance(0.001, bow, *limits)


@few
@given(bow=THIN, offset=SHARE)
def test_offset_steps(bow: float, offset: float) -> None:
    """Equal bows step most at a half; either way round is alike; opposite bows always step further."""
    step = joints.offset_step(bow, offset)
    assert step <= joints.offset_step(bow, 0.5) + HAIR
    assert step == pytest.approx(joints.offset_step(bow, 1 - offset), abs=1e-12)
    opposite = joints.offset_step_opposite(bow, offset)
    assert opposite == pytest.approx(joints.offset_step_opposite(bow, 1 - offset))
    assert 1.5 * bow - HAIR <= opposite <= 2 * bow + HAIR
    assert step <= opposite


@few
@given(tile=SIDE, joint=JOINT, more=st.floats(0.001, 30))
def test_larger_centred_cut_is_never_under_half_a_tile(tile: float, joint: float, more: float) -> None:
    field = tile + 2 * joint + more
    rest = layout.end_rest(field, tile, joint, layout.better_centre(field, tile, joint)) or tile + joint
    assert rest >= (tile + joint) / 2 - HAIR
    row = layout.centred_row(field, tile, joint, layout.better_centre(field, tile, joint))
    assert row.smallest_cut() >= tile / 2 - HAIR
    assert row.first == pytest.approx(row.last, abs=1e-6)


def whole_row(row: layout.Row) -> None:
    pieces = row.pieces()
    covered = sum(length for _, length in pieces) + row.joint * (len(pieces) - 1)
    assert covered + row.first_gap + row.last_gap == pytest.approx(row.field, abs=1e-8)
    assert all(0 < length <= row.tile + HAIR for _, length in pieces)
    for (start, length), (after, _) in pairwise(pieces):
        assert start + length + row.joint == pytest.approx(after)
    assert 0 <= row.first_gap <= row.joint + HAIR
    assert -HAIR <= row.last_gap <= row.joint + HAIR


@few
@given(tile=SIDE, joint=JOINT, more=st.floats(0.001, 12), offset=SHARE, share=SHARE)
def test_pieces_and_joints_sum_to_the_field(
    tile: float, joint: float, more: float, offset: float, share: float
) -> None:
    field = tile + 2 * joint + more
    for centre in ("joint", "tile"):
        whole_row(layout.centred_row(field, tile, joint, centre))
    base = layout.row_from(field, tile, joint, share * (tile + joint))
    rows = layout.offset_rows(base, offset, 4)
    assert len(rows) == 4
    for row in rows:
        whole_row(row)


@few
@given(tile=SIDE, joint=JOINT, count=st.integers(2, 40))
def test_whole_tiles_need_no_cut(tile: float, joint: float, count: int) -> None:
    field = count * tile + (count - 1) * joint
    row = layout.row_from(field, tile, joint, tile)
    assert row.smallest_cut() == pytest.approx(tile)
    assert len(row.pieces()) == count
    assert courses.far_cut(field, tile, joint) == pytest.approx(tile)
    assert courses.absorbing_joint(field, tile, count) == pytest.approx(joint, abs=1e-9)
    assert courses.wall_courses(field, tile, joint, 0.5) == row
    marks = courses.story_pole(tile, joint, count)
    assert marks[0] == pytest.approx(tile)
    assert marks[-1] == pytest.approx(field)


@few
@given(tile=SIDE, joint=JOINT, more=st.floats(0.01, 4))
def test_first_course_leaves_no_sliver(tile: float, joint: float, more: float) -> None:
    height = tile + 2 * joint + more
    row = courses.wall_courses(height, tile, joint, 0.5)
    whole_row(row)
    assert row.smallest_cut() >= tile / 2 - HAIR


def test_offset_rows_of_a_third() -> None:
    rows = layout.offset_rows(layout.row_from(2.4, 0.6, 0.003, 0.6), 1 / 3, 3)
    assert [row.first for row in rows] == pytest.approx([0.6, 0.6 + 0.201 - 0.603, 0.6 + 0.402 - 0.603])


@few
@given(
    stated=st.floats(3600, 4e5),
    days=st.lists(st.floats(6, 35), min_size=30, max_size=40),
    day=st.integers(0, 29),
    colder=st.floats(0.1, 30),
)
def test_a_colder_day_never_shortens_a_cure(stated: float, days: list[float], day: int, colder: float) -> None:
    """Ten usual days and thirty more after the record leave room for the day that is made colder."""
    step = 86400.0
    known = (*days, *([20.0] * 60))
    made = cure.time_to_cure(stated, 20, known, step, 0, 5)
    chilled = (*known[:day], known[day] - colder, *known[day + 1 :])
    assert cure.time_to_cure(stated, 20, chilled, step, 0, 5) >= made - 1e-6
    assert made >= stated - 1e-6


@few
@given(at=st.floats(6, 40), colder=st.floats(0.1, 5), stated=st.floats(3600, 4e5))
def test_waiting_and_working_times(at: float, colder: float, stated: float) -> None:
    wait = cure.waiting_time(stated, 20, at, 0, 0)
    assert wait >= stated - HAIR
    assert cure.waiting_time(stated, 20, at - colder, 0, 0) >= wait - HAIR
    work = cure.working_time(stated, 20, at, 0)
    assert work <= stated + HAIR
    assert cure.working_time(stated, 20, at + colder, 0) <= work + HAIR
    assert cure.time_to_cure(stated, 20, (at,) * 100, 86400, 0, 0) == pytest.approx(wait)
    with pytest.raises(OutOfRange, match="the work stops"):
        cure.waiting_time(stated, 20, at, 0, at + colder)


def test_a_record_too_short_or_too_cold_is_refused() -> None:
    with pytest.raises(OutOfRange, match="are earned over 3 steps"):
        cure.time_to_cure(5 * 86400, 20, (20.0, 20.0, 20.0), 86400, 0, 5)
    with pytest.raises(OutOfRange, match="0 s are earned"):
        cure.time_to_cure(86400, 20, (4.0,) * 50, 86400, 0, 5)


@few
@given(length=st.floats(0.5, 40), limit=st.floats(0.5, 10))
def test_movement_lines(length: float, limit: float) -> None:
    positions = movement.joint_positions(length, limit)
    assert len(positions) == movement.joint_lines(length, limit)
    ends = (0.0, *positions, length)
    assert all(0 < after - before <= limit * (1 + 1e-6) for before, after in pairwise(ends))
    assert len(positions) * limit < length


@few
@given(moved=st.floats(1e-5, 0.01), capability=st.floats(0.05, 1), tolerance=THIN)
def test_sealant_joint_takes_its_movement(moved: float, capability: float, tolerance: float) -> None:
    width = movement.sealant_joint(moved, capability, tolerance)
    assert (width - tolerance) * capability == pytest.approx(moved)
    assert movement.joint_spacing(width - tolerance, capability, moved / 3) == pytest.approx(3)


@few
@given(degrees=st.floats(0, 200), step=st.floats(1, 20))
def test_widened_joint_never_narrows(degrees: float, step: float) -> None:
    made = movement.widened_joint(0.0127, degrees, 55, step, 0.0015)
    assert made >= 0.0127
    assert movement.widened_joint(0.0127, degrees + step, 55, step, 0.0015) >= made
    assert degrees > 55 or made == 0.0127


@few
@given(length=st.floats(0.6, 3), width=st.floats(0.6, 3), x=SHARE, y=SHARE, radius=st.floats(0, 0.05))
def test_pan_runs(length: float, width: float, x: float, y: float, radius: float) -> None:
    place = (length, width, x * length, y * width)
    near, far = pan.shortest_run(*place), pan.longest_run(*place)
    assert near <= min(length, width) / 2 + HAIR
    assert far >= math.hypot(length, width) / 2 - HAIR
    if radius <= near:
        assert pan.longest_run(*place, radius) == pytest.approx(far - radius)
        assert pan.shortest_run(*place, radius) == pytest.approx(near - radius)
    else:
        with pytest.raises(OutOfRange, match="drain radius"):
            pan.longest_run(*place, radius)
    if near > 0.001:
        steep = pan.steepest_slope(1 / 48, far, near)
        assert steep == pytest.approx(pan.slope_over(pan.fall(1 / 48, far), near))
        assert steep > 1 / 48


@few
@given(length=st.floats(0.6, 3), width=st.floats(0.6, 3), beyond=st.floats(0.01, 2))
def test_drain_outside_the_pan_is_refused(length: float, width: float, beyond: float) -> None:
    for x, y in ((-beyond, width / 2), (length + beyond, width / 2), (length / 2, -beyond)):
        with pytest.raises(OutOfRange, match="drain is at"):
            pan.longest_run(length, width, x, y)


def test_drain_behind_a_corner_is_refused() -> None:
    ell = ((0, 0), (3, 0), (3, 1), (1, 1), (1, 3), (0, 3))
    assert outline.farthest_corner(ell, (0.5, 0.5)) == pytest.approx(math.hypot(2.5, 0.5))
    with pytest.raises(OutOfRange, match="see every side"):
        outline.farthest_corner(ell, (2.5, 0.5))
    star = ((0, 1), (0.6, -0.8), (-0.95, 0.3), (0.95, 0.3), (-0.6, -0.8))
    with pytest.raises(OutOfRange, match="see every side"):
        outline.farthest_corner(star, (0, 0))


@few
@given(load=st.floats(100, 5000), span=st.floats(1, 6), more=MORE)
def test_bending_scales(load: float, span: float, more: float) -> None:
    moment, elasticity = deflection.second_moment(0.038, 0.235), 9.65e9
    made = deflection.uniform_deflection(load, span, elasticity, moment)
    assert deflection.uniform_deflection(load, span * more, elasticity, moment) == pytest.approx(made * more**4)
    point = deflection.point_deflection(load, span, elasticity, moment)
    assert deflection.point_deflection(load, span * more, elasticity, moment) == pytest.approx(point * more**3)
    longest = joists.deflection_span(load, elasticity, moment, 360)
    at_limit = deflection.uniform_deflection(load, longest, elasticity, moment)
    assert deflection.span_over(longest, at_limit) == pytest.approx(360)


@few
@given(dead=st.floats(0, 3000), more=MORE, spacing=st.floats(0.3, 0.7))
def test_heavier_or_wider_never_spans_further(dead: float, more: float, spacing: float) -> None:
    rest = (9.65e9, 6.03e6, 1.265, 360)
    made = joists.joist_span(0.038, 0.235, spacing, 1915, dead, *rest)
    assert joists.joist_span(0.038, 0.235, spacing, 1915, dead * more, *rest) <= made + HAIR
    assert joists.joist_span(0.038, 0.235, spacing * more, 1915, dead, *rest) < made
    assert joists.joist_span(0.038, 0.235 * more, spacing, 1915, dead, *rest) > made


@few
@given(at=st.floats(-10, 45), humidity=st.floats(0.15, 1), more=st.floats(0, 0.5))
def test_dew_point_gives_back_the_vapour(at: float, humidity: float, more: float) -> None:
    point = vapour.dew_point(at, humidity, WMO)
    assert point <= at
    assert vapour.saturation_pressure(point, WMO) == pytest.approx(vapour.vapour_pressure(at, humidity, WMO))
    assert vapour.dew_point(at, min(1, humidity + more), WMO) >= point - HAIR


@few
@given(perms=st.lists(st.floats(1e-12, 1e-8), min_size=1, max_size=6))
def test_series_is_below_its_tightest_layer(perms: list[float]) -> None:
    total = vapour.permeance_in_series(tuple(perms))
    assert total <= min(perms) * (1 + 1e-12)
    layers = sum(vapour.air_layer(perm, 2e-10) for perm in perms)
    assert vapour.permeance_of_air_layer(layers, 2e-10) == pytest.approx(total)


@few
@given(tighter=st.floats(1.1, 30))
def test_a_tighter_warm_side_never_wets_more(tighter: float) -> None:
    inside, outside = condensation.Climate(46.1, 1, 0.13), condensation.Climate(0, 0.8, 0.04)

    def wet(membrane: float) -> float:
        layers = (
            condensation.Layer(0, membrane),
            condensation.Layer(2.29, 0.089),
            condensation.Layer(0.085, 2.2),
        )
        return condensation.total_condensing(condensation.wet_planes(inside, outside, layers, 2e-10, WMO))

    assert wet(7 * tighter) < wet(7)
    assert wet(1e5) == 0


def test_permeable_outside_stays_dry() -> None:
    inside, outside = condensation.Climate(23, 0.5, 0.13), condensation.Climate(0, 0.8, 0.04)
    layers = (condensation.Layer(0.05, 10), condensation.Layer(2.3, 0.1), condensation.Layer(0.05, 0.1))
    assert condensation.wet_planes(inside, outside, layers, 2e-10, WMO) == ()
    mirrored = condensation.wet_planes(outside, inside, layers[::-1], 2e-10, WMO)
    assert mirrored == ()


@few
@given(power=st.floats(10, 5000), voltage=st.sampled_from([120.0, 230.0, 240.0]), off=st.floats(-0.2, 0.2))
def test_ohm(power: float, voltage: float, off: float) -> None:
    resistance = warming.element_resistance(power, voltage)
    assert warming.element_power(voltage, resistance) == pytest.approx(power)
    assert warming.heating_current(power, voltage) * resistance == pytest.approx(voltage)
    assert warming.resistance_limit(resistance, off) == pytest.approx(resistance * (1 + off))
    assert warming.element_power(voltage / 2, resistance) == pytest.approx(
        power * warming.power_multiple(voltage / 2, voltage)
    )
    area = power / 150
    assert warming.heating_power(warming.power_density(power, area), area) == pytest.approx(power)


@few
@given(readings=st.lists(st.floats(0.5, 1), min_size=2, max_size=12))
def test_coverage_record(readings: list[float]) -> None:
    record = tuple(readings)
    mean, least = lift_test.mean_coverage(record), lift_test.least_coverage(record)
    assert least <= mean + HAIR
    assert 0 <= lift_test.lower_bound(record, 0.95) <= mean + HAIR
    assert lift_test.lower_bound(record, 0.99) <= lift_test.lower_bound(record, 0.95) + HAIR


@few
@given(lifts=st.integers(1, 200), confidence=st.floats(0.5, 0.999))
def test_passes_show_what_they_show(lifts: int, confidence: float) -> None:
    shown = lift_test.reliability_shown(lifts, confidence)
    assert lift_test.passes_needed(shown, confidence) == lifts
    assert lift_test.chance_all_pass(1 - shown, lifts) == pytest.approx(1 - confidence)


def test_three_lifts_miss_a_fifth_of_bad_tile_half_the_time() -> None:
    assert lift_test.chance_all_pass(0.2, 3) == pytest.approx(0.512)


@few
@given(area=AREA, unit=st.floats(0.01, 2), waste=st.floats(0, 0.3), box=st.integers(1, 40))
def test_order_is_enough_and_not_a_unit_more(area: float, unit: float, waste: float, box: int) -> None:
    count = order.units_for_area(area, unit, waste)
    assert (count - 1) * unit < area * (1 + waste) <= count * unit * (1 + 1e-6)
    assert box * (order.cartons(count, box) - 1) < count <= box * order.cartons(count, box)
    assert order.units_for_length(area, unit, waste) == count
    volume = mortar.mortar_volume(area, 0.004, waste)
    assert mortar.bags(volume, 0.0177) * 0.0177 >= volume * (1 - 1e-6)
    assert mortar.bag_coverage(0.0177, 0.004, waste) * 0.004 * (1 + waste) == pytest.approx(0.0177)
    assert bed.bed_bags(area / 20, 0.014, waste) * 0.014 >= area / 20 * (1 + waste) * (1 - 1e-6)
    assert grout.grout_bags(area, 11.3) * 11.3 >= area * (1 - 1e-6)


def test_small_counts() -> None:
    assert order.cuts_from_tile(0.148, 0.3, 0.003) == 2
    assert order.cuts_from_tile(0.149, 0.3, 0.003) == 1
    assert order.straight_count(7, 9) == 63
    assert stack.courses_in_lift(2.44, 0.3, 0.003) == 8
    assert stack.courses_in_lift(0.9, 0.3, 0) == 3
    assert grout.open_depth(0.009, 0.004) == pytest.approx(0.005)
    assert grout.open_depth(0.009, 0.012) == 0
    assert joints.joint_slide(0.0127, 0.003175) == pytest.approx(0.25)
    assert joints.joint_slide(0.006, 0.012) == 1
    assert joints.offset_joint(0.003175, 0.00079375) == pytest.approx(5 / 32 * 0.0254)


@few
@given(drop=THIN, control=THIN)
def test_control_pan(drop: float, control: float) -> None:
    assert flood.drop_beyond_control(drop, control) == pytest.approx(drop - control)
    assert flood.water_load(flood.depth_for_load(1915, 1000), 1000) == pytest.approx(1915)


@few
@given(load=st.floats(1, 500), area=st.floats(1e-6, 1e-4), modulus=st.floats(1e6, 2e9))
def test_spacers_and_sag(load: float, area: float, modulus: float) -> None:
    short = stack.spacer_shortening(load, 0.003, area, modulus)
    assert 0 < short <= 0.003
    assert stack.spacer_shortening(load, 0.003, area, modulus * 2) <= short
    stress = stack.sag_stress(20, 0.65)
    assert stack.sag_stress(20, 1) < stress < stack.sag_stress(30, 0.65)
    assert stack.sag_reserve(2 * stress, stress) == pytest.approx(2)
