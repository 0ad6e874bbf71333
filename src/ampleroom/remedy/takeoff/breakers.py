"""Breakers, by amperes, poles and what they guard against."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.subjects import is_rated_circuit
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.breakers import breaker_of
from ampleroom.remedy.takeoff.count import Count, TakeoffLine, Tally


def breaker_lines(count: Count) -> Iterator[TakeoffLine]:
    """The breaker of every circuit some of whose wire is new. One that is not written is noted."""
    tally = Tally("breakers")
    graph = count.job.graph
    for circuit in count.job.circuits:
        runs = graph.runs_of.get(circuit.name.casefold(), ())
        if not is_rated_circuit(circuit) or not any(map(count.is_bought, runs)):
            continue
        if circuit.amperes is None or circuit.amperes is UNKNOWN:
            count.missing.append(f"the breaker of circuit {circuit.name} (line {circuit.at.line})")
            continue
        breaker = breaker_of(circuit, circuit.amperes, graph)
        stocked = breaker.stocked(count.stock)
        count.minutes += count.stock.minutes.breaker
        if stocked is not None:
            tally.add(stocked.name, stocked.price, 1)
        else:
            tally.add(breaker.text, None, 1)
    yield from tally.lines()
