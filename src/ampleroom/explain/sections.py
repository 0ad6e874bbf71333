"""The sections of the code in the citations of the tables: which there are, and in which editions each is the one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from ampleroom.editions import OFFERED, CodeBook
from ampleroom.editions.tables import Table

SECTION = re.compile(r"(?:(Table|Chapter 9 Table|Chapter 9, note) )?(\d+(?:\.\d+)?)((?:\([A-Za-z0-9]+\))*)")
MORE = re.compile(r"^(?:, |-)(\([A-Za-z0-9]+\))")
ABSENT = re.compile(r"\bno(?:ne|thing)?\b")
"""A citation with one of these words says that the code has nothing there."""


def cites_of(table: Table[Any]) -> Iterator[str]:
    """Every citation of a table, of all editions, with those of its rows."""
    for block in table.blocks:
        if "cite" in block:
            yield block["cite"]
        if isinstance(block.get("rows"), list):
            yield from dict.fromkeys(row["cite"] for row in block["rows"] if "cite" in row)


def cites_in_force(table: Table[Any], book: CodeBook) -> list[str]:
    """Where a table stands in one edition: the citations of its rows where they have their own, else its own."""
    in_force = book[table]
    of_rows = [row.cite for row in in_force.rows if hasattr(row, "cite")] if table.row else []
    return list(dict.fromkeys(of_rows)) or [in_force.cite]


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


def sections(tables: Iterable[Table[Any]]) -> dict[str, list[int]]:
    """Where the code has what these tables say: each section with the editions that have it there, oldest first."""
    years_of: dict[str, set[int]] = {}
    for table in tables:
        for year in OFFERED:
            for cite in cites_in_force(table, CodeBook(year)):
                names = [cite] if "not confirmed" in cite else [] if ABSENT.search(cite) else sections_in(cite)
                for section in names:
                    years_of.setdefault(section, set()).add(year)
    return {section: sorted(years) for section, years in years_of.items()}
