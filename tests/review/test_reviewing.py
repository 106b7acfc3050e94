"""From outcomes to a report: stages, routes, questions, variances, decisions and the one word, on rules that ship."""

from __future__ import annotations

import re

import pytest

from speclint.facts.build import build_subjects
from speclint.review.identity import kept_marks
from speclint.review.kit import Kit
from speclint.review.notes import held_back
from speclint.review.report import CLEAR, NOTED, OPEN, REVISE, Finding, Report, VarianceState
from speclint.review.run import Options, review
from tests.plan.reading import plan_of

OFFSET = "offset-over-a-third"
WALLS = (
    'plan "p"\n answers to ansi\nroom "bath"\nassembly "walls" in "bath"\n surface wall "back", 60 in x 96 in\n'
    " tile porcelain, 12 x 24 in, thick 3/8 in, rectified\n pattern running bond 50%\n"
)
VARIANCE = (
    f'variance "{OFFSET}" on "walls"\n accepts pattern running bond 50%\n because "mock-up, drawing A-12"\n'
    ' granted by "designer"\n until 2026-12-31\n'
)


def report_of(text: str, kit: Kit, **options: str) -> Report:
    return review(plan_of(text, kit), kit, Options(**{"as_of": "2026-06-01", **options}))


def finding(report: Report, rule: str) -> Finding | None:
    return next((one for one in report.findings if one.rule == rule), None)


def variance(report: Report) -> VarianceState:
    assert len(report.variances) == 1
    return report.variances[0]


def test_a_finding_tells_what_was_read_where_and_on_what_it_rests(kit: Kit) -> None:
    found = finding(report_of(WALLS, kit), OFFSET)
    assert found is not None and found.weight == "callback"
    assert "24 in" in found.message and "50%" in found.message
    assert (found.span.line, found.words) == (7, "50%")
    assert found.places[0].address == ("bath", "walls")
    assert any(cite.standard == "ANSI A108.02" and cite.clause.startswith("4.3.8") for cite in found.cites)


def test_a_variance_lets_its_finding_through_till_its_day(kit: Kit) -> None:
    report = report_of(WALLS + VARIANCE, kit)
    assert variance(report).state == "granted"
    found = finding(report, OFFSET)
    assert found is not None and found.variance == "designer, until 2026-12-31"
    last = variance(report_of(WALLS + VARIANCE, kit, as_of="2026-12-31"))
    assert (last.state, last.why) == ("granted", "it ends within 30 days")
    assert variance(report_of(WALLS + VARIANCE, kit, as_of="2027-01-01")).state == "lapsed"


@pytest.mark.parametrize(
    ("old", "new", "state", "why"),
    [
        ("accepts pattern running bond 50%", "accepts pattern running bond 40%", "lapsed", 'the plan now says "50%"'),
        ('granted by "designer"', 'granted by "setter"', "void", "setter may not vary this rule"),
        (' because "mock-up, drawing A-12"\n', "", "void", "it does not say because"),
        (f'variance "{OFFSET}"', 'variance "no-such-rule"', "void", 'no rule is named "no-such-rule"'),
        ('on "walls"', 'on "other"', "unused", "the finding it excuses is not there"),
    ],
)
def test_a_variance_that_does_not_hold_says_why(old: str, new: str, state: str, why: str, kit: Kit) -> None:
    text = WALLS + 'assembly "other" in "bath"\n grout A118.7\n' + VARIANCE.replace(old, new)
    told = variance(report_of(text, kit))
    assert told.state == state and why in told.why


def test_a_record_is_to_come_then_asked_for_then_not_met(kit: Kit) -> None:
    rule = "pan-not-flood-tested"
    text = (
        'plan "p"\n answers to irc 2021\nroom "shower"\n exposure wet\n use shower\nassembly "pan" in "shower"\n'
        " surface floor\n membrane liquid A118.10\n"
    )
    early = report_of(text, kit, stage="design")
    assert any(rule in coming.rules for coming in early.to_come)
    due = report_of(text, kit, stage="before tile")
    asked = [question for question in due.questions if rule in question.frees]
    assert len(asked) == 1 and "Where is the record" in asked[0].text
    late = finding(report_of(text, kit, stage="closeout"), rule)
    assert late is not None and late.weight != "tear-out"


