"""``speclint closeout``: the record of a plan, what is missing from it, and forms to fill in by pencil."""

from __future__ import annotations

import argparse
import os
import sys
from contextlib import ExitStack

from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.plans import code_of, plans_of
from speclint.cli.review import day, stage_of
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.attached import attached
from speclint.files.kit import SHIPPED, load_kit
from speclint.files.left_out import with_left_out
from speclint.files.policy import left_out_of, read_policy
from speclint.kernel.faults import UsageFault
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.review.run import Options
from speclint.works.closeout import closeout
from speclint.works.closeout_values import Closeout

FORMS = ("text", "json", "csv", "md")


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "closeout",
        "Tells of every room and assembly of plans how it was built, which records and papers are on file, which are\n"
        "missing, what each of those would have shown, and what proves it second best. --blank prints a form to fill\n"
        "in by pencil for each that is not on file, with the limits of the rules on it.",
        "speclint closeout shower.wetspec --blank --into forms.txt",
    )
    add = found.add_argument
    add("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (here if left out)")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--blank", action="store_true", help="forms to fill in by pencil, 80 columns wide, one a sheet")
    add("--stage", default="", metavar="STAGE", help="take all plans as being at this stage, such as closeout")
    add("--as-of", default="", metavar="DATE", help="the day on which variances are looked at, such as 2026-06-01")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_packs(found)
    add_into(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Tell of every plan that can be read; exit code 1 when a line was not read, 2 when a file was not."""
    if chosen.blank and chosen.form != "text":
        raise UsageFault("forms to fill in by pencil are plain text: leave out --as")
    with ExitStack() as held:
        start = next((path for path in chosen.paths if path != "-" and os.path.lexists(path)), ".")
        policy = read_policy(start, "", held.enter_context)
        own = (*(folder for folder, _ in policy.own_packs), *chosen.pack)
        kit = load_kit(packs=tuple(policy.project.packs) or SHIPPED, extra_paths=own, labels=policy.labels)
    settings = Options(stage=stage_of(chosen.stage, kit), as_of=day(chosen.as_of, os.environ))
    lines = left_out_of(policy, kit)
    read, not_read = plans_of(chosen.paths, chosen.stdin_name, kit)
    plans = tuple(with_left_out(plan, lines) for plan in read)
    put(_blanks(plans, kit, settings) if chosen.blank else _told(chosen, plans, kit, settings, not_read), chosen.into)
    return code_of(plans, not_read)


def _blanks(plans: tuple[Plan, ...], kit: Kit, settings: Options) -> str:
    from speclint.forms.blank_text import blank_text
    from speclint.works.blank_forms import blank_forms

    forms = [form for plan in plans if not plan.fragment for form in blank_forms(plan, kit, settings)]
    return blank_text(forms, whole=not any(plan.problems for plan in plans))


def _told(
    chosen: argparse.Namespace,
    plans: tuple[Plan, ...],
    kit: Kit,
    settings: Options,
    not_read: tuple[tuple[str, str], ...],
) -> str:
    found = [closeout(plan, kit, attached, settings) for plan in plans]
    if chosen.form == "json":
        from speclint.forms.closeout_json import closeout_json

        return closeout_json(found, not_read)
    if chosen.form in ("csv", "md"):
        from speclint.forms.closeout_tables import closeout_csv, closeout_markdown

        return closeout_csv(found) if chosen.form == "csv" else closeout_markdown(found)
    return _text(chosen, found)


def _text(chosen: argparse.Namespace, found: list[Closeout]) -> str:
    from speclint.forms.closeout_text import closeout_rows
    from speclint.forms.rows import plain

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    width = width_of_output(os.environ)
    return "\n".join(shown(closeout_rows(one, width)) for one in found)
