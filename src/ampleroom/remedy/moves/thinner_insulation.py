"""Move: wires with a thinner insulation in the same raceway, wireway or gutter."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Protocol

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import INSULATIONS, Insulation
from ampleroom.job.edit import PutRun
from ampleroom.job.model import Job, Raceway, Run, Wires
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.raceway_parts import plain_feet
from ampleroom.remedy.remedy import Buy, Disturbance, Move, Rate
from ampleroom.remedy.stock import Stock, StockLength
from ampleroom.rules.raceway.sizes import COMPACT, conductor


class InPlace(Protocol):
    """What this move asks of a raceway or a wireway in its place."""

    @property
    def job(self) -> Job:
        """The job it is in."""
        ...

    @property
    def subject(self) -> Any:
        """What is judged: its name, and the runs that lie in it."""
        ...

    @property
    def stock(self) -> Stock:
        """What can be bought."""
        ...

    @property
    def book(self) -> CodeBook:
        """The tables in force."""
        ...

    @property
    def underground(self) -> bool:
        """Whether it is underground, and so wet inside."""
        ...

    @property
    def fill_fails(self) -> bool:
        """Whether too much lies in it."""
        ...


def thinner_insulation(placed: InPlace) -> Iterator[Move]:
    """New wires of the same sizes with a thinner insulation that stands as much heat: in all runs that have a thicker
    one, or in one of them. Underground only an insulation for wet places is offered. Aluminum is left out: the stock
    file's wire is copper.
    """
    if not placed.fill_fails:
        return
    for row in placed.book[INSULATIONS].rows:
        insulation = row.kind
        if placed.underground and not row.wet:
            continue
        thicker = [run for run in placed.subject.runs if thicker_wires(run, insulation, placed)]
        if thicker:
            yield rewired(placed, insulation, thicker)
        if len(thicker) > 1:
            for run in thicker:
                yield rewired(placed, insulation, [run])


def thicker_wires(run: Run, insulation: str, placed: InPlace) -> dict[int, StockLength]:
    """The wires of a run that are thicker than with that insulation, by their place in it, each with what the stock
    file has in their stead.
    """
    if run.material != "copper" or run.existing or run.count is UNKNOWN or run.cable is not None:
        return {}
    thicker: dict[int, StockLength] = {}
    for place, wires in enumerate(run.wires):
        stocked = replaceable(wires, insulation, placed)
        if stocked is not None:
            thicker[place] = stocked
    return thicker


def replaceable(wires: Wires, insulation: str, placed: InPlace) -> StockLength | None:
    """The wire of the stock file that takes the place of these and is thinner; None where there is none."""
    if UNKNOWN in (wires.size, wires.count) or not wires.insulation:
        return None
    if not stands_as_much(insulation, wires.insulation, placed):
        return None
    now = conductor(wires.insulation, str(wires.size), placed.book)
    then = conductor(insulation, str(wires.size), placed.book)
    if now is None or then is None or then.area >= now.area:
        return None
    return placed.stock.length(f"{size_text(wires.size)} {insulation}")


def rated(insulation: str, book: CodeBook) -> Insulation | None:
    """How hot an insulation may get; None where the table does not have it."""
    kind = insulation.removeprefix(COMPACT)
    return next((row for row in book[INSULATIONS].rows if row.kind == kind), None)


def stands_as_much(insulation: str, old: str, placed: InPlace) -> bool:
    """Whether an insulation may get as hot as the one before it, so that the wires carry no less. Where it is dry, and
    underground where it is wet too.
    """
    now, then = rated(old, placed.book), rated(insulation, placed.book)
    if now is None or then is None:
        return False
    return then.dry >= now.dry and (not placed.underground or then.wet >= now.wet)


def is_dry_only(insulation: str, book: CodeBook) -> bool:
    """Whether an insulation is for dry places alone."""
    row = rated(insulation, book)
    return row is None or not row.wet


def rewired(placed: InPlace, insulation: str, runs: list[Run]) -> Move:
    """The move that pulls new wires for these runs along their whole way."""
    change = []
    feet: dict[StockLength, Decimal] = {}
    rates: list[Rate] = []
    minutes = Decimal(0)
    old: dict[str, None] = {}
    for run in runs:
        thicker = thicker_wires(run, insulation, placed)
        groups = tuple(
            wires._replace(insulation=insulation) if place in thicker else wires
            for place, wires in enumerate(run.wires)
        )
        change.append(PutRun(replace(run, wires=groups), run))
        length = length_of(run, placed)
        if length is not None:
            minutes += length * placed.stock.minutes.pull_per_foot
        for place, stocked in thicker.items():
            wires = run.wires[place]
            assert wires.count is not UNKNOWN  # those are left out
            assert run.count is not UNKNOWN
            number = Decimal(wires.count * run.count)
            old[wires.insulation] = None
            if length is not None:
                feet[stocked] = feet.get(stocked, Decimal(0)) + length * number
            else:
                what = f"{plain_feet(number)} x {stocked.name}"
                pulled = Decimal(0) if rates and rates[-1].length_of == way_of(run) else Decimal(1)
                per_foot = pulled * placed.stock.minutes.pull_per_foot
                rates.append(Rate(what, stocked.per_foot * number, per_foot, way_of(run)))
    buys = tuple(
        Buy(f"{stocked.name} by the foot", placed.stock.with_waste(each), stocked.per_foot)
        for stocked, each in feet.items()
    )
    notes = ["the wires can be pulled out and new ones in"]
    if is_dry_only(insulation, placed.book) and not all(is_dry_only(name, placed.book) for name in old):
        notes.append(f"the place is dry: {insulation} is not for wet ones")
    of_runs = "" if len(runs) == len(placed.subject.runs) else f" in {', '.join(map(way_of, runs))}"
    waste = placed.stock.waste_percent
    details = (f"Wire is bought with {plain_feet(waste)} % of waste.",) if feet and waste else ()
    return Move(
        placed.subject.name,
        f"pull {insulation} instead of {' and '.join(old)}{of_runs}",
        tuple(change),
        buys,
        minutes,
        Disturbance.NOTHING,
        notes=tuple(notes),
        rates=tuple(rates),
        details=details,
    )


def way_of(run: Run) -> str:
    """``the wires P > K1``: a run by where it goes."""
    return "the wires " + " > ".join("?" if stop.name is UNKNOWN else str(stop.name) for stop in run.stops)


def length_of(run: Run, placed: InPlace) -> Decimal | None:
    """How long a run is, feet: as written, or as its raceways are together; None where that is not known."""
    if run.length is not None:
        return None if run.length is UNKNOWN else run.length
    feet = [length_of_raceway(placed.job.graph.raceways.get(each.name)) for each in run.raceways]
    known = [length for length in feet if length is not None]
    return sum(known, Decimal(0)) if known and len(known) == len(feet) else None


def length_of_raceway(raceway: Raceway | None) -> Decimal | None:
    """A raceway's length in feet; None where it is not known."""
    if raceway is None or raceway.length is UNKNOWN:
        return None
    return raceway.length
