"""Checked nodes to closures, the one evaluator: a condition over a subject is yes, no or unknown.

What kept a condition unknown is left in ``Env.open_on``; an ``and`` or ``or`` that decides anyway takes it
back.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from speclint.engine.nodes import Node
from speclint.engine.reading import Condition, Env, Value, read_fact, traced
from speclint.engine.words import by_cover, by_order, covering, pairwise
from speclint.kernel.faults import EngineDefect
from speclint.kernel.logic import COMPARISONS, MIRRORED, combine, compare, has_any, one_of
from speclint.kernel.quantity import whole
from speclint.kernel.values import MISSING, Absent, Between, Cases, Known, Single, Unknown, is_stated

_YES = Known(True)


def compile_condition(node: Node) -> Condition:
    """The closure of a checked condition."""
    maker = _CONDITIONS.get(node[0])
    if maker is None:
        raise EngineDefect(f"no such condition: {node[0]!r}")
    return maker(node)


def compile_value(node: Node) -> Value:
    """The closure of a checked value."""
    maker = _VALUES.get(node[0])
    if maker is None:
        raise EngineDefect(f"no such value: {node[0]!r}")
    return maker(node)


def literal(node: Node) -> Known:
    """The value of a ``number``, ``word`` or ``flag`` node."""
    if node[0] == "number":
        return Known(whole(Fraction(node[1], node[2])))
    if node[0] not in ("word", "flag"):
        raise EngineDefect(f"not a literal: {node[0]!r}")
    return Known(node[1])


def _and(node: Node) -> Condition:
    return _kleene(tuple(compile_condition(part) for part in node[1:]), decider=False)


def _or(node: Node) -> Condition:
    return _kleene(tuple(compile_condition(part) for part in node[1:]), decider=True)


def _kleene(parts: tuple[Condition, ...], decider: bool) -> Condition:
    rest = not decider

    def run(env: Env) -> bool | None:
        trace = env.open_on
        mark = len(trace)
        result: bool | None = rest
        for part in parts:
            truth = part(env)
            if truth is decider:
                del trace[mark:]
                return decider
            if truth is None:
                result = None
        return result

    return run


def _not(node: Node) -> Condition:
    part = compile_condition(node[1])

    def run(env: Env) -> bool | None:
        truth = part(env)
        return None if truth is None else not truth

    return run


def _flag(node: Node) -> Condition:
    truth = bool(node[1])
    return lambda env: truth


def _own_facts(*nodes: Node) -> tuple[str, ...]:
    # facts inside a collection are read from its members, which trace them themselves
    found: dict[str, None] = {}
    waiting = list(nodes)
    while waiting:
        node = waiting.pop(0)
        if node[0] == "fact":
            found[node[1]] = None
        elif node[0] in ("add", "subtract", "multiply", "divide"):
            waiting += node[1:3]
    return tuple(found)


def _compare(node: Node) -> Condition:
    sign, a, b = node[1], node[2], node[3]
    if a[0] == "fact" and b[0] in ("number", "word", "flag"):
        return _fact_with_literal(sign, a[1], literal(b))
    if b[0] == "fact" and a[0] in ("number", "word", "flag"):
        return _fact_with_literal(MIRRORED[sign], b[1], literal(a))
    left, right, facts = compile_value(a), compile_value(b), _own_facts(a, b)

    def run(env: Env) -> bool | None:
        mark = len(env.open_on)
        return traced(env, compare(sign, left(env), right(env)), mark, facts)

    return run


def _fact_with_literal(sign: str, name: str, other: Known) -> Condition:
    plain, right = COMPARISONS[sign], other.value

    def run(env: Env) -> bool | None:
        value = env.subject.get(name)
        if type(value) is Known and env.read is None:
            return plain(value.value, right)
        single = read_fact(env, name)
        truth = compare(sign, single, other)
        if truth is None:
            env.open_on.append((env.subject, name, ""))
        return truth

    return run


def _on_value(node: Node, judge: Callable[[Single], bool | None]) -> Condition:
    if node[0] == "fact":
        return _on_fact(node[1], judge)
    read, facts = compile_value(node), _own_facts(node)

    def run(env: Env) -> bool | None:
        mark = len(env.open_on)
        return traced(env, judge(read(env)), mark, facts)

    return run


def _on_fact(name: str, judge: Callable[[Single], bool | None]) -> Condition:
    def run(env: Env) -> bool | None:
        truth = judge(read_fact(env, name))
        if truth is None:
            env.open_on.append((env.subject, name, ""))
        return truth

    return run


def _true(node: Node) -> Condition:
    if node[1][0] == "fact":
        return _fact_with_literal("=", node[1][1], _YES)
    return _on_value(node[1], lambda value: compare("=", value, _YES))


def _one_of(node: Node) -> Condition:
    words = frozenset(node[2])
    return _on_value(node[1], lambda value: one_of(value, words))


def _has(node: Node) -> Condition:
    words = tuple(node[2])

    return _on_value(node[1], lambda value: has_any(value, words))


def _absent(node: Node) -> Condition:
    def judge(value: Single) -> bool | None:
        return True if type(value) is Absent else (None if type(value) is Unknown else False)

    return _on_value(node[1], judge)


def _stated(node: Node) -> Condition:
    name = node[1][1]

    def run(env: Env) -> bool | None:
        value = env.subject.get(name)
        if type(value) is Cases:
            return True
        truth = is_stated(read_fact(env, name))
        if truth is None:
            env.open_on.append((env.subject, name, ""))
        return truth

    return run


def _ordered(node: Node) -> Condition:
    judge = by_order(node[1], node[4])
    left, right, facts = compile_value(node[2]), compile_value(node[3]), _own_facts(node[2], node[3])

    def run(env: Env) -> bool | None:
        mark = len(env.open_on)
        return traced(env, pairwise(judge, left(env), right(env)), mark, facts)

    return run


def _covers(node: Node) -> Condition:
    judge = by_cover(node[3])
    left, right, facts = compile_value(node[1]), compile_value(node[2]), _own_facts(node[1], node[2])

    def run(env: Env) -> bool | None:
        mark = len(env.open_on)
        return traced(env, covering(judge, left(env), right(env)), mark, facts)

    return run


def _over(node: Node, decider: bool, turned: bool) -> Condition:
    name, inner = node[1], compile_condition(node[2])

    def run(env: Env) -> bool | None:
        outer, mark = env.subject, len(env.open_on)
        members = outer.members(name)
        if members is None:
            env.open_on.append((outer, name, MISSING))
            return None
        result: bool | None = not decider
        for member in members:
            env.subject = member
            truth = inner(env)
            if truth is decider:
                result = decider
                del env.open_on[mark:]
                break
            if truth is None:
                result = None
        env.subject = outer
        return result if result is None or not turned else not result

    return run


def _count(node: Node) -> Value:
    name, inner = node[1], None if node[2] is None else compile_condition(node[2])

    def run(env: Env) -> Single:
        outer = env.subject
        members = outer.members(name)
        if members is None:
            env.open_on.append((outer, name, MISSING))
            return Between(0, None, origin=MISSING)
        if inner is None:
            return Known(len(members))
        low = high = 0
        for member in members:
            env.subject = member
            truth = inner(env)
            low += truth is True
            high += truth is not False
        env.subject = outer
        return Known(low) if low == high else Between(low, high, origin=MISSING)

    return run


def _fact(node: Node) -> Value:
    name = node[1]
    return lambda env: read_fact(env, name)


def _limit(node: Node) -> Value:
    name = node[1]
    return lambda env: env.limits[name]


def _literal(node: Node) -> Value:
    value = literal(node)
    return lambda env: value


def _arithmetic(sign: str) -> Callable[[Node], Value]:
    def make(node: Node) -> Value:
        left, right = compile_value(node[1]), compile_value(node[2])
        return lambda env: combine(sign, left(env), right(env))

    return make


_CONDITIONS: dict[str, Callable[[Node], Condition]] = {
    "and": _and, "or": _or, "not": _not, "flag": _flag, "true": _true, "compare": _compare,
    "ordered": _ordered, "one of": _one_of, "has": _has, "covers": _covers, "absent": _absent,
    "stated": _stated, "any": lambda node: _over(node, decider=True, turned=False),
    "all": lambda node: _over(node, decider=False, turned=False),
    "none": lambda node: _over(node, decider=True, turned=True),
}  # fmt: skip
_VALUES: dict[str, Callable[[Node], Value]] = {
    "fact": _fact, "limit": _limit, "number": _literal, "word": _literal, "flag": _literal, "count": _count,
    "add": _arithmetic("+"), "subtract": _arithmetic("-"),
    "multiply": _arithmetic("*"), "divide": _arithmetic("/"),
}  # fmt: skip
