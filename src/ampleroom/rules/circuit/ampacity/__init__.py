"""What a wire carries where it lies."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.cooking import OF_RANGES, load_line
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.protection import OF_AMPACITY, unknown_ampacity
from ampleroom.rules.circuit.weighed import weighed
from ampleroom.rules.circuit.wired import ENDS, Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import CONDUCTOR_AMPACITY as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(NAME, title="Load on a wire", topic="finding", about="circuit", tables=(*OF_AMPACITY, *OF_RANGES), ends=ENDS)
def conductor_ampacity(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A wire carries no more than its ampacity where it lies, corrected for heat and company, and no more than its
    terminals allow. The load counts once, the continuous part too. A household range counts for less than its
    nameplate: nobody has all of it on at once.

    Why: The breaker alone does not see a load under its rating that is still too much for a wire in a hot place.
    """
    if leg.load is None or leg.run.tap:
        return  # what of the load goes by a tap is asked of the tap
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    need = load_line(NAME, leg, leg.load, book)
    yield weighed(PURPOSE, leg, carries, (need,), carries.cite, carries.confidence)
