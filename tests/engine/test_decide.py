"""The outcomes of a rule, clause by clause, on shelves and brackets."""

from __future__ import annotations

import pytest

from speclint.engine.decide import decide
from speclint.engine.outcomes import (
    DOES_NOT_APPLY,
    DOES_NOT_MEET,
    MEETS,
    NOT_SHOWN,
    SOURCES_DIFFER,
    Decision,
)
from speclint.kernel.values import (
    ASSUMED,
    DEMANDED,
    MEASURED,
    MISSING,
    NOTHING,
    TAKEN,
    Absent,
    Among,
    Between,
    Cases,
    Known,
    Unknown,
    ValueSet,
)

from .shelving import INCH, Thing, either, inches, rule

OAK, ASH, SPRUCE = Known("oak"), Known("ash"), Known("spruce")
NARROW = rule("shelf.width <= limit.most", "shelf.wood = oak", most="36 in")
AT_LEAST_20 = Between(20 * INCH, None, text="at least 20 in", number=20 * INCH)
AT_LEAST_40 = Between(40 * INCH, None, text="at least 40 in", number=40 * INCH)
FROM_30_TO_40 = Between(30 * INCH, 40 * INCH)


def shelf(**facts: ValueSet) -> Thing:
    """A shelf with facts of its own."""
    return Thing({f"shelf.{name}": value for name, value in facts.items()})


def asked(decision: Decision) -> list[tuple[str, str]]:
    """Facts and origins that are asked."""
    return [(root.fact, root.origin) for root in decision.open_on]


@pytest.mark.parametrize(
    ("wood", "width", "outcome", "questions"),
    [
        (ASH, inches(40), DOES_NOT_APPLY, []),
        (ASH, NOTHING, DOES_NOT_APPLY, []),
        (Absent(), inches(40), DOES_NOT_APPLY, []),
        (OAK, inches(36), MEETS, []),
        (OAK, inches("2305/64"), DOES_NOT_MEET, []),
        (OAK, Absent(), DOES_NOT_MEET, []),
        (OAK, NOTHING, NOT_SHOWN, [("shelf.width", MISSING)]),
        (NOTHING, inches(36), MEETS, []),
        (NOTHING, inches(40), NOT_SHOWN, [("shelf.wood", MISSING)]),
        (NOTHING, NOTHING, NOT_SHOWN, [("shelf.wood", MISSING)]),
    ],
)
@pytest.mark.parametrize("strict", [False, True])
def test_applies_then_demands(
    wood: ValueSet, width: ValueSet, outcome: str, questions: list[tuple[str, str]], strict: bool
) -> None:
    decision = decide(NARROW, shelf(wood=wood, width=width), strict)
    assert (decision.outcome, asked(decision)) == (outcome, questions)


def test_the_limits_in_force_are_told() -> None:
    assert decide(NARROW, shelf(wood=OAK, width=inches(40))).limits == {"most": Known(36 * INCH)}
    assert decide(NARROW, shelf(wood=OAK, width=inches(36))).limits == {"most": Known(36 * INCH)}


@pytest.mark.parametrize("origin", [ASSUMED, MEASURED, MISSING])
@pytest.mark.parametrize("strict", [False, True])
def test_a_range_that_nobody_demanded_never_accuses(origin: str, strict: bool) -> None:
    decision = decide(NARROW, shelf(wood=OAK, width=FROM_30_TO_40._replace(origin=origin)), strict)
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.width", origin)])
    wide = Between(37 * INCH, 40 * INCH, origin=origin)
    assert decide(NARROW, shelf(wood=OAK, width=wide), strict).outcome == DOES_NOT_MEET


def test_questions_ask_for_the_root_of_a_computed_fact() -> None:
    thing = Thing(
        {"shelf.wood": OAK, "shelf.width": Between(10 * INCH, 50 * INCH, origin=MISSING), "shelf.deep": NOTHING,
         "shelf.load": Known(5)},
        from_={"shelf.width": ["shelf.deep", "shelf.load"]},
    )  # fmt: skip
    assert asked(decide(NARROW, thing)) == [("shelf.deep", MISSING)]


def test_a_demanded_range_admits_what_fails_early_and_is_asked_late() -> None:
    early = decide(NARROW, shelf(wood=OAK, width=FROM_30_TO_40))
    assert early.outcome == DOES_NOT_MEET
    assert [(one.fact, one.value) for one in early.admits] == [("shelf.width", Known(40 * INCH, origin=DEMANDED))]
    late = decide(NARROW, shelf(wood=OAK, width=FROM_30_TO_40), strict=True)
    assert (late.outcome, asked(late), late.admits) == (NOT_SHOWN, [("shelf.width", DEMANDED)], ())


