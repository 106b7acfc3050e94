"""Papers that a specification demands against those handed in, and what is wrong with the reports that were."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from speclint.kernel.span import Span
from speclint.kernel.values import Between, Known, Members, ValueSet, bounds
from speclint.plan.moments import day_range
from speclint.plan.sections import Entry
from speclint.plan.tree import Node, same
from speclint.review.report import FAILS, NOT_SHOWN
from speclint.works.called_for import Handed, sections
from speclint.works.handed import Missing, Requirement

REPORT, CERTIFICATE, GONE = "test report", "certificate", "missing"


class Want(NamedTuple):
    """A paper that is demanded: its kind, for which goods and by which standard where told, and its greatest age.

    ``oldest`` is the age in seconds and as written.
    """

    kind: str
    goods: str
    standard: str
    oldest: tuple[int, str] | None
    words: str
    address: tuple[str, ...]
    span: Span


class Paper(NamedTuple):
    """A paper that was handed in: its kind, and for which goods and by which standard where told."""

    kind: str
    goods: str
    standard: str
    address: tuple[str, ...]


def wants(root: Node) -> tuple[Want, ...]:
    """Every paper that the specification demands, in the order of the text."""
    return tuple(want for node in sections(root) for entry in node.entries for want in _wants(node, entry))


def papers(root: Node, items: tuple[tuple[Handed, str], ...]) -> tuple[Paper, ...]:
    """Every paper that came with an item, with the word for its goods, or that is filed in the plan."""
    found = [one for handed, goods in items for one in _enclosed(handed, goods)]
    for node in sections(root):
        facts = _facts(node)
        kind, item = _word(facts.get("paper.kind")), _word(facts.get("paper.item"))
        demands = any("paper-demand.what" in entry.facts for entry in node.entries)
        if node.kind == "paper" and kind and not demands and _word(facts.get("paper.state")) != GONE:
            found.append(Paper(kind, item, _word(facts.get("paper.standard")), node.address[:-1]))
    return tuple(found)


def not_there(wanted: tuple[Want, ...], there: tuple[Paper, ...]) -> tuple[Missing, ...]:
    """The papers that are demanded and were not handed in."""
    return tuple(
        Missing(_named(want), want.words, want.address, want.span, f"hand in the {want.kind}")
        for want in wanted
        if not any(_is_it(want, paper) for paper in there)
    )


def faults_of_reports(handed: Handed, wanted: tuple[Want, ...], as_of: str) -> Iterator[Requirement]:
    """What is wrong with the test reports that came with an item: no laboratory, no date, too old."""
    for entry in handed.node.entries:
        if not any(fact.startswith("test-report.") for fact in entry.facts):
            continue
        standard = _word(entry.facts.get("test-report.standard"))
        what = f"test report by {standard}" if standard else "test report"
        row = Requirement(what, "", entry.text, NOT_SHOWN, entry.span, standard, key=REPORT)
        if "test-report.laboratory" not in entry.facts:
            yield row._replace(
                specified="names its laboratory", why="it names no laboratory", settles="the whole report"
            )
        ages = [want.oldest for want in wanted if want.kind == REPORT and want.standard in ("", standard)]
        oldest = min((age for age in ages if age is not None), default=None)
        if oldest is not None:
            yield from _age(row, entry.facts.get("test-report.date"), oldest, as_of)


def _age(row: Requirement, date: ValueSet | None, oldest: tuple[int, str], as_of: str) -> Iterator[Requirement]:
    first, last = _days(date)
    today = day_range(as_of)
    row = row._replace(specified=f"not older than {oldest[1]}", settles="a newer report")
    if first is None or last is None or today is None:
        yield row._replace(why="it bears no date", settles="the whole report")
    elif today[0] - last > oldest[0]:
        days = (today[0] - last) // 86400
        yield row._replace(outcome=FAILS, why=f"it was {days} days old on {as_of}")


def _wants(node: Node, entry: Entry) -> Iterator[Want]:
    facts, text, span, address = entry.facts, entry.text, entry.span, node.address
    wanted, demanded = _word(facts.get("wanted.paper")), _word(facts.get("paper-demand.what"))
    if node.kind == "paper":
        address = address[:-1]
    if wanted:
        yield Want(wanted, _word(facts.get("wanted.for")), "", None, text, address, span)
    elif demanded:
        standard, oldest = _word(facts.get("paper-demand.standard")), _limit(facts.get("paper-demand.not-older"))
        goods = _word(_facts(node).get("paper.item"))
        yield Want(demanded, goods, standard, oldest, text, address, span)
    elif any(fact.startswith("test-report.") for fact in facts):
        oldest = _limit(facts.get("test-report.not-older"))
        yield Want(REPORT, "", _word(facts.get("test-report.standard")), oldest, text, address, span)
    elif any(fact.startswith("certificate.") for fact in facts):
        yield Want(CERTIFICATE, "", "", None, text, address, span)


def _enclosed(handed: Handed, goods: str) -> Iterator[Paper]:
    address = handed.node.address[:-1]
    for entry in handed.node.entries:
        enclosed = entry.facts.get("submittal.paper")
        if isinstance(enclosed, Members):
            yield from (Paper(kind, goods, "", address) for kind in sorted(enclosed.has))
        if any(fact.startswith("test-report.") for fact in entry.facts):
            yield Paper(REPORT, goods, _word(entry.facts.get("test-report.standard")), address)
        if any(fact.startswith("certificate.") for fact in entry.facts):
            yield Paper(CERTIFICATE, goods, "", address)


def _is_it(want: Want, paper: Paper) -> bool:
    if want.kind != paper.kind or (want.goods and paper.goods and want.goods != paper.goods):
        return False
    if want.standard and paper.standard and want.standard != paper.standard:
        return False
    shorter = min(len(want.address), len(paper.address))
    return [same(one) for one in want.address[:shorter]] == [same(one) for one in paper.address[:shorter]]


def _named(want: Want) -> str:
    told = f"{want.kind} for the {want.goods}" if want.goods else want.kind
    return f"{told} by {want.standard}" if want.standard else told


def _facts(node: Node) -> dict[str, ValueSet]:
    return {fact: value for entry in node.entries for fact, value in entry.facts.items()}


def _word(value: ValueSet | None) -> str:
    return str(value.value) if isinstance(value, Known) else ""


def _limit(value: ValueSet | None) -> tuple[int, str] | None:
    """A greatest age in seconds, and as written."""
    ends = bounds(value) if isinstance(value, (Known, Between)) else None
    return (int(ends[1]), value.text) if value is not None and ends is not None and ends[1] is not None else None


def _days(value: ValueSet | None) -> tuple[int | None, int | None]:
    """The first and the last second of a day as written."""
    ends = bounds(value) if isinstance(value, (Known, Between)) else None
    if ends is None or ends[0] is None or ends[1] is None:
        return None, None
    return int(ends[0]), int(ends[1])
