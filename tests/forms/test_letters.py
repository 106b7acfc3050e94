"""The open questions as letters: each question in one letter, to a role, with its clauses and a blank."""

from __future__ import annotations

from speclint.forms.letters import letters_form
from speclint.packs.rule import Rule
from tests.forms.reports import CLEAN, FULL
from tests.rules.shipped import shipped, shipped_kit

SENT_TO = {"tape measure": "setter", "box label": "setter", "bag": "setter"}


def test_every_question_stands_in_the_letter_of_one_role() -> None:
    told = letters_form(FULL, {}, SENT_TO)
    flat = " ".join(told.split())
    heads = [line.split(":")[1].strip() for line in told.splitlines() if line.startswith("to:")]
    assert len(heads) == len(set(heads)) > 1
    assert not {"the tape measure", "the box label", "the bag"} & set(heads)
    for question in FULL.questions:
        assert flat.count(question.text) == 1
    assert told.count("answer:") == len(FULL.questions)
    assert told.count("silence is not taken as a yes") == len(heads)


def test_a_letter_tells_what_an_answer_settles_with_its_clauses() -> None:
    rule: Rule = shipped()[0]["bed-thinner-than-the-gap"]
    asked = FULL.questions[0]._replace(frees=(rule.name, "another"))
    flat = " ".join(letters_form(FULL._replace(questions=(asked,)), {rule.name: rule}, {}).split())
    assert "bed-thinner-than-the-gap (ANSI A108.5, 2.2.2 (derived)" in flat
    assert "and 1 further rule" in flat


def test_what_follows_without_an_answer_hangs_on_weight_and_stage() -> None:
    heavy, light = FULL.questions[0]._replace(weight="callback"), FULL.questions[0]._replace(weight="remark")
    told = {
        (stage, one.weight): " ".join(letters_form(FULL._replace(stage=stage, questions=(one,)), {}, {}).split())
        for stage in ("design", "before tile")
        for one in (heavy, light)
    }
    assert "from stage before membrane on it stops the work" in told["design", "callback"]
    assert "at this stage it stops the work" in told["before tile", "callback"]
    assert "stop nothing" in told["before tile", "remark"]


def test_where_nothing_is_open_there_is_no_letter() -> None:
    assert "no letter to send" in letters_form(CLEAN, {}, {})


def test_every_question_of_the_catalogue_goes_to_a_role() -> None:
    kit = shipped_kit()
    roles = kit.vocabulary.kinds["role"].words
    for name, word in kit.vocabulary.kinds["answerer"].words.items():
        assert word.properties.get("sent-to", name) in roles
