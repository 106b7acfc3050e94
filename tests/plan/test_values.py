"""How values are said: figures, bounds, choices, openness, words of degree. Lengths by definition: 1 in is 25.4 mm exactly."""

from __future__ import annotations

from fractions import Fraction

import pytest

from speclint.kernel.values import Absent, Among, Between, Cases, Known, Members, Unknown
from speclint.review.kit import Kit
from tests.plan.reading import problems_of, subject_of

INCH = 254_000_000  # 0.1 nm, by definition of the inch


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("3/16 in", Fraction(3, 16)),
        ('3/16"', Fraction(3, 16)),
        ("1-1/2 in", Fraction(3, 2)),
        ("1 1/2 inches", Fraction(3, 2)),
        ("1½ in", Fraction(3, 2)),
        ("0.125 in", Fraction(1, 8)),
        ("5 ft 6 in", Fraction(66)),
        ("5'-6\"", Fraction(66)),
        ("25.4 mm", Fraction(1)),
        ("2.54 cm", Fraction(1)),
    ],
)
def test_a_length_is_exact_however_it_is_written(said: str, inches: Fraction, kit: Kit) -> None:
    value = subject_of(f"joint {said}", kit).get("joint.width")
    assert isinstance(value, Known) and value.value == inches * INCH


@pytest.mark.parametrize(
    ("said", "ratio"), [("1/4 in per ft", Fraction(1, 48)), ("1:48", Fraction(1, 48)), ("2 %", Fraction(1, 50))]
)
def test_a_fall_is_one_dimension_in_all_its_ways(said: str, ratio: Fraction, kit: Kit) -> None:
    value = subject_of(f"slope {said}", kit).get("slope.fall")
    assert isinstance(value, Known) and value.value == ratio


def test_the_unit_is_carried_left(kit: Kit) -> None:
    subject = subject_of("tile porcelain, 12 x 24 in", kit)
    assert subject.get("tile.nominal-a") == subject.get("tile.short-side")
    assert isinstance(short := subject.get("tile.short-side"), Known) and short.value == 12 * INCH
    assert isinstance(long := subject.get("tile.long-side"), Known) and long.value == 24 * INCH


