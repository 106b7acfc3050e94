"""True by the book and false on site: what a checklist would stop and a master would not. Nothing here stops the work.

Each case changes a line or two of a shipped sound plan; the clause or habit that a checklist would lean on stands beside it.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from speclint.files.plans import plan_of_bytes
from speclint.review.report import Report
from speclint.review.run import Options, review
from tests.rules.shipped import shipped_kit

SOUND = Path(__file__).resolve().parents[2] / "specs_examples" / "sound"
HALL, STEAM, PANELS = "hall-shower-with-liquid-membrane", "steam-shower-at-home", "panel-walls-in-a-hotel"
ROLL_IN, HANDED_OVER, TUB = "roll-in-shower-accessible", "mud-pan-handed-over", "tub-walls-with-poly"
PAN_48 = "surface          floor, 48 in x 36 in"
RUN_48 = "level perimeter, farthest run 30 in, nearest run 18 in"


class Case(NamedTuple):
    """A sound plan told otherwise: what must be said as a remark, what must be asked, and what must stay silent."""

    shows: str
    plan: str
    changes: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()
    stage: str = ""


OFFSET = ("offset-over-a-third",)
GROUT = ("sanded-grout-in-a-narrow-joint", "unsanded-grout-in-a-wide-joint")
CASES = (
    # ANSI A108.02, 4.3.8.2: 33 percent; a third is what the setter lays
    Case("a third in per cent with decimals", HALL, (("running bond 33%", "running bond 33.33%"),), silent=OFFSET),
    Case("a third as a fraction", HALL, (("running bond 33%", "running bond 1/3"),), silent=OFFSET),
    Case("a third as a length", HALL, (("running bond 33%", "running bond, 8 in"),), silent=OFFSET),
    # TCNA technical answers: the change is at 1/8 in, and at 1/8 in both are sold
    Case("sanded grout at an eighth", TUB, (("A118.6, unsanded", "A118.6, sanded"),), silent=GROUT),
    Case("grout without sand at an eighth", TUB, (), silent=GROUT),
    Case(
        "a one-part grout at a width that its bag names",
        HALL,
        (
            ("joint            3/16 in, hard spacers", "joint            1/8 in, hard spacers"),
            ("size range 0.030 in, bow 0.020 in", "size range 0.020 in, bow 0.010 in"),
            (
                "grout            A118.7, sanded",
                "grout            A118.7, sanded, smallest joint 1/16 in, largest joint 1/2 in",
            ),
        ),
        silent=GROUT,
    ),
    # IRC P2709.1 gives 1/2 in per ft at most; a level edge round a centre drain is steeper at the near wall by geometry
    Case(
        "a pan of 60 by 32 with a level edge",
        HALL,
        (
            (PAN_48, "surface          floor, 60 in x 32 in"),
            (RUN_48, "level perimeter, farthest run 34 in, nearest run 16 in"),
        ),
        remarks=("level-edge-steep-at-the-near-wall",),
        silent=("shower-floor-too-steep",),
    ),
    Case(
        "a pan of 60 by 30 with a level edge",
        HALL,
        (
            (PAN_48, "surface          floor, 60 in x 30 in"),
            (RUN_48, "level perimeter, farthest run 33-1/2 in, nearest run 15 in"),
        ),
        remarks=("level-edge-steep-at-the-near-wall",),
        silent=("shower-floor-too-steep",),
    ),
    # ASTM D5957 and habit: water dries away, an eighth in a day is told apart only beside a second pan
    Case(
        "an eighth lost in a day without a pan beside it",
        HALL,
        (("  drop             1/16 in\n  control pan      1/16 in\n", "  drop             1/8 in\n"),),
        asks=("water-lost-beyond-the-control-pan",),
        silent=("water-lost-beyond-the-control-pan", "water-fell-more-than-dries-away", "flood-test-failed"),
    ),
    # EN 12004 proves the letter T with 20 kg/m2; heavier tile hangs every day, on a ledger
    Case(
        "wall tile beyond the weight of the sag test",
        HALL,
        (
            ("mortar           A118.15 H T", "mortar           A118.15 H T"),
            ("thick 3/8 in, rectified", "thick 1/2 in, rectified"),
        ),
        remarks=("wall-tile-heavier-than-the-sag-test",),
    ),
    # no source gives a height of wall tile for a day
    Case("eight feet of wall in a day", HALL, (("lift             6 ft per day", "lift             8 ft per day"),)),
    # soft pegs yield under large tile; small tile stands on them
    Case("soft spacers under small tile", TUB, (("joint            1/8 in", "joint            1/8 in, soft spacers"),)),
    # contact and readings are found on the job, not in the design
    Case("contact not spoken of in the design", TUB, (), silent=("no-tiles-lifted",), stage="design"),
    Case(
        "readings not spoken of in the design",
        "bathroom-floor-with-warm-cable",
        (),
        silent=("too-few-cable-readings",),
        stage="design",
    ),
    # TCNA Handbook SR613 and SR614 draw it either way: the designer decides
    Case(
        "a retarder behind the membrane of a steam room",
        STEAM,
        (
            (
                "  substrate        cement board 1/2 in, 1/4 in above bed\n",
                "  retarder         poly 6 mil\n  substrate        cement board 1/2 in, 1/4 in above bed\n",
            ),
        ),
        asks=("two-barriers-in-a-steam-room",),
        silent=("two-barriers-on-one-wall",),
    ),
    # hollow sound alone proves nothing: the tile is lifted
    Case(
        "hollow sound alone",
        HANDED_OVER,
        (
            (
                'record "soft joints"',
                'record "tapped" for "walls"\n  kind             sounding\n  seen             hollow, 5%\n  on               2026-03-25\n\nrecord "soft joints"',
            ),
        ),
    ),
)


def told(case: Case) -> Report:
    text = (SOUND / f"{case.plan}.wetspec").read_text(encoding="utf-8")
    for old, new in case.changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    kit = shipped_kit()
    return review(plan_of_bytes(text.encode(), "plan.wetspec", kit), kit, Options(case.stage, "2026-06-01"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.shows)
def test_what_the_book_would_stop_goes_on(case: Case) -> None:
    report = told(case)
    assert [str(problem) for problem in report.unread] == []
    assert [(one.rule, one.message) for one in report.findings if one.weight != "remark"] == []
    remarks = [one.rule for one in report.findings]
    assert [rule for rule in case.remarks if remarks.count(rule) != 1] == []
    assert set(case.silent) & set(remarks) == set()
    assert set(case.asks) - {rule for question in report.questions for rule in question.frees} == set()


def test_an_accessible_floor_that_is_steeper_is_a_remark_that_asks_how_it_is_measured() -> None:
    """ADA 305.2 allows 1:48, from memory; 1:40 as drawn may read 1:48 by the length of the level."""
    report = told(Case("", ROLL_IN, (("1:50, to drain", "1:40, to drain"),)))
    found = [one for one in report.findings if one.rule == "accessible-floor-steeper-than-allowed"]
    assert (
        [one.weight for one in found] == ["remark"] and "1:48" in found[0].message and "measured?" in found[0].message
    )
    assert [one.rule for one in report.findings if one.weight != "remark"] == []