@pytest.mark.parametrize("strict", [False, True])
def test_what_holds_at_the_number_of_an_open_demand_meets(strict: bool) -> None:
    decision = decide(NARROW, shelf(wood=OAK, width=AT_LEAST_20), strict)
    assert (decision.outcome, decision.at_number) == (MEETS, True)


def test_what_fails_at_the_number_is_a_remark_early_and_fails_late() -> None:
    # open downwards, so that some of what is admitted passes
    most_40 = Between(None, 40 * INCH, number=40 * INCH)
    early = decide(NARROW, shelf(wood=OAK, width=most_40))
    assert (early.outcome, [one.value for one in early.admits]) == (
        DOES_NOT_MEET, [Known(40 * INCH, origin=DEMANDED)]
    )  # fmt: skip
    late = decide(NARROW, shelf(wood=OAK, width=most_40), strict=True)
    assert (late.outcome, late.admits, late.at_number) == (DOES_NOT_MEET, (), True)


def test_an_open_demand_all_of_which_fails_fails_outright() -> None:
    decision = decide(NARROW, shelf(wood=OAK, width=AT_LEAST_40))
    assert (decision.outcome, decision.admits) == (DOES_NOT_MEET, ())


def test_a_missing_fact_beside_a_demand_is_asked_alone() -> None:
    judgement = rule("shelf.width <= 36 in and shelf.deep <= 12 in")
    decision = decide(judgement, shelf(width=FROM_30_TO_40))
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.deep", MISSING)])
    late = decide(judgement, shelf(width=FROM_30_TO_40), strict=True)
    assert asked(late) == [("shelf.width", DEMANDED), ("shelf.deep", MISSING)]
    assert asked(decide(judgement, shelf(width=AT_LEAST_20), strict=True)) == [("shelf.deep", MISSING)]


@pytest.mark.parametrize("choice", [either(OAK, ASH), Among(frozenset({"oak", "ash"}))])
def test_a_written_choice_is_decided_once_per_alternative(choice: ValueSet) -> None:
    # meets with oak, does not apply to ash
    assert decide(NARROW, shelf(wood=choice, width=inches(36))).outcome == MEETS
    early = decide(NARROW, shelf(wood=choice, width=inches(40)))
    assert early.outcome == DOES_NOT_MEET
    assert [(one.fact, getattr(one.value, "value", None)) for one in early.admits] == [("shelf.wood", "oak")]
    late = decide(NARROW, shelf(wood=choice, width=inches(40)), strict=True)
    assert (late.outcome, asked(late)) == (NOT_SHOWN, [("shelf.wood", DEMANDED)])


@pytest.mark.parametrize("choice", [either(OAK, ASH), Among(frozenset({"oak", "ash"}))])
def test_what_both_alternatives_meet_meets_though_each_part_stays_open(choice: ValueSet) -> None:
    assert decide(rule("shelf.wood = oak or shelf.wood = ash"), shelf(wood=choice)).outcome == MEETS
    assert decide(rule("shelf.wood != oak and shelf.wood != ash"), shelf(wood=choice)).outcome == DOES_NOT_MEET
    apart = decide(rule("shelf.width < 3 in", "shelf.wood is absent"), shelf(wood=choice))
    assert apart.outcome == DOES_NOT_APPLY


def test_facts_of_one_choice_go_together() -> None:
    judgement = rule("shelf.wood = oak and shelf.width = 3 in or shelf.wood = ash and shelf.width = 5 in")
    paired = shelf(wood=either(OAK, ASH), width=either(inches(3), inches(5)))
    assert decide(judgement, paired).outcome == MEETS
    crossed = shelf(wood=either(OAK, ASH), width=either(inches(3), inches(5), group="h"))
    assert decide(judgement, crossed).outcome == DOES_NOT_MEET
    assert decide(judgement, crossed).admits != ()


def test_an_alternative_that_lacks_a_fact_is_asked_for_it() -> None:
    decision = decide(rule("shelf.width <= 36 in", "shelf.wood = oak"), shelf(wood=either(OAK, ASH)))
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.width", MISSING)])


