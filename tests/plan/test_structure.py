"""Sections, parts, likeness, layers, records and addresses."""

from __future__ import annotations

import pytest

from speclint.facts.build import build_subjects, walk
from speclint.kernel.values import Absent, Known, Unknown
from speclint.language.reader import PROBLEM_LIMIT
from speclint.plan import matcher, sections
from speclint.review.kit import Kit
from tests.plan.reading import HEAD, plan_of, problems_of, subject_of

TWO = 'plan "p"\nroom "bath"\nassembly "walls" in "bath"\n mortar A118.15 T\n grout A118.7\n substrate cement board 1/2 in\n membrane liquid A118.10\n'


def roles(text: str, kit: Kit, name: str) -> list[str]:
    subject = subject_of(text, kit, "assembly", name)
    return [str(layer.get("layer.role").value) for layer in subject.members("layers") or ()]  # type: ignore[union-attr]


def test_shorthand_lines_stand_in_the_order_of_their_rank(kit: Kit) -> None:
    text = "membrane liquid A118.10\nsubstrate cement board 1/2 in\nretarder poly"
    assert roles(text, kit, "walls") == ["retarder", "substrate", "membrane"]


def test_a_role_that_is_denied_is_absent_and_one_left_out_is_asked(kit: Kit) -> None:
    assert isinstance(subject_of("membrane none\nsubstrate cement board", kit).get("membrane.material"), Absent)
    assert isinstance(subject_of("substrate cement board", kit).get("membrane.material"), Unknown)
    assert isinstance(subject_of("tile porcelain", kit).get("substrate.material"), Unknown)


def test_likeness_takes_all_but_what_is_said_anew(kit: Kit) -> None:
    text = TWO + 'assembly "floor" in "bath"\n like "walls"\n mortar A118.4\n grout none\n'
    floor = subject_of(text, kit, "assembly", "floor")
    assert isinstance(mortar := floor.get("mortar.class"), Known) and mortar.value == "A118.4"
    assert isinstance(floor.get("grout.class"), Absent)
    assert roles(text, kit, "floor") == ["substrate", "membrane"]


def test_a_child_layer_replaces_only_its_role(kit: Kit) -> None:
    text = TWO + 'assembly "floor" in "bath"\n like "walls"\n membrane bonded sheet A118.10\n'
    floor = subject_of(text, kit, "assembly", "floor")
    assert isinstance(stuff := floor.get("membrane.material"), Known) and "sheet" in str(stuff.value)
    assert isinstance(board := floor.get("substrate.material"), Known) and board.value == "cement board"


def test_a_key_alone_opens_a_whole_new_stack(kit: Kit) -> None:
    child = 'assembly "floor" in "bath"\n like "walls"\n layers\n layer subfloor, plywood 3/4 in\n'
    assert roles(TWO + child, kit, "floor") == ["subfloor"]
    niche = TWO + 'part "niche" of "walls"\n kind niche\n layers\n layer substrate, foam board\n'
    found = subject_of(niche, kit, "part").members("layers") or ()
    assert [one.get("layer.material").text for one in found] == ["foam board"]
    empty = 'assembly "floor" in "bath"\n like "walls"\n layers\n'
    assert problems_of(TWO + empty, kit) == ['10:2: "layer" needs a value, or a line of that key after it']


def test_no_layer_at_all_is_none_of_any_role(kit: Kit) -> None:
    floor = subject_of(TWO + 'assembly "floor" in "bath"\n like "walls"\n layer none\n', kit, "assembly", "floor")
    assert {type(floor.get(f"{role}.material")) for role in ("substrate", "membrane", "subfloor")} == {Absent}


def test_circles_and_unknown_likenesses_are_told(kit: Kit) -> None:
    circle = 'plan "p"\nroom "b"\nassembly "x" in "b"\n like "y"\nassembly "y" in "b"\n like "x"\n'
    assert any('circle: "x" -> "y" -> "x"' in one for one in problems_of(circle, kit))
    assert any('no assembly is named "z"' in one for one in problems_of(circle.replace('"x"\n', '"z"\n'), kit))


def test_a_part_inherits_what_it_does_not_say(kit: Kit) -> None:
    text = TWO + 'part "niche" of "walls"\n kind niche, 12 in x 24 in\n mortar A118.4\n membrane bonded sheet A118.10\n'
    niche = subject_of(text, kit, "part")
    assert isinstance(mortar := niche.get("mortar.class"), Known) and mortar.value == "A118.4"
    assert isinstance(grout := niche.get("grout.class"), Known) and grout.value == "A118.7"
    assert isinstance(board := niche.get("substrate.material"), Known) and board.value == "cement board"
    assert isinstance(wide := niche.get("surface.across"), Known) and wide.text == "12 in"
    assert niche.address == ("bath", "walls", "niche")


