"""What a wire carries where it lies."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.protection import OF_AMPACITY, unknown_ampacity
from ampleroom.rules.circuit.weighed import weighed
from ampleroom.rules.circuit.wired import ENDS, ZERO, Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import CONDUCTOR_AMPACITY as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = PURPOSE.name


@rule(NAME, title="Load on a wire", topic="finding", about="circuit", tables=OF_AMPACITY, ends=ENDS)
def conductor_ampacity(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A wire carries no more than its ampacity where it lies, corrected for heat and company, and no more than its
    terminals allow. The load counts once, the continuous part too. A range may draw less than its nameplate, which is
    not worked out: where the nameplate is too much, that is asked.

    Why: The breaker alone does not see a load under its rating that is still too much for a wire in a hot place.
    """
    if leg.load is None:
        return
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    need = Figure(NAME, "Load", leg.load, Unit.AMPERE, leg.load_why)
    otherwise = Verdict.OPEN if leg.may_draw_less else Verdict.FAILS
    facts = (demand_of_a_range(leg),)
    yield weighed(PURPOSE, leg, carries, (need,), carries.cite, carries.confidence, otherwise=otherwise, facts=facts)


def demand_of_a_range(leg: Leg) -> OpenFact:
    """What has to be found out where the nameplate of a range is more than its circuit carries."""
    question = f"the demand of the range of {leg.name}, which is less than its nameplate"
    return OpenFact(question, ZERO, "not worked out here; write it as the load", leg.circuit.at)
