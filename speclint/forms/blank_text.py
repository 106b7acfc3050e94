"""Forms to fill in by pencil, as plain text of 80 columns, each on a sheet of its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from speclint.forms.phrases import sentence
from speclint.forms.place import address_words
from speclint.forms.rows import fold
from speclint.forms.safe import safe, width_of
from speclint.works.blank_forms import Blank

WIDTH = 80
SHEET = "\f"  # a printer begins a new sheet here
_LABEL = 40
_RULE = "=" * WIDTH
_THIN = "-" * WIDTH


def blank_text(forms: Sequence[Blank], whole: bool = True) -> str:
    """All forms, a form feed between them; where there is none, whether that is so hangs on a plan read as a whole."""
    if not forms:
        none = "No form is due that is not on file already." if whole else "What was read calls for no form yet."
        return f"{none}\n"
    pages = (_page(form, number, len(forms)) for number, form in enumerate(forms, 1))
    return SHEET.join("".join(f"{line.rstrip()}\n" for line in page) for page in pages)


def _page(form: Blank, number: int, of: int) -> Iterable[str]:
    count = f"form {number} of {of}"
    yield _RULE
    yield from _apart(safe(form.title).upper(), count)
    yield from fold(f"{safe(form.plan)}: {address_words(form.address)}", WIDTH)
    yield from fold(f"{form.kind}, due {form.due}, by {form.by}", WIDTH)
    yield _RULE
    if form.caution:
        yield from _hung("CARE  ", sentence(form.caution))
        yield ""
    yield from _part("The plan says", (f"{safe(key)}: {safe(text)}" for key, text in form.planned))
    yield from _part("Figures", (f"{name}: {figure}" for name, figure in form.figures))
    yield from _part("Limits", (sentence(text) for text in form.limits), "  [ ] ")
    for label in form.lines:
        yield from _open_line(label)
    if form.columns:
        yield from (*_table(form), "")
    yield from _hung("If it was not made:  ", sentence(form.second_best))
    yield ""
    for role in form.signs:
        yield f"signed, {role:<17} {'_' * 30}  date {'_' * 16}"
        yield ""


def _apart(left: str, right: str) -> Iterable[str]:
    room = WIDTH - width_of(left) - len(right)
    return (left + " " * room + right,) if room > 1 else (*fold(left, WIDTH), right)


def _hung(label: str, text: str) -> Iterable[str]:
    first, *rest = fold(text, WIDTH - len(label))
    return (label + first, *(" " * len(label) + line for line in rest))


def _part(title: str, told: Iterable[str], mark: str = "  ") -> Iterable[str]:
    lines = [line for text in told for line in _hung(mark, text)]
    return (title, *lines, "") if lines else ()


def _open_line(label: str) -> Iterable[str]:
    *heads, last = fold(safe(label), _LABEL)
    yield from heads
    yield f"{last} ".ljust(_LABEL + 1, ".") + " " + "_" * (WIDTH - _LABEL - 2)
    yield ""


def _table(form: Blank) -> Iterable[str]:
    """A ruled table: the heads of the columns folded, and rows left open; what is read stands in the first column."""
    wide = (WIDTH - 1) // len(form.columns) - 1
    edge = "+" + ("-" * wide + "+") * len(form.columns)
    heads = [fold(safe(column), wide) for column in form.columns]
    yield edge
    for row in range(max(map(len, heads))):
        yield _row([head[row] if row < len(head) else "" for head in heads], wide)
    yield edge
    each = max(1, form.rows // max(1, len(form.of)))
    for thing in form.of or ("",):
        for _ in range(each):
            yield _row([thing, *[""] * (len(form.columns) - 1)], wide)
            yield edge


def _row(cells: Sequence[str], wide: int) -> str:
    return "|" + "".join(cell + " " * (wide - width_of(cell)) + "|" for cell in cells)
