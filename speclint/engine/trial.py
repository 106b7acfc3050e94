"""One rule under one set of limits: choices one by one, open demands at their number, members that fail."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import islice, product

from speclint.engine.candidates import candidates, picked
from speclint.engine.outcomes import (
    DOES_NOT_APPLY,
    DOES_NOT_MEET,
    MEETS,
    NOT_SHOWN,
    Admitted,
    Decision,
    Made,
    Root,
)
from speclint.engine.overlay import Supposed, base_of, key_of
from speclint.engine.reading import Env, Open, Subject
from speclint.kernel.values import DEMANDED, MISSING, Among, Between, Cases, Known, Single, Unknown, ValueSet

MOST_CASES = 64


def judge(made: Made, env: Env) -> str | None:
    """The outcome as the facts stand, or None; what keeps it open stands in ``env``, of ``applies`` first."""
    applies = True if made.applies is None else made.applies(env)
    if applies is False:
        return DOES_NOT_APPLY
    mark = len(env.open_on)
    met = made.demands(env)
    if met is True:
        return MEETS
    if applies is True:
        return DOES_NOT_MEET if met is False else None
    del env.open_on[mark:]
    return None


def unique(roots: Iterable[Root]) -> tuple[Root, ...]:
    """Roots once each, in order."""
    return tuple({root.key: root for root in roots}.values())


def roots_of(trace: Iterable[Open], picks: Mapping[str, int]) -> tuple[Root, ...]:
    """What the traced facts finally rest on; choices already picked are left out."""
    found: list[Root] = []
    for subject, fact, origin in trace:
        base = base_of(subject)
        if origin:
            found.append(Root(base, fact, origin))
            continue
        roots = [Root(*root) for root in subject.roots(fact) if not _is_picked(root[0].get(root[1]), picks)]
        found += roots or [Root(base, fact, _open_origin(picked(subject.get(fact), picks)))]
    return unique(found) if len(found) > 1 else tuple(found)


def _is_picked(value: ValueSet, picks: Mapping[str, int]) -> bool:
    return type(value) is Cases and value.group in picks


def _open_origin(value: ValueSet) -> str:
    # an exact value can keep a comparison open too, as two classes that say nothing of each other do
    return MISSING if type(value) is Known else value.origin


class Trial:
    """One rule under one set of limits on one subject, with what it may still spend on trying cases."""

    __slots__ = ("cases", "limits", "made", "splits", "strict")

    def __init__(self, made: Made, limits: Mapping[str, Single], strict: bool) -> None:
        """Nothing is spent yet."""
        self.made = made
        self.limits = limits
        self.strict = strict
        # trying n members of a set puts n cases in the place of one
        self.cases = MOST_CASES - 1
        self.splits = MOST_CASES - 1

    def under(self, subject: Subject, picks: Mapping[str, int]) -> Decision:
        """The decision with the picks given; choices met on the way are tried one by one."""
        env = Env(subject, self.limits, picks)
        outcome = judge(self.made, env)
        return self.undecided(env) if outcome is None else self._decision(outcome, picks)

    def undecided(self, env: Env) -> Decision:
        """The decision where an evaluation has left it open."""
        subject, picks = env.subject, env.picks
        if env.wanted:
            return self._each_case(subject, picks, env)
        trace = tuple(env.open_on)
        for reader, fact, origin in trace:
            value = None if origin else picked(reader.get(fact), picks)
            if type(value) is Among and not value.beyond and 0 < len(value.members) - 1 <= self.splits:
                return self._each_word(subject, picks, (reader, fact), value)
        return self._open(subject, picks, trace)

    def _decision(
        self, outcome: str, picks: Mapping[str, int], open_on: tuple[Root, ...] = (), at_number: bool = False
    ) -> Decision:
        return Decision(outcome, open_on, tuple(picks.items()), at_number, limits=self.limits)

    def _each_case(self, subject: Subject, picks: Mapping[str, int], env: Env) -> Decision:
        # choices before pluralities: for each way to choose, all that occurs must do
        group, (reader, fact, value) = min(env.wanted.items(), key=lambda item: item[1][2].together)
        if len(value.members) - 1 > self.cases:
            asked = tuple(Root(base_of(one), name, cases.origin) for one, name, cases in env.wanted.values())
            return self._decision(NOT_SHOWN, picks, unique(asked))
        self.cases -= len(value.members) - 1
        decisions = [self.under(subject, {**picks, group: index}) for index in range(len(value.members))]
        if value.together:
            return _worst(decisions)
        admitted = [Admitted(base_of(reader), fact, member) for member in value.members]
        return self._chosen(decisions, admitted, (Root(base_of(reader), fact, value.origin),))

    def _each_word(
        self, subject: Subject, picks: Mapping[str, int], place: tuple[Subject, str], value: Among
    ) -> Decision:
        self.splits -= len(value.members) - 1
        reader, fact = place
        members = [Known(word, value.text, value.span, value.origin) for word in sorted(value.members)]
        decisions = [self.under(Supposed(subject, {key_of(reader, fact): member}), picks) for member in members]
        admitted = [Admitted(base_of(reader), fact, member) for member in members]
        return self._chosen(decisions, admitted, roots_of([(reader, fact, "")], picks))

    def _chosen(self, decisions: list[Decision], admitted: list[Admitted], roots: tuple[Root, ...]) -> Decision:
        """Any one of several may come: alike is decided, else the plan also admits what fails."""
        outcomes = {decision.outcome for decision in decisions}
        asks = self.strict or any(root.origin != DEMANDED for root in roots)
        if outcomes <= {MEETS, DOES_NOT_APPLY}:
            return next((one for one in decisions if one.outcome == MEETS), decisions[0])
        if outcomes == {NOT_SHOWN} or (NOT_SHOWN in outcomes and not asks):
            return _asking(decisions)
        fails = [index for index, one in enumerate(decisions) if one.outcome == DOES_NOT_MEET]
        if len(fails) == len(decisions) and all(one.admits == decisions[0].admits for one in decisions):
            # whichever comes, the same fails: outright, or by what else the plan admits
            return decisions[0]
        if asks:
            asked = unique([*roots, *_asking(decisions).open_on])
            return self._decision(NOT_SHOWN, dict(decisions[fails[0] if fails else 0].picks), asked)
        failing = decisions[fails[0]]
        return failing._replace(admits=(admitted[fails[0]], *failing.admits))

    def _open(self, subject: Subject, picks: Mapping[str, int], trace: tuple[Open, ...]) -> Decision:
        """Undecided with all choices picked: open ends at their number, demands alone, then questions."""
        roots = roots_of(trace, picks)
        if all(root.origin != DEMANDED for root in roots):
            return self._decision(NOT_SHOWN, picks, roots)
        env = Env(subject, self.limits, picks, at_number=True)
        outcome = judge(self.made, env)
        if outcome in (MEETS, DOES_NOT_APPLY) or (outcome is not None and self.strict):
            return self._decision(outcome, picks, at_number=True)
        if outcome is None:
            roots = roots_of(env.open_on, picks)
        asked = roots if self.strict else tuple(root for root in roots if root.origin != DEMANDED)
        if asked:
            return self._decision(NOT_SHOWN, picks, asked)
        if outcome == DOES_NOT_MEET:
            return self._decision(outcome, picks, at_number=True)._replace(admits=_at_number(trace, picks))
        admits = self._failing(subject, picks, tuple(env.open_on))
        if not admits:
            return self._decision(NOT_SHOWN, picks, roots)
        return self._decision(DOES_NOT_MEET, picks)._replace(admits=admits)

    def _failing(self, subject: Subject, picks: Mapping[str, int], trace: tuple[Open, ...]) -> tuple[Admitted, ...]:
        """Members of what the plan leaves open under which the demand fails; empty if none is found."""
        places = {key_of(reader, fact): (reader, fact) for reader, fact, origin in trace if not origin}
        choices = {key: candidates(picked(reader.get(fact), picks)) for key, (reader, fact) in places.items()}
        tried = {key: members for key, members in choices.items() if members}
        for combination in islice(product(*tried.values()), MOST_CASES):
            supposed = dict(zip(tried, combination, strict=True))
            env = Env(Supposed(subject, supposed), self.limits, picks)
            if supposed and judge(self.made, env) == DOES_NOT_MEET:
                shown = ((key, *places[key]) for key in supposed)
                return tuple(Admitted(base_of(reader), fact, supposed[key]) for key, reader, fact in shown)
        free = ((reader, fact, picked(reader.get(fact), picks)) for reader, fact in places.values())
        return tuple(
            Admitted(base_of(reader), fact, value)
            for reader, fact, value in free
            if type(value) is Unknown or (type(value) is Among and value.beyond)
        )


def _asking(decisions: list[Decision]) -> Decision:
    asking = [decision for decision in decisions if decision.outcome == NOT_SHOWN]
    if not asking:
        return Decision(NOT_SHOWN)
    return asking[0]._replace(open_on=unique(root for one in asking for root in one.open_on))


def _worst(decisions: list[Decision]) -> Decision:
    """All of several occur: failing outright, then not shown, then failing in part, then meeting."""
    for decision in decisions:
        if decision.outcome == DOES_NOT_MEET and not decision.admits:
            return decision
    if any(decision.outcome == NOT_SHOWN for decision in decisions):
        return _asking(decisions)
    order = {DOES_NOT_MEET: 0, MEETS: 1, DOES_NOT_APPLY: 2}
    return min(decisions, key=lambda decision: order[decision.outcome])


def _at_number(trace: tuple[Open, ...], picks: Mapping[str, int]) -> tuple[Admitted, ...]:
    found: dict[object, Admitted] = {}
    for reader, fact, _ in trace:
        value = picked(reader.get(fact), picks)
        if type(value) is Between and value.number is not None:
            number = Known(value.number, value.text, value.span, DEMANDED)
            found[key_of(reader, fact)] = Admitted(base_of(reader), fact, number)
    return tuple(found.values())
