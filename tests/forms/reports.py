"""Reports made by hand in an invented scenario, so that forms are tested without a plan."""

from __future__ import annotations

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span, at
from speclint.packs.rule import Cite
from speclint.review.edit import Edit
from speclint.review.report import Coming, Finding, Place, Question, Report, VarianceState

FILE = "plans/larch-house.wetspec"
WALLS = ("hall shower", "shower walls", "back")
PACKS = (("practice", "1.0", "3f2a9c11d0e47b25"), ("ansi", "1.0", "b81c07aa52be9f63"))


def line(number: int, column: int = 3, width: int = 20) -> Span:
    """A place on one line of the invented plan."""
    return at(FILE, number, column, width)


def finding(**other: object) -> Finding:
    """A finding with its usual fields, some of them given."""
    usual: dict[str, object] = {
        "rule": "bed-thinner-than-the-gap",
        "pack": "practice",
        "outcome": "does not meet",
        "weight": "callback",
        "message": "square 1/4 x 1/4 x 1/4 in leaves a bed of about 3/32 in; 24 in tile on this wall needs 1/8 in.",
        "passes": "A notch that leaves 1/8 in or more, such as square 1/2 x 1/2 x 1/2 in.",
        "span": line(17, 20, 34),
        "words": "square 1/4 x 1/4 x 1/4 in",
        "places": (Place(WALLS, line(17, 20, 34)),),
        "acts": "setter",
        "settles": "three lifted tiles, photographed",
        "varied_by": ("designer",),
        "spec_part": 3,
        "cites": (
            Cite("", "", "", "derived", "high"),
            Cite("ANSI A108.5", "", "3.3.2", "looked-up", "high", "the lift test"),
        ),
        "rests_on": ("blade angle: assumed 35 to 60 degrees",),
    }
    return Finding(**{**usual, **other})  # type: ignore[arg-type]


LINER = finding(
    rule="liner-without-slope",
    pack="ansi",
    weight="tear-out",
    message="The liner lies flat; water under it has to run to the drain at 1/4 in per ft.",
    passes="A pre-slope of 1/4 in per ft under the liner.",
    span=line(9, 3, 28),
    words="liner sheet, flat",
    places=(Place(("hall shower", "pan"), line(9, 3, 28)), Place(("guest shower", "pan"), line(31, 3, 28))),
    acts="waterproofer",
    settles="level readings on the pre-slope",
    varied_by=(),
    cites=(Cite("IPC", "2021", "417.5.2", "looked-up", "high"),),
    rests_on=(),
)
NOTCH = finding(
    instead=(
        (Edit(line(17, 3, 34), "trowel square 1/2 x 1/2 x 1/2 in"),),
        (Edit(line(16, 3, 30), "tile   porcelain, 12 x 12 in"), Edit(line(5, 1, 30), "flatness 1/8 in in 10 ft", True)),
    )
)
SIDES = finding(
    rule="offset-over-a-third",
    pack="ansi",
    outcome="sources differ",
    message="A running bond of 50 % with tile 24 in long is read two ways.",
    passes="",
    span=line(19),
    words="running bond 50%",
    places=(Place(WALLS, line(19)),),
    acts="designer",
    settles="",
    cites=(Cite("ANSI A108.02", "", "4.3.8.2", "looked-up", "high"),),
    rests_on=(),
    sides=(("ANSI A108.02:2019", "does not meet"), ("ANSI A108.02:2013", "meets")),
)
REMARK = finding(
    rule="cut-thinner-than-half",
    weight="remark",
    message="The last cut at the left wall is 1-3/4 in wide.",
    passes="Centre a joint instead of a tile.",
    span=line(15),
    words="",
    settles="",
    cites=(Cite("", "", "", "common practice", "medium"),),
    rests_on=(),
    working=("60 in less 4 tiles and 5 joints leaves 3-1/2 in",),
)
LET_THROUGH = finding(
    rule="grout-of-another-class",
    message="Grout is A118.6; A118.7 is asked for here.",
    span=line(21),
    variance="designer, until 2026-12-31",
)
QUESTIONS = tuple(
    Question(
        fact=fact, text=text, answers=who, weight=weight, frees=frees, places=(Place(WALLS, line(number)),), due=due
    )
    for fact, text, who, weight, frees, number, due in (
        ("tile.thick", "How thick is the tile?", "box label", "callback", ("bed-thinner-than-the-gap", "sag"), 15, ""),
        ("framing.spacing", "How far apart are the studs?", "tape measure", "callback", ("board-bends",), 12, ""),
        ("mortar.class", "Which class is the mortar?", "bag", "callback", ("mortar-too-weak",), 16, ""),
        ("tile.bow", "How far is the tile bowed?", "box label", "remark", ("lippage-shows",), 15, ""),
        ("drain.kind", "Which drain is it?", "designer", "remark", ("weeps-choked",), 8, ""),
        ("grout.depth", "How deep is the grout?", "setter", "remark", ("grout-shallow",), 21, ""),
        ("sealant.class", "Which class is the sealant?", "designer", "remark", ("corner-hard",), 22, "closeout"),
        ("glass.fixing", "How is the glass fixed?", "contractor", "remark", ("screw-through-curb",), 23, ""),
        (
            "ambient.temperature",
            "How warm is the room while it cures?",
            "tape measure",
            "remark",
            ("cold-cure",),
            24,
            "",
        ),
    )
)
COMING = Coming(
    record="flood test",
    due="before tile",
    rules=("pan-not-flooded", "flood-too-short"),
    places=(Place(("hall shower",), line(3)),),
    settles="two readings with day and time",
)
GRANTED = VarianceState(
    "granted",
    "grout-of-another-class",
    "hall shower / shower walls",
    "designer",
    "colour agreed by the owner",
    "2026-12-31",
    "it ends within 30 days",
    line(40),
)
LAPSED = VarianceState(
    "lapsed",
    "offset-over-a-third",
    "hall shower / shower walls",
    "designer",
    "mock-up accepted",
    "2026-01-31",
    "it ended on 2026-01-31",
    line(46),
)


