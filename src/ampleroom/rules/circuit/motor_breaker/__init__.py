"""The breaker of a motor."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Line, Next, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.motors import DEVICE, SINGLE_PHASE, THREE_PHASE, WILL_NOT_START
from ampleroom.editions.protection import STANDARD
from ampleroom.facts import Ends
from ampleroom.rules.circuit.motor_wire import table_current
from ampleroom.rules.circuit.motors import Motor, percent, percent_at_most
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import MOTOR_BREAKER as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
TRIED = ("breaker", "motor phases", "motor start")
"""Each of their values is tried: of a large breaker it matters whether the motor starts on a smaller one."""
ENDS: Ends = {field: "neither" for field in OF_A_LEG if field not in TRIED}


@rule(
    NAME,
    title="Breaker of a motor",
    topic="finding",
    about="circuit",
    tables=(DEVICE, WILL_NOT_START, STANDARD, SINGLE_PHASE, THREE_PHASE),
    ends=ENDS,
)
def motor_breaker(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """The breaker of a motor may have 250 % of the current that the table gives for its horsepower and volts, or the
    next standard rating. Where the motor does not start on that, it may have more.

    Why: A motor draws many times its current while it starts; its overload device guards the wire afterwards.
    """
    motor = leg.motor
    if motor is None or leg.by_nameplate:
        return
    terms = book[DEVICE]
    if motor.current is None:
        yield asked(NAME, leg, motor.missing, "write them, such as 230 V 3-phase, or ask its maker", terms.cite)
        return
    need = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    have = largest(motor, book)
    yield weighed(PURPOSE, leg, have, (need,), have.cite, have.confidence, of_wire=False)


def largest(motor: Motor, book: CodeBook) -> Line:
    """The largest breaker it may have."""
    current, terms, most = table_current(NAME, motor), book[DEVICE], book[WILL_NOT_START]
    if not motor.starts:
        why = "it does not start on less"
        return Share(NAME, "Most", percent_at_most(motor, book), current, why, most.cite, most.confidence)
    part = Share(NAME, "Motor", percent(book), current, "", terms.cite, terms.confidence)
    ratings = tuple(map(Decimal, book[STANDARD].ratings))
    return Next(NAME, "Next standard rating", part, ratings, "", terms.cite, terms.confidence)
