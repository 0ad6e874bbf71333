"""Where the wires of a circuit end: what to see to at its terminals, and what is bonded."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.cables import conductors_of
from ampleroom.job.model import Run
from ampleroom.job.trade import BRANCH_SIZES
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.circuit.outlets import Outlets
from ampleroom.rules.registry import remind, rule
from ampleroom.words import ALUMINUM_ENDS, NEUTRAL_APART, ONE_WIRE_A_TERMINAL, SERVICE_BONDED, TORQUE
from ampleroom.worksheet import Reminder

NAME = "wire-ends"
ONE_WIRE = Table("wire_ends.one_wire", Cited, __file__)
TORQUE_TERMS = Table("wire_ends.torque", Cited, __file__)
METALS = Table("wire_ends.metals", Cited, __file__)
NEUTRAL = Table("wire_ends.neutral", Cited, __file__)
SERVICE = Table("wire_ends.service", Cited, __file__)


@rule(
    NAME,
    title="Wire ends and bonding",
    topic="reminder",
    about="outlets",
    tables=(ONE_WIRE, TORQUE_TERMS, METALS, NEUTRAL, SERVICE),
)
def wire_ends(outlets: Outlets, book: CodeBook) -> Iterator[Reminder]:
    """A terminal takes one wire unless it is marked for more: told where several runs of a circuit leave its panel.
    Lugs are tightened to their torque: told of wires that end in lugs. Aluminum ends in terminals marked for it. In a
    panel that a feeder feeds, neutral and ground are kept apart.

    Why: Wires burn where they end, and a neutral bonded in another place too puts current on everything metal.
    """
    if outlets.is_old:
        return
    leaving = [run for run in outlets.runs if outlets.source in [stop.name for stop in (run.stops[0], run.stops[-1])]]
    if not outlets.feeds and (len(leaving) > 1 or any(run.count not in (1, UNKNOWN) for run in leaving)):
        yield remind(NAME, ONE_WIRE_A_TERMINAL.format(outlets.name, outlets.source), book[ONE_WIRE])
    aluminum = [run for run in outlets.runs if run.material == "aluminum"]
    if aluminum:
        yield remind(NAME, ALUMINUM_ENDS, book[METALS], caution=True)
    if aluminum or any(map(ends_in_lugs, outlets.runs)):
        yield remind(NAME, TORQUE, book[TORQUE_TERMS])
    if outlets.feeds and outlets.circuit.serves != "dwelling":
        yield remind(NAME, NEUTRAL_APART.format(" and ".join(outlets.feeds)), book[NEUTRAL], caution=True)
    if outlets.circuit.serves == "dwelling":
        yield remind(NAME, SERVICE_BONDED, book[SERVICE], caution=True)


def ends_in_lugs(run: Run) -> bool:
    """Whether a run has an insulated wire thicker than those of branch circuits to outlets."""
    sizes = [wires.size for wires in conductors_of(run) if wires.role == "insulated"]
    return any(size is not UNKNOWN and size not in BRANCH_SIZES for size in sizes)


__all__ = ["NAME", "wire_ends"]
