"""What a page is made of: for each plan its report and what was computed from it."""

from __future__ import annotations

from typing import NamedTuple

from speclint.review.report import Report
from speclint.works.layout import SurfaceLayout
from speclint.works.lines import Takeoff
from speclint.works.section_pins import Pin
from speclint.works.section_values import Cut
from speclint.works.sequence import Sequence


class PagePlan(NamedTuple):
    """One plan of a page; without the rest where there is nothing to draw, to order or to do."""

    report: Report
    cuts: tuple[tuple[Cut, tuple[Pin, ...]], ...] = ()
    layouts: tuple[SurfaceLayout, ...] = ()
    takeoff: Takeoff | None = None
    sequences: tuple[Sequence, ...] = ()
    system: str = ""
