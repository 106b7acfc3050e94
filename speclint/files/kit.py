"""Puts together all that a review works with: vocabulary, facts, parse tables and packs, compiled once and kept.

Where a compiled form is kept, neither the YAML nor the JSON Schema nor the parser library is loaded.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from speclint import __version__
from speclint.facts.catalogue import load_catalogue
from speclint.files.cache import keep, kept
from speclint.files.data import PACKAGE, data_folder
from speclint.files.digest import code_stamp, digest_of, folder_digest
from speclint.kernel.faults import UsageFault
from speclint.language.tables import Driver
from speclint.packs.load import load_examples, load_pack
from speclint.packs.rule import Example
from speclint.plan.build import load_vocabulary
from speclint.review.kit import Kit

SHIPPED = ("practice", "ansi", "us-codes")
_MAKERS = ("kernel", "language", "plan", "facts", "engine", "packs", "files")


class Source(NamedTuple):
    """A folder of data: where it is, how it is called in messages, and the hash of its content."""

    folder: str
    label: str
    digest: str


def load_kit(packs: Sequence[str] = SHIPPED, extra_paths: Sequence[str] = (), shared: str | None = None) -> Kit:
    """The kit with the named packs that ship and those in the folders of ``extra_paths``.

    ``shared`` stands in for the folder of words, facts and tables. Raises PackFault with every problem of the data,
    UsageFault for a pack that is not there.
    """
    sources = _sources(packs, extra_paths, shared)
    name = _name(sources)
    made = kept(f"kit-{name}.json")
    if made is not None:
        try:
            return _kit(made, name)
        except (KeyError, TypeError, ValueError, IndexError, AttributeError):
            pass  # a compiled form that was tampered with or cut is made anew
    return _kit(_compile(sources, name)[0], name)


def load_pack_examples(
    packs: Sequence[str] = SHIPPED, extra_paths: Sequence[str] = (), shared: str | None = None
) -> Mapping[str, tuple[Example, ...]]:
    """The examples of every rule of the packs by the rule's name; they stand apart, as a review needs none of them."""
    sources = _sources(packs, extra_paths, shared)
    name = _name(sources)
    made = kept(f"kit-{name}-examples.json")
    try:
        return {rule: load_examples(rows) for rule, rows in made.items()}
    except (KeyError, TypeError, ValueError, IndexError, AttributeError):
        return {rule: load_examples(rows) for rule, rows in _compile(sources, name)[1].items()}


def pack_folder(name: str) -> str:
    """The folder of a pack that ships; raises UsageFault that lists those there are."""
    rules = data_folder("rules")
    folder = os.path.join(rules, name)
    if os.sep in name or not os.path.isdir(folder):
        there = ", ".join(sorted(entry.name for entry in os.scandir(rules) if entry.is_dir()))
        raise UsageFault(f'no pack is named "{name}"; there are {there}. A pack of your own is given by its folder')
    return folder


def _sources(packs: Sequence[str], extra_paths: Sequence[str], shared: str | None) -> tuple[Source, ...]:
    words = shared if shared is not None else data_folder("shared")
    wanted = [(words, "shared"), *((pack_folder(name), f"rules/{name}") for name in dict.fromkeys(packs))]
    for path in dict.fromkeys(extra_paths):
        if not os.path.isdir(path):
            raise UsageFault(f'there is no folder "{path}" to read a pack from')
        wanted.append((path, path.rstrip("/" + os.sep) or path))
    try:
        return tuple(Source(folder, label, folder_digest(folder)) for folder, label in wanted)
    except OSError as error:
        raise UsageFault(f"{error.filename} cannot be read: {error.strerror}") from None


def _name(sources: Sequence[Source]) -> str:
    """The hash of all that the compiled form hangs on."""
    python = f"{sys.version_info[0]}.{sys.version_info[1]}"
    parts = [f"{one.label} {one.digest}" for one in sources]
    return digest_of([__version__, python, code_stamp(PACKAGE, _MAKERS), *parts])


def _compile(sources: Sequence[Source], name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    from speclint.files.compile_kit import compile_kit

    made, examples = compile_kit(sources[0], sources[1:])
    keep(f"kit-{name}.json", made)
    keep(f"kit-{name}-examples.json", examples)
    return made, examples


def _kit(made: Mapping[str, Any], name: str) -> Kit:
    words = load_vocabulary(made["vocabulary"])
    return Kit(
        vocabulary=words,
        catalogue=load_catalogue(made["facts"], made["tables"], words),
        driver=Driver(made["grammar"]),
        packs=tuple(load_pack(pack) for pack in made["packs"]),
        cautions=tuple(made["cautions"]),
        standards=made["standards"],
        hash=name,
    )
