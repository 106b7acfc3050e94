"""A pack of one invented rule, written into a folder so that a test can spoil one thing in it."""

from __future__ import annotations

from pathlib import Path

from speclint.files.kit import load_kit, load_pack_examples
from speclint.kernel.faults import PackFault
from speclint.packs.rule import Rule

HEAD = """name: house
version: 0.0.1
title: House rules of Larch House
region: nowhere
"""
RULE = """name: body-too-thick
weight: remark
judges: assembly
spec part: 2
acts: setter
may be varied by: designer
applies: tile.material = porcelain
limits: {most: 1/2 in}
demands: tile.thick <= limit.most
points at: tile.thick
message: "{tile.thick} tile is thicker than {limit.most}."
cites: [{standard: house habit, basis: common practice, confidence: medium}]
examples:
  - {shows: at the limit, text: "tile porcelain, thick 1/2 in", ends: meets}
  - {shows: a hair over, text: "tile porcelain, thick 33/64 in", ends: does not meet, points at: 33/64 in, message: "33/64 in tile is thicker than 1/2 in."}
  - {shows: nobody said, text: "tile porcelain", ends: not shown, missing: [tile.thick]}
  - {shows: another body, text: "tile glass, thick 3/4 in", ends: does not apply}
"""
PLACE = "loads/body-too-thick.yaml"


def write_pack(folder: Path, rule: str = RULE, head: str = HEAD, place: str = PLACE) -> str:
    """The pack in a folder of its own; the path of that folder."""
    pack = folder / "house"
    (pack / place).parent.mkdir(parents=True, exist_ok=True)
    (pack / "pack.yaml").write_text(head, encoding="utf-8")
    (pack / place).write_text(rule, encoding="utf-8")
    return str(pack)


def spoilt(folder: Path, old: str, new: str) -> list[str]:
    """The problems of the pack once a text in its rule is replaced, each with its place."""
    assert old in RULE
    path = write_pack(folder, RULE.replace(old, new, 1))
    try:
        load_kit((), (path,))
    except PackFault as fault:
        return [str(problem).removeprefix(f"{path}/") for problem in fault.problems]
    return []


def rule_of(path: str) -> Rule:
    """The only rule of a pack, with its examples."""

    rule = load_kit((), (path,)).packs[0].rules[0]
    return rule._replace(examples=load_pack_examples((), (path,))[rule.name])
