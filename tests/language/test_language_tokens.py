"""Tokens: spellings, places, exact values (against fractions, unicodedata and datetime of the standard library)."""

from __future__ import annotations

import unicodedata
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speclint.language.lexer import Scan, plain_text, scan_line

SIGNS = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"


def told(text: str) -> list[tuple[str, str]]:
    """Kind and text of each token."""
    return [(token.kind, token.text) for token in scan_line(text, 1).tokens]


def number(text: str) -> Fraction:
    """The value of a text that is one number token."""
    (token,) = scan_line(text, 1).tokens
    assert token.kind == "number"
    assert isinstance(token.value, tuple)
    assert token.text == text
    return Fraction(*token.value)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3/8", "3/8"),
        ("1-1/2", "3/2"),
        ("1 1/2", "3/2"),
        ("1\xa01/2", "3/2"),
        ("1–1/2", "3/2"),
        ("11-13/16", "189/16"),
        (".5", "1/2"),
        ("0.125", "1/8"),
        ("½", "1/2"),
        ("1½", "3/2"),
        ("1 ½", "3/2"),
        ("1-½", "3/2"),
        ("1⁄2", "1/2"),
        ("0", "0"),
        ("007", "7"),
        ("100/50", "2"),
        ("-5", "-5"),
        ("−0.5", "-1/2"),
        ("9" * 40, "9" * 40),
        ("." + "3" * 40, "0." + "3" * 40),
    ],
)
def test_spellings_of_numbers(text: str, value: str) -> None:
    assert number(text) == Fraction(value)
    assert number(text) == Fraction(value), "the second look-up comes from memory"


@pytest.mark.parametrize("sign", SIGNS)
def test_fraction_signs_agree_with_the_character_database(sign: str) -> None:
    assert float(number(sign)) == pytest.approx(unicodedata.numeric(sign), rel=1e-15)
    assert number("7" + sign) == 7 + number(sign)


@given(st.decimals(min_value=0, max_value=10**9, places=6, allow_nan=False))
def test_decimals_are_exact(decimal: object) -> None:
    text = f"{decimal:f}"
    assert number(text) == Fraction(text)


@given(st.integers(0, 10**9), st.integers(0, 10**6), st.integers(1, 10**6))
def test_fractions_are_exact_and_in_lowest_terms(whole: int, top: int, bottom: int) -> None:
    assert number(f"{top}/{bottom}") == Fraction(top, bottom)
    if top < bottom:
        assert number(f"{whole}-{top}/{bottom}") == whole + Fraction(top, bottom)
    (token,) = scan_line(f"{top}/{bottom}", 1).tokens
    assert token.value == (Fraction(top, bottom).numerator, Fraction(top, bottom).denominator)