def test_a_maker_s_paper_opens_its_route(kit: Kit) -> None:
    rule = "mortar-over-sheet-not-named-by-its-maker"
    text = (
        'plan "p"\n answers to ansi\nroom "shower"\n exposure wet\nassembly "walls" in "shower"\n surface wall\n'
        " membrane bonded sheet A118.10\n mortar A118.4\n"
    )
    asked = [question for question in report_of(text, kit).questions if rule in question.frees]
    assert len(asked) == 1 and "paper by the maker" in asked[0].text
    paper = f'paper "letter of the maker" for "walls"\n route maker\n date 2026-01-05\n proves "{rule}"\n'
    settled = report_of(text + paper, kit)
    assert not any(rule in question.frees for question in settled.questions)
    assert any(name == rule for name, _ in settled.passed)
    held = report_of(text + paper + " valid until 2026-06-01\n", kit)
    assert any(name == rule for name, _ in held.passed)
    ended = report_of(text + paper + " valid until 2026-05-31\n", kit)
    assert any(rule in question.frees for question in ended.questions)


@pytest.mark.parametrize("said", ["who by designer\n", "who designer\n"])
def test_a_decision_may_say_by_whom(said: str, kit: Kit) -> None:
    text = WALLS + f'decision "glass" on "walls"\n which "window-glass-not-told-safe"\n what "looked at"\n {said}'
    assert not plan_of(text, kit).problems


def test_a_membrane_may_name_its_permeance(kit: Kit) -> None:
    assert not plan_of(WALLS + " membrane liquid A118.10, permeance 0.5 perm\n", kit).problems


def test_a_decision_confirms_where_a_rule_only_asks(kit: Kit) -> None:
    rule = "window-glass-not-told-safe"
    text = WALLS + 'part "window" of "walls"\n kind window\n glazing plain glass\n'
    assert any(rule in question.frees for question in report_of(text, kit).questions)
    decision = (
        f'decision "glass" on "walls"\n which "{rule}"\n what "out of reach, looked at on the drawing"\n who designer\n'
    )
    settled = report_of(text + decision, kit)
    assert not any(rule in question.frees for question in settled.questions)
    assert settled.decisions[0].startswith('decision "glass" by designer settles window-glass')
    empty = report_of(text + 'decision "glass" on "walls"\n which "x"\n', kit)
    assert "settles nothing" in empty.decisions[0]
    other = report_of(text + decision.replace(rule, "offset-over-a-third"), kit)
    assert "settles nothing" in other.decisions[0]


@pytest.mark.parametrize(("decided", "other"), [("west", "east"), ("east", "west")])
def test_a_decision_reaches_its_own_address_only_among_subjects_that_are_alike(
    kit: Kit, decided: str, other: str
) -> None:
    rule = "window-glass-not-told-safe"
    text = WALLS
    for window in ("west", "east"):
        text += f'part "{window}" of "walls"\n kind window\n glazing plain glass\n'
    text += f'decision "glass" on "{decided}"\n which "{rule}"\n what "out of reach"\n who designer\n'
    report = report_of(text, kit)
    assert report.decisions[0].startswith(f'decision "glass" by designer settles {rule}')
    asked = [place.address[-1] for one in report.questions if rule in one.frees for place in one.places]
    assert asked == [other]


def test_what_the_plan_merely_leaves_open_is_a_remark_early_and_asked_later(kit: Kit) -> None:
    text = WALLS.replace("pattern running bond 50%", "pattern running bond 33%, or running bond 50%")
    text = WALLS.replace("running bond 50%", "running bond 33% or running bond 50%")
    early = finding(report_of(text, kit), OFFSET)
    assert early is not None and early.weight == "remark" and early.admits
    assert "also admits" in early.message
    late = report_of(text, kit, stage="rough-in")
    assert finding(late, OFFSET) is None
    assert any(OFFSET in question.frees and "leaves it open" in question.text for question in late.questions)


