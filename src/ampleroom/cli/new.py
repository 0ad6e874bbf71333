"""``new``: a starter sheet with a remark on every line."""

from __future__ import annotations

import argparse
import re

from ampleroom.ask import adoption_json
from ampleroom.cli.common import add_adopted, add_force, add_json, adopted_of, command_parser, print_json, write_new
from ampleroom.cli.paper import printable
from ampleroom.cli.settings import usual_edition
from ampleroom.editions import edition
from ampleroom.editions.adoption import Adoption
from ampleroom.job import starter_sheet


def parser() -> argparse.ArgumentParser:
    """The options of ``new``."""
    command = command_parser(
        "new",
        "Write a starter sheet: a small job with a remark on every line. Change it to your own job.",
        "  ampleroom new boathouse.job\n  ampleroom new boathouse.job --adopted Colorado\n"
        "  ampleroom new            (prints it)",
    )
    command.add_argument(
        "file",
        nargs="?",
        metavar="FILE",
        help="where to write it; printed if left out. An existing file is kept unless --force is given",
    )
    add_force(command)
    add_adopted(command)
    add_json(command)
    return command


def starter(year: int | None, adopted: Adoption | None) -> str:
    """The starter sheet with an edition, and on the line before it where that comes from."""
    text = starter_sheet()
    if year is None:
        return text
    remark = f"# {adopted.text}\n" if adopted else ""
    return re.sub(r"^(edition +)\d{4}", lambda match: f"{remark}{match[1]}{year}", text, count=1, flags=re.MULTILINE)


def run(options: argparse.Namespace) -> int:
    """Print a starter sheet or write it to a new file; the exit status, 0."""
    adopted = adopted_of(options.adopted)
    year = adopted.edition if adopted else options.edition
    if year is None:
        year = usual_edition()
    if year is not None:
        edition(year)  # refuses one that is not offered
    text = starter(year, adopted)
    path = write_new(options.file, text, options.force) if options.file is not None else None
    if options.json:
        answer = {"file": str(path) if path else None, "sheet": text}
        print_json({"schema": "ampleroom-new/1", **answer, "adopted": adoption_json(adopted) if adopted else None})
    elif path is None:
        print(text, end="")
    else:
        if adopted is not None:
            print(printable(adopted.text))
        print(printable(f"{path} is written. Change it to your job, then: ampleroom check {path}"))
    return 0