def test_bounds_leave_an_end_open_and_keep_their_number(kit: Kit) -> None:
    least = subject_of("joint at least 3/16 in", kit).get("joint.width")
    assert least == Between(3 * INCH // 16, None, text="at least 3/16 in", span=least.span, number=3 * INCH // 16)
    under = subject_of("joint under 3/16 in", kit).get("joint.width")
    assert isinstance(under, Between) and under.high_open and under.number is None
    about = subject_of("joint about 1/4 in", kit).get("joint.width")
    assert isinstance(about, Between) and (about.low, about.high) == (0, INCH // 2) and about.origin == "assumed"
    both = subject_of("joint 1/8 in to 3/16 in", kit).get("joint.width")
    assert isinstance(both, Between) and (both.low, both.high) == (INCH // 8, 3 * INCH // 16)


def test_a_choice_and_a_plurality_keep_their_members_together(kit: Kit) -> None:
    choice = subject_of("mortar A118.4 or A118.15", kit).get("mortar.class")
    assert isinstance(choice, Cases) and not choice.together
    assert [one.value for one in choice.members if isinstance(one, Known)] == ["A118.4", "A118.15"]
    three = subject_of("grout A118.6, A118.7 or A118.3", kit).get("grout.class")
    assert isinstance(three, Cases) and len(three.members) == 3


def test_letters_may_be_joined_or_apart_and_those_not_printed_are_unknown(kit: Kit) -> None:
    for said in ("A118.15 H T E", "A118.15HTE", "A118.15 HTE", "A118.15 E T H"):
        letters = subject_of(f"mortar {said}", kit).get("mortar.letters")
        assert isinstance(letters, Members) and letters.has == {"H", "T", "E"} and not letters.closed
    denied = subject_of("mortar A118.15 H, no T", kit).get("mortar.letters")
    assert isinstance(denied, Members) and denied.lacks == {"T"}


def test_a_list_that_is_whole_denies_what_it_leaves_out(kit: Kit) -> None:
    room = subject_of('plan "p"\nroom "bath"\n exposure wet, exterior', kit, "room")
    exposure = room.get("room.exposure")
    assert isinstance(exposure, Members) and exposure.has == {"wet", "exterior"} and exposure.closed


@pytest.mark.parametrize(
    ("said", "origin", "told"),
    [("not stated", "unknown", False), ("by others", "by others", False), ("by maker", "demanded", True)],
)
def test_openness_is_told_from_silence(said: str, origin: str, told: bool, kit: Kit) -> None:
    value = subject_of(f"mortar {said}", kit).get("mortar.class")
    assert isinstance(value, Unknown) and (value.origin, value.told) == (origin, told)
    assert isinstance(subject_of("sealer none", kit).get("sealer.kind"), Absent)
    assert isinstance(subject_of("mortar by section 09 30 00", kit).get("mortar.class"), Unknown)


def test_or_equal_admits_more_and_a_family_its_members(kit: Kit) -> None:
    equal = subject_of("mortar A118.15 or equal", kit).get("mortar.class")
    assert isinstance(equal, Among) and equal.beyond
    family = subject_of("mortar thinset", kit).get("mortar.class")
    assert isinstance(family, Among) and "A118.1" in family.members


def test_a_word_of_degree_is_kept_and_its_figure_asked(kit: Kit) -> None:
    value = subject_of("joint as narrow as possible", kit).get("joint.width")
    assert isinstance(value, Unknown) and value.told and value.text == "as narrow as possible"


def test_who_does_it_stands_at_the_end(kit: Kit) -> None:
    assert isinstance(subject_of("grout A118.7 by setter", kit).get("grout.class"), Known)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("joint 1/8", "4:7: 1/8 has no unit: write, for example, 1/8 in"),
        ("tile porcelain, 3/8 in thick, 9 mm thick", '4:31: "tile" tells this twice; keep one'),
        ("trowle square", '4:1: "trowle square" is no key of assembly; nearest: "trowel"'),
        ("mortar", '4:1: "mortar" needs a value'),
        ("mortar wonderful stuff", '4:8: "wonderful stuff" is not read under "mortar"'),
        ("tile porclain, 12 x 24 in", '4:6: "porclain" is not read under "tile"; nearest: "porcelain"'),
    ],
)
def test_what_is_not_read_is_told_with_its_place(line: str, told: str, kit: Kit) -> None:
    assert told in problems_of(line, kit)


def test_a_key_stands_once(kit: Kit) -> None:
    assert any("stands twice" in problem for problem in problems_of("grout A118.7\ngrout A118.3", kit))


def test_an_unreadable_line_leaves_its_facts_unknown(kit: Kit) -> None:
    from speclint.facts.build import build_subjects, walk
    from tests.plan.reading import plan_of

    root = build_subjects(plan_of("sealer 01/02/26", kit), kit.catalogue)
    walls = next(one for one in walk(root) if one.kind == "assembly")
    assert walls.get("sealer.kind").origin == "unreadable"


def test_dates_are_ranges_until_a_time_is_given(kit: Kit) -> None:
    text = 'plan "p"\nroom "bath"\nrecord "pan flood test" for "bath"\n from 2026-04-02 16:00\n to 2026-04-03'
    record = subject_of(text, kit, "record")
    assert isinstance(record.get("record.from"), Known)
    end = record.get("record.to")
    assert isinstance(end, Between) and end.high is not None and end.low is not None and end.high - end.low == 86399
    month = subject_of(text.replace("2026-04-03", "2026-02"), kit, "record").get("record.to")
    assert isinstance(month, Between) and month.high is not None and month.low is not None
    assert month.high - month.low == 28 * 86400 - 1
    assert any("of a day that exists" in one for one in problems_of(text.replace("2026-04-03", "2026-02-30"), kit))
    assert any('not read under "from"' in one for one in problems_of(text.replace("16:00", "25:00"), kit))


@pytest.mark.parametrize(
    ("line", "fact", "together", "inches"),
    [
        ("joint 1/8 or 3/16 in", "joint.width", False, (Fraction(1, 8), Fraction(3, 16))),
        ("tile porcelain, 12 x 12 and 12 x 24 in", "tile.nominal-b", True, (12, 24)),
        ("tile porcelain, mixed 12 x 12 to 12 x 24 in", "tile.nominal-b", True, (12, 24)),
    ],
)
def test_a_unit_at_the_end_belongs_to_each_of_several(
    line: str, fact: str, together: bool, inches: tuple[Fraction, ...], kit: Kit
) -> None:
    value = subject_of(line, kit).get(fact)
    assert isinstance(value, Cases) and value.together is together
    assert [one.value for one in value.members if isinstance(one, Known)] == [each * INCH for each in inches]


def test_one_product_made_of_two_is_neither_of_them(kit: Kit) -> None:
    mixed = subject_of("mortar A118.1 with A118.4", kit).get("mortar.class")
    assert isinstance(mixed, Unknown) and mixed.told and mixed.text == "A118.1 with A118.4"


def test_a_repeated_line_may_open_with_a_mark(kit: Kit) -> None:
    drain = subject_of('drain "D1", linear drain\ndrain "D2", bonding flange drain', kit, "drain", "D2")
    assert drain.address == ("bath", "walls", "D2")
    assert isinstance(kind := drain.get("drain.kind"), Known) and kind.value == "bonding flange drain"
    face = subject_of('surface "back", wall, 5 ft x 8 ft', kit, "surface")
    assert isinstance(name := face.get("surface.name"), Known) and name.value == "back"
