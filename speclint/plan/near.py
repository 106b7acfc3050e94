"""Near misses: what a misspelt word was probably meant to be, looked up only for what is printed."""

from __future__ import annotations

from collections.abc import Iterable

LEAST_PART = 4
"""Characters from which on a part of a name is looked for inside the names."""


def nearest_names(text: str, names: Iterable[str], most: int = 3) -> str:
    """``; nearest: ...`` with at most three names like the text or holding it, or nothing."""
    from difflib import get_close_matches

    known = sorted(names)
    found = get_close_matches(text[:64], known, n=most, cutoff=0.7)
    if not found and len(text) >= LEAST_PART:
        found = [name for name in known if text in name][:most]
    if not found:
        return ""
    listed = " or ".join(f'"{name}"' for name in found)
    return f"; nearest: {listed}"


def nearest_by_words(text: str, names: Iterable[str], most: int = 3) -> str:
    """As `nearest_names`; else hyphened names in which every typed word is like one of theirs, shortest first."""
    from difflib import get_close_matches

    known = tuple(names)
    near = nearest_names(text, known, most)
    typed = text[:64].replace("-", " ").split()
    if near or not typed:
        return near
    found = [name for name in known if all(get_close_matches(word, name.split("-"), n=1, cutoff=0.8) for word in typed)]
    listed = " or ".join(f'"{name}"' for name in sorted(found, key=lambda name: (len(name), name))[:most])
    return f"; nearest: {listed}" if found else ""
