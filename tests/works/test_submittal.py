"""The submittal review as a whole: routes, sets, papers, what is missing, what a substitution newly breaks."""

from __future__ import annotations

import pytest

from speclint.files.product_data import submittal_data
from speclint.kernel.faults import UsageFault
from speclint.review.report import DOES_NOT_APPLY, FAILS, MEETS, NOT_SHOWN
from speclint.review.run import Options, review
from speclint.works.goods import knowledge
from speclint.works.handed import Item, Package
from speclint.works.submittal import MOST_ITEMS, review_submittal
from tests.plan.reading import plan_of
from tests.rules.shipped import shipped_kit

SPEC = """plan "Mill Lane"
  answers to ansi
  stage submitted
room "shower"
  exposure wet
  use shower
assembly "walls" in "shower"
  surface wall "back", 60 in x 96 in
  substrate cement board 1/2 in
  membrane liquid A118.10, at least 30 mil dry
  mortar A118.15 T
  tile porcelain, nominal 12 x 24 in, thick 3/8 in
  grout A118.7
assembly "pan" in "shower"
  surface floor
  mortar A118.15
  tile porcelain, mosaic, chip 2 x 2 in
"""


def reviewed(more: str, spec: str = SPEC, as_of: str = "2026-06-01") -> Package:
    kit = shipped_kit()
    plan = plan_of(spec + more, kit)
    assert [str(problem) for problem in plan.problems] == []
    return review_submittal(plan, kit, knowledge(submittal_data(), kit.catalogue), Options(as_of=as_of))


def only(package: Package) -> Item:
    (item,) = package.items
    return item


def outcome(item: Item, means: str) -> str:
    return next(row.outcome for row in item.requirements if row.means.startswith(means))


def test_what_the_catalogue_takes_for_a_left_out_line_is_no_claim() -> None:
    """In a plan a left-out drain standard is unknown and a left-out letter absent; in a submittal both are unknown."""
    item = only(reviewed('submittal "m" for "walls"\n  mortar A118.15\n'))
    assert outcome(item, "letters") == NOT_SHOWN and item.summary == "open questions"


def test_an_item_for_a_room_answers_every_assembly_in_it() -> None:
    item = only(reviewed('submittal "m" for "shower"\n  mortar A118.15 T\n'))
    assert [row.outcome for row in item.requirements] == [MEETS, MEETS, MEETS]
    assert {row.place.line for row in item.requirements if row.place} == {11, 16}


def test_an_item_for_a_part_answers_the_line_around_it() -> None:
    part = 'part "niche" of "walls"\n  kind niche, 12 in x 12 in\n'
    item = only(reviewed(part + 'submittal "m" for "niche"\n  mortar A118.15 T\n'))
    assert item.summary == "no exceptions"


@pytest.mark.parametrize("offered", ["substitution", "or equal"])
def test_a_substitution_is_always_a_question_until_somebody_decides(offered: str) -> None:
    text = f'submittal "m" for "pan"\n  mortar A118.15\n  offered {offered}\n'
    item = only(reviewed(text))
    assert item.summary == "open questions" and outcome(item, "offered as") == NOT_SHOWN
    taken = only(reviewed(text + 'decision "d" for "pan"\n  which "m"\n  what accepted\n  who designer\n'))
    assert taken.summary == "exceptions noted"
    refused = only(reviewed(text + 'decision "d" for "pan"\n  which "m"\n  what refused\n  who designer\n'))
    assert refused.summary == "open questions"


def test_a_review_of_the_plan_tells_that_the_decision_is_on_a_submittal() -> None:
    text = 'submittal "m" for "pan"\n  mortar A118.4\ndecision "d" for "pan"\n  which "m"\n  what accepted\n  who designer\n'
    report = review(plan_of(SPEC + text, shipped_kit()), shipped_kit(), Options(as_of="2026-06-01"))
    assert report.decisions == ('decision "d" is on submittal "m"',)


