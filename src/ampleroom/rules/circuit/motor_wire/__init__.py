"""The wire of a motor."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.motors import CURRENT, DISCONNECT, OVERLOAD, SEVERAL, SINGLE_PHASE, THREE_PHASE, WIRE
from ampleroom.facts import Ends
from ampleroom.quantities import count
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.motors import Motor
from ampleroom.rules.circuit.protection import OF_AMPACITY, unknown_ampacity
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import remind, rule
from ampleroom.worksheet import MOTOR_WIRE as PURPOSE
from ampleroom.worksheet import Finding, Reminder

NAME = PURPOSE.name
ENDS: Ends = {field: end for field, end in {**OF_A_LEG, "breaker": "small"}.items() if field != "motor phases"}


@rule(
    NAME,
    title="Wire of a motor",
    topic="finding",
    about="circuit",
    tables=(WIRE, SEVERAL, SINGLE_PHASE, THREE_PHASE, OVERLOAD, DISCONNECT, CURRENT, *OF_AMPACITY),
    ends=ENDS,
)
def motor_wire(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """The wire of a motor has an ampacity of 125 % of the current that the table gives for its horsepower and volts,
    whatever its nameplate says. A load of the circuit beyond that current is added.

    Why: A motor draws more than its rating when it works hard or its supply sags, and nothing trips for a while.
    """
    motor = leg.motor
    if motor is None or leg.by_nameplate:
        return
    if motor.current is None:
        yield asked(NAME, leg, motor.missing, "write them, such as 230 V 3-phase, or ask its maker", book[WIRE].cite)
        return
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    yield weighed(PURPOSE, leg, carries, needed(leg, motor, book), book[WIRE].cite, book[WIRE].confidence)


def table_current(rule: str, motor: Motor) -> Figure:
    """The current of the table as a line. The motor has one."""
    assert motor.current is not None
    return Figure(rule, "Table current", motor.current, Unit.AMPERE, motor.label, motor.cite, motor.confidence)


def needed(leg: Leg, motor: Motor, book: CodeBook) -> tuple[Line, ...]:
    """What its wire needs: the motor with its part more, and what else its circuit carries."""
    terms, several = book[WIRE], book[SEVERAL]
    current = table_current(NAME, motor)
    own = Share(NAME, "Motor", terms.percent, current, "", terms.cite, terms.confidence)
    if leg.load is None or leg.load <= current.amount:
        return (own,)
    others = Figure(NAME, "Load beside the motor", leg.load - current.amount, Unit.AMPERE, leg.load_why)
    percent = several.continuous if leg.circuit.continuous else several.others
    return own, Share(NAME, "Other load", percent, others, "", several.cite, several.confidence)


def reminders(leg: Leg, book: CodeBook) -> Iterator[Reminder]:
    """What to see to at a motor: its overload device and its disconnect, and what is not judged of it."""
    if leg.motor is None or leg.by_nameplate:
        return
    overload, disconnect = book[OVERLOAD], book[DISCONNECT]
    yield remind(
        NAME,
        f"Set the overload device by the current on the motor's nameplate, not by the table: {count(overload.marked)}% "
        f"of it with a service factor of {count(overload.service_factor)} or a rise of {count(overload.rise)} C, "
        f"{count(overload.other)}% of any other. The disconnect has {count(disconnect.percent)}% of the table current.",
        overload,
    )
    yield remind(
        NAME,
        "Takes one squirrel-cage or single-phase motor that runs for hours, behind an inverse-time breaker. Not judged "
        "here: fuses, several motors on one circuit, wound-rotor and direct-current motors, drives, control circuits.",
        book[CURRENT],
    )
