"""Cautions for what comes into a box: metal into a nonmetallic box, cable with no clamp, class 2 beside power."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.job.model import Base
from ampleroom.job.trade import ARMORED_CABLES, METAL_RACEWAYS
from ampleroom.rules.on_the_spot.reminders import may_be_plastic
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

METAL = "metal-into-nonmetallic"
UNCLAMPED = "cable-without-clamp"
POWER = "class-2-beside-power"
METAL_EXAMPLE = """
box S1
  marked 22.5 in3 plastic 1-gang
  clamps outside
  switch #12
run S1 > ? 12/2 mc
"""
UNCLAMPED_EXAMPLE = """
box S1
  device 3 x 2 x 3-1/2
  clamps none
  switch #14
run S1 > ? 14/2 nm-b
"""
POWER_EXAMPLE = """
box S1
  square 4 x 2-1/8
  clamps outside
run S1 > ? 12/2 nm-b
wires S1 > ? 2 x #18 class 2
"""


@rule(
    METAL,
    title="Metal into a nonmetallic box",
    topic="reminder",
    tables=("reminders.metal_entry",),
    example=METAL_EXAMPLE,
)
def metal_into_nonmetallic(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """A nonmetallic box is made for nonmetallic raceway and sheathed cable. Metal raceway or armored cable may enter it
    only if the box has a way to bond all of them together, inside it or molded in.

    Why: A nonmetallic box breaks the metal path that clears a fault, and the raceway past it can stay live.
    """
    if space.is_conduit_body or not may_be_plastic(space):
        return
    raceways = [
        f"{raceway.kind.upper()} {raceway.name}" for raceway in space.raceways if raceway.kind in METAL_RACEWAYS
    ]
    cables = [met.run.cable.name for met in space.entering if met.run.cable and met.run.cable.kind in ARMORED_CABLES]
    metal = list(dict.fromkeys(raceways + cables))
    if not metal:
        return
    terms = book["reminders.metal_entry"]
    sure = space.base is not None and space.base.material == "plastic"
    enters = f"{', '.join(metal)} {'enters' if len(metal) == 1 else 'enter'}"
    text = f"{enters} a nonmetallic box" if sure else f"{enters}: if the box is nonmetallic"
    text += ", it needs a listed means to bond the metal through the box; a metal box does without"
    yield Reminder(METAL, text, terms["cite"], True, terms["confidence"])


@rule(
    UNCLAMPED,
    title="Cable without a clamp",
    topic="reminder",
    tables=("reminders.unclamped",),
    example=UNCLAMPED_EXAMPLE,
)
def cable_without_clamp(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Cable may enter with no clamp only in a small single-gang nonmetallic box, and then it is fastened to the framing
    close to the box. In a metal box, or a nonmetallic box of several gangs, secure every cable to the box.

    Why: A cable that gets pulled moves its splices, and a sharp edge cuts it.
    """
    if space.clamps is None or space.clamps.way != "none" or space.base is None or space.is_conduit_body:
        return
    if not any(met.run.cable is not None for met in space.entering):
        return
    terms = book["reminders.unclamped"]
    if is_metal(space.base):
        box = "a metal box"
    elif gangs_of(space) > terms["gangs"]:
        box = f"a box of {gangs_of(space)} gangs"
    else:
        return
    text = (
        f"cable comes into {box} with no clamp: secure it to the box. Only a single-gang nonmetallic box does without, "
    )
    text += f"with the cable fastened within {terms['within']} in."
    yield Reminder(UNCLAMPED, text, terms["cite"], True, terms["confidence"])


def is_metal(base: Base) -> bool:
    """Whether a box is known to be metal: a standard size is, unless it says plastic."""
    return base.material == "metal" or (base.form == "standard" and base.material != "plastic")


def gangs_of(space: Space) -> int:
    """The gangs of the box, or as many as its yokes need where the sheet does not say."""
    base = space.base
    assert base is not None
    if base.gangs is not None or base.ganged > 1:
        return (base.gangs or 1) * base.ganged
    return sum(settled.device.count * settled.gangs for settled in space.devices)


@rule(
    POWER,
    title="Class 2 beside power",
    topic="reminder",
    tables=("reminders.power_limited",),
    example=POWER_EXAMPLE,
)
def class_2_beside_power(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Class 2, signal and data wires may not share a space with light and power conductors. A barrier keeps them apart.
    The few exceptions are in the article for the low-voltage system.

    Why: One nicked wire puts line voltage on a circuit that people touch.
    """
    voltages = {met.low_voltage for met in space.entering}
    if voltages == {True, False}:
        terms = book["reminders.power_limited"]
        text = "class 2, signal or data wires share this space with power wires: put a barrier or a box of their own, unless "
        text += "their article allows it here"
        yield Reminder(POWER, text, terms["cite"], True, terms["confidence"])
