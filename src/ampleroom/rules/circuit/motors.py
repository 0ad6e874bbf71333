"""What the motor of a circuit draws, by the table of its horsepower, and whether a breaker of the usual size starts
it.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ampleroom.editions import CodeBook
from ampleroom.editions.motors import DEVICE, SINGLE_PHASE, THREE_PHASE, WILL_NOT_START
from ampleroom.editions.protection import STANDARD
from ampleroom.facts import fact_of
from ampleroom.job.carrying import is_split_phase
from ampleroom.job.trade import MOTOR_VOLTS
from ampleroom.job.trade import THREE_PHASE as THREE
from ampleroom.record import TupleRecord

if TYPE_CHECKING:
    from ampleroom.rules.circuit.wired import Wiring

HUNDRED = Decimal(100)
BREAKER = "inverse-time breaker"
"""What a panel's breaker is, among the devices of the table. Common practice, no source."""


class Motor(TupleRecord):
    """A motor and its current."""

    label: str
    """``5 hp motor, 230 V, 3-phase``."""
    current: Decimal | None = None
    """Amperes by the table; None where it has none."""
    missing: str = ""
    """Why it has none."""
    cite: str = ""
    confidence: str = ""
    starts: bool = True
    """Whether it starts on a breaker of the usual size."""


def motor_of(wiring: Wiring, breaker: Decimal) -> Motor | None:
    """The motor of a circuit; None where it has none. Asks for its phases, and whether it starts, where they matter."""
    circuit, book = wiring.circuit, wiring.book
    if not circuit.horsepower:
        return None
    label = f"{circuit.horsepower} hp motor"
    panel = wiring.panel
    if circuit.volts is None and (panel is None or len(panel.volts) != 1):
        return Motor(label, missing=f"the volts of the motor on {wiring.subject.name} are not written")
    volts, _ = wiring.volts
    rated = next((rated for rated, (low, high) in MOTOR_VOLTS.items() if low <= volts <= high), None)
    if rated is None:
        return Motor(label, missing=f"the table of motors has no column for {volts} V")
    three_phase = wiring.circuit.phases
    if three_phase is None and panel is not None:
        three_phase = 1 if is_split_phase(panel) else panel.phases
    able = [phases for phases in (1, THREE) if current(book, phases, circuit.horsepower, rated) is not None]
    if three_phase is None and able:
        text = f"whether the motor on {wiring.subject.name} is single-phase or 3-phase"
        names = tuple([f"{phases}-phase" for phases in able])
        three_phase = wiring.choose(fact_of(circuit, "motor phases"), text, tuple(able), names)
    if three_phase not in able:
        phases = f", {three_phase}-phase" if three_phase else ""
        return Motor(label, missing=f"the table has no current for {circuit.horsepower} hp at {rated} V{phases}")
    amperes = current(book, three_phase, circuit.horsepower, rated)
    table = book[THREE_PHASE] if three_phase == THREE else book[SINGLE_PHASE]
    row = next(row for row in table.rows if row.hp == circuit.horsepower)
    label = f"{label}, {rated} V, {three_phase}-phase"
    motor = Motor(label, amperes, "", table.cite, row.confidence or table.confidence)
    usual, most = usual_breaker(motor, book), largest_breaker(motor, book)
    if not usual < breaker <= most:
        return motor
    text = f"whether the motor on {wiring.subject.name} starts on {usual} A"
    return motor._replace(starts=wiring.choose(fact_of(circuit, "motor start"), text, (False, True), ("no", "yes")))


def current(book: CodeBook, phases: int, horsepower: str, rated: int) -> Decimal | None:
    """The current in the table, amperes; None where none is printed."""
    rows = book[THREE_PHASE].rows if phases == THREE else book[SINGLE_PHASE].rows
    row = next((row for row in rows if row.hp == horsepower), None)
    amperes: Decimal | None = getattr(row, f"at_{rated}", None)
    return amperes


def usual_breaker(motor: Motor, book: CodeBook) -> Decimal:
    """The largest breaker of a motor that starts on it, amperes: the share of its current, or the next rating."""
    amperes = percent(book) * (motor.current or Decimal(0)) / HUNDRED
    return min((Decimal(each) for each in book[STANDARD].ratings if each >= amperes), default=amperes)


def largest_breaker(motor: Motor, book: CodeBook) -> Decimal:
    """The largest breaker of one that does not start on that, amperes."""
    return percent_at_most(motor, book) * (motor.current or Decimal(0)) / HUNDRED


def percent(book: CodeBook) -> Decimal:
    """The percent of its current that the breaker of a motor may have."""
    return next(row.percent for row in book[DEVICE].rows if row.device == BREAKER)


def percent_at_most(motor: Motor, book: CodeBook) -> Decimal:
    """The percent of its current that the breaker of a motor may have at most where it does not start."""
    row = next(row for row in book[WILL_NOT_START].rows if row.device == BREAKER)
    is_small = row.small is None or motor.current is None or motor.current <= row.small
    return row.percent if is_small or row.larger is None else row.larger


__all__ = ["Motor", "current", "largest_breaker", "motor_of", "percent", "percent_at_most", "usual_breaker"]
