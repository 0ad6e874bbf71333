"""How each rule differs from edition to edition, in sentences made from the tables.

Each sentence of a rule (``page.py`` in its folder) is asked for every edition on offer, and editions that say the same
are told together: ``2008-2017: ...``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import groupby
from typing import Any

from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.editions.tables import Table
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.page import FROM_MEMORY, Sentence, sentences


class Period(Record):
    """A run of editions in which a rule says the same."""

    first: int
    last: int
    """The years of the first and the last edition that say it."""
    text: str
    """What they say, in sentences."""
    cites: tuple[str, ...]
    """Where they say it; several where the section was renumbered on the way."""
    from_memory: tuple[int, ...]
    """The editions for which that rests on memory."""

    @property
    def label(self) -> str:
        """``2008-2017``, ``From 2020``, ``All editions``."""
        return span(self.first, self.last)

    @property
    def mark(self) -> str:
        """What to print behind the text where it rests on memory: `` (2017 from memory)``."""
        compared = {year for year in COMPARED if self.first <= year <= self.last}
        if not self.from_memory:
            return ""
        if compared <= set(self.from_memory):
            return f" ({FROM_MEMORY})"
        return f" ({', '.join(map(str, self.from_memory))} {FROM_MEMORY})"


class Sure(Record):
    """How sure a section's numbers are in a run of editions."""

    table: str
    cite: str
    first: int
    last: int
    confidence: str

    @property
    def label(self) -> str:
        """``2008-2017``, ``From 2020``, ``All editions``."""
        return span(self.first, self.last)


COMPARED = tuple(year for year, offered in OFFERED.items() if not offered.provisional)
"""The editions that were compared, oldest first."""


def span(first: int, last: int) -> str:
    """A run of editions as one says it: ``All editions``, ``From 2020``, ``2008``, ``2008-2017``."""
    if first == last:
        return str(first)
    if last == max(OFFERED):
        return "All editions" if first == min(OFFERED) else f"From {first}"
    return f"{first}-{last}"


def periods(rule: str) -> list[Period]:
    """What a rule says from edition to edition, by its name: what never changed first, the rest oldest edition
    first.
    """
    runs = [run for sentence in sentences(RULES[rule]) for run in sentence_periods(sentence)]
    return [run for run in runs if is_whole(run)] + [run for run in runs if not is_whole(run)]


def is_whole(run: Period) -> bool:
    """Whether a period covers every edition on offer."""
    return (run.first, run.last) == (min(OFFERED), max(OFFERED))


def sentence_periods(sentence: Sentence) -> list[Period]:
    """The periods in which one sentence of a rule is the same."""
    spans = []
    for text, years in runs_of(sentence.tell):
        in_force = {year: [CodeBook(year)[table] for table in sentence.tables] for year in years}
        cites = dict.fromkeys(terms.cite for tables in in_force.values() for terms in tables)
        memory = [year for year, tables in in_force.items() if any(terms.confidence == FROM_MEMORY for terms in tables)]
        spans.append(Period(years[0], years[-1], text, tuple(cites), tuple(memory)))
    return spans


def runs_of(value: Callable[[CodeBook], str]) -> list[tuple[str, list[int]]]:
    """What a function gives for each edition, equal neighbors together."""
    by_year = [(value(CodeBook(year)), year) for year in OFFERED]
    return [(text, [year for _, year in group]) for text, group in groupby(by_year, key=lambda pair: pair[0])]


def how_sure(tables: Iterable[Table[Any]]) -> list[Sure]:
    """How sure the numbers of tables are, by section and edition."""
    spans = []
    for table in tables:

        def cite_and_confidence(book: CodeBook, table: Table[Any] = table) -> str:
            return f"{book[table].cite}\t{book[table].confidence}"

        for cite_and_trust, years in runs_of(cite_and_confidence):
            cite, _, confidence = cite_and_trust.partition("\t")
            spans.append(Sure(table.name, cite, years[0], years[-1], confidence))
    return spans


def provisional_note() -> str:
    """What the editions that were not compared run on; empty where all were."""
    years = [str(year) for year, offered in OFFERED.items() if offered.provisional]
    if not years:
        return ""
    be, run = ("is", "runs") if len(years) == 1 else ("are", "run")
    return (
        f"{' and '.join(years)} {be} provisional and {run} on the {NEWEST_COMPARED} rules. The two have not been "
        "compared."
    )
