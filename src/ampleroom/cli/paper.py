"""The terminal as a sheet of paper: wrapped to its width, colored only where somebody looks at it."""

from __future__ import annotations

import os
import sys
from typing import TextIO

TIED = "\N{NO-BREAK SPACE}"
"""Between two words that stay on one line."""

STYLES = {"bold": "1", "dim": "2", "fails": "1;31", "check needed": "1;33", "advice": "1;36", "passes": "32"}


class Paper:
    """Writes lines to a stream; ``width`` in columns."""

    def __init__(self, out: TextIO | None = None, width: int | None = None, color: bool | None = None) -> None:
        self.out = out or sys.stdout
        self.is_terminal = bool(getattr(self.out, "isatty", lambda: False)())
        self.color = (
            self.is_terminal and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"
            if color is None
            else color
        )
        self.width = width or width_of_terminal()

    def line(self, text: str = "", style: str = "", indent: int = 0, hang: int | None = None) -> None:
        """One paragraph, wrapped; ``indent`` and ``hang`` are columns before the first and the following lines."""
        hang = indent if hang is None else hang
        text = printable(text)
        if not text:
            self.write("")
            return
        for each in wrapped(text, self.width, " " * indent, " " * hang):
            self.write(self.styled(each, style))

    def ends(self, left: str, right: str, indent: int = 0, style: str = "") -> None:
        """Two texts at the two edges, or under one another where they do not fit beside each other."""
        left, right = printable(left), printable(right)
        gap = self.width - indent - len(left) - len(right)
        if gap >= 2:
            self.write(self.styled(" " * indent + left + " " * gap + right, style))
        else:
            self.line(left, style, indent, indent + 2)
            self.line(right, style, indent + 2)

    def cut(self, text: str, indent: int = 0, style: str = "") -> None:
        """One line: what does not fit is left out, and three dots say so."""
        text, wide = printable(text), self.width - indent
        if len(text) > wide:
            text = text[: wide - 4].rsplit(" ", 1)[0].rstrip(",;:(") + " ..."
        self.write(self.styled(" " * indent + text, style))

    def raw(self, text: str) -> None:
        """A line that is not wrapped: a line of a sheet."""
        self.write("".join(letter if letter.isprintable() or letter == "\t" else "·" for letter in text))

    def styled(self, text: str, style: str) -> str:
        """The text in the colors of a style; unchanged where the terminal shows no color or the style has none."""
        code = STYLES.get(style)
        return f"\x1b[{code}m{text}\x1b[0m" if self.color and code else text

    def write(self, text: str) -> None:
        """Write one line as it is, its tied spaces as plain ones."""
        self.out.write(text.replace(TIED, " ") + "\n")


def width_of_terminal() -> int:
    """Columns to write in: those of the terminal, within what can be read."""
    width = os.environ.get("COLUMNS", "")
    try:
        terminal = sys.__stdout__
        if terminal is None:
            raise ValueError
        columns = int(width) if width.isdigit() else os.get_terminal_size(terminal.fileno()).columns
    except (OSError, ValueError, AttributeError):  # no terminal
        columns = 0
    return max(40, min(columns or 80, 100))


def wrapped(text: str, width: int, first: str, rest: str) -> list[str]:
    """A paragraph in lines of a width, broken at spaces; ``first`` and ``rest`` are put before the first and the other
    lines. What is wider than a line is broken where the line ends.

    The standard library's ``textwrap`` does the same. Loading it takes as long as to judge some boxes.
    """
    lines = []
    before = first
    while len(text) > (room := max(1, width - len(before))):
        end = text.rfind(" ", 0, room + 1)
        word, _, _ = text[end + 1 :].partition(" ")
        if len(word) > room:
            end = room
        lines.append(before + text[:end].rstrip(" "))
        text, before = text[end:].lstrip(" "), rest
    return [*lines, before + text.rstrip(" ")]


def printable(text: str) -> str:
    """Letters only: a name in a sheet must not be able to write to somebody's terminal."""
    if text.isprintable():
        return text
    return "".join(letter if letter.isprintable() or letter == TIED else "·" for letter in text)
