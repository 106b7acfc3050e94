"""A Markdown page for the summary of a run: one row a plan, then what stops it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from speclint.forms.as_found import stopping_records
from speclint.forms.markup import markdown
from speclint.forms.phrases import counted
from speclint.forms.place import address_words
from speclint.review.report import Report

MOST = 200  # findings and questions that are written out


def summary_form(
    reports: Sequence[Report], path: Callable[[str], str], not_read: Sequence[tuple[str, str]] = ()
) -> str:
    """The page; nothing of a plan's text can end a row, open a tag or make a link."""
    lines = ["## speclint", "", "| plan | summary | findings | questions | to come |", "|---|---|---|---|---|"]
    for report in reports:
        numbers = (len(report.findings), len(report.questions), len(report.to_come))
        cells = (
            markdown(path(report.file)),
            markdown(report.said or report.summary),
            *(str(number) for number in numbers),
        )
        lines.append(f"| {' | '.join(cells)} |")
    lines += [f"| {markdown(path(file))} | not read: {markdown(why)} | | | |" for file, why in not_read]
    told = [line for report in reports for line in _told(report, path)]
    lines += ["", *told[:MOST]]
    if len(told) > MOST:
        lines.append(f"- and {counted(len(told) - MOST, 'more')}")
    return "\n".join(lines).rstrip() + "\n"


def _told(report: Report, path: Callable[[str], str]) -> list[str]:
    lines = [
        f"- **unreadable** {_at(path(one.span.file), one.span.line)}: {markdown(one.message)}" for one in report.unread
    ]
    for record in stopping_records(report, path(report.file)):
        lines.append(f"- **{record.state}** {markdown(path(report.file))}: {markdown(record.text.partition(': ')[2])}")
    for one in report.findings:
        way = f" (let through: {markdown(one.variance)})" if one.variance else ""
        way += _known(one.known)
        place = f"{_at(path(one.span.file), one.span.line)}, {markdown(address_words(one.places[0].address))}"
        lines.append(f"- **{one.weight}** {markdown(one.rule)}, {place}: {markdown(one.message)}{way}")
    for asked in report.questions:
        lines.append(f"- **question** for {markdown(asked.answers)}: {markdown(asked.text)}{_known(asked.known)}")
    return lines


def _known(known: bool) -> str:
    return " (known as found)" if known else ""


def _at(file: str, line: int) -> str:
    return f"{markdown(file)}:{line}"
