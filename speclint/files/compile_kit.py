"""The long way to a kit: YAML read strictly, held against its schemas, compiled; once for each state of the data."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from speclint.engine.nodes import joined
from speclint.engine.outcomes import Judgement
from speclint.facts.catalogue import Catalogue, load_catalogue, with_steps
from speclint.files.data import under, yaml_files
from speclint.files.names import CatalogueNames
from speclint.kernel.faults import PackFault, Problem
from speclint.kernel.span import Span, at
from speclint.language.tables import build_tables, grammar_text
from speclint.packs.cautions import compile_cautions
from speclint.packs.compile import Compiled, compile_pack
from speclint.packs.phrases import phrase_problems
from speclint.packs.schema import schema_problems
from speclint.packs.shared_data import Shared, shared_problems
from speclint.packs.sheets import Known, compile_sheets
from speclint.packs.work import compile_work
from speclint.packs.yaml_text import Read, read_yaml
from speclint.plan.build import compile_vocabulary, load_vocabulary
from speclint.plan.row import tokens_of
from speclint.review.reads import facts_behind, gates_behind, record_behind

if TYPE_CHECKING:
    from speclint.files.kit import Source

MOST_FILES = 5_000
_NEEDED = ("units.yaml", "vocabulary/sections.yaml", "vocabulary/forms.yaml")
_WORK = "steps.yaml"
_SCHEMAS = (
    ("vocabulary/words/", "vocabulary-words"),
    ("vocabulary/keys/", "vocabulary-keys"),
    ("facts/", "facts"),
    (_WORK, "steps"),
    ("sheets.yaml", "sheets"),
)


def compile_shared(shared: Source) -> dict[str, Any]:
    """The compiled form of words, facts, tables, cautions and standards; raises PackFault with every problem."""
    made = _shared(shared, _schemas(shared.folder))
    words = load_vocabulary(made["vocabulary"])
    made["facts"] = with_steps(made["facts"], words.units)
    names = CatalogueNames(load_catalogue(made["facts"], made["tables"], words), {})
    known = Known(
        frozenset(key for section in words.sections.values() for key in section.keys),
        frozenset(str(row["name"]) for row in made["cautions"]),
    )
    made["cautions"] = compile_cautions(made["cautions"], f"{shared.label}/cautions.yaml", names)
    made["work"] = compile_work(made["work"], f"{shared.label}/{_WORK}", names, made["tables"])
    made["sheets"] = compile_sheets(made["sheets"], f"{shared.label}/sheets.yaml", names, known)
    return made


def compile_source(pack: Source, shared: Source, catalogue: Catalogue, standards: Mapping[str, Any]) -> Compiled:
    """The compiled form of one pack and its examples; raises PackFault with every problem of every file."""
    names = CatalogueNames(catalogue, _register(standards))
    compiled = compile_pack(pack.label, _texts(pack), names, _schemas(shared.folder), pack.digest)
    stands: list[list[Any]] = []
    gates: dict[str, int] = {}
    for rule in compiled.pack["rules"]:
        judged = rule["judgement"]
        judgement = Judgement(judged["demands"], judged["applies"], judged["limits"])
        said = f"{rule['message']} {rule['passes']}"
        rule["reads"] = facts_behind(judgement, (*rule["points at"], *rule["also at"]), said, catalogue)
        behind = gates_behind(judgement)
        wholly = len(behind) == len(joined(judgement.applies))
        numbers = [gates.setdefault(text, len(gates)) for text in behind]
        stands.append([rule["name"], rule["judges"], numbers, wholly, rule["formerly"]])
        rule["reads record"] = record_behind(judgement, rule["shown by"])
    rules = {str(place): rule for place, rule in enumerate(compiled.pack["rules"])}
    return compiled._replace(pack={**compiled.pack, "rules": rules, "stands": stands, "gates": list(gates)})


def _texts(source: Source) -> list[tuple[str, str]]:
    try:
        files = yaml_files(source.folder)
    except UnicodeDecodeError as error:
        why = f"a file here is not UTF-8 text: {error.reason}"
        raise PackFault(Problem(at(source.label, 1), why)) from None
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
    files = _read_all(source, schemas)
    data = [(path, read.data) for path, read in files]
    facts = {name: fact for _, each in under(data, "facts/") for name, fact in each.items()}
    tables = {
        f"{path.removeprefix('tables/').removesuffix('.yaml')}.{name}": row
        for path, each in under(data, "tables/")
        for name, row in each.items()
    }
    one = dict(data)
    missing = [Problem(at(f"{source.label}/{path}", 1), "this file is missing") for path in _NEEDED if path not in one]
    problems = missing or shared_problems(_sorted(files, tables)) or phrase_problems(_sorted(files, tables))
    if problems:
        raise PackFault(*problems)
    return {
        "vocabulary": compile_vocabulary(_raw(data, one, facts), tokens_of),
        "facts": facts,
        "tables": tables,
        "grammar": build_tables(grammar_text()),
        "cautions": _inner(one.get("cautions.yaml"), "cautions", []),
        "standards": _inner(one.get("standards.yaml"), "standards", {}),
        "work": one.get(_WORK) or {"steps": {}, "waits": []},
        "sheets": one.get("sheets.yaml", {}),
    }


def _sorted(files: list[tuple[str, Read]], tables: Mapping[str, Any]) -> Shared:
    one = dict(files)
    return Shared(
        kinds={str(read.data["kind"]): read for _, read in under(files, "vocabulary/words/")},
        groups=tuple(read for _, read in under(files, "vocabulary/keys/")),
        facts=tuple(read for _, read in under(files, "facts/")),
        sections=one["vocabulary/sections.yaml"],
        tables=frozenset(tables),
        dimensions=frozenset(one["units.yaml"].data["dimensions"]),
    )


def _read_all(source: Source, schemas: Mapping[str, Any]) -> list[tuple[str, Read]]:
    """Every file of the shared data, strictly read and held against its schema."""
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
    problems.extend(_twice(files))
    if problems:
        raise PackFault(*problems)
    return files


def _twice(files: list[tuple[str, Read]]) -> Iterator[Problem]:
    """Facts and kinds of words that two files define."""
    first: dict[tuple[str, str], Span] = {}
    for path, read in files:
        if path.startswith("facts/") and isinstance(read.data, dict):
            places = [("fact", name, read.places.key(name)) for name in read.data]
        elif path.startswith("vocabulary/words/") and isinstance(read.data, dict):
            places = [("kind", str(read.data.get("kind")), read.places.span("kind"))]
        else:
            continue
        for sort, name, place in places:
            there = first.setdefault((sort, name), place)
            if there is not place:
                yield Problem(place, f'the {sort} "{name}" is defined twice, first at {there}')


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
