"""``offline``: the page as a folder that needs no server."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.common import add_force, command_parser
from ampleroom.cli.paper import printable
from ampleroom.errors import FileTrouble
from ampleroom.web.offline import build


def parser() -> argparse.ArgumentParser:
    """The options of ``offline``."""
    command = command_parser(
        "offline",
        "Write the page as a folder of files that works without a server. Jobs stay in the browser, and the "
        "packet is made there. Node and npm are needed to make the folder. Put it on any https address, or: "
        "ampleroom serve --pages OUT",
        "  ampleroom offline OUT\n  ampleroom offline OUT --no-snapshot",
    )
    command.add_argument(
        "folder", metavar="OUT", help="where to make it; a folder made before is made anew with --force"
    )
    command.add_argument(
        "--no-snapshot",
        action="store_true",
        help="leave out the snapshot of Python's memory: a smaller folder that opens more slowly",
    )
    add_force(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Make the folder of pages; FileTrouble if something is in it and ``--force`` was not given. The exit status, 0."""
    out = Path(options.folder)
    if out.is_symlink() or (out.exists() and not out.is_dir()):
        raise FileTrouble(f"{out} is no folder; choose another name")
    if out.exists() and any(out.iterdir()) and not options.force:
        raise FileTrouble(f"{out} is there already; choose another folder, or add --force to make it anew")
    made = build(out, snapshot=not options.no_snapshot, progress=lambda text: print(printable(text)))
    size = f"{made.bytes / 1e6:.1f} MB; a phone fetches {made.fetched / 1e6:.1f} MB"
    print(
        printable(f"{out} is made: {made.files} files, {size}. Serve it over https, or: ampleroom serve --pages {out}")
    )
    return 0
