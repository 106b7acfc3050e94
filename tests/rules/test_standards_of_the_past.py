"""What the words say of standards that are no longer in force is what the register of standards says."""

from __future__ import annotations

from tests.rules.shipped import shipped_kit


def test_words_and_register_are_of_one_mind() -> None:
    kit = shipped_kit()
    words = kit.vocabulary.kinds["product standard"].words
    past = {name for name, row in kit.standards.items() if row.get("state", "current") != "current"}
    assert {name for name, word in words.items() if word.properties.get("past")} == past & words.keys()
    for name in past & words.keys():
        assert words[name].properties["successor"] == kit.standards[name]["successor"] in words
