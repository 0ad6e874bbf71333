"""What a remedy is: a change, what it buys, how long it takes, how much it disturbs, and the room it leaves."""

from __future__ import annotations

from decimal import Decimal
from enum import IntEnum

from ampleroom.arithmetic import Unit
from ampleroom.job.edit import Change
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record, TupleRecord
from ampleroom.remedy.stock import Money, Stock, StockBox, cents

RANKED_FEET = Decimal(10)
"""Where a length is not known, fixes are put in order as if it were so many feet: one stick of raceway. It stands in no
price."""


MEASURED_BY_AREA = ("raceway", "wireway", "gutter")
"""The kinds of subject that are filled by area. Nothing is offered for them while they may pass as they are."""

CIRCUIT = "circuit"
"""The kind of subject of whose fixes each is shown: a smaller breaker makes up for no thicker wire. Nothing is offered
for it while it may pass as it is."""


class Disturbance(IntEnum):
    """How much a remedy disturbs what is there; the larger, the worse."""

    NOTHING = 0
    COVER_OFF = 1
    PLASTER = 2

    @property
    def word(self) -> str:
        """As JSON has it."""
        return ("nothing", "cover off", "plaster")[self]

    @property
    def text(self) -> str:
        """As one says it."""
        return ("no wall damage", "cover off", "opens the wall")[self]


class Buy(TupleRecord):
    """So many of something bought, at a price each."""

    item: str
    quantity: Decimal
    each: Money

    @property
    def price(self) -> Money:
        """What all of it costs."""
        return self.quantity * self.each


class Rate(TupleRecord):
    """What a foot costs of something whose length nobody wrote: it is on top of the price, and in no total."""

    item: str
    each: Money
    minutes: Decimal
    length_of: str
    """``R1``: what has to be measured."""

    def cost(self, stock: Stock) -> Money:
        """One foot of it, parts and labor."""
        return cents(self.each + stock.per_hour * self.minutes / 60)


class Move(Record):
    """A remedy nobody has checked yet."""

    box: str
    """The name of what it fixes."""
    action: str
    change: Change
    buys: tuple[Buy, ...]
    minutes: Decimal
    disturbance: Disturbance
    kinds: tuple[StockBox, ...] = ()
    """Boxes it puts in; the van carries each kind at a charge."""
    notes: tuple[str, ...] = ()
    """What it takes for granted."""
    alike: str = ""
    """Moves of which this says the same leave the boxes that are there the same, and differ in a new one only; or they
    are one and the same change, as for each circuit of a bundle."""
    family: str = ""
    """Moves of which this says the same put a box in the place of another and differ in its room only; so does what is
    left."""
    room: Decimal = Decimal(0)
    """What that box holds, in3."""
    rates: tuple[Rate, ...] = ()
    details: tuple[str, ...] = ()
    """How it is done, where that takes more than ``action``: a sentence each."""
    becomes: str = ""
    """What its subject is called afterwards, where that changes: a raceway without a line is called by its size."""
    leaves: str = ""
    """What to say in place of the room left, where room is not what was short."""
    unpriced: bool = False
    """Whether the stock file has no price for what it is made of: its cost is no cost to compare by."""

    @property
    def fixed_name(self) -> str:
        """The name of what it fixes, as it is afterwards."""
        return self.becomes or self.box

    def cost(self, stock: Stock) -> Money:
        """Parts and labor, as of the remedy it may become."""
        return cost_of(self.buys, self.minutes, stock)


class Remedy(Record):
    """A move, or two together, that was checked: with it the box passes, and no other box is worse than it was."""

    box: str
    action: str
    change: Change
    buys: tuple[Buy, ...]
    minutes: Decimal
    disturbance: Disturbance
    margin: Decimal
    """Room left in the box, in3."""
    touches: frozenset[str]
    """Every box whose contents or room it changes."""
    kinds: tuple[StockBox, ...] = ()
    notes: tuple[str, ...] = ()
    rates: tuple[Rate, ...] = ()
    details: tuple[str, ...] = ()
    becomes: str = ""
    unit: Unit = Unit.IN3
    """Of the margin."""
    kind: str = "box"
    """The kind of what it fixes, as in ``SubjectReport.kind``."""
    leaves: str = ""
    """What to say in place of the room left, where room is not what was short."""
    also_fixes: frozenset[str] = frozenset()
    """What else failed and passes with it."""
    unpriced: bool = False
    """Whether the stock file has no price for what it is made of: it comes after all that have one."""

    @property
    def fixed_name(self) -> str:
        """The name of what it fixes, as it is afterwards."""
        return self.becomes or self.box

    @property
    def room_text(self) -> str:
        """``2.50 in3 spare``; ``passes`` where room is not what is weighed."""
        if self.leaves or not self.margin.is_finite():
            return self.leaves or "passes"
        return "exactly full" if self.margin == 0 else f"{self.unit.amount(self.margin)} spare"

    def ranked_cost(self, stock: Stock) -> Money:
        """What it is compared by: its cost, and where a length is not known so much as ``RANKED_FEET`` of it take."""
        return self.cost(stock) + RANKED_FEET * sum((rate.cost(stock) for rate in self.rates), Decimal(0))

    @property
    def price(self) -> Money:
        """Of the parts."""
        return price_of(self.buys)

    def cost(self, stock: Stock) -> Money:
        """Parts and labor; the charge for each kind of box comes on top, once a job."""
        return cost_of(self.buys, self.minutes, stock)

    def is_no_better_than(self, other: Remedy) -> bool:
        """Whether another one is at least as good in every respect; of a raceway or wireway, one that also changes no
        more: a larger raceway in place of one is not beaten by a second beside it.
        """
        return (
            self.kind != CIRCUIT
            and (self.kind not in MEASURED_BY_AREA or other.touches <= self.touches)
            and other.price <= self.price
            and other.minutes <= self.minutes
            and sum(rate.each for rate in other.rates) <= sum(rate.each for rate in self.rates)
            and sum(rate.minutes for rate in other.rates) <= sum(rate.minutes for rate in self.rates)
            and other.disturbance <= self.disturbance
            and other.margin >= self.margin
        )


def price_of(buys: tuple[Buy, ...]) -> Money:
    """What the parts cost together."""
    return sum((buy.price for buy in buys), Decimal(0))


def cost_of(buys: tuple[Buy, ...], minutes: Decimal, stock: Stock) -> Money:
    """What parts and labor cost together, to the cent."""
    return cents(price_of(buys) + stock.labor(minutes))


def not_dominated(offered: list[Remedy], stock: Stock) -> list[Remedy]:
    """Those no other one beats in price, minutes, disturbance and room left; cheapest first."""
    ordered = sorted(
        offered,
        key=lambda remedy: (
            remedy.unpriced,
            remedy.ranked_cost(stock),
            remedy.disturbance,
            -remedy.margin,
            remedy.action,
        ),
    )
    kept: list[Remedy] = []
    for remedy in ordered:
        if not any(remedy.is_no_better_than(better) for better in kept):
            kept.append(remedy)
    return [
        remedy for remedy in kept if not any(other is not remedy and remedy.is_no_better_than(other) for other in kept)
    ]


__all__ = ["NO_LIMIT", "RANKED_FEET", "Buy", "Disturbance", "Move", "Rate", "Remedy", "not_dominated"]
