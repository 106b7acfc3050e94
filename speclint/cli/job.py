"""One run of the review: which plans are read, what comes of each, and what becomes of the findings as found."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property, partial
from typing import NamedTuple

from speclint.cli.streams import standard_input, tell
from speclint.files.as_found import write_as_found
from speclint.files.history import Revision, changed_since
from speclint.files.left_out import with_left_out
from speclint.files.plans import Found, file_bytes, find_plans, include_words, load_plan, plan_of_bytes
from speclint.files.policy import Policy, agreed_at, as_found_of
from speclint.files.project import inside
from speclint.forms.phrases import counted
from speclint.kernel.faults import EngineDefect, SpeclintError
from speclint.plan.sections import Entry, Section
from speclint.plan.tree import Plan, grow_plan
from speclint.review.as_found import lost
from speclint.review.gate import Bar, stopping
from speclint.review.identity import Mark, kept_marks
from speclint.review.kit import Kit
from speclint.review.report import KNOWN, MENDED, Recorded, Report
from speclint.review.run import Ground, Options, missing_plan, review

COULD_NOT, FAULTY = 2, 70


class Told(NamedTuple):
    """What came of one file: its report, or why there is none, its exit code, and the plan where it was kept."""

    file: str
    report: Report | None
    why: str
    code: int
    plan: Plan | None = None


class AsFound:
    """The findings as found in one run: what was recorded of each plan, and what the file will hold when rewritten."""

    def __init__(self, policy: Policy, way: str) -> None:
        """``way`` is ``check``, ``rewrite`` or ``off``."""
        self.way = way
        self.path, found = as_found_of(policy) if way != "off" else ("", None)
        self.first = way == "rewrite" and found is None
        self.root = policy.project.root
        self.left = set(found or ())
        self.kept: set[Mark] = set()
        self.stays: set[Mark] = set()

    def file(self, path: str) -> str:
        """A plan's path as it is recorded: from the root of the project, with slashes."""
        return os.path.relpath(os.path.realpath(path), self.root).replace(os.sep, "/")

    def recorded(self, path: str) -> frozenset[Mark] | None:
        """What was recorded of a plan; None where nothing is looked for."""
        return None if self.way == "off" else frozenset(mark for mark in self._by_file.get(self.file(path), ()))

    def taken(self, report: Report, bar: Bar) -> Report:
        """The report with what rewriting does to it: at first all that stops is recorded, later what is mended goes."""
        if self.way == "off":
            return report
        file = self.file(report.file)
        self.left -= set(self._by_file.get(file, ()))
        marks = {Mark(one.rule, file, one.address, one.ordinal): one.state for one in report.as_found}
        if self.first:
            report = _adopted(report, file, bar)
            marks = {Mark(one.rule, file, one.address, one.ordinal): one.state for one in report.as_found}
        elif self.way == "rewrite":
            report = report._replace(as_found=tuple(one for one in report.as_found if one.state != MENDED))
        self.kept |= {mark for mark, state in marks.items() if state != MENDED}
        return report

    def unread(self, path: str) -> None:
        """A plan that could not be reviewed: what was recorded of it stays as it is."""
        self.stays |= set(self._by_file.get(self.file(path), ()))
        self.left -= self.stays

    def gone(self, tops: Sequence[str]) -> Iterator[tuple[str, list[Mark]]]:
        """What was recorded of plans that are not there, or no plans any more below what was reviewed."""
        folders = [os.path.realpath(top) for top in tops if os.path.lexists(top)]
        for file in sorted({mark.file for mark in self.left}):
            path = os.path.join(self.root, file)
            below = any(os.path.commonpath([top, os.path.realpath(path)]) == top for top in folders)
            if below or not os.path.isfile(path):
                yield path, sorted(mark for mark in self.left if mark.file == file)

    def close(self) -> None:
        """Write the file anew where that was asked for."""
        if self.way == "rewrite":
            marks = self.kept | self.left | self.stays
            write_as_found(self.path, marks)
            tell(f"{os.path.relpath(self.path)} holds {counted(len(marks), 'finding')} as found")

    @cached_property
    def _by_file(self) -> dict[str, list[Mark]]:
        found: dict[str, list[Mark]] = {}
        for mark in self.left:
            found.setdefault(mark.file, []).append(mark)
        return found


def _adopted(report: Report, file: str, bar: Bar) -> Report:
    """The report with all that stops recorded as found."""
    stops = {id(one) for group in stopping(report, bar) for one in group}
    told = [mark for one, mark in kept_marks(report, file) if id(one) in stops]
    return report._replace(
        findings=tuple(one._replace(known=True) if id(one) in stops else one for one in report.findings),
        questions=tuple(one._replace(known=True) if id(one) in stops else one for one in report.questions),
        as_found=tuple(Recorded(KNOWN, mark.rule, mark.address, mark.ordinal, "") for mark in told),
    )


