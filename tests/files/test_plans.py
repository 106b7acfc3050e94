"""Finding, reading and including plan files, good and hostile; and writing them whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from speclint.files import plans as plans_module
from speclint.files.kit import load_kit
from speclint.files.plans import MOST_FILES, find_plans, load_plan, plan_of_bytes
from speclint.files.write import replace_file
from speclint.kernel.faults import UsageFault
from speclint.review.kit import Kit


@pytest.fixture(scope="module")
def kit() -> Kit:
    """Words and facts alone are enough to read plans."""
    return load_kit(packs=())


def write(folder: Path, **files: str) -> None:
    """Files by name without ending; two underscores stand for a slash."""
    for name, text in files.items():
        path = folder / (name.replace("__", "/") + ".wetspec")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def test_folders_are_walked_in_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sorted paths, hidden folders passed over, other endings too, each file once."""
    write(tmp_path, b="", a__z="", a__b="", _hidden="")
    (tmp_path / ".git").mkdir()
    write(tmp_path / ".git", x="")
    (tmp_path / "notes.txt").write_text("x")
    monkeypatch.chdir(tmp_path)
    found = find_plans([".", "b.wetspec", "./a"])
    assert found.paths == ("_hidden.wetspec", "a/b.wetspec", "a/z.wetspec", "b.wetspec")
    assert found.not_read == ()


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    """A link inside counts as the file it leads to; one that leads out is told, and so is a broken one when read."""
    write(tmp_path, outside="", inner__a="")
    inner = tmp_path / "inner"
    (inner / "b.wetspec").symlink_to(inner / "a.wetspec")
    (inner / "c.wetspec").symlink_to(tmp_path / "outside.wetspec")
    (inner / "loop").symlink_to(tmp_path, target_is_directory=True)
    found = find_plans([str(inner)])
    assert [os.path.basename(path) for path in found.paths] == ["a.wetspec"]
    assert [(os.path.basename(path), why) for path, why in found.not_read] == [
        ("c.wetspec", "this link leads out of the folder and is not followed")
    ]


def test_what_is_not_there_is_told_with_a_near_name(tmp_path: Path) -> None:
    """A misspelt file name is answered with the right one."""
    write(tmp_path, walls="")
    found = find_plans([str(tmp_path / "wals.wetspec")])
    assert found.paths == ()
    assert "no such file" in found.not_read[0][1]
    assert '"walls.wetspec"' in found.not_read[0][1]


def test_no_plain_file_is_never_opened(tmp_path: Path, kit: Kit) -> None:
    """A named pipe would wait for ever; a folder and a device are no plans."""
    pipe = tmp_path / "p.wetspec"
    os.mkfifo(pipe)
    for path in (str(pipe), str(tmp_path), "/dev/null"):
        with pytest.raises(UsageFault, match="not read"):
            load_plan(path, kit)
    with pytest.raises(UsageFault, match="cannot be read"):
        load_plan(str(tmp_path / "absent.wetspec"), kit)


@pytest.mark.parametrize(
    ("data", "place", "said"),
    [
        (b"", (1, 1), "no heading"),
        (b"\n\n# only a comment\n", (1, 1), "no heading"),
        (b'plan "A"\n\xff\n', (2, 1), "not UTF-8"),
        (b'plan "A"\n  note \x00', (2, 8), "NUL"),
        (b"\x7fELF\x02\x01\x01\x00\x00", (1, 8), "NUL"),
        (b"p\x00l\x00a\x00n\x00", (1, 2), "NUL"),
        (b"\xff\xfep\x00", (1, 1), "UTF-16"),
        (b'plan "A"\n' + b"#" * (1 << 20), (1, 1), "1 MiB"),
        (b"floor 60 in x 36 in\n", (1, 1), "before the first heading"),
    ],
)
def test_bad_files_are_unreadable_lines(kit: Kit, data: bytes, place: tuple[int, int], said: str) -> None:
    """Each with its place; the plan is no fragment that could pass unseen."""
    plan = plan_of_bytes(data, "a.wetspec", kit)
    assert not plan.fragment
    problem = plan.problems[0]
    assert (problem.span.line, problem.span.column) == place
    assert said in problem.message


