"""Wires written under a box and not by a run: a luminaire's, leads, bonding jumpers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ampleroom.job.model import BondingJumper, FixtureWires, Leads, Wires
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.builder.ask import Asker
from ampleroom.rules.builder.conductors import NONE
from ampleroom.rules.space import Loose, exactly


def fixture_wires(items: Sequence[FixtureWires], asker: Asker) -> Iterator[Loose]:
    """Wires of luminaires, with their canopy."""
    for fixture in items:
        canopy: str
        if fixture.canopy is UNKNOWN:
            text = f"whether the canopy over {asker.box.name} is domed"
            canopy = asker.ask(fixture, "canopy", text, ("domed", "flat"))
        else:
            canopy = fixture.canopy
        yield from loose(fixture, fixture.wires, asker, canopy)


def leads(items: Sequence[Leads], asker: Asker) -> Iterator[Loose]:
    """Leads of equipment outside the box or serving as its cover."""
    for item in items:
        yield from loose(item, item.wires, asker, label=item.label, is_lead=True)


def jumpers(items: Sequence[BondingJumper], asker: Asker) -> Iterator[Loose]:
    for jumper in items:
        yield from loose(jumper, (Wires(jumper.count, jumper.size, "ground"),), asker)


def loose(
    record: FixtureWires | Leads | BondingJumper,
    groups: tuple[Wires, ...],
    asker: Asker,
    canopy: str = "",
    label: str = "",
    *,
    is_lead: bool = False,
) -> Iterator[Loose]:
    """The wires of one line."""
    for number, wires in enumerate(groups):
        part = str(number)
        size, count = wires.size, wires.count
        if size is UNKNOWN:
            text = f"the size of the wires on line {record.at.line}"
            size = asker.ask_size(record, "loose size", text, asker.any_size, part)
        if count is UNKNOWN:
            text = f"how many {size_text(wires.size)} there are"
            number_of = asker.ask_count(record, "loose count", text, NONE, part)
        else:
            number_of = exactly(count)
        yield Loose(number_of, size, wires.role, canopy, label, is_lead)
