"""What a dwelling loads its service with by the standard method."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import LIGHTING_DEMAND
from ampleroom.editions.protection import STANDARD
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried
from ampleroom.rules.load.weighed import weighed
from ampleroom.rules.registry import rule
from ampleroom.worksheet import STANDARD_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Load of a dwelling, standard method",
    topic="finding",
    about="load",
    tables=(*demand.OF_THE_STANDARD, STANDARD),
    ends=ENDS,
)
def standard_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """Lighting by the floor area with the circuits of small appliances and of the laundry, by steps; appliances
    fastened in place, fewer percent of many; dryers and cooking by their tables; the larger of heat and cooling;
    charging; any other load in full; and a part of the largest motor more.

    Why: Not everything runs at once, and the more there is the less of it does.
    """
    fixed = what.of("fixed")
    lines = (
        demand.lighting_demand(NAME, what, book),
        *demand.appliance_lines(NAME, fixed, fixed, book),
        *demand.dryer_lines(NAME, what, book),
        *demand.cooking_line(NAME, what.of("cooking"), book),
        *demand.heat_or_cooling(NAME, what, book),
        *demand.charging_lines(NAME, what, book),
        *demand.other_lines(NAME, what),
        *demand.motor_line(NAME, what, book),
    )
    yield weighed(PURPOSE, what, lines, book[LIGHTING_DEMAND], book)
