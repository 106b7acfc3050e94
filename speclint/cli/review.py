"""``speclint review``: the main job."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import NamedTuple

from speclint.cli.machine import MACHINE, Whole
from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.streams import put, standard_input, tell
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.kit import load_kit
from speclint.files.plans import find_plans, load_plan, plan_of_bytes
from speclint.kernel.faults import EngineDefect, SpeclintError, UsageFault
from speclint.plan.near import nearest_names
from speclint.review.gate import exit_code, worst
from speclint.review.kit import Kit
from speclint.review.report import Report
from speclint.review.run import Options, review

_COULD_NOT, _FAULTY = 2, 70
_FORMS = ("text", "lines")


class Told(NamedTuple):
    """What came of one file: its report, or why there is none, and its exit code."""

    file: str
    report: Report | None
    why: str
    code: int


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "review", "Reviews plans (files, or folders with *.wetspec; - reads standard input).", "speclint review plans/"
    )
    add = found.add_argument
    add("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (here if left out)")
    add("--as", dest="form", default="text", choices=(*_FORMS, *MACHINE), metavar="FORM", help=_forms_help())
    add("--junit-flavour", default="strict", choices=("strict", "loose"), help="loose: with file and line")
    add_into(found)
    add("--as-of", default="", metavar="DATE", help="day by which variances are judged, such as 2026-04-02")
    add("--stage", default="", metavar="STAGE", help="stage of the job, before what plans say")
    stop = "least weight of a finding that makes the exit code 1"
    add("--stop-at", default="callback", choices=("tear-out", "callback", "remark"), help=stop)
    add("--stop-on", default="", choices=("questions",), help="let open questions of that weight stop too")
    add("--all-questions", action="store_true", help="show all open questions, not the first seven")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_packs(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Review every plan; the rest goes on when one of them fails."""
    kit = load_kit(extra_paths=chosen.pack)
    settings = Options(stage=stage_of(chosen.stage, kit), as_of=day(chosen.as_of, os.environ))
    told = _reviewed(chosen, kit, settings)
    if chosen.form in MACHINE:
        return _whole(chosen, told, kit)
    write = {"text": _text, "lines": _lines}[chosen.form]
    return write(chosen, told)


def _forms_help() -> str:
    return f"form of the output: {', '.join((*_FORMS, *MACHINE))}"


def stage_of(text: str, kit: Kit) -> str:
    """The stage that a person named, by any of its spellings; raises UsageFault with the nearest."""
    if not text:
        return ""
    kind = kit.vocabulary.kinds["stage"]
    wanted = " ".join(text.casefold().split())
    for rows in kind.spellings.values():
        for spelling, name in rows:
            if wanted == " ".join(spelling).replace(" - ", "-"):
                return name
    if wanted in kind.words:
        return wanted
    near = nearest_names(wanted, kind.words) or f"; there are {', '.join(kind.order)}"
    raise UsageFault(f'no stage is named "{text}"{near}')


def day(text: str, environ: Mapping[str, str]) -> str:
    """The day to judge by: as given, else of SOURCE_DATE_EPOCH, else today; raises UsageFault if it is no day."""
    if not text:
        epoch = environ.get("SOURCE_DATE_EPOCH", "")
        moment = time.gmtime(int(epoch[:12])) if epoch.isascii() and epoch.isdigit() else time.localtime()
        return time.strftime("%Y-%m-%d", moment)
    plain = len(text) == 10 and text[4] == text[7] == "-" and text.replace("-", "").isascii()
    try:
        if plain:
            time.strptime(text, "%Y-%m-%d")
            return text
    except ValueError:
        pass
    raise UsageFault(f'"{text}" is no day; write year, month and day such as 2026-04-02')


def _reviewed(chosen: argparse.Namespace, kit: Kit, settings: Options) -> Iterator[Told]:
    """What comes of each file in order, one at a time."""
    paths = [path for path in chosen.paths if path != "-"]
    if "-" in chosen.paths:
        yield _one(chosen.stdin_name, partial(_input_report, chosen.stdin_name, kit, settings))
    found = find_plans(paths)
    for path, why in found.not_read:
        yield Told(path, None, why, _COULD_NOT)
    for path in found.paths:
        yield _one(path, partial(_file_report, path, kit, settings))
    if "-" not in chosen.paths and not found.paths and not found.not_read:
        yield Told(" ".join(chosen.paths), None, "there is no plan here (no file ends in .wetspec)", _COULD_NOT)


def _file_report(path: str, kit: Kit, settings: Options) -> Report:
    return review(load_plan(path, kit), kit, settings)


def _input_report(name: str, kit: Kit, settings: Options) -> Report:
    return review(plan_of_bytes(standard_input(), name, kit), kit, settings)


def _one(path: str, work: Callable[[], Report]) -> Told:
    """The report on one file; a fault in it is told and does not stop the others."""
    try:
        return Told(path, work(), "", 0)
    except EngineDefect as error:
        return _faulty(path, error)
    except SpeclintError as error:
        return Told(path, None, str(error).removeprefix(f"{path}: "), _COULD_NOT)
    except Exception as error:  # a bug met on one plan must not hide the findings on the others
        return _faulty(path, error)


def _faulty(path: str, error: Exception) -> Told:
    why = f"a fault of speclint itself ({type(error).__name__}: {error}); please report it with the plan"
    return Told(path, None, why, _FAULTY)


def _code(chosen: argparse.Namespace, told: Told) -> int:
    if told.report is None:
        tell(f"{told.file}: {told.why}")
        return told.code
    return exit_code(told.report, chosen.stop_at, chosen.stop_on == "questions")


def _text(chosen: argparse.Namespace, told: Iterator[Told]) -> int:
    from speclint.forms.rows import plain
    from speclint.forms.text import Look, tally, text_rows

    look = Look(width_of_output(os.environ), chosen.all_questions)
    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    summaries: list[tuple[str, bool]] = []

    def written(report: Report) -> str:
        summaries.append((report.summary, report.fragment))
        return ("\n" if len(summaries) > 1 else "") + shown(text_rows(report, look))

    def last() -> str:
        return "\n" + tally(summaries) if len(summaries) > 1 else ""

    return _each(chosen, told, written, last)


def _lines(chosen: argparse.Namespace, told: Iterator[Told]) -> int:
    from speclint.forms.lines import lines_form

    return _each(chosen, told, lines_form, str)


def _each(
    chosen: argparse.Namespace, told: Iterator[Told], written: Callable[[Report], str], last: Callable[[], str]
) -> int:
    """Write each report as it comes, or all at once into a file."""
    codes: list[int] = []
    kept: list[str] = []
    for one in told:
        codes.append(_code(chosen, one))
        if one.report is not None:
            kept.append(written(one.report))
            if not chosen.into:
                put(kept.pop())
    put("".join([*kept, last()]), chosen.into)
    return worst(tuple(codes))


def _whole(chosen: argparse.Namespace, told: Iterator[Told], kit: Kit) -> int:
    """Write all reports at once in a form for programs."""
    everything = list(told)
    codes = [_code(chosen, one) for one in everything]
    reports = [one.report for one in everything if one.report is not None]
    not_read = [(one.file, one.why) for one in everything if one.report is None]
    text = MACHINE[chosen.form](Whole(reports, not_read, kit, chosen.junit_flavour == "loose"))
    put(text, chosen.into)
    return worst(tuple(codes))
