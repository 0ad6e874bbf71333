"""The load of a circuit as its breaker and its wire are judged by: of a household range less than its nameplate."""

from __future__ import annotations

from decimal import ROUND_DOWN, ROUND_UP, Decimal

from ampleroom.arithmetic import Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import MAJOR_FRACTION, RANGE_DEMAND
from ampleroom.quantities import HUNDREDTH, THOUSAND, number
from ampleroom.rules.circuit.wired import ONE, Leg

HUNDRED = Decimal(100)
OF_RANGES = (RANGE_DEMAND, MAJOR_FRACTION)
"""The tables by which a range counts less than its nameplate."""


def load_line(rule: str, leg: Leg, load: Decimal, book: CodeBook, cite: str = "") -> Line:
    """What of the load of a leg, amperes, counts for its breaker and its wire."""
    whole = Figure(rule, "Load", load, Unit.AMPERE, leg.load_why, cite)
    kilowatts = kilowatts_of(leg)
    if kilowatts is None:
        return whole
    terms = book[RANGE_DEMAND]
    if not terms.over < kilowatts <= terms.most:
        return whole
    label, rated = "Demand of a range", f"a range of {number(kilowatts, 0)} kW"
    if kilowatts <= terms.part_up_to:
        return Share(rule, label, terms.percent, whole, rated, terms.cite, terms.confidence)
    amperes = (terms.base * THOUSAND / leg.divisor).quantize(HUNDREDTH, ROUND_UP)
    why = f"{rated} counts as {number(terms.base, 0)} kW"
    base = Figure(rule, label, amperes, Unit.AMPERE, why, terms.cite, terms.confidence)
    over = kilowatts_over(kilowatts, book)
    if not over:
        return base
    part, fraction = HUNDRED + terms.percent_for_each * over, book[MAJOR_FRACTION]
    each, start = number(terms.percent_for_each, 0), number(terms.base_up_to, 0)
    why = f"{each} % more for each of {number(over, 0)} kW over {start}"
    return Share(rule, label, part, base, why, fraction.cite, fraction.confidence)


def kilowatts_of(leg: Leg) -> Decimal | None:
    """The kilowatts on the nameplate of the range a leg serves; None where it serves none, or nobody wrote them."""
    if leg.circuit.serves != "range" or leg.volt_amperes is None:
        return None
    return leg.volt_amperes / THOUSAND


def kilowatts_over(kilowatts: Decimal, book: CodeBook) -> Decimal:
    """How many whole kilowatts it is over the base: of a part of one half and more counts as a whole."""
    over = max(Decimal(0), kilowatts - book[RANGE_DEMAND].base_up_to)
    whole = over.to_integral_value(ROUND_DOWN)
    return whole + ONE if over - whole >= book[MAJOR_FRACTION].kilowatts else whole


__all__ = ["OF_RANGES", "kilowatts_of", "load_line"]