def test_what_one_line_leaves_open_is_one_remark_with_every_rule_it_offends(kit: Kit) -> None:
    text = 'plan "p"\nroom "shower"\n exposure wet\n use shower\nassembly "floor" in "shower"\n surface floor\n'
    text += " framing suspended slab\n membrane contractor's choice\n"
    remarks = [one for one in report_of(text, kit).findings if one.admits]
    assert [one.span.line for one in remarks] == [8]
    told = (remarks[0].rule, *remarks[0].also)
    assert len(told) > 4 and "membrane-not-of-the-waterproof-class" in told
    assert all(rule in remarks[0].message for rule in told)
    assert "old-layer-not-looked-at" not in told
    assert {mark.rule for one, mark in kept_marks(report_of(text, kit), "") if one == remarks[0]} == set(told)


def test_a_record_is_not_missed_where_it_is_open_whether_the_rule_applies(kit: Kit) -> None:
    text = (
        'plan "p"\n stage {}\nroom "shower"\n exposure wet\n use shower\nassembly "floor" in "shower"\n surface floor\n'
    )
    rule, line = "liquid-film-not-gauged", " membrane liquid A118.10\n"
    for open_line in ("", " membrane contractor's choice\n"):
        for stage in ("closeout", "in service"):
            report = report_of(text.format(stage) + open_line, kit)
            assert finding(report, rule) is None
            assert any(rule in question.frees for question in report.questions)
            assert finding(report_of(text.format(stage) + line, kit), rule) is not None
        early = report_of(text.format("design") + open_line, kit)
        assert finding(early, rule) is None and any(rule in coming.rules for coming in early.to_come)


def test_an_open_end_never_tells_against_a_plan(kit: Kit) -> None:
    rule = "joint-narrower-than-any-may-be"
    for stage in ("design", "before tile"):
        assert finding(report_of(WALLS + " joint at least 1/8 in\n", kit, stage=stage), rule) is None
    low = finding(report_of(WALLS + " joint at least 1/32 in\n", kit, stage="before tile"), rule)
    assert low is not None and low.weight == "callback"


def test_the_one_word(kit: Kit) -> None:
    assert report_of(WALLS, kit).summary == REVISE
    assert report_of('plan "p"\nroom "bath"\n exposure dry\n', kit).summary == OPEN
    assert report_of('plan "p"\nroom "bath"\n exposure dry\n colour red\n', kit).summary == REVISE
    assert report_of(WALLS + VARIANCE, kit).summary in (OPEN, NOTED)
    bare = kit._replace(packs=())
    assert report_of(WALLS.replace(" answers to ansi\n", ""), bare).summary == CLEAR


def test_two_figures_that_differ_never_print_alike(kit: Kit) -> None:
    text = WALLS + " joint 0.062 in\n"
    found = finding(report_of(text, kit), "joint-narrower-than-any-may-be")
    assert found is not None and "0.062 in" in found.message and "1/16 in" in found.message


def test_as_built_values_that_differ_are_told_once(kit: Kit) -> None:
    text = WALLS + ' mortar A118.15\nrecord "visit" for "walls"\n mortar A118.1\n'
    notes = report_of(text, kit).notes
    assert len(notes) == 1 and 'planned as "A118.15", the record says "A118.1"' in notes[0]


def test_metric_plans_are_answered_in_metric(kit: Kit) -> None:
    text = (
        'plan "p"\nroom "shower"\nassembly "walls" in "shower"\n surface wall, 1500 mm x 2400 mm\n'
        " tile porcelain, 300 x 600 mm, thick 9 mm, rectified, bow 1 mm\n short flatness 1 mm in 600 mm\n"
        " trowel square 6 x 6 x 6 mm, blade at 45 deg\n"
    )
    found = finding(report_of(text, kit), "bed-thinner-than-the-gap")
    assert found is not None and " mm" in found.message and " in " not in found.message.replace(" in the ", " ")


