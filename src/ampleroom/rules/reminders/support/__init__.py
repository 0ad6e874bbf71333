"""Reminder: what a box that carries something must be listed for."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import Carries, Rated
from ampleroom.record import Record
from ampleroom.rules.box.support_ratings import FAN, LUMINAIRE
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "support"


class SmallEquipment(Record):
    """Pounds that may hang on a device box."""

    cite: str
    confidence: str
    light_lb: Decimal


SMALL_EQUIPMENT = Table("reminders.small_equipment", SmallEquipment, __file__)


@rule(
    NAME,
    title="Support and ratings",
    topic="reminder",
    of_contents=True,
    tables=(LUMINAIRE, FAN, SMALL_EQUIPMENT),
)
def support(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """A box that carries a luminaire must be made and marked for it. Up to 50 lb may hang from a ceiling box; more
    hangs from the building, or from a box listed for the weight. A fan needs a box listed for fans: 70 lb at most,
    and over 35 lb the marking must give the weight.

    Why: Volume says nothing about what a box can hold up.
    """
    rated = {rating.kind: rating.pounds for rating in space.of(Rated)}
    for carried in space.of(Carries):
        pounds = carried.pounds
        if carried.kind == "fan":
            fan = book[FAN]
            text = (
                f"it carries a fan: the box must be listed for fans, up to {fan.most_lb} lb, and marked with the "
                f"weight above {fan.marked_over_lb} lb"
            )
            if "fan" in rated and (pounds is None or rated["fan"] is None or pounds <= rated["fan"]):
                text = "it carries a fan and is listed for one: look for the weight in its marking"
            yield remind(NAME, text, fan)
        elif carried.kind == "luminaire":
            luminaire = book[LUMINAIRE]
            text = (
                f"it carries a luminaire: the box must be made for it; over {luminaire.ceiling_lb} lb hangs from "
                "the building or from a box listed for the weight"
            )
            yield remind(NAME, text, luminaire)
        else:
            terms = book[SMALL_EQUIPMENT]
            text = (
                f"equipment up to {terms.light_lb} lb may hang on a device box by two No. 6 screws or larger; "
                "heavier as a luminaire"
            )
            yield remind(NAME, text, terms)
