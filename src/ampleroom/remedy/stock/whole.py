"""All of a stock file, and what in it fits a cable."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal

from ampleroom.job.cables import sizes_of
from ampleroom.job.model import Cable
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, replace
from ampleroom.remedy.stock.items import (
    Minutes,
    Money,
    StockBox,
    StockBreaker,
    StockCable,
    StockConnector,
    StockDevice,
    StockFitting,
    StockLength,
    StockPart,
    cents,
)


class Stock(Record):
    """All that can be bought, and what work and variety cost."""

    boxes: tuple[StockBox, ...] = ()
    parts: tuple[StockPart, ...] = ()
    connectors: tuple[StockConnector, ...] = ()
    devices: tuple[StockDevice, ...] = ()
    cables: tuple[StockCable, ...] = ()
    lengths: tuple[StockLength, ...] = ()
    fittings: tuple[StockFitting, ...] = ()
    breakers: tuple[StockBreaker, ...] = ()
    per_hour: Money = Decimal(0)
    minutes: Minutes = Minutes()
    kind_charge: Money = Decimal(0)
    """For each different kind of box the van must carry."""
    waste_percent: Decimal = Decimal(10)
    currency: str = "USD"
    file: str = ""

    @property
    def keys(self) -> frozenset[str]:
        """The word of each box, for a kind in a sheet."""
        return frozenset(box.key for box in self.boxes)

    def labor(self, minutes: Decimal) -> Money:
        """What so many minutes of work cost."""
        return cents(self.per_hour * minutes / 60)

    def with_waste(self, feet: Decimal) -> Decimal:
        """A length with the waste added, in whole feet."""
        return (feet * (100 + self.waste_percent) / 100).to_integral_value(ROUND_CEILING)

    def connector_for(self, cable: Cable | None) -> StockConnector | None:
        """The cheapest connector that takes a cable, the thickest there is where its size is not known; None where none
        does.
        """
        if cable is None:
            return None
        size = sizes_of(cable)[-1] if cable.size is UNKNOWN else cable.size
        fitting = [
            connector
            for connector in self.connectors
            if cable.kind in connector.kinds and RANK[size] <= RANK[connector.largest] and connector.in_stock
        ]
        return min(fitting, key=lambda connector: connector.price, default=None)

    def cable(self, cable: Cable) -> StockCable | None:
        """The first entry of a cable of the same make-up; None where there is none."""
        return next((stocked for stocked in self.cables if stocked.cable.name == cable.name), None)

    def length(self, what: str) -> StockLength | None:
        """The entry of a wire or a raceway by the foot: ``#6 thhn``, ``emt 1``; None where there is none."""
        return next((stocked for stocked in self.lengths if stocked.item == what), None)

    def wireways(self, form: str) -> tuple[tuple[StockLength, tuple[Decimal, Decimal]], ...]:
        """Every wireway by the foot, or every gutter, with its two inside measures in inches."""
        parts = [(stocked, stocked.item.split()) for stocked in self.lengths]
        found = [(stocked, words) for stocked, words in parts if words[0] == form]
        return tuple([(stocked, (Decimal(words[1]), Decimal(words[-1]))) for stocked, words in found])

    def wireway(self, form: str, inside: tuple[Decimal, Decimal]) -> StockLength | None:
        """The entry of a wireway or gutter of these inside measures, whichever stands first; None where there is
        none.
        """
        alike = (stocked for stocked, sides in self.wireways(form) if sorted(sides) == sorted(inside))
        return next(alike, None)

    def fitting(self, kind: str, size: str, part: str) -> StockFitting | None:
        """The entry of a fitting for a raceway; None where there is none."""
        key = (kind, size, part)
        return next((fitting for fitting in self.fittings if (fitting.kind, fitting.size, fitting.part) == key), None)

    def breaker(self, amperes: int, poles: int, guard: str = "") -> StockBreaker | None:
        """The entry of a breaker; None where there is none."""
        key = (amperes, poles, guard)
        return next((each for each in self.breakers if (each.amperes, each.poles, each.guard) == key), None)

    def only_in_stock(self) -> Stock:
        """The same without what would have to be ordered."""
        return replace(
            self,
            boxes=tuple(box for box in self.boxes if box.in_stock),
            parts=tuple(part for part in self.parts if part.in_stock),
            connectors=tuple(connector for connector in self.connectors if connector.in_stock),
            devices=tuple(device for device in self.devices if device.in_stock),
            cables=tuple(cable for cable in self.cables if cable.in_stock),
            lengths=tuple(length for length in self.lengths if length.in_stock),
            fittings=tuple(fitting for fitting in self.fittings if fitting.in_stock),
            breakers=tuple(breaker for breaker in self.breakers if breaker.in_stock),
        )
