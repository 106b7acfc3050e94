"""A rule as a person reads it: what it asks, when, by which limits, on which clauses, who acts, and its examples."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from speclint.forms.cites import cites_words
from speclint.forms.phrases import phrase
from speclint.forms.plain_words import plain_condition
from speclint.forms.rows import EMPTY, Piece, Row, labelled, paragraph
from speclint.forms.safe import safe
from speclint.forms.words import COSTS
from speclint.packs.rule import Example, Rule

_PARTS = {1: "1, general", 2: "2, products", 3: "3, execution"}
_KINDS = {
    "does not meet": "callback",
    "meets": "good",
}


def rule_rows(rule: Rule, examples: Sequence[Example], means: Mapping[str, str], width: int) -> list[Row]:
    """The card of one rule; ``means`` gives the meaning of each fact that its conditions read."""
    rows: list[Row] = [(Piece(safe(rule.name), "strong"),)]
    head = f"{safe(rule.weight)}, {COSTS.get(rule.weight, '')}; judges each {safe(rule.judges)}; pack {safe(rule.pack)}"
    rows.extend(paragraph(head, width, 0, "faint"))
    rows.append(EMPTY)
    for label, text in _fields(rule, means):
        rows.extend(labelled(label, text, width, 0))
    if examples:
        rows += [EMPTY, (Piece("examples", "strong"),)]
    for example in examples:
        rows.append(EMPTY)
        rows.extend(_example(example, width))
    return rows


def _fields(rule: Rule, means: Mapping[str, str]) -> list[tuple[str, str]]:
    """The labelled lines; those with nothing to say are left out."""
    limits = "; ".join(f"{name} {text}{f' ({variant})' if variant else ''}" for name, text, variant in rule.limits)
    asks = plain_condition(rule.demands_text, means, rule.limits)
    if rule.asks_only:
        asks += " (this rule only asks; a role confirms by a decision)"
    rows = [
        ("asks that", asks),
        ("when", plain_condition(rule.applies_text, means, rule.limits)),
        ("as written", " ".join(rule.demands_text.split())),
        ("limits", limits),
        ("would pass", phrase(rule.passes)),
        ("way round", f"a paper by the {rule.route}" if rule.route else ""),
        ("by", cites_words(rule.cites)),
        ("who", rule.acts),
        ("settles it", phrase(rule.settles)),
        ("shown by", rule.shown_by),
        ("due", rule.due),
        ("varied by", ", ".join(rule.varied_by) or "nobody"),
        ("spec part", _PARTS.get(rule.spec_part, str(rule.spec_part))),
        ("formerly", ", ".join(rule.formerly)),
    ]
    return [(label, safe(text)) for label, text in rows if text]


def _example(example: Example, width: int) -> list[Row]:
    """One example: what it shows, how it ends, and its lines."""
    told = f"{safe(example.ends)}: {phrase(example.shows)}"
    rows = paragraph(told, width, 0, _KINDS.get(example.ends, ""))
    for line in example.text.replace("\n", ";").split(";"):
        if line.strip():
            rows.extend(paragraph(safe(line), width, 3, hang=2))
    if example.missing:
        rows.extend(labelled("asks for", safe(", ".join(example.missing)), width, 3))
    return rows
