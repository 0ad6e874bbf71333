"""Move: a wireway or gutter with a larger section."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import PutWireway
from ampleroom.job.lines.wireways import section_text
from ampleroom.quantities import inches
from ampleroom.remedy.remedy import Disturbance, Move
from ampleroom.remedy.stock import StockLength
from ampleroom.remedy.wireway_in_place import WirewayInPlace, ending_at, with_section


def larger_wireway(placed: WirewayInPlace) -> Iterator[Move]:
    """The smallest section of the stock file that passes, and the cheapest one where that is another."""
    if not placed.section_fails:
        return
    passing = [(stocked, inside) for stocked, inside in placed.sections if passes_with(placed, inside)]
    if not passing:
        return
    cheapest = min(passing, key=lambda each: each[0].per_foot)
    for stocked, inside in dict.fromkeys((passing[0], cheapest)):
        yield as_section(placed, stocked, inside)


def passes_with(placed: WirewayInPlace, inside: tuple[Decimal, Decimal]) -> bool:
    """Whether it passes by its section with these inside measures, in inches."""
    return placed.passes_as(placed.subject._replace(wireway=with_section(placed.wireway, inside)))


def as_section(placed: WirewayInPlace, stocked: StockLength, inside: tuple[Decimal, Decimal]) -> Move:
    """The move to one section that the stock file has."""
    wireway = placed.wireway
    new = with_section(wireway, inside)
    parts = placed.parts(stocked, wireway.name, wireway.name)
    notes = [f"there is room for a {wireway.form} {section_text(new)} in. inside"]
    if raceways := ending_at(wireway, placed.job):
        names = ", ".join(raceway.name for raceway in raceways)
        notes.append(f"{names} can be brought into it as far apart as before")
    notes.append("covers, ends and supports are on hand")
    details = (f"The conductors turn across its {inches(max(inside))} side.",) if wireway.turn else ()
    return Move(
        wireway.name,
        f"use {stocked.name} instead of {section_text(wireway)}",
        (PutWireway(new, wireway),),
        parts.buys,
        parts.minutes,
        Disturbance.NOTHING,
        notes=tuple(notes),
        rates=parts.rates,
        details=details,
    )


__all__ = ["larger_wireway", "passes_with"]
