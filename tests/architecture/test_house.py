"""The rules of the house: who may import whom, how large a module may be, and what stands only where."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator

import pytest
import yaml

from tests.architecture.house import PACKAGE, ROOT, Module, docstrings, functions, imports, modules

BELOW = ("kernel", "language", "plan", "calc", "facts", "engine", "packs", "review", "works", "forms", "files")
MAY_IMPORT: dict[str, tuple[str, ...]] = {
    "kernel": (),
    "language": ("kernel",),
    "plan": ("kernel", "language"),
    "calc": ("kernel",),
    "facts": ("kernel", "plan", "calc"),
    "engine": ("kernel",),
    "packs": ("kernel", "engine"),
    "review": ("kernel", "language", "plan", "calc", "facts", "engine", "packs"),
    "works": ("kernel", "language", "plan", "calc", "facts", "engine", "packs", "review"),
    "forms": ("kernel", "packs", "review", "works"),
    "files": BELOW,
    "cli": BELOW,
    "": ("cli",),
}
OUTSIDE = {"yaml", "jsonschema", "lark", "rich", "xlsxwriter", "openpyxl", "jinja2", "markupsafe"}
MOST_LINES, MOST_IN_FUNCTION, MOST_NAMES = 300, 40, 8
OUTER = ("files", "cli")
INNER = ("engine", "language", "kernel")
BANNED_CALLS = {"open", "print", "input", "breakpoint", "eval", "exec", "compile"}
BANNED_NAMES = {"environ", "getenv", "now", "today", "utcnow", "read_text", "write_text", "read_bytes", "write_bytes"}
OWN_GRAMMAR = "engine/syntax.py"  # reads the grammar that lies beside it in the package, and nothing else
FLOATS = ("calc", "forms")
BRIDGES = ("facts/functions.py", "works/corners.py")
# words of the vocabulary that are plain English, or the names of this package's own ideas
PLAIN = frozenset(
    [
        "absent",
        "agreed",
        "area",
        "assumed",
        "bad",
        "bar",
        "bare",
        "base",
        "below",
        "block",
        "both",
        "builder",
        "cap",
        "closed",
        "code",
        "column",
        "corners",
        "cover",
        "covering",
        "decision",
        "document",
        "electric",
        "end",
        "entry",
        "fails",
        "floor",
        "fold",
        "gap",
        "hall",
        "head",
        "held",
        "hidden",
        "in",
        "inside",
        "kept",
        "known",
        "lead",
        "letter",
        "level",
        "loose",
        "lost",
        "maker",
        "measured",
        "missing",
        "moved",
        "new",
        "note",
        "nothing",
        "offset",
        "open",
        "opening",
        "order",
        "out",
        "owner",
        "part",
        "pattern",
        "plain",
        "plan",
        "plans",
        "raw",
        "refused",
        "reversed",
        "sample",
        "second",
        "seen",
        "sequence",
        "side",
        "single",
        "size",
        "slip",
        "sound",
        "step",
        "steps",
        "strip",
        "system",
        "taken",
        "temperature",
        "tight",
        "top",
        "unknown",
        "wanted",
        "zone",
    ]
)

each_module = pytest.mark.parametrize("module", modules(), ids=lambda module: module.path)


@each_module
def test_imports_point_downwards(module: Module) -> None:
    folder = module.folder.split("/")[0]
    assert folder in MAY_IMPORT, f"{folder} is in no line of the import table"
    wrong = []
    for name, line in imports(module):
        first, _, rest = name.partition(".")
        if first == "speclint" and rest:
            inner = rest.split(".")[0]
            if (PACKAGE / inner).is_dir() and inner not in (folder, *MAY_IMPORT[folder]):
                wrong.append(f"{module.path}:{line}: {folder} imports {inner}")
        elif first != "speclint" and first not in sys.stdlib_module_names and first not in OUTSIDE:
            wrong.append(f"{module.path}:{line}: {first} is no dependency of the package")
    assert wrong == []


def test_every_folder_is_in_the_table() -> None:
    data = {"rules", "shared"}
    folders = {path.name for path in PACKAGE.iterdir() if path.is_dir() and not path.name.startswith((".", "__"))}
    assert folders - data <= set(MAY_IMPORT)


@each_module
def test_a_module_is_small(module: Module) -> None:
    wrong = []
    lines = module.text.count("\n")
    if lines > MOST_LINES:
        wrong.append(f"{lines} lines")
    for function in functions(module.tree):
        length = (function.end_lineno or 0) - function.lineno + 1
        if length > MOST_IN_FUNCTION:
            wrong.append(f"{function.name} has {length} lines")
    names = [one.name for one in _tops(module.tree) if not one.name.startswith("_")]
    if len(names) > MOST_NAMES:
        wrong.append(f"{len(names)} public names: {', '.join(names)}")
    assert wrong == []


@each_module
def test_what_is_public_says_what_it_is(module: Module) -> None:
    silent = [] if ast.get_docstring(module.tree) else ["the module"]
    for one in _tops(module.tree):
        if one.name.startswith("_"):
            continue
        silent += [] if ast.get_docstring(one) else [one.name]
        if isinstance(one, ast.ClassDef):
            methods = (node for node in one.body if isinstance(node, ast.FunctionDef))
            silent += [
                f"{one.name}.{method.name}"
                for method in methods
                if not method.name.startswith("_") and not ast.get_docstring(method)
            ]
    assert silent == []


@each_module
def test_only_the_outer_folders_touch_files_clock_and_screen(module: Module) -> None:
    if module.folder.split("/")[0] in OUTER:
        pytest.skip("files and cli do that")
    wrong = []
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in BANNED_CALLS:
            wrong.append(f"{module.path}:{node.lineno}: {node.func.id}(")
        elif isinstance(node, ast.Attribute) and node.attr in BANNED_NAMES and module.path != OWN_GRAMMAR:
            wrong.append(f"{module.path}:{node.lineno}: .{node.attr}")
    assert wrong == []


@each_module
def test_floats_stay_where_they_belong(module: Module) -> None:
    if module.folder in FLOATS or module.path in BRIDGES:
        pytest.skip("floats belong here")
    shares = {  # a share that difflib is told is no figure of the trade
        id(keyword.value)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Call)
        for keyword in node.keywords
        if keyword.arg == "cutoff"
    }
    wrong = [
        f"{module.path}:{node.lineno}"
        for node in ast.walk(module.tree)
        if (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "float")
        or (isinstance(node, ast.Constant) and isinstance(node.value, float) and id(node) not in shares)
    ]
    assert wrong == []


@pytest.mark.parametrize("file", [*(one for one in modules() if one.folder in INNER)], ids=lambda one: one.path)
def test_the_core_knows_no_trade(file: Module) -> None:
    told = docstrings(file.tree)
    words = [word for text in _texts(file.tree, told) for word in _words(text)]
    assert sorted({word for word in words if word in trade_words()}) == []


@pytest.mark.parametrize("path", ["language/grammar.lark", "engine/condition.lark"])
def test_the_grammars_know_no_trade(path: str) -> None:
    text = re.sub(r"//[^\n]*|/(?:[^/\\\n]|\\.)+/", " ", (PACKAGE / path).read_text(encoding="utf-8"))
    assert sorted({word for word in _words(text) if word in trade_words()}) == []


def test_the_trade_words_are_found() -> None:
    assert {"tile", "mortar", "trowel", "porcelain", "membrane", "setter"} <= trade_words()


def trade_words() -> frozenset[str]:
    """Every word of the vocabulary that is one token, and the first part of every fact's name."""
    if not _FOUND:
        for path in sorted((ROOT / "shared" / "vocabulary" / "words").glob("*.yaml")):
            data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
            for name, row in data["words"].items():
                aliases = row.get("aliases", []) if isinstance(row, dict) else []
                _FOUND.update(text.casefold() for text in (name, *aliases) if text.isalpha())
        for path in sorted((ROOT / "shared" / "facts").glob("*.yaml")):
            data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
            _FOUND.update(name.partition(".")[0] for name in data)
    return frozenset(word for word in _FOUND if len(word) > 1 and word not in PLAIN)


_FOUND: set[str] = set()


def _tops(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    for node in tree.body:
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            yield node


def _texts(tree: ast.Module, told: set[int]) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.arg):
            yield node.arg
        elif isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            yield node.name
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield node.value


def _words(text: str) -> list[str]:
    return [word.casefold() for word in re.findall(r"[A-Z]?[a-z]+|[A-Z]+", text)]