def report(**other: object) -> Report:
    """A report with everything empty, some fields given."""
    usual: dict[str, object] = {
        "file": FILE,
        "plan": "Larch House, upstairs",
        "stage": "design",
        "stage_stated": False,
        "summary": "no exceptions",
        "findings": (),
        "questions": (),
        "to_come": (),
        "variances": (),
        "decisions": (),
        "notes": (),
        "unread": (),
        "taken_as_absent": (),
        "assumed": (),
        "cautions": (),
        "outcomes": (("does not apply", 190), ("meets", 24)),
        "rules": 214,
        "packs": PACKS,
        "as_of": "2026-12-05",
    }
    return Report(**{**usual, **other})  # type: ignore[arg-type]


CLEAN = report()
FULL = report(
    stage="before tile",
    stage_stated=True,
    summary="revise",
    findings=(
        LINER._replace(squeezed=("liner-too-steep", "liner PVC 0.040 in, slope 1/2 in per ft")),
        NOTCH,
        SIDES,
        LET_THROUGH,
        REMARK,
    ),
    questions=QUESTIONS,
    to_come=(COMING,),
    variances=(GRANTED, LAPSED),
    decisions=('decision "slope" by designer on 2026-03-01 settles slope-of-floor: 1/4 in per ft',),
    notes=('hall shower: slope was planned as "1/4 in per ft", the record says "3/16 in per ft"',),
    unread=(
        Problem(at(FILE, 25, 3, 6), '"trowle" is no key of assembly; nearest: "trowel"'),
        Problem(at(FILE, 27, 20, 2), "a figure needs its unit: in, ft, mm"),
    ),
    taken_as_absent=("bench", "niche", "steam", "warming", "window"),
    assumed=("blade angle: 35 to 60 degrees", "wall departs from plane by 0 to 1/4 in in 10 ft"),
    cautions=("Cutting tile dry makes silica dust: cut wet or with suction, and keep to local rules.",),
    passed=(("joint-too-narrow", "hall shower / shower walls / back"),),
)
OPEN = report(
    plan="Mill Lane",
    summary="open questions",
    questions=QUESTIONS[:2],
    packs=PACKS[:1],
    rules=1,
    as_of="",
)
PIECE = report(plan="", fragment=True, file="plans/firm/walls.wetspec")
BROKEN = report(plan="", summary="revise", unread=(Problem(at(FILE, 1), "there is no heading here"),))
ALL = {"full": FULL, "clean": CLEAN, "open": OPEN, "fragment": PIECE, "broken": BROKEN}
