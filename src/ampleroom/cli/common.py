"""What several commands share: their options, the sheet they work on, exit statuses, JSON."""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING, NoReturn

from ampleroom.cli import print_json
from ampleroom.cli.paper import printable, width_of_terminal
from ampleroom.editions import OFFERED
from ampleroom.errors import FileTrouble
from ampleroom.job.model import Job
from ampleroom.job.reader import read_sheet
from ampleroom.job.sheet import LARGEST, sheet_from_bytes, sheet_from_file
from ampleroom.worksheet import Verdict

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

    from ampleroom.editions.adoption import Adoption

STATUS = {Verdict.PASSES: 0, Verdict.ADVICE: 0, Verdict.FAILS: 1, Verdict.OPEN: 3}


@cache
def parser_class() -> type[argparse.ArgumentParser]:
    """The class of every command's parser. The library is loaded for it and not before: a plain ``check`` does
    without.
    """
    import argparse

    class CommandParser(argparse.ArgumentParser):
        """What was typed may come from a file's name: no part of it writes to the terminal."""

        def error(self, message: str) -> NoReturn:
            """Say what is wrong with the options, in characters the terminal can show, and exit with status 2."""
            super().error(printable(message))

    return CommandParser


def command_parser(name: str, says: str, examples: str) -> argparse.ArgumentParser:
    """A parser of one command's words: its name, what it does in a sentence or two, and examples a line each."""
    import argparse
    import textwrap

    return parser_class()(
        prog=f"ampleroom {name}",
        description=textwrap.fill(says, width_of_terminal()),
        epilog="examples:\n" + examples,
        formatter_class=partial(argparse.RawDescriptionHelpFormatter, width=width_of_terminal() - 2),
    )


def add_sheet(parser: argparse.ArgumentParser) -> None:
    """The job sheet as an argument that may be left out."""
    parser.add_argument(
        "sheet",
        nargs="?",
        metavar="SHEET",
        help="the job sheet; the only .job file in this folder if left out; - for standard input",
    )


def add_edition(parser: argparse.ArgumentParser) -> None:
    """The option of another edition than the sheet's."""
    years = ", ".join(map(str, OFFERED))
    parser.add_argument(
        "--edition", type=int, metavar="YEAR", help=f"judge by another edition than the sheet's: {years}"
    )


def add_force(parser: argparse.ArgumentParser) -> None:
    """The option to replace an existing file."""
    parser.add_argument("--force", action="store_true", help="replace an existing file")


def add_adopted(parser: argparse.ArgumentParser) -> None:
    """Which edition, by its year or by a place; where neither is given, the one in the user's settings."""
    years = ", ".join(map(str, OFFERED))
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--edition", type=int, metavar="YEAR", help=f"the adopted edition of the code: {years}")
    which.add_argument(
        "--adopted",
        metavar="PLACE",
        help="the edition a state had adopted, by a dated list; verify with your authority",
    )


def adopted_of(place: str | None) -> Adoption | None:
    """What a place had adopted; an error with all that is known where that is not certain."""
    from ampleroom.editions.adoption import adopted_edition  # few commands ask for a place

    return None if place is None else adopted_edition(place)[1]


def write_new(name: str, text: str, force: bool = False) -> Path:
    """A new sheet under a name, with its ending if that is left out. A file that is there is kept, unless ``force``."""
    from pathlib import Path

    from ampleroom.cli.saving import save

    path = Path(name)
    if not path.suffix:
        path = path.with_suffix(".job")
    save(path, text.encode("utf-8"), force=force)
    return path


def add_json(parser: argparse.ArgumentParser) -> None:
    """The option to print JSON."""
    parser.add_argument("--json", action="store_true", help="the answer as JSON (docs/json.md)")


def add_report_json(parser: argparse.ArgumentParser) -> None:
    """``--json``, and for one release the form of the release before."""
    add_json(parser)
    parser.add_argument(
        "--form",
        type=int,
        choices=(1, 2),
        default=2,
        help="which form of the JSON: 2 (usual), or 1, the older one with boxes only, which the next release drops",
    )


def job_of(sheet: str | None) -> Job:
    """The job in a sheet named on the command line, or in the only one of this folder."""
    if sheet == "-":
        import sys

        return read_sheet(sheet_from_bytes(sys.stdin.buffer.read(LARGEST + 1), "standard input", "."))
    return read_sheet(sheet_from_file(sheet or only_sheet()))


def only_sheet() -> Path:
    """The only .job file in this folder; FileTrouble if there is none or more than one."""
    from pathlib import Path

    sheets = sorted(Path.cwd().glob("*.job"))
    if len(sheets) == 1:
        return sheets[0]
    if sheets:
        raise FileTrouble("which sheet? There are " + ", ".join(path.name for path in sheets[:8]))
    raise FileTrouble("no sheet was named and there is no .job file in this folder; 'new' writes a starter sheet")


__all__ = [
    "STATUS",
    "add_adopted",
    "add_edition",
    "add_force",
    "add_json",
    "add_report_json",
    "add_sheet",
    "adopted_of",
    "command_parser",
    "job_of",
    "only_sheet",
    "print_json",
    "write_new",
]
