"""Box fill weighed: a box or a side of its barrier as it is settled, and the worksheet of its volume and its fill."""

from __future__ import annotations

from decimal import Decimal
from functools import partial
from typing import Any

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.facts import Assumption, Bounds, Ends, bounds
from ampleroom.record import TupleRecord
from ampleroom.rules import reminders
from ampleroom.rules.box import fill, volume
from ampleroom.rules.box.fill.ends import ENDS, fill_ends
from ampleroom.rules.box.volume.barriers import shared_out
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.cases import Cases
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.rules.space import Space
from ampleroom.worksheet import Worksheet

FILL_RULES = tuple(map(rule_in, fill.IN_ORDER))
ROOM_RULES = tuple(map(rule_in, volume.IN_ORDER))
REMINDER_RULES = tuple(map(rule_in, reminders.IN_ORDER))


class Side:
    """A box or one side of it: with nothing unknown it is put together once, else anew for each case."""

    __slots__ = ("alike", "book", "cases", "ends", "fill", "items", "needed", "sheets", "space")

    def __init__(self, builder: SpaceBuilder, index: int) -> None:
        assumption = Assumption(ENDS)
        self.book = builder.book
        self.space = builder.space(index, assumption)
        """As it is at its worst for box fill."""
        self.needed = assumption.needed
        self.alike: int | None = None
        """The number it shares with all sides of the same contents; None where facts are unknown."""
        if not self.needed:
            self.alike = builder.alike(index)
        self.ends: Ends = ENDS
        self.fill: Bounds[Weighed] | None = None
        """Its box fill at the worst and at the best, where facts are unknown."""
        if self.needed:
            self.items = builder.sides[index][1]
            """The lines written of it."""
            self.cases = Cases(partial(builder.space, index))
            self.cases.keep(self.space, assumption)
            self.sheets: dict[int, Worksheet] = {}
            self.ends = fill_ends(self.items, self.book)
            self.fill = bounds(self.weigh, self.ends, margin_first)
            self.space = self.fill.worst.space

    @property
    def case(self) -> Bounds[Weighed]:
        """Its box fill at the worst and at the best, which are the same where nothing is unknown."""
        if self.fill is not None:
            return self.fill
        only = Weighed(self.space, worksheet(self.space, self.book, self.alike))
        return Bounds(only, only, self.needed)

    def weigh(self, assumption: Assumption) -> Weighed:
        """Its box fill under an assumption; of equal spaces once."""
        space = self.cases.under(assumption)
        sheet = self.sheets.get(id(space))
        if sheet is None:
            sheet = self.sheets[id(space)] = worksheet(space, self.book)
        return Weighed(space, sheet)


class Weighed(TupleRecord):
    """A space as settled, and its box fill."""

    space: Space
    sheet: Worksheet


def margin_first(weighed: Weighed) -> tuple[Decimal, Decimal]:
    """Orders what was weighed from worse to better."""
    return weighed.sheet.margin, -weighed.sheet.needed


def asked(rules: tuple[Rule, ...], space: Space, book: CodeBook, alike: int | None) -> list[Any]:
    """What some rules say of a space: lines or reminders, in the order of the rules.

    ``alike``: the number that sides of equal contents have in common. What follows from the contents alone is asked of
    the first of them. None: all is asked of this one.
    """
    if alike is None:
        return [answer for rule in rules for answer in rule.function(space, book)]
    kept = book.shared.get((alike, rules[0].topic))
    if kept is None:
        kept = book.shared[alike, rules[0].topic] = [
            list(rule.function(space, book)) if rule.of_contents else rule for rule in rules
        ]
    answers: list[Any] = []
    for part in kept:
        answers += part if type(part) is list else part.function(space, book)
    return answers


def worksheet(space: Space, book: CodeBook, alike: int | None = None) -> Worksheet:
    """The room there is and the fill that is needed, line by line."""
    room: list[Line] = asked(ROOM_RULES, space, book, alike)
    fill: list[Line] = asked(FILL_RULES, space, book, alike)
    if book.is_amended(CONDUCTOR_ROOM.name):
        fill = by_amended_allowances(fill, book)
    return Worksheet(shared_out(tuple(room), space, book) if space.share else tuple(room), tuple(fill))


def by_amended_allowances(fill: list[Line], book: CodeBook) -> list[Line]:
    """Every line that multiplies an allowance the place has changed says so."""
    source = f", with allowances by {book[CONDUCTOR_ROOM].cite}"
    amended = book.once(amended_allowances)
    return [
        line._replace(cite=line.cite + source) if isinstance(line, Counted) and id(line.each) in amended else line
        for line in fill
    ]


def amended_allowances(book: CodeBook) -> dict[int, Decimal]:
    """The allowances a place has written, each by its identity: two sizes may be given the same number, and a line
    takes its own from the table as it is. Where the place wrote no rows, what it amended holds for all.
    """
    rows = book[CONDUCTOR_ROOM].rows
    blocks = book.amendments.blocks(CONDUCTOR_ROOM.name, book.year)
    written = {size for block in blocks for size in (block.get("rows") or rows)}
    return {id(room): room for size, room in rows.items() if size in written}
