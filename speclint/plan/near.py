"""Near misses: what a misspelt word was probably meant to be, looked up only for what is printed."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest_names(text: str, names: Iterable[str], most: int = 3) -> str:
    """`` (did you mean ...?)`` with at most three near names, or nothing."""
    found = get_close_matches(text[:64], sorted(names), n=most, cutoff=0.7)
    if not found:
        return ""
    listed = " or ".join(f'"{name}"' for name in found)
    return f"; nearest: {listed}"
