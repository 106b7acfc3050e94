"""``speclint takeoff``: what to order for a plan or a folder of plans, and how each quantity was reached."""

from __future__ import annotations

import argparse
import os
import sys

from speclint.cli.parser import Parser, add_colour, add_into, parser
from speclint.cli.plans import code_of, plans_of
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.kit import load_kit
from speclint.kernel.faults import UsageFault
from speclint.works.lines import Takeoff
from speclint.works.takeoff import takeoff

FORMS = ("text", "csv", "json", "xlsx")


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "takeoff",
        "Tells the quantities of plans (files, or folders with *.wetspec): room by room, and one order of all,\n"
        "rounded to whole bags and cartons once. What a plan does not tell is named in the line that needs it.",
        "speclint takeoff plans/ --as csv --into order.csv",
    )
    add = found.add_argument
    add("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (here if left out)")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--bom", action="store_true", help="begin a CSV with a byte order mark, for spreadsheets on the desktop")
    add("--order-only", action="store_true", help="text: the order without the lines of each room")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_into(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Take off every plan that can be read; 1 when a line was not read, 2 when a file was not."""
    if chosen.form == "xlsx" and not chosen.into:
        raise UsageFault("a workbook is written into a file: add --into order.xlsx")
    if chosen.bom and chosen.form != "csv":
        raise UsageFault("--bom goes with --as csv")
    kit = load_kit(packs=())
    plans, not_read = plans_of(chosen.paths, chosen.stdin_name, kit)
    found = takeoff(plans, kit.catalogue)
    found = found._replace(left_out=(*found.left_out, *(f"{file}: {why}" for file, why in not_read)))
    if chosen.form == "xlsx":
        from speclint.files.write import replace_bytes
        from speclint.forms.takeoff_xlsx import workbook

        replace_bytes(chosen.into, workbook(found))
    else:
        put(_text(chosen, found, not_read), chosen.into)
    return code_of(plans, not_read)


def _text(chosen: argparse.Namespace, found: Takeoff, not_read: tuple[tuple[str, str], ...]) -> str:
    if chosen.form == "csv":
        from speclint.forms.takeoff_cells import csv_form

        return csv_form(found, chosen.bom)
    if chosen.form == "json":
        from speclint.forms.takeoff_json import takeoff_json

        return takeoff_json(found, not_read)
    from speclint.forms.rows import plain
    from speclint.forms.takeoff_text import takeoff_rows

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    return shown(takeoff_rows(found, width_of_output(os.environ), chosen.order_only))
