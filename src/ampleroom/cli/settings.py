"""``settings``: what is set once for every question: the edition of the code you usually work by."""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import tomllib
from pathlib import Path

from ampleroom.cli.common import add_json, command_parser, print_json
from ampleroom.cli.paper import Paper
from ampleroom.editions import NEWEST_COMPARED, OFFERED, edition
from ampleroom.errors import AmpleroomError, FileTrouble, nearest
from ampleroom.record import Record

LARGEST = 20_000
"""The most bytes of a settings file; ours has some fifty."""
KEYS = ("edition",)


class Settings(Record):
    """The user's own settings. ``edition`` None: not set."""

    edition: int | None = None


def settings_file() -> Path:
    """Where they are kept: in the user's own configuration folder."""
    chosen = os.environ.get("XDG_CONFIG_HOME", "")
    if chosen and Path(chosen).is_absolute():
        return Path(chosen) / "ampleroom" / "settings.toml"
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", Path.home())) / "Ampleroom" / "settings.toml"
    return Path.home() / ".config" / "ampleroom" / "settings.toml"


def read_settings() -> Settings:
    """The settings as kept; nothing set where there is no file. ``FileTrouble`` with a remedy where the file is
    damaged.
    """
    path = settings_file()
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (FileNotFoundError, NotADirectoryError):
        return Settings()
    except OSError as error:
        raise FileTrouble(f"your settings in {path} cannot be opened: {error.strerror or error}") from None
    try:
        if len(data) > LARGEST:
            raise ValueError("it is far too large")
        settings = tomllib.loads(data.decode("utf-8"))
        for key in settings:
            if key not in KEYS:
                close = nearest(key, KEYS)
                raise ValueError(f"unknown setting {key!r}" + (f", did you mean {close[0]!r}?" if close else ""))
        year = settings.get("edition")
        if year is not None and (type(year) is not int or year not in OFFERED):
            raise ValueError(f"edition is {year!r}, not one of {', '.join(map(str, OFFERED))}")
    except (ValueError, RecursionError) as error:  # no TOML, no UTF-8: both are value errors
        reason = "it is not plain text" if isinstance(error, UnicodeDecodeError) else str(error) or "it is damaged"
        raise FileTrouble(
            f"your settings in {path} cannot be used: {reason}. Set it again: ampleroom settings edition YEAR; "
            "the damaged file is kept beside it"
        ) from None
    return Settings(year)


def write_settings(settings: Settings) -> Path | None:
    """Keep the settings: whole or not at all, readable by the user alone. A damaged file is moved aside: its new
    path.
    """
    path = settings_file()
    damaged = None
    text = f"edition = {settings.edition}\n" if settings.edition is not None else ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        try:
            read_settings()
        except FileTrouble:
            damaged = path.with_name("settings-damaged.toml")
            path.replace(damaged)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix="settings-", suffix=".new")  # for the user alone
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise FileTrouble(f"{path} cannot be written: {error.strerror or error}") from None
    return damaged


def usual_edition() -> int | None:
    """The edition set once; None where none is."""
    return read_settings().edition


# ---- the command ---------------------------------------------------------------------------------------------------


def parser() -> argparse.ArgumentParser:
    """The options of ``settings``."""
    command = command_parser(
        "settings",
        "Your own settings. There is one: the edition of the code you usually work by. Commands ask and new use it. "
        "A sheet names its own edition, so check never uses this one.",
        "  ampleroom settings\n  ampleroom settings edition 2020\n  ampleroom settings edition none",
    )
    command.add_argument("name", nargs="?", metavar="NAME", help="the setting: edition")
    years = ", ".join(map(str, OFFERED))
    command.add_argument("value", nargs="?", metavar="VALUE", help=f"one of {years}; or none")
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print the settings, after changing one if told to; AmpleroomError for a bad name or value. The exit status, 0."""
    damaged = None
    if options.name is None:
        settings = read_settings()
    else:
        if options.name not in KEYS:
            raise AmpleroomError(f"there is no setting {options.name!r}; write edition")
        if options.value is None:
            raise AmpleroomError(f"which edition? Write: ampleroom settings edition {NEWEST_COMPARED}, or none")
        if options.value == "none":
            settings = Settings()
        elif options.value.isascii() and options.value.isdigit():
            settings = Settings(edition(int(options.value[:9])).year)
        else:
            raise AmpleroomError(f"{options.value!r} is not an edition; write one of: {', '.join(map(str, OFFERED))}")
        damaged = write_settings(settings)
    if options.json:
        print_json({"schema": "ampleroom-settings/1", "file": str(settings_file()), "edition": settings.edition})
        return 0
    paper = Paper()
    if damaged is not None:
        paper.line(f"The damaged file is kept as {damaged}.")
    paper.line(f"edition {settings.edition if settings.edition is not None else 'not set'}   (in {settings_file()})")
    return 0
