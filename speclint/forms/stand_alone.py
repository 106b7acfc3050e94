"""Templates of pages that stand alone: every text escaped and safe to show, nothing loaded but the page's own style."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable, Mapping
from typing import Any

from speclint.forms.safe import safe
from speclint.kernel.faults import UsageFault


def environment(templates: Mapping[str, str]) -> tuple[Any, Callable[[str], Any]]:
    """The template library over some texts by name, and what marks a text as markup already.

    Raises UsageFault where the library is missing.
    """
    try:
        from jinja2 import DictLoader, Environment, StrictUndefined  # type: ignore[import-not-found,unused-ignore]
        from markupsafe import Markup  # type: ignore[import-not-found,unused-ignore]
    except ImportError:
        raise UsageFault("the page needs one more package: pip install 'speclint[report]'") from None

    def shown(value: object) -> object:
        return safe(value) if isinstance(value, str) and not isinstance(value, Markup) else value

    made = Environment(
        loader=DictLoader(dict(templates)),
        autoescape=True,
        finalize=shown,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )
    return made, Markup


def policy(style: str) -> str:
    """What the page may load: its own style by its hash, nothing else."""
    mark = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return f"default-src 'none'; style-src 'sha256-{mark}'; base-uri 'none'; form-action 'none'"
