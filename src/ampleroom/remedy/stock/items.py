"""What can be bought: one record for each kind of entry in a stock file, and the minutes of work."""

from __future__ import annotations

import re
from decimal import Decimal

from ampleroom.job.model import Base, Cable, Device, Part, Rated
from ampleroom.record import Record

Money = Decimal
"""Dollars, or whatever the file's ``currency`` says."""

USES = ("device", "junction", "ceiling", "pull")
MOUNTINGS = ("new-work", "old-work", "surface", "masonry")
STOCK_CLAMPS = ("outside", "inside", "none", "tabs", "push-in")


class StockBox(Record):
    """A box one can buy."""

    name: str
    base: Base
    uses: tuple[str, ...]
    mounting: tuple[str, ...]
    price: Money
    clamps: str = "outside"
    cover_price: Money = Decimal(0)
    """A blank cover for it, where it holds no device."""
    hole: tuple[Decimal, Decimal] | None = None
    rated: Rated | None = None
    in_stock: bool = True

    @property
    def key(self) -> str:
        """Its name as one word, for a kind in a sheet."""
        word = re.sub(r"[^\w.-]+", "-", self.name.lower()).strip("-")
        return f"box-{word}" if word in ("", "x", "at", "for") else word

    @property
    def gangs(self) -> int | None:
        """Devices side by side it holds; None for a box that takes them by a ring."""
        by_gang = self.base.shape in ("device", "masonry", "fs", "fd")
        return self.base.gangs or (self.base.ganged if by_gang else None)


class StockPart(Record):
    """A ring or cover, and the box faces it goes on: ``square 4``."""

    name: str
    part: Part
    on: str
    price: Money
    mounting: tuple[str, ...] = MOUNTINGS
    in_stock: bool = True


class StockConnector(Record):
    """A cable connector that clamps outside the box."""

    name: str
    kinds: tuple[str, ...]
    largest: str
    price: Money
    in_stock: bool = True


class StockDevice(Record):
    """A device; two names: a combination on one yoke."""

    name: str
    device: Device
    price: Money
    in_stock: bool = True


class StockCable(Record):
    """A cable by the foot, and by the coil where a coil has a length (feet) and a price."""

    name: str
    cable: Cable
    per_foot: Money
    coil_feet: Decimal | None = None
    coil_price: Money | None = None
    in_stock: bool = True


class StockLength(Record):
    """Wire, raceway or wireway by the foot: ``#12 thhn``, ``emt 3/4``, ``wireway 4 x 4``."""

    name: str
    item: str
    per_foot: Money
    length: Decimal | None = None
    """The length of a stick, feet."""
    in_stock: bool = True


FITTINGS = ("connector", "coupling", "strap", "bushing")


class StockFitting(Record):
    """A fitting of one kind and trade size of raceway: ``emt 1 connector``."""

    name: str
    kind: str
    size: str
    part: str
    """One of ``FITTINGS``."""
    price: Money
    in_stock: bool = True


BREAKER_GUARDS: dict[str, str] = {"gfci": "gfci", "afci": "afci", "dual function": "dual"}
"""What a breaker guards against besides too much current, as a stock file writes it."""


class StockBreaker(Record):
    """A breaker: ``20 A 1-pole``, ``20 A 1-pole dual function``."""

    name: str
    amperes: int
    poles: int
    guard: str
    """``gfci``, ``afci``, ``dual`` or empty."""
    price: Money
    in_stock: bool = True


class Minutes(Record):
    """Minutes of work; ``finished`` where the finish is up."""

    new_box: Decimal = Decimal(12)
    another_box: Decimal = Decimal(25)
    another_box_finished: Decimal = Decimal(90)
    ring: Decimal = Decimal(12)
    ring_finished: Decimal = Decimal(45)
    connector: Decimal = Decimal(6)
    connector_finished: Decimal = Decimal(25)
    second_box: Decimal = Decimal(30)
    second_box_finished: Decimal = Decimal(110)
    combination_device: Decimal = Decimal(12)
    another_run: Decimal = Decimal(25)
    another_run_finished: Decimal = Decimal(100)
    device: Decimal = Decimal(10)
    cable_per_foot: Decimal = Decimal("0.4")
    raceway_per_foot: Decimal = Decimal("1.2")
    pull_per_foot: Decimal = Decimal("0.5")
    """Pulling all that lies in one raceway, each foot of it."""
    wireway_per_foot: Decimal = Decimal(6)
    """Putting up a wireway or gutter with its supports, each foot of it."""
    pull_box: Decimal = Decimal(60)
    entry: Decimal = Decimal(30)
    """Bringing a raceway in by another wall of its box."""
    breaker: Decimal = Decimal(15)
    """Putting in one breaker, or one in place of another."""
    hole: Decimal = Decimal(8)
    """Boring one more hole and taking some cables through it."""
    spacing_per_foot: Decimal = Decimal("0.5")
    """Fastening one cable apart from the others, each foot of it."""


def money(amount: Money, currency: str) -> str:
    """``$1,163.66``; of another currency ``1,163.66 CAD``."""
    return f"${amount:,.2f}" if currency == "USD" else f"{amount:,.2f} {currency}"


def cents(amount: Money) -> Money:
    """An amount rounded to a hundredth."""
    return amount.quantize(Decimal("0.01"))
