"""Files that lie beside a sheet: regular files of a bounded size in its own folder, and no others."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from typing import TYPE_CHECKING

from ampleroom.errors import FileTrouble

if TYPE_CHECKING:
    from pathlib import Path

Beside = Callable[[str], str]
"""Reads the text of a file that lies beside the sheet, by its name."""


LARGEST = 4_000_000
"""Bytes of a file of text."""


def text_file(path: Path, most: int = LARGEST) -> str:
    """The text of a regular file of at most so many bytes; ``FileTrouble`` says why not."""
    data = file_bytes(path, most)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileTrouble(f"{path} is not plain text; save it as UTF-8 and try again") from None


def file_bytes(path: Path, most: int) -> bytes:
    """The bytes of a regular file of at most so many."""
    try:
        # Opened first and looked at then, so that it is the same file; a pipe without a writer is not waited for.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise FileTrouble(f"{path} cannot be opened: it is not a regular file")
            data = file.read(most + 1)
    except FileNotFoundError:
        raise FileTrouble(f"there is no file {path}") from None
    except IsADirectoryError:
        raise FileTrouble(f"{path} cannot be opened: it is a folder") from None
    except (OSError, ValueError) as error:
        raise FileTrouble(f"{path} cannot be opened: {getattr(error, 'strerror', None) or error}") from None
    if len(data) > most:
        raise FileTrouble(f"{path} is over {most / 1e6:.0f} MB. Is it the right file?")
    return data


def beside_in(folder: Path | str | None) -> Beside:
    """A reader of what lies in a folder, by any system's idea of a path that leads out of it."""

    def read(name: str) -> str:
        from pathlib import Path, PurePosixPath, PureWindowsPath  # few jobs have a file beside them

        ways = (PurePosixPath(name), PureWindowsPath(name))
        if folder is None or any(way.anchor or ".." in way.parts for way in ways):
            raise FileTrouble(f"{name} is not beside the sheet")
        return text_file(Path(folder) / name)

    return read
