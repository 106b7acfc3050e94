"""Agreed exceptions: which finding each covers, and which are lapsed, void or unused."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from speclint.facts.subject import Subject
from speclint.kernel.values import Between, Known
from speclint.packs.rule import Rule
from speclint.plan.moments import day_range
from speclint.plan.tree import same
from speclint.review.report import FAILS, Finding, VarianceState

GRANTED, LAPSED, VOID, UNUSED = "granted", "lapsed", "void", "unused"
NOT_AGREED = "it does not stand so at the revision that the policy is read from"
SOON = 30 * 86400  # seconds before its end in which a variance is remarked on


def apply_variances(
    findings: tuple[Finding, ...],
    root: Subject,
    rules: Mapping[str, Rule],
    as_of: str,
    walk: Callable[[Subject], object],
    agreed: frozenset[tuple[str, ...]] | None = None,
    roles: Mapping[str, str] = {},
) -> tuple[tuple[Finding, ...], tuple[VarianceState, ...]]:
    """Mark the findings that a valid variance covers, and tell how each variance stands on the day ``as_of``.

    With ``agreed`` only a variance that stands there, as ``variance_marks`` gives it, can let anything through.
    ``roles`` gives the role of a name by which one is granted.
    """
    states: list[VarianceState] = []
    marked = list(findings)
    for section in _sections(root, "variance", walk):
        state, covered = _state(section, marked, rules, as_of, roles)
        if agreed is not None and state.state == GRANTED and _mark(section) not in agreed:
            state, covered = state._replace(state=VOID, why=NOT_AGREED), []
        states.append(state)
        if state.state == GRANTED:
            for index in covered:
                marked[index] = marked[index]._replace(variance=f"{state.role}, until {state.until or 'no end'}")
    return tuple(marked), tuple(states)


def variance_marks(root: Subject, walk: Callable[[Subject], object]) -> frozenset[tuple[str, ...]]:
    """What every variance of a plan says, by which the same one is found again in another state of the plan."""
    return frozenset(_mark(section) for section in _sections(root, "variance", walk))


def _mark(section: Subject) -> tuple[str, ...]:
    said = sorted(f"{fact} {same(value.text)}" for fact, value in section.own.items())
    return (*(same(name) for name in section.address), *said)


def _sections(root: Subject, kind: str, walk: Callable[[Subject], object]) -> list[Subject]:
    found = walk(root)
    return [one for one in found if isinstance(one, Subject) and one.kind == kind]  # type: ignore[attr-defined]


def _state(
    section: Subject, findings: list[Finding], rules: Mapping[str, Rule], as_of: str, roles: Mapping[str, str]
) -> tuple[VarianceState, list[int]]:
    name, address = section.name, section.address[:-1]
    rule = rules.get(name) or next((one for one in rules.values() if name in one.formerly), None)
    named = _text(section, "variance.granted-by-name")
    role = _text(section, "variance.granted-by") or roles.get(same(named), named)
    because = _text(section, "variance.because")
    accepts, until = _text(section, "variance.accepts"), section.get("variance.until")
    ends, last = _end(until)

    def told(state: str, why: str) -> VarianceState:
        return VarianceState(state, name, " / ".join(address), role, because, ends, why, section.span)

    if rule is None:
        return told(VOID, f'no rule is named "{name}"'), []
    if not role or not because or not ends:
        missing = [word for word, value in (("granted by", role), ("because", because), ("until", ends)) if not value]
        return told(VOID, f"it does not say {', '.join(missing)}"), []
    if role not in rule.varied_by:
        may = ", ".join(rule.varied_by) or "nobody"
        return told(VOID, f"{role} may not vary this rule; {may} may"), []
    covered = [
        i for i, one in enumerate(findings) if one.rule == rule.name and one.outcome == FAILS and _under(one, address)
    ]
    today = day_range(as_of)
    if last is not None and today is not None and today[0] > last:
        return told(LAPSED, f"it ended on {ends}"), []
    if not covered:
        return told(UNUSED, "the finding it excuses is not there"), []
    moved = [findings[i].words for i in covered if accepts and not _accepted(accepts, findings[i].words)]
    if moved:
        return told(LAPSED, f'the plan now says "{moved[0]}", it accepts "{accepts}"'), []
    soon = last is not None and today is not None and last - today[1] < SOON
    return told(GRANTED, "it ends within 30 days" if soon else ""), covered


def _under(finding: Finding, address: tuple[str, ...]) -> bool:
    """Whether every place of a finding lies at or under an address."""
    wanted = tuple(same(name) for name in address)
    return all(tuple(same(n) for n in place.address[: len(wanted)]) == wanted for place in finding.places)


def _accepted(accepts: str, words: str) -> bool:
    """Whether the words pointed at are what was accepted, whatever key stands before them."""
    have, allowed = same(words), same(accepts)
    return not have or allowed == have or allowed.endswith(f" {have}")


def _text(section: Subject, fact: str) -> str:
    value = section.get(fact)
    return str(value.value) if isinstance(value, Known) else ""


def _end(value: object) -> tuple[str, int | None]:
    if isinstance(value, Known) and not isinstance(value.value, str):
        return value.text, int(value.value)
    if isinstance(value, Between) and value.high is not None:
        return value.text, int(value.high)
    return "", None
