"""The breaker against the load of its circuit."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import CHARGING, SPACE_HEAT, WATER_HEATER
from ampleroom.editions.protection import CONTINUOUS
from ampleroom.facts import Ends
from ampleroom.rules.circuit.continuous import lasting
from ampleroom.rules.circuit.cooking import OF_RANGES, load_line
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import BREAKER_LOAD as PURPOSE
from ampleroom.worksheet import Finding, Verdict

NAME = PURPOSE.name
ASKED = ("water heater", "heat", "charger")
"""What has to have a load in the sheet: its wire and breaker are sized by it."""
NEITHER = [field for field in OF_A_LEG if field != "motor phases"]
ENDS: Ends = {**dict.fromkeys(NEITHER, "neither"), "breaker": "small", "load": "large"}


@rule(
    NAME,
    title="Load on a breaker",
    topic="finding",
    about="circuit",
    tables=(CONTINUOUS, WATER_HEATER, SPACE_HEAT, CHARGING, *OF_RANGES),
    ends=ENDS,
)
def breaker_load(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A breaker is rated for the load of its circuit, and for 125 % of a continuous one, which lasts for hours. A
    breaker listed for all of its rating is the exception; no sheet says that, so it is not taken. A motor has rules of
    its own, and so has equipment with a nameplate; that a breaker under what they draw would trip is said as advice. A
    household range counts for less than its nameplate: nobody has all of it on at once.

    Why: A breaker in a warm panel trips below its rating when it is loaded for hours.
    """
    terms, load = book[CONTINUOUS], carried(leg, book)
    if load is None:
        if leg.circuit.serves in ASKED:
            question = f"the load of its {leg.circuit.serves} is not written"
            yield asked(NAME, leg, question, "read it on the nameplate and write it: 4500 VA", terms.cite)
        return
    have = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    is_special = leg.motor is not None or leg.by_nameplate
    otherwise = Verdict.ADVICE if is_special else Verdict.FAILS
    yield weighed(
        PURPOSE,
        leg,
        have,
        (load,),
        terms.cite,
        terms.confidence,
        of_wire=False,
        otherwise=otherwise,
    )


def carried(leg: Leg, book: CodeBook) -> Line | None:
    """The load a breaker has to carry; None where none is known. A motor, and what has a nameplate, count once: their
    own rules have what is added.
    """
    terms = book[CONTINUOUS]
    motor = leg.motor
    if motor is not None and motor.current is not None and (leg.load is None or leg.load < motor.current):
        return Figure(NAME, "Load", motor.current, Unit.AMPERE, motor.label, motor.cite, motor.confidence)
    if leg.load is None:
        return None
    load = load_line(NAME, leg, leg.load, book, terms.cite)
    lasts = lasting(leg, book)
    if lasts is None:
        return load
    more, why = lasts
    return Share(NAME, "Continuous load", more.percent, load, why, more.cite, more.confidence)
