"""What a dwelling that stands loads its service with, with what is added to it."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Line
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import CHARGING, EXISTING, HEAT_OR_COOLING
from ampleroom.editions.protection import STANDARD
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried
from ampleroom.rules.load.weighed import weighed
from ampleroom.rules.registry import rule
from ampleroom.worksheet import EXISTING_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
HEATS = ("heat", "storage heat", "heat pump", "cooling")


@rule(
    NAME,
    title="Load of a dwelling that stands",
    topic="finding",
    about="load",
    tables=(*demand.GENERAL, EXISTING, CHARGING, HEAT_OR_COOLING, STANDARD),
    ends=ENDS,
)
def existing_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """A dwelling that stands and gets more may count all by its nameplate, a first part in full and a share of the
    rest. Where heat or cooling is new, the larger of heat and cooling stands beside that in full; else it is among
    the rest.

    Why: The house has shown what it draws.
    """
    if not what.is_existing or what.units > 1:
        return
    terms = book[EXISTING]
    is_new = any(item.is_new for item in what.of(*HEATS))
    larger = tuple(demand.heat_or_cooling(NAME, what, book))
    general = (*demand.general_lines(NAME, what, book), *demand.nameplate_lines(NAME, what, book))
    among: tuple[Line, ...] = general if is_new else (*general, *larger)
    lines = (demand.tiers(NAME, "All but new heat or cooling", among, terms.rows, terms), *(larger if is_new else ()))
    yield weighed(PURPOSE, what, lines, terms, book)