def test_byte_order_mark_and_other_line_ends_change_nothing(kit: Kit) -> None:
    """A BOM takes no column; CR LF and CR end a line as LF does."""
    text = 'plan "Larch House"\n  stage before tile\nroom "bath"\n'
    plain = plan_of_bytes(text.encode(), "a.wetspec", kit)
    for other in ("\ufeff" + text, text.replace("\n", "\r\n"), text.replace("\n", "\r")):
        assert plan_of_bytes(other.encode(), "a.wetspec", kit) == plain
    assert plain.problems == ()
    assert plain.root.name == "Larch House"


def test_a_file_without_plan_is_a_fragment(kit: Kit) -> None:
    """Its sections are read; it is told apart from a plan."""
    plan = plan_of_bytes(b'room "bath"\n', "a.wetspec", kit)
    assert plan.fragment
    assert plan.problems == ()


ROOM = 'room "{0}"\n  exposure wet\n'


def test_includes_bring_whole_sections(tmp_path: Path, kit: Kit, monkeypatch: pytest.MonkeyPatch) -> None:
    """Paths count from the including file; a file met twice is read once; places name it as reached."""
    write(
        tmp_path,
        plans__a='plan "A"\n  include "../firm/one.wetspec"\nroom "own"\n  include "../firm/two.wetspec"\n',
        firm__one=ROOM.format("one") + '  include "two.wetspec"\n',
        firm__two=ROOM.format("two"),
    )
    (tmp_path / "speclint.yaml").touch()
    monkeypatch.chdir(tmp_path)
    plan = load_plan("plans/a.wetspec", kit)
    assert plan.problems == ()
    assert plan.files == ("plans/a.wetspec", "firm/one.wetspec", "firm/two.wetspec")
    assert [room.name for room in plan.root.of_kind("room")] == ["own", "one", "two"]
    assert plan.root.of_kind("room")[1].span.file == "firm/one.wetspec"


def problems_of(path: Path, kit: Kit) -> list[tuple[int, str]]:
    """Line and message of each problem."""
    return [(problem.span.line, problem.message) for problem in load_plan(str(path), kit).problems]


def test_a_circle_of_includes_is_told_at_its_line(tmp_path: Path, kit: Kit) -> None:
    """With the way round; and a file that includes itself."""
    write(
        tmp_path,
        a='plan "A"\n  include "b.wetspec"\n',
        b='room "b"\n  include "a.wetspec"\n',
        c='plan "C"\n  include "c.wetspec"\n',
    )
    assert problems_of(tmp_path / "a.wetspec", kit) == [
        (2, "includes run in a circle: a.wetspec -> b.wetspec -> a.wetspec")
    ]
    assert "c.wetspec -> c.wetspec" in problems_of(tmp_path / "c.wetspec", kit)[0][1]


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        ("../outside.wetspec", "leads out of the repository"),
        ("link.wetspec", "leads out of the repository"),
        ("sub/../../outside.wetspec", "leads out of the repository"),
        ("/etc/hostname", "must be a path from this file"),
        ("absent.wetspec", "cannot be read"),
        ("sub", "not read"),
    ],
)
def test_no_include_leads_out(tmp_path: Path, kit: Kit, wanted: str, said: str) -> None:
    """By dots, by a link, by an absolute path; nor is a folder or an absent file read."""
    write(tmp_path, outside=ROOM.format("secret"), in__a=f'plan "A"\n  include "{wanted}"\n')
    (tmp_path / "in" / "sub").mkdir()
    (tmp_path / "in" / "link.wetspec").symlink_to(tmp_path / "outside.wetspec")
    plan = load_plan(str(tmp_path / "in" / "a.wetspec"), kit)
    assert plan.root.of_kind("room") == ()
    assert len(plan.problems) == 1
    assert plan.problems[0].span.line == 2
    assert said in plan.problems[0].message


