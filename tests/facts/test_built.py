"""From lines to facts: what takes the place of what, what may still be meant, and what was measured."""

from __future__ import annotations

from fractions import Fraction

import pytest

from speclint.kernel.values import DEMANDED, MEASURED, TAKEN, Absent, Between, Known, Unknown
from speclint.review.kit import Kit
from tests.plan.reading import HEAD, subject_of

FIELD = (
    HEAD
    + "tile porcelain, 12 x 24 in, thick 3/8 in\nspacers hard\njoint 3/16 in, tolerance 1/32 in\nmortar A118.15 H T\n"
)
BAND = 'part "band" of "walls"\nkind band\n'
RECORD = 'record "flood test" for "bath"\n'


def test_a_line_of_a_part_takes_the_whole_place_of_that_line_of_its_assembly(kit: Kit) -> None:
    band = subject_of(FIELD + BAND + "tile glass, 1 x 1 in\njoint 1/16 in\n", kit, "part")
    assert isinstance(band.get("tile.thick"), Unknown)
    assert isinstance(band.get("joint.tolerance"), (Unknown, Absent))
    said = [band.get(fact) for fact in ("mortar.class", "joint.spacers")]  # told by other lines of the assembly
    assert [one.text for one in said] == ["A118.15", "hard"]
    assert [root[1] for root in band.roots("tile.piece-mass")] == ["tile.thick"]


def test_a_part_that_says_nothing_of_it_has_what_its_assembly_has(kit: Kit) -> None:
    band = subject_of(FIELD + BAND, kit, "part")
    assert (band.get("tile.thick").text, band.get("joint.tolerance").text) == ("3/8 in", "1/32 in")


def test_a_layer_that_does_not_say_what_it_is_for_may_be_any(kit: Kit) -> None:
    walls = subject_of("layer polyethylene 6 mil\nmembrane liquid A118.10\n", kit)
    assert isinstance(walls.get("retarder.material"), Unknown)
    assert [(root[0].kind, root[1]) for root in walls.roots("retarder.material")] == [("layer", "layer.role")]
    told = subject_of("layer substrate, cement board\n", kit).get("retarder.material")
    assert (type(told), told.origin) == (Absent, TAKEN)


def test_what_the_words_of_a_layer_would_tell_is_asked_by_its_material(kit: Kit) -> None:
    walls = subject_of("membrane liquid A118.10\n", kit)
    assert [root[1] for root in walls.roots("substrate.family")] == ["substrate.material"]


@pytest.mark.parametrize(
    ("said", "share"), [("1/3", 33), ("33%", 33), ("33.4 %", 33), ("33.5 %", 34), ("34%", 34), ("50%", 50)]
)
def test_a_share_is_compared_to_its_step(said: str, share: int, kit: Kit) -> None:
    offset = subject_of(f"pattern running bond {said}\n", kit).get("pattern.offset")
    assert isinstance(offset, Known)
    assert (offset.value, offset.text) == (Fraction(share, 100), said)


def test_a_fall_is_no_share_and_stays_exact(kit: Kit) -> None:
    assert subject_of("slope 2%\n", kit).get("slope.fall").value == Fraction(1, 50)  # type: ignore[union-attr]


def test_a_bound_in_a_record_was_measured(kit: Kit) -> None:
    read = subject_of(HEAD + RECORD + "depth over 2 in\nfrom 2026-04-02 16:00\n", kit, "record").get("record.depth")
    assert isinstance(read, Between)
    assert (read.low_open, read.origin) == (True, MEASURED)


def test_a_record_of_nothing_but_bounds_orders_a_test(kit: Kit) -> None:
    ordered = subject_of(HEAD + RECORD + "depth at least 2 in\nlasted at least 24 h\nbefore tile\n", kit, "record")
    assert (ordered.get("record.depth").origin, ordered.get("record.lasted").origin) == (DEMANDED, DEMANDED)
