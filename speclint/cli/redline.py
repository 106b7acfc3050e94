"""``speclint redline``: what changed between two states of a plan, or two editions of packs."""

from __future__ import annotations

import argparse
import os
import sys

from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.review import day, stage_of
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.kit import SHIPPED, load_kit
from speclint.files.plans import load_plan
from speclint.kernel.faults import ReadFault, UsageFault
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.review.run import HEAVY, Options, review
from speclint.works.redline import Redline, changed_lines, changed_reports, changed_rules

FORMS = ("text", "json")
PACK = "pack.yaml"
_SAME, _WORSE = 0, 1


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "redline",
        "Shows which lines, findings and questions changed between two states of a plan; or, of two folders that hold\n"
        "editions of a pack, which rules changed, and with --plan what that changes for a plan.",
        "speclint redline tender.wetspec contract.wetspec",
    )
    add = found.add_argument
    add("old", metavar="OLD", help="the earlier plan, or the folder of the earlier edition of a pack")
    add("new", metavar="NEW", help="the later plan, or the folder of the later edition")
    add("--plan", default="", metavar="FILE", help="with two packs: a plan to review by both")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--as-of", default="", metavar="DATE", help="day by which variances are judged, such as 2026-04-02")
    add("--stage", default="", metavar="STAGE", help="stage of the job, before what plans say")
    add_into(found)
    add_packs(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Compare the two; exit code 1 where a finding of weight callback or more appeared."""
    packs = [os.path.isfile(os.path.join(path, PACK)) for path in (chosen.old, chosen.new)]
    if packs[0] != packs[1]:
        raise UsageFault("redline compares two plans, or two folders that each hold a pack.yaml")
    if chosen.plan and not packs[0]:
        raise UsageFault("--plan goes with two folders of packs")
    found = _packs(chosen) if packs[0] else _plans(chosen)
    put(_form(chosen, found), chosen.into)
    return _WORSE if any(one.weight in HEAVY and not one.variance for one in found.appeared) else _SAME


def _plans(chosen: argparse.Namespace) -> Redline:
    kit = load_kit(packs=SHIPPED, extra_paths=chosen.pack)
    old, new = _read(chosen.old, kit), _read(chosen.new, kit)
    return _reviewed(chosen, old, new, kit, kit)._replace(lines=changed_lines(old.root, new.root))


def _packs(chosen: argparse.Namespace) -> Redline:
    kits = [load_kit(packs=(), extra_paths=(path, *chosen.pack)) for path in (chosen.old, chosen.new)]
    old, new = ([rule for pack in kit.packs for rule in pack.rules] for kit in kits)
    found = Redline(chosen.old, chosen.new, None, (), (), (), (), (), ())
    if chosen.plan:
        before, after = (_read(chosen.plan, kit) for kit in kits)
        found = _reviewed(chosen, before, after, kits[0], kits[1])._replace(old=chosen.old, new=chosen.new)
    return found._replace(rules=changed_rules(old, new))


def _reviewed(chosen: argparse.Namespace, old: Plan, new: Plan, old_kit: Kit, new_kit: Kit) -> Redline:
    settings = Options(stage_of(chosen.stage, new_kit), day(chosen.as_of, os.environ))
    return changed_reports(review(old, old_kit, settings), review(new, new_kit, settings))


def _read(path: str, kit: Kit) -> Plan:
    """A plan that is read whole: of one with unreadable lines no one can say what changed."""
    plan = load_plan(path, kit)
    if plan.problems:
        raise ReadFault(*plan.problems)
    return plan


def _form(chosen: argparse.Namespace, found: Redline) -> str:
    if chosen.form == "json":
        from speclint.forms.redline_json import redline_json

        return redline_json(found)
    from speclint.forms.redline_text import redline_rows
    from speclint.forms.rows import plain

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    return shown(redline_rows(found, width_of_output(os.environ)))
