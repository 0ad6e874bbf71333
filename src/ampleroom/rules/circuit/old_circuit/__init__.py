"""Old circuits: what a replaced receptacle gets, and what an extension does."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import ARC_FAULT, EXTENSION, REPLACEMENT
from ampleroom.job.trade import NOMINAL_120
from ampleroom.quantities import count
from ampleroom.rules.circuit.outlets import Outlets
from ampleroom.rules.registry import remind, rule
from ampleroom.words import NO_GROUND_IN_THE_BOX, OLD_CIRCUIT_EXTENDED, OLD_WIRING_MAY_STAY
from ampleroom.worksheet import Reminder

NAME = "old-circuit"


@rule(
    NAME,
    title="Old circuits",
    topic="reminder",
    about="outlets",
    tables=(REPLACEMENT, EXTENSION, ARC_FAULT),
)
def old_circuit(outlets: Outlets, book: CodeBook) -> Iterator[Reminder]:
    """Wiring that was there before may stay. A receptacle that is replaced gets the protection a new one would have,
    and a circuit that is made longer gets arc-fault protection in the rooms where it is asked for.

    Why: The work at hand is the moment when an old circuit is made safer for little money.
    """
    is_small = outlets.amperes is None or outlets.amperes <= max(book[ARC_FAULT].amperes)
    if not outlets.is_branch or outlets.volts not in NOMINAL_120 or not is_small:
        return
    if outlets.is_old or outlets.is_extended:
        terms = book[REPLACEMENT]
        what = "ground-fault and arc-fault protection" if terms.arc_fault else "ground-fault protection"
        yield remind(NAME, OLD_WIRING_MAY_STAY.format(what) + NO_GROUND_IN_THE_BOX, terms)
    extension = book[EXTENSION]
    if outlets.is_extended and extension.asked:
        most = f"; up to {count(extension.feet)} ft more wire without an outlet or device is let be"
        yield remind(NAME, OLD_CIRCUIT_EXTENDED.format(most if extension.feet else ""), extension)


__all__ = ["NAME", "old_circuit"]
