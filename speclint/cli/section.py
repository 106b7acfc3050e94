"""``speclint section``: a cut through every assembly with the findings pinned to it, drawn to scale or as text."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from contextlib import ExitStack

from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.review import job_of
from speclint.cli.streams import put, tell
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.facts.build import build_subjects
from speclint.facts.catalogue import Catalogue
from speclint.kernel.faults import UsageFault
from speclint.plan.near import nearest_names
from speclint.plan.tree import Plan
from speclint.review.report import Report
from speclint.review.show import system_of
from speclint.works.section import cuts_of
from speclint.works.section_pins import Pin, pins_of
from speclint.works.section_values import Cut

FORMS = ("text", "json", "svg")
_SETTLED = {  # what `review` asks besides, as this command has it
    "as_found": "off", "changed_since": "", "policy_from": "", "stop_at": "", "stop_on": "",
    "alternates": False, "show_working": False,
}  # fmt: skip

Shown = tuple[str, str, Cut, tuple[Pin, ...]]
"""A plan's name, its system of units, a cut, and the findings on it."""


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "section",
        "Shows a cut through every assembly: layers from the structure to the tile, notch, ridges and bed, joint,\n"
        "change of plane, falls to the drain, curb, movement joints and trim, with the findings on each. --as svg\n"
        "draws them to scale: into one file, or into a folder (a name that ends in /) with one file a drawing.",
        "speclint section walls.wetspec --as svg --into drawings/",
    )
    add = found.add_argument
    add("paths", nargs="*", metavar="PATH", help="plan files or folders (those of the project, or here, if left out)")
    add("--as", dest="form", default="text", choices=FORMS, metavar="FORM", help=f"form: {', '.join(FORMS)}")
    add("--assembly", default="", metavar="NAME", help="only the assembly of this name, such as pan")
    add("--without-findings", action="store_true", help="leave out what the rules say")
    add("--as-of", default="", metavar="DATE", help="day by which variances are judged, such as 2026-04-02")
    add("--stage", default="", metavar="STAGE", help="stage of the job, before what plans say")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_into(found)
    add_packs(found)
    add_colour(found)
    found.set_defaults(**_SETTLED)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Cut every plan that can be read; exit code 1 when a line was not read, 2 when a file was not."""
    codes: list[int] = [0]
    not_read: list[tuple[str, str]] = []
    shown: list[Shown] = []
    with ExitStack() as held:
        job = job_of(chosen, held)._replace(keeps=True)
        for one in job.told(chosen.paths, chosen.stdin_name):
            codes.append(1 if one.plan is not None and one.plan.problems else one.code)
            if one.report is None:
                tell(f"{one.file}: {one.why}")
                not_read.append((one.file, one.why))
            elif one.plan is not None and not one.plan.fragment:
                shown.extend(_of_plan(one.plan, None if chosen.without_findings else one.report, job.kit.catalogue))
    shown = _wanted(shown, chosen.assembly)
    if chosen.form == "svg":
        _draw(shown, chosen.into)
    elif chosen.form == "json":
        from speclint.forms.section_json import section_json

        put(section_json([(name, cut, pins) for name, _, cut, pins in shown], not_read), chosen.into)
    else:
        put(_text(chosen, shown), chosen.into)
    return max(codes)


def _of_plan(plan: Plan, report: Report | None, catalogue: Catalogue) -> list[Shown]:
    for problem in plan.problems:
        tell(str(problem))
    root = build_subjects(plan, catalogue)
    system = system_of(root)
    return [(plan.root.name, system, cut, pins_of(cut, report)) for cut in cuts_of(plan, root, system)]


def _wanted(shown: Sequence[Shown], name: str) -> list[Shown]:
    if not name:
        return list(shown)
    kept = [one for one in shown if one[2].address[-1].casefold() == name.casefold()]
    if not kept:
        near = nearest_names(name, [one[2].address[-1] for one in shown])
        raise UsageFault(f'no assembly is named "{name}"{near}')
    return kept


def _draw(shown: Sequence[Shown], into: str) -> None:
    from speclint.cli.drawings import put_drawings
    from speclint.forms.section_drawing import section_drawings

    drawings = [one for name, system, cut, pins in shown for one in section_drawings(cut, pins, system, name)]
    if not drawings:
        raise UsageFault("there is no assembly to draw")
    put_drawings(drawings, into)


def _text(chosen: argparse.Namespace, shown: Sequence[Shown]) -> str:
    from speclint.forms.rows import plain
    from speclint.forms.section_text import section_rows

    as_text = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        as_text = coloured
    width = width_of_output(os.environ)
    return "\n".join(as_text(section_rows(cut, pins, system, name, width)) for name, system, cut, pins in shown)
