"""What is specified against what is handed in: worked pairs with the outcome and where it is published."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from speclint.files.kit import load_kit
from speclint.files.product_data import submittal_data
from speclint.kernel.values import Between, Known, Members
from speclint.review.report import MEETS
from speclint.review.run import Options
from speclint.works.answering import answers
from speclint.works.goods import knowledge
from speclint.works.handed import Package
from speclint.works.submittal import review_submittal
from tests.plan.reading import plan_of

PAIRS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "submittal_pairs.yaml").read_text(encoding="utf-8")
)
KIT = load_kit(packs=())
KNOWN = knowledge(submittal_data(), KIT.catalogue)
RANK = {False: 0, None: 1, True: 2}
FACTS = KIT.catalogue.facts


def reviewed(text: str, as_of: str = "2026-06-01") -> Package:
    plan = plan_of(text, KIT)
    assert [str(problem) for problem in plan.problems] == []
    return review_submittal(plan, KIT, KNOWN, Options(as_of=as_of))


@pytest.mark.parametrize("pair", PAIRS, ids=lambda one: f"{one['specified']} / {one['handed in']}")
def test_a_pair_ends_as_published(pair: dict[str, Any]) -> None:
    package = reviewed(f'surface wall\n{pair["specified"]}\nsubmittal "item" for "walls"\n{pair["handed in"]}\n')
    (item,) = package.items
    assert item.summary == pair["word"], item.requirements
    if "rows" in pair:
        assert {row.means: row.outcome for row in item.requirements if row.outcome != MEETS} == pair["rows"]
    for row in item.requirements:
        assert row.outcome != "not shown" or (row.settles and (row.why or row.clause)), row


def test_there_are_enough_pairs_and_each_names_its_source() -> None:
    assert len(PAIRS) >= 20 and all(len(pair["from"]) > 10 for pair in PAIRS)


def _classes() -> list[tuple[str, str, str, str]]:
    """Every fact of words, with a demand, a claim and a claim that the vocabulary calls stronger."""
    found = []
    for name in ("mortar.class", "grout.class", "tile.stated-absorption-class", "sealant.class", "tile.grade"):
        words = KIT.vocabulary.kinds[FACTS[name].detail]
        for have, word in words.words.items():
            later = (
                words.order[words.order.index(have) + 1 :]
                if have in words.order and FACTS[name].better == "more"
                else ()
            )
            stronger = [one for one, row in words.words.items() if have in row.covers] + list(later)
            found += [(name, need, have, more) for need in words.words for more in stronger if not word.any_of]
    return found


def test_a_stronger_class_never_ends_worse() -> None:
    tried = _classes()
    assert len(tried) > 100
    for name, need, have, more in tried:
        fact = FACTS[name]
        before = answers(fact, Known(need), Known(have), KIT.catalogue).truth
        after = answers(fact, Known(need), Known(more), KIT.catalogue).truth
        assert RANK[after] >= RANK[before], (name, need, have, more)


@given(st.sampled_from(["tile.breaking-strength", "tile.absorption", "layer.bond-strength", "slip.value"]), st.integers(1, 10**9), st.integers(1, 10**9), st.integers(0, 10**9), st.booleans())  # fmt: skip
def test_a_better_figure_never_ends_worse(name: str, need: int, have: int, more: int, bound: bool) -> None:
    fact = FACTS[name]
    up = fact.better == "more"
    assert fact.better in ("more", "less")
    demanded = Between(need if up else None, None if up else need) if bound else Known(need)
    better = have + more if up else max(have - more, 0)
    before, after = (answers(fact, demanded, Known(one), KIT.catalogue).truth for one in (have, better))
    assert RANK[after] >= RANK[before]


LETTERS = st.frozensets(st.sampled_from(["H", "T", "E", "F"]))


@given(LETTERS, LETTERS, LETTERS)
def test_more_letters_never_end_worse(need: frozenset[str], have: frozenset[str], more: frozenset[str]) -> None:
    fact = FACTS["mortar.letters"]
    before, after = (answers(fact, Members(need), Members(one), KIT.catalogue).truth for one in (have, have | more))
    assert RANK[after] >= RANK[before]
    assert (after is True) == (need <= have | more)
