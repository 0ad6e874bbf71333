"""A person's own column names for ours, kept beside the workbook for the next time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from ampleroom.errors import AmpleroomError, FileTrouble, nearest
from ampleroom.job.beside import text_file
from ampleroom.sheets.tabs import TABS
from ampleroom.toml_text import read_toml

IGNORE = "ignore"
REMEMBERED = "ampleroom-columns.toml"

OwnNames = Mapping[str, str]
"""A person's own column names, in lower case, and ours (or ``ignore``)."""


def own_names(pairs: Iterable[str]) -> dict[str, str]:
    """``Box #=Box`` as a mapping."""
    columns = {}
    known = sorted({column.name for tab in TABS for column in tab.columns})
    for pair in pairs:
        own, sign, ours = pair.rpartition("=")
        if not sign or not own.strip():
            raise AmpleroomError(f"{pair!r} is not a pair of column names; write 'Box #=Box', or 'Breaker=ignore'")
        match = next((name for name in (*known, IGNORE) if name.casefold() == ours.strip().casefold()), None)
        if match is None:
            close = nearest(ours, known)
            raise AmpleroomError(
                f"there is no column {ours.strip()!r} here; "
                + (f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(known))
            )
        columns[own.strip().casefold()] = match
    return columns


def remembered(folder: Path) -> dict[str, str]:
    """The names kept beside the workbook, if there are any."""
    path = folder / REMEMBERED
    if not path.is_file():
        return {}
    try:
        data, faults = read_toml(text_file(path))
        if faults or data is None:
            raise FileTrouble(f"{path} cannot be read: line {faults[0].line}, {faults[0].message}")
        return own_names(f"{own}={ours}" for own, ours in data.get("columns", {}).items())
    except AttributeError:
        raise FileTrouble(
            f"{path} cannot be read: 'columns' is not a section; write [columns] on a line of its own"
        ) from None


def remembered_text(names: OwnNames) -> bytes:
    """The file that keeps the names beside the workbook, for the next time."""
    quoted = [f"{quoted_text(own)} = {quoted_text(ours)}" for own, ours in sorted(names.items())]
    first = "# Column names of your own, and ours. Made by 'convert --column'.\n[columns]\n"
    return (first + "\n".join(quoted) + "\n").encode()


def quoted_text(text: str) -> str:
    """A text as TOML writes it, in quotes."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(letter if letter.isprintable() else f"\\u{ord(letter):04x}" for letter in escaped) + '"'
