"""What a closeout is made of: each place as built, the records and papers that are there, and those missing."""

from __future__ import annotations

from typing import NamedTuple

from speclint.kernel.span import Span

THERE, NOT_THERE, OUTSIDE, REFERENCE = "there", "not there", "outside the repository", "by reference"


class File(NamedTuple):
    """A file that a record or paper names: whether it is there, and then its size in bytes and its SHA-256."""

    name: str
    state: str
    size: int = 0
    digest: str = ""


class Built(NamedTuple):
    """One line of a place as it was built; where a record tells it otherwise, ``planned`` and the record's name."""

    key: str
    text: str
    planned: str = ""
    record: str = ""


class Shown(NamedTuple):
    """A rule that a record decides: its outcome now, its weight, and what would pass in the units of the plan."""

    rule: str
    outcome: str
    weight: str
    says: str


class Kept(NamedTuple):
    """A record, paper or decision that is there, line by line, with the rules that it fails and what it leaves open."""

    sort: str
    kind: str
    name: str
    when: str
    by: str
    lines: tuple[tuple[str, str], ...]
    files: tuple[File, ...]
    fails: tuple[Shown, ...]
    asks: tuple[str, ...]
    span: Span


class Missing(NamedTuple):
    """A sheet or paper that is not there: by when and by whom, what it would have shown, and the second-best proof.

    ``late`` says that the work is past the stage at which it was due.
    """

    sheet: str
    title: str
    kind: str
    due: str
    late: bool
    by: str
    shows: tuple[Shown, ...]
    second_best: str


class Place(NamedTuple):
    """A plan, room, assembly or part: as built, what is on file for it, and what is missing."""

    kind: str
    address: tuple[str, ...]
    stage: str
    built: tuple[Built, ...]
    kept: tuple[Kept, ...]
    missing: tuple[Missing, ...]


class Closeout(NamedTuple):
    """The record of one plan; ``signs`` are the roles for whose signature room is left."""

    file: str
    plan: str
    stage: str
    summary: str
    places: tuple[Place, ...]
    variances: tuple[str, ...]
    signs: tuple[str, ...]
    unread: tuple[str, ...]
    rules: int
    packs: tuple[tuple[str, str, str], ...]
    as_of: str
    fragment: bool
