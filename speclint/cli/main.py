"""The one entry: finds the command, loads only its module, and turns whatever happens into an exit code.

A command is a module ``speclint.cli.NAME`` with ``options() -> Parser`` and ``run(chosen) -> int``, named in COMMANDS.
Exit codes: 0 the work may go on, 1 it stops, 2 could not run, 70 a fault of speclint, 130 interrupted, 141 reader gone.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

from speclint import __version__
from speclint.cli.streams import drop_output, flush, put, steady, tell
from speclint.kernel.faults import EngineDefect, SpeclintError, UsageFault
from speclint.plan.near import nearest_names

COMMANDS = {
    "review": "findings, open questions and records to come of a plan",
    "cite": "a rule in plain words, with the clauses it rests on",
    "tidy": "plans in their plain form, with nothing lost",
    "takeoff": "quantities of plans, room by room, and one order",
    "closeout": "the record of a plan, what is missing from it, and forms to fill in",
    "layout": "cuts, courses and openings of every surface, drawn to scale",
    "section": "cuts through every assembly to scale, with its findings",
    "submittal": "what was handed in against a specification, side by side",
    "sequence": "the order of work with its waits, dated, and held against records",
    "redline": "what changed between two plans, or two editions of packs",
    "starter": "a commented plan to begin from",
    "pack": "check rule packs, or list them",
    "completion": "a script that lets a shell finish words",
}
_COULD_NOT, _FAULTY, _INTERRUPTED, _READER_GONE = 2, 70, 130, 141
ALLOCATED = (100_000, 20, 20)  # objects between two looks for rings of them; the words and rules alone are as many
_HELP_WORDS = ("-h", "--help", "help")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code and never raises."""
    steady()
    gc.set_threshold(*ALLOCATED)
    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _dispatch(words)
        flush()
        return code
    except KeyboardInterrupt:
        return _INTERRUPTED
    except BrokenPipeError:
        drop_output()
        return _READER_GONE
    except SystemExit as error:
        return error.code if isinstance(error.code, int) else _COULD_NOT
    except EngineDefect as error:
        tell(f"a fault of speclint itself ({error}); please report it")
        return _FAULTY
    except SpeclintError as error:
        tell(str(error))
        return _COULD_NOT
    except Exception as error:  # whatever else comes up is a bug: told in one line, no trace
        tell(f"a fault of speclint itself ({type(error).__name__}: {error}); please report it with the plan")
        return _FAULTY


def _dispatch(words: list[str]) -> int:
    if not words:
        put(general_help())
        return _COULD_NOT
    first, *rest = words
    if first in _HELP_WORDS:
        named = [word for word in rest if not word.startswith("-")]
        if named:
            _command(named[0]).options().print_help()
        else:
            put(general_help())
        return 0
    if first == "--version":
        put(_version("--verbose" in rest))
        return 0
    module = _command(first)
    code = module.run(module.options().parse_args(rest))
    return int(code)


def _command(name: str) -> Any:
    """The module of a command; raises UsageFault with the nearest names."""
    if name not in COMMANDS:
        near = nearest_names(name, COMMANDS) or f"; there are {', '.join(COMMANDS)}"
        raise UsageFault(f'no command is named "{name}"{near}')
    return import_module(f"speclint.cli.{name}")


def general_help() -> str:
    """What the program does, an example first."""
    rows = "\n".join(f"  {name:<10} {does}" for name, does in COMMANDS.items())
    return (
        "example:\n"
        '  speclint starter "shower walls" > walls.wetspec\n'
        "  speclint review walls.wetspec\n\n"
        "speclint reviews plans of tiled wet areas against rules that cite standards by\n"
        "number. It asks what a plan does not tell; what it shows is for a competent\n"
        "person to decide.\n\n"
        f"commands:\n{rows}\n\n"
        "  help COMMAND    options of one command\n"
        "  --version       version; with --verbose the packs and Python too\n"
    )


def _version(verbose: bool) -> str:
    told = f"speclint {__version__}\n"
    if verbose:
        from speclint.files.kit import load_kit

        packs = "".join(f"pack {pack.name} {pack.version} ({pack.hash[:12]})\n" for pack in load_kit().packs)
        told += f"{packs}Python {sys.version.split()[0]}\n"
    return told
