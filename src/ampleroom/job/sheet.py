"""The sheet as written: lines, words, columns. Nothing is lost, so an edit touches only its own line."""

from __future__ import annotations

import os
import re
from functools import lru_cache
from typing import TYPE_CHECKING

from ampleroom.errors import FileTrouble
from ampleroom.record import Record, once
from ampleroom.where import Where

if TYPE_CHECKING:
    from pathlib import Path

TOKEN = re.compile(r"[>,]|[^\s>,]+")
REMARK = re.compile(r"(?:^|(?<=\s))#(?![\d?])")
"""A remark starts with a # that stands alone or before a letter: ``#12`` is a wire size, ``# 12 wires`` a remark."""

LARGEST = 24_000_000
"""The most bytes a sheet may have: some 60,000 boxes."""


def starter_sheet() -> str:
    """A small job with a remark on every line, to begin from."""
    from pathlib import Path

    return Path(__file__).with_name("starter.job").read_text("utf-8")


class Sheet(Record):
    """A job sheet's text under a file name, and its lines with their ends kept."""

    text: str
    file: str = "sheet"
    folder: Path | str | None = None

    @once
    def lines(self) -> list[str]:
        """Every line without its end; ``"\\n".join(lines)`` is the text again."""
        return self.text.split("\n")

    def columns(self, where: Where) -> tuple[int, int]:
        """The first column of a stretch of words and the column after it, from 1."""
        lines = self.lines
        raw = lines[where.line - 1] if 0 < where.line <= len(lines) else ""
        return columns(raw, where.first, where.last)


def columns(raw: str, first: int, last: int) -> tuple[int, int]:
    """The columns that words ``first`` to ``last`` of a line take up; past the last word, the place after it."""
    spans = _spans(raw)
    if not spans:
        return 1, 2
    if first >= len(spans):
        return spans[-1][1] + 1, spans[-1][1] + 2
    return spans[first][0] + 1, spans[min(last, len(spans) - 1)][1] + 1


@lru_cache(maxsize=8)
def _spans(raw: str) -> tuple[tuple[int, int], ...]:
    """Where the words of a line stand; kept, as one very long line may have a thousand faults."""
    return tuple(match.span() for match in TOKEN.finditer(without_remark(raw)))


def without_remark(raw: str) -> str:
    """A line up to its remark."""
    if "#" in raw:
        remark = REMARK.search(raw)
        if remark:
            return raw[: remark.start()]
    return raw


def words_of(raw: str) -> list[str]:
    """The words of a line; ``>`` and ``,`` are words of their own."""
    if "#" in raw:
        raw = without_remark(raw)
    if ">" in raw:
        raw = raw.replace(">", " > ")
    if "," in raw:
        raw = raw.replace(",", " , ")
    return raw.split()


def sheet_from_bytes(data: bytes, file: str, folder: Path | str | None = None) -> Sheet:
    """A sheet from a file's bytes, or a clear word on why it is none."""
    if len(data) > LARGEST:
        raise too_large(file, len(data))
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise FileTrouble(f"{file} is saved as UTF-16; save it as UTF-8 (plain text) and try again")
    if data.startswith(b"PK\x03\x04"):
        raise FileTrouble(
            f"{file} is a workbook or a zip file, not a sheet of text; bring a workbook in with 'convert'"
        )
    if data.startswith(b"%PDF"):
        raise FileTrouble(f"{file} is a PDF, not a job sheet")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise FileTrouble(
            f"{file} is not plain text: byte {error.start + 1} (line {line}) is not UTF-8. If it is a job "
            "sheet, save it as UTF-8 and try again"
        ) from None
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise FileTrouble(f"{file} is not plain text: line {line} holds a zero byte. Is it the right file?")
    if data.startswith(b"\xef\xbb\xbf"):
        text = "\ufeff" + text
    return Sheet(text, file, folder)


def too_large(file: str, size: int) -> FileTrouble:
    """What to say of a file of so many bytes, more than a sheet may have."""
    most = f"{LARGEST / 1e6:.0f} MB"
    shown = f"{size / 1e6:.0f} MB" if size > LARGEST + 1 else f"over {most}"
    return FileTrouble(
        f"{file} is {shown}; a sheet of 60,000 boxes is about {most}. "
        "Is it the right file? A larger job is kept in several sheets, one a floor or a building"
    )


def sheet_from_file(path: Path | str) -> Sheet:
    """The sheet in a file, or ``FileTrouble``. ``pathlib`` is not loaded for it: a cold check would feel that."""
    folder, name = os.path.split(path)
    try:
        if os.path.isdir(path):
            raise FileTrouble(f"{path} is a folder; name the job sheet in it")
        size = os.stat(path).st_size
        if size > LARGEST:
            raise too_large(name, size)
        with open(path, "rb") as file:
            return sheet_from_bytes(file.read(LARGEST + 1), name, folder)
    except FileNotFoundError:
        raise FileTrouble(_not_there(path)) from None
    except OSError as error:
        raise FileTrouble(f"{path} cannot be opened: {error.strerror or error}") from None


def _not_there(path: Path | str) -> str:
    from pathlib import Path

    from ampleroom.errors import nearest

    path = Path(path)
    folder = path.parent if path.parent.is_dir() else None
    if folder is None:
        return f"there is no folder {path.parent}"
    sheets = sorted(path_found.name for path_found in folder.glob("*.job"))
    close = nearest(path.name, sheets) or sheets[:5]
    message = f"there is no file {path}"
    if close:
        return message + "; there is " + ", ".join(close)
    return message + "; 'new' writes a starter sheet"
