"""What a wire carries where it lies."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.protection import OF_AMPACITY, unknown_ampacity
from ampleroom.rules.circuit.wired import ENDS, Leg
from ampleroom.rules.registry import rule
from ampleroom.words import weighed_message
from ampleroom.worksheet import CONDUCTOR_AMPACITY as PURPOSE
from ampleroom.worksheet import Finding, Worksheet

NAME = PURPOSE.name


@rule(NAME, title="Load on a wire", topic="finding", about="circuit", tables=OF_AMPACITY, ends=ENDS)
def conductor_ampacity(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A wire carries no more than its ampacity where it lies, corrected for heat and company, and no more than its
    terminals allow. The load counts once, the continuous part too.

    Why: The breaker alone does not see a load under its rating that is still too much for a wire in a hot place.
    """
    if leg.load is None:
        return
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, str(missing), book)
        return
    need = Figure(NAME, "Load", leg.load, Unit.AMPERE, leg.load_why)
    sheet = Worksheet((carries,), (need,), PURPOSE)
    verdict = sheet.verdict
    yield Finding(
        NAME,
        verdict,
        leg.name,
        weighed_message(leg.title, verdict, sheet),
        carries.cite,
        leg.circuit.at,
        worst=sheet,
        also=tuple([run.at for run in leg.runs]),
        confidence=carries.confidence,
    )
