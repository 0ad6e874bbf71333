"""What is wrong in a sheet, each with its place."""

from __future__ import annotations

from ampleroom.record import Record


class Fault(Record):
    """One thing that cannot be read. Lines and columns count from 1; ``end`` is the column after the last letter."""

    file: str
    line: int
    column: int
    end: int
    message: str
    hint: str = ""
    """What was expected, or the nearest known word."""
    source: str = ""
    """The line as written."""
    place: tuple[int, ...] = ()
    """In a workbook: its tab, row and column, counted from 0. Then ``file`` names the cell, and no line is said."""

    @property
    def first_line(self) -> str:
        """``studio.job:5:3: unknown word``: its place and what is wrong, in one line."""
        return (
            f"{self.file}: {self.message}" if self.place else f"{self.file}:{self.line}:{self.column}: {self.message}"
        )

    @property
    def text(self) -> str:
        """Three lines: the message, the line as written, and a caret under its words with what to do beside it."""
        shown, column, end = _window(self.source, self.column, self.end)
        lead = "      | " if self.place else f"{self.line:>5} | "
        out = [self.first_line]
        if shown:
            pad = "".join("\t" if letter == "\t" else " " for letter in shown[: column - 1])
            out += [lead + shown, " " * 5 + " | " + pad + "^" * max(1, end - column)]
        if self.hint and shown:
            out[-1] += f" {self.hint}"
        elif self.hint:
            out.append(f"      {self.hint}")
        return "\n".join(out)


def _window(source: str, column: int, end: int, wide: int = 160) -> tuple[str, int, int]:
    """A piece of a very long line around the fault; control characters shown as dots."""
    text = source.rstrip("\r\n")
    if len(text) <= wide:
        return _shown(text), column, min(end, len(text) + 2)
    start = max(0, column - 1 - wide // 4)
    piece = _shown(text[start : start + wide])
    lead = "… " if start else ""
    return (
        lead + piece + (" …" if start + wide < len(text) else ""),
        column - start + len(lead),
        min(end, start + wide + 1) - start + len(lead),
    )


def _shown(text: str) -> str:
    return "".join(letter if letter.isprintable() or letter == "\t" else "·" for letter in text)
