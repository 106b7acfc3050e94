"""Text as Markdown shows it letter by letter: nothing in it ends a row, opens a tag or makes a link."""

from __future__ import annotations

import re

from speclint.forms.safe import safe

SPECIAL = re.compile(r"([\\`*_{}\[\]()#+!|~@-])")


def markdown(text: str) -> str:
    """The text on one line with every sign that Markdown or HTML would take for its own made plain."""
    tags = safe(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return SPECIAL.sub(r"\\\1", tags).replace("://", ":\u200b//")
