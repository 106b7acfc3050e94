"""``speclint review``: the main job."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack

from speclint.cli.job import COULD_NOT, FAULTY, AsFound, Job, Told
from speclint.cli.machine import MACHINE, Whole
from speclint.cli.parser import Parser, add_colour, add_into, add_packs, parser
from speclint.cli.streams import put, tell
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.history import revision
from speclint.files.kit import SHIPPED, load_kit
from speclint.files.policy import check_pins, left_out_of, read_policy, roles_of
from speclint.files.project import Project
from speclint.kernel.faults import EngineDefect, SpeclintError, UsageFault
from speclint.plan.near import nearest_names
from speclint.review.gate import Bar, exit_code, worst
from speclint.review.kit import Kit
from speclint.review.report import Report
from speclint.review.run import Options

_FORMS = ("text", "lines", "letters", "html", "card")
_HEADS = ("role", "spec-part", "room")
_AS_FOUND = "findings recorded when the gate was adopted: check them, or rewrite their file (records, or strikes off)"
_POLICY = "project file, own packs, as found and variances as they stood there, so that no change excuses itself"


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "review", "Reviews plans (files, or folders with *.wetspec; - reads standard input).", "speclint review plans/"
    )
    add = found.add_argument
    add("paths", nargs="*", metavar="PATH", help="plan files or folders (those of the project, or here, if left out)")
    add("--as", dest="form", default="text", choices=(*_FORMS, *MACHINE), metavar="FORM", help=_forms_help())
    add("--junit-flavour", default="strict", choices=("strict", "loose"), help="loose: with file and line")
    add_into(found)
    add("--as-of", default="", metavar="DATE", help="day by which variances are judged, such as 2026-04-02")
    add("--stage", default="", metavar="STAGE", help="stage of the job, before what plans say")
    stop = "least weight of a finding that makes the exit code 1"
    add("--stop-at", default="", choices=("tear-out", "callback", "remark"), help=f"{stop} (callback if left out)")
    add("--stop-on", default="", choices=("questions",), help="let open questions of that weight stop too")
    add("--as-found", default="", choices=("check", "rewrite", "off"), help=_AS_FOUND)
    add("--changed-since", default="", metavar="REV", help="only plans that changed since, or include what changed")
    add("--policy-from", default="", metavar="REV", help=_POLICY)
    add("--alternates", action="store_true", help="say below a finding which other lines would pass instead")
    add("--by", default="", choices=_HEADS, help="text and html: findings by who acts, part of the spec, room")
    add("--all-questions", action="store_true", help="show all open questions, not the first seven")
    add("--show-working", action="store_true", help="tell inputs, formula in words and result of every computation")
    add("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_packs(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Review every plan; the rest goes on when one of them fails."""
    with ExitStack() as held:
        try:
            job = job_of(chosen, held)
        except SpeclintError as error:
            if chosen.form not in MACHINE:
                raise
            return _could_not(chosen, error)
        told = job._replace(keeps=chosen.form in ("html", "card")).told(chosen.paths, chosen.stdin_name)
        if chosen.form in MACHINE:
            return _whole(chosen, told, job)
        forms = {"text": _text, "lines": _lines, "letters": _letters, "html": _page, "card": _page}
        return forms[chosen.form](chosen, told, job)


def job_of(chosen: argparse.Namespace, held: ExitStack) -> Job:
    """All that the run needs: what the project settles, the kit it asks for, and the options, which stand before it."""
    start = next((path for path in chosen.paths if path != "-" and os.path.lexists(path)), ".")
    policy = read_policy(start, chosen.policy_from, held.enter_context)
    project = policy.project
    own = (*(folder for folder, _ in policy.own_packs), *chosen.pack)
    kit = load_kit(packs=tuple(project.packs) or SHIPPED, extra_paths=own, labels=policy.labels)
    check_pins(project, kit)
    if chosen.as_found == "rewrite" and (policy.at or chosen.changed_since):
        raise UsageFault(
            "--as-found rewrite looks at all plans as they stand: leave out --policy-from, --changed-since"
        )
    return Job(
        kit=kit,
        policy=policy,
        settings=Options(
            stage=stage_of(chosen.stage, kit),
            as_of=day(chosen.as_of, os.environ),
            working=chosen.show_working or chosen.form == "html",
            roles=roles_of(policy, kit),
        ),
        bar=_bar(chosen, project, kit),
        as_found=AsFound(policy, chosen.as_found or ("check" if project.as_found else "off")),
        changed=revision(chosen.changed_since, project.root) if chosen.changed_since else None,
        lines=left_out_of(policy, kit),
        alternates=chosen.alternates,
    )


