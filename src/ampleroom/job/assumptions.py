"""What a job's answers take as meant though its sheet does not say it. Each is told once, above all boxes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from ampleroom.job.model import Box, Job, Kind, Uncounted
from ampleroom.job.subjects import is_rated_circuit
from ampleroom.job.unknown import UNKNOWN

MOST_NAMED = 6
"""So many lines or places are named; of more, how many."""


def assumptions_of(job: Job) -> tuple[str, ...]:
    """A sentence or two for each thing assumed, with the lines of the sheet concerned."""
    told = (usual_cable, uncounted, passed_boxes, unsaid_ends, parted_raceways, unsaid_splices, usual_heat, rooms)
    return tuple([text for of in told if (text := of(job))])


def usual_cable(job: Job) -> str:
    """Of runs whose kind of cable is not written; else empty."""
    lines = [run.at.line for run in job.runs if run.kind_assumed]
    if not lines:
        return ""
    return f"Assumes NM-B where no kind of cable is written{lines_text(lines)}. If it is not, add a line: cable mc"


def uncounted(job: Job) -> str:
    """What is written under boxes and counts for nothing; else empty."""
    places: tuple[Kind | Box, ...] = (*job.kinds, *job.boxes)
    names = {item.kind: None for place in places for item in place.items if isinstance(item, Uncounted)}
    return f"Takes no room in the count: {', '.join(names)}" if names else ""


def passed_boxes(job: Job) -> str:
    """Of boxes that wires pass because two of their raceways meet there, though their line does not say so; else
    empty.
    """
    if not job.raceways:
        return ""
    derived = [(passed.name, run) for run in job.runs for passed in run.through if passed.derived]
    if not derived:
        return ""
    named = first_few(f"{name}{lines_text([run.at.line])}" for name, run in derived)
    name, run = derived[0]
    ends = " > ".join(["?" if stop.name is UNKNOWN else stop.name for stop in (run.stops[0], run.stops[-1])])
    return (
        f"Takes wires to go straight through where two of their raceways meet: {named}. If they are spliced there, "
        f"write the box between the ends, such as: {ends.replace(' > ', f' > {name} > ', 1)}"
    )


def unsaid_ends(job: Job) -> str:
    """Of runs that neither stop nor pass where a raceway they lie in ends; else empty."""
    if not job.raceways:
        return ""
    ends = job.graph.unsaid_ends
    if not ends:
        return ""
    named = first_few(f"{raceway.name} at {place}{lines_text([run.at.line])}" for run, raceway, place in ends)
    _, _, place = ends[0]
    return (
        f"Assumes that nothing passes where a raceway ends unless its run says so: {named}. If the wires pass there, "
        f"they count in that box: write through {place}"
    )


def parted_raceways(job: Job) -> str:
    """Of single wires that go from one raceway into another that does not meet it; else empty."""
    if not job.raceways:
        return ""
    parted = job.graph.parted_raceways
    if not parted:
        return ""
    named = first_few(f"{first.name} and {second.name}{lines_text([run.at.line])}" for run, first, second in parted)
    _, first, second = parted[0]
    return (
        f"Assumes another raceway between two that do not meet: {named}. "
        f"Name it, such as: in {first.name} then emt ? then {second.name}"
    )


def unsaid_splices(job: Job) -> str:
    """Of wireways and gutters without a word about splices in which no run ends; else empty."""
    ending = {stop.name for run in job.runs for stop in run.stops} if job.wireways else set()
    unsaid = [each for each in job.wireways if each.splices is None and each.name not in ending]
    if not unsaid:
        return ""
    named = first_few(f"{wireway.name}{lines_text([wireway.at.line])}" for wireway in unsaid)
    return f"Assumes no splices and no taps in {named}. Look, and write no splices, or what they take: splices 6 in2"


def usual_heat(job: Job) -> str:
    """Of circuits with wires along which no route says how warm it is; else empty."""
    rated = {circuit.name.casefold() for circuit in job.circuits if is_rated_circuit(circuit)}
    if not rated:
        return ""
    routes = job.graph.routes
    for run in job.runs:
        is_cool = all(routes[route.name].ambient is None for route in run.routes if route.name in routes)
        if is_cool and not rated.isdisjoint(run.circuit.casefold().split("+")):
            return (
                "Assumes 30 C (86 F) around the wires of a circuit where no route says how warm it is. Where it is "
                "warmer, write a route and name it in the run: route attic ambient 110 F; by attic"
            )
    return ""


def rooms(job: Job) -> str:
    """Of rooms: that they are those of a dwelling; of a job with receptacles on circuits and no room, that protection
    by room is not judged. Else empty.
    """
    if job.graph.rooms:
        return (
            "Takes the rooms that are written as those of a dwelling. Ground-fault and arc-fault protection in other "
            "buildings is not judged here"
        )
    rated = [circuit.name.casefold() for circuit in job.circuits if is_rated_circuit(circuit)]
    if any(job.graph.receptacles_fed.get(name) for name in rated):
        return (
            "Not judged: ground-fault and arc-fault protection, as no box says its room. Write it under a box or a "
            "kind, such as room kitchen counter, room bathroom, room outdoors"
        )
    return ""


def first_few(names: Iterable[str]) -> str:
    """``R1 at J2 (line 12), R1 at J5 (line 14) and 3 more``; each once."""
    every = list(dict.fromkeys(names))
    more = len(every) - MOST_NAMED
    return ", ".join(islice(every, MOST_NAMED)) + (f" and {more} more" if more > 0 else "")


def lines_text(lines: list[int]) -> str:
    """`` (line 3)``, `` (lines 3, 4, 9)``; nothing for records that were not read from a sheet."""
    known = [str(line) for line in dict.fromkeys(lines) if line]
    return f" (line{'s' if len(known) > 1 else ''} {first_few(known)})" if known else ""


__all__ = ["assumptions_of"]
