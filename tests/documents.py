"""What the tests of the documents share: fenced blocks, tables, and what stands in backticks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = sorted([ROOT / "README.md", *(ROOT / "docs").rglob("*.md")])
CODE = re.compile(r"(?<!`)`([^`\n]+)`(?!`)")


class Block(NamedTuple):
    """A fenced block: its language, its text, and the line it begins on."""

    language: str
    text: str
    line: int


def blocks(path: Path) -> Iterator[Block]:
    language, start, said = "", 0, list[str]()
    for number, line in enumerate(path.read_text("utf-8").split("\n"), 1):
        if line.startswith("```") and not start:
            language, start, said = line[3:].strip(), number, []
        elif line.startswith("```"):
            yield Block(language, "\n".join(said) + "\n", start)
            start = 0
        elif start:
            said.append(line)


def rows(path: Path, heading: str) -> list[list[str]]:
    """The cells of the tables under a heading, without their heads."""
    section = re.search(rf"^#+ {re.escape(heading)}\n(.*?)(?=^#|\Z)", path.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    assert section is not None, f"no heading {heading!r} in {path.name}"
    found = []
    for table in re.findall(r"(?:^\|.*\n)+", section[1], re.MULTILINE):
        for line in table.splitlines()[2:]:
            found.append([cell.strip() for cell in line.strip("|").split("|")])
    return found


def codes(text: str) -> list[str]:
    return CODE.findall(text)
