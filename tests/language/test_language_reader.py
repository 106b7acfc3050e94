"""Reading: lines, phrases, headings, places, problems, limits; no text makes it raise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from speclint.kernel.faults import Problem
from speclint.kernel.span import Span
from speclint.language import lexer, reader
from speclint.language.mistakes import MISTAKES, Mistake, advice
from speclint.language.reader import Document, Line, decode, read, split_lines
from speclint.language.tables import default_driver


def one(text: str) -> Line:
    """The only line of a text."""
    (line,) = read(text, "f").lines
    return line


def test_lines_phrases_and_comments() -> None:
    document = read('# head\n\nplan "a"\r\n  stage  before tile, now # why\rlast', "f.x")
    assert [line.number for line in document.lines] == [1, 3, 4, 5]
    comment, heading, entry, last = document.lines
    assert (comment.phrases, comment.comment, comment.span) == ((), "# head", Span("f.x", 1, 1, 1, 7))
    assert heading.heading_shaped
    assert not entry.heading_shaped
    assert last.heading_shaped
    assert [[token.text for token in phrase] for phrase in entry.phrases] == [
        ["stage", "before", "tile"],
        ["now"],
    ]
    assert entry.comment == "# why"
    assert entry.text == "  stage  before tile, now # why"
    assert entry.span == Span("f.x", 4, 3, 4, 26)
    assert document.complete
    assert not document.problems
    assert read("   # c", "f").lines[0].span == Span("f", 1, 4, 1, 7)


@pytest.mark.parametrize(
    ("text", "shaped"),
    [
        ("plan", True),
        ('plan "a"', True),
        ('part "a" of "b"', True),
        ('part "a" of the "b" / "c" # d', True),
        ('like "a"', True),
        ("plan a", False),
        ('"a"', False),
        ('plan "a", b', False),
        ('plan "a" b', False),
        ('plan "a" / "b"', False),
        ('plan "a" of "b", c', False),
        ('plan two "a"', False),
        ("# plan", False),
        ('12 "a"', False),
    ],
)
def test_shape_of_a_heading(text: str, shaped: bool) -> None:
    assert one(text).heading_shaped is shaped


@pytest.mark.parametrize("row", MISTAKES, ids=lambda row: f"{row.sort}: {row.sample[:30]}")
def test_each_mistake_is_told_by_its_sentence(row: Mistake) -> None:
    document = read("fine line\n" + row.sample + "\nfine line", "f")
    (problem,) = document.problems
    sentences = [row.sentence for row in MISTAKES if row.sentence.split("{")[0] in problem.message]
    assert row.sentence in sentences
    assert all(piece in problem.message for piece in _fixed(row.sentence))
    assert [line.readable for line in document.lines] == [True, False, True]
    (bad,) = [token for token in document.lines[1].tokens if token.kind == "bad"]
    assert bad.value == problem.message
    assert problem.span == Span("f", 2, bad.column, 2, bad.end_column)


def _fixed(sentence: str) -> list[str]:
    """The pieces of a sentence between its placeholders."""
    pieces = [""]
    for piece in sentence.split("{"):
        pieces.append(piece.rpartition("}")[2] if "}" in piece else piece)
    return pieces


def test_no_sentence_names_a_terminal() -> None:
    names = ("WORD", "STRING", "SLASH", "COMMA", "ITEM", "COMMENT", "$END", "token", "terminal", "regex")
    for row in MISTAKES:
        assert not [name for name in names if name in row.sentence], row
        assert row.sentence[0] in '"a' or row.sentence[0].islower()


@pytest.mark.parametrize(
    ("text", "column", "width", "said"),
    [
        ("thick 9,5 mm", 7, 3, "write 9.5"),
        ("load 1,200 kg", 6, 5, "write 1200"),
        ("gap 3/8-1/2", 5, 7, '"3/8 in to 1/2 in"'),
        ("gap 3/8 – 1/2 in", 9, 1, '"3/8 in to 1/2 in"'),
        ("gap 3/8 in - 1/2 in", 12, 1, '"3/8 in to 1/2 in"'),
        ("gap 2-3 ft", 5, 3, '"to"'),
        ("on 01/02/26", 4, 8, "2026-01-02"),
        ("on 02.04.2026", 4, 10, "2026-01-02"),
        ("on 2026-4-2", 4, 8, "2026-04-02"),
        ("on 2026-02-30", 4, 10, "a day that exists"),
        ("at 16:00Z", 4, 6, "local time"),
        ("at 16:00+02:00", 4, 11, "local time"),
        ("at 2026-04-02T16:00", 4, 16, "a blank between"),
        ("at 16:00:30", 4, 8, "hours and minutes"),
        ("at 4:00 pm", 4, 7, "16:00"),
        ("load 1e999", 6, 5, "exponent"),
        ("load " + "1" * 41, 6, 41, "40 digits"),
        ("gap 1/0", 5, 3, "nought"),
        ("gap 1 3/2", 5, 5, "mixed number"),
        ('name "a', 6, 2, "never closed"),
        ('name "a" b', 6, 5, "comma after the closing quote"),
        ('name "' + "a" * 4097 + '"', 6, 4099, "4,096"),
        ("a\x07b", 2, 1, "U+0007"),
        ("a # b\u202e", 6, 1, "U+202E"),
        ("a, , b", 4, 1, "two commas"),
        ("a,", 2, 1, "nothing after it"),
        ("a, # c", 2, 1, "nothing after it"),
        (",a", 1, 1, "head of the line"),
    ],
)
def test_refusals_have_place_and_advice(text: str, column: int, width: int, said: str) -> None:
    (problem,) = read("\n" + text, "f").problems
    assert said in problem.message
    assert problem.span == Span("f", 2, column, 2, column + width)


def test_columns_count_code_points_a_tab_one_a_byte_order_mark_none() -> None:
    line = one("\ufeff\tß😀 x")
    assert [token.column for token in line.tokens] == [2, 3, 5]
    assert one("a\tb").tokens[1].column == 3


@given(st.text(max_size=300))
def test_no_text_raises(text: str) -> None:
    check(read(text, "f"), text)


PIECES = [
    '"',
    "“",
    ",",
    " # ",
    "\n",
    "\r",
    "/",
    " of ",
    "plan ",
    "9,5",
    "1-2",
    "½",
    "x",
    "\t",
    "\x00",
    "\u2028",
    "\xa0",
    "a" * 99,
]


@given(st.lists(st.sampled_from(PIECES), max_size=60).map("".join))
def test_no_hostile_text_raises(text: str) -> None:
    check(read(text, "f"), text)


def check(document: Document, text: str) -> None:
    """What holds for every document."""
    lines = split_lines(text)
    for line in document.lines:
        assert line.text == lines[line.number - 1]
        assert all(line.phrases) or not line.phrases
        assert line.readable == all(token.kind != "bad" for token in line.tokens)
        for token in line.tokens:
            assert line.text[token.column - 1 : token.end_column - 1] == token.text
    bad = [token for line in document.lines for token in line.tokens if token.kind == "bad"]
    assert len(document.problems) == min(len(bad), 201) or not document.complete
    if "\0" in text:
        assert not document.complete
        assert len(document.problems) == 1


def test_at_most_so_many_problems() -> None:
    exactly = read('a "b\n' * 200, "f")
    assert len(exactly.problems) == 200
    more = read('a "b\n' * 100_000, "f")
    assert len(more.problems) == 201
    assert more.problems[-1].span.line == 201
    assert "there are more problems" in more.problems[-1].message
    assert len(more.lines) == 100_000, "the lines are all there, marked as unreadable"


def test_a_text_that_is_too_large_is_not_read() -> None:
    document = read("a" * (reader.TEXT_LIMIT + 1), "f")
    assert document.lines == ()
    assert not document.complete
    assert "1 MiB" in document.problems[0].message
    assert read("ä" * (reader.TEXT_LIMIT // 2 + 1), "f").complete is False
    assert read("a " * (reader.TEXT_LIMIT // 2), "f").problems[0].message == advice("length", "a")


def test_too_many_words_stop_the_reading() -> None:
    document = read("a\n" * (reader.TOKEN_LIMIT + 1), "f")
    assert not document.complete
    assert len(document.lines) == reader.TOKEN_LIMIT
    assert "250,000" in document.problems[-1].message


def test_work_grows_in_step_with_the_text(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = 0
    real = lexer.scan_line

    def counting(line: str, number: int) -> object:
        nonlocal calls
        calls += 1
        return real(line, number)

    monkeypatch.setattr(reader, "scan_line", counting)
    assert read("\n" * 100_000, "f").lines == ()
    assert calls == 0
    read("a b, c\n" * 1000, "f")
    assert calls == 1000


def test_shapes_are_found_once(monkeypatch: pytest.MonkeyPatch) -> None:
    driver = default_driver()
    read("zz 1 2 3 4 5, 6, 7\n", "f", driver)
    monkeypatch.setattr(driver, "parse", lambda *_: pytest.fail("this shape is known"))
    assert len(read("yy 9 8 7 6 5, 4, 3\n" * 9, "f", driver).lines) == 9


@pytest.mark.parametrize(
    "text",
    [
        '"' * 16_000,
        'a "' + ' in "x" ' * 2000,
        'a "' + '" / ' * 3000,
        'a "' + '"/"' * 5000,
        'a "' + ' a b c "' * 2000,
        "1-" * 8000,
        "1,1" * 5000,
        "9" * 16_000,
        "-½" * 8000,
        "1/" * 8000,
        "1.1" * 5000,
        ("x" + " " * 100) * 150,
        " " * 16_000 + "x",
        "a-" * 8000,
        "a" * 16_000,
        "2026-04-02T" * 1400,
        "\u202e" * 16_000,
        "," * 16_000,
        "x" + " " * 16_000,
        "1/1" * 5000 + "/",
        "1.1.1" * 3000 + "/",
    ],
)
def test_no_line_makes_more_than_its_length(text: str) -> None:
    """A line gives no more tokens and problems than it has signs; its time is measured by `tests.bench.ratios`."""
    document = read(text, "f")
    assert sum(len(line.tokens) for line in document.lines) <= len(text)
    assert len(document.problems) <= reader.PROBLEM_LIMIT + 1


def test_decode() -> None:
    assert decode(b"\xef\xbb\xbfplan \xc3\xa4", "f") == "plan ä"
    assert decode(b"", "f") == ""
    wrong = decode(b"a\nb\xff", "f")
    assert isinstance(wrong, Problem)
    assert wrong.span == Span("f", 2, 2, 2, 3)
    assert "UTF-8" in wrong.message
    assert "0xff" in wrong.message
    nul = decode(b"a\r\nbc\0", "f")
    assert isinstance(nul, Problem)
    assert nul.span == Span("f", 2, 3, 2, 4)
    utf16 = decode("plan".encode("utf-16"), "f")
    assert isinstance(utf16, Problem)
    assert "UTF-16" in utf16.message
    large = decode(b"a" * (reader.TEXT_LIMIT + 1), "f")
    assert isinstance(large, Problem)
    assert "1 MiB" in large.message
    assert decode(b"a" * reader.TEXT_LIMIT, "f") == "a" * reader.TEXT_LIMIT
