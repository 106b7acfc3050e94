"""The page: one file that stands alone, for a telephone on the job, a printer, a file cabinet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from speclint import __version__
from speclint.forms.drawing_style import HATCHES, css, hatches
from speclint.forms.page_findings import findings_view
from speclint.forms.page_plan import plan_view
from speclint.forms.page_values import PagePlan
from speclint.forms.phrases import counted
from speclint.forms.stand_alone import environment, policy
from speclint.forms.words import PERSON

TEMPLATES = ("page.html", "plan.html", "page.css")


def page(
    plans: Sequence[PagePlan], not_read: Sequence[tuple[str, str]], templates: Mapping[str, str], group: str
) -> str:
    """The page on some plans; ``templates`` holds the texts named by TEMPLATES, ``group`` how findings are grouped.

    Every text of a plan is escaped, and made safe to show. Raises UsageFault where the template library is missing.
    """
    made, markup = environment(templates)
    many = len(plans) != 1
    views = [{**_view(one, f"p{at}", group, markup), "turn": at} for at, one in enumerate(plans, 1)]
    style = templates["page.css"] + css()
    drawn = any(view["drawings"] for view in views)
    title = counted(len(plans), "plan") if many else views[0]["name"]
    text: str = made.get_template("page.html").render(
        plans=views,
        many=many,
        title=title,
        not_read=list(not_read),
        style=markup(style),
        policy=policy(style),
        hatches=markup(hatches(HATCHES).strip()) if drawn else "",
        person=PERSON,
        version=__version__,
    )
    return text


def _view(plan: PagePlan, mark: str, group: str, markup: Any) -> dict[str, Any]:
    view = plan_view(plan, mark, markup)
    view.update(findings_view(plan.report, mark, group))
    contents = [(f"{mark}-index", "At a glance"), (f"{mark}-findings", "Findings")] if view["groups"] else []
    contents += [(f"{mark}-recorded", "Recorded as found")] if view["recorded"] else []
    contents += [(f"{mark}-questions", "Questions")] if view["letters"] else []
    contents += [(f"{mark}-drawings", "Drawings")] if view["drawings"] else []
    contents += [(f"{mark}-order", "What to order")] if view["order"] else []
    contents += [(f"{mark}-sequence", "Order of work")] if view["sequences"] else []
    contents += [(f"{mark}-workings", "Worked out")] if view["workings"] else []
    view["contents"] = contents + [(part["id"], part["name"]) for part in view["parts"]]
    return view
