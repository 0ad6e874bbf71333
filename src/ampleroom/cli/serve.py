"""``serve``: the page, on this machine."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.common import command_parser
from ampleroom.errors import FileTrouble
from ampleroom.quantities import plural
from ampleroom.web.serve import data_folder, serve


def parser() -> argparse.ArgumentParser:
    """The options of ``serve``."""
    command = command_parser(
        "serve",
        (
            "Serve the page on this machine: jobs with their whole history, boxes changed by touch, pictures, "
            "fixes, the packet."
        ),
        "  ampleroom serve\n  ampleroom serve --port 9000 --store jobs.db\n"
        "  ampleroom serve --backup monday.db   (a copy of all jobs, made while the server serves)\n"
        "  ampleroom serve --pages OUT   (a folder made by 'offline', so that the page works without the server too)",
    )
    command.add_argument(
        "--host",
        default="127.0.0.1",
        metavar="ADDRESS",
        help="this machine's own address; no other is taken (127.0.0.1)",
    )
    command.add_argument(
        "--port", type=int, default=8617, metavar="N", help="the port to listen on (8617); 0 takes a free one"
    )
    command.add_argument("--store", metavar="FILE", help="the database of jobs; in your own data folder if left out")
    command.add_argument("--pages", metavar="FOLDER", help="serve the pages of a folder made by 'offline'")
    command.add_argument(
        "--backup",
        metavar="FILE",
        help="copy the database of jobs to FILE and end; a server may go on with it meanwhile",
    )
    command.add_argument("--force", action="store_true", help="let --backup write over a file that is there")
    return command


def run(options: argparse.Namespace) -> int:
    """Serve the page until stopped, or copy the database; FileTrouble for a bad port or a folder without pages."""
    store = Path(options.store) if options.store else data_folder() / "jobs.db"
    if options.backup:
        return backed_up(store, Path(options.backup), options.force)
    if options.force:
        raise FileTrouble("--force goes with --backup FILE; nothing else here writes over a file")
    pages = Path(options.pages) if options.pages else None
    if pages is not None and not (pages / "index.html").is_file():
        raise FileTrouble(f"{pages} holds no pages; make them with: ampleroom offline {pages}")
    if not 0 <= options.port < 65536:
        raise FileTrouble(f"--port {options.port} is no port; 1024 to 65535, or 0 for a free one")
    serve(options.host, options.port, store, pages)
    return 0


def backed_up(store: Path, target: Path, force: bool) -> int:
    """Copy the database of jobs and tell how many; the exit status, 0."""
    from ampleroom.web.store import back_up

    count = back_up(store, target, force)
    print(f"{plural(count, 'job')} with their history copied to {shown_path(target)}. To look into the copy:")
    print(f"  ampleroom serve --store {shown_path(target)}")
    return 0


def shown_path(path: Path) -> str:
    """A path as it may stand in a terminal."""
    return "".join(letter if letter.isprintable() else "?" for letter in str(path))
