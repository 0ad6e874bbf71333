"""Reminder: what a box that carries something must be listed for."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "support"
EXAMPLE = """
box L1
  octagon 4 x 2-1/8
  clamps outside
  carries fan 42 lb
run L1 > ? 14/3 nm-b
"""


@rule(
    NAME,
    title="Support and ratings",
    topic="reminder",
    tables=("reminders.luminaire", "reminders.fan", "reminders.small_equipment"),
    example=EXAMPLE,
)
def support(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """A box that carries a luminaire must be made and marked for it. Up to 50 lb may hang from a ceiling box; more
    hangs from the building, or from a box listed for the weight. A fan needs a box listed for fans: 70 lb at most,
    and over 35 lb the marking must give the weight.

    Why: Volume says nothing about what a box can hold up.
    """
    rated = {rating.what: rating.pounds for rating in space.rated}
    for carried in space.carries:
        pounds = carried.pounds
        if carried.what == "fan":
            terms = book["reminders.fan"]
            text = f"it carries a fan: the box must be listed for fans, up to {terms['most_lb']} lb, and marked with the weight above {terms['marked_over_lb']} lb"
            if "fan" in rated and (pounds is None or rated["fan"] is None or pounds <= rated["fan"]):
                text = "it carries a fan and is listed for one: look for the weight in its marking"
            yield Reminder(NAME, text, terms["cite"], confidence=terms["confidence"])
        elif carried.what == "luminaire":
            terms = book["reminders.luminaire"]
            text = f"it carries a luminaire: the box must be made for it; over {terms['ceiling_lb']} lb hangs from the building or from a box listed for the weight"
            yield Reminder(NAME, text, terms["cite"], confidence=terms["confidence"])
        else:
            terms = book["reminders.small_equipment"]
            text = f"equipment up to {terms['light_lb']} lb may hang on a device box by two No. 6 screws or larger; heavier as a luminaire"
            yield Reminder(NAME, text, terms["cite"], confidence=terms["confidence"])
