"""How editions differ, in sentences: every number in them is in the tables, and every number of the tables in them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar

import pytest

from ampleroom.editions import NEWEST_COMPARED, OFFERED, READINGS, CodeBook, blocks
from ampleroom.editions.tables import Table
from ampleroom.explain.by_edition import COMPARED, periods, provisional_note, runs_of, span
from ampleroom.explain.rule_page import own_tables
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.page import Sentence, sentences

T = TypeVar("T", bound=Record)
WORDS: dict[str, int | Decimal] = {
    "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "once": 1, "twice": 2, "quarter": Decimal("0.25"), "half": Decimal("0.5"),
}  # fmt: skip
NUMBERS = re.compile(
    rf"(?<![a-z0-9/.-])\d+-\d+/\d+|(?<![a-z0-9/.-])\d+/\d+|(?<![a-z0-9/.-])\d+(?:\.\d+)?|\b(?:{'|'.join(WORDS)})\b"
)
BESIDE_THE_TABLES = {
    "box-fill-low-voltage": {Decimal(CodeBook(2023).block("box_fill.conductors")["looped"])},
    "box-fill-conductors": {Decimal(CodeBook(2023).block("reminders.pull_box")["from_size"])},
    "box-fill-devices": {
        Decimal(30),  # amperes from which a receptacle may come for two gangs: job/lines, not a number of the code
    },
    "panel-spaces": {Decimal(2)},  # two poles, two circuits
    "panel-legs": {Decimal(2), Decimal(3)},  # poles, and the spaces of a row
    "box-room-standard": {
        *map(Decimal, (4, 34)),  # the outside of a box of 4 x 4 x 2-1/8 in., and what it measures
    },
}
"""Numbers in what a rule says that are in none of its tables."""
NOT_TOLD = {
    ("required-circuits", "panels.garage", "amperes"): "before 2017 a garage has no circuit of its own",
    ("old-circuit", "by_place.extension", "feet"): "in 2008 there is no sentence on extensions",
    ("box-fill-grounds", "box_fill.grounds", "extra"): "where one allowance covers all there is no further ground",
    ("box-room-barriers", "box_room.barrier", "metal"): "before 2017 nothing is taken off",
    ("box-room-barriers", "box_room.barrier", "nonmetallic"): "before 2017 nothing is taken off",
    ("box-room-clamp-assembly", "box_fill.clamps", "together"): "the page of clamps tells it",
    ("box-room-standard", "box_room.marked", "unmarked_part"): "the page of rings and covers tells it",
    ("box-room-marked", "box_room.marked", "unmarked_part"): "the page of rings and covers tells it",
}
"""Numbers that a sentence may leave out in some edition, and why."""
ROOM_FOR = {"cite", "confidence", "source", "from", "unit", "keys", "printed_sizes", "cm3", "rows", "usual_era"}
LABELS = {"source", "cite", "confidence", "from", "cm3", "mm", "id", "printed"}
"""Keys of a table whose digits are no numbers of a rule: sections, sources, years."""
TOLD = {name: sentences(rule) for name, rule in RULES.items()}
ALL_SENTENCES = [(rule, sentence) for rule, told in TOLD.items() for sentence in told]


class Altered(CodeBook):
    """A code book with one table changed."""

    def __init__(self, year: int, table: str, changes: dict[str, Any]) -> None:
        super().__init__(year)
        self.table, self.changes = table, changes

    def block(self, name: str) -> dict[str, Any]:
        found = super().block(name)
        return {**found, **self.changes} if name == self.table else found

    def __getitem__(self, table: Table[T]) -> T:
        return table.read(self.block(table.name))


def numbers_in(text: str) -> set[Decimal]:
    """Every number in a sentence, in digits or in words; a length such as ``2-1/16`` as one."""
    return {value_of(word) for word in NUMBERS.findall(text.lower().replace("class 2", ""))}


def value_of(word: str) -> Decimal:
    if word in WORDS:
        return Decimal(WORDS[word])
    whole, _, part = word.rpartition("-")
    top, _, bottom = part.partition("/")
    if bottom == "0":
        return -Decimal(top)  # a size such as 1/0
    return Decimal(whole or 0) + (Decimal(top) / Decimal(bottom) if bottom else Decimal(top))


def values_in(value: Any) -> Iterator[Decimal]:
    """Every number in a table, however deep."""
    if isinstance(value, dict):
        for key, one in value.items():
            if key not in LABELS:
                yield from values_in(key)
                yield from values_in(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from values_in(one)
    elif isinstance(value, bool) or value is None:
        return
    elif isinstance(value, int | Decimal):
        yield Decimal(value)
    elif isinstance(value, str):
        yield from numbers_in(value)


@cache
def numbers_of(tables: tuple[str, ...], year: int) -> set[Decimal]:
    book = CodeBook(year)
    return {number for table in tables for number in values_in(book.block(table))}


def named(value: Any) -> str:
    return value if isinstance(value, str) else value.tell.__name__


@pytest.mark.parametrize("name", RULES)
def test_every_table_of_a_rule_is_told_of(name: str):
    told = {table for sentence in TOLD[name] for table in sentence.tables}
    assert told == set(own_tables(RULES[name]))


@pytest.mark.parametrize(("rule", "sentence"), ALL_SENTENCES, ids=named)
def test_every_number_in_a_sentence_is_in_its_table(rule: str, sentence: Sentence):
    read = tuple(table.name for table in sentence.tables)
    read += ("box_depth.by_conductor",) if "box_depth.rear_entry" in read else ()
    rows = {Decimal(len(CodeBook(2023).block("box_room.standard")["rows"]))} if rule == "box-room-standard" else set()
    for year in OFFERED:
        text = sentence.tell(CodeBook(year))
        text = text.partition("From memory:")[0]
        assert numbers_in(text) - rows <= numbers_of(read, year), f"{year}: {text}"


def other(value: Any) -> Any:
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, str):
        return "8" if value.isdigit() else None
    return value + 1 if isinstance(value, int) else value + Decimal("0.0625")


@pytest.mark.parametrize("rule", RULES)
def test_the_sentences_of_a_rule_follow_every_number_of_its_tables(rule: str):
    for year in OFFERED:
        plain = [sentence.tell(CodeBook(year)) for sentence in TOLD[rule]]
        for table in dict.fromkeys(table.name for sentence in TOLD[rule] for table in sentence.tables):
            for key, value in CodeBook(year).block(table).items():
                if key in ROOM_FOR or isinstance(value, dict | list) or other(value) is None:
                    continue
                if [sentence.tell(Altered(year, table, {key: other(value)})) for sentence in TOLD[rule]] == plain:
                    assert (rule, table, key) in NOT_TOLD, f"{rule} in {year} says nothing of {table} {key}"


def test_a_sentence_follows_every_row_of_the_depths():
    for year in OFFERED:
        for sentence in TOLD["depth-unknown"]:
            rows = CodeBook(year).block("box_depth.by_conductor")["rows"]
            plain = sentence.tell(CodeBook(year))
            for at, row in enumerate(rows):
                for key in row.keys() - {"cite", "sizes"}:
                    changed = [*rows[:at], {**row, key: other(row[key])}, *rows[at + 1 :]]
                    assert sentence.tell(Altered(year, "box_depth.by_conductor", {"rows": changed})) != plain


@pytest.mark.parametrize("name", RULES)
def test_every_number_a_rule_says_is_in_its_tables(name: str):
    """The words above the editions too; a year in them is one from which on a table of the rule differs."""
    rule = RULES[name]
    known = {
        number for year in OFFERED for number in numbers_of(tuple(table.name for table in own_tables(rule)), year)
    } | BESIDE_THE_TABLES.get(name, set())
    known |= {Decimal(block["from"]) for table in rule.tables for block in blocks(table)[1:]}
    whole = " ".join([*rule.says, rule.why])
    assert numbers_in(whole) - {Decimal(1)} <= known, whole


def test_grounds_are_told_as_an_electrician_would():
    before, after = periods("box-fill-grounds")
    assert (before.label, before.text) == (
        "2008-2017",
        "One allowance covers all equipment grounds, however many there are. "
        "An isolated-ground set takes one more of its own.",
    )
    assert (after.label, after.text) == (
        "From 2020",
        "One allowance covers the first four equipment grounds, and each one after that adds "
        "a quarter of an allowance. Isolated grounds count with the rest.",
    )
    assert (before.from_memory, before.mark, after.mark) == ((2017,), " (2017 from memory)", "")


@pytest.mark.parametrize("name", RULES)
def test_the_periods_of_a_sentence_cover_every_edition_once(name: str):
    for sentence in TOLD[name]:
        assert [year for _, years in runs_of(sentence.tell) for year in years] == list(OFFERED)
    text = " ".join(period.text for period in periods(name))
    assert ".." not in text
    assert all(period.text.endswith((".", "in.")) for period in periods(name))


@pytest.mark.parametrize("name", RULES)
def test_what_rests_on_memory_is_marked_in_its_sentence(name: str):
    for sentence in TOLD[name]:
        remembered = {
            year for year in COMPARED if any(CodeBook(year)[t].confidence == "from memory" for t in sentence.tables)
        }
        texts = {sentence.tell(CodeBook(year)) for year in OFFERED}
        told = [period for period in periods(name) if period.text in texts]
        assert {year for period in told for year in period.from_memory} >= remembered
        assert all(period.mark for period in told if period.from_memory)


@pytest.mark.parametrize(
    ("first", "last", "label"),
    [
        (2008, max(OFFERED), "All editions"),
        (2020, max(OFFERED), "From 2020"),
        (2008, 2008, "2008"),
        (2026, 2026, "2026"),
        (2008, 2017, "2008-2017"),
    ],
)
def test_a_run_of_editions_is_named_as_one_says_it(first: int, last: int, label: str):
    assert span(first, last) == label


def test_an_edition_nobody_compared_is_said_to_be():
    assert (
        provisional_note()
        == f"2026 is provisional and runs on the {NEWEST_COMPARED} rules. The two have not been compared."
    )


YEARS = {Decimal(block["from"]) for rule in RULES.values() for table in rule.tables for block in blocks(table)[1:]}
"""The editions from which on some table differs."""


@pytest.mark.parametrize("name", READINGS)
def test_every_number_in_a_disputed_point_is_in_some_table(name: str):
    tables = tuple(dict.fromkeys(table for rule in RULES.values() for table in rule.tables))
    known = {number for year in OFFERED for number in numbers_of(tables, year)} | YEARS
    reading = READINGS[name]
    text = " ".join([reading.asks, *reading.choices.values()])
    assert numbers_in(text) <= known, text
