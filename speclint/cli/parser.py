"""The parser of options: help that begins with an example, and near misses where a name is misspelt."""

from __future__ import annotations

import argparse
import os
import sys
from typing import NoReturn

from speclint.cli.streams import tell
from speclint.cli.terminal import width_of_output
from speclint.plan.near import nearest_names

_PACK_HELP = "folder of a rule pack of your own, besides those that ship; may be given several times"


class Parser(argparse.ArgumentParser):
    """An argument parser that takes no shortened options and suggests the nearest name."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong, with the nearest option, and exit with 2."""
        head, _, rest = message.partition("unrecognized arguments: ")
        if not head and rest:
            options = [name for name in self._option_string_actions if name.startswith("--")]
            wrong = rest.split()[0]
            message = f"{wrong} is not known here{nearest_names(wrong, options)}"
        tell(message)
        tell(f"see {self.prog} --help")
        sys.exit(2)


def _layout(prog: str) -> argparse.HelpFormatter:
    """Help as wide as the terminal; told its width, argparse need not load what finds it."""
    return argparse.RawDescriptionHelpFormatter(prog, width=min(width_of_output(os.environ), 100) - 2)


def parser(command: str, does: str, example: str) -> Parser:
    """A parser for one command; its help shows the example first."""
    return Parser(
        prog=f"speclint {command}",
        usage=f"speclint {command} [options] ...",
        description=f"example:\n  {example}\n\n{does}",
        formatter_class=_layout,
        allow_abbrev=False,
    )


def add_packs(options: argparse.ArgumentParser) -> None:
    """The option for packs of one's own."""
    options.add_argument("--pack", action="append", default=[], metavar="PATH", help=_PACK_HELP)


def add_into(options: argparse.ArgumentParser) -> None:
    """The option for writing into a file."""
    options.add_argument("--into", default="", metavar="FILE", help="write into this file instead of to the terminal")


def add_colour(options: argparse.ArgumentParser) -> None:
    """The option for colour."""
    options.add_argument(
        "--color",
        "--colour",
        dest="color",
        default="auto",
        choices=("always", "never", "auto"),
        help="colour in the terminal form (auto: on a terminal)",
    )
