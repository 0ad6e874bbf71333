"""Reminders: free conductor, covers and finish, support and ratings, depth where it is not known."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.box_depth.depth import least_depth
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, depth_of
from ampleroom.worksheet import Reminder

FREE = "free-conductor"
COVER = "covers"
SUPPORT = "support"
SHEATHED = ("nm-b", "uf-b")
DEPTH = "depth-unknown"
FREE_EXAMPLE = """
box J1
  square 4 x 1-1/2
  clamps outside
run J1 > ? 2 x 12/2 nm-b
"""
SUPPORT_EXAMPLE = """
box L1
  octagon 4 x 2-1/8
  clamps outside
  carries fan 42 lb
run L1 > ? 14/3 nm-b
"""
DEPTH_EXAMPLE = """
box W1
  marked 18 in3 plastic 1-gang
  clamps none
  receptacle #12
run W1 > ? 12/2 nm-b
"""


@rule(
    FREE,
    title="Free conductor",
    topic="reminder",
    tables=("reminders.free_conductor",),
    readings=("spliced-free-length",),
    example=FREE_EXAMPLE,
)
def free_conductor(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Leave at least 6 in. of each conductor free wherever it is spliced or terminated, measured from where it leaves
    its sheath or raceway. If the opening is under 8 in. in any direction, the conductor must also reach at least 3
    in. outside it. Conductors that pass through without a splice are exempt.

    Why: The next person to work in the box needs enough wire to hold on to.
    """
    if any(entering.how == "ends" for entering in space.entering):
        yield book.once(free_length)


def free_length(book: CodeBook) -> Reminder:
    terms = book["reminders.free_conductor"]
    text = (
        f"leave {terms['length']} in. of free conductor from the sheath or raceway, reaching {terms['outside']} in. outside "
        f"an opening under {terms['opening_under']} in."
    )
    readings: tuple[str, ...] = ()
    if not terms["spliced"]:
        if book.reading("spliced-free-length") == "unspliced":
            text += "; of one piece, not made up by a splice"
        else:
            readings = ("spliced-free-length",)
    return Reminder(FREE, text, terms["cite"], confidence=terms["confidence"], readings=readings)


@rule(
    COVER,
    title="Covers, finish and sheath",
    topic="reminder",
    tables=("reminders.cover", "reminders.finish", "reminders.sheath", "reminders.access"),
    example=FREE_EXAMPLE,
)
def covers(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Every finished box needs a cover, a faceplate or a canopy, and must stay reachable without damage to the
    building. Keep the front edge within 1/4 in. of a finish that does not burn, and flush with one that does. Keep
    gaps around the box to 1/8 in. Cable sheath must come at least 1/4 in. into the box and past any clamp.

    Why: An open or buried box is how a loose splice becomes a fire.
    """
    cover, finish, sheath = book.once(standing)
    yield cover
    if space.mounting is not None and space.mounting.way != "surface":
        yield finish
    sheathed = any(
        entering.run.cable is not None and entering.run.cable.kind in SHEATHED for entering in space.entering
    )
    if sheathed and (may_be_plastic(space) or book["reminders.sheath"]["metal"]):
        yield sheath


def may_be_plastic(space: Space) -> bool:
    """Whether the box is nonmetallic, or nobody says what it is made of: a box of a standard size is a metal one."""
    base = space.base
    return base is None or base.material == "plastic" or (not base.material and base.form in ("marked", "unmarked"))


def standing(book: CodeBook) -> tuple[Reminder, Reminder, Reminder]:
    """What is said of every box, of one in a wall, and of one with sheathed cable."""
    cover, access = book["reminders.cover"], book["reminders.access"]
    screws = " with screws that match its threads" if cover["screws"] else ""
    text = f"it needs a cover, faceplate or canopy{screws}, and stays reachable"
    of_cover = Reminder(COVER, text, f"{cover['cite']}, {access['cite']}", confidence=cover["confidence"])

    finish = book["reminders.finish"]
    text = f"set back at most {inches(finish['set_back'])} in a surface that does not burn, flush in one that does"
    text += f"; gaps at most {inches(finish['gap'])}"
    of_finish = Reminder(COVER, text, finish["cite"], confidence=finish["confidence"])

    sheath = book["reminders.sheath"]
    text = f"cable sheath comes at least {inches(sheath['inside'])} into the box and past any clamp"
    return of_cover, of_finish, Reminder(COVER, text, sheath["cite"], confidence=sheath["confidence"])


@rule(
    SUPPORT,
    title="Support and ratings",
    topic="reminder",
    tables=("reminders.luminaire", "reminders.fan", "reminders.small_equipment"),
    example=SUPPORT_EXAMPLE,
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
            yield Reminder(SUPPORT, text, terms["cite"], confidence=terms["confidence"])
        elif carried.what == "luminaire":
            terms = book["reminders.luminaire"]
            text = f"it carries a luminaire: the box must be made for it; over {terms['ceiling_lb']} lb hangs from the building or from a box listed for the weight"
            yield Reminder(SUPPORT, text, terms["cite"], confidence=terms["confidence"])
        else:
            terms = book["reminders.small_equipment"]
            text = f"equipment up to {terms['light_lb']} lb may hang on a device box by two No. 6 screws or larger; heavier as a luminaire"
            yield Reminder(SUPPORT, text, terms["cite"], confidence=terms["confidence"])


@rule(DEPTH, title="Depth to measure", topic="reminder", tables=("box_depth.by_conductor",), example=DEPTH_EXAMPLE)
def depth_unknown(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """If the sheet does not say how deep a box is, this reminder gives the least depth its device needs, so that
    somebody can measure it.

    Why: A box can have enough volume and still be too shallow.
    """
    if space.base is None or space.is_conduit_body or not space.devices:
        return
    if space.base.depth is UNKNOWN or any(settled.device.projects is UNKNOWN for settled in space.devices):
        return  # an open finding says it
    if depth_of(space.base, space.base_size, [ring.part for ring in space.rings], book) is None:
        need = least_depth(space, book)
        if need is not None:
            text = f"its depth is not in the sheet: it needs {inches(need.depth)} {need.why}"
            yield Reminder(DEPTH, text, need.cite, confidence=need.confidence)
