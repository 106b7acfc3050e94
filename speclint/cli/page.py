"""``review --as html`` and ``--as card``: pages with all that a plan comes to, and sheets for the crew."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from speclint.cli.job import Told
from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.files.templates import templates
from speclint.forms.card import CARD_TEMPLATES, card
from speclint.forms.page import TEMPLATES, page
from speclint.forms.page_values import PagePlan
from speclint.plan.tree import Plan
from speclint.review.kit import Kit
from speclint.review.report import Report
from speclint.review.show import system_of
from speclint.works.layout import layouts_of
from speclint.works.reading import Reader
from speclint.works.section import cuts_of
from speclint.works.section_pins import pins_of
from speclint.works.sequence import Calendar, Sequence, sequence_of
from speclint.works.steps import work_of
from speclint.works.takeoff import takeoff
from speclint.works.workdays import DAY, HOUR, Week, seconds_of

_BUILT = frozenset({"closeout", "in service"})
_WEEK = Week(frozenset(range(5)), frozenset(), 8 * HOUR, 16 * HOUR)


def page_of(told: Iterable[Told], kit: Kit, group: str) -> str:
    """The page on what came of a run; raises UsageFault where the template library is not installed."""
    return page(*_read(told, kit), templates(TEMPLATES), group)


def card_of(told: Iterable[Told], kit: Kit) -> str:
    """The card for the crew of every room of a run; raises UsageFault where the template library is not installed."""
    return card(*_read(told, kit), templates(CARD_TEMPLATES))


def _read(told: Iterable[Told], kit: Kit) -> tuple[list[PagePlan], list[tuple[str, str]]]:
    plans: list[PagePlan] = []
    not_read: list[tuple[str, str]] = []
    for one in told:
        if one.report is None:
            not_read.append((one.file, one.why))
        else:
            plans.append(_plan(one.report, one.plan, kit))
    return plans, not_read


def _plan(report: Report, plan: Plan | None, kit: Kit) -> PagePlan:
    if plan is None or report.fragment:
        return PagePlan(report)
    catalogue = kit.catalogue
    root = build_subjects(plan, catalogue)
    system = system_of(root)
    cuts = tuple((cut, pins_of(cut, report)) for cut in cuts_of(plan, root, system))
    reader = Reader(catalogue, plan.root, system)
    sequences = tuple(_sequences(report, reader, root, kit)) if report.stage not in _BUILT else ()
    return PagePlan(report, cuts, layouts_of(reader, root), takeoff((plan,), catalogue), sequences, system)


def _sequences(report: Report, reader: Reader, root: Subject, kit: Kit) -> Iterator[Sequence]:
    """The order of work of every room as if it began on the day of the report, in a usual working week."""
    start = seconds_of(date.fromisoformat(report.as_of))
    calendar = Calendar(_WEEK, start + _WEEK.opens, False, start + DAY, {})
    work = work_of(kit.work)
    for room in root.collections.get("rooms", ()):
        yield sequence_of(reader, report.plan, room, work, calendar)