def test_of_several_that_all_occur_the_worst_counts() -> None:
    judgement = rule("shelf.width <= 36 in")
    both = either(inches(30), inches(40), together=True)
    for strict in (False, True):
        decision = decide(judgement, shelf(width=both), strict)
        assert (decision.outcome, decision.admits, decision.picks) == (DOES_NOT_MEET, (), (("g", 1),))
    assert decide(judgement, shelf(width=either(inches(30), NOTHING, together=True))).outcome == NOT_SHOWN
    assert decide(judgement, shelf(width=either(inches(40), NOTHING, together=True))).outcome == DOES_NOT_MEET
    assert decide(judgement, shelf(width=either(inches(30), inches(20), together=True))).outcome == MEETS
    woods = either(OAK, ASH, together=True)
    assert decide(NARROW, shelf(wood=woods, width=inches(40))).outcome == DOES_NOT_MEET
    assert decide(NARROW, shelf(wood=woods, width=inches(30))).outcome == MEETS


def test_of_several_a_failure_outright_counts_more_than_one_in_part() -> None:
    part = Between(30 * INCH, 40 * INCH)
    for members in ((part, inches(40)), (inches(40), part)):
        decision = decide(rule("shelf.width <= 36 in"), shelf(width=either(*members, together=True)))
        assert (decision.outcome, decision.admits) == (DOES_NOT_MEET, ())
    partly = decide(rule("shelf.width <= 36 in"), shelf(width=either(inches(30), part, together=True)))
    assert (partly.outcome, len(partly.admits)) == (DOES_NOT_MEET, 1)


def test_two_sets_of_words_are_tried_together_and_in_members_of_a_collection() -> None:
    woods, kinds = Among(frozenset({"oak", "ash"})), Among(frozenset({"angle", "gusset"}))
    thing = Thing({"shelf.wood": woods, "bracket.kind": kinds})
    text = "(shelf.wood = oak or shelf.wood = ash) and (bracket.kind = angle or bracket.kind = gusset)"
    assert decide(rule(text), thing).outcome == MEETS
    outer = Thing()
    outer.parts["brackets"] = (Thing({"bracket.kind": kinds}, name="left", outer=outer),)
    judgement = rule("all brackets (bracket.kind = angle or bracket.kind = gusset)")
    assert decide(judgement, outer).outcome == MEETS


def test_choices_are_made_before_what_occurs_together() -> None:
    judgement = rule("shelf.wood = oak and shelf.width = 3 in or shelf.wood = ash and shelf.width = 5 in")
    # whichever width is chosen, one of the two woods that both occur fails
    thing = shelf(wood=either(OAK, ASH, together=True), width=either(inches(3), inches(5), group="h"))
    decision = decide(judgement, thing)
    assert (decision.outcome, decision.admits) == (DOES_NOT_MEET, ())


def test_a_choice_within_a_choice() -> None:
    inner = either(inches(30), inches(40), group="inner")
    decision = decide(rule("shelf.width <= 50 in"), shelf(width=either(inner, inches(20))))
    assert decision.outcome == MEETS
    narrow = decide(rule("shelf.width <= 36 in"), shelf(width=either(inner, inches(20))))
    assert narrow.outcome == DOES_NOT_MEET
    assert len(narrow.admits) == 2


def test_an_undecided_choice_that_nobody_demanded_is_asked() -> None:
    guess = Among(frozenset({"oak", "ash"}), origin=MISSING)
    decision = decide(NARROW, shelf(wood=guess, width=inches(40)))
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.wood", MISSING)])
    decision = decide(NARROW, shelf(wood=Cases("g", (OAK, ASH), origin=ASSUMED), width=inches(40)))
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.wood", ASSUMED)])


def test_more_than_64_cases_are_asked_instead() -> None:
    facts = ("width", "deep", "load", "pieces", "warm", "fall", "area")
    thing = shelf(**{fact: either(Known(1), Known(2), group=fact) for fact in facts})
    text = " and ".join(
        f"shelf.{fact} > 0 {unit}".strip()
        for fact, unit in zip(facts, ("in", "in", "kg", "", "C", "%", "m2"), strict=True)
    )
    decided = decide(rule(text), thing)
    assert decided.outcome == NOT_SHOWN
    assert {root.fact for root in decided.open_on} <= {f"shelf.{fact}" for fact in facts}
    assert thing.reads < 64 * 2 * len(facts) * 4
    many = shelf(width=either(*(inches(n + 1) for n in range(65))))
    assert decide(rule("shelf.width > 0 in"), many).outcome == NOT_SHOWN
    most = shelf(width=either(*(inches(n + 1) for n in range(64))))
    assert decide(rule("shelf.width > 0 in"), most).outcome == MEETS


