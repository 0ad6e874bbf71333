"""The parts of a dwelling's load, each as a line of a worksheet, VA. ``rule`` is the name of the rule they stand in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import ROUND_DOWN, Decimal

from ampleroom.arithmetic import ONE, ZERO, Counted, Figure, Line, Pick, Share, Total, Unit
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
    CookingRow,
    Tier,
)
from ampleroom.editions.motors import SEVERAL
from ampleroom.quantities import NO_LIMIT, THOUSAND, count
from ampleroom.rules.load.carried import Carried, Item
from ampleroom.rules.registry import Sourced

HUNDRED = Decimal(100)
GENERAL = (LIGHTING, SMALL_CIRCUITS)
"""The tables of lighting and of circuits by their number."""


def items_line(rule: str, item: Item, least: Decimal = ZERO, why: str = "", terms: Sourced | None = None) -> Line:
    """So many loads alike, each by its nameplate or ``least``."""
    each = max(item.va, least)
    why = why if each > item.va else ""
    of = (terms.cite, terms.confidence) if terms is not None else ("", "two sources")
    return Counted(rule, item.label, item.count, each, why, *of, unit=Unit.VA)


def total(
    rule: str, label: str, parts: Iterable[Line], why: str = "", cite: str = "", sure: str = "two sources"
) -> Line:
    """The sum of some lines."""
    return Total(rule, label, tuple(parts), Unit.VA, why, cite, sure)


def general_lines(rule: str, what: Carried, book: CodeBook) -> Iterator[Line]:
    """Lighting by the floor area, and the circuits of small appliances and of the laundry."""
    lighting, small = book[LIGHTING], book[SMALL_CIRCUITS]
    yield Counted(
        rule,
        "Lighting and receptacles",
        what.area,
        lighting.va_per_ft2,
        "ft2 of floor",
        lighting.cite,
        lighting.confidence,
        unit=Unit.VA,
    )
    for label, written, least in (
        ("Small-appliance circuits", what.small_appliance, small.small_appliance),
        ("Laundry circuits", what.laundry, small.laundry),
    ):
        circuits = least * what.units if written is None else written
        why = "as many as there must be" if written is None else ""
        if circuits:
            yield Counted(rule, label, circuits, small.va, why, small.cite, small.confidence, unit=Unit.VA)


def tiers(
    rule: str, label: str, lines: tuple[Line, ...], rows: tuple[Tier, ...], terms: Sourced, why: str = ""
) -> Line:
    """A sum by tiers, each with a percent of what is over the one before."""
    whole = sum((line.amount for line in lines), ZERO)
    shares: list[Line] = []
    below = ZERO
    for row in rows:
        if row.up_to is not None and whole > row.up_to:
            part: Line = Figure(rule, f"{'Next' if below else 'First'} VA", row.up_to - below, Unit.VA)
        else:
            less = (Figure(rule, "Less those", -below, Unit.VA),) if below else ()
            part = total(rule, "The rest" if below else "All of it", (*lines, *less))
        shares.append(Share(rule, part.label, row.percent, part, "", terms.cite, terms.confidence))
        if row.up_to is None or whole <= row.up_to:
            break
        below = row.up_to
    return total(rule, label, shares, why, terms.cite, terms.confidence)


def lighting_demand(rule: str, what: Carried, book: CodeBook) -> Line:
    """What lighting and the circuits by number count for."""
    terms = book[LIGHTING_DEMAND]
    return tiers(rule, "Lighting, small appliances, laundry", tuple(general_lines(rule, what, book)), terms.rows, terms)


def appliance_lines(rule: str, items: tuple[Item, ...], every: tuple[Item, ...], book: CodeBook) -> Iterator[Line]:
    """Appliances fastened in place, of all of which (``every``) it depends how much counts."""
    terms = book[APPLIANCES]
    many = sum((item.count for item in every if item.va >= terms.least_watts), ZERO)
    large = [item for item in items if item.va >= terms.least_watts]
    small = [item for item in items if item.va < terms.least_watts]
    if large and many >= terms.quantity:
        whole = total(rule, "Their nameplates", (items_line(rule, item) for item in large))
        why = f"{count(many)} appliances fastened in place"
        yield Share(rule, "Fastened appliances", terms.percent, whole, why, terms.cite, terms.confidence)
    elif large:
        yield total(
            rule,
            "Fastened appliances",
            [items_line(rule, item) for item in large],
            f"fewer than {count(terms.quantity)}, so in full",
            terms.cite,
            terms.confidence,
        )
    for item in small:
        yield items_line(rule, item, terms=terms)


def row_for(rows: tuple[Tier, ...], many: Decimal) -> Tier:
    """The row of so many."""
    return next(row for row in rows if row.up_to is None or many <= row.up_to)


def dryer_lines(rule: str, what: Carried, book: CodeBook) -> Iterator[Line]:
    """Clothes dryers."""
    terms, dryers = book[DRYERS], what.of("dryer")
    if not dryers:
        return
    many = sum((item.count for item in dryers), ZERO)
    why = f"no less than {count(terms.least)} VA each"
    whole = total(rule, "Each dryer", (items_line(rule, item, terms.least, why) for item in dryers))
    percent = row_for(terms.rows, many).percent
    yield Share(rule, "Dryers", percent, whole, f"{count(many)} in all", terms.cite, terms.confidence)


def cooking_line(rule: str, items: tuple[Item, ...], book: CodeBook) -> Iterator[Line]:
    """Household cooking appliances: the least of the ways the table allows. What is not in the table counts in full."""
    terms = book[COOKING]
    over, most = terms.over * THOUSAND, terms.most * THOUSAND
    for item in items:
        if not over < item.va <= most:
            label = f"{item.label}, not in the table"
            yield Counted(rule, label, item.count, item.va, "", terms.cite, terms.confidence, unit=Unit.VA)
    counted = tuple([item for item in items if over < item.va <= most])
    if not counted:
        return
    small = tuple([item for item in counted if item.va < terms.b_from * THOUSAND])
    middle = tuple([item for item in counted if terms.b_from * THOUSAND <= item.va <= terms.b_up_to * THOUSAND])
    large = tuple([item for item in counted if item.va > terms.b_up_to * THOUSAND])
    ways = [column_c(rule, counted, book)]
    if small or middle:
        parts: list[Line] = []
        for label, group, column in (("Column A", small, "a"), ("Column B", middle, "b")):
            if group:
                whole = total(rule, "Their nameplates", (items_line(rule, item) for item in group))
                percent = getattr(cooking_row(group, book), column)
                parts.append(Share(rule, label, percent, whole, "", terms.cite, terms.confidence))
        if large:
            parts.append(column_c(rule, large, book))
        ways.append(total(rule, "By columns", parts, "each by its own number", terms.cite, terms.confidence))
    yield Pick(rule, "Cooking", "least", tuple(ways), "the code allows any of them", terms.cite, terms.confidence)


def cooking_row(items: tuple[Item, ...], book: CodeBook) -> CookingRow:
    """The row of so many appliances."""
    many = sum((item.count for item in items), ZERO)
    return next(row for row in book[COOKING].rows if row.up_to is None or many <= row.up_to)


def column_c(rule: str, items: tuple[Item, ...], book: CodeBook) -> Line:
    """Appliances by column C, with more where their average is over its base."""
    terms, many = book[COOKING], sum((item.count for item in items), ZERO)
    row = cooking_row(items, book)
    amount = (row.c + row.c_each * many) * THOUSAND
    base = Figure(rule, "Column C", amount, Unit.VA, f"{count(many)} in all", terms.cite, terms.confidence)
    least = terms.c_up_to * THOUSAND
    added = sum((max(item.va, least) * item.count for item in items), ZERO) - least * many
    over, rest = divmod(added, THOUSAND * many)
    if rest >= book[MAJOR_FRACTION].kilowatts * THOUSAND * many:
        over += ONE
    over = over.to_integral_value(ROUND_DOWN)
    if not over:
        return base
    why = f"{count(terms.percent_for_each)} % more for each of {count(over)} kW over {count(terms.c_up_to)}"
    percent = HUNDRED + terms.percent_for_each * over
    return Share(rule, "Column C, larger ranges", percent, base, why, terms.cite, terms.confidence)


def heat_lines(rule: str, what: Carried) -> tuple[Line, ...]:
    """Heat, and cooling, each in full: what of them runs together."""
    heat, cooling = what.of("heat", "storage heat", "heat pump"), what.of("cooling", "heat pump")
    return tuple(
        [
            total(rule, label, (items_line(rule, item) for item in items))
            for label, items in (("Heat", heat), ("Cooling", cooling))
            if items
        ]
    )


def heat_or_cooling(rule: str, what: Carried, book: CodeBook) -> Iterator[Line]:
    """The larger of heat and cooling."""
    lines, terms = heat_lines(rule, what), book[HEAT_OR_COOLING]
    if lines:
        yield Pick(rule, "Heat or cooling", "largest", lines, "they do not run together", terms.cite, terms.confidence)


def charging_lines(rule: str, what: Carried, book: CodeBook) -> Iterator[Line]:
    """Charging of vehicles."""
    terms = book[CHARGING]
    why = f"no less than {count(terms.least)} VA"
    for item in what.of("charger"):
        yield items_line(rule, item, terms.least, why, terms)


def other_lines(rule: str, what: Carried) -> Iterator[Line]:
    """Loads no paragraph has a demand for."""
    for item in what.of("other"):
        yield items_line(rule, item, why="in full")


def motor_line(rule: str, what: Carried, book: CodeBook) -> Iterator[Line]:
    """What is added for the largest motor of those that count."""
    lines = heat_lines(rule, what)
    cools = bool(lines) and max(lines, key=lambda line: line.amount).label == "Cooling"
    motors = [
        item
        for item in what.items
        if item.kind.has_motor and (item.kind.counts_as != "cooling" or cools) and item.va != NO_LIMIT
    ]
    if motors:
        largest, terms = max(motors, key=lambda item: item.va), book[SEVERAL]
        figure = Figure(rule, largest.label, largest.va, Unit.VA)
        yield Share(
            rule, "Largest motor, what is added", terms.largest - HUNDRED, figure, "", terms.cite, terms.confidence
        )


def nameplate_lines(rule: str, what: Carried, book: CodeBook, *, charging: bool = True) -> Iterator[Line]:
    """Everything but lights, heat and cooling by its nameplate."""
    for item in what.items:
        if item.kind.counts_as in ("cooking", "dryer", "fixed", "other"):
            yield items_line(rule, item)
    if charging:
        yield from charging_lines(rule, what, book)


OF_THE_STANDARD = (
    *(*GENERAL, LIGHTING_DEMAND, APPLIANCES, DRYERS, COOKING, MAJOR_FRACTION),
    *(HEAT_OR_COOLING, CHARGING, SEVERAL),
)
"""The tables of the standard method."""


__all__ = ["GENERAL", "OF_THE_STANDARD"]
