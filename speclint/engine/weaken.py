"""Weakened rules: each a little wrong, so that the examples of a rule can be asked whether they notice."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TypeAlias

from speclint.engine.nodes import Node, facts_of, places, walk
from speclint.engine.outcomes import Judgement, Variant
from speclint.kernel.values import Number

StepOf: TypeAlias = Callable[[str], Number | None]
Changes: TypeAlias = Callable[[Node], Iterator[tuple[str, Node]]]

_SWAPPED = {">=": ">", ">": ">=", "<=": "<", "<": "<="}
_EXACT = ("number", "limit", "word", "flag")
_PART = Fraction(1, 8)  # a factor, or a figure compared with a fact without a step, moves by this part of itself


def weakened(judgement: Judgement, step_of: StepOf) -> Iterator[tuple[str, Judgement]]:
    """Each way to weaken a rule, and a note that says which; ``step_of`` gives the resolution of a fact."""
    applies, limits = judgement.applies, judgement.limits
    yield "demands is always yes", Judgement(("flag", True), applies, limits)
    yield "demands is always no", Judgement(("flag", False), applies, limits)
    if applies is not None:
        yield "applies is dropped", Judgement(judgement.demands, None, limits)
    yield from _with_limits(judgement, step_of)
    yield from _with_nodes(judgement, _nudges(step_of))
    yield from _with_nodes(judgement, _swaps)


def with_fewer_words(judgement: Judgement) -> Iterator[tuple[str, Judgement]]:
    """The rule with one word left out of each set of words in turn."""
    yield from _with_nodes(judgement, _fewer)


def _with_limits(judgement: Judgement, step_of: StepOf) -> Iterator[tuple[str, Judgement]]:
    for name, variants in judgement.limits.items():
        step = _step_of_limit(judgement, name, step_of)
        for place, variant in enumerate(variants):
            if variant.value[0] != "number":
                continue
            for note, value in _moved(variant.value, step):
                changed = Variant(variant.label, variant.when, value)
                limits = {**judgement.limits, name: (*variants[:place], changed, *variants[place + 1 :])}
                told = f"limit {name}{f' ({variant.label})' if variant.label else ''} {note}"
                yield told, Judgement(judgement.demands, judgement.applies, limits)


def _step_of_limit(judgement: Judgement, name: str, step_of: StepOf) -> Number | None:
    """The step of what the limit is compared with; None if it is a factor or nothing there has a step."""
    for root in (judgement.applies, judgement.demands):
        for node in () if root is None else walk(root):
            if node[0] == "compare":
                for side, other in ((node[2], node[3]), (node[3], node[2])):
                    if ("limit", name) in (tuple(part[:2]) for part in _terms(side)):
                        return _step(side, other, step_of)
    return None


def _terms(node: Node) -> Iterator[Node]:
    """What a value is the sum of; a factor is no term."""
    if node[0] in ("add", "subtract"):
        yield from _terms(node[1])
        yield from _terms(node[2])
    else:
        yield node


def _step(side: Node, other: Node, step_of: StepOf) -> Number | None:
    """How far one step of what stands across, else beside, moves a comparison."""
    across = _reach(other, step_of)
    return _reach(side, step_of) if across is None else across


def _reach(node: Node, step_of: StepOf) -> Number | None:
    """By how much a value moves when the finest fact in it moves one step; None if there is no telling."""
    if node[0] == "fact":
        return step_of(node[1])
    if node[0] == "count":
        return 1
    if node[0] in ("add", "subtract"):
        steps = [step for part in node[1:3] if (step := _reach(part, step_of)) is not None]
        return min(steps, default=None)
    if node[0] in ("multiply", "divide") and node[2][0] == "number":
        step, factor = _reach(node[1], step_of), abs(Fraction(node[2][1], node[2][2]))
        return None if step is None or not factor else step * factor if node[0] == "multiply" else step / factor
    if node[0] == "multiply" and node[1][0] == "number":
        return _reach((node[0], node[2], node[1]), step_of)
    return None


def _moved(number: Node, step: Number | None) -> Iterator[tuple[str, Node]]:
    value = Fraction(number[1], number[2])
    size = Fraction(step) if step is not None else abs(value) * _PART or Fraction(1)
    told = "one step" if step is not None else "an eighth"
    for note, moved in ((f"{told} up", value + size), (f"{told} down", value - size)):
        yield note, ("number", moved.numerator, moved.denominator)


def _with_nodes(judgement: Judgement, changes: Changes) -> Iterator[tuple[str, Judgement]]:
    applies, demands, limits = judgement.applies, judgement.demands, judgement.limits
    if applies is not None:
        for note, changed in _changed(applies, changes):
            yield f"in applies, {note}", Judgement(demands, changed, limits)
    for note, changed in _changed(demands, changes):
        yield f"in demands, {note}", Judgement(changed, applies, limits)


def _changed(node: Node, changes: Changes) -> Iterator[tuple[str, Node]]:
    """A node with one change somewhere in it, in turn."""
    yield from changes(node)
    for place in places(node):
        for note, changed in _changed(node[place], changes):
            yield note, (*node[:place], changed, *node[place + 1 :])


def _nudges(step_of: StepOf) -> Changes:
    def change(node: Node) -> Iterator[tuple[str, Node]]:
        if node[0] != "compare":
            return
        for place, other in ((2, 3), (3, 2)):
            step = _step(node[place], node[other], step_of)
            facts = " and ".join(facts_of(node)) or "nothing"
            for note, changed in _nudged(node[place], step):
                yield f"{note} against {facts}", (*node[:place], changed, *node[place + 1 :])

    return change


def _nudged(node: Node, step: Number | None) -> Iterator[tuple[str, Node]]:
    if node[0] == "number":
        for note, moved in _moved(node, step):
            yield f"figure {note}", moved
    elif node[0] in ("add", "subtract", "multiply", "divide"):
        inner = step if node[0] in ("add", "subtract") else None
        for place in (1, 2):
            for note, changed in _nudged(node[place], inner):
                yield note, (*node[:place], changed, *node[place + 1 :])


def _swaps(node: Node) -> Iterator[tuple[str, Node]]:
    if node[0] not in ("compare", "ordered") or node[1] not in _SWAPPED:
        return
    if not any(part[0] in _EXACT for side in node[2:4] for part in walk(side)):
        sign = _SWAPPED[node[1]]
        yield f"{sign} for {node[1]} between {' and '.join(facts_of(node))}", (node[0], sign, *node[2:])


def _fewer(node: Node) -> Iterator[tuple[str, Node]]:
    if node[0] == "one of" and len(node[2]) > 1:
        for word in node[2]:
            yield (
                f"without the word {word}",
                ("one of", node[1], tuple(one for one in node[2] if one != word)),
            )
