"""Strict YAML: what is typed, what is refused, and where everything stands (YAML 1.2.2 chapters 6, 7 and 10.2)."""

from __future__ import annotations

import pytest

from speclint.kernel.faults import PackFault
from speclint.packs.yaml_text import DEPTH, SIZE, read_yaml


def refused(text: str) -> list[str]:
    with pytest.raises(PackFault) as caught:
        read_yaml(text, "f")
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("no", "no"),
        ("yes", "yes"),
        ("on", "on"),
        ("1:30", "1:30"),
        ("012", "012"),
        ("3/8", "3/8"),
        ("2026-01-05", "2026-01-05"),
        ("0.5", "0.5"),
        ("1e3", "1e3"),
        ("true", True),
        ("false", False),
        ("12", 12),
        ("-3", -3),
        ("", None),
        ("null", None),
        ("~", None),
        ('"12"', "12"),
        ("'true'", "true"),
        ('""', ""),
        ("99999999999999999999", "99999999999999999999"),
    ],
)
def test_only_plain_forms_are_typed(written: str, read: object) -> None:
    assert read_yaml(f"key: {written}\n", "f").data == {"key": read}


def test_every_repeated_key_is_told_at_its_place() -> None:
    assert refused("a: 1\nb: {c: 1, c: 2}\na: 3\n") == [
        'f:2:11: "c" stands twice, first on line 2: keep one',
        'f:3:1: "a" stands twice, first on line 1: keep one',
    ]


def test_a_bomb_of_aliases_is_refused_before_it_unfolds() -> None:
    levels = [f"k{n}: &k{n} [{', '.join([f'*k{n - 1}'] * 9) if n else 'x'}]" for n in range(30)]
    assert refused("\n".join(levels)) == ["f:1:5: anchors and aliases are not read here: write the value out"]


@pytest.mark.parametrize("tag", ["!!python/object/apply:os.system", "!!binary", "!mine"])
def test_tags_are_refused(tag: str) -> None:
    (problem,) = refused(f"a: {tag} [x]\n")
    assert problem.startswith("f:1:4: the tag ")


def test_depth_and_size_are_bounded() -> None:
    assert "levels deep" in refused("[" * (DEPTH + 1) + "]" * (DEPTH + 1))[0]
    assert "characters" in refused("#" + "x" * SIZE)[0]


@pytest.mark.parametrize("text", ["a: [1", "a: b: c", "\tx: 1", "a: 'x", "- a\nb: 1", "{[a]: 1}", "? [a]\n: 1"])
def test_what_is_no_yaml_is_told_with_a_line(text: str) -> None:
    (problem,) = refused(text)
    assert problem.startswith("f:")


@pytest.mark.parametrize("text", ["", "# nothing\n", "a: 1\n---\nb: 2\n", "a: \x01\n", "a: \udc80\n"])
def test_empty_several_or_broken_documents_are_refused(text: str) -> None:
    assert len(refused(text)) == 1


def test_places_count_code_points_from_one() -> None:
    places = read_yaml("é: ü\nlist:\n  - ½ x\n  - {k: v}\n", "f").places
    assert places.span("é")[1:] == (1, 4, 1, 5)
    assert places.key("list", 1, "k")[1:] == (4, 6, 4, 7)
    assert places.span("list", 0)[1:3] == (3, 5)
    assert places.span("list", 7, "nowhere")[1:3] == (3, 3)


@pytest.mark.parametrize(
    ("text", "word", "line", "column"),
    [
        ("a: one two three\n", "three", 1, 12),
        ('a: "one two three"\n', "three", 1, 13),
        ("a: >-\n  one two\n  three four\n", "four", 3, 9),
        ("a: |\n  one\n  two three\n", "three", 3, 7),
        ("a: one two\n  three four\n", "four", 2, 9),
        ('a: "one two\n  three four"\n', "four", 2, 9),
    ],
)
def test_a_word_inside_a_value_is_found(text: str, word: str, line: int, column: int) -> None:
    read = read_yaml(text, "f")
    span = read.places.inside(read.data["a"].index(word), len(word), "a")
    assert (span.line, span.column) == (line, column)
    assert text.split("\n")[span.line - 1][span.column - 1 : span.end_column - 1] == word
