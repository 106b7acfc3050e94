"""README shows what the program really prints, and its plan is whole and sound."""

from __future__ import annotations

import re
from contextlib import chdir
from pathlib import Path

import pytest

from speclint.files.plans import load_plan
from speclint.files.product_data import read_product_data, submittal_data
from speclint.forms.rows import plain
from speclint.forms.submittal_text import submittal_rows
from speclint.forms.text import Look, text_form
from speclint.review.gate import Bar, exit_code
from speclint.review.kit import Kit
from speclint.review.run import Options, review
from speclint.works.goods import knowledge
from speclint.works.submittal import review_submittal

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"<!-- (captured|plan|submittal): (\S+) -->\n```\n(.*?)```\n", re.DOTALL)
BLOCKS = BLOCK.findall(README)
AS_OF = "2026-06-01"


def shown(sort: str, path: str, kit: Kit) -> str:
    """What a block must hold: the plan itself, its review, or the review of a submittal, at 80 columns."""
    if sort == "plan":
        return (ROOT / path).read_text(encoding="utf-8")
    if sort == "submittal":
        return submittal(f"{path}/shower-walls.wetspec", f"{path}/products.csv", kit)
    with chdir(ROOT):
        report = review(load_plan(path, kit), kit, Options(as_of=AS_OF))
    return text_form(report, Look(width=80))


def submittal(spec: str, products: str, kit: Kit) -> str:
    """The review of product data against a specification."""
    data = submittal_data()
    with chdir(ROOT):
        sections, problems = read_product_data(products, data, kit)
        assert problems == ()
        plan = load_plan(spec, kit, sections)
        package = review_submittal(plan, kit, knowledge(data, kit.catalogue), Options(as_of=AS_OF), [products])
    return plain(submittal_rows(package, 80))


@pytest.mark.parametrize(("sort", "path", "text"), BLOCKS, ids=[path for _, path, _ in BLOCKS])
def test_a_block_is_what_is_printed_today(sort: str, path: str, text: str, kit: Kit) -> None:
    assert text.strip() == shown(sort, path, kit).strip()


def test_the_plan_shown_raises_nothing_that_stops(kit: Kit) -> None:
    for sort, path, _ in BLOCKS:
        if sort == "plan":
            report = review(load_plan(str(ROOT / path), kit), kit, Options(as_of=AS_OF))
            assert exit_code(report, Bar("callback", True)) == 0


def test_packs_are_counted_right(kit: Kit) -> None:
    for pack in kit.packs:
        assert f"| `{pack.name}` | {len(pack.rules)} |" in README
