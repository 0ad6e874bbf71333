"""The sections of the code in the citations of the tables: which there are, and in which editions each is the one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from ampleroom.editions import OFFERED, CodeBook, blocks

SECTION = re.compile(r"(?:(Table|Chapter 9 Table|Chapter 9, note) )?(\d+(?:\.\d+)?)((?:\([A-Za-z0-9]+\))*)")
MORE = re.compile(r"^(?:, |-)(\([A-Za-z0-9]+\))")
ABSENT = re.compile(r"\bno(?:ne|thing)?\b")
"""A citation with one of these words says that the code has nothing there."""


def cites_of(table: str) -> Iterator[str]:
    """Every citation of a table, of all editions, with those of its rows."""
    for block in blocks(table):
        if "cite" in block:
            yield block["cite"]
        yield from row_cites(block)


def row_cites(block: dict[str, object]) -> Iterator[str]:
    """The citations that rows of a table have of their own."""
    rows = block.get("rows", ())
    if isinstance(rows, list):
        yield from dict.fromkeys(row["cite"] for row in rows if "cite" in row)


def sections_in(cite: str) -> Iterator[str]:
    """The sections in a citation: ``314.17(B), (C)`` is two; of ``314.24(B)(3)-(5)`` the first and the last."""
    at = 0
    while match := SECTION.search(cite, at):
        kind, digits, letters = match.groups()
        at = match.end()
        if not kind and "." not in digits:
            continue  # a year, or a count
        lead = f"{kind} " if kind else ""
        yield f"{lead}{digits}{letters}"
        base = letters.rpartition("(")[0]
        while more := MORE.match(cite[at:]):
            yield f"{lead}{digits}{base}{more[1]}"
            at += more.end()


def sections(tables: Iterable[str]) -> dict[str, list[int]]:
    """Where the code has what these tables say: each section with the editions that have it there, oldest first."""
    years_of: dict[str, set[int]] = {}
    for table in tables:
        for year in OFFERED:
            block = CodeBook(year).block(table)
            for cite in [*row_cites(block)] or [block["cite"]]:
                names = [cite] if "not confirmed" in cite else [] if ABSENT.search(cite) else sections_in(cite)
                for section in names:
                    years_of.setdefault(section, set()).add(year)
    return {section: sorted(years) for section, years in years_of.items()}
