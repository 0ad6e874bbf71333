"""``serve``: the page, on this machine."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.common import command_parser
from ampleroom.errors import FileTrouble
from ampleroom.web.serve import data_folder, serve


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "serve",
        "The page, from a server on this machine: jobs with their whole history, the box view by touch, pictures, remedies, packet.",
        "  ampleroom serve\n  ampleroom serve --port 9000 --store jobs.db\n  ampleroom serve --pages OUT   (a folder made by 'offline', so that the page works without the server too)",
    )
    found.add_argument(
        "--host",
        default="127.0.0.1",
        metavar="ADDRESS",
        help="this machine's own address; no other is taken (127.0.0.1)",
    )
    found.add_argument("--port", type=int, default=8617, metavar="N", help="8617; 0 takes a free one")
    found.add_argument("--store", metavar="FILE", help="the database of jobs; in your own data folder if left out")
    found.add_argument("--pages", metavar="FOLDER", help="serve the pages of a folder made by 'offline'")
    return found


def run(options: argparse.Namespace) -> int:
    pages = Path(options.pages) if options.pages else None
    if pages is not None and not (pages / "index.html").is_file():
        raise FileTrouble(f"{pages} holds no pages; make them with: ampleroom offline {pages}")
    if not 0 <= options.port < 65536:
        raise FileTrouble(f"--port {options.port} is no port; 1024 to 65535, or 0 for a free one")
    serve(options.host, options.port, Path(options.store) if options.store else data_folder() / "jobs.db", pages)
    return 0
