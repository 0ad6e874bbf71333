"""What several dwellings load one service with by the optional method."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Share
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import APARTMENTS, CHARGING, HEAT_OR_COOLING
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import count
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried
from ampleroom.rules.load.weighed import weighed
from ampleroom.rules.registry import rule
from ampleroom.worksheet import APARTMENTS_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Load of apartments, optional method",
    topic="finding",
    about="load",
    tables=(*demand.GENERAL, APARTMENTS, CHARGING, HEAT_OR_COOLING, STANDARD),
    ends=ENDS,
)
def apartments_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """Several dwellings under one service may count all that is connected by one percent, the less the more dwellings
    there are: where each has electric cooking, and electric heat or cooling or both. Of heat and cooling the larger is
    connected.

    Why: The more households, the smaller the share of them that cooks at any one time.
    """
    terms = book[APARTMENTS]
    heats = what.of("heat", "storage heat", "heat pump", "cooling")
    cooking = what.of("cooking")
    is_each = sum(item.count for item in cooking) >= what.units <= sum(item.count for item in heats)
    if what.units < terms.least_units or not is_each:
        return
    parts = (
        *demand.general_lines(NAME, what, book),
        *demand.nameplate_lines(NAME, what, book),
        *demand.heat_or_cooling(NAME, what, book),
    )
    whole = demand.total(NAME, "All that is connected", parts)
    percent = demand.row_for(terms.rows, what.units).percent
    why = f"{count(what.units)} dwellings"
    line = Share(NAME, "Apartments", percent, whole, why, terms.cite, terms.confidence)
    yield weighed(PURPOSE, what, (line,), terms, book)
