"""The page without a browser: its policy, its order, hostile texts, ten thousand findings, the same bytes again."""

from __future__ import annotations

import base64
import hashlib
import re
import sys
from html.parser import HTMLParser

import pytest

from speclint.files.templates import templates
from speclint.forms.heads import HEADS
from speclint.forms.page import TEMPLATES, page
from speclint.forms.page_findings import GROUPS
from speclint.forms.page_values import PagePlan
from speclint.forms.safe import safe
from speclint.kernel.faults import UsageFault
from speclint.packs.rule import Cite
from speclint.review.report import Place, Report
from tests.forms.reports import BROKEN, CLEAN, FULL, PIECE, finding, line, report
from tests.forms.reports_as_found import RECORDED

pytest.importorskip("jinja2", reason="the page needs jinja2: pip install 'speclint[report]'")
HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "javascript:alert(1)",
    "{{ 7 * 7 }} {% raw %}",
    "</style><style>body{display:none}",
    "\u202eevil\u2066 \x1b[31m \x00 end",
    "]]> --> &lt;b&gt;",
]
VOID = frozenset({"meta", "link", "img", "br", "hr", "input"})


class Reading(HTMLParser):
    """Reads a page as a browser would: its tags, attributes and texts; every tag is closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open[-1:] != ["style"]:
            self.texts.append(data)


def written(*reports: Report, group: str = "weight", not_read: tuple[tuple[str, str], ...] = ()) -> str:
    return page([PagePlan(one) for one in reports], not_read, templates(TEMPLATES), group)


def test_the_policy_lets_in_the_style_of_the_page_and_nothing_else() -> None:
    text = written(FULL)
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
    assert style is not None
    mark = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert f"default-src &#39;none&#39;; style-src &#39;sha256-{mark}&#39;;" in text
    read = Reading(text)
    assert not {"script", "img", "iframe", "link", "object", "form"} & set(read.tags)
    assert {name for name, _ in read.attributes if name in ("style", "src") or name.startswith("on")} == set()
    assert all(value.startswith("#") for name, value in read.attributes if name == "href")


@pytest.mark.parametrize("group", GROUPS)
def test_every_finding_is_told_once_whatever_the_group(group: str) -> None:
    text = written(FULL, group=group)
    titles = re.findall(r'<article class="finding [a-z-]+" id="(p1-f\d+)"', text)
    shown = [one for one in FULL.findings if not (one.variance or one.known)]
    assert sorted(titles) == sorted(f"p1-f{at}" for at in range(1, len(shown) + 1))
    said = " ".join(Reading(text).texts)
    for one in shown:
        assert one.message.rstrip(".") in said and one.acts in said
    for question in FULL.questions:
        assert question.text in said
    for part in (*FULL.cautions, *FULL.notes, *FULL.assumed):
        assert part.rstrip(".") in said
    for name, version, mark in FULL.packs:
        assert f"{name} {version}" in said and mark in said
    assert [HEADS[one][0] in said for one in HEADS] == [one != group for one in HEADS]


@pytest.mark.parametrize("one", [CLEAN, BROKEN, PIECE, RECORDED, FULL])
def test_every_sort_of_report_makes_a_page(one: Report) -> None:
    text = written(one)
    Reading(text)
    assert text == written(one) and text.endswith("</html>\n")


def filled(text: str) -> str:
    """A page in which every text that a plan or a pack of its owner can tell is this one."""
    cite = Cite(text, "", text, "looked-up", "high")
    one = finding(rule=text, message=text, passes=text, words=text, acts=text, settles=text, cites=(cite,),
                  rests_on=(text,), places=(Place((text, text), line(3)),))  # fmt: skip
    told = report(findings=(one,), plan=text, cautions=(text,), notes=(text,), decisions=(text,), stage=text)
    return written(told, not_read=((text, text),))


@pytest.mark.parametrize("evil", HOSTILE)
def test_hostile_text_stands_as_text(evil: str) -> None:
    text = filled(evil)
    read, plain = Reading(text), Reading(filled("plain"))
    assert read.tags == plain.tags and [name for name, _ in read.attributes] == [name for name, _ in plain.attributes]
    assert not set("\u202e\u2066\x1b\x00") & set(text)
    told = safe(evil).strip()
    assert sum(told in one for one in read.texts) >= 8
    assert [value for name, value in read.attributes if name == "href" and not value.startswith("#")] == []


def test_ten_thousand_findings_stay_one_page_with_short_ways() -> None:
    many = tuple(finding(rule=f"rule-{at}", span=line(at)) for at in range(1, 10_001))
    text = written(report(findings=many))
    assert text.count('<article class="finding ') == 10_000 and 'class="plan long"' in text
    assert len(text) < 30_000_000


def test_several_plans_and_files_not_read() -> None:
    text = written(FULL, CLEAN, not_read=(("plans/gone.wetspec", "there is no such file"),))
    said = " ".join(Reading(text).texts)
    assert "2 plans" in said and "plans/gone.wetspec" in said and text.count('<article class="plan') == 2
    assert text.index("Not read") < text.index('<article class="plan')
    Reading(written(not_read=(("plans/gone.wetspec", "there is no such file"),)))


def test_without_the_library_the_way_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    with pytest.raises(UsageFault, match=re.escape("speclint[report]")):
        written(FULL)
