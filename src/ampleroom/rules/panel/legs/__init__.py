"""The legs of a panel: what must not sit on one leg, and what each carries."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

from ampleroom.arithmetic import ZERO
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.carrying import SPLIT_PHASE
from ampleroom.job.poles import leg_of
from ampleroom.job.trade import LEGS_OF_A_PANEL
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import listed
from ampleroom.rules.circuit.multiwire import LEGS as SHARED
from ampleroom.rules.panel.laid_out import MOST_LEGS, LaidOut, Placed, number_of, spaces_named
from ampleroom.rules.registry import remind, rule
from ampleroom.worksheet import Finding, OpenFact, Reminder, Verdict

NAME = "panel-legs"
TWO_POLE = Table("panels.two_pole", Cited, __file__)
BALANCE = Table("panels.balance", Cited, __file__)
SUPPLY = "write 120/240 V, or 3-phase, in its line"


@rule(NAME, title="Legs of a panel", topic="finding", about="panel", tables=(TWO_POLE, SHARED, BALANCE))
def panel_legs(known: LaidOut, book: CodeBook) -> Iterator[Finding]:
    """A breaker of two or three poles sits in spaces next to each other in one column, each on another leg. Circuits
    that share a neutral sit on different legs. Odd spaces are taken to be on the left and even ones on the right, and
    each row of two on the next leg: the first on A, the one under it on B.

    Why: Two poles of one leg have no volts between them, and on one leg a shared neutral carries the sum of both
    circuits with nothing to trip.
    """
    fine: list[str] = []
    for each in known.placed:
        terms = book[TWO_POLE]
        verdict, text = poles_text(known, each)
        if verdict is Verdict.PASSES:
            fine += [text] if text else []
        else:
            yield found(known, verdict, text, terms, (each,))
    for group in known.shared:
        verdict, text = shared_text(known, group)
        if verdict is Verdict.PASSES:
            fine.append(text)
        else:
            yield found(known, verdict, text, book[SHARED], group)
    if fine:
        terms = book[SHARED if known.shared else TWO_POLE]
        yield Finding(NAME, Verdict.PASSES, known.name, f"{known.name}: {'; '.join(fine)}", terms.cite, known.panel.at,
                      confidence=terms.confidence)  # fmt: skip


def found(known: LaidOut, verdict: Verdict, text: str, terms: Cited, circuits: tuple[Placed, ...]) -> Finding:
    """A finding that does not pass; a question where it is open."""
    at = circuits[0].circuit.at
    facts = (OpenFact(text, ZERO, "look at the panel and correct the sheet", at),) if verdict is Verdict.OPEN else ()
    also = (known.panel.at, *(each.circuit.at for each in circuits[1:]))
    return Finding(NAME, verdict, known.name, f"{known.name}: {text}", terms.cite, at, None, None, facts, also,
                   terms.confidence)  # fmt: skip


def poles_text(known: LaidOut, each: Placed) -> tuple[Verdict, str]:
    """Of one circuit whether its poles are where they belong; of one pole in one space nothing."""
    spaces, where = each.spaces, spaces_named(each.spaces)
    if len(spaces) != each.poles:
        poles = f"{each.poles} pole{'s' if each.poles > 1 else ''}"
        return Verdict.OPEN, f"where {each.name} sits: its volts ask for {poles}, and it is written in {where}"
    if each.poles == 1:
        return Verdict.PASSES, ""
    ways = known.leg_sets(spaces)
    apart = [len(set(legs)) == len(legs) for legs in ways]
    if not any(apart):
        return Verdict.FAILS, f"{each.name} has its poles on one leg in {where} ({legs_text(ways[0])})"
    if not all(apart):
        return Verdict.OPEN, f"how many legs {known.name} has: {SUPPLY}; {each.name} is in {where}"
    numbers = sorted({number_of(space) for space in spaces})
    if len(numbers) < len(spaces) or any(after - before != 2 for before, after in pairwise(numbers)):
        return Verdict.OPEN, f"where {each.name} sits: {where} are not next to each other in one column"
    legs = f" ({legs_text(ways[0])})" if known.legs else ""
    return Verdict.PASSES, f"{each.name} in {where} on different legs{legs}"


def shared_text(known: LaidOut, group: tuple[Placed, ...]) -> tuple[Verdict, str]:
    """Of circuits that share a neutral whether they sit on different legs."""
    names = listed([each.name for each in group])
    spaces = tuple([space for each in group for space in each.spaces])
    ways = known.leg_sets(spaces)
    apart = [len(set(legs)) == len(legs) for legs in ways]
    where = f"{spaces_named(spaces)} ({legs_text(ways[0])})" if known.legs else spaces_named(spaces)
    if not any(apart):
        return Verdict.FAILS, f"{names} share a neutral and sit on one leg, in {where}"
    if not all(apart):
        return Verdict.OPEN, f"how many legs {known.name} has: {SUPPLY}; {names} share a neutral"
    return Verdict.PASSES, f"{names} share a neutral, on different legs, in {where}"


def legs_text(legs: list[str]) -> str:
    """``A, B``."""
    return ", ".join(legs)


def loads_of(known: LaidOut) -> tuple[dict[str, Decimal], list[Placed]]:
    """The VA on each leg, of the circuits whose spaces and loads are written, each pole its part; and the circuits
    whose load or space is not written.
    """
    legs = known.legs or 0
    sums = {leg_of(str(row), legs): ZERO for row in range(1, 2 * legs, 2)}
    without: list[Placed] = []
    for each, wiring in known.loads:
        load = wiring.subject.placed if each.circuit.load in (None, UNKNOWN) else each.circuit.load
        if not isinstance(load, Decimal) or not each.spaces:
            without.append(each)
            continue
        for space in each.spaces:
            sums[leg_of(space, legs)] += load / len(each.spaces)
    return sums, without


def whole(value: Decimal) -> str:
    """VA to the nearest one: ``4800``."""
    return f"{value.quantize(Decimal(1), ROUND_HALF_UP):f}"


def reminders(known: LaidOut, book: CodeBook) -> Iterator[Reminder]:
    """How the loads written are spread over the legs, and a leg that is high."""
    if known.legs is None:
        text = f"The legs of {known.name} are not known, and so is their balance: {SUPPLY}."
        yield remind(NAME, text, book[BALANCE])
        return
    is_high = known.panel.volts == SPLIT_PHASE and known.legs == MOST_LEGS
    alone = [
        each.name
        for each in known.placed
        if is_high and each.poles == 1 and known.leg_sets(each.spaces) == [[LEGS_OF_A_PANEL[1]]]
    ]
    if alone:
        text = (
            f"Of 120/240 V in 3 phases leg B is usually the high one: no 120 V circuit on it. Look at {listed(alone)}."
        )
        yield remind(NAME, text, book[TWO_POLE], caution=True)
    sums, without = loads_of(known)
    if any(sums.values()):
        parts = listed([f"leg {leg} {whole(va)} VA" for leg, va in sums.items()])
        apart = whole(max(sums.values()) - min(sums.values()))
        rest = f" Without {listed([each.name for each in without])}." if without else ""
        text = f"Loads as written: {parts}, {apart} VA apart.{rest} No rule asks for balance (common practice)."
        yield remind(NAME, text, book[BALANCE])


__all__ = ["NAME", "loads_of", "panel_legs", "reminders"]
