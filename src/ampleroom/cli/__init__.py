"""The command line: one file a command, each loaded only when it is asked for."""

from __future__ import annotations

import gc
import os
import re
import sys
from collections.abc import Iterator
from importlib import import_module
from typing import Any

from ampleroom.errors import AmpleroomError, SheetFaults, nearest

COMMANDS = {
    "ask": "one box, typed in a line: an answer at once",
    "check": "check a job: every box, failing ones first",
    "show": "the whole worksheet of one box",
    "fits": "what else would still go into a box or a raceway",
    "size": "the smallest raceway that will do",
    "remedy": "how to fix what fails, and what it costs",
    "takeoff": "the shopping list",
    "map": "the job as a picture",
    "packet": "the PDF to hand the inspector",
    "convert": "sheet to workbook and back",
    "serve": "the page, on this machine",
    "offline": "the page as a folder that needs no server",
    "rule": "what a rule says, in plain words, by edition",
    "new": "write a starter sheet",
    "settings": "the edition you usually work by, set once",
}

USAGE = """usage: ampleroom COMMAND ...

Does it fit, and does it pass? Counts boxes by the edition
of the electrical code adopted where the job is, and shows
every count.

commands:
{commands}

examples:
  ampleroom ask 'square 4 x 1-1/2, 3 x 12/2 nm-b'
  ampleroom new boathouse.job
  ampleroom check boathouse.job
  ampleroom show J1 boathouse.job
  ampleroom fits J1 boathouse.job --cable 12/2 nm-b
  ampleroom size R1 boathouse.job
  ampleroom rule box-fill-grounds

ampleroom COMMAND --help tells more of each. Exit status:
0 all passes, 1 something fails, 2 the sheet cannot be read,
3 something needs a check, or part of the sheet was not
judged."""

OBEYED = "[\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]"
"""Letters a terminal may take for a command, beyond those JSON escapes by itself: they erase, move or turn text
around."""


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
    """Run one command with the words after ``ampleroom``; the exit status. Only a closed pipe and Ctrl+C are raised."""
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
    if command != "serve":
        gc.disable()  # a command is over before collecting would pay
    try:
        module = import_module(f"ampleroom.cli.{command}")
        options = module.plainly(rest) if hasattr(module, "plainly") else None
        return int(module.run(module.parser().parse_args(rest) if options is None else options))
    except SheetFaults as trouble:
        return tell_faults(trouble, as_json)
    except AmpleroomError as trouble:
        if as_json:
            print_json({"schema": "ampleroom-error/1", "error": str(trouble)})
        write_error(f"ampleroom {command}: {trouble}")
        return 2
    except BrokenPipeError:
        raise
    except OSError as trouble:  # a name too long for the system, a folder nobody may enter
        sentence = f"{trouble.filename or 'a file'} cannot be used: {trouble.strerror or trouble}"
        if as_json:
            print_json({"schema": "ampleroom-error/1", "error": sentence})
        write_error(f"ampleroom {command}: {sentence}")
        return 2


def usage() -> str:
    """The text of ``ampleroom --help``: every command with what it does."""
    wide = max(len(name) for name in COMMANDS)
    return USAGE.format(commands="\n".join(f"  {name.ljust(wide)}  {says}" for name, says in COMMANDS.items()))


def unknown_command(command: str) -> int:
    """Say that there is no such command and which may be meant; the exit status, 2."""
    close = nearest(command, COMMANDS)
    hint = f"did you mean {close[0]!r}?" if close else "the commands are " + ", ".join(COMMANDS)
    if command.endswith(".job"):
        hint = f"to check a sheet: ampleroom check {command}"
    write_error(f"ampleroom: no command {command!r}; {hint}")
    return 2


def tell_faults(trouble: SheetFaults, as_json: bool) -> int:
    """All that cannot be read in a sheet, each with its place."""
    if as_json:
        print_json(faults_json(trouble))
        return 2
    for fault in trouble.faults:
        write_error(fault.text + "\n")
    count = len(trouble.faults)
    write_error(
        f"{trouble.file}: {count} {trouble.unit}{'s' if count != 1 else ''} cannot be read; nothing was checked"
    )
    return 2


def write_error(text: str) -> None:
    """A word on what is in the way. Names in it may come from a sheet, and must not write to somebody's terminal."""
    from ampleroom.cli.paper import printable

    lines = [
        printable(line) for line in text.expandtabs(1).split("\n")
    ]  # no map(): here that is the command, once loaded
    print("\n".join(lines), file=sys.stderr)


def print_json(value: dict[str, Any]) -> None:
    """JSON on standard output; what a terminal might obey is escaped, which is the same JSON. A member that is an
    iterator is written as a list, one element at a time.
    """
    for piece in json_pieces(value):
        sys.stdout.write(re.sub(OBEYED, lambda match: f"\\u{ord(match[0]):04x}", piece))
    sys.stdout.write("\n")


def json_pieces(value: dict[str, Any]) -> Iterator[str]:
    """The text of an object, indented by two, piece by piece; each element of an iterator is on one line. There may be
    thousands, and the standard library's fast encoder does not indent.
    """
    import json  # not for those who read

    def indented(part: Any, by: str) -> str:
        return json.dumps(part, ensure_ascii=False, indent=2).replace(
            "\n", "\n" + by
        )  # in JSON no string holds a line end

    if not value:
        yield "{}"
        return
    before = "{\n  "
    for name, part in value.items():
        yield f"{before}{json.dumps(name, ensure_ascii=False)}: "
        before = ",\n  "
        if isinstance(part, Iterator):
            opening = "["
            for element in part:
                yield f"{opening}\n    {json.dumps(element, ensure_ascii=False)}"
                opening = ","
            yield "[]" if opening == "[" else "\n  ]"
        else:
            yield indented(part, "  ")
    yield "\n}"


def faults_json(trouble: SheetFaults) -> dict[str, Any]:
    """The faults of a sheet as JSON: file, line and columns (counted from 1), message, hint, the line itself."""
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
