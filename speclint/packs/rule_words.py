"""What a rule says besides its conditions: names of facts, roles and stages, message, cites, and enough examples."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from speclint.engine.nodes import ConditionFault, Node, walk
from speclint.engine.syntax import parse
from speclint.kernel.faults import Problem
from speclint.packs.conditions import facts_read
from speclint.packs.names import Names
from speclint.packs.places import Path
from speclint.packs.rule import WEIGHTS
from speclint.packs.yaml_text import Read

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
PLACE = "place"  # where the subject stands, for messages
_FIGURE = re.compile(r"(?<![\w.\-/{])\d[\w.\-/]*")
_PAPERS = ("record", "paper", "decision")


def rule_word_problems(read: Read, names: Names) -> list[Problem]:
    """Everything wrong with a rule that fits its schema, its conditions left out."""
    return [*_names(read, names), *_texts(read, names), *_cites(read, names), *_leave(read), *_examples(read, names)]


def _names(read: Read, names: Names) -> Iterator[Problem]:
    data = read.data
    if data["judges"] not in names.subjects():
        yield _unknown(read, ("judges",), "subject that a rule can judge", data["judges"], names.subjects())
    for key, kind in (("acts", "role"), ("due", "stage"), ("shown by", "record kind")):
        if key in data and names.word(kind, data[key]) != data[key]:
            yield _unknown(read, (key,), kind, data[key], names.words(kind))
    for path, text in _each(data, "may be varied by"):
        if text != "nobody" and names.word("role", text) != text:
            yield _unknown(read, path, "role", text, [*names.words("role"), "nobody"])
    for key in ("points at", "also at", "alternates"):
        for path, text in _each(data, key):
            if names.kind_of(text) is None:
                yield _unknown(read, path, "fact", text, names.facts())


def _texts(read: Read, names: Names) -> Iterator[Problem]:
    limits = read.data.get("limits", {})
    for key in ("message", "passes"):
        text = read.data.get(key, "")
        for found in PLACEHOLDER.finditer(text):
            name = found[1].partition("|")[0]
            limit = name.removeprefix("limit.")
            known = limit in limits if limit != name else name == PLACE or names.kind_of(name) is not None
            if not known:
                near = _near(name, [*names.facts(), *(f"limit.{one}" for one in limits)])
                place = read.places.inside(found.start(), len(found[0]), key)
                yield Problem(place, f"{{{name}}} is neither a fact nor a limit of this rule{near}")
        plain = PLACEHOLDER.sub(lambda found: " " * len(found[0]), text)
        for brace in re.finditer(r"[{}]", plain):
            yield Problem(read.places.inside(brace.start(), 1, key), "this brace has no partner")
    message = read.data["message"]
    plain = PLACEHOLDER.sub(lambda found: " " * len(found[0]), message)
    for figure in _FIGURE.finditer(plain):
        place = read.places.inside(figure.start(), len(figure[0]), "message")
        yield Problem(place, f'"{figure[0]}" is a figure written into the message: name a fact or a limit in braces')
    if not PLACEHOLDER.search(message):
        yield Problem(read.places.span("message"), "the message names no fact: say what was read, in braces")


def _cites(read: Read, names: Names) -> Iterator[Problem]:
    register = names.standards()
    for place, cite in enumerate(read.data["cites"]):
        if cite["basis"] not in ("looked-up", "memory") or not register:
            continue
        known = register.get(cite["standard"])
        if known is None:
            yield _unknown(read, ("cites", place, "standard"), "standard in the register", cite["standard"], register)
            continue
        editions = [str(one) for one in (known.get("editions") or ())]
        edition = cite.get("edition")
        if edition is not None and editions and str(edition) not in editions:
            listed = ", ".join(editions)
            why = f'the register has no edition "{edition}" of {cite["standard"]}: {listed}'
            yield Problem(read.places.span("cites", place, "edition"), why)


def _leave(read: Read) -> Iterator[Problem]:
    """The heaviest weight that the cites of a rule bear; what tear-out needs of them is in the schema."""
    data = read.data
    if data["weight"] == "tear-out" and _asks_for_paper(data["demands"]):
        why = "a missing or late paper is never tear-out: make it a callback, and name the next best proof"
        yield Problem(read.places.span("weight"), why)
    most = max(_bears(cite) for cite in data["cites"])
    if sum(cite["basis"] == "common practice" for cite in data["cites"]) > 1:
        most = max(most, 1)
    if WEIGHTS.index(data["weight"]) > most:
        why = "memory, low confidence and a single habit of the trade bear no more than a remark"
        yield Problem(read.places.span("weight"), why)


def _bears(cite: Mapping[str, Any]) -> int:
    basis, sure = cite["basis"], cite.get("confidence", "medium")
    if sure == "low" or basis == "memory":
        return 0
    if basis == "looked-up":
        return 2 if sure == "high" and cite.get("clause") is not None else 1
    return 1 if basis == "derived" or sure == "high" else 0


def _asks_for_paper(text: str) -> bool:
    try:
        node = parse(text)
    except ConditionFault:
        return False
    return any(_is_paper(one) for one in walk(node))


def _is_paper(node: Node) -> bool:
    if node[0] in ("any", "none", "count"):
        return str(node[1]).removesuffix("s") in _PAPERS
    return node[0] in ("stated", "absent") and str(node[1][1]).partition(".")[0] in _PAPERS


def _examples(read: Read, names: Names) -> Iterator[Problem]:
    data = read.data
    asks_only = data.get("asks only") in ("yes", True)
    ends = {example["ends"] for example in data["examples"]}
    wanted = ["meets"] if asks_only else ["meets", "does not meet"]
    if "not shown" not in ends and (asks_only or any(names.may_be_missing(fact) for fact in facts_read(read))):
        wanted.append("not shown")
    for end in wanted:
        if end not in ends:
            yield Problem(read.places.key("examples"), f'no example ends "{end}"')
    for place, example in enumerate(data["examples"]):
        stage = example.get("stage")
        if stage is not None and names.word("stage", stage) != stage:
            yield _unknown(read, ("examples", place, "stage"), "stage", stage, names.words("stage"))
        if asks_only and example["ends"] == "does not meet":
            yield Problem(
                read.places.span("examples", place, "ends"), 'a rule that only asks never ends "does not meet"'
            )
        for at, fact in enumerate(example.get("missing", ())):
            if names.kind_of(fact) is None and fact not in names.collections():
                yield _unknown(read, ("examples", place, "missing", at), "fact", fact, names.facts())
        if example["ends"] == "does not meet":
            for key in ("points at", "message"):
                if key not in example:
                    yield Problem(read.places.span("examples", place), f'an example that does not meet says "{key}"')


def _each(data: Mapping[str, Any], key: str) -> Iterator[tuple[Path, str]]:
    value = data.get(key, [])
    if isinstance(value, str):
        yield (key,), value
    else:
        yield from (((key, place), text) for place, text in enumerate(value))


def _unknown(read: Read, path: Path, what: str, text: str, known: Collection[str]) -> Problem:
    return Problem(read.places.span(*path), f'there is no {what} "{text}"{_near(text, known)}')


def _near(text: str, known: Collection[str]) -> str:
    found = get_close_matches(text[:64], known, n=3, cutoff=0.6)
    return f"; nearest: {', '.join(found)}" if found else ""
