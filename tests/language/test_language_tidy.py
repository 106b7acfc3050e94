"""The plain form: a fixed point, nothing lost, nothing said otherwise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speclint.kernel.faults import ReadFault
from speclint.language.reader import Line, read
from speclint.language.tidy import tidy

HEADINGS = {"plan", "room", "part"}
KEYS = ("answers to", "change of plane")

SOUND = """\
# Larch House

include "walls.txt"
include "floor.txt"

plan "Larch House, upstairs"
  answers to       north, south 2021  # both
  # own line
  stage            before tile

# the hall
room "hall" in "house"
  floor            60 in x 36 in
  change of plane  12" x 24", 1-1/2 in

  size             2x4, 5'-6"
"""


def key_length(section: str, line: Line) -> int | None:
    """A stand-in for the vocabulary."""
    words = [token.text for token in line.phrases[0]]
    if words[0] in HEADINGS:
        return None
    if words[0] == "include":
        return 0
    if words[0] == "zz":
        return None
    return next((len(key.split()) for key in KEYS if words[: len(key.split())] == key.split()), 1)


def tidied(text: str) -> str:
    """The plain form with the stand-in."""
    return tidy(read(text, "f"), key_length)


def test_the_plain_form_is_left_alone() -> None:
    assert tidied(SOUND) == SOUND


@pytest.mark.parametrize(
    ("line", "plain"),
    [
        ("a   b", "a                b"),
        ("a: b", "a                b"),
        ("a. b", "a                b"),
        ("a", "a"),
        ("a “b”", 'a                "b"'),
        ("a\tb\t,c", "a                b, c"),
        ("a b,c , d", "a                b, c, d"),
        ("a 12×24 in", "a                12x24 in"),
        ("a 12 × 24 in", "a                12 x 24 in"),
        ("a 12 in×24 in", "a                12 in x 24 in"),
        ("a ½, 1½, 1 1/2, 1–1/2 in", "a                1/2, 1-1/2, 1-1/2, 1-1/2 in"),
        ("a 0.50 in", "a                0.50 in"),
        ("a 2  1/2", "a                2  1/2"),
        ("a ½½", "a                1/2 1/2"),
        ("a 12” x 5’", "a                12” x 5’"),
        ("a owner’s", "a                owner's"),
        ("a b # c  ½ “d”  ", "a                b  # c  ½ “d”"),
        ("answers   to b", "answers to       b"),
        ("a x9,5 mm", "a                x9,5 mm"),
        ("zz   b   c, d   e", "zz  b  c, d e"),
        ("- b", "-                b"),
    ],
)
def test_one_line(line: str, plain: str) -> None:
    if "9,5" in line:
        assert tidied(f'room "r"\n {line}') == f'room "r"\n {line}\n', "a line that was not read stays as written"
    else:
        assert tidied(f'room "r"\n {line}') == f'room "r"\n  {plain}\n'


def test_a_long_key_moves_the_values_of_its_section_only() -> None:
    text = 'room "a"\n a-very-long-key-indeed 1\n b 2\nroom "c"\n d 3'
    assert tidied(text) == (
        'room "a"\n  a-very-long-key-indeed  1\n  b                       2\n\nroom "c"\n  d                3\n'
    )


def test_blank_lines() -> None:
    text = '\n\nplan "a"\n\n\nb 1\n\n\nc 2\nroom "d"\n# of d\n\n\n# lead\nroom "e"\n\n'
    assert tidied(text) == (
        'plan "a"\n  b                1\n\n  c                2\n\nroom "d"\n  # of d\n\n# lead\nroom "e"\n'
    )


def test_an_empty_text_and_a_text_not_whole() -> None:
    assert tidied("") == tidied("\n \n") == ""
    with pytest.raises(ReadFault):
        tidied("a\0")


PIECES = [
    *[
        'plan "a"',
        "room ",
        "zz  ",
        "a ",
        "answers to ",
        "b: ",
        "include ",
        "# note “x” ½\t.",
        " # c",
        "\n",
        "\n",
        "\n\n",
    ],
    *[
        '"q" ',
        "“w” ",
        '" in "',
        ", ",
        ",",
        " ",
        "\t",
        "\xa0",
        "½",
        "1½",
        "1 1/2",
        "12",
        "x",
        "×",
        " x ",
        "'",
        '"',
        "′",
        "-",
    ],
    *["–", "9,5", "2026-04-02", " 16:00", ".5", "1:80", "/", ":", ".", "%", "\u202e", "’", "in"],
]


@given(st.one_of(st.text(max_size=80), st.lists(st.sampled_from(PIECES), max_size=40).map("".join)))
def test_twice_is_once_and_nothing_is_lost(text: str) -> None:
    before = read(text.replace("\0", ""), "f")
    once = tidy(before, key_length)
    after = read(once, "f")
    assert tidy(after, key_length) == once
    assert [meaning(line) for line in after.lines] == [meaning(line) for line in before.lines]
    assert once == "" or once.endswith("\n")


def meaning(line: Line) -> tuple[object, ...]:
    """What must not change: comment, phrases by kind and value; of an unreadable line all of it."""
    comment = line.comment and line.comment.rstrip(" \t")
    if not line.readable:
        return (line.text.rstrip(" \t"),)
    phrases = [
        [
            (token.kind, "" if token.kind == "times" else str(token.value).replace("\t", " "))
            for token in phrase
            if token.text not in (":", ".")
        ]
        for phrase in line.phrases
    ]
    return comment, phrases


@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
def test_no_digit_changes(text: str) -> None:
    document = read(text, "f")
    digits = [letter for line in document.lines for letter in line.text if letter in "0123456789"]
    signs = "".join(line.text for line in document.lines).count("½")
    after = [letter for letter in tidy(document, key_length) if letter in "0123456789½"]
    kept = after.count("½")
    assert len(after) - kept == len(digits) + 2 * (signs - kept)
