"""The heads under which findings are put, besides what they cost: who acts, part of the specification, room."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from speclint.forms.place import address_words
from speclint.forms.safe import safe
from speclint.review.report import Finding

ANYONE = "anyone on the job"
PARTS = {1: "part 1, general", 2: "part 2, products", 3: "part 3, execution"}
HEADS: Mapping[str, tuple[str, Callable[[Finding], str]]] = {  # by a word of the options: what it is, the head
    "role": ("By who acts", lambda one: safe(one.acts) or ANYONE),
    "spec-part": ("By part of the specification", lambda one: PARTS.get(one.spec_part, "no part")),
    "room": ("By room", lambda one: address_words(one.places[0].address[:1] if one.places else ())),
}
