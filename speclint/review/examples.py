"""Reads the text of an example as a plan and decides a rule on it, as a review would."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from speclint.engine.decide import decide
from speclint.engine.nodes import Node, walk
from speclint.engine.outcomes import Judgement
from speclint.engine.overlay import Supposed, key_of
from speclint.facts.build import build_subjects
from speclint.facts.subject import Subject
from speclint.kernel.values import NOTHING, Absent, Known, Single
from speclint.language.lexer import scan_line
from speclint.language.reader import read
from speclint.packs.prove import Judged
from speclint.packs.rule import Rule, Stand
from speclint.plan.sections import read_sections
from speclint.plan.tree import grow_plan
from speclint.plan.vocabulary import Vocabulary
from speclint.review.findings import findings_of
from speclint.review.gates import Book
from speclint.review.judging import by_kind, judged
from speclint.review.kit import Kit
from speclint.review.questions import questions
from speclint.review.report import DIFFER, DOES_NOT_APPLY, FAILS, MEETS, NOT_SHOWN, TO_COME
from speclint.review.settle import Settled, strict
from speclint.review.show import system_of
from speclint.review.stages import stages_of

WORST_FIRST = (FAILS, DIFFER, NOT_SHOWN, TO_COME, MEETS, DOES_NOT_APPLY)
ROOM, ASSEMBLY = "here", "work"
FILE = "example"
KEPT = 512  # texts whose subjects are kept, so that a weakened rule costs a decision and no reading


class Case(NamedTuple):
    """A text as subjects by kind, what of it was not read, and the system of units it is written in."""

    subjects: Mapping[str, tuple[Subject, ...]]
    problems: tuple[str, ...]
    system: str


class ExampleJudge:
    """Decides rules on the texts of examples with the words, facts and tables of a kit."""

    def __init__(self, kit: Kit) -> None:
        """Nothing is read yet; each text is read once."""
        self.kit = kit
        self.cases: dict[str, Case] = {}

    def __call__(self, text: str, rule: Rule, stage: str) -> Judged:
        """The worst outcome of a rule over all subjects of a text, with what a person would be told."""
        case = self._case(text)
        if case.problems:
            return Judged("", problems=case.problems)
        alone = Book([Stand(rule.name, rule.judges)], {rule.name: rule})
        found = judged(alone, case.subjects, stages_of(self.kit.vocabulary, stage)).settled
        worst = min(found, key=lambda one: WORST_FIRST.index(one.outcome), default=None)
        if worst is None:
            return Judged(DOES_NOT_APPLY)
        return _told(worst, tuple(one for one in found if one.outcome == worst.outcome), case.system)

    def needless(self, text: str, rule: Rule, stage: str) -> tuple[str, ...]:
        """Facts of words that leave a rule open when unknown, although it ends alike for every word of them."""
        case = self._case(text)
        stages = stages_of(self.kit.vocabulary, stage)
        return tuple(
            fact
            for fact, words in _worded(rule.judgement, self.kit)
            if any(
                _is_needless(rule.judgement, one, fact, words, strict(stages.of(one), stages))
                for one in case.subjects.get(rule.judges, ())
            )
        )

    def _case(self, text: str) -> Case:
        found = self.cases.get(text)
        if found is None:
            if len(self.cases) >= KEPT:
                self.cases.clear()
            found = self.cases[text] = self._read(text)
        return found

    def _read(self, text: str) -> Case:
        words = self.kit.vocabulary
        draft = read_sections(read(plan_text(text, words), FILE, self.kit.driver), words)
        plan = grow_plan(FILE, draft.sections, draft.problems, words)
        root = build_subjects(plan, self.kit.catalogue)
        problems = tuple(problem.message for problem in plan.problems)
        return Case(by_kind(root), problems, system_of(root))


def plan_text(text: str, words: Vocabulary) -> str:
    """The text of an example as a whole plan.

    Lines are parted by ``;``. Those before the first heading stand in assembly "work" in room "here"; a heading opens
    another section. A plan, that room and that assembly are added where the text has none of its own and needs them.
    """
    lines = _lines(text)
    heads = [place for place, line in enumerate(lines) if _is_heading(line, words)]
    loose = lines[: heads[0]] if heads else lines
    rest = lines[len(loose) :]
    kinds = {line.split()[0].casefold() for line in rest if _is_heading(line, words)}
    named = " ".join(line for line in rest if _is_heading(line, words))
    works = bool(loose) or f'"{ASSEMBLY}"' in named or not rest
    has_work = any(_heads(line, "assembly", ASSEMBLY) for line in rest)
    has_room = any(_heads(line, "room", ROOM) for line in rest)
    before: list[str] = [] if "plan" in kinds else [f'plan "{FILE}"']
    if not has_room and (works or f'"{ROOM}"' in named):
        before.append(f'room "{ROOM}"')
    if works and not has_work:
        before.append(f'assembly "{ASSEMBLY}" in "{ROOM}"')
    return "\n".join([*before, *loose, *rest])


def _lines(text: str) -> list[str]:
    """The text cut at line ends and at each ``;`` outside quotes."""
    pieces: list[str] = []
    quoted, start = False, 0
    for place, letter in enumerate(f"{text};"):
        if letter == '"' and (quoted or place == 0 or text[place - 1] in " ,;"):
            quoted = not quoted  # a quote right after a figure is an inch mark
        elif letter in ";\n" and not quoted:
            pieces.append(text[start:place].strip())
            start = place + 1
    if quoted:
        pieces.append(text[start:].strip())
    return [piece for piece in pieces if piece]


def _is_heading(line: str, words: Vocabulary) -> bool:
    tokens = scan_line(line, 1).tokens
    if not tokens or tokens[0].text.casefold() not in words.sections:
        return False
    rest = tokens[1:]
    return all(token.kind == "string" or token.text.casefold() in (*words.links, "/") for token in rest)


def _heads(line: str, kind: str, name: str) -> bool:
    return line.casefold().split("#")[0].strip().startswith(f'{kind} "{name}"')


def _told(worst: Settled, alike: tuple[Settled, ...], system: str) -> Judged:
    if worst.outcome in (FAILS, DIFFER):
        finding = findings_of((worst,), system)[0]
        return Judged(worst.outcome, finding.words, finding.message, admits=", ".join(finding.admits))
    if worst.outcome != NOT_SHOWN:
        return Judged(worst.outcome)
    missing = frozenset(root.fact for one in alike for root in one.decision.open_on)
    asked = questions(alike, system)
    message = asked[0].text if asked and worst.ask else ""
    return Judged(NOT_SHOWN, "", message, missing, frozenset(question.fact for question in asked))


def _worded(judgement: Judgement, kit: Kit) -> list[tuple[str, tuple[str, ...]]]:
    """The facts of one word that a judgement reads outside collections, each with all its words."""
    found: dict[str, tuple[str, ...]] = {}
    for whole in (judgement.applies, judgement.demands):
        for name in _own_facts(whole) if whole is not None else ():
            entry = kit.catalogue.find(name)
            if entry is not None and entry.sort == "word":
                kind = kit.vocabulary.kinds[entry.detail]
                found[name] = tuple(word.name for word in kind.words.values() if not word.any_of)
    return list(found.items())


def _own_facts(node: Node) -> list[str]:
    inner = {id(part) for one in walk(node) if one[0] in ("any", "all", "none", "count") for part in walk(one)}
    return [one[1] for one in walk(node) if one[0] == "fact" and id(one) not in inner]


def _is_needless(judgement: Judgement, subject: Subject, fact: str, words: tuple[str, ...], strictly: bool) -> bool:
    key = key_of(subject, fact)
    if decide(judgement, Supposed(subject, {key: NOTHING}), strictly).outcome != NOT_SHOWN:
        return False
    ends: set[str] = set()
    values: tuple[Single, ...] = (*(Known(word) for word in words), Absent())
    for value in values:
        ends.add(decide(judgement, Supposed(subject, {key: value}), strictly).outcome)
        if len(ends) > 1 or NOT_SHOWN in ends:
            return False
    return bool(ends)
