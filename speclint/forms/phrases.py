"""Counts, sentences, phrases and lists, as every form writes them."""

from __future__ import annotations

from collections.abc import Sequence

from speclint.forms.safe import safe


def counted(number: int, one: str, many: str = "") -> str:
    """``1 question``, ``3 questions``."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def sentence(text: str) -> str:
    """A text as a sentence: with one full stop at its end."""
    told = safe(text).strip()
    if told and told[-1] not in ".?!":
        told += "."
    return told


def phrase(text: str) -> str:
    """A text as a phrase: without its full stop."""
    told = safe(text).strip()
    return told[:-1] if told.endswith(".") and not told.endswith("..") else told


def listed(names: Sequence[str], most: int = 12) -> str:
    """Names with commas; beyond ``most`` the rest is counted."""
    left = len(names) - most
    return safe(", ".join(names[:most])) + (f" and {left} more" if left > 0 else "")
