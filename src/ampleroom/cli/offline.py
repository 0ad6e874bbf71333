"""``offline``: the page as a folder that needs no server."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.common import command_parser
from ampleroom.web.offline import build


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "offline",
        "The page as a folder of files that needs no server: the same Python in the browser, jobs in the browser's own database, the "
        "packet made in the browser. Needs node and npm to make it. Put it on any https address, or: ampleroom serve --pages OUT",
        "  ampleroom offline OUT\n  ampleroom offline OUT --no-snapshot",
    )
    found.add_argument("folder", metavar="OUT", help="where to make it; a folder made before is made anew")
    found.add_argument(
        "--no-snapshot",
        action="store_true",
        help="leave out Python's picture of memory, which opens faster and is larger",
    )
    return found


def run(options: argparse.Namespace) -> int:
    made = build(Path(options.folder), snapshot=not options.no_snapshot, tell=print)
    print(
        f"{options.folder} is made: {made.files} files, {made.bytes / 1e6:.1f} MB. Serve it over https, or: ampleroom serve --pages {options.folder}"
    )
    return 0
