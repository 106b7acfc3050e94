"""``review --as html``: the page with findings, letters, drawings and quantities of every plan."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.cli.job import Told
from speclint.facts.build import build_subjects
from speclint.facts.catalogue import Catalogue
from speclint.files.templates import templates
from speclint.forms.page import TEMPLATES, page
from speclint.forms.page_values import PagePlan
from speclint.plan.tree import Plan
from speclint.review.report import Report
from speclint.review.show import system_of
from speclint.works.layout import layouts_of
from speclint.works.reading import Reader
from speclint.works.section import cuts_of
from speclint.works.section_pins import pins_of
from speclint.works.takeoff import takeoff


def page_of(told: Iterable[Told], catalogue: Catalogue, group: str) -> str:
    """The page on what came of a run; raises UsageFault where the template library is not installed."""
    plans: list[PagePlan] = []
    not_read: list[tuple[str, str]] = []
    for one in told:
        if one.report is None:
            not_read.append((one.file, one.why))
        else:
            plans.append(_plan(one.report, one.plan, catalogue))
    return page(plans, not_read, templates(TEMPLATES), group)


def _plan(report: Report, plan: Plan | None, catalogue: Catalogue) -> PagePlan:
    if plan is None or report.fragment:
        return PagePlan(report)
    root = build_subjects(plan, catalogue)
    system = system_of(root)
    cuts = tuple((cut, pins_of(cut, report)) for cut in cuts_of(plan, root, system))
    layouts = layouts_of(Reader(catalogue, plan.root, system), root)
    return PagePlan(report, cuts, layouts, takeoff((plan,), catalogue), system)
