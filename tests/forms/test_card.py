"""The card for the crew without a browser: figures as written, what stops, no rule named, hostile texts, the same bytes again."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from speclint.files.templates import templates
from speclint.forms.card import CARD_TEMPLATES, card
from tests.forms.test_page import HOSTILE, Reading
from tests.page.pages import page_of_file
from tests.rules.shipped import NAMES

pytest.importorskip("jinja2", reason="the card needs jinja2: pip install 'speclint[report]'")
PLANS = Path(__file__).resolve().parents[2] / "specs_examples"
SOUND = PLANS / "sound" / "hall-shower-with-liquid-membrane.wetspec"
FLAWED = PLANS / "flawed" / "spot-bonded-walls-on-gypsum.wetspec"


def words(path: Path) -> str:
    return re.sub(r"\s+", " ", " ".join(Reading(page_of_file(path, form="card")).texts))


def test_the_figures_stand_as_the_plan_writes_them() -> None:
    told = words(SOUND)
    for text in (
        "square 1/2 x 1/2 x 1/2 in",
        "A118.15 H T",
        "3/16 in",
        "A118.7, sanded",
        "sealant C920",
        "liquid A118.10",
    ):
        assert text in told
    assert "first course its top 12 in above the foot" in told
    assert "Order of work" in told and "Stop and settle first" not in told


def test_what_stops_comes_first_and_no_rule_is_named() -> None:
    told = words(FLAWED)
    assert "Stop and settle first Greenboard" in told
    told += words(SOUND)
    assert [name for name in NAMES if "-" in name and name in told] == []


def test_what_bears_on_the_whole_plan_stands_on_every_card(tmp_path: Path) -> None:
    """A code that is not told is asked of the plan, and keeps open what every room needs."""
    path = tmp_path / "plan.wetspec"
    room = 'room "{0}"\n  exposure wet\n  use shower\nassembly "{0} floor" in "{0}"\n  surface floor\n  slope 1/8 in per ft to drain\n'
    path.write_text('plan "p"\n' + room.format("one") + room.format("two"), encoding="utf-8")
    told = words(path)
    assert told.count("Stop and settle first") == 2
    assert told.count("Which codes and standards does this plan answer to?") == 2


def test_a_plan_without_a_room_still_tells_what_stops(tmp_path: Path) -> None:
    path = tmp_path / "plan.wetspec"
    path.write_text('plan "p"\n  nonsense  here\nroom "r"\n  exposure wet\n  use shower\n', encoding="utf-8")
    told = words(path)
    assert "no room told" in told and "1 line of the plan could not be read" in told
    assert "No build-up is told for the floor of this shower" in told


def test_the_same_day_writes_the_same_bytes() -> None:
    assert page_of_file(FLAWED, form="card") == page_of_file(FLAWED, form="card")


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_names_are_text(text: str, tmp_path: Path) -> None:
    name = text.replace('"', "").replace("\n", " ").replace("\x00", "")
    plan = f'plan "p {name}"\nroom "r {name}"\nassembly "a" in "r {name}"\n  surface wall, 4 ft x 8 ft\n'
    path = tmp_path / "hostile.wetspec"
    path.write_text(plan, encoding="utf-8")
    read = Reading(page_of_file(path, form="card"))
    assert not {"script", "img", "iframe", "link", "object", "form", "a"} & set(read.tags)
    assert {name for name, _ in read.attributes if name in ("style", "src", "href") or name.startswith("on")} == set()


def test_a_plan_without_rooms_and_a_file_not_read_are_told() -> None:
    told = card([], [("gone.wetspec", "there is no such file")], templates(CARD_TEMPLATES))
    assert "No room to build" in told and "there is no such file" in told
