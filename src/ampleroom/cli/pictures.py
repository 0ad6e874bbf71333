"""Writing pictures to files, as SVG or DXF by the file's ending."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.cli.saving import save
from ampleroom.errors import AmpleroomError
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.svg import svg

THEMES = ("light", "dark", "print", "auto")


def add_theme(parser: argparse.ArgumentParser) -> None:
    """The option of the picture's colors."""
    parser.add_argument(
        "--theme",
        choices=THEMES,
        default="light",
        help="light, dark, print, or auto to follow the screen it is seen on (light)",
    )


def save_picture(drawing: Drawing, name: str, theme: str, force: bool = False) -> Path:
    """Write a drawing as .svg or .dxf, by the ending of ``name``; the file. AmpleroomError for another ending."""
    path = Path(name)
    match path.suffix.lower():
        case ".svg":
            save(path, svg(drawing, theme).encode("utf-8"), force=force)
        case ".dxf":
            from ampleroom.sheets.dxf import dxf_bytes

            save(path, dxf_bytes(drawing), force=force)
        case other:
            raise AmpleroomError(f"a picture is written as .svg or .dxf, not {other or 'without an ending'!r}")
    return path