def test_a_limit_in_other_units_is_told_in_the_plans_own_besides(kit: Kit) -> None:
    """1 in is 25.4 mm and 1 ft 304.8 mm by definition (NIST SP 811, B.8)."""
    uneven = 'plan "p"\nroom "hall"\nassembly "walls" in "hall"\n surface wall\n tile porcelain, 600 x 600 mm\n flatness 8 mm in 3 m\n'
    found = finding(report_of(uneven, kit), "base-not-flat-for-large-tile")
    assert found is not None and "1/8 in (about 3.2 mm) in 10 ft (3048 mm)" in found.message
    inches = finding(
        report_of(uneven.replace("600 x 600 mm", "24 x 24 in").replace("8 mm in 3 m", "3/8 in in 10 ft"), kit),
        found.rule,
    )
    assert inches is not None and "(" not in inches.message


def test_what_is_left_to_others_is_one_question_a_line_and_to_a_document_one_in_all(kit: Kit) -> None:
    left = " mortar by section 09 30 00\n grout by section 09 30 00\n trowel by others\n"
    asked = [one for one in report_of(WALLS + left, kit).questions if one.answers == "designer"]
    trowel = [one for one in asked if one.text.startswith("Trowel by others")]
    assert [(one.fact, [place.span.line for place in one.places]) for one in trowel] == [("trowel.shape", [10])]
    document = [one for one in asked if "section 09 30 00" in one.text]
    assert [[place.span.line for place in one.places] for one in document] == [[8, 9]]
    assert len(document[0].frees) > 2


def test_a_figure_whose_unit_stands_further_on_is_told_with_it(kit: Kit) -> None:
    turned = WALLS.replace("12 x 24 in", "24 x 12 in")
    found = finding(report_of(turned, kit), OFFSET)
    assert found is not None and found.message.startswith("Tile 24 in long shifted by 50%")


SHOWER = 'plan "p"\n answers to ansi\nroom "shower"\n exposure wet\n use shower\nassembly "walls" in "shower"\n surface wall\n'


def test_a_line_that_is_not_there_is_asked_for_by_its_first_fact(kit: Kit) -> None:
    bare = {question.fact: question for question in report_of(SHOWER, kit).questions}
    assert {"tile.material", "trowel.shape", "layers"} <= set(bare)
    assert not any(fact.startswith("tile.") for fact in set(bare) - {"tile.material"})
    assert not {"trowel.depth", "substrate.material", "membrane.material"} & set(bare)
    assert "bed-thinner-than-the-gap" in bare["tile.material"].frees
    told = {question.fact for question in report_of(SHOWER + " tile porcelain\n trowel square\n", kit).questions}
    assert {"tile.nominal-a", "trowel.depth"} <= told and "tile.material" not in told


def test_what_the_data_tells_of_a_word_is_asked_for_by_the_word(kit: Kit) -> None:
    asked = report_of(SHOWER + " membrane none\n tile porcelain\n", kit).questions
    text = {question.fact: question.text for question in asked}
    assert text["substrate.material"] == "What is the substrate made of, or is there none?"
    assert not any("family" in fact or "coated" in fact for fact in text)


def test_what_was_seen_ranks_the_heavy_questions_that_bear_on_it_first(kit: Kit) -> None:
    visit = 'record "visit" for "walls"\n seen {}\n'
    for seen, fact in (("spots of mortar", "setting.method"), ("grouted corners", "change-of-plane.class")):
        plain = [question.fact for question in report_of(SHOWER, kit).questions]
        ranked = [question.fact for question in report_of(SHOWER + visit.format(seen), kit).questions]
        assert ranked.index(fact) == 0 < plain.index(fact)


