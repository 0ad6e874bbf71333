"""What a dwelling loads its service with by what was measured."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Counted, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import CHARGING, METERED
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import number
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried
from ampleroom.rules.load.weighed import weighed
from ampleroom.rules.registry import rule
from ampleroom.worksheet import METERED_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Load of a dwelling by its greatest demand",
    topic="finding",
    about="load",
    tables=(METERED, CHARGING, STANDARD),
    ends={**ENDS, "floor area": "neither", "controls": "neither", "beside the lights": "neither"},
)
def metered_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """Where the greatest demand of a year was measured, or that of a month recorded, a percent of it stands for what is
    there; what is new is added in full.

    Why: A measured house needs no estimate. The margin is for a year unlike the last.
    """
    terms = book[METERED]
    if what.metered is None:
        return
    measured = Counted(NAME, "Measured", what.metered, what.volts, f"A at {number(what.volts, 0)} V", "", unit=Unit.VA)
    share = Share(NAME, "Greatest demand", terms.percent, measured, "", terms.cite, terms.confidence)
    charging = book[CHARGING]
    new = [
        demand.items_line(NAME, item, charging.least, "", charging)
        if item.kind.counts_as == "charger"
        else demand.items_line(NAME, item)
        for item in what.items
        if item.is_new
    ]
    yield weighed(PURPOSE, what, (share, *new), terms, book)
