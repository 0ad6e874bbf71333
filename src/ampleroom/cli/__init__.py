"""The command line: one file a command, each loaded only when it is asked for."""

from __future__ import annotations

import json
import os
import sys
from importlib import import_module
from typing import Any

from ampleroom.errors import AmpleroomError, SheetFaults, nearest

COMMANDS = {
    "check": "check a job: every box, failing ones first",
    "show": "the whole worksheet of one box",
    "fits": "what else would still go into a box",
    "rule": "what a rule says, in plain words, by edition",
    "new": "write a starter sheet",
}

USAGE = """usage: ampleroom COMMAND ...

Does it fit, and does it pass? Counts boxes by the edition of the
electrical code adopted where the job is, and shows every count.

commands:
{commands}

examples:
  ampleroom new boathouse.job
  ampleroom check boathouse.job
  ampleroom show J1 boathouse.job
  ampleroom fits J1 boathouse.job --cable 12/2 nm-b
  ampleroom rule box-fill-grounds

ampleroom COMMAND --help tells more of each. Exit status: 0 all
passes, 1 something fails, 2 the sheet cannot be read, 3 it passes
only if unknown facts turn out well."""


def main(arguments: list[str] | None = None) -> int:
    """Run one command; the exit status."""
    words = sys.argv[1:] if arguments is None else arguments
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        status = run(words)
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130


def run(words: list[str]) -> int:
    if not words or words[0] in ("-h", "--help", "help"):
        print(usage())
        return 0
    if words[0] == "--version":
        from ampleroom.report import VERSION

        print(f"ampleroom {VERSION}")
        return 0
    command, rest = words[0], words[1:]
    if command not in COMMANDS:
        return unknown_command(command)
    as_json = "--json" in rest
    try:
        module = import_module(f"ampleroom.cli.{command}")
        parser = module.parser()
        return int(module.run(parser.parse_args(rest)))
    except SheetFaults as trouble:
        return tell_faults(trouble, as_json)
    except AmpleroomError as trouble:
        if as_json:
            print(json.dumps({"schema": "ampleroom-error/1", "error": str(trouble)}, ensure_ascii=False))
        print(f"ampleroom {command}: {trouble}", file=sys.stderr)
        return 2


def usage() -> str:
    wide = max(map(len, COMMANDS))
    return USAGE.format(commands="\n".join(f"  {name.ljust(wide)}  {says}" for name, says in COMMANDS.items()))


def unknown_command(command: str) -> int:
    close = nearest(command, COMMANDS)
    hint = f"did you mean {close[0]!r}?" if close else "the commands are " + ", ".join(COMMANDS)
    if command.endswith(".job"):
        hint = f"to check a sheet: ampleroom check {command}"
    print(f"ampleroom: no command {command!r}; {hint}", file=sys.stderr)
    return 2


def tell_faults(trouble: SheetFaults, as_json: bool) -> int:
    """All that cannot be read in a sheet, each with its place."""
    if as_json:
        print(json.dumps(faults_json(trouble), ensure_ascii=False, indent=2))
        return 2
    for fault in trouble.faults:
        print(fault.text + "\n", file=sys.stderr)
    number = len(trouble.faults)
    print(
        f"{trouble.file}: {number} line{'s' if number != 1 else ''} cannot be read; nothing was checked",
        file=sys.stderr,
    )
    return 2


def faults_json(trouble: SheetFaults) -> dict[str, Any]:
    return {
        "schema": "ampleroom-faults/1",
        "file": trouble.file,
        "faults": [
            {
                "file": f.file,
                "line": f.line,
                "column": f.column,
                "end": f.end,
                "message": f.message,
                "hint": f.hint,
                "source": f.source[:400],
            }
            for f in trouble.faults
        ],
    }