def test_contractors_choice_admits_anything() -> None:
    free = Unknown("contractor's choice", origin=DEMANDED, told=True)
    early = decide(rule("shelf.wood = oak"), shelf(wood=free))
    assert (early.outcome, [one.value for one in early.admits]) == (DOES_NOT_MEET, [free])
    late = decide(rule("shelf.wood = oak"), shelf(wood=free), strict=True)
    assert (late.outcome, asked(late)) == (NOT_SHOWN, [("shelf.wood", DEMANDED)])
    or_equal = Among(frozenset({"oak"}), "oak or equal", beyond=True)
    assert decide(rule("shelf.wood = oak"), shelf(wood=or_equal)).admits != ()


def test_a_strict_bound_is_not_itself_admitted() -> None:
    under = Between(None, 36 * INCH, high_open=True, number=None)
    assert decide(rule("shelf.width < 36 in"), shelf(width=under)).outcome == MEETS
    over = Between(36 * INCH, 40 * INCH, low_open=True, high_open=True)
    decision = decide(rule("shelf.width >= 37 in"), shelf(width=over))
    assert decision.outcome == DOES_NOT_MEET
    value = decision.admits[0].value
    assert isinstance(value, Known)
    assert 36 * INCH < value.value < 37 * INCH  # type: ignore[operator]


EDITIONS = rule(
    "shelf.width <= limit.most",
    most=[("2019", "shelf.marks has dry", "36 in"), ("2024", "shelf.marks has fire", "30 in")],
)


def marked(*has: str, lacks: tuple[str, ...] = (), width: ValueSet = NOTHING) -> Thing:
    """A shelf under the editions its marks name."""
    from speclint.kernel.values import Members

    return shelf(marks=Members(frozenset(has), frozenset(lacks)), width=width)


def test_a_rule_is_decided_once_per_edition_the_plan_admits() -> None:
    alike = decide(EDITIONS, marked(width=inches(20)))
    assert (alike.outcome, alike.variants) == (MEETS, (("2019", MEETS), ("2024", MEETS)))
    apart = decide(EDITIONS, marked(width=inches(33)))
    assert apart.outcome == SOURCES_DIFFER
    assert apart.variants == (("2019", MEETS), ("2024", DOES_NOT_MEET))
    assert {root.fact for root in apart.open_on} == {"shelf.marks"}
    assert decide(EDITIONS, marked(width=inches(40))).outcome == DOES_NOT_MEET


def test_an_edition_that_is_named_decides_alone() -> None:
    old = marked("dry", lacks=("fire",), width=inches(33))
    assert decide(EDITIONS, old).outcome == MEETS
    new = marked("fire", lacks=("dry",), width=inches(33))
    decision = decide(EDITIONS, new)
    assert (decision.outcome, decision.variants, decision.limits) == (
        DOES_NOT_MEET,
        (),
        {"most": Known(30 * INCH)},
    )
    neither = marked(lacks=("dry", "fire"), width=inches(33))
    assert decide(EDITIONS, neither).outcome == DOES_NOT_APPLY


def test_a_variant_not_yet_decided_is_asked_before_sources_are_settled() -> None:
    judgement = rule(
        "shelf.width <= limit.most or shelf.painted",
        most=[("first source", None, "36 in"), ("second source", None, "30 in")],
    )
    decision = decide(judgement, shelf(width=inches(33)))
    assert (decision.outcome, asked(decision)) == (NOT_SHOWN, [("shelf.painted", MISSING)])
    assert decision.variants == (("first source", MEETS), ("second source", NOT_SHOWN))
    assert decide(judgement, shelf(width=inches(33), painted=Known(False))).outcome == SOURCES_DIFFER


def test_meets_and_does_not_apply_by_two_sources_meets() -> None:
    judgement = rule(
        "shelf.painted", "shelf.width > limit.from", **{"from": [("a", None, "30 in"), ("b", None, "40 in")]}
    )
    assert decide(judgement, shelf(width=inches(35), painted=Known(True))).outcome == MEETS
    assert decide(judgement, shelf(width=inches(35), painted=Known(False))).outcome == SOURCES_DIFFER


def test_the_limit_without_a_label_holds_where_no_other_surely_does() -> None:
    judgement = rule("shelf.width <= limit.most", most=[("", None, "36 in"), ("2024", "shelf.marks has fire", "30 in")])
    assert decide(judgement, marked("fire", width=inches(33))).outcome == DOES_NOT_MEET
    assert decide(judgement, marked(lacks=("fire",), width=inches(33))).outcome == MEETS
    assert decide(judgement, marked(width=inches(33))).outcome == SOURCES_DIFFER


