"""The modules of the package as syntax trees, read once."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "speclint"


class Module(NamedTuple):
    """One module: its path below the package with slashes, its folder, its text and its tree."""

    path: str
    folder: str
    text: str
    tree: ast.Module


@cache
def modules() -> tuple[Module, ...]:
    """Every module of the package in order."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        below = path.relative_to(PACKAGE).as_posix()
        found.append(Module(below, below.rpartition("/")[0], text, ast.parse(text)))
    return tuple(found)


def imports(module: Module) -> Iterator[tuple[str, int]]:
    """Every module name that is imported anywhere in a module, with its line."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{module.path}:{node.lineno}: imports are written in full"
            name = node.module or ""
            yield name, node.lineno
            yield from ((f"{name}.{alias.name}", node.lineno) for alias in node.names)


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Every function and method, inner ones too."""
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield node


def docstrings(tree: ast.Module) -> set[int]:
    """The identities of the constants that are docstrings."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                found.add(id(first.value))
    return found
