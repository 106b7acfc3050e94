"""What a page tells besides findings: the chart of the work, computations, what would pass instead."""

from __future__ import annotations

from datetime import date

import pytest

from speclint.facts.build import build_subjects
from speclint.forms.page_findings import findings_view
from speclint.forms.sequence_drawing import sequence_chart
from speclint.kernel.span import at
from speclint.review.edit import Edit
from speclint.review.kit import Kit
from speclint.works.reading import Reader
from speclint.works.sequence import Calendar, sequence_of
from speclint.works.steps import work_of
from speclint.works.workdays import DAY, HOUR, Week, seconds_of
from tests.forms.reports import finding, report
from tests.plan.reading import plan_of
from tests.works.test_forms import GOLDEN


def test_the_chart_has_a_bar_for_each_step_at_its_days(kit: Kit) -> None:
    plan = plan_of(GOLDEN, kit)
    root = build_subjects(plan, kit.catalogue)
    (room,) = root.collections["rooms"]
    start = seconds_of(date(2026, 3, 2))
    week = Week(frozenset(range(5)), frozenset(), 8 * HOUR, 16 * HOUR)
    calendar = Calendar(week, start + 8 * HOUR, False, start + DAY, {})
    found = sequence_of(Reader(kit.catalogue, plan.root), "a", room, work_of(kit.work), calendar)
    chart = sequence_chart(found)
    assert chart is not None and len(found.stages) > 5
    bars = [shape for shape in chart.shapes if shape.kind == "rect"]
    assert len(bars) == len(found.stages)
    first = min(stage.begins for stage in found.stages) // DAY
    days = max(stage.ends for stage in found.stages) // DAY + 1 - first
    for bar, stage in zip(bars, found.stages, strict=True):
        assert bar.figures[0] == pytest.approx(4 + 92 * (stage.begins / DAY - first) / days)
        assert (bar.style == "metal") == (stage.sure and stage.state in ("to do", "planned"))
    assert sequence_chart(found._replace(stages=())) is None


def test_what_would_pass_instead_is_told_with_its_lines() -> None:
    edit = Edit(at("plans/larch-house.wetspec", 17, 1, 9), "trowel square 1/2 x 1/2 x 1/2 in", False)
    one = finding(instead=((edit,),), working=("bed: 0.25 in times a half",))
    (group,) = findings_view(report(findings=(one,)), "p1", "weight")["groups"]
    fields = dict(group["findings"][0]["fields"])
    assert "trowel square 1/2 x 1/2 x 1/2 in" in fields["instead"] and "times a half" in fields["worked out"]
