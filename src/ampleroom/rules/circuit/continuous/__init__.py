"""A load that lasts three hours or more."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Share
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.cable_ampacity import CABLES_HEAT
from ampleroom.editions.equipment import CHARGING, SPACE_HEAT, WATER_HEATER, OfNameplate, WaterHeater
from ampleroom.editions.protection import CONTINUOUS, TERMINALS, Continuous
from ampleroom.facts import Ends
from ampleroom.rules.circuit.cooking import OF_RANGES, load_line
from ampleroom.rules.circuit.heat import NoAmpacity, limits
from ampleroom.rules.circuit.protection import unknown_ampacity
from ampleroom.rules.circuit.weighed import weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import CONTINUOUS_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
BEARS = ("cable size", "wire size", "neutral", "terminals", "load")
ENDS: Ends = {field: end if field in BEARS else "neither" for field, end in OF_A_LEG.items()}
"""Neither heat nor company is looked at here."""


@rule(
    NAME,
    title="Continuous load on a wire",
    topic="finding",
    about="circuit",
    tables=(CONTINUOUS, WATER_HEATER, SPACE_HEAT, CHARGING, AMPACITY, TERMINALS, CABLES_HEAT, *OF_RANGES),
    ends=ENDS,
)
def continuous_load(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A wire that carries a continuous load, one of three hours or more, needs an ampacity of 125 % of it at its
    terminals, and no cable counts for more there than the column its article ends in. Heat and company along the way
    are left aside here: with them, the load itself is enough. Storage water
    heaters, fixed electric heat and vehicle chargers count as continuous, whether or not the sheet says so.

    Why: Breakers and terminals that never cool down between uses run hotter than their test allows.
    """
    lasts = lasting(leg, book)
    if leg.load is None or lasts is None or leg.run.tap:
        return
    terms, why = lasts
    try:
        have = min(limits(NAME, leg, book), key=lambda line: line.amount)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    load = load_line(NAME, leg, leg.load, book)
    need = Share(NAME, "Continuous load", terms.percent, load, why, terms.cite, terms.confidence)
    yield weighed(PURPOSE, leg, have, (need,), terms.cite, terms.confidence)


def lasting(leg: Leg, book: CodeBook) -> tuple[Continuous | WaterHeater | OfNameplate, str] | None:
    """By what a load counts as continuous, and why; None where it does not. What a motor or a nameplate adds is in
    rules of their own.
    """
    if leg.motor is not None or leg.by_nameplate:
        return None
    serves = leg.circuit.serves
    if serves == "water heater":
        return book[WATER_HEATER], "a storage water heater counts as continuous"
    if serves == "heat":
        return book[SPACE_HEAT], "fixed electric heat counts as continuous"
    if serves == "charger":
        return book[CHARGING], "a charger counts as continuous"
    return (book[CONTINUOUS], "three hours or more") if leg.circuit.continuous else None
