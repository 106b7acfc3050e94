"""``speclint cite``: a rule in plain words, or the rules that rest on a clause."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence

from speclint.cli.parser import Parser, add_colour, add_packs, parser
from speclint.cli.streams import put
from speclint.cli.terminal import is_terminal, want_colour, width_of_output
from speclint.files.kit import load_kit, load_pack_examples
from speclint.forms.cites import cite_words
from speclint.forms.plain_words import facts_of
from speclint.forms.rows import Row, plain
from speclint.forms.rule_card import rule_rows
from speclint.forms.safe import safe
from speclint.kernel.faults import UsageFault
from speclint.packs.rule import Cite, Rule
from speclint.plan.near import nearest_by_words
from speclint.review.kit import Kit

_LEAST, _MOST = 40, 100


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "cite",
        "Tells what a rule asks and rests on; a standard, with or without a clause, finds the rules that cite it.",
        "speclint cite bed-thinner-than-the-gap\n  speclint cite ANSI A108.5 3.3.2",
    )
    found.add_argument("what", nargs="+", metavar="RULE", help="name of a rule, or a standard and clause")
    add_packs(found)
    add_colour(found)
    return found


def run(chosen: argparse.Namespace) -> int:
    """Print the card of a rule, or a list of rules; raises UsageFault with the nearest names."""
    kit = load_kit(extra_paths=chosen.pack)
    asked = " ".join(" ".join(chosen.what).split())
    rules = {rule.name: rule for pack in kit.packs for rule in pack.rules}
    rule = rules.get(asked) or rules.get("-".join(asked.casefold().split()))
    rule = rule or next((one for one in rules.values() if asked in one.formerly), None)
    if rule is not None:
        _card(rule, kit, chosen)
        return 0
    citing = list(rules_citing(asked, rules.values(), kit.standards))
    if not citing:
        near = nearest_by_words(asked, rules) or "; name a rule, or a standard and clause such as: ANSI A108.5 3.3.2"
        raise UsageFault(f'no rule is named "{asked}" and none cites it{near}')
    put("".join(f"{one.name}: {one.weight}; {safe(told)}\n" for one, told in citing))
    return 0


def rules_citing(asked: str, rules: Iterable[Rule], standards: Mapping[str, object]) -> Iterator[tuple[Rule, str]]:
    """The rules with a cite of a standard, by any of its spellings, and of a clause or what stands under it."""
    wanted = _norm(asked)
    for rule in rules:
        told = [cite_words(cite) for cite in rule.cites if _cites(cite, wanted, standards)]
        if told:
            yield rule, "; ".join(dict.fromkeys(told))


def _cites(cite: Cite, wanted: str, standards: Mapping[str, object]) -> bool:
    for spelling in _spellings(cite.standard, standards):
        for head in (spelling, f"{spelling} {_norm(cite.edition)}"):
            rest = wanted.removeprefix(head)
            if not head.strip() or rest == wanted or (rest and not rest.startswith(" ")):
                continue
            clause, asked = _norm(cite.clause), rest.strip()
            if not asked or clause == asked or clause.startswith((f"{asked}.", f"{asked} ")):
                return True
    return False


def _spellings(standard: str, standards: Mapping[str, object]) -> Sequence[str]:
    entry = standards.get(standard)
    aliases = entry.get("aliases", ()) if isinstance(entry, Mapping) else ()
    return [_norm(name) for name in (standard, *aliases)]


def _norm(text: str) -> str:
    return " ".join(text.casefold().replace(",", " ").replace(":", " ").replace("§", " ").split())


def _card(rule: Rule, kit: Kit, chosen: argparse.Namespace) -> None:
    examples = load_pack_examples(extra_paths=chosen.pack).get(rule.name, ())
    width = min(max(width_of_output(os.environ), _LEAST), _MOST)
    rows = rule_rows(rule, examples, meanings(rule, kit), width)
    put(_shown(rows, chosen.color))


def meanings(rule: Rule, kit: Kit) -> dict[str, str]:
    """What each fact in the conditions of a rule means."""
    found: dict[str, str] = {}
    for name in facts_of(f"{rule.applies_text} {rule.demands_text}"):
        entry = kit.catalogue.find(name)
        if entry is not None:
            view = kit.catalogue.views.get(name.partition(".")[0]) if name not in kit.catalogue.facts else None
            found[name] = f"{entry.means} ({view.word})" if view else entry.means
    return found


def _shown(rows: list[Row], choice: str) -> str:
    if want_colour(choice, os.environ, is_terminal(sys.stdout)):
        from speclint.forms.colour import coloured

        return coloured(rows)
    return plain(rows)