class Job(NamedTuple):
    """A run made ready: ``lines`` stand where plans are silent, ``changed`` names the revision to compare with.

    ``keeps`` says that plans are handed on with their reports, for forms that draw them; ``alternates`` that what would
    pass instead is looked for.
    """

    kit: Kit
    policy: Policy
    settings: Options
    bar: Bar
    as_found: AsFound
    changed: Revision | None
    lines: tuple[Entry, ...]
    keeps: bool = False
    alternates: bool = False

    def told(self, paths: Sequence[str], stdin_name: str) -> Iterator[Told]:
        """What comes of each file in order, then of plans that went; at last the file as found is written."""
        tops = self._tops(paths)
        if "-" in paths:
            yield self._one(stdin_name, partial(self._read_input, stdin_name))
        found = find_plans([path for path in tops if path != "-"])
        for path, why in found.not_read:
            yield Told(path, None, why, COULD_NOT)
        if not (found.paths or found.not_read or "-" in paths):
            yield Told(" ".join(tops), None, "there is no plan here (no file ends in .wetspec)", COULD_NOT)
        for path in self._wanted(found):
            yield self._one(path, partial(load_plan, path, self.kit))
        for path, marks in self.as_found.gone(() if self.changed else tops):
            shown = os.path.relpath(path).replace(os.sep, "/")
            yield Told(shown, lost(missing_plan(shown, self.kit, self.settings), marks, "the plan is gone"), "", 0)
        self.as_found.close()

    def _tops(self, paths: Sequence[str]) -> list[str]:
        """The paths named, else the project's folders of plans, else here."""
        project = self.policy.project
        return list(paths) or [os.path.relpath(inside(project, one)) for one in project.plans] or ["."]

    def _read_input(self, name: str) -> Plan:
        return plan_of_bytes(standard_input(), name, self.kit)

    def _wanted(self, found: Found) -> Iterator[str]:
        """The plans to review: all, or those that changed or include what changed, or stand on a changed policy."""
        if self.changed is None:
            yield from found.paths
            return
        changed = changed_since(self.changed)
        everything = any(self._is_policy(path) for path in changed)
        words = include_words(self.kit)
        for path in found.paths:
            if everything or os.path.realpath(path) in changed or self._includes(path, changed, words):
                yield path

    def _is_policy(self, path: str) -> bool:
        project = self.policy.project
        packs = [inside(project, one) for one in project.own_packs]
        return path in (project.file, self.as_found.path) or any(
            os.path.commonpath([one, path]) == one for one in packs
        )

    def _includes(self, path: str, changed: frozenset[str], words: frozenset[str]) -> bool:
        """Whether a plan reads a file that changed or went; one that cannot be read is reviewed."""
        try:
            data = file_bytes(path)
            text = data.decode("utf-8", "replace").casefold()
            if not any(word in text for word in words):
                return False
            plan = plan_of_bytes(data, path, self.kit)
            return bool(plan.problems) or any(os.path.realpath(one) in changed for one in plan.files)
        except SpeclintError:
            return True

    def _one(self, path: str, work: Callable[[], Plan]) -> Told:
        """The report on one file; a fault in it is told and does not stop the others."""
        try:
            plan = with_left_out(work(), self.lines)
            return Told(path, self._report(path, plan), "", 0, plan if self.keeps else None)
        except SpeclintError as error:
            self.as_found.unread(path)
            if isinstance(error, EngineDefect):
                return _faulty(path, error)
            return Told(path, None, str(error).removeprefix(f"{path}: "), COULD_NOT)
        except Exception as error:  # a bug met on one plan must not hide the findings on the others
            self.as_found.unread(path)
            return _faulty(path, error)

    def _report(self, path: str, plan: Plan) -> Report:
        ground = Ground(self.as_found.recorded(path), agreed_at(self.policy, plan, self.kit))
        report = review(plan, self.kit, self.settings, ground)
        if self.alternates:
            from speclint.review.alternates import with_alternates

            report = with_alternates(report, plan, self.kit, self.settings.stage, partial(self._regrown, plan.file))
        words = self.policy.project.words
        return self.as_found.taken(report, self.bar)._replace(said=words.get(report.summary, ""))

    def _regrown(self, file: str, sections: tuple[Section, ...]) -> Plan:
        """The plan of other sections, as this run reads plans."""
        return with_left_out(grow_plan(file, sections, (), self.kit.vocabulary), self.lines)


def _faulty(path: str, error: Exception) -> Told:
    why = f"a fault of speclint itself ({type(error).__name__}: {error}); please report it with the plan"
    return Told(path, None, why, FAULTY)
