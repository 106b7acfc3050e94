"""No limit or coefficient hides in a function: its literals are 0, 1, 2, exponents, and text."""

import ast
from pathlib import Path

import pytest

import speclint.calc

FILES = sorted(Path(speclint.calc.__path__[0]).glob("*.py"))
GEOMETRY = {
    "_UNIFORM": 5 / 384,
    "_POINT": 1 / 48,
    "_RECTANGLE": 1 / 12,
    "_MOMENT": 1 / 8,
    "_MODULUS": 1 / 6,
    "_SIXTH": 1 / 6,
    "_MEAN_OF_CONE": 2 / 3,
    "_MEAN_UNDER_CONE": 1 / 3,
    "_UPRIGHT": 90,
    "_FREEZING": 273.15,
    "STANDARD_GRAVITY": 9.80665,
}
"""Derived geometry and unit factors, with the value each must have."""
BOUNDS = {
    "_REACH", "_HAIR", "_FLAT", "_THIN", "_TIGHTEST", "_CORNERS", "_MOST", "_MOST_BAYS", "_ROWS", "_HALVINGS",
    "_NEAR_ONE", "_LEAST_ABOVE", "_WEATHER", "_STEEPEST", "_DUST", "_STEEP", "_COLD", "_NARROW", "_WIDE",
    "_SHOWN", "_THINNEST", "_THICKEST",
}  # fmt: skip
"""Bounds on what is believed at all; no rule and no result turns on them."""


def literals(tree: ast.Module) -> list[str]:
    exponents = {
        id(node.right) for node in ast.walk(tree) if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow)
    }
    found = []
    for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
        for node in ast.walk(function):
            if not isinstance(node, ast.Constant) or type(node.value) not in (int, float):
                continue
            if id(node) not in exponents and node.value not in (0, 1, 2):
                found.append(f"{function.name}, line {node.lineno}: {node.value}")
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_functions_hold_no_numbers(path: Path) -> None:
    assert literals(ast.parse(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_module_numbers_are_known(path: Path) -> None:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if not isinstance(node, (ast.Assign, ast.AnnAssign)) or node.value is None:
            continue
        numbers = [
            part for part in ast.walk(node.value) if isinstance(part, ast.Constant) and type(part.value) in (int, float)
        ]
        if not numbers:
            continue
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        for name in [part.id for part in ast.walk(target) if isinstance(part, ast.Name)]:
            if name in GEOMETRY:
                made = eval(compile(ast.Expression(node.value), path.name, "eval"), {})
                assert made == GEOMETRY[name]
            else:
                assert name in BOUNDS, name


def test_a_hidden_limit_is_noticed() -> None:
    assert literals(ast.parse("def bed(depth):\n    return max(depth / 2, 0.0024)\n")) == ["bed, line 2: 0.0024"]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_modules_stay_small(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    public = [node for node in tree.body if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and node.name[0] != "_"]
    assert len(text.splitlines()) <= 300
    assert len(public) <= 8
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            assert (node.end_lineno or 0) - node.lineno < 40, node.name