@pytest.mark.parametrize(
    ("text", "tokens"),
    [
        ("12x24", "number 12|times x|number 24"),
        ("12 X 24", "number 12|times X|number 24"),
        ("12×24", "number 12|times ×|number 24"),
        ("60 in x 36 in", "number 60|word in|times x|number 36|word in"),
        ("x .5", "times x|number .5"),
        ("2 x ½", "number 2|times x|number ½"),
        ("x-ray box", "word x-ray|word box"),
        ("12 x wide", "number 12|word x|word wide"),
        ('12" x 24"', 'number 12|inch "|times x|number 24|inch "'),
        ('12"x24"', 'number 12|inch "|times x|number 24|inch "'),
        ("12” × ½″", "number 12|inch ”|times ×|number ½|inch ″"),
        ("6''", "number 6|inch ''"),
        ("6′′ 5′", "number 6|inch ′′|number 5|foot ′"),
        ("5'-6\"", "number 5|foot '-|number 6|inch \""),
        ("5' 6 1/2\"", "number 5|foot '|number 6 1/2|inch \""),
        ("5’-½”", "number 5|foot ’-|number ½|inch ”"),
        ("A118.15 L/360 C920 back-butter", "word A118.15|word L/360|word C920|word back-butter"),
        ("owner's owners' R10+ a+b and/or", "word owner's|word owners'|word R10+|word a+b|word and/or"),
        ("12mm 16d", "number 12|word mm|number 16|word d"),
        ("2-part 13007-1 60364-7-701 4.4.1", "word 2-part|word 13007-1|word 60364-7-701|word 4.4.1"),
        ("1:80 1:48", "number 1|mark :|number 80|number 1|mark :|number 48"),
        ("50%", "number 50|mark %"),
        ("90° >= 3", "number 90|mark °|mark >|mark =|number 3"),
        ("thick: 3 in. wide", "word thick|mark :|number 3|word in|mark .|word wide"),
        ("surface. wall", "word surface|mark .|word wall"),
        ("2026-04-02 16:00", "date 2026-04-02|time 16:00"),
        ("2026-04", "date 2026-04"),
        ("8504-10 1504-10", "word 8504-10|word 1504-10"),
        ("09 30 13", "number 09|number 30|number 13"),
        ("1/2 1/4", "number 1/2|number 1/4"),
        ("2  1/4", "number 2|number 1/4"),
        ("20 -5", "number 20|bad -5"),
        ("at -5 C", "word at|number -5|word C"),
        ("a/b / c", "word a/b|mark /|word c"),
        ("a#b # c", "word a|mark #|word b"),
        ("(60 in)", "mark (|number 60|word in|mark )"),
        ("½½", "number ½|number ½"),
        ("é ñandú", "word é|word ñandú"),
    ],
)
def test_kinds(text: str, tokens: str) -> None:
    assert "|".join(f"{kind} {piece}" for kind, piece in told(text)) == tokens


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ('wall "back", 60 in', ["back"]),
        ("wall “back”, 60 in", ["back"]),
        ('"T1", plain', ["T1"]),
        ('a "size 12", b', ["size 12"]),
        ('a "12" wall", b', ['12" wall']),
        ('a "he said "no" twice", b', ['he said "no" twice']),
        ('a "x" # "y"', ["x"]),
        ('a "x#y # z"', ["x#y # z"]),
        ('a,"b"', ["b"]),
        ('a ""', [""]),
        ('part "niche" of "walls"', ["niche", "walls"]),
        ('thing "a" on "b" / "c"  # d', ["a", "b", "c"]),
        ('thing "a" on the far "b"/"c"', ["a", "b", "c"]),
        ('like "a" / "b"', ["a", "b"]),
        ('wall "a" or "b" or "c", d', ["a", "b", "c"]),
        ('because "the 5" and "good" ones"', ['the 5" and "good" ones']),
        ('because "cut, "a" then b"', ['cut, "a" then b']),
        ('a "12" x "b"', ["12", "b"]),
        ('name:"a"', ["a"]),
        ('a "b" ,c', ["b"]),
        ('a "' + "b" * 4096 + '"', ["b" * 4096]),
    ],
)
def test_strings(text: str, values: list[str]) -> None:
    scan = scan_line(text, 1)
    assert [token.value for token in scan.tokens if token.kind == "string"] == values
    assert scan.sound


def test_a_word_has_its_plain_spelling_as_value() -> None:
    (first, second) = scan_line("owner’s back‑butter", 1).tokens
    assert (first.text, first.value) == ("owner’s", "owner's")
    assert (second.text, second.value) == ("back‑butter", "back-butter")


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2199, 12, 31)))
def test_every_day_of_the_calendar_is_a_date(day: date) -> None:
    assert told(day.isoformat()) == [("date", day.isoformat())]


@given(st.integers(1900, 2199), st.integers(1, 12), st.integers(0, 39))
def test_days_that_do_not_exist_are_refused(year: int, month: int, day: int) -> None:
    text = f"{year:04}-{month:02}-{day:02}"
    try:
        date.fromisoformat(text)
        kind = "date"
    except ValueError:
        kind = "bad"
    assert told(text) == [(kind, text)]


PIECES = st.sampled_from([*"xX×\"“”'’#,/.:-–— \t\xa0½0129%°", "1/2", "12", "in", '" in "', "2026-04-02", "9,5", "1e9"])


@given(st.one_of(st.text(max_size=60), st.lists(PIECES, max_size=30).map("".join)))
def test_every_token_is_the_slice_between_its_columns(text: str) -> None:
    line = text.replace("\n", " ").replace("\r", " ")
    scan: Scan = scan_line(line, 7)
    end = 1
    for token in scan.tokens:
        assert line[token.column - 1 : token.end_column - 1] == token.text
        assert token.column < token.end_column
        assert token.line == 7
        assert token.column >= end
        assert set(plain_text(line[end - 1 : token.column - 1])) <= set(" \t,#") or token is scan.tokens[-1]
        end = token.end_column
    assert len(scan.tokens) == sum(letter not in ",#" for letter in scan.letters)
    assert scan.sound == all(token.kind != "bad" for token in scan.tokens)
    if scan.comment is not None:
        assert line.endswith(scan.comment)
        assert scan.comment[0] == "#"


@given(st.text(max_size=40))
def test_plain_text_keeps_the_length(text: str) -> None:
    assert len(plain_text(text)) == len(text)
