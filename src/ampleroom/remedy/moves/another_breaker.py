"""Moves: a smaller breaker for a circuit's wire, or a larger one for its load."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions.protection import RECEPTACLES
from ampleroom.job.edit import PutCircuit
from ampleroom.job.model import Circuit
from ampleroom.record import replace
from ampleroom.remedy.breakers import breaker_of
from ampleroom.remedy.circuit_in_place import CircuitInPlace, legs_failing
from ampleroom.remedy.moves.thicker_wire import rewired, thicker, wires_text
from ampleroom.remedy.remedy import Disturbance, Move
from ampleroom.rules.circuit import breaker_load
from ampleroom.sizing.circuit import ratings, with_breaker
from ampleroom.worksheet import Verdict

NO_LOAD = "{0} A carries what is on it: its load is not written"
LEAST_RATING = "it is no kitchen, laundry or bathroom receptacle circuit: those may not be {0} A"


def smaller_breaker(placed: CircuitInPlace) -> Iterator[Move]:
    """The largest standard rating below its own with which the circuit passes: it protects the wire, or is what a
    nameplate or a motor allows, and carries the load.
    """
    if not placed.fails or placed.amperes is None:
        return
    for amperes in reversed([rating for rating in ratings(placed.book) if rating < placed.amperes]):
        if placed.passes_as(with_breaker(placed.subject, amperes), placed.job):
            yield with_another(placed, amperes)
            return


def larger_breaker(placed: CircuitInPlace) -> Iterator[Move]:
    """The smallest standard rating above its own that carries the load; with thicker wire where the wire is too thin
    for it.
    """
    if placed.amperes is None or not too_much_load(placed):
        return
    for amperes in (rating for rating in ratings(placed.book) if rating > placed.amperes):
        tried = with_breaker(placed.subject, amperes)
        if placed.passes_as(tried, placed.job):
            yield with_another(placed, amperes)
            return
        legs = legs_failing(tried, placed.job, placed.book)
        carries = all(
            finding.verdict is not Verdict.FAILS
            for finding in placed.findings_as(tried)
            if finding.rule == breaker_load.NAME
        )
        pairs = thicker(placed, tried, placed.job, legs) if carries and legs else None
        if pairs:
            wire = rewired(placed, pairs, f"use {wires_text(pairs)}")
            yield with_both(with_another(placed, amperes), wire)
            return


def too_much_load(placed: CircuitInPlace) -> bool:
    """Whether the load is more than the breaker carries."""
    return any(
        finding.rule == breaker_load.NAME and finding.verdict is Verdict.FAILS for finding in placed.report.findings
    )


def with_another(placed: CircuitInPlace, amperes: int) -> Move:
    """The move to a breaker of so many amperes."""
    circuit: Circuit = replace(placed.circuit, amperes=amperes)
    breaker = breaker_of(circuit, amperes, placed.job.graph)
    buys, notes = breaker.bought(placed.stock)
    assert placed.amperes is not None  # of one that is not written none is offered
    is_smaller = amperes < placed.amperes
    said = (circuit.load, placed.subject.placed, circuit.mca)
    if is_smaller and all(each is None for each in said) and not circuit.horsepower:
        notes = (NO_LOAD.format(amperes), *notes)
    smallest = min(row.circuit for row in placed.book[RECEPTACLES].rows)
    if is_smaller and amperes <= smallest and placed.job.graph.receptacles_fed.get(circuit.name.casefold()):
        notes = (LEAST_RATING.format(amperes), *notes)
    if not is_smaller:
        notes = (f"what it feeds allows {amperes} A: see its nameplate", *notes)
    return Move(
        placed.name,
        f"use a {breaker.text} instead of {placed.amperes} A",
        (PutCircuit(circuit, placed.circuit),),
        buys,
        placed.stock.minutes.breaker,
        Disturbance.COVER_OFF,
        notes=notes,
        leaves="passes",
        unpriced=not buys,
    )


def with_both(breaker: Move, wire: Move) -> Move:
    """A breaker with the wire it needs."""
    return replace(
        breaker,
        action=f"{breaker.action}, and {wire.action}",
        change=breaker.change + wire.change,
        buys=breaker.buys + wire.buys,
        minutes=breaker.minutes + wire.minutes,
        disturbance=max(breaker.disturbance, wire.disturbance),
        notes=breaker.notes + wire.notes,
        rates=wire.rates,
        unpriced=breaker.unpriced or wire.unpriced,
    )


__all__ = ["larger_breaker", "smaller_breaker"]