def test_of_sources_that_agree_the_plainer_outcome_is_told() -> None:
    judgement = rule(
        "shelf.painted", "shelf.width > limit.from", **{"from": [("a", None, "40 in"), ("b", None, "30 in")]}
    )
    assert decide(judgement, shelf(width=inches(35), painted=Known(True))).outcome == MEETS
    narrow = rule("shelf.width <= limit.most", most=[("a", None, "36 in"), ("b", None, "20 in")])
    decision = decide(narrow, shelf(width=FROM_30_TO_40))
    assert (decision.outcome, decision.admits) == (DOES_NOT_MEET, ())
    assert decision.variants == (("a", DOES_NOT_MEET), ("b", DOES_NOT_MEET))


def test_limits_of_one_label_go_together() -> None:
    judgement = rule(
        "shelf.width <= limit.wide and shelf.deep <= limit.deep",
        wide=[("a", None, "36 in"), ("b", None, "30 in")],
        deep=[("a", None, "10 in"), ("b", None, "12 in")],
    )
    decision = decide(judgement, shelf(width=inches(33), deep=inches(11)))
    assert decision.variants == (("a", DOES_NOT_MEET), ("b", DOES_NOT_MEET))


def test_an_outcome_tells_on_what_assumed_or_absent_facts_it_rests() -> None:
    judgement = rule("shelf.width <= 36 in", "shelf.wood is absent and bracket.kind is absent")
    taken = Absent(origin=TAKEN)
    thing = Thing({"shelf.wood": taken, "bracket.kind": Absent(), "shelf.width": inches(40)})
    decision = decide(judgement, thing)
    assert [(root.fact, root.origin) for root in decision.rests_on] == [("shelf.wood", TAKEN)]
    assumed = Thing({"shelf.wood": Absent(), "bracket.kind": taken,
                     "shelf.width": Between(37 * INCH, 40 * INCH, origin=ASSUMED)})  # fmt: skip
    assert {root.fact for root in decide(judgement, assumed).rests_on} == {"bracket.kind", "shelf.width"}


def test_what_an_outcome_rests_on_is_told_of_a_pass_only_on_request() -> None:
    judgement = rule("shelf.width <= 36 in or shelf.painted")
    thing = shelf(width=Between(10 * INCH, 12 * INCH, origin=ASSUMED), painted=Known(False))
    assert decide(judgement, thing).rests_on == ()
    assert [root.fact for root in decide(judgement, thing, rests=True).rests_on] == ["shelf.width"]
    painted = shelf(width=Between(10 * INCH, 12 * INCH, origin=ASSUMED), painted=Known(True))
    assert decide(judgement, painted, rests=True).rests_on == ()


def test_what_a_computed_fact_rests_on_is_its_root() -> None:
    thing = Thing(
        {
            "shelf.width": Between(37 * INCH, 40 * INCH, origin=ASSUMED),
            "shelf.deep": Between(1, 2, origin=ASSUMED),
        },
        from_={"shelf.width": ["shelf.deep"]},
    )
    assert [root.fact for root in decide(rule("shelf.width <= 36 in"), thing).rests_on] == ["shelf.deep"]


def test_the_case_that_is_told_can_be_read_back() -> None:
    thing = shelf(wood=either(ASH, OAK), width=inches(40))
    decision = decide(NARROW, thing)
    assert decision.value(thing, "shelf.wood") == OAK
    assert decision.value(thing, "shelf.width") == inches(40)
    open_end = shelf(wood=OAK, width=AT_LEAST_20)
    told = decide(NARROW, open_end).value(open_end, "shelf.width")
    assert told == Known(20 * INCH, "at least 20 in", None, DEMANDED)
    ranged = shelf(wood=OAK, width=FROM_30_TO_40)
    assert decide(NARROW, ranged).value(ranged, "shelf.width") == Known(40 * INCH, origin=DEMANDED)
    assert decide(NARROW, ranged, strict=True).value(ranged, "shelf.width") == FROM_30_TO_40


def test_collections_and_choices_of_their_members() -> None:
    outer = Thing({"shelf.deep": inches(10)})
    outer.parts["brackets"] = (
        Thing({"bracket.kind": either(Known("angle"), Known("gusset"))}, name="left", outer=outer),
        Thing({"bracket.kind": Known("gusset")}, name="right", outer=outer),
    )
    decision = decide(rule("all brackets (bracket.kind = gusset)"), outer)
    assert decision.outcome == DOES_NOT_MEET
    assert decision.admits[0].subject.address == ("a shelf", "left")
    assert decide(rule("any brackets (bracket.kind = gusset)"), outer).outcome == MEETS
    unsure = Thing(parts={"brackets": None})
    assert asked(decide(rule("any brackets (bracket.steel)"), unsure)) == [("brackets", MISSING)]