def test_a_part_that_stands_as_its_assembly_is_told_with_it(kit: Kit) -> None:
    text = 'plan "p"\n stage closeout\nroom "shower"\n exposure wet\n use shower\nassembly "pan" in "shower"\n surface floor\n'
    text += ' tile porcelain\n{}part "curb" of "pan"\n kind curb\n'
    told = [one for one in report_of(text.format(""), kit).findings if one.rule == "no-tiles-lifted"]
    assert [place.address for one in told for place in one.places] == [("shower", "pan")]
    own = [one for one in report_of(text.format("") + " tile glass\n", kit).findings if one.rule == "no-tiles-lifted"]
    assert [one.places[0].address for one in own] == [("shower", "pan"), ("shower", "pan", "curb")]


WALL = (
    'plan "p"\n answers to {codes}\nroom "shower"\n exposure wet\n use shower\nassembly "walls" in "shower"\n surface wall\n'
    " substrate cement board\n membrane liquid {membrane}\n tile porcelain, 12 x 12 in\n mortar {mortar}\n"
)


def wall(kit: Kit, codes: str = "ansi", membrane: str = "A118.10", mortar: str = "A118.4") -> Report:
    return report_of(WALL.format(codes=codes, membrane=membrane, mortar=mortar), kit)


def test_a_class_of_another_region_is_asked_about_with_its_nearest(kit: Kit) -> None:
    """EN 12004 and ANSI A118 test otherwise; the pairs are those of general comparisons and never equal."""
    for rule, report, near in (
        ("mortar-too-weak-for-porcelain", wall(kit, mortar="C2 T"), "A118.15"),
        ("membrane-not-of-the-waterproof-class", wall(kit, membrane="EN 14891"), "A118.10"),
    ):
        asked = [question for question in report.questions if rule in question.frees]
        assert len(asked) == 1 and f"nearest is {near}" in asked[0].text and "test report" in asked[0].text
        assert finding(report, rule) is None and all(name != rule for name, _ in report.passed)


def test_an_improved_mortar_answers_a_call_for_a_modified_one(kit: Kit) -> None:
    """ANSI A118.15 asks 400 psi on porcelain where A118.4 asks 200; A118.1 asks 150 and is too weak."""
    rule = "mortar-too-weak-for-porcelain"
    for mortar in ("A118.4", "A118.15"):
        assert any(name == rule for name, _ in wall(kit, mortar=mortar).passed)
    weak = finding(wall(kit, mortar="A118.1"), rule)
    assert weak is not None and weak.outcome == "does not meet"


def test_a_code_without_rules_here_is_told_and_never_a_pass(kit: Kit) -> None:
    notes = wall(kit, codes="ansi, din 18534").notes
    assert [note for note in notes if "DIN 18534" in note and "no rules for it here" in note]
    assert not [note for note in wall(kit, codes="ansi, irc 2021, handbook").notes if "no rules" in note]


def test_a_layer_found_by_a_record_stands_before_the_planned_one(kit: Kit) -> None:
    """IRC R702.4.2 takes no paper-faced board behind tile in showers: what was built counts, not what was drawn."""
    rule = "membrane-on-paper-faced-board-unlisted"
    text = WALL.format(codes="irc 2021", membrane="A118.10", mortar="A118.4")
    found = text + 'record "opened" for "walls"\n kind visit\n substrate greenboard\n'
    assert not any(rule in question.frees for question in report_of(text, kit).questions)
    report = report_of(found, kit)
    assert any(rule in question.frees for question in report.questions)
    assert any("cement board" in note and "greenboard" in note for note in report.notes)


STEEP = (
    'plan "p"\n answers to irc 2021\nroom "shower"\n exposure wet\n use shower\nassembly "floor" in "shower"\n surface floor\n'
    " slope 3/4 in per ft\n"
)
RULED = (
    'paper "letter" for "floor"\n what ruling\n authority "county office"\n clause "P2709.1"\n date 2026-01-05\n'
    " result accepted\n"
)


