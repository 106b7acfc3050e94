"""What can go wrong with what a person wrote: problems are values, a fault carries all of them at once."""

from __future__ import annotations

from typing import NamedTuple

from speclint.kernel.span import Span


class Problem(NamedTuple):
    """One thing that could not be read or understood, with its place and what would pass."""

    span: Span
    message: str

    def __str__(self) -> str:
        """The place and the message on one line."""
        return f"{self.span}: {self.message}"


class SpeclintError(Exception):
    """Base of every fault that speclint raises on purpose."""


class Fault(SpeclintError):
    """A fault that holds every problem found, in the order of their places."""

    def __init__(self, *problems: Problem) -> None:
        """Keep the problems; the text of the exception lists them."""
        self.problems = tuple(sorted(problems, key=lambda problem: problem.span.order))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class ReadFault(Fault):
    """A file could not be read, or is not text."""


class PackFault(Fault):
    """A rule pack, the vocabulary or the catalogue of facts does not hold together."""


class UsageFault(SpeclintError):
    """The command was asked for something that does not exist or does not go together."""


class OutOfRange(SpeclintError):
    """A computation was given a value outside its limits of validity; the message names the limit."""


class EngineDefect(SpeclintError):
    """A bug in speclint itself, never a finding."""
