"""``speclint tidy``: plans in their plain form."""

from __future__ import annotations

import argparse
import unicodedata
from collections.abc import Callable

from speclint.cli.parser import Parser, add_packs, parser
from speclint.cli.streams import put, standard_input, tell
from speclint.files.kit import load_kit
from speclint.files.plans import file_bytes, find_plans
from speclint.files.write import replace_file
from speclint.forms.safe import safe
from speclint.kernel.faults import EngineDefect, Problem, ReadFault, SpeclintError
from speclint.language.reader import Document, Line, decode, read
from speclint.language.tables import Driver
from speclint.language.tidy import KeyLength, tidy
from speclint.plan.row import row_of
from speclint.plan.spelling import longest
from speclint.plan.vocabulary import Vocabulary
from speclint.review.gate import worst

_DONE, _UNTIDY, _COULD_NOT, _FAULTY = 0, 1, 2, 70


def options() -> Parser:
    """The options of this command."""
    found = parser("tidy", "Writes plans in their plain form; - reads standard input.", "speclint tidy plans/ --diff")
    found.add_argument("paths", nargs="*", default=["."], metavar="PATH", help="plan files or folders (else here)")
    found.add_argument("--check", action="store_true", help="change nothing; exit with 1 if a file would change")
    found.add_argument("--diff", action="store_true", help="change nothing; show what would change")
    found.add_argument("--stdin-name", default="stdin", metavar="PATH", help="path that standard input stands for")
    add_packs(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Tidy every plan; the rest goes on when one of them cannot be."""
    kit = load_kit(extra_paths=chosen.pack)
    measure = key_lengths(kit.vocabulary)
    codes: list[int] = []
    if "-" in chosen.paths:
        codes.append(_one(chosen.stdin_name, chosen, kit.driver, measure, standard_input, None))
    found = find_plans([path for path in chosen.paths if path != "-"])
    for path, why in found.not_read:
        tell(f"{path}: {why}")
        codes.append(_COULD_NOT)
    for path in found.paths:
        codes.append(_one(path, chosen, kit.driver, measure, lambda path=path: file_bytes(path), path))  # type: ignore[misc]
    if not codes:
        tell(f"{' '.join(chosen.paths)}: there is no plan here (no file ends in .wetspec)")
        codes.append(_COULD_NOT)
    return worst(tuple(codes))


def key_lengths(words: Vocabulary) -> KeyLength:
    """How many tokens of a line are its key, by the vocabulary."""

    def measure(section: str, line: Line) -> int | None:
        row = row_of(line.phrases[0], line.text, line.file, line.number)
        if line.heading_shaped and row.norms[0] in words.sections:
            return None
        known = words.sections.get(section.casefold())
        if known is None:
            return None
        found = longest(known.by_first, row.norms, 0)
        return found[1] if found else None

    return measure


def plain_form(text: str, file: str, driver: Driver, measure: KeyLength) -> str:
    """The plain form of a text, proved to hold every comment and digit of it.

    Raises ReadFault when the text cannot be read whole, EngineDefect when something would be lost.
    """
    document = read(text, file, driver)
    told = tidy(document, measure)
    if _kept(document) != _kept(read(told, file, driver)):
        raise EngineDefect(f"{file}: the plain form would lose a comment or a digit, so the file stays as it is")
    return told


def _kept(document: Document) -> tuple[list[str], list[str]]:
    """What no plain form may lose: comments and digits, in order."""
    comments = [" ".join(line.comment.split()) for line in document.lines if line.comment]
    digits = [sign for line in document.lines for sign in unicodedata.normalize("NFKC", line.text) if sign.isdigit()]
    return comments, digits


def _one(
    name: str,
    chosen: argparse.Namespace,
    driver: Driver,
    measure: KeyLength,
    source: Callable[[], bytes],
    path: str | None,
) -> int:
    """Tidy one file, or standard input to standard output."""
    try:
        text = decode(source(), name)
        if isinstance(text, Problem):
            raise ReadFault(text)
        told = plain_form(text, name, driver, measure)
        return _written(name, text, told, chosen, path)
    except SpeclintError as error:
        tell(str(error))
        return _FAULTY if isinstance(error, EngineDefect) else _COULD_NOT


def _written(name: str, text: str, told: str, chosen: argparse.Namespace, path: str | None) -> int:
    """Show or write the plain form; 1 when --check or --diff finds a difference."""
    if chosen.diff:
        put(_difference(name, text, told))
    elif chosen.check:
        if text != told:
            put(f"{safe(name)}\n")
    elif path is None:
        put(told)
    elif text != told:
        replace_file(path, told)
    return _UNTIDY if text != told and (chosen.check or chosen.diff) else _DONE


def _difference(name: str, text: str, told: str) -> str:
    from difflib import unified_diff

    before, after = f"{name} (as written)", f"{name} (plain form)"
    rows = unified_diff(text.splitlines(), told.splitlines(), before, after, lineterm="")
    return "".join(f"{safe(row)}\n" for row in rows)
