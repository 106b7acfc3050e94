"""How the computed facts of a plan were reached: inputs, formula in words, result."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from speclint.facts.build import walk
from speclint.facts.catalogue import Catalogue, Fact, Source
from speclint.facts.functions import TABLE, function_named
from speclint.facts.subject import Subject
from speclint.kernel.values import Between, Cases, Known, Unknown, ValueSet
from speclint.packs.rule import Rule
from speclint.review.report import Finding, Report
from speclint.review.show import show

_SIGNS = {"sum of": " plus ", "difference of": " less ", "product of": " times ", "quotient of": " over "}
_END = re.compile(r"\s(?:Raises|Source:|Arguments and errors)\s")
_UNITS = re.compile(
    r"(?: Lengths in metres, angle in degrees\.| in (?:metres|seconds|watts|amperes|ohms|\w+/\w+))(?=[\s:,;.])"
)
_LIMITS = "out of range"


class Working(NamedTuple):
    """One computed fact at one address: what it is, its inputs by name, the formula in words, and the result."""

    fact: str
    address: tuple[str, ...]
    means: str
    inputs: tuple[tuple[str, str], ...]
    formula: str
    result: str


def workings_of(root: Subject, system: str) -> tuple[Working, ...]:
    """Every computation that the review did on a plan, in the order of its sections, each once."""
    found: dict[Working, None] = {}
    for subject in walk(root):
        for name, value in sorted(subject.cache.items()):
            entry = subject.catalogue.facts.get(name)
            if entry is None or name in subject.own or entry.source is None or _is_outer(subject, name, value):
                continue
            formula = formula_of(entry.source, subject.catalogue)
            if formula and _is_told(value):
                found[_working(subject, entry, value, formula, system)] = None
    return tuple(found)


def with_working(report: Report, root: Subject, system: str, rules: Mapping[str, Rule]) -> Report:
    """The report with every computation, and each finding with those behind it at its place."""
    workings = workings_of(root, system)
    told: list[Finding] = []
    for finding in report.findings:
        reads = rules[finding.rule].reads
        places = {place.address for place in finding.places}
        steps = (sentence_of(one) for one in workings if one.fact in reads and one.address in places)
        told.append(finding._replace(working=tuple(dict.fromkeys(steps))))
    return report._replace(findings=tuple(told), workings=workings)


def sentence_of(one: Working) -> str:
    """A computation in one sentence."""
    told = ", ".join(f"{name} {figure}" for name, figure in one.inputs)
    return f"{one.means}: {one.result}, from {told}; {one.formula}"


def _is_outer(subject: Subject, name: str, value: ValueSet) -> bool:
    """Whether a value was worked out further out, and stands here only because it holds here too."""
    return subject.outer is not None and subject.outer.cache.get(name) is value


def _is_told(value: ValueSet) -> bool:
    if isinstance(value, Unknown):
        return value.origin == _LIMITS
    return isinstance(value, (Known, Between, Cases))


def formula_of(source: Source, catalogue: Catalogue) -> str:
    """The formula in words: of a computation what its docstring says, of arithmetic names and signs; else nothing."""
    if source.way == "function":
        doc = " ".join((function_named(source.detail).__doc__ or "").replace("`", "").split())
        head = _UNITS.sub("", _END.split(f"{doc} ")[0]).strip().rstrip(".")
        return head[:1].lower() + head[1:].replace("_", " ")
    names = [entry.means if (entry := catalogue.find(one)) else one for one in source.operands]
    return _SIGNS[source.way].join(names) if source.way in _SIGNS else ""


def _working(subject: Subject, entry: Fact, value: ValueSet, formula: str, system: str) -> Working:
    assert entry.source is not None
    pairs = entry.source.arguments or tuple((one, one) for one in entry.source.operands)
    result = f"not worked out: {value.text}" if isinstance(value, Unknown) else _shown(subject, entry.name, system)
    return Working(
        fact=entry.name,
        address=subject.address,
        means=entry.means,
        inputs=tuple(_input(subject, argument, operand, system) for argument, operand in pairs),
        formula=formula,
        result=result,
    )


def _input(subject: Subject, argument: str, operand: str, system: str) -> tuple[str, str]:
    if operand.startswith(TABLE):
        return argument.replace("_", " "), subject.catalogue.tables[operand.removeprefix(TABLE)].value.text
    entry = subject.catalogue.find(operand)
    return entry.means if entry is not None else operand, _shown(subject, operand, system)


def _shown(subject: Subject, fact: str, system: str) -> str:
    return show(subject.get(fact), subject.catalogue.find(fact), subject.catalogue, system)
