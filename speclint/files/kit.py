"""Puts together all that a review works with: words, facts, parse tables and packs, compiled once and kept.

Where a compiled form is kept, neither the YAML nor the JSON Schema nor the parser library is loaded.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

from speclint import __version__
from speclint.facts.catalogue import load_catalogue
from speclint.files.cache import keep, kept
from speclint.files.data import PACKAGE, data_folder
from speclint.files.digest import code_stamp, digest_of, folder_digest, folder_stamp
from speclint.kernel.faults import PackFault, Problem, UsageFault
from speclint.language.tables import Driver
from speclint.packs.load import load_examples, load_pack, shared_names
from speclint.packs.rule import Example, Pack
from speclint.plan.build import load_vocabulary
from speclint.review.kit import Kit

T = TypeVar("T")
SHIPPED = ("practice", "ansi", "us-codes")
SETTLED = 2_000_000_000  # ns after a change in which another could bear the same time
_BY_NAME = (
    ("vocabulary", "kinds"),
    ("facts",),
    ("standards",),
    ("work",),
    ("sheets",),
)  # large, and a plan needs few of each
_MAKERS = ("kernel", "language", "plan", "facts", "engine", "packs", "files")


class Source(NamedTuple):
    """A folder of data: where it is, how it is called in messages, and the hash of its content."""

    folder: str
    label: str
    digest: str


def load_kit(
    packs: Sequence[str] = SHIPPED,
    extra_paths: Sequence[str] = (),
    shared: str | None = None,
    labels: Mapping[str, str] | None = None,
) -> Kit:
    """The kit with the named packs that ship and those in the folders of ``extra_paths``.

    ``labels`` says how messages call such a folder, where not by its path; ``shared`` stands in for the folder of
    words, facts and tables. Raises PackFault with every problem of the data, UsageFault for a pack that is not there.
    """
    sources = _sources(packs, extra_paths, shared, labels or {})
    base = _base(sources[0])
    words = _kept_or(f"kit-{base}.json", _bare_kit, lambda: _compile_shared(sources[0], base))
    found: list[Pack] = []
    problems: list[Problem] = []
    for pack in sources[1:]:
        try:
            found.append(_pack(pack, sources[0], base, words))
        except PackFault as fault:
            problems.extend(fault.problems)
    problems.extend(shared_names(found))
    if problems:
        raise PackFault(*problems)
    return words._replace(packs=tuple(found), hash=digest_of([base, *(pack.hash for pack in found)]))


def load_pack_examples(
    packs: Sequence[str] = SHIPPED, extra_paths: Sequence[str] = (), shared: str | None = None
) -> Mapping[str, tuple[Example, ...]]:
    """The examples of every rule of the packs by the rule's name; they stand apart, as a review needs none of them."""
    sources = _sources(packs, extra_paths, shared, {})
    base = _base(sources[0])
    found: dict[str, tuple[Example, ...]] = {}
    for pack in sources[1:]:
        found.update(_pack_examples(pack, sources[0], base))
    return found


def pack_folder(name: str) -> str:
    """The folder of a pack that ships; raises UsageFault that lists those there are."""
    rules = data_folder("rules")
    folder = os.path.join(rules, name)
    if os.sep in name or not os.path.isdir(folder):
        there = ", ".join(sorted(entry.name for entry in os.scandir(rules) if entry.is_dir()))
        raise UsageFault(f'no pack is named "{name}"; there are {there}. A pack of your own is named by its folder')
    return folder


def _sources(
    packs: Sequence[str], extra_paths: Sequence[str], shared: str | None, labels: Mapping[str, str]
) -> tuple[Source, ...]:
    words = shared if shared is not None else data_folder("shared")
    wanted = [(words, "shared"), *((pack_folder(name), f"rules/{name}") for name in dict.fromkeys(packs))]
    for path in dict.fromkeys(extra_paths):
        if not os.path.isdir(path):
            raise UsageFault(f'there is no folder "{path}" to read a pack from')
        wanted.append((path, labels.get(path) or path.rstrip("/" + os.sep) or path))
    try:
        digests = _digests([folder for folder, _ in wanted])
        return tuple(Source(*one, digest) for one, digest in zip(wanted, digests, strict=True))
    except OSError as error:
        raise UsageFault(f"{error.filename} cannot be read: {error.strerror}") from None


def _digests(folders: Sequence[str]) -> list[str]:
    """The hashes of folders: kept from the last time while the system tells of no change, as reading all takes long."""
    stamps = [folder_stamp(folder) for folder in folders]
    name = f"kit-{digest_of(stamp for stamp, _ in stamps)}-folders.json"
    told = kept(name)
    if isinstance(told, list) and len(told) == len(folders) and all(isinstance(one, str) for one in told):
        return told
    found = [folder_digest(folder) for folder in folders]
    if time.time_ns() - max(last for _, last in stamps) > SETTLED:
        keep(name, found)
    return found


def _base(shared: Source) -> str:
    """The hash of all that every compiled form hangs on."""
    python = f"{sys.version_info[0]}.{sys.version_info[1]}"
    return digest_of([__version__, python, code_stamp(PACKAGE, _MAKERS), shared.label, shared.digest])


def _pack_name(pack: Source, base: str) -> str:
    return digest_of([base, pack.label, pack.digest])


def _kept_or(name: str, load: Callable[[Any], T], make: Callable[[], Any]) -> T:
    """What is kept under a name; made anew where it is missing, cut or tampered with."""
    made = kept(name)
    if made is not None:
        try:
            return load(made)
        except (KeyError, TypeError, ValueError, IndexError, AttributeError):
            pass
    return load(make())


def _compile_shared(shared: Source, base: str) -> Any:
    from speclint.files.compile_kit import compile_shared

    made = compile_shared(shared)
    keep(f"kit-{base}.json", made, _BY_NAME)
    return made


def _pack(pack: Source, shared: Source, base: str, words: Kit) -> Pack:
    name = f"kit-{_pack_name(pack, base)}.json"
    return _kept_or(name, load_pack, lambda: _compile_pack(pack, shared, base, words)[0])


def _compile_pack(pack: Source, shared: Source, base: str, words: Kit | None = None) -> tuple[Any, Any]:
    from speclint.files.compile_kit import compile_source

    kit = words or _kept_or(f"kit-{base}.json", _bare_kit, lambda: _compile_shared(shared, base))
    made = compile_source(pack, shared, kit.catalogue, kit.standards)
    name = _pack_name(pack, base)
    keep(f"kit-{name}.json", made.pack, (("rules",),))
    keep(f"kit-{name}-examples.json", made.examples)
    return made


def _pack_examples(pack: Source, shared: Source, base: str) -> dict[str, tuple[Example, ...]]:
    name = f"kit-{_pack_name(pack, base)}-examples.json"
    return _kept_or(name, _examples, lambda: _compile_pack(pack, shared, base)[1])


def _examples(made: Mapping[str, Any]) -> dict[str, tuple[Example, ...]]:
    return {rule: load_examples(rows) for rule, rows in made.items()}


def _bare_kit(made: Mapping[str, Any]) -> Kit:
    """A kit without packs."""
    words = load_vocabulary(made["vocabulary"])
    return Kit(
        vocabulary=words,
        catalogue=load_catalogue(made["facts"], made["tables"], words),
        driver=Driver(made["grammar"]),
        packs=(),
        cautions=tuple(made["cautions"]),
        standards=made["standards"],
        work=made["work"],
        sheets=made["sheets"],
        hash="",
    )
