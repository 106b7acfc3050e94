"""The kit: what it hangs on, what is kept, and what a kept form spares."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from speclint.facts.build import build_subjects, walk
from speclint.files.cache import cache_folder, keep, kept
from speclint.files.data import data_folder
from speclint.files.digest import folder_digest
from speclint.files.kit import load_kit, load_pack_examples, pack_folder
from speclint.kernel.faults import PackFault, UsageFault
from speclint.kernel.values import Known
from speclint.language.reader import read
from speclint.plan.sections import read_sections
from speclint.plan.tree import grow_plan
from tests.packs.tiny import RULE, write_pack

HEAVY = ("lark", "yaml", "jsonschema", "rich", "pickle", "importlib.metadata")


def test_a_kept_form_spares_the_heavy_libraries(tmp_path: Path) -> None:
    code = (
        "import sys; from speclint.files.kit import load_kit; load_kit(); "
        f"print(*sorted(set({HEAVY!r}) & set(sys.modules)))"
    )
    environment = {**os.environ, "SPECLINT_CACHE": str(tmp_path / "kept")}
    told = [
        subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True).stdout
        for _ in range(2)
    ]
    assert "yaml" in told[0]  # the first run has to compile
    assert told[1].strip() == ""


def test_a_kept_form_gives_the_same_kit(tmp_path: Path) -> None:
    path = write_pack(tmp_path)
    first, second = load_kit((), (path,)), load_kit((), (path,))
    assert first.hash == second.hash
    assert first.packs[0].rules[0].judgement.made.fixed == second.packs[0].rules[0].judgement.made.fixed
    assert first.catalogue.facts == second.catalogue.facts
    assert first.vocabulary == second.vocabulary


def test_the_hash_hangs_on_the_content_of_a_pack_and_not_on_its_place(tmp_path: Path) -> None:
    first, second = write_pack(tmp_path / "a"), write_pack(tmp_path / "b")
    assert folder_digest(first) == folder_digest(second)
    write_pack(tmp_path / "b", RULE.replace("1/2 in}", "5/8 in}"))
    assert folder_digest(first) != folder_digest(second)
    before = folder_digest(first)
    Path(first, "notes.txt").write_text("no part of a pack")
    assert folder_digest(first) == before
    os.rename(Path(first, "loads"), Path(first, "weights"))
    assert folder_digest(first) != before


def test_a_changed_pack_is_compiled_anew(tmp_path: Path) -> None:
    path = write_pack(tmp_path)
    assert load_kit((), (path,)).packs[0].rules[0].limits == (("most", "1/2 in", ""),)
    write_pack(tmp_path, RULE.replace("limits: {most: 1/2 in}", "limits: {most: 5/8 in}"))
    assert load_kit((), (path,)).packs[0].rules[0].limits == (("most", "5/8 in", ""),)


@pytest.mark.parametrize("broken", [b"", b"{", b"\xff\xfe", b"[]", b"0\n{}", b"[" * 100_000])
def test_a_broken_kept_form_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: bytes) -> None:
    path = write_pack(tmp_path)
    monkeypatch.setenv("SPECLINT_CACHE", str(tmp_path / "kept"))
    fresh = load_kit((), (path,))
    for file in (tmp_path / "kept").iterdir():
        file.write_bytes(broken)
    assert load_kit((), (path,)).packs[0].rules[0].name == fresh.packs[0].rules[0].name
    assert load_pack_examples((), (path,))["body-too-thick"][0].ends == "meets"


@pytest.mark.parametrize("value", [{}, {"vocabulary": {}, "rules": []}, [], 3, {"name": "house", "rules": [{}]}])
def test_a_kept_form_of_another_shape_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, value: object
) -> None:
    monkeypatch.setenv("SPECLINT_CACHE", str(tmp_path / "kept"))
    path = write_pack(tmp_path)
    fresh = load_kit((), (path,))
    for file in (tmp_path / "kept").iterdir():
        keep(file.name, value)
    again = load_kit((), (path,))
    assert again.vocabulary == fresh.vocabulary
    assert again.packs[0].rules[0].limits == fresh.packs[0].rules[0].limits


def test_parts_are_read_by_name(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SPECLINT_CACHE", str(tmp_path))
    value = {"a": {"x": {"é": 1}, "y": [2]}, "b": {"c": {"z": "½", "w": None}}, "d": 4}
    keep("kit-v.json", value, (("a",), ("b", "c")))
    again = kept("kit-v.json")
    assert again == value
    assert list(again["b"]["c"]) == ["z", "w"]
    assert "y" in again["a"]
    assert "q" not in again["a"]
    assert len(again["a"]) == 2
    with pytest.raises(KeyError):
        again["a"]["q"]


def test_nothing_is_kept_when_switched_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SPECLINT_CACHE", "off")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() is None
    keep("kit-x.json", 1)
    assert kept("kit-x.json") is None
    assert list(tmp_path.iterdir()) == []


def test_the_folder_is_that_of_the_user(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SPECLINT_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == str(tmp_path / "speclint")
    monkeypatch.setenv("XDG_CACHE_HOME", "not/absolute")  # the base directory specification has such a path ignored
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert cache_folder() == str(tmp_path / "home" / ".cache" / "speclint")


def test_a_folder_that_cannot_be_written_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    monkeypatch.setenv("SPECLINT_CACHE", str(blocked / "below"))
    keep("kit-x.json", 1)
    assert kept("kit-x.json") is None
    assert load_kit((), (write_pack(tmp_path),)).packs[0].name == "house"


def test_old_forms_go_and_no_draft_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SPECLINT_CACHE", str(tmp_path))
    for number in range(60):
        keep(f"kit-{number}.json", number)
    left = sorted(file.name for file in tmp_path.iterdir())
    assert len(left) < 60
    assert kept("kit-59.json") == 59
    assert not [name for name in left if name.endswith(".part")]


def test_a_pack_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(UsageFault, match='no pack is named "pratice"; there are ansi, practice, us-codes'):
        pack_folder("pratice")
    with pytest.raises(UsageFault, match="no pack is named"):
        pack_folder("../shared")
    with pytest.raises(UsageFault, match="there is no folder"):
        load_kit((), (str(tmp_path / "nowhere"),))


def copy_of_shared(folder: Path) -> Path:
    return Path(shutil.copytree(data_folder("shared"), folder / "shared"))


def test_an_invented_class_and_an_invented_property_need_no_code(tmp_path: Path) -> None:
    """A new mortar class, a new property of it, a fact that reads the property, and a slot to state another fact."""
    shared = copy_of_shared(tmp_path)
    words = shared / "vocabulary" / "words" / "mortar-class.yaml"
    text = words.read_text(encoding="utf-8")
    text = text.replace("properties: {", "properties: {sheen: length, ", 1)
    text += "  Z900.7: {means: invented mortar, aliases: [moon mortar], covers: [A118.4], sheen: 3/16 in}\n"
    words.write_text(text, encoding="utf-8")
    (shared / "facts" / "invented.yaml").write_text(
        "mortar.sheen: {is: length, step: 1/64 in, means: sheen of the mortar, from: {property: sheen, of: mortar.class}}\n"
        "mortar.glow: {is: time, step: 1 h, means: how long the mortar glows, left out: unknown, ask: How long does it glow?, answers: bag}\n",
        encoding="utf-8",
    )
    keys = shared / "vocabulary" / "keys" / "finish.yaml"
    text = keys.read_text(encoding="utf-8")
    assert '      - "{mortar.class}"\n' in text
    keys.write_text(
        text.replace('      - "{mortar.class}"\n', '      - "{mortar.class}"\n      - "glows {mortar.glow}"\n', 1)
    )
    kit = load_kit((), (), shared=str(shared))
    plan = 'plan "p"\nroom "r"\nassembly "walls" in "r"\nmortar moon mortar, glows 6 h\n'
    draft = read_sections(read(plan, "p", kit.driver), kit.vocabulary)
    tree = grow_plan("p", draft.sections, draft.problems, kit.vocabulary)
    assert tree.problems == ()
    (walls,) = [one for one in walk(build_subjects(tree, kit.catalogue)) if one.kind == "assembly"]
    assert walls.get("mortar.class")[0] == "Z900.7"
    sheen, glow = walls.get("mortar.sheen"), walls.get("mortar.glow")
    assert isinstance(sheen, Known)
    assert isinstance(glow, Known)
    units = kit.vocabulary.units
    assert sheen.value == 3 * units.spellings["in"].size / 16
    assert glow.value == 6 * units.spellings["h"].size


@pytest.mark.parametrize(
    ("path", "added", "told"),
    [
        ("vocabulary/words/role.yaml", "kidn: role\n", r'role.yaml:\d+:1: "kidn" is no field of one kind of words'),
        (
            "facts/tile.yaml",
            "tile.zeal: {si: length, means: zeal}\n",
            r'tile.yaml:\d+:\d+: "si" is no field of one fact',
        ),
        (
            "vocabulary/keys/finish.yaml",
            "  zeal: {phrase: []}\n",
            r'finish.yaml:\d+:\d+: "phrase" is no field of one key',
        ),
        ("units.yaml", "bad: [\n", r"units.yaml:\d+:\d+: this is not YAML"),
        # names that name nothing, told with the nearest
        ("vocabulary/keys/finish.yaml", '  zeal: {phrases: ["a {tile.tick} b"]}\n', r'finish.yaml:\d+:23: there is no fact "tile.tick"; nearest: tile.thick'),
        ("vocabulary/keys/finish.yaml", "  zeal: {of: tyle}\n", r'there is no key "tyle"; nearest: tile'),
        ("vocabulary/keys/finish.yaml", "  zeal: {repeats: zeals, view: tile.zeal}\n", r'there is no fact "tile.zeal"'),
        ("vocabulary/words/role.yaml", "  zealot: {zeal: yes}\n", r'there is no property of this kind "zeal"'),
        ("vocabulary/words/role.yaml", "  zealot: {covers: [seter]}\n", r'there is no word of this kind "seter"; nearest: setter'),
        ("vocabulary/words/role.yaml", "  zealot: {aliases: [Setter]}\n", r'"Setter" is also a spelling of the word "setter"'),
        ("facts/tile.yaml", "tile.zeal: {is: lenth, means: zeal}\n", r'there is no dimension "lenth"; nearest: length'),
        ("facts/tile.yaml", "tile.zeal: {is: word tyle edge, means: zeal}\n", r'there is no kind of words "tyle edge"'),
        ("facts/tile.yaml", "tile.zeal: {is: flag, means: zeal, waits for: tile.tick}\n", r'there is no fact "tile.tick"'),
        ("facts/tile.yaml", "tile.zeal: {is: flag, means: zeal, answers: tape mesure}\n", r'there is no answerer "tape mesure"'),
        ("facts/tile.yaml", "tile.zeal: {is: length, means: zeal, from: {sum of: [tile.thick, tile.tick]}}\n", r'there is no fact "tile.tick"'),
        ("facts/tile.yaml", "tile.zeal: {is: length, means: zeal, from: {function: a.b, takes: {x: table trowel.bed-minimun}}}\n", r'there is no table entry "trowel.bed-minimun"; nearest: trowel.bed-minimum'),
        # phrases that could be taken in two ways
        ("vocabulary/keys/finish.yaml", '  zeal: {phrases: ["{tile.thick} zeal", "{tile.nominal-a} zeal"]}\n', r'"{tile.thick} zeal" and "{tile.nominal-a} zeal" both fit: \(length\) zeal'),
        ("vocabulary/keys/finish.yaml", '  zeal: {phrases: ["{tile.material}", "glass"]}\n', r'"{tile.material}" and "glass" both fit: glass'),
        ("vocabulary/keys/finish.yaml", '  zeal: {phrases: ["{tile.edge}"]}\n  zeal rectified: {phrases: ["{tile.thick}"]}\n', r'"zeal rectified" is a key of its own, and also the key "zeal" with "{tile.edge}"'),
        ("vocabulary/keys/finish.yaml", '  zeal: {aliases: [record], phrases: ["{tile.edge}"]}\n', r'the key "record" is also the word of a section'),
    ],
)  # fmt: skip
def test_what_is_wrong_with_shared_data_is_told(tmp_path: Path, path: str, added: str, told: str) -> None:
    shared = copy_of_shared(tmp_path)
    with (shared / path).open("a", encoding="utf-8") as stream:
        stream.write(added)
    with pytest.raises(PackFault, match=told):
        load_kit((), (), shared=str(shared))


def test_a_fact_defined_twice_is_told(tmp_path: Path) -> None:
    shared = copy_of_shared(tmp_path)
    (shared / "facts" / "zz.yaml").write_text("tile.thick: {is: length, means: again}\n", encoding="utf-8")
    with pytest.raises(PackFault, match=r'zz.yaml:1:1: the fact "tile.thick" is defined twice, first at .*tile.yaml'):
        load_kit((), (), shared=str(shared))
