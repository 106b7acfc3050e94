"""``speclint pack``: puts rule packs to the test, or lists those there are."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence

from speclint.cli.parser import Parser, parser
from speclint.cli.streams import put
from speclint.files.kit import SHIPPED, load_kit, load_pack_examples
from speclint.forms.phrases import counted
from speclint.forms.place import exact_words
from speclint.forms.safe import safe
from speclint.kernel.faults import PackFault, Problem, UsageFault
from speclint.kernel.values import Number
from speclint.packs.prove import prove, prove_examples
from speclint.packs.rule import Pack, Rule
from speclint.plan.near import nearest_names
from speclint.review.examples import ExampleJudge
from speclint.review.kit import Kit

_SOUND, _UNSOUND = 0, 1


def options() -> Parser:
    """The options of this command."""
    does = "Checks rule packs by name or folder, or lists those that ship."
    found = parser("pack", does, "speclint pack check my-rules/")
    found.add_argument("act", choices=("check", "list"), help="check: run every example, also against weakened rules")
    found.add_argument("which", nargs="*", metavar="PATH|NAME", help="packs to check (those that ship if left out)")
    found.add_argument("--rule", action="append", default=[], metavar="NAME", help="only this rule; may be repeated")
    found.add_argument("--examples-only", action="store_true", help="run the examples, and weaken no rule")
    return found


def run(chosen: argparse.Namespace) -> int:
    """Check or list."""
    names = [one for one in chosen.which if not _is_folder(one)] if chosen.which else list(SHIPPED)
    folders = [one for one in chosen.which if _is_folder(one)]
    try:
        kit = load_kit(packs=names, extra_paths=folders)
    except PackFault as fault:
        put(_lines(fault.problems) + f"{counted(len(fault.problems), 'problem')}\n")
        return _UNSOUND
    if chosen.act == "list":
        put("".join(f"{safe(_listed(pack))}\n" for pack in kit.packs))
        return _SOUND
    return _check(chosen, kit, names, folders)


def _is_folder(which: str) -> bool:
    """A name that ships is a name, even where a folder of that name lies at hand."""
    return which not in SHIPPED and os.path.isdir(which)


def _listed(pack: Pack) -> str:
    number = counted(len(pack.rules), "rule")
    return f"{pack.name} {pack.version} ({pack.hash[:12]}): {number}, {pack.region}; {pack.title}"


def _check(chosen: argparse.Namespace, kit: Kit, names: Sequence[str], folders: Sequence[str]) -> int:
    """Prove every rule asked for; one line a problem, one line a pack."""
    examples = load_pack_examples(packs=names, extra_paths=folders)
    rules = {rule.name for pack in kit.packs for rule in pack.rules}
    for name in chosen.rule:
        if name not in rules:
            raise UsageFault(f'no rule is named "{name}" in these packs{nearest_names(name, rules)}')
    judge, worst = ExampleJudge(kit), _SOUND
    for pack in kit.packs:
        asked = [rule for rule in pack.rules if not chosen.rule or rule.name in chosen.rule]
        found: list[Problem] = []
        number = 0
        for rule in asked:
            whole = rule._replace(examples=tuple(examples.get(rule.name, ())))
            number += len(whole.examples)
            found.extend(_proved(whole, judge, kit, chosen.examples_only))
        told = f"{counted(len(asked), 'rule')}, {counted(number, 'example')}, {counted(len(found), 'problem')}"
        put(_lines(found) + f"{safe(pack.name)} {safe(pack.version)}: {told}\n")
        worst = _UNSOUND if found else worst
    return worst


def _proved(rule: Rule, judge: ExampleJudge, kit: Kit, examples_only: bool) -> tuple[Problem, ...]:
    if not rule.examples:
        return (Problem(rule.span, f"{rule.name} has no example"),)
    if examples_only:
        return prove_examples(rule, judge)

    def step_of(fact: str) -> Number | None:
        entry = kit.catalogue.find(fact)
        return entry.step if entry else None

    return prove(rule, judge, step_of)


def _lines(problems: Sequence[Problem]) -> str:
    return "".join(f"{exact_words(problem.span)}: {safe(problem.message)}\n" for problem in problems)
