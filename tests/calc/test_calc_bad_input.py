"""Nothing that goes in makes a traceback of another kind, a silent zero or a number that is not finite."""

import importlib
import inspect
import math
import pkgutil
import typing
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import speclint.calc
from speclint.calc import condensation, guard, layout, trowel, vapour
from speclint.kernel.faults import OutOfRange

EXAMPLES = 25
HELPERS = {"guard", "units"}
CURVE = vapour.Saturation(611.2, 17.62, 243.12, -45, 60)


def functions() -> Iterator[tuple[str, Callable[..., Any]]]:
    for module in pkgutil.iter_modules(speclint.calc.__path__):
        if module.name in HELPERS:
            continue
        loaded = importlib.import_module(f"speclint.calc.{module.name}")
        for name, made in inspect.getmembers(loaded, inspect.isfunction):
            if made.__module__ == loaded.__name__ and not name.startswith("_"):
                yield f"{module.name}.{name}", made


FUNCTIONS = dict(functions())

AWKWARD = st.sampled_from(
    [
        0.0,
        -0.0,
        -1.0,
        1e-320,
        1e-12,
        1e-9,
        0.5,
        1.0,
        2.0,
        90.0,
        1e3,
        1e9,
        1e300,
        math.inf,
        -math.inf,
        math.nan,
    ]
)
LIKELY = st.floats(1e-4, 3) | st.floats(1, 5000)
NUMBER = LIKELY | AWKWARD | st.floats()
SHAPES = st.sampled_from(["square", "U", "V", "slanted", "joint", "tile", "", "comb"])
CLIMATE = st.builds(condensation.Climate, NUMBER, NUMBER, NUMBER)
LAYERS = st.lists(st.builds(condensation.Layer, NUMBER, NUMBER), max_size=4).map(tuple)
ROW = st.builds(layout.Row, NUMBER, NUMBER, NUMBER, NUMBER, st.just(3), NUMBER, NUMBER, NUMBER)


def values(hint: Any) -> st.SearchStrategy[Any]:
    """What may stand for a parameter, by its annotation."""
    if typing.get_origin(hint) is typing.Annotated:
        return NUMBER
    if hint is str:
        return SHAPES
    known: dict[Any, st.SearchStrategy[Any]] = {
        vapour.Saturation: st.just(CURVE) | st.builds(vapour.Saturation, NUMBER, NUMBER, NUMBER, NUMBER, NUMBER),
        condensation.Climate: CLIMATE,
        layout.Row: ROW,
    }
    if hint in known:
        return known[hint]
    inner = typing.get_args(hint)
    if inner and inner[0] is condensation.Layer:
        return LAYERS
    if inner and inner[0] is condensation.Plane:
        return st.just(())
    if inner and typing.get_origin(inner[0]) is tuple:
        return st.lists(st.tuples(NUMBER, NUMBER), max_size=5).map(tuple)
    if typing.get_origin(hint) is tuple and inner[-1] is not Ellipsis:
        return st.tuples(NUMBER, NUMBER)
    return st.lists(NUMBER, max_size=5).map(tuple)


def numbers(made: Any) -> Iterator[float]:
    if isinstance(made, (int, float)):
        yield made
    elif isinstance(made, tuple):
        for part in made:
            yield from numbers(part)
    else:
        assert isinstance(made, str), made


@pytest.mark.parametrize("name", FUNCTIONS)
@settings(max_examples=EXAMPLES, deadline=None, database=None)
@given(data=st.data())
def test_finite_or_out_of_range(name: str, data: st.DataObject) -> None:
    function = FUNCTIONS[name]
    hints = typing.get_type_hints(function, include_extras=True)
    hints.pop("return")
    given_values = {arg: data.draw(values(hint), label=arg) for arg, hint in hints.items()}
    try:
        made = function(**given_values)
    except OutOfRange:
        return
    assert all(math.isfinite(number) for number in numbers(made)), (given_values, made)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_every_number_carries_its_dimension(name: str) -> None:
    hints = typing.get_type_hints(FUNCTIONS[name], include_extras=True)
    assert set(hints) == {*inspect.signature(FUNCTIONS[name]).parameters, "return"}
    for hint in hints.values():
        assert hint is not float
        assert hint is not int
        if typing.get_origin(hint) is typing.Annotated:
            dimension = typing.get_args(hint)[1]
            guard.not_negative(dimension, nothing=0.0)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_docstring_says_what_is_raised(name: str) -> None:
    text = " ".join((inspect.getdoc(FUNCTIONS[name]) or "").split())
    assert len(text) > 60
    takes_numbers = name != "condensation.total_condensing"
    assert not takes_numbers or "OutOfRange" in text or "Errors as there" in text or "errors as" in text


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, -math.inf, 1001.0, 10**400, True, "1/4 in", None])
def test_notch_depth_is_refused_by_name(bad: Any) -> None:
    with pytest.raises(OutOfRange, match=r"notch depth is .*must"):
        trowel.bed_from_notch("square", 0.006, bad, 0.006, 45)


def test_refusal_names_limit_and_what_was_read() -> None:
    with pytest.raises(OutOfRange) as refused:
        trowel.bed_from_notch("square", 0.006, 0.006, 0.006, 120.0)
    assert str(refused.value) == "blade angle is 120 deg; it must lie between 0 and 90"
    with pytest.raises(OutOfRange, match="notch shape is 'comb'"):
        trowel.bed_from_notch("comb", 0.006, 0.006, 0.006, 45)
    with pytest.raises(OutOfRange, match="half its width"):
        trowel.bed_from_notch("U", 0.020, 0.006, 0.006, 45)


def test_whole_numbers() -> None:
    guard.whole(1, tiles=2.0)
    with pytest.raises(OutOfRange, match=r"tiles is 2\.5; it must be a whole number"):
        guard.whole(1, tiles=2.5)
    assert guard.whole_up(2.0000000000000004) == 2
    assert guard.whole_down(1.9999999999999998) == 2
    assert (guard.whole_up(2.01), guard.whole_down(1.99)) == (3, 1)
