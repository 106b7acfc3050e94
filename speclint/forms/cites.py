"""How a clause is cited: by number only, with what the knowledge of it rests on."""

from __future__ import annotations

from collections.abc import Iterable

from speclint.forms.safe import safe
from speclint.packs.rule import Cite

_COMMON = "common practice"
_BASES = {
    "looked-up": "looked up",
    "derived": "derived",
    "memory": "from memory, not looked up",
    _COMMON: _COMMON,
}


def cite_words(cite: Cite) -> str:
    """A cite as one phrase, such as ``ANSI A108.5, 3.3.2 (looked up)``; ``common practice`` stays bare."""
    name = " ".join(part for part in (cite.standard, _edition(cite)) if part)
    source = ", ".join(part for part in (name, cite.clause) if part)
    basis = _BASES.get(cite.basis, cite.basis)
    if source in ("", basis):
        told = basis
    elif basis:
        told = f"{source} ({basis})"
    else:
        told = source
    return safe(f"{told}, for {cite.bears_on}" if cite.bears_on else told)


def _edition(cite: Cite) -> str:
    return cite.edition if cite.edition and cite.edition not in cite.standard else ""


def cites_words(cites: Iterable[Cite]) -> str:
    """All cites of a rule in their order, each once."""
    return "; ".join(dict.fromkeys(cite_words(cite) for cite in cites))
