"""The outcome of a rule on a subject over all that its facts allow."""

from __future__ import annotations

from collections.abc import Mapping

from speclint.engine.outcomes import (
    DOES_NOT_APPLY,
    DOES_NOT_MEET,
    MEETS,
    NOT_SHOWN,
    SOURCES_DIFFER,
    Decision,
    Judgement,
    Made,
    MadeVariant,
    Root,
)
from speclint.engine.overlay import Key, Supposed, key_of
from speclint.engine.reading import Env, Open, Subject
from speclint.engine.trial import Trial, judge, roots_of, unique
from speclint.kernel.values import ASSUMED, TAKEN, Cases, Single, Unknown, is_stated

MOST_RESTS = 32
_NO_LIMITS: Mapping[str, Single] = {}
_DEMANDED = {True: MEETS, False: DOES_NOT_MEET, None: None}


def decide(
    judgement: Judgement, subject: Subject, strict: bool = False, rests: bool | None = None, applies: bool = False
) -> Decision:
    """Decide a rule on a subject, which is known to apply with ``applies``.

    ``strict`` (once the work is under way) asks for a choice or range that the plan leaves open and takes an
    open end as its number. ``rests`` asks on which assumed or taken facts the outcome rests; left out, only
    `does not meet` tells.
    """
    made = judgement.made
    if made.fixed is not None:
        env = Env(subject, made.fixed)
        outcome = _DEMANDED[made.demands(env)] if applies else judge(made, env)
        plain = None if rests or outcome is None else made.plain.get(outcome)
        return plain or _told(made, env, outcome, strict, rests)
    return _several(made, subject, strict, rests)


def is_borne(judgement: Judgement, subject: Subject, strict: bool = False) -> bool:
    """Whether an outcome hangs on what was written (a value, a demand, ``none``): unknown, it would end otherwise."""
    made = judgement.made
    choices = [("", made.fixed)] if made.fixed is not None else _admitted(made, subject)[0]
    if not choices:
        return False
    limits = choices[0][1]
    env = Env(subject, limits)
    env.read = []
    outcome = judge(made, env)
    read = [(reader, fact, reader.get(fact)) for reader, fact in env.read]
    told = [one for one in read if isinstance(one[2], Cases) or (is_stated(one[2]) and type(one[2]) is not Unknown)]
    unknown = {key_of(reader, fact): Unknown() for reader, fact, _ in told}
    return bool(told) and Trial(made, limits, strict).under(Supposed(subject, unknown), {}).outcome != outcome


def _told(made: Made, env: Env, outcome: str | None, strict: bool, rests: bool | None) -> Decision:
    trial = Trial(made, env.limits, strict)
    decision = trial.undecided(env) if outcome is None else Decision(outcome, limits=env.limits)
    wanted = decision.outcome == DOES_NOT_MEET if rests is None else rests
    if wanted and decision.outcome != NOT_SHOWN:
        return decision._replace(rests_on=_rests_on(made, env.subject, env.limits, strict, decision))
    return decision


def _several(made: Made, subject: Subject, strict: bool, rests: bool | None) -> Decision:
    choices, trace = _admitted(made, subject)
    if not choices:
        return Decision(DOES_NOT_APPLY)
    trials = [Env(subject, limits) for _, limits in choices]
    decisions = [_told(made, env, judge(made, env), strict, rests) for env in trials]
    if len(decisions) == 1:
        return decisions[0]
    told = tuple((label, decision.outcome) for (label, _), decision in zip(choices, decisions, strict=True))
    outcomes = {decision.outcome for decision in decisions}
    if NOT_SHOWN in outcomes:
        # a variant not yet decided may still agree: what it lacks is asked before sources are settled
        first = next(decision for decision in decisions if decision.outcome == NOT_SHOWN)
        asked = unique(root for decision in decisions for root in decision.open_on)
        return first._replace(open_on=asked, variants=told)
    if len(outcomes) > 1 and outcomes != {MEETS, DOES_NOT_APPLY}:
        return Decision(SOURCES_DIFFER, roots_of(trace, {}), variants=told, limits=decisions[0].limits)
    # a failure outright tells more than one that only some of what is admitted would bring
    best = min(decisions, key=lambda decision: (decision.outcome == DOES_NOT_APPLY, bool(decision.admits)))
    return best._replace(variants=told)


def _admitted(made: Made, subject: Subject) -> tuple[list[tuple[str, Mapping[str, Single]]], list[Open]]:
    """The label and limits of each variant that the plan admits, and what left open whether it does."""
    env = Env(subject, _NO_LIMITS)
    admitted = {name: _holding(each, env) for name, each in made.limits.items()}
    if not all(admitted.values()):
        return [], []
    labels = dict.fromkeys(one.label for name, each in admitted.items() if len(made.limits[name]) > 1 for one in each)
    if len(labels) > 1 and not _keeps_default(admitted):
        labels.pop("", None)
    choices: list[tuple[str, Mapping[str, Single]]] = []
    for label in labels or {"": None}:
        choices.append((label, {name: _labelled(each, label) for name, each in admitted.items()}))
    return choices, env.open_on


def _holding(variants: tuple[MadeVariant, ...], env: Env) -> list[MadeVariant]:
    held: list[MadeVariant] = []
    sure = False
    for variant in variants:
        truth = True if variant.when is None else variant.when(env)
        if truth is not False:
            held.append(variant)
        sure = sure or (truth is True and variant.label != "")
    return [variant for variant in held if variant.label] if sure else held


def _keeps_default(admitted: Mapping[str, list[MadeVariant]]) -> bool:
    # an unlabelled variant counts as one of several only where some limit really keeps it beside others
    return any(len(each) > 1 and any(not one.label for one in each) for each in admitted.values())


def _labelled(variants: list[MadeVariant], label: str) -> Single:
    same = [one for one in variants if one.label == label]
    default = [one for one in variants if not one.label]
    return (same or default or variants)[0].value


def _rests_on(
    made: Made, subject: Subject, limits: Mapping[str, Single], strict: bool, decision: Decision
) -> tuple[Root, ...]:
    env = Env(subject, limits, dict(decision.picks), decision.at_number)
    env.read = []
    judge(made, env)
    resting: dict[Key, tuple[Root, list[tuple[Subject, str]]]] = {}
    for reader, fact in env.read:
        for owner, name, origin in reader.roots(fact) or ((reader, fact, _origin(reader, fact)),):
            if origin in (ASSUMED, TAKEN):
                resting.setdefault(key_of(owner, name), (Root(owner, name, origin), []))[1].append((reader, fact))
    found: list[Root] = []
    for root, readers in list(resting.values())[:MOST_RESTS]:
        unknown = {key_of(reader, fact): Unknown(origin=root.origin) for reader, fact in readers}
        without = Trial(made, limits, strict).under(Supposed(subject, unknown), {})
        if without.outcome != decision.outcome or without.admits != decision.admits:
            found.append(root)
    return tuple(found)


def _origin(subject: Subject, fact: str) -> str:
    return subject.get(fact).origin
