"""Cable: connectors, feet and coils, and supports."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal

from ampleroom.job.model import Cable, Clamps, Panel, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.stock import cents
from ampleroom.remedy.takeoff.count import (
    Count,
    TakeoffLine,
    Tally,
    feet_price,
    plain,
    support_note,
    support_row,
    supports,
)


def connector_lines(count: Count) -> Iterator[TakeoffLine]:
    """One for every end and passing of a cable where it is clamped outside, and where it enters a panel."""
    tally = Tally("connectors")
    panels = {panel.name for panel in count.job.panels if isinstance(panel, Panel)}
    outside = {
        name
        for name, items in count.items.items()
        if any(isinstance(item, Clamps) and item.way == "outside" for item in items)
    }
    for run in count.job.runs:
        if run.cable is None or not count.is_bought(run) or unknown_of_cable(run):
            continue
        last = len(run.stops) - 1
        connectors = sum(
            2 if 0 < at < last else 1
            for at, stop in enumerate(run.stops)
            if stop.name in panels or stop.name in outside
        )
        connectors += 2 * sum(passed.name in outside for passed in run.through)
        if connectors:
            add_connectors(run.cable, connectors * count.number_of(run), tally, count)
    yield from tally.lines()


def add_connectors(cable: Cable, connectors: int, tally: Tally, count: Count) -> None:
    """Adds so many connectors for a cable, and the minutes to put them in; without a price where the stock file has
    none that fits.
    """
    stocked = count.stock.connector_for(cable)
    count.minutes += count.stock.minutes.connector * connectors
    if stocked is not None:
        tally.add(stocked.name, stocked.price, connectors)
    else:
        tally.add(f"connector for {cable.name}", None, connectors)


def cable_lines(count: Count) -> Iterator[TakeoffLine]:
    """Feet of each new cable with waste, in whole coils where that is cheaper, and its supports."""
    feet: dict[tuple[Cable, str], Decimal] = {}
    lengths: dict[Cable, list[Decimal]] = {}
    for run in count.job.runs:
        if run.cable is None or not count.is_bought(run):
            continue
        if unknown := unknown_of_cable(run):
            count.missing.append(f"{unknown} (line {run.at.line})")
            continue
        cable = Cable(run.cable.kind, run.cable.size, run.cable.of)
        length = count.length(run)
        feet[cable, run.material] = feet.get((cable, run.material), Decimal(0)) + length * count.number_of(run)
        lengths.setdefault(cable, []).extend([length] * count.number_of(run))
    for cable, material in sorted(feet, key=lambda kind: (kind[0].name, kind[1])):
        count.minutes += feet[cable, material] * count.stock.minutes.cable_per_foot
        yield from lines_of_cable(cable, material, feet[cable, material], count)
    yield from support_lines(lengths, count)


def lines_of_cable(cable: Cable, material: str, feet: Decimal, count: Count) -> Iterator[TakeoffLine]:
    """Whole coils, and the last of it by the foot where that is cheaper than one coil more. Prices are those of copper:
    aluminum has none.
    """
    needed = count.with_waste(feet)
    is_aluminum = material == "aluminum"
    stocked = None if is_aluminum else count.stock.cable(cable)
    own_name = f"{cable.name} aluminum" if is_aluminum else cable.name
    name, each = (stocked.name, stocked.per_foot) if stocked else (own_name, None)
    note = count.waste_note(feet)
    if stocked is not None and stocked.coil_feet and stocked.coil_price is not None:
        coils = (needed / stocked.coil_feet).to_integral_value(ROUND_FLOOR)
        over = needed - coils * stocked.coil_feet
        if cents(over * stocked.per_foot) >= stocked.coil_price:
            coils, over = coils + 1, Decimal(0)
        if coils:
            unit = f"coil of {plain(stocked.coil_feet)} ft"
            yield TakeoffLine("cable", name, coils, unit, stocked.coil_price, coils * stocked.coil_price, note)
            needed, note = over, f"the rest of the {plain(needed)} ft"
    if needed:
        yield TakeoffLine("cable", name, needed, "ft", each, feet_price(needed, each), note)


def support_lines(lengths: dict[Cable, list[Decimal]], count: Count) -> Iterator[TakeoffLine]:
    """Supports of cable: one near each end and as many between as the spacing asks for."""
    for kind in sorted({cable.kind for cable in lengths}):
        row = support_row(kind, count.job)
        if row is None:
            continue
        of_kind = [length for cable, feet in lengths.items() if cable.kind == kind for length in feet if length]
        pieces = sum(supports(length, row) for length in of_kind)
        if pieces:
            yield TakeoffLine(
                "fittings", f"{kind.upper()} supports", Decimal(pieces), "", None, None, support_note(row)
            )


def unknown_of_cable(run: Run) -> str:
    """What has to be known before a run of cable can be bought, its length aside; empty where all is."""
    assert run.cable is not None
    if run.count is UNKNOWN:
        return f"how many {run.cable.name} runs there are"
    return f"the size of the {run.cable.name}" if run.cable.size is UNKNOWN else ""
