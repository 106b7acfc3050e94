"""The ratios that must hold: prints each with its bound and exits 1 if one is beyond it. A program, never a test.

python -m tests.bench.ratios [--large]

``--large`` measures whole repositories instead, which takes minutes.
"""

from __future__ import annotations

import gc
import random
import re
import sys
import tempfile
from functools import cache
from pathlib import Path

from speclint.cli.main import ALLOCATED
from speclint.facts.build import build_subjects
from speclint.files.kit import load_kit
from speclint.language.reader import read
from speclint.plan.sections import read_sections
from speclint.plan.tree import Plan, grow_plan
from speclint.review.gates import Book, book_of
from speclint.review.judging import by_kind, judged
from speclint.review.stages import stages_of
from tests.bench.corpus import originals, plan_text, write
from tests.bench.measure import Ratio, calls, process, python

SCAN = re.compile(r'"[^"\n]*+"|[^\W]++|[^\s\w]')
KIT = load_kit()


def scan(texts: list[str]) -> int:
    """The bound: one regular expression over the same text."""
    return sum(len([match.group() for match in SCAN.finditer(text)]) for text in texts)


def lines(texts: list[str]) -> int:
    """Text to lines."""
    return sum(len(read(text, "plan", KIT.driver).lines) for text in texts)


def plans(texts: list[str]) -> list[Plan]:
    """Text to resolved plans."""
    found = []
    for text in texts:
        draft = read_sections(read(text, "plan", KIT.driver), KIT.vocabulary)
        found.append(grow_plan("plan", draft.sections, draft.problems, KIT.vocabulary))
    return found


@cache
def two_hundred() -> Book:
    """Two hundred of the shipped rules, drawn by a seed, as the target is set for that number."""
    book = book_of(KIT.packs, KIT.catalogue)
    drawn = frozenset(random.Random(200).sample(book.names, 200))
    return Book((stand for pack in KIT.packs for stand in pack.stands if stand.name in drawn), book.rules)


def rules(found: list[Plan]) -> int:
    """Two hundred rules over the value sets of resolved plans."""
    book, stages = two_hundred(), stages_of(KIT.vocabulary)
    return sum(len(judged(book, by_kind(build_subjects(plan, KIT.catalogue)), stages).settled) for plan in found)


def long_text(count: int) -> str:
    """One plan of about ``count`` lines: whole sections of an example, each under a name of its own."""
    body = originals()[0].partition("\nassembly")[2]
    pieces = ['plan "long"', 'room "hall"']
    number = total = 0
    while total < count:
        piece = re.sub(r'"([^"\n]*)"', lambda match, n=number: f'"{match.group(1)} {n}"', "assembly" + body)
        pieces.append(piece)
        total += piece.count("\n")
        number += 1
    return "\n".join(pieces)


def spoilt(text: str) -> str:
    """The text with every tenth line made unreadable."""
    return "\n".join("  9,5 mm 01/02/26" if number % 10 == 9 else line for number, line in enumerate(text.split("\n")))


TOUCH = """
import os, sys
from _blake2 import blake2b
for folder, _, names in os.walk(sys.argv[1]):
    for name in names:
        with open(os.path.join(folder, name), "rb") as stream:
            blake2b(stream.read()).digest()
"""
HOSTILE = (
    '"' * 16_000,
    "1-" * 8_000,
    "9" * 16_000,
    "1.1" * 5_000,
    ("x" + " " * 100) * 150,
    "," * 16_000,
    "1/1" * 5_000,
)


def measured() -> list[tuple[str, str, float, Ratio]]:
    """Each ratio: its name, what it is, the bound, the measurement."""
    texts = [plan_text(seed) for seed in range(40)]
    resolved = plans(texts)
    short, long = long_text(1_000), long_text(20_000)
    share = len(long) / len(short)
    with tempfile.TemporaryDirectory() as folder:
        one = Path(folder) / "one.wetspec"
        one.write_text(texts[0], encoding="utf-8")
        review = [python(), "-m", "speclint", "review", str(one), "--as", "lines"]
        cold = process(review, [python(), "-c", "pass"], 15)
    per_byte = calls(lambda: lines([long]), lambda: lines([short]), 5)
    return [
        ("P1", "cold review of one plan / bare interpreter", 8, cold),
        ("P3", "text to lines / one scan", 7, calls(lambda: lines(texts), lambda: scan(texts))),
        ("P3b", "text to resolved plan / one scan", 14, calls(lambda: plans(texts), lambda: scan(texts))),
        ("P4", "200 rules / text to resolved plan", 0.5, calls(lambda: rules(resolved), lambda: plans(texts))),
        ("P9", "time per byte, 20k lines / 1k lines", 1.5, Ratio(*(one / share for one in per_byte))),
        ("P13", "time per byte, worst hostile line / plain", 3, hostile(short)),
        ("P12", "a tenth of lines bad / clean", 1.3, calls(lambda: lines([spoilt(short)]), lambda: lines([short]))),
    ]


def hostile(plain: str) -> Ratio:
    """Time per byte of the worst of the lines made to be slow over that of plain text of the same length."""
    each = []
    for line in HOSTILE:
        usual = plain[: len(line)]
        each.append(calls(lambda line=line: lines([line] * 20), lambda usual=usual: lines([usual] * 20), 3))
    return max(each)


def large() -> list[tuple[str, str, float, Ratio]]:
    """The ratios of a repository of a thousand plans; to find, read and hash its files is the measure of its size."""
    with tempfile.TemporaryDirectory() as folder:
        write(1, 1_000, Path(folder) / "thousand")
        write(1, 100, Path(folder) / "hundred")

        def review(name: str) -> list[str]:
            return [python(), "-m", "speclint", "review", str(Path(folder) / name), "--as", "lines"]

        touched = [python(), "-c", TOUCH, str(Path(folder) / "thousand")]
        share = process(review("thousand"), review("hundred"), 3)
        return [
            ("P5", "full check of 1,000 plans / find, read, hash", 130, process(review("thousand"), touched, 3)),
            ("P10", "time per plan, 1,000 / 100 plans", 1.2, Ratio(*(one / 10 for one in share))),
        ]


def main() -> int:
    """Print the table; 1 if a bound is passed."""
    gc.set_threshold(*ALLOCATED)
    late = False
    for name, what, bound, ratio in large() if "--large" in sys.argv[1:] else measured():
        beyond = ratio.median > bound
        late = late or beyond
        told = f"{ratio.median:8.2f}  ({ratio.least:.2f} to {ratio.greatest:.2f})"
        sys.stdout.write(f"{name:4} {what:45} {told:30} must be at most {bound}{'  BEYOND' if beyond else ''}\n")
    return int(late)


if __name__ == "__main__":
    sys.exit(main())
