"""What a dwelling loads its service with by the optional method."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Line, Pick, Share
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import CHARGING, OPTIONAL, OPTIONAL_HEAT
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import count
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried, Item
from ampleroom.rules.load.weighed import SERVICE, weighed
from ampleroom.rules.registry import rule
from ampleroom.words import OPTIONAL_ASKS
from ampleroom.worksheet import OPTIONAL_LOAD as PURPOSE
from ampleroom.worksheet import Finding, Verdict

NAME = PURPOSE.name


@rule(
    NAME,
    title="Load of a dwelling, optional method",
    topic="finding",
    about="load",
    tables=(*demand.GENERAL, OPTIONAL, OPTIONAL_HEAT, CHARGING, STANDARD),
    ends=ENDS,
)
def optional_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """One dwelling whose service is large enough may count everything but heat and cooling by its nameplate, a first
    part in full and a share of the rest; and the largest of heat and cooling beside it.

    Why: A house never runs everything it has at once.
    """
    terms = book[OPTIONAL]
    if what.units > 1:
        return
    if what.rating is not None and what.rating < terms.least_amperes:
        message = OPTIONAL_ASKS.format(SERVICE, count(terms.least_amperes))
        yield Finding(NAME, Verdict.FAILS, SERVICE, message, terms.cite, what.at, confidence=terms.confidence)
        return
    general = (
        *demand.general_lines(NAME, what, book),
        *demand.nameplate_lines(NAME, what, book, charging=not terms.charging_apart),
    )
    lines: tuple[Line, ...] = (demand.tiers(NAME, "All but heat and cooling", general, terms.rows, terms),)
    if terms.charging_apart:
        lines += tuple(demand.charging_lines(NAME, what, book))
    yield weighed(PURPOSE, what, (*lines, *heat(what, book)), terms, book)


def heat(what: Carried, book: CodeBook) -> Iterator[Line]:
    """The largest of heat and cooling, each by its percent."""
    terms = book[OPTIONAL_HEAT]
    pumps = what.of("heat pump")
    beside = [item for item in what.of("heat") if pumps]
    few = [item for item in what.of("heat") if not pumps and item.few_controls]
    many = [item for item in what.of("heat") if not pumps and not item.few_controls]
    groups = (
        ("Cooling", ((terms.cooling, list(what.of("cooling"))),)),
        ("Heat pump", ((terms.heat_pump, list(pumps)), (terms.beside_a_heat_pump, beside))),
        ("Heat", ((terms.few, few), (terms.many, many))),
        ("Storage heat", ((terms.storage, list(what.of("storage heat"))),)),
    )
    choices = []
    for label, shares in groups:
        parts = [share(label, percent, items, book) for percent, items in shares if items]
        if len(parts) > 1:
            choices.append(demand.total(NAME, label, parts, "", terms.cite, terms.confidence))
        else:
            choices += parts
    if choices:
        yield Pick(
            NAME, "Heat or cooling", "largest", tuple(choices), "the largest alone", terms.cite, terms.confidence
        )


def share(label: str, percent: Decimal, items: list[Item], book: CodeBook) -> Line:
    """A percent of some nameplates."""
    terms = book[OPTIONAL_HEAT]
    whole = demand.total(NAME, "Their nameplates", (demand.items_line(NAME, item) for item in items))
    return Share(NAME, label, percent, whole, "", terms.cite, terms.confidence)
