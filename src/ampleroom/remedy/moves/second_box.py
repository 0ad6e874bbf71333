"""Move: a second box beside it that takes the splices of one circuit."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import AddBox, AddRun, Change, PutRun
from ampleroom.job.model import Box, Cable, Clamps, Mounting, Run, Stop
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.moves.another_box import wall_reason
from ampleroom.remedy.remedy import Buy, Move
from ampleroom.remedy.spot import Spot
from ampleroom.remedy.stock import StockBox

LINK_FEET = Decimal(3)
"""Cable from a box to one beside it, ends included; common practice, no source."""


def second_box(spot: Spot) -> Iterator[Move]:
    """All cables of one circuit go to a junction box beside it, and one cable links the two where a device here still needs
    the circuit. The link is of the thickest of the cables moved.
    """
    if spot.divided or spot.base is None or spot.base.form == "conduit body":
        return
    name = free_name(spot)
    stocked = [box for box in spot.stock.boxes if may_stand_beside(box, spot)]
    for circuit, runs in by_circuit(spot).items():
        if len(runs) < 2:
            continue
        others = [run for run in spot.runs if run not in runs]
        if not others and not spot.devices:
            continue  # nothing would stay: that is another box, not a second one
        link = largest_cable(runs) if spot.devices else None
        if link is None and spot.devices:
            continue  # no cable is known that could carry the circuit on
        moved = tuple(moved_to(name, run, spot.box.name) for run in runs)
        for box in stocked:
            move = beside(spot, name, box, circuit, moved, link)
            if move is not None:
                yield move


def may_stand_beside(stocked: StockBox, spot: Spot) -> bool:
    way = spot.mounting.way
    fits = way in stocked.mounting if way else stocked.mounting != ("old-work",)
    return "junction" in stocked.uses and fits and wall_reason(stocked, replace(spot.mounting, hole=None)) is None


def by_circuit(spot: Spot) -> dict[str, list[Run]]:
    """Cables that end here, by circuit; those of a barrier's sides, wires in raceways and several alike left out."""
    found: dict[str, list[Run]] = {}
    for run in spot.runs:
        ends_here = [stop for stop in run.stops if stop.name == spot.box.name]
        if run.cable is not None and len(ends_here) == 1 and len(run.stops) == 2 and not run.low_voltage:
            found.setdefault(run.circuit, []).append(run)
    return found


def largest_cable(runs: list[Run]) -> Cable | None:
    """The cable with the thickest and most conductors, to carry the circuit on."""
    known = [
        run.cable for run in runs if run.cable is not None and run.cable.size is not UNKNOWN and run.cable.kind != "old"
    ]
    return max(known, key=lambda cable: (RANK[str(cable.size)], cable.of), default=None)


def free_name(spot: Spot) -> str:
    """``J1b``, ``J1c`` ...: the first nobody has."""
    taken = {place.name.casefold() for place in spot.job.places()}
    return next(
        name for letter in "bcdefghijklmnopqrstuvwxyz" if (name := spot.box.name + letter).casefold() not in taken
    )


def moved_to(name: str, run: Run, here: str) -> PutRun:
    """A run that ends there instead of here."""
    return PutRun(replace(run, stops=tuple(replace(s, name=name) if s.name == here else s for s in run.stops)), run)


def beside(
    spot: Spot, name: str, stocked: StockBox, circuit: str, moved: tuple[PutRun, ...], link: Cable | None
) -> Move | None:
    """A box one can buy with the runs moved to it; None where the stock has no connector for one of them."""
    here = spot.box.name
    description = f"beside {here}" + (f", {spot.box.description}" if spot.box.description else "")
    mounting = (Mounting(spot.mounting.way),) if spot.mounting.way else ()
    new = Box(name, description, items=(replace(stocked.base), Clamps(stocked.clamps), *mounting))
    steps: Change = (AddBox(new, here), *moved)
    buys = [Buy(stocked.name, Decimal(1), stocked.price)]
    if stocked.cover_price:
        buys.append(Buy(f"blank cover for {stocked.name}", Decimal(1), stocked.cover_price))
    notes: tuple[str, ...] = ("the cables reach the new box",)
    runs = [step.old for step in moved]
    cables = [run.cable for run in runs for _ in range(run.count if run.count is not UNKNOWN else 1)]
    if link is not None:
        notes += ("the link between the two has the conductors that the devices here need",)
        steps += (AddRun(Run((Stop(here), Stop(name)), cable=link, length=LINK_FEET, circuit=circuit)),)
        stocked_cable = spot.stock.cable(link)
        if stocked_cable is None:
            notes += (f"{link.name} is not in the stock file, so its price is not in this",)
        buys.append(Buy(link.name, LINK_FEET, stocked_cable.per_foot if stocked_cable else Decimal(0)))
        cables += [link]
    minutes = spot.minutes("second_box")
    if stocked.clamps == "outside":
        for cable in cables:
            connector = spot.stock.connector_for(cable)
            if connector is None:
                return None
            buys.append(Buy(connector.name, Decimal(1), connector.price))
            minutes += spot.stock.minutes.connector
    label = f"circuit {circuit}" if circuit else "the cables with no circuit written"
    what = f"a second box beside it ({name}, {stocked.name}) for {label}"
    disturbance = spot.disturbance()
    return Move(
        here, what, steps, tuple(merged(buys)), minutes, disturbance, (stocked,), notes, alike=f"{name} {circuit}"
    )


def merged(buys: list[Buy]) -> list[Buy]:
    """Like things bought together."""
    found: dict[tuple[str, Decimal], Buy] = {}
    for buy in buys:
        key = (buy.what, buy.each)
        found[key] = found[key]._replace(number=found[key].number + buy.number) if key in found else buy
    return list(found.values())
