"""Sentences about the tables of dwelling loads, for the pages of their rules."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import MAJOR_FRACTION
from ampleroom.editions.loads import (
    APPLIANCES,
    CHARGING,
    COOKING,
    DRYERS,
    HEAT_OR_COOLING,
    LIGHTING,
    LIGHTING_DEMAND,
    SMALL_CIRCUITS,
    Tier,
)
from ampleroom.editions.motors import SEVERAL
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import count
from ampleroom.rules.circuit.motor_wire.page import beside
from ampleroom.rules.circuit.protection.page import ratings
from ampleroom.rules.page import Sentence


def steps(rows: tuple[Tier, ...], unit: str) -> str:
    """``up to 3000 VA 100%, the rest 40%``."""
    return ", ".join(
        f"the rest {count(row.percent)}%"
        if row.up_to is None
        else f"up to {count(row.up_to)} {unit} {count(row.percent)}%"
        for row in rows
    )


def lighting(book: CodeBook) -> str:
    """Lighting by area."""
    return f"Lighting and general receptacles count for {count(book[LIGHTING].va_per_ft2)} VA a square foot."


def small_circuits(book: CodeBook) -> str:
    """Circuits by number."""
    terms = book[SMALL_CIRCUITS]
    return (
        f"Each circuit of small appliances and each laundry circuit counts for {count(terms.va)} VA. A dwelling has "
        f"{count(terms.small_appliance)} and {count(terms.laundry)} at least."
    )


def lighting_demand(book: CodeBook) -> str:
    """The steps of lighting."""
    return f"Of lighting and those circuits together counts: {steps(book[LIGHTING_DEMAND].rows, 'VA')}."


def appliances(book: CodeBook) -> str:
    """Appliances fastened in place."""
    terms = book[APPLIANCES]
    of = f" of {count(terms.least_watts)} W or more" if terms.least_watts else ""
    return f"Of {count(terms.quantity)} or more appliances{of} fastened in place {count(terms.percent)}% counts."


def dryers(book: CodeBook) -> str:
    """Dryers."""
    terms = book[DRYERS]
    return f"A dryer counts for {count(terms.least)} VA or its nameplate; of several: {steps(terms.rows, 'dryers')}."


def cooking(book: CodeBook) -> str:
    """Cooking."""
    terms = book[COOKING]
    rows = "; ".join(
        f"{'more' if row.up_to is None else count(row.up_to)}: A {count(row.a)}%, B {count(row.b)}%, "
        f"C {count(row.c)} kW" + (f" and {count(row.c_each)} kW each" if row.c_each else "")
        for row in terms.rows
    )
    return (
        f"Household cooking appliances over {count(terms.over)} kW count by a table: below {count(terms.b_from)} kW by "
        f"column A, up to {count(terms.b_up_to)} kW by column B, or all up to {count(terms.c_up_to)} kW by column C, "
        f"and {count(terms.percent_for_each)}% more for each kW of their average over that, up to {count(terms.most)} "
        f"kW. Up to so many: {rows}."
    )


def fraction(book: CodeBook) -> str:
    """What of a part of a kilowatt counts."""
    return f"{count(book[MAJOR_FRACTION].kilowatts)} kW and more of a part counts as a whole kW."


def heat_or_cooling(book: CodeBook) -> str:
    """Noncoincident loads."""
    return "Of heat and cooling, which do not run together, the larger counts in full."


def charging(book: CodeBook) -> str:
    """Charging of vehicles."""
    least = book[CHARGING].least
    return f"Charging of vehicles counts by its nameplate{f', for {count(least)} VA at least' if least else ''}."


OF_GENERAL = (Sentence((LIGHTING,), lighting), Sentence((SMALL_CIRCUITS,), small_circuits))
RATINGS = Sentence((STANDARD,), ratings)
CHARGED = Sentence((CHARGING,), charging)
LARGER = Sentence((HEAT_OR_COOLING,), heat_or_cooling)
OF_THE_STANDARD = (
    *OF_GENERAL,
    Sentence((LIGHTING_DEMAND,), lighting_demand),
    Sentence((APPLIANCES,), appliances),
    Sentence((DRYERS,), dryers),
    Sentence((COOKING,), cooking),
    Sentence((MAJOR_FRACTION,), fraction),
    LARGER,
    CHARGED,
    Sentence((SEVERAL,), beside),
)
