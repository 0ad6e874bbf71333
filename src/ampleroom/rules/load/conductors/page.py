"""What ``rule service-conductors`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.protection import DWELLING
from ampleroom.rules.circuit.electrode.page import SENTENCES as OF_ELECTRODES
from ampleroom.rules.circuit.protection.page import SENTENCES as OF_PROTECTION

TRADE_WORDS = ("service wire size", "service entrance conductors", "gec size")
SENTENCES = (
    *(each for each in OF_PROTECTION if each.tables in ((DWELLING,), (AMPACITY,))),
    *OF_ELECTRODES[:2],
)