def test_names_are_told_apart_by_folded_case_and_the_room(kit: Kit) -> None:
    twice = TWO + 'assembly "WALLS" in "bath"\n grout A118.3\n'
    assert any("defined twice" in one for one in problems_of(twice, kit))
    rooms = 'plan "p"\nroom "a"\nroom "b"\nassembly "w" in "a"\n grout A118.3\nassembly "w" in "b"\n grout A118.7\n'
    assert problems_of(rooms, kit) == []
    assert any("write its room first" in one for one in problems_of(rooms + 'part "n" of "w"\n kind niche\n', kit))
    placed = rooms + 'part "n" of "b" / "w"\n kind niche\n'
    assert problems_of(placed, kit) == []
    assert subject_of(placed, kit, "part").address == ("b", "w", "n")


def test_unknown_sections_keep_their_lines_to_themselves(kit: Kit) -> None:
    found = problems_of(TWO + 'assembley "x" in "bath"\n grout A118.3\n', kit)
    assert any('opens no section; nearest: "assembly"' in one for one in found) and len(found) == 1
    assert any("before the first heading" in one for one in problems_of("plan" + "ck x\n", kit))
    assert any('no room is named "bed"' in one for one in problems_of(TWO.replace('in "bath"', 'in "bed"'), kit))


def test_what_was_built_stands_before_what_was_planned(kit: Kit) -> None:
    text = TWO + 'record "visit" for "walls"\n mortar A118.1\n'
    walls = subject_of(text, kit)
    assert isinstance(mortar := walls.get("mortar.class"), Known) and mortar.value == "A118.1"
    assert walls.differs["mortar.class"] == ("A118.15", "A118.1")


def test_a_record_takes_its_kind_from_its_name_and_counts_outward_and_inward(kit: Kit) -> None:
    text = TWO + 'record "pan flood test" for "walls"\n depth 2 in at threshold\n'
    root = build_subjects(plan_of(text, kit), kit.catalogue)
    for kind in ("room", "assembly"):
        subject = next(one for one in walk(root) if one.kind == kind)
        depth = subject.get("flood-test.depth")
        assert isinstance(depth, Known) and depth.text == "2 in"
    assert isinstance(root.get("lift-test.depth"), Absent)


def test_a_fragment_has_no_plan(kit: Kit) -> None:
    assert plan_of('plan "x"\n', kit).fragment is False
    from speclint.files.plans import plan_of_bytes

    assert plan_of_bytes(b'assembly "usual"\n grout A118.7\n', "f.wetspec", kit).fragment is True


@pytest.mark.parametrize("line", ["tilex{0} porcelain", "mortar A11{0}x", 'morta{0} "a"'])
def test_near_misses_are_made_only_for_what_is_told(kit: Kit, monkeypatch: pytest.MonkeyPatch, line: str) -> None:
    made: list[str] = []

    def near(text: str, names: object) -> str:
        made.append(text)
        return ""

    for module in (sections, matcher):
        monkeypatch.setattr(module, "nearest_names", near)
    text = HEAD + "".join(line.format(letters(number)) + "\n" for number in range(3 * PROBLEM_LIMIT))
    problems = plan_of(text, kit).problems
    assert len(made) <= 2 * PROBLEM_LIMIT
    assert len(problems) <= PROBLEM_LIMIT + 1


def test_a_file_may_not_have_any_number_of_sections(kit: Kit) -> None:
    text = HEAD + "".join(f'room "{number}"\n' for number in range(sections.MOST_SECTIONS))
    (problem,) = plan_of(text, kit).problems
    assert (problem.span.line, "part it into several" in problem.message) == (sections.MOST_SECTIONS + 1, True)


def letters(number: int) -> str:
    """A number as letters, as a word would have them."""
    return "".join(chr(ord("a") + int(digit)) for digit in str(number))


@pytest.mark.parametrize("said", ["irc 2021, ipc 2018", "irc 2021 and ipc 2018"])
def test_each_edition_goes_with_its_code(said: str, kit: Kit) -> None:
    root = subject_of(f'plan "p"\n answers to {said}\nroom "bath"\n', kit, "plan")
    codes = root.members("codes in force") or ()
    assert [(one.get("code.name").text, one.get("code.edition").text) for one in codes] == [
        ("irc", "2021"),
        ("ipc", "2018"),
    ]
