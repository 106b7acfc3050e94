"""Mappings and sequences whose values are made from plain data when they are first asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, Generic, TypeVar, overload

Made = TypeVar("Made")


class Lazy(Mapping[str, Made], Generic[Made]):
    """Names and their plain data; ``make(name, data)`` is called once for each name that is looked up."""

    __slots__ = ("_data", "_made", "_make")

    def __init__(self, data: Mapping[str, Any], make: Callable[[str, Any], Made]) -> None:
        """Keep the data; nothing is made yet."""
        self._data = data
        self._make = make
        self._made: dict[str, Made] = {}

    def __getitem__(self, name: str) -> Made:
        """The value of a name; KeyError where there is none."""
        found = self._made.get(name)
        if found is None:
            found = self._made[name] = self._make(name, self._data[name])
        return found

    def get(self, name: str, default: Any = None) -> Any:
        """The value of a name, or the default where there is none."""
        found = self._made.get(name)
        if found is None:
            return self[name] if name in self._data else default
        return found

    def __contains__(self, name: object) -> bool:
        """Whether there is such a name."""
        return name in self._data

    def __iter__(self) -> Iterator[str]:
        """The names in the order of the data."""
        return iter(self._data)

    def __len__(self) -> int:
        """How many names there are."""
        return len(self._data)


class LazyRow(Sequence[Made], Generic[Made]):
    """The values of a mapping in its order, each made when it is first asked for."""

    __slots__ = ("_names", "_values")

    def __init__(self, values: Lazy[Made]) -> None:
        """Keep the mapping; nothing is made yet."""
        self._values = values
        self._names = tuple(values)

    @overload
    def __getitem__(self, place: int) -> Made: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Made]: ...
    def __getitem__(self, place: int | slice) -> Made | Sequence[Made]:
        """The value at a place, or those at several."""
        if isinstance(place, slice):
            return tuple(self._values[name] for name in self._names[place])
        return self._values[self._names[place]]

    def __len__(self) -> int:
        """How many values there are."""
        return len(self._names)
