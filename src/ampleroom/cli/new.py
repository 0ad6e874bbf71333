"""``new``: a starter sheet with a remark on every line."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.common import add_force, add_json, command_parser, print_json
from ampleroom.cli.paper import printable
from ampleroom.cli.saving import save
from ampleroom.job import starter_sheet


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "new",
        "Write a starter sheet: a small job with a remark on every line, to be overwritten with your own.",
        "  ampleroom new boathouse.job\n  ampleroom new            (prints it)",
    )
    found.add_argument(
        "file",
        nargs="?",
        metavar="FILE",
        help="where to write it; it is printed if left out. a file that is there is not touched without --force",
    )
    add_force(found)
    add_json(found)
    return found


def run(options: argparse.Namespace) -> int:
    text = starter_sheet()
    if options.file is None:
        if options.json:
            print_json({"schema": "ampleroom-new/1", "file": None, "sheet": text})
        else:
            print(text, end="")
        return 0
    path = Path(options.file)
    if not path.suffix:
        path = path.with_suffix(".job")
    save(path, text.encode("utf-8"), force=options.force)
    if options.json:
        print_json({"schema": "ampleroom-new/1", "file": str(path), "sheet": text})
    else:
        print(printable(f"{path} is written. Change it to your job, then: ampleroom check {path}"))
    return 0
