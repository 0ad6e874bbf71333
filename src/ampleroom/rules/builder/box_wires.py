"""Wires written under a box and not by a run: a luminaire's, leads, bonding jumpers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ampleroom.job.model import BondingJumper, FixtureWires, Leads, Wires
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.builder.ask import Asker
from ampleroom.rules.builder.conductors import NONE
from ampleroom.rules.space import BoxWires, exactly


def fixture_wires(items: Sequence[FixtureWires], asker: Asker) -> Iterator[BoxWires]:
    """Wires of luminaires, with their canopy."""
    for fixture in items:
        canopy: str
        if fixture.canopy is UNKNOWN:
            text = f"whether the canopy over {asker.box.name} is domed"
            canopy = asker.ask(fixture, "canopy", text, ("domed", "flat"))
        else:
            canopy = fixture.canopy
        yield from box_wires(fixture, fixture.wires, asker, canopy)


def leads(items: Sequence[Leads], asker: Asker) -> Iterator[BoxWires]:
    """Leads of equipment outside the box or serving as its cover."""
    for item in items:
        yield from box_wires(item, item.wires, asker, label=item.label, is_lead=True)


def jumpers(items: Sequence[BondingJumper], asker: Asker) -> Iterator[BoxWires]:
    """The wires that bonding jumpers add, each counted as a ground; unknown sizes are asked of ``asker``."""
    for jumper in items:
        yield from box_wires(jumper, (Wires(jumper.count, jumper.size, "ground"),), asker)


def box_wires(
    record: FixtureWires | Leads | BondingJumper,
    groups: tuple[Wires, ...],
    asker: Asker,
    canopy: str = "",
    label: str = "",
    *,
    is_lead: bool = False,
) -> Iterator[BoxWires]:
    """The wires of one line."""
    for index, wires in enumerate(groups):
        part = str(index)
        size, count = wires.size, wires.count
        if size is UNKNOWN:
            text = f"the size of the wires on line {record.at.line}"
            size = asker.ask_size(record, "box wires size", text, asker.any_size, part)
        if count is UNKNOWN:
            text = f"how many {size_text(wires.size)} there are"
            number_of = asker.ask_count(record, "box wires count", text, NONE, part)
        else:
            number_of = exactly(count)
        yield BoxWires(number_of, size, wires.role, canopy, label, is_lead)
