"""What a circuit has at its places: outlets, devices and receptacles, the room of each, and what protects them there.

A sheet takes part in protection by place once it says the room of a place of the circuit, or what its breaker does.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from ampleroom.job.graph import Graph, is_receptacle, is_single
from ampleroom.job.model import Box, Carries, Circuit, Device, FixtureWires, Leads, Run
from ampleroom.job.trade import THREE_PHASE
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord
from ampleroom.rules.circuit.grounds import is_old
from ampleroom.rules.circuit.wired import Subject, Wiring, run_text
from ampleroom.where import Where
from ampleroom.words import MOST_PLACES_NAMED

OUTLET_DEVICES = ("alarm", "light", "heater", "fan", "equipment", "receptacle", "outlet", "gfci")
"""Last words of a device at which current is used, so that its box is an outlet. Common practice, no source."""
WIRED_IN = ("heater", "fan", "equipment")
"""Last words of what is wired in and is no light. Common practice, no source."""
NO_POWER = ("jack", "blank")


class Receptacle(TupleRecord):
    """Receptacles of one line of a box: alike."""

    amperes: int | None
    """What they are rated for; None where nobody wrote it."""
    is_single: bool
    kind: str
    """The first word of its name: ``dryer``, ``duplex``."""
    protects: tuple[str, ...]
    """``gfci``, ``afci``: what they have in them."""
    is_certain: bool
    """Whether they are on this circuit for certain; else another circuit of the box may feed them."""
    number: int = 1
    """So many such devices."""


class Outlet(TupleRecord):
    """One place where a circuit ends or is spliced: a box, equipment, or an end nobody found."""

    name: str
    at: Where
    room: str
    """Empty where nobody wrote it."""
    near: str
    """``counter``, ``sink``, ``tub``, ``away``; empty where nobody wrote it."""
    fed_through: bool
    """Whether the sheet says that a ground-fault device upstream feeds it."""
    receptacles: tuple[Receptacle, ...]
    is_outlet: bool
    """Whether current is used there."""
    is_device: bool
    """Whether a device is there, such as a switch."""
    is_wired_in: bool = False
    """Whether something other than a light is wired in there, without a plug."""
    is_found: bool = True
    """False: nobody found where the run ends."""
    is_old: bool = False
    """Whether only wiring that was there before ends there."""

    @property
    def text(self) -> str:
        """``W1 (kitchen)``; ``W1`` where no room is written."""
        near = {"counter": " counter", "sink": ", near a sink", "tub": ", near a tub or shower"}.get(self.near, "")
        return f"{self.name} ({self.room}{near})" if self.room else self.name


class Outlets(TupleRecord):
    """A circuit with all its places."""

    circuit: Circuit
    name: str
    """``circuit 3``."""
    volts: int
    is_three_phase: bool
    amperes: Decimal | None
    """Of its breaker; None where nobody wrote it."""
    places: tuple[Outlet, ...]
    is_placed: bool
    """Whether the sheet says the room of any of them, or what its breaker protects from."""
    is_branch: bool
    """Whether it is a branch circuit: it feeds no panel and no whole dwelling."""
    is_old: bool
    """Whether all its runs were there before."""
    is_extended: bool
    """Whether some were there before and others are new."""
    runs: tuple[Run, ...]
    """Without those of low voltage."""
    source: str | None
    """The panel it comes from; None where the sheet leaves it open."""
    feeds: tuple[str, ...]
    """The panels it feeds."""

    @property
    def is_judged(self) -> bool:
        """Whether its protection by place is judged."""
        return self.is_placed and self.is_branch and not self.is_old

    @property
    def new_places(self) -> tuple[Outlet, ...]:
        """Those that new wiring comes to: what was there before may stay."""
        return tuple([place for place in self.places if not place.is_old])

    @property
    def ground_fault_devices(self) -> tuple[str, ...]:
        """The places that have a ground-fault device of their own."""
        return tuple([place.name for place in self.places if has(place, "gfci")])


def has(place: Outlet, device: str) -> bool:
    """Whether a receptacle with ``gfci`` or ``afci`` in it is there."""
    return any(device in each.protects for each in place.receptacles)


def outlets_of(subject: Subject, graph: Graph, wiring: Wiring) -> Outlets:
    """A circuit with the places its runs end at."""
    circuit = subject.circuit
    runs = [run for run in subject.runs if not run.low_voltage]
    old = [is_old(run) for run in runs]
    places = tuple(places_of(circuit, runs, graph))
    source = wiring.panel.name if wiring.panel else None
    fed = {str(stop.name): None for run in runs for stop in run.stops if stop.name in graph.panels}
    feeds = tuple([name for name in fed if name != source]) if source is not None else ()
    return Outlets(
        circuit,
        subject.name,
        wiring.volts[0],
        circuit.phases == THREE_PHASE,
        Decimal(circuit.amperes) if circuit.amperes is not None and circuit.amperes is not UNKNOWN else None,
        places,
        circuit.gfci is not None or circuit.afci is not None or any(place.name in graph.rooms for place in places),
        not feeds and circuit.serves != "dwelling",
        bool(old) and all(old),
        any(old) and not all(old),
        tuple(runs),
        source,
        feeds,
    )


def places_of(circuit: Circuit, runs: list[Run], graph: Graph) -> Iterable[Outlet]:
    """The places a circuit ends at, each once, in the order of its runs; not the panels."""
    new = {stop.name for run in runs if not is_old(run) for stop in run.stops}
    met: set[str] = set()
    for run in runs:
        for stop in run.stops:
            if stop.name is UNKNOWN:
                end = f"the end of {run_text(run)}"
                yield Outlet(end, run.at, "", "", False, (), True, True, is_found=False, is_old=is_old(run))
            elif stop.name not in met:
                met.add(stop.name)
                if stop.name in graph.boxes:
                    yield in_box(circuit, graph.boxes[stop.name], graph)._replace(is_old=stop.name not in new)
                elif stop.name in graph.equipment:
                    room = graph.rooms.get(stop.name)
                    name = "" if room is None or room.name is UNKNOWN else room.name
                    at, was_there = graph.equipment[stop.name].at, stop.name not in new
                    yield Outlet(stop.name, at, name, "", False, (), True, False, True, is_old=was_there)


def in_box(circuit: Circuit, box: Box, graph: Graph) -> Outlet:
    """A box with what of its lines may be on a circuit."""
    sizes = sizes_at(box.name, graph)
    own = sizes.get(circuit.name.casefold(), frozenset())
    receptacles: list[Receptacle] = []
    is_outlet = is_device = is_wired_in = False
    for item in graph.items(box):
        if isinstance(item, Carries | FixtureWires | Leads):
            is_outlet = True
            is_wired_in = (
                is_wired_in or isinstance(item, Leads) or (isinstance(item, Carries) and item.kind in WIRED_IN)
            )
        if not isinstance(item, Device) or (item.size is not UNKNOWN and UNKNOWN not in own and item.size not in own):
            continue
        possible = [
            name for name, each in sizes.items() if item.size is UNKNOWN or UNKNOWN in each or item.size in each
        ]
        for name in item.names:
            last = name.split()[-1]
            is_device = is_device or last not in NO_POWER
            is_outlet = is_outlet or last in OUTLET_DEVICES
            is_wired_in = is_wired_in or last in WIRED_IN
            if is_receptacle(name):
                protects = tuple([each for each in ("gfci", "afci") if each in name.split()])
                alone = is_single(name, item.amperes)
                sure, kind = len(possible) == 1, name.split()[0]
                receptacles.append(Receptacle(item.amperes, alone, kind, protects, sure, item.count))
    room = graph.rooms.get(box.name)
    name = "" if room is None or room.name is UNKNOWN else room.name
    near, fed = (room.near, room.protected) if room is not None else ("", False)
    return Outlet(box.name, box.at, name, near, fed, tuple(receptacles), is_outlet, is_device, is_wired_in)


def sizes_at(box: str, graph: Graph) -> dict[str, frozenset[object]]:
    """By the name of every circuit whose runs end in a box, in lower case, the sizes of their wires."""
    sizes: dict[str, set[object]] = {}
    for run, _ in graph.runs_at.get(box, ()):
        if not run.circuit or run.low_voltage:
            continue
        of_run = {run.cable.size} if run.cable is not None else {wires.size for wires in run.wires}
        for name in run.circuit.casefold().split("+"):
            sizes.setdefault(name, set()).update(of_run)
    return {name: frozenset(each) for name, each in sizes.items()}


def names_of(places: Iterable[Outlet], with_rooms: bool = True) -> str:
    """``W1 (kitchen), W2 (kitchen) and 4 more``; without rooms ``W1, W2 and 4 more``."""
    texts = [place.text if with_rooms else place.name for place in places]
    more = len(texts) - MOST_PLACES_NAMED
    return ", ".join(texts[:MOST_PLACES_NAMED]) + (f" and {more} more" if more > 0 else "")
