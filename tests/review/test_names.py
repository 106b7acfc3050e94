"""The few facts and collections that the review itself reads exist in the catalogue."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from speclint.review.kit import Kit

REVIEW = Path(__file__).resolve().parents[2] / "speclint" / "review"
FACT = re.compile(r"(stage|paper|decision|variance|include|like)\.[a-z-]+")


def strings() -> set[str]:
    found: set[str] = set()
    for path in [*REVIEW.glob("*.py"), REVIEW.parent / "files" / "plans.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and FACT.fullmatch(node.value):
                found.add(node.value)
    return found


def test_every_fact_that_the_review_reads_is_in_the_catalogue(kit: Kit) -> None:
    names = strings()
    assert len(names) > 8
    assert sorted(name for name in names if name not in kit.catalogue.facts) == []


def test_every_collection_that_the_review_reads_is_there(kit: Kit) -> None:
    for name in ("records", "papers", "decisions", "variances", "proofs", "parts", "assemblies", "surfaces"):
        assert name in kit.catalogue.collections