def test_the_repository_is_the_nearest_marked_folder(tmp_path: Path, kit: Kit) -> None:
    """With .git above both, the same include is inside."""
    write(tmp_path, outside=ROOM.format("shared"), in__a='plan "A"\n  include "../outside.wetspec"\n')
    (tmp_path / ".git").mkdir()
    plan = load_plan(str(tmp_path / "in" / "a.wetspec"), kit)
    assert plan.problems == ()
    assert [room.name for room in plan.root.of_kind("room")] == ["shared"]


def test_an_included_file_that_is_no_text_is_told_there(tmp_path: Path, kit: Kit) -> None:
    """Its problem stands in its own file."""
    write(tmp_path, a='plan "A"\n  include "b.wetspec"\n')
    (tmp_path / "b.wetspec").write_bytes(b"\x00")
    problem = load_plan(str(tmp_path / "a.wetspec"), kit).problems[0]
    assert problem.span.file.endswith("b.wetspec")
    assert "NUL" in problem.message


def test_a_plan_is_made_of_so_many_files(tmp_path: Path, kit: Kit) -> None:
    """A chain of 205 files ends at the 200th with one problem, not with a full stack."""
    for number in range(205):
        head = 'plan "A"' if number == 0 else f'room "r{number}"'
        write(tmp_path, **{f"f{number}": f'{head}\n  include "f{number + 1}.wetspec"\n'})
    plan = load_plan(str(tmp_path / "f0.wetspec"), kit)
    assert len(plan.files) == MOST_FILES
    assert len(plan.problems) == 1
    assert "at most 200 files" in plan.problems[0].message


def test_a_name_that_is_no_file_name(tmp_path: Path, kit: Kit) -> None:
    """Longer than any file system takes."""
    write(tmp_path, a=f'plan "A"\n  include "{"x" * 3000}"\n')
    assert "cannot be read" in problems_of(tmp_path / "a.wetspec", kit)[0][1]


def test_a_folder_that_cannot_be_listed_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The walk goes on elsewhere."""

    def refuse(top: str, onerror: object) -> object:
        assert callable(onerror)
        onerror(PermissionError(13, "Permission denied", f"{top}/shut"))
        return iter([(top, [], ["a.wetspec"])])

    monkeypatch.setattr(plans_module.os, "walk", refuse)
    found = find_plans([str(tmp_path)])
    assert len(found.paths) == 1
    assert found.not_read == ((f"{tmp_path}/shut", "the folder cannot be listed: Permission denied"),)


def test_writing_replaces_and_keeps_mode_and_link(tmp_path: Path) -> None:
    """The new text stands under the old mode; a link stays a link; nothing else is left in the folder."""
    path = tmp_path / "a.wetspec"
    path.write_text("old")
    path.chmod(0o640)
    (tmp_path / "link.wetspec").symlink_to(path)
    replace_file(str(tmp_path / "link.wetspec"), "new ½\n")
    assert path.read_bytes() == "new ½\n".encode()
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert (tmp_path / "link.wetspec").is_symlink()
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.wetspec", "link.wetspec"]


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether the folder is read-only or the disk fills up half way."""
    path = tmp_path / "a.wetspec"
    path.write_text("old")

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", refuse)
        with pytest.raises(UsageFault, match="read-only"):
            replace_file(str(path), "new")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(UsageFault, match="no space left"):
            replace_file(str(path), "new")
    assert path.read_text() == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["a.wetspec"]


def test_writing_where_no_file_can_be(tmp_path: Path) -> None:
    """No folder, a folder in the way."""
    with pytest.raises(UsageFault, match="no folder"):
        replace_file(str(tmp_path / "absent" / "a"), "x")
    with pytest.raises(UsageFault, match="no plain file"):
        replace_file(str(tmp_path), "x")