def test_a_ruling_decides_what_is_there_under_its_clause_and_no_question(kit: Kit) -> None:
    rule = "shower-floor-too-steep"  # IRC P2709.1
    assert finding(report_of(STEEP, kit), rule) is not None
    report = report_of(STEEP + RULED, kit)
    assert finding(report, rule) is None and any(name == rule for name, _ in report.passed)
    assert report.decisions == (f'ruling "letter" of county office on P2709.1, accepted, settles {rule}',)
    drain = "shower-floor-without-a-drain"  # rests on the same clause, and nobody told of a drain
    assert any(drain in question.frees for question in report.questions)
    for spoilt in (
        RULED.replace("P2709.1", "P2708.1"),
        RULED.replace("accepted", "not accepted"),
        RULED.replace(' authority "county office"\n', ""),
    ):
        assert finding(report_of(STEEP + spoilt, kit), rule) is not None


FOAM = (
    'plan "p"\n answers to ansi, irc 2021\nroom "bath"\n exposure wet\n use shower\nassembly "walls" in "bath"\n'
    ' surface wall "back", 60 in x 96 in\n layer substrate, foam board 1/2 in\n'
)


def test_a_plan_under_its_own_ban_is_told_at_both_lines(kit: Kit) -> None:
    banned = FOAM.replace(" answers", " not allowed foam board, gypsum board\n answers")
    found = finding(report_of(banned, kit), "layer-that-the-plan-forbids")
    assert found is not None and found.words == "foam board"
    assert {place.span.line for place in found.places} == {2, 9}


@pytest.mark.parametrize(
    ("paper", "outcome"), [("", "asked"), (" what listing\n", "meets"), (" what none\n", "does not meet")]
)
def test_a_way_round_is_met_by_its_paper_and_shut_by_none(paper: str, outcome: str, kit: Kit) -> None:
    rule = "foam-board-unlisted"
    report = report_of(FOAM + (f'paper "listing" for "walls"\n route listing\n{paper}' if paper else ""), kit)
    asked = any(rule in one.frees for one in report.questions)
    told = "asked" if asked else "does not meet" if finding(report, rule) else "meets"
    assert told == outcome
    assert any(name == rule for name, _ in report.passed) is (outcome == "meets")


def test_a_plan_that_answers_to_nothing_but_a_code_without_rules_does_not_pass(kit: Kit) -> None:
    hall = 'plan "p"\n answers to {}\nroom "hall"\n exposure dry\nassembly "a" in "hall"\n'
    root = build_subjects(plan_of(hall.format("as 3740"), kit), kit.catalogue)
    assert held_back(CLEAR, root, kit.packs) == OPEN
    root = build_subjects(plan_of(hall.format("ansi, as 3740"), kit), kit.catalogue)
    assert held_back(CLEAR, root, kit.packs) == NOTED


def test_every_code_that_a_rule_asks_for_is_one_that_a_pack_answers_to(kit: Kit) -> None:
    conditions = [f"{rule.applies_text} {rule.demands_text}" for pack in kit.packs for rule in pack.rules]
    read = {code for text in conditions for code in re.findall(r"plan\.codes has ([A-Z]+)", text)}
    assert len(read) > 5
    assert sorted(read - {code for pack in kit.packs for code in pack.answers_to}) == []


def test_what_was_seen_is_told_and_bars_no_exceptions(kit: Kit) -> None:
    quiet = 'plan "p"\n answers to ansi\n serves as guide text\nroom "hall"\n exposure dry\nassembly "a" in "hall"\n'
    seen = report_of(quiet + 'record "walk" for "a"\n seen hollow sound\n', kit)
    assert "hall / a / walk: seen hollow sound" in seen.notes
    root = build_subjects(plan_of(quiet + 'record "walk" for "a"\n seen leak\n', kit), kit.catalogue)
    assert held_back(CLEAR, root, kit.packs) == NOTED
    assert held_back(CLEAR, build_subjects(plan_of(quiet, kit), kit.catalogue), kit.packs) == CLEAR
