"""The long way to a kit: YAML read strictly, held against its schemas, and compiled; done once for each state of the data."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from speclint.facts.catalogue import load_catalogue
from speclint.files.data import under, yaml_files
from speclint.files.names import CatalogueNames
from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import at
from speclint.language.tables import build_tables, grammar_text
from speclint.packs.cautions import compile_cautions
from speclint.packs.compile import compile_pack, name_problems
from speclint.packs.schema import schema_problems
from speclint.packs.yaml_text import Read, read_yaml
from speclint.plan.build import compile_vocabulary, load_vocabulary
from speclint.plan.row import tokens_of

if TYPE_CHECKING:
    from speclint.files.kit import Source

MOST_FILES = 5_000
_SCHEMAS = (
    ("vocabulary/words/", "vocabulary-words"),
    ("vocabulary/keys/", "vocabulary-keys"),
    ("facts/", "facts"),
)


def compile_kit(shared: Source, packs: Sequence[Source]) -> tuple[dict[str, Any], dict[str, Any]]:
    """The compiled form of the shared data and all packs, and apart from it all examples by rule.

    Raises PackFault with every problem of the shared data, or else of all packs.
    """
    schemas = _schemas(shared.folder)
    made = _shared(shared, schemas)
    words = load_vocabulary(made["vocabulary"])
    names = CatalogueNames(load_catalogue(made["facts"], made["tables"], words), _register(made["standards"]))
    made["cautions"] = compile_cautions(made["cautions"], "shared/cautions.yaml", names)
    problems: list[Problem] = []
    examples: dict[str, Any] = {}
    made["packs"] = []
    for pack in packs:
        try:
            compiled = compile_pack(pack.label, _texts(pack), names, schemas, pack.digest)
        except PackFault as fault:
            problems.extend(fault.problems)
            continue
        made["packs"].append(compiled.pack)
        examples.update(compiled.examples)
    problems.extend(name_problems([rule for pack in made["packs"] for rule in pack["rules"]]))
    if problems:
        raise PackFault(*problems)
    return made, examples


def _texts(source: Source) -> list[tuple[str, str]]:
    try:
        files = yaml_files(source.folder)
    except UnicodeDecodeError as error:
        raise PackFault(Problem(at(source.label, 1), f"a file here is not UTF-8 text: {error.reason}")) from None
    if len(files) > MOST_FILES:
        raise PackFault(Problem(at(source.label, 1), f"more than {MOST_FILES:,} files: part the pack"))
    return files


def _schemas(folder: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name in ("rule", "pack", *(schema for _, schema in _SCHEMAS)):
        with open(os.path.join(folder, "schemas", f"{name}.json"), encoding="utf-8") as stream:
            found[name] = json.load(stream)
    return found


def _shared(source: Source, schemas: Mapping[str, Any]) -> dict[str, Any]:
    problems: list[Problem] = []
    files: list[tuple[str, Read]] = []
    for path, text in _texts(source):
        try:
            read = read_yaml(text, f"{source.label}/{path}")
        except PackFault as fault:
            problems.extend(fault.problems)
            continue
        schema = next((schemas[name] for prefix, name in _SCHEMAS if path.startswith(prefix)), None)
        problems.extend(schema_problems(read, schema) if schema else ())
        files.append((path, read))
    if problems:
        raise PackFault(*problems)
    data = [(path, read.data) for path, read in files]
    facts = {name: fact for _, each in under(data, "facts/") for name, fact in each.items()}
    tables = {
        f"{path.removeprefix('tables/').removesuffix('.yaml')}.{name}": row
        for path, each in under(data, "tables/")
        for name, row in each.items()
    }
    one = dict(data)
    return {
        "vocabulary": compile_vocabulary(_raw(data, one, facts), tokens_of),
        "facts": facts,
        "tables": tables,
        "grammar": build_tables(grammar_text()),
        "cautions": _inner(one.get("cautions.yaml"), "cautions", []),
        "standards": _inner(one.get("standards.yaml"), "standards", {}),
    }


def _raw(data: list[tuple[str, Any]], one: Mapping[str, Any], facts: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "units": one["units.yaml"],
        "kinds": [kind for _, kind in under(data, "vocabulary/words/")],
        "groups": [group for _, group in under(data, "vocabulary/keys/")],
        "sections": one["vocabulary/sections.yaml"],
        "forms": one["vocabulary/forms.yaml"],
        "facts": facts,
    }


def _inner(data: Any, key: str, otherwise: Any) -> Any:
    """What a file holds under its own name, or the whole of it."""
    if data is None:
        return otherwise
    return data.get(key, data) if isinstance(data, dict) else data


def _register(standards: Mapping[str, Any]) -> dict[str, Any]:
    """The register by name and by alias."""
    found: dict[str, Any] = {}
    for name, entry in standards.items():
        for spelling in (name, *(entry or {}).get("aliases", ())):
            found[str(spelling)] = entry or {}
    return found
