"""``speclint layout``: the cuts, courses and openings of every surface, as text, for programs, or drawn to scale."""

from __future__ import annotations

import argparse
import os
import sys

from speclint.cli.parser import Parser, add_colour, add_into, parser
from speclint.cli.plans import code_of, plans_of
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.facts.build import build_subjects
from speclint.files.kit import load_kit
from speclint.kernel.faults import UsageFault
from speclint.plan.near import nearest_names
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.review.show import INCH, system_of
from speclint.works.layout import SurfaceLayout, layouts_of
from speclint.works.reading import Reader

FORMS = ("text", "json", "svg")


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "layout",
        "Lays out every surface of plans: cuts at both ends, first-course line, story pole, openings and the cuts\n"
        "round them, other ways ranked with reasons. --as svg draws elevations to scale: into one file, or into\n"
        "a folder (a name that ends in /) with one file for each surface.",
        "speclint layout walls.wetspec --as svg --into drawings/",
    )
    add = found.add_argument
    add("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (here if left out)")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--surface", default="", metavar="NAME", help="only the surface of this name, such as back")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_into(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Lay out every plan that can be read; 1 when a line was not read, 2 when a file was not."""
    kit = load_kit(packs=())
    plans, not_read = plans_of(chosen.paths, chosen.stdin_name, kit)
    layouts: list[SurfaceLayout] = []
    system = ""
    for plan in plans:
        found, of_plan = _of_plan(plan, kit)
        system = system or of_plan
        layouts.extend(found)
    layouts = _wanted(layouts, chosen.surface)
    system = system or INCH
    if chosen.form == "svg":
        _draw(layouts, system, chosen.into)
    elif chosen.form == "json":
        from speclint.forms.layout_json import layout_json

        put(layout_json(layouts, not_read), chosen.into)
    else:
        put(_text(chosen, layouts, system), chosen.into)
    return code_of(plans, not_read)


def _of_plan(plan: Plan, kit: Kit) -> tuple[tuple[SurfaceLayout, ...], str]:
    if plan.fragment:
        return (), ""
    root = build_subjects(plan, kit.catalogue)
    system = system_of(root)
    found = layouts_of(Reader(kit.catalogue, plan.root, system), root)
    return tuple(one._replace(address=(plan.root.name, *one.address)) for one in found), system


def _wanted(layouts: list[SurfaceLayout], name: str) -> list[SurfaceLayout]:
    if not name:
        return layouts
    plain = name.casefold().strip('"')
    kept = [one for one in layouts if plain in (one.name.casefold(), one.name.casefold().partition('"')[2].rstrip('"'))]
    if not kept:
        near = nearest_names(name, [one.name for one in layouts])
        raise UsageFault(f'no surface is named "{name}"{near}')
    return kept


def _draw(layouts: list[SurfaceLayout], system: str, into: str) -> None:
    from speclint.cli.drawings import put_drawings
    from speclint.forms.layout_drawing import elevation

    drawings = [elevation(layout, system) for layout in layouts]
    if not drawings:
        raise UsageFault("there is no surface to draw")
    put_drawings(drawings, into)


def _text(chosen: argparse.Namespace, layouts: list[SurfaceLayout], system: str) -> str:
    from speclint.forms.layout_text import layout_rows
    from speclint.forms.rows import plain

    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    return shown(layout_rows(layouts, system, width_of_output(os.environ)))
