"""Move: a second box beside it that takes the splices of one circuit."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import AddBox, AddRun, Change, PutRun
from ampleroom.job.model import Box, Cable, Clamps, Mounting, Run, Stop
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord, replace
from ampleroom.remedy.box_in_place import BoxInPlace, connectors_for, is_armored, may_be_nonmetallic
from ampleroom.remedy.moves.another_box import wall_reason
from ampleroom.remedy.remedy import Buy, Move
from ampleroom.remedy.stock import StockBox

LINK_FEET = Decimal(3)
"""Cable from a box to one beside it, ends included; common practice, no source."""


def second_box(placed: BoxInPlace) -> Iterator[Move]:
    """All cables of one circuit go to a junction box beside it, and one cable links the two where a device here still
    needs the circuit. The link is of the thickest of the cables moved.
    """
    if placed.divided or placed.base is None or placed.base.form == "conduit body":
        return
    name = free_name(placed)
    if name is None:
        return
    wall = replace(placed.mounting, way=placed.way, hole=None)
    stocked = [box for box in placed.stock.boxes if may_stand_beside(box, wall)]
    for circuit, runs in by_circuit(placed).items():
        if len(runs) < 2:
            continue
        others = [run for run in placed.runs if run not in runs]
        if not others and not placed.devices:
            continue  # nothing would stay: that is another box, not a second one
        link = largest_cable(runs) if placed.devices else None
        if link is None and placed.devices:
            continue  # no cable is known that could carry the circuit on
        taken = taken_along(placed, name, circuit, runs, link)
        is_armored_there = is_armored(link) or any(is_armored(run.cable) for run in runs)
        for box in stocked:
            if is_armored_there and may_be_nonmetallic(box):
                continue
            if box.clamps != "outside" or taken.connectors is not None:
                yield beside(placed, name, box, taken)


def may_stand_beside(stocked: StockBox, wall: Mounting) -> bool:
    """Whether a box in stock may go beside the old one: for splices, for this mounting and this wall."""
    fits = wall.way in stocked.mounting if wall.way else stocked.mounting != ("old-work",)
    return "junction" in stocked.uses and fits and wall_reason(stocked, wall) is None


def by_circuit(placed: BoxInPlace) -> dict[str, list[Run]]:
    """Cables that end here, by circuit; those of a barrier's sides, wires in raceways and several alike left out."""
    runs_by_circuit: dict[str, list[Run]] = {}
    for run in placed.runs:
        ends_here = [stop for stop in run.stops if stop.name == placed.box.name]
        if run.cable is not None and len(ends_here) == 1 and len(run.stops) == 2 and not run.low_voltage:
            runs_by_circuit.setdefault(run.circuit, []).append(run)
    return runs_by_circuit


def largest_cable(runs: list[Run]) -> Cable | None:
    """The cable with the thickest and most conductors, to carry the circuit on."""
    known = [
        run.cable for run in runs if run.cable is not None and run.cable.size is not UNKNOWN and run.cable.kind != "old"
    ]
    return max(known, key=lambda cable: (RANK[str(cable.size)], cable.of), default=None)


def free_name(placed: BoxInPlace) -> str | None:
    """``J1b``, ``J1c`` ...: the first no place has; None where all are taken."""
    taken = placed.job.place_names
    names = (placed.box.name + letter for letter in "bcdefghijklmnopqrstuvwxyz")
    return next((name for name in names if name.casefold() not in taken), None)


def moved_to(name: str, run: Run, here: str) -> PutRun:
    """A run that ends there instead of here."""
    return PutRun(replace(run, stops=tuple(replace(s, name=name) if s.name == here else s for s in run.stops)), run)


class Taken(TupleRecord):
    """What one circuit takes along to a second box, whichever box that is."""

    label: str
    steps: Change
    buys: tuple[Buy, ...]
    connectors: tuple[Buy, ...] | None
    """For a box that holds cables outside; None: the stock has none for one of them."""
    notes: tuple[str, ...]
    alike: str


def taken_along(placed: BoxInPlace, name: str, circuit: str, runs: list[Run], link: Cable | None) -> Taken:
    """What moving the runs of one circuit to the new box takes: its changes, what is bought, and notes. ``link`` joins
    the two boxes.
    """
    here = placed.box.name
    steps: Change = tuple(moved_to(name, run, here) for run in runs)
    buys: tuple[Buy, ...] = ()
    notes: tuple[str, ...] = ("the cables reach the new box",)
    cables = [run.cable for run in runs for _ in range(run.count if run.count is not UNKNOWN else 1)]
    if link is not None:
        notes += ("the link cable has the conductors the devices here need",)
        steps += (AddRun(Run((Stop(here), Stop(name)), cable=link, length=LINK_FEET, circuit=circuit)),)
        stocked_cable = placed.stock.cable(link)
        if stocked_cable is None:
            notes += (f"{link.name} is on hand: the stock file has no price for it",)
        buys = (Buy(link.name, LINK_FEET, stocked_cable.per_foot if stocked_cable else Decimal(0)),)
        cables += [link]
    label = f"circuit {circuit}" if circuit else "the cables with no circuit in the sheet"
    return Taken(label, steps, buys, connectors_for(cables, placed.stock), notes, f"{name} {circuit}")


def beside(placed: BoxInPlace, name: str, stocked: StockBox, taken: Taken) -> Move:
    """A box one can buy, with what one circuit takes along to it."""
    here = placed.box.name
    description = f"beside {here}" + (f", {placed.box.description}" if placed.box.description else "")
    mounting = (Mounting(placed.way),) if placed.way else ()
    new = Box(name, description, items=(stocked.base, Clamps(stocked.clamps), *mounting))
    buys: tuple[Buy, ...] = (Buy(stocked.name, Decimal(1), stocked.price),)
    if stocked.cover_price:
        buys += (Buy(f"blank cover for {stocked.name}", Decimal(1), stocked.cover_price),)
    connectors = (taken.connectors or ()) if stocked.clamps == "outside" else ()
    connector_count = sum(int(connector.quantity) for connector in connectors)
    return Move(
        here,
        f"add a second box beside it ({name}, {stocked.name}) for {taken.label}",
        (AddBox(new, here), *taken.steps),
        (*buys, *taken.buys, *connectors),
        placed.minutes("second_box") + placed.stock.minutes.connector * connector_count,
        placed.disturbance(),
        (stocked,),
        taken.notes,
        alike=taken.alike,
    )
