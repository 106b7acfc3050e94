"""``speclint completion``: what a shell needs to finish words of the command line, made from the commands' options."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import NamedTuple

from speclint.cli.parser import Parser, parser
from speclint.cli.streams import put

SHELLS = ("bash", "zsh", "fish")


class Option(NamedTuple):
    """One option: its spellings, the words it takes (none: free text), whether it takes a value, and what it is for."""

    names: tuple[str, ...]
    choices: tuple[str, ...]
    takes: bool
    does: str


Table = Mapping[str, tuple[Option, ...]]


def options() -> Parser:
    """The options of this command."""
    does = "Prints a script that lets a shell finish words: source it, or put it where the shell looks."
    found = parser("completion", does, "speclint completion bash > ~/.local/share/bash-completion/completions/speclint")
    found.add_argument("shell", choices=SHELLS, help="the shell")
    return found


def run(chosen: argparse.Namespace) -> int:
    """Print the script."""
    from speclint.cli.main import COMMANDS

    table = {name: _options(import_module(f"speclint.cli.{name}").options()) for name in COMMANDS}
    makers: Mapping[str, Callable[[Mapping[str, str], Table], str]] = {"bash": _bash, "zsh": _zsh, "fish": _fish}
    put(makers[chosen.shell](COMMANDS, table))
    return 0


def _options(found: Parser) -> tuple[Option, ...]:
    """Every option of a parser; the words of a positional argument stand under no name."""
    rows: list[Option] = []
    for action in found._actions:
        if action.help == argparse.SUPPRESS:
            continue
        choices = tuple(str(choice) for choice in action.choices or ())
        if action.option_strings or choices:
            does = " ".join(str(action.help or "").split())
            rows.append(Option(tuple(action.option_strings), choices, action.nargs != 0, does))
    return tuple(rows)


def _words(rows: tuple[Option, ...]) -> str:
    """The words that may stand where no value is due."""
    return " ".join(word for row in rows for word in (row.names or row.choices))


def _cases(table: Table, reply: str) -> list[str]:
    """Lines of a shell's case over command and last word, then over the command alone."""
    lines = ['  case "$cmd $prev" in']
    for command, rows in table.items():
        for row in rows:
            if row.names and row.takes:
                heads = "|".join(f'"{command} {name}"' for name in row.names)
                lines.append(f"    {heads}) {reply.format(words=' '.join(row.choices))}; return;;")
    lines += ["  esac", '  case "$cmd" in']
    lines += [f"    {command}) {reply.format(words=_words(rows))};;" for command, rows in table.items()]
    return [*lines, "  esac"]


def _bash(commands: Mapping[str, str], table: Table) -> str:
    reply = 'mapfile -t COMPREPLY < <(compgen -W "{words}" -- "$cur")'
    names = " ".join([*commands, "help", "--version"])
    lines = [
        "# bash completion of speclint; where nothing is offered, file names are",
        "_speclint() {",
        '  local cur="${COMP_WORDS[COMP_CWORD]}" prev="${COMP_WORDS[COMP_CWORD-1]}" cmd="${COMP_WORDS[1]}"',
        "  COMPREPLY=()",
        f'  if [ "$COMP_CWORD" -eq 1 ]; then {reply.format(words=names)}; return; fi',
        *_cases(table, reply),
        "}",
        "complete -o default -F _speclint speclint",
    ]
    return "\n".join(lines) + "\n"


def _zsh(commands: Mapping[str, str], table: Table) -> str:
    names = " ".join([*commands, "help", "--version"])
    lines = [
        "#compdef speclint",
        "_speclint() {",
        '  local prev="${words[CURRENT-1]}" cmd="${words[2]}"',
        f"  if (( CURRENT == 2 )); then compadd -- {names}; return; fi",
        *_cases(table, "compadd -- {words}"),
        "  _files",
        "}",
        'if [ "$funcstack[1]" = "_speclint" ]; then _speclint "$@"; else compdef _speclint speclint; fi',
    ]
    return "\n".join(lines) + "\n"


def _fish(commands: Mapping[str, str], table: Table) -> str:
    lines = ["# fish completion of speclint"]
    for command, does in commands.items():
        lines.append(f"complete -c speclint -n __fish_use_subcommand -f -a {command} -d {_quoted(does)}")
    for command, rows in table.items():
        when = f"complete -c speclint -n '__fish_seen_subcommand_from {command}'"
        for row in rows:
            names = "".join(f" -l {name[2:]}" if name.startswith("--") else f" -s {name[1:]}" for name in row.names)
            words = f" -x -a {_quoted(' '.join(row.choices))}" if row.choices else " -r" if row.takes else ""
            lines.append(f"{when}{names}{words} -d {_quoted(row.does)}")
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"
