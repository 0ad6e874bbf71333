"""Box fill: the room that equipment grounds and bonding jumpers take."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import BondingJumper, Pigtails
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.allowance import within_table
from ampleroom.rules.box.fill.fixture_wires import under_dome
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

NAME = "box-fill-grounds"

Group = tuple[Decimal, str, str]
"""How many, of what size, how sure."""


class Grounds(Record):
    """How many grounds one allowance covers, and what more of them add."""

    cite: str
    confidence: str
    covered: Decimal | None
    """None: all of them."""
    extra: Decimal
    """Allowances of each ground past those."""
    isolated_set: Decimal
    """Allowances of an isolated-ground set; 0: it counts with the rest."""


GROUNDS = Table("box_fill.grounds", Grounds, __file__)


@rule(
    NAME,
    title="Equipment grounds",
    topic="fill",
    of_contents=True,
    drawn_as="grounds",
    counts=(BondingJumper,),
    tables=(GROUNDS, CONDUCTOR_ROOM),
    readings=("isolated-ground", "grounding-pigtail", "pooled-grounds", "armor-ground", "unknown-ground"),
)
def grounds_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Count the equipment grounds and bonding jumpers that come into the box. They share allowances, sized by the
    largest of them. How many share one depends on the edition.

    A pigtail from the ground splice to the box or to a device does not come in from outside, so it is not counted.
    Metal raceway or armor that serves as the ground counts nothing, because no wire comes in.

    Why: Grounds are spliced together and folded flat against the back once. Many of them still fill a box, and the
    later editions count that.
    """
    terms = book[GROUNDS]
    grounds, isolated, readings = ground_groups(space, book)
    if isolated and not terms.isolated_set:
        readings += ("isolated-ground",)
        if book.reading("isolated-ground") == "pooled":
            grounds, isolated = grounds + isolated, []
    if any(pigtails.ground for pigtails in space.of(Pigtails)):
        readings += ("grounding-pigtail",)

    if grounds:
        yield ground_line(grounds, readings, book)
    if isolated:
        each, size = shared_allowance(isolated, book)
        wires = sum((group[0] for group in isolated), Decimal(0))
        why = f"{count(wires)} in a set of their own, one allowance, sized by the largest ({size_text(size)})"
        yield Counted(
            NAME,
            "Isolated grounds",
            max(terms.isolated_set, exactly(1)),
            each,
            why,
            terms.cite,
            terms.confidence,
            readings,
        )


def ground_groups(space: Space, book: CodeBook) -> tuple[list[Group], list[Group], tuple[str, ...]]:
    """The grounds that enter, the isolated ones apart, and the readings by which some count or do not."""
    grounds: list[Group] = []
    isolated: list[Group] = []
    for entering in space.entering:
        if entering.role == "insulated" or entering.low_voltage:
            continue
        if entering.role == "ground":
            grounds.append((entering.count, entering.size, entering.confidence))
        else:
            isolated.append((entering.count, entering.size, entering.confidence))
    readings: tuple[str, ...] = ()
    if any("unknown-ground" in entering.readings for entering in space.entering if entering.role != "insulated"):
        readings += ("unknown-ground",)
    for wires in (*space.fixture_wires, *space.leads, *space.jumpers):
        if wires.role == "insulated":
            continue
        left_out, leaned = under_dome(wires, book)
        readings += tuple(reading for reading in leaned if reading not in readings)
        if not left_out:
            (isolated if wires.role == "isolated ground" else grounds).append((wires.count, wires.size, "two sources"))
    if book.reading("grounding-pigtail") == "counted":
        grounds += [
            (exactly(pigtails.count), pigtails.size, "two sources")
            for pigtails in space.of(Pigtails)
            if pigtails.ground
        ]
    return grounds, isolated, readings


def shared_allowance(groups: list[Group], book: CodeBook) -> tuple[Decimal, str]:
    """The allowance of the largest ground, in3, and its size; past the table's end, the table's last row."""
    size = max((size for _, size, _ in groups), key=RANK.__getitem__)
    each: Decimal = book[CONDUCTOR_ROOM].rows[within_table(size, book)]
    return each, size


def ground_line(groups: list[Group], readings: tuple[str, ...], book: CodeBook) -> Line:
    """One worksheet line for all ``groups`` together: allowances by the largest size, more where the edition asks."""
    terms = book[GROUNDS]
    each, size = shared_allowance(groups, book)
    grounds = sum((group[0] for group in groups), Decimal(0))
    allowances = Decimal(1)
    why = (
        f"one, sized by {size_text(size)}"
        if grounds == 1
        else f"{count(grounds)} share one allowance, sized by the largest ({size_text(size)})"
    )
    if within_table(size, book) != size:
        why += f", taken as {size_text(within_table(size, book))}, where the table ends"

    if terms.covered is not None and (over := grounds - terms.covered) > 0:
        allowances += over * terms.extra
        why += f"; {count(over)} past the first {terms.covered} {'adds' if over == 1 else 'add'} {terms.extra} each"
    confidence = terms.confidence
    if confidence == "two sources":
        confidence = "from memory" if any(group[2] == "from memory" for group in groups) else confidence
    return Counted(NAME, "Equipment grounds", allowances, each, why, terms.cite, confidence, readings)