def test_a_decision_takes_what_does_not_meet_and_shows_it() -> None:
    text = 'submittal "m" for "pan"\n  mortar A118.4\n'
    assert only(reviewed(text)).summary == "revise"
    item = only(reviewed(text + 'decision "d" for "pan"\n  which "m"\n  what accepted\n  who designer\n'))
    assert item.summary == "exceptions noted"
    assert [(row.outcome, row.decided) for row in item.requirements] == [(FAILS, "d")]


def test_what_a_substitution_newly_breaks_is_told_and_old_findings_are_not() -> None:
    """A cement mortar may fail nothing on this wall; organic adhesive in a shower does (ANSI A108.4)."""
    spec = SPEC.replace("mortar A118.15 T", "mortar A118.15 or A136.1 Type II")
    item = only(reviewed('submittal "m" for "walls"\n  mortar A136.1 Type II\n', spec))
    assert outcome(item, "class") == MEETS
    assert "organic-adhesive-on-a-wet-wall" in {one.rule for one in item.breaks}
    before = {one.rule for one in only(reviewed('submittal "g" for "walls"\n  grout A118.7\n', spec)).breaks}
    assert before == set()


def test_each_of_several_for_one_line_answers_for_itself() -> None:
    two = 'submittal "a" for "walls"\n  mortar A118.15 T\nsubmittal "b" for "walls"\n  mortar A136.1 Type II\n'
    first, second = reviewed(two).items
    assert (first.summary, first.breaks) == ("no exceptions", ())
    assert second.summary == "revise" and second.breaks


def test_required_and_not_submitted_and_submitted_and_never_specified() -> None:
    package = reviewed('submittal "d" for "pan"\n  drain clamping drain\nsubmittal "g" for "walls"\n  grout A118.7\n')
    item = package.items[0]
    assert [(row.outcome, row.why) for row in item.requirements] == [
        (DOES_NOT_APPLY, "the specification calls for no drain here")
    ]
    assert item.summary == "open questions"
    assert [(one.what, one.address[-1]) for one in package.not_handed_in] == [
        ("board", "walls"), ("membrane", "walls"), ("mortar", "walls"), ("tile", "walls"), ("mortar", "pan"), ("tile", "pan"),
    ]  # fmt: skip


SET = SPEC.replace("  grout A118.7\n", '  grout A118.7\n  proved together "bonded walls", membrane, mortar\n')
CHANGED = 'submittal "w" for "walls"\n  membrane liquid A118.10, dry film 40 mil\nsubmittal "m" for "walls"\n  mortar A118.15 T\n'


def test_a_set_stands_while_nothing_of_it_is_changed() -> None:
    assert [item.summary for item in reviewed(CHANGED, SET).items] == ["no exceptions", "no exceptions"]


def test_changing_one_of_a_set_leaves_the_others_unproved_until_a_letter_is_there() -> None:
    changed = CHANGED + "  offered substitution\n"
    first, second = reviewed(changed, SET).items
    row = next(row for row in first.requirements if row.key == "set")
    assert (row.outcome, row.settles) == (
        NOT_SHOWN,
        "a compatibility letter",
    ) and row.means == "proved together with the mortar"
    assert first.summary == "open questions" and any(one.key == "set" for one in second.requirements)
    with_letter = reviewed(changed + 'paper "l" for "walls"\n  what compatibility letter\n  state on file\n', SET)
    assert with_letter.items[0].summary == "no exceptions"
    gone = reviewed(changed + 'paper "l" for "walls"\n  what compatibility letter\n  state missing\n', SET)
    assert gone.items[0].summary == "open questions"


REPORTS = SPEC.replace("  grout A118.7\n", "  grout A118.7\n  test report A118.10, not older than 3 years\n")


def reports(line: str, as_of: str = "2026-06-01") -> list[tuple[str, str]]:
    package = reviewed(
        f'submittal "w" for "walls"\n  membrane liquid A118.10, dry film 40 mil\n  {line}\n', REPORTS, as_of
    )
    return [(row.outcome, row.why) for row in only(package).requirements if row.key == "test report"]


