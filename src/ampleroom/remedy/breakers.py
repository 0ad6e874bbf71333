"""A circuit's breaker as one buys it: amperes, poles, and what it guards against besides."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit
from ampleroom.job.poles import poles_of
from ampleroom.record import TupleRecord
from ampleroom.remedy.remedy import Buy
from ampleroom.remedy.stock import Stock, StockBreaker

GUARDS: dict[str, str] = {"": "", "gfci": "GFCI", "afci": "AFCI", "dual": "dual function"}
"""What a breaker may guard against besides too much current, as a stock file writes it and as one says it."""


class Breaker(TupleRecord):
    """A breaker to buy."""

    amperes: int
    poles: int
    guard: str = ""
    """One of ``GUARDS``."""

    @property
    def text(self) -> str:
        """``20 A 1-pole breaker``, ``20 A 1-pole dual function breaker``."""
        return " ".join(filter(None, (f"{self.amperes} A {self.poles}-pole", GUARDS[self.guard], "breaker")))

    def stocked(self, stock: Stock) -> StockBreaker | None:
        """What the stock file has of it; None where it has none."""
        return stock.breaker(self.amperes, self.poles, self.guard)

    def bought(self, stock: Stock) -> tuple[tuple[Buy, ...], tuple[str, ...]]:
        """What is bought, and what to say where the stock file has no price."""
        stocked = self.stocked(stock)
        if stocked is not None:
            return (Buy(stocked.name, Decimal(1), stocked.price),), ()
        return (), (f"a {self.text} is on hand: the stock file has no price for it",)


def breaker_of(circuit: Circuit, amperes: int, graph: Graph) -> Breaker:
    """The breaker of a circuit, of so many amperes; what its line says it guards against is in its breaker."""
    guard = "dual" if circuit.gfci and circuit.afci else "gfci" if circuit.gfci else "afci" if circuit.afci else ""
    return Breaker(amperes, poles_of(circuit, graph), guard)


__all__ = ["GUARDS", "Breaker", "breaker_of", "poles_of"]
