"""Everything that commands need besides the plan: words, facts, rules, standards, the steps of the work."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from speclint.facts.catalogue import Catalogue
from speclint.language.tables import Driver
from speclint.packs.rule import Pack
from speclint.plan.vocabulary import Vocabulary


class Kit(NamedTuple):
    """The data of one run, loaded once; ``hash`` is that of all its content, ``sheets`` what a record is made of."""

    vocabulary: Vocabulary
    catalogue: Catalogue
    driver: Driver
    packs: tuple[Pack, ...]
    cautions: tuple[Mapping[str, Any], ...]
    standards: Mapping[str, Any]
    work: Mapping[str, Any]
    sheets: Mapping[str, Any]
    hash: str
