"""``speclint submittal``: what was handed in against a specification, and the page to send back."""

from __future__ import annotations

import argparse
import os
import sys
from contextlib import ExitStack

from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.review import day, stage_of
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.kit import SHIPPED, load_kit
from speclint.files.left_out import with_left_out
from speclint.files.plans import load_plan
from speclint.files.policy import check_pins, left_out_of, read_policy, roles_of
from speclint.files.product_data import read_product_data, submittal_data
from speclint.kernel.faults import Problem, UsageFault
from speclint.plan.sections import Section
from speclint.review.report import OPEN, REVISE
from speclint.review.run import Options
from speclint.works.goods import knowledge
from speclint.works.handed import Package
from speclint.works.submittal import review_submittal

FORMS = ("text", "md", "json", "csv")
_GOES, _STOPS = 0, 1


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "submittal",
        "Reviews what a contractor hands in against a specification: each property specified and handed in, side by\n"
        "side, then the work again as submitted. Items stand in submittal sections of the plan or of a file, or in a\n"
        "table (CSV or workbook) with one row an item and head words such as kind, for, class, size, thickness (in).",
        "speclint submittal spec.wetspec --data products.csv --as md --into transmittal.md",
    )
    add = found.add_argument
    add("spec", metavar="SPEC", help="the plan that serves as specification")
    add("--data", action="append", default=[], metavar="FILE", help="product data: .csv, .xlsx or .wetspec")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--bom", action="store_true", help="begin a CSV with a byte order mark, for spreadsheets on the desktop")
    add_into(found)
    add("--as-of", default="", metavar="DATE", help="day by which reports grow old, such as 2026-04-02")
    add("--stage", default="", metavar="STAGE", help="stage of the job, before what the plan says")
    add("--stop-on", default="", choices=("questions",), help="let open questions make the exit code 1 too")
    add_packs(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Review the submittal; exit code 1 where an item is to be revised or something could not be read."""
    if chosen.bom and chosen.form != "csv":
        raise UsageFault("--bom goes with --as csv")
    with ExitStack() as held:
        package = _package(chosen, held)
    put(_form(chosen, package), chosen.into)
    stops = {REVISE, OPEN} if chosen.stop_on else {REVISE}
    return _STOPS if package.unread or package.summary in stops else _GOES


def _package(chosen: argparse.Namespace, held: ExitStack) -> Package:
    """The review, with the office's own words from the project file."""
    policy = read_policy(chosen.spec if os.path.lexists(chosen.spec) else ".", "", held.enter_context)
    project = policy.project
    own = (*(folder for folder, _ in policy.own_packs), *chosen.pack)
    kit = load_kit(packs=tuple(project.packs) or SHIPPED, extra_paths=own, labels=policy.labels)
    check_pins(project, kit)
    data = submittal_data()
    sections: list[Section] = []
    problems: list[Problem] = []
    for path in chosen.data:
        found, wrong = read_product_data(path, data, kit)
        sections.extend(found)
        problems.extend(wrong)
    plan = with_left_out(load_plan(chosen.spec, kit, sections), left_out_of(policy, kit))
    if plan.fragment:
        raise UsageFault(f'{chosen.spec}: a specification begins with a line such as: plan "name"')
    plan = plan._replace(problems=(*plan.problems, *problems))
    settings = Options(stage_of(chosen.stage, kit), day(chosen.as_of, os.environ), roles=roles_of(policy, kit))
    names = [os.path.normpath(path).replace(os.sep, "/") for path in chosen.data]
    package = review_submittal(plan, kit, knowledge(data, kit.catalogue), settings, names)
    words = project.words
    items = tuple(item._replace(said=words.get(item.summary, "")) for item in package.items)
    return package._replace(items=items, said=words.get(package.summary, ""))


def _form(chosen: argparse.Namespace, package: Package) -> str:
    if chosen.form == "md":
        from speclint.forms.submittal_md import transmittal

        return transmittal(package)
    if chosen.form == "json":
        from speclint.forms.submittal_json import submittal_json

        return submittal_json(package)
    if chosen.form == "csv":
        from speclint.forms.submittal_cells import submittal_csv

        return submittal_csv(package, chosen.bom)
    from speclint.forms.rows import plain
    from speclint.forms.submittal_text import submittal_rows

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    return shown(submittal_rows(package, width_of_output(os.environ)))
