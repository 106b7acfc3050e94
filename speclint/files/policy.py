"""What a repository has settled, read from the files as they stand or as they stood at a revision."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext
from typing import NamedTuple

from speclint.facts.build import build_subjects, walk
from speclint.files.as_found import read_as_found
from speclint.files.history import Revision, revision
from speclint.files.left_out import read_left_out
from speclint.files.plans import plan_of_bytes
from speclint.files.project import AS_FOUND, NAME, Project, find_project, inside, on_disk
from speclint.kernel.faults import UsageFault
from speclint.plan.near import nearest_names
from speclint.plan.row import tokens_of
from speclint.plan.sections import Entry
from speclint.plan.spelling import longest
from speclint.plan.tree import Plan, same
from speclint.review.identity import Mark
from speclint.review.kit import Kit
from speclint.review.variances import variance_marks

VARIANCE = "variance"


class Policy(NamedTuple):
    """The project, the revision it is read at (None: as the files stand), and its own packs: folder and name."""

    project: Project
    at: Revision | None = None
    own_packs: tuple[tuple[str, str], ...] = ()

    @property
    def labels(self) -> Mapping[str, str]:
        """How messages call the folders of the project's own packs."""
        return dict(self.own_packs)

    def read(self, path: str) -> bytes | None:
        """The bytes of a file as the policy reads it; None where there is none."""
        return self.at.file(path) if self.at else on_disk(path)


def read_policy(start: str, at: str, keep: Callable[[AbstractContextManager[str]], str]) -> Policy:
    """The policy for a path; ``at`` names a revision or is empty, ``keep`` holds a folder for as long as it is needed.

    Raises UsageFault and PackFault.
    """
    held = revision(at, start if os.path.isdir(start) else os.path.dirname(start) or ".") if at else None
    project = find_project(start, held.file if held else on_disk)
    policy = Policy(project, held)
    for path in project.plans:
        inside(project, path)
    return policy._replace(own_packs=tuple((_pack(policy, path, keep), path) for path in project.own_packs))


def _pack(policy: Policy, path: str, keep: Callable[[AbstractContextManager[str]], str]) -> str:
    """The folder of an own pack; at a revision its files are laid out as they stood."""
    real = inside(policy.project, path)
    if policy.at is None:
        keep(nullcontext(real))
        return real
    files = policy.at.folder(real)
    if not files:
        raise UsageFault(f'{NAME}: there was no pack in "{path}" at {policy.at.said}')
    from tempfile import TemporaryDirectory

    folder = keep(TemporaryDirectory(prefix="speclint-"))
    for name, data in files.items():
        into = os.path.normpath(os.path.join(folder, name))
        os.makedirs(os.path.dirname(into), exist_ok=True)
        with open(into, "xb") as stream:
            stream.write(data)
    return folder


def check_pins(project: Project, kit: Kit) -> None:
    """Raises UsageFault where a pack is not the one pinned, with what was found and what is pinned."""
    wrong: list[str] = []
    packs = {pack.name: pack for pack in kit.packs}
    for name, pin in project.packs.items():
        pack = packs.get(name)
        if pack is None:
            wrong.append(f"pack {name} is pinned and not loaded")
        elif pin.get("version", pack.version) != pack.version:
            wrong.append(f"pack {name} is version {pack.version}, pinned is {pin['version']}")
        elif not pack.hash.startswith(pin.get("hash", "")):
            wrong.append(f"pack {name} {pack.version} has the hash {pack.hash[:12]}, pinned is {pin['hash']}")
    if wrong:
        raise UsageFault("\n".join(f"{NAME}: {one}" for one in wrong))


def as_found_of(policy: Policy) -> tuple[str, frozenset[Mark] | None]:
    """The path of the file of findings as found, and what it holds; None where there is no such file.

    Raises ReadFault with every line that is not read.
    """
    path = inside(policy.project, policy.project.as_found or AS_FOUND)
    data = policy.read(path)
    return path, None if data is None else read_as_found(data, os.path.relpath(path, policy.project.root))


def roles_of(policy: Policy, kit: Kit) -> Mapping[str, str]:
    """The role of each name that the project file tells, by the name as names compare.

    Raises UsageFault for what is no role.
    """
    known = kit.vocabulary.kinds["role"]
    found: dict[str, str] = {}
    for name, said in policy.project.roles.items():
        told = longest(known.spellings, tokens_of(said), 0)
        if told is None or told[1] != len(tokens_of(said)):
            raise UsageFault(f'{NAME}: roles: "{said}" of {name} is no role{nearest_names(said, known.words)}')
        found[same(name)] = told[0]
    return found


def left_out_of(policy: Policy, kit: Kit) -> tuple[Entry, ...]:
    """The lines that stand where a plan is silent."""
    return read_left_out(policy.project.left_out, kit)


def agreed_at(policy: Policy, plan: Plan, kit: Kit) -> frozenset[tuple[str, ...]] | None:
    """The variances of a plan as they stood at the policy's revision; None where it is read as the files stand."""
    at = policy.at
    if at is None:
        return None
    if not _has_variance(plan):
        return frozenset()
    data = at.file(plan.file)
    if data is None:
        return frozenset()
    old = plan_of_bytes(data, plan.file, kit, lambda path: _then(at, path))
    return variance_marks(build_subjects(old, kit.catalogue), walk)


def _then(at: Revision, path: str) -> bytes | str:
    data = at.file(path)
    return f"there was no such file at {at.said}" if data is None else data


def _has_variance(plan: Plan) -> bool:
    waiting = [plan.root]
    while waiting:
        node = waiting.pop()
        if node.kind == VARIANCE:
            return True
        waiting.extend(node.children)
    return False
