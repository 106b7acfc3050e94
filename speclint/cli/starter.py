"""``speclint starter``: a commented plan to begin from."""

from __future__ import annotations

import argparse
import os

from speclint.cli.parser import Parser, parser
from speclint.cli.streams import put
from speclint.files.data import data_folder
from speclint.kernel.faults import UsageFault
from speclint.plan.near import nearest_names

_ENDING = ".wetspec"


def options() -> Parser:
    """The options of this command."""
    found = parser(
        "starter",
        "Writes a commented plan to begin from; without KIND it lists the kinds.",
        'speclint starter "shower walls" --into walls.wetspec',
    )
    found.add_argument("kind", nargs="*", metavar="KIND", help="kind of plan, such as: tub surround")
    found.add_argument("--into", default="", metavar="FILE", help="make this file; one that is there is left alone")
    return found


def run(chosen: argparse.Namespace) -> int:
    """Print or write the starter of a kind; without a kind list them."""
    kinds = starters()
    if not chosen.kind:
        put("".join(f"{kind:<22} {_first_comment(path)}\n" for kind, path in kinds.items()))
        return 0
    kind = " ".join(" ".join(chosen.kind).split()).casefold()
    path = kinds.get(kind) or {name.replace("-", " "): path for name, path in kinds.items()}.get(kind.replace("-", " "))
    if path is None:
        alike = [f'"{name}"' for name in kinds if set(kind.split()) & set(name.split())]
        near = f"; nearest: {' or '.join(alike)}" if alike else nearest_names(kind, kinds)
        near = near or f"; there are {', '.join(kinds)}"
        raise UsageFault(f'there is no starter for "{kind}"{near}')
    with open(path, encoding="utf-8") as stream:
        text = stream.read()
    if chosen.into and os.path.lexists(chosen.into):
        raise UsageFault(f"{chosen.into} is there already and is left as it is; name another file")
    put(text, chosen.into)
    return 0


def starters() -> dict[str, str]:
    """The kinds of starters with their files, in order of name."""
    folder = os.path.join(data_folder("shared"), "starters")
    names = sorted(name for name in os.listdir(folder) if name.endswith(_ENDING))
    return {kind_of(name): os.path.join(folder, name) for name in names}


def kind_of(file: str) -> str:
    """``shower-walls.wetspec`` holds the kind ``shower walls``; ``bonded-membrane`` keeps its hyphen."""
    return file.removesuffix(_ENDING).replace("-", " ").replace("bonded membrane", "bonded-membrane")


def _first_comment(path: str) -> str:
    with open(path, encoding="utf-8") as stream:
        return stream.readline().lstrip("# ").rstrip()
