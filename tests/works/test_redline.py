"""What changed between two plans, and between two editions of a pack."""

from __future__ import annotations

import json
from pathlib import Path

from jsonschema import Draft7Validator

from speclint.files.data import data_folder
from speclint.forms.redline_json import redline_json
from speclint.forms.redline_text import redline_rows
from speclint.forms.rows import plain
from speclint.review.run import Options, review
from speclint.works.redline import CHANGED, GONE, NEW, Redline, changed_lines, changed_reports, changed_rules
from tests.plan.reading import plan_of
from tests.rules.shipped import shipped_kit

SCHEMA = json.loads((Path(data_folder("shared")) / "schemas" / "redline.json").read_text(encoding="utf-8"))
OLD = """plan "Mill Lane"
  answers to ansi
room "shower"
  exposure wet
assembly "walls" in "shower"
  surface wall "back", 60 in x 96 in
  membrane liquid A118.10
  mortar A118.15
  tile porcelain, nominal 12 x 24 in
  grout A118.7
"""


def compared(old: str, new: str) -> Redline:
    kit = shipped_kit()
    plans = [plan_of(text, kit) for text in (old, new)]
    reports = [review(plan, kit, Options(as_of="2026-06-01")) for plan in plans]
    return changed_reports(*reports)._replace(lines=changed_lines(plans[0].root, plans[1].root))


def test_the_same_plan_changes_nothing() -> None:
    assert compared(OLD, OLD).is_empty
    assert "nothing changed" in plain(redline_rows(compared(OLD, OLD), 80))


def test_moved_lines_and_comments_change_nothing() -> None:
    assert compared(OLD, OLD.replace("  mortar A118.15\n", "\n\n  # as agreed\n  mortar   A118.15\n")).is_empty


def test_lines_that_are_new_gone_or_changed() -> None:
    new = (
        OLD.replace("mortar A118.15", "mortar A118.1").replace("  grout A118.7\n", "")
        + '  joint 3/16 in\npart "niche" of "walls"\n  kind niche\n'
    )
    found = compared(OLD, new)
    assert [(one.change, one.address[-1], one.what, one.old, one.new) for one in found.lines] == [
        (CHANGED, "walls", "mortar", "mortar A118.15", "mortar A118.1"),
        (NEW, "walls", "joint", "", "joint 3/16 in"),
        (NEW, "niche", "part", "", ""),
        (NEW, "niche", "kind", "", "kind niche"),
        (GONE, "walls", "grout", "grout A118.7", ""),
    ]


def test_layers_are_told_by_their_role() -> None:
    found = compared(OLD, OLD.replace("  membrane", "  substrate cement board\n  membrane"))
    assert [(one.change, one.new) for one in found.lines] == [(NEW, "substrate cement board")]


def test_findings_and_questions_that_came_and_went() -> None:
    found = compared(OLD, OLD.replace("mortar A118.15", "mortar A118.1"))
    assert "mortar-too-weak-for-porcelain" in {one.rule for one in found.appeared}
    back = compared(OLD.replace("mortar A118.15", "mortar A118.1"), OLD)
    assert {one.rule for one in back.settled} == {one.rule for one in found.appeared}
    assert back.summaries == tuple(reversed(found.summaries or ()))
    asked = compared(OLD, OLD.replace("  mortar A118.15\n", ""))
    assert any(one.fact == "mortar.class" for one in asked.asked)


def test_rules_that_are_new_gone_renamed_or_changed() -> None:
    rules = shipped_kit().packs[0].rules
    first, second, third = rules[:3]
    assert changed_rules(rules, rules) == ()
    (gone,) = changed_rules(rules, rules[1:])
    assert (gone.change, gone.what) == (GONE, first.name)
    (new,) = changed_rules(rules[1:], rules)
    assert (new.change, new.what, new.new) == (NEW, first.name, first.message)
    heavier = second._replace(weight="other", cites=())
    assert [(one.what, one.address) for one in changed_rules([second], [heavier])] == [
        ("cites", (second.pack, second.name)), ("weight", (second.pack, second.name)),
    ]  # fmt: skip
    renamed = third._replace(name="called-otherwise", formerly=(third.name,))
    assert [(one.change, one.what, one.old, one.new) for one in changed_rules([third], [renamed])] == [
        (CHANGED, "name", third.name, "called-otherwise")
    ]


def test_json_holds_to_the_published_schema() -> None:
    Draft7Validator.check_schema(SCHEMA)
    found = compared(OLD, OLD.replace("mortar A118.15", "mortar A118.1"))
    rules = shipped_kit().packs[0].rules
    for one in (found, compared(OLD, OLD), found._replace(summaries=None, rules=changed_rules(rules, rules[1:]))):
        Draft7Validator(SCHEMA).validate(json.loads(redline_json(one)))