def _bar(chosen: argparse.Namespace, project: Project, kit: Kit) -> Bar:
    """What stops, by the options, else the project, else as usual."""
    order = kit.vocabulary.kinds["stage"].order
    late = stage_of(project.questions_from, kit)
    early = frozenset(order[: order.index(late)]) if late else Bar().early
    return Bar(chosen.stop_at or project.stop_at or "callback", chosen.stop_on == "questions", early)


def _could_not(chosen: argparse.Namespace, error: SpeclintError) -> int:
    """A run that could not begin, in a form for programs, so that none of them takes silence for a pass."""
    tell(str(error))
    put(MACHINE[chosen.form](Whole((), [("the run", str(error))], (), False)), chosen.into)
    return FAULTY if isinstance(error, EngineDefect) else COULD_NOT


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


def _text(chosen: argparse.Namespace, told: Iterator[Told], job: Job) -> int:
    from speclint.forms.rows import plain
    from speclint.forms.text import Look, tally, text_rows

    look = Look(width_of_output(os.environ), chosen.all_questions, chosen.by)
    shown = plain
    if not chosen.into and want_colour(chosen.color, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        shown = coloured
    summaries: list[tuple[str, bool]] = []

    def written(report: Report) -> str:
        summaries.append((report.said or report.summary, report.fragment))
        return ("\n" if len(summaries) > 1 else "") + shown(text_rows(report, look))

    def last() -> str:
        return "\n" + tally(summaries) if len(summaries) > 1 else ""

    return _each(chosen, told, written, last, job)


def _lines(chosen: argparse.Namespace, told: Iterator[Told], job: Job) -> int:
    from speclint.forms.lines import lines_form

    return _each(chosen, told, lines_form, str, job)


def _page(chosen: argparse.Namespace, told: Iterator[Told], job: Job) -> int:
    from speclint.cli.page import card_of, page_of

    everything = list(told)
    codes = tuple(_code(job, one) for one in everything)
    made = (
        card_of(everything, job.kit) if chosen.form == "card" else page_of(everything, job.kit, chosen.by or "weight")
    )
    put(made, chosen.into)
    return worst(codes)


def _letters(chosen: argparse.Namespace, told: Iterator[Told], job: Job) -> int:
    from speclint.forms.letters import letters_form
    from speclint.review.gates import book_of

    rules = book_of(job.kit.packs, job.kit.catalogue).rules
    words = job.kit.vocabulary.kinds["answerer"].words
    sent_to = {name: str(word.properties.get("sent-to", name)) for name, word in words.items()}
    width = width_of_output(os.environ)
    return _each(chosen, told, lambda report: letters_form(report, rules, sent_to, width), str, job)


def _each(
    chosen: argparse.Namespace,
    told: Iterator[Told],
    written: Callable[[Report], str],
    last: Callable[[], str],
    job: Job,
) -> int:
    """Write each report as it comes, or all at once into a file."""
    codes: list[int] = []
    kept: list[str] = []
    for one in told:
        codes.append(_code(job, one))
        if one.report is not None:
            kept.append(written(one.report))
            if not chosen.into:
                put(kept.pop())
    put("".join([*kept, last()]), chosen.into)
    return worst(tuple(codes))


def _code(job: Job, told: Told) -> int:
    if told.report is None:
        tell(f"{told.file}: {told.why}")
        return told.code
    return exit_code(told.report, job.bar)


def _whole(chosen: argparse.Namespace, told: Iterator[Told], job: Job) -> int:
    """Write all reports at once in a form for programs."""
    everything = list(told)
    codes = [_code(job, one) for one in everything]
    reports = [one.report for one in everything if one.report is not None]
    not_read = [(one.file, one.why) for one in everything if one.report is None]
    text = MACHINE[chosen.form](Whole(reports, not_read, job.kit.packs, chosen.junit_flavour == "loose"))
    put(text, chosen.into)
    return worst(tuple(codes))