def test_reports_age_and_name_their_laboratory() -> None:
    """Age and test house are what a reviewer asks of any report (common practice)."""
    good = 'test report A118.10, dated 2025-05-01, laboratory "Mill Lane test house"'
    assert reports(good) == []
    assert reports(good, "2028-04-29") == []
    assert reports(good, "2028-05-02") == [(FAILS, "it was 1096 days old on 2028-05-02")]
    assert reports("test report A118.10, dated 2025-05-01") == [(NOT_SHOWN, "it names no laboratory")]
    assert reports('test report A118.10, laboratory "Mill Lane test house"') == [(NOT_SHOWN, "it bears no date")]


def test_papers_that_are_demanded_and_not_there() -> None:
    spec = REPORTS + 'paper "demands" for "walls"\n  demands certificate, signed by contractor\n'
    asked = spec.replace(
        "  grout A118.7\n", "  grout A118.7\n  submittals data sheet, for mortar\n  certificate grade certificate\n"
    )
    assert [one.what for one in reviewed('submittal "m" for "walls"\n  mortar A118.15 T\n', asked).papers] == [
        "data sheet for the mortar", "certificate", "test report by ANSI A118.10", "certificate",
    ]  # fmt: skip
    there = '  with data sheet, certificate\n  test report A118.10, dated 2025-05-01, laboratory "x"\n'
    assert reviewed('submittal "m" for "walls"\n  mortar A118.15 T\n' + there, asked).papers == ()


def test_a_sheet_that_rules_out_its_own_use_is_to_be_revised() -> None:
    item = only(reviewed('submittal "m" for "walls"\n  mortar A118.15 T\n  not for showers\n'))
    assert item.summary == "revise" and [one.rule for one in item.breaks] == ["use-ruled-out-by-its-own-sheet"]
    assert only(reviewed('submittal "m" for "walls"\n  mortar A118.15 T\n  not for pools\n')).summary == "no exceptions"


def test_a_standard_of_the_past_is_told_with_its_successor() -> None:
    spec = SPEC.replace("chip 2 x 2 in", "chip 2 x 2 in\n  wet slip C1028 0.6")
    item = only(reviewed('submittal "t" for "pan"\n  wet slip wet DCOF 0.50\n', spec))
    row = next(row for row in item.requirements if row.means == "figure of the slip test")
    assert row.outcome == NOT_SHOWN and "withdrawn, ANSI A326.3 took its place" in row.why


def test_the_package_takes_the_worst_word() -> None:
    all_there = 'submittal "m" for "shower"\n  mortar A118.15 T\n'
    assert reviewed(all_there).summary == "open questions"  # other goods were not handed in
    assert reviewed("").summary == "open questions"
    assert reviewed('submittal "m" for "pan"\n  mortar A118.1\n').summary == "revise"


def test_too_many_items_are_refused() -> None:
    text = "".join(f'submittal "m{number}" for "pan"\n  mortar A118.15\n' for number in range(MOST_ITEMS + 1))
    with pytest.raises(UsageFault, match="not reviewed at once"):
        reviewed(text)


def test_the_names_of_the_data_exist() -> None:
    kit, data = shipped_kit(), submittal_data()
    keys, facts = kit.vocabulary.sections["submittal"].keys, kit.catalogue.facts
    items = kit.vocabulary.kinds["item kind"].words
    for goods in data["goods"]:
        assert goods["key"] in keys and goods["item"] in items
        assert [fact for fact in goods["facts"] if fact not in facts or fact not in keys[goods["key"]].facts] == []
        for key, pairs in goods.get("also", {}).items():
            assert key in keys and pairs.keys() <= keys[key].facts and set(pairs.values()) <= set(goods["facts"])
    for row in data["together"]:
        assert all(fact in facts for fact in row["facts"])
    for figure, method in data["by method"].items():
        assert figure in facts and method in facts
    words = [word for column in data["columns"].values() for word in column["words"]]
    assert len(words) == len(set(words))
    for column in data["columns"].values():
        assert ("is" in column) != ("says" in column) and column.get("line", "tile") in keys
    assert set(data["kinds"].values()) <= keys.keys()
