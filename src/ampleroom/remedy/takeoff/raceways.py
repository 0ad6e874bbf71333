"""Raceways by the stick with their fittings, and the wire pulled in them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.takeoff.count import Count, TakeoffLine, feet_price, plain, support_note, support_row, supports

STICK = Decimal(10)
"""Feet of one length of raceway where the stock file does not say; common practice, no source."""

BUSHED_FROM = "4"
"""From this size on insulated conductors need a bushing where they leave a raceway; 300.4(G), as a trade
newsletter of 2017 on 314.28 has it (S37)."""


def wire_lines(count: Count) -> Iterator[TakeoffLine]:
    """Feet of each wire that is pulled new, with waste."""
    feet: dict[str, Decimal] = {}
    for run in count.job.runs:
        if run.cable is not None or not count.is_bought(run):
            continue
        length = count.length(run)
        for wires in run.wires:
            if wires.count is UNKNOWN or wires.size is UNKNOWN:
                count.missing.append(f"how many wires, and of what size (line {run.at.line})")
                continue
            kind = wires.insulation or ("bare" if wires.role == "ground" and wires.color in ("", "bare") else "")
            if not length:
                continue
            metal = "aluminum" if run.material == "aluminum" else ""
            name = " ".join(filter(None, (size_text(wires.size), kind, metal)))
            feet[name] = feet.get(name, Decimal(0)) + length * wires.count
    for name in sorted(feet):
        needed = count.with_waste(feet[name])
        stocked = next((each for each in count.stock.lengths if each.item == name.lower()), None)
        each = stocked.per_foot if stocked else None
        label = stocked.name if stocked else name
        yield TakeoffLine("wire", label, needed, "ft", each, feet_price(needed, each), count.waste_note(feet[name]))


def raceway_lines(count: Count) -> Iterator[TakeoffLine]:
    """Whole sticks of each raceway, its connectors, couplings and straps."""
    feet: dict[tuple[str, str], list[Decimal]] = {}
    bushed: dict[tuple[str, str], int] = {}
    for raceway in count.job.raceways:
        if raceway.size is not UNKNOWN and holds_large(raceway.name, count):
            bushed[raceway.kind, raceway.size] = bushed.get((raceway.kind, raceway.size), 0) + 1
        if not raceway.length or raceway.length is UNKNOWN:
            count.missing.append(f"the length of raceway {raceway.name} (line {raceway.at.line})")
            continue
        if raceway.size is UNKNOWN:
            count.missing.append(f"the trade size of raceway {raceway.name} (line {raceway.at.line})")
            continue
        feet.setdefault((raceway.kind, raceway.size), []).append(raceway.length)
    for (kind, size), lengths in sorted(feet.items()):
        total = sum(lengths, Decimal(0))
        count.minutes += total * count.stock.minutes.raceway_per_foot
        stocked = next((each for each in count.stock.lengths if each.item == f"{kind} {size}"), None)
        stick = stocked.length if stocked and stocked.length else STICK
        sticks = (total / stick).to_integral_value(ROUND_CEILING)
        each = stocked.per_foot * stick if stocked else None
        label = stocked.name if stocked else f"{kind.upper()} {size}"
        price = sticks * each if each is not None else None
        yield TakeoffLine("raceway", label, sticks, f"length of {plain(stick)} ft", each, price, f"{plain(total)} ft")
        yield from fitting_lines(kind, size, lengths, stick, count)
    for (kind, size), raceways in sorted(bushed.items()):
        note = f"two per raceway with {size_text(BUSHED_FROM)} or larger in it"
        yield fitting_line(kind, size, "bushing", 2 * raceways, note, count)


def fitting_line(kind: str, size: str, part: str, number: int, note: str, count: Count) -> TakeoffLine:
    """So many fittings of one kind and size of raceway, at the stock file's price if it has one."""
    stocked = count.stock.fitting(kind, size, part)
    each = stocked.price if stocked is not None else None
    label = stocked.name if stocked is not None else f"{kind.upper()} {size} {part}s"
    price = each * number if each is not None else None
    return TakeoffLine("fittings", label, Decimal(number), "", each, price, note)


def holds_large(name: str, count: Count) -> bool:
    """Whether an insulated conductor of ``BUSHED_FROM`` or larger is pulled in the raceway of that name."""
    return any(
        wires.role == "insulated" and wires.size is not UNKNOWN and RANK[wires.size] >= RANK[BUSHED_FROM]
        for run in count.job.graph.runs_in.get(name, ())
        for wires in run.wires
    )


def fitting_lines(kind: str, size: str, lengths: list[Decimal], stick: Decimal, count: Count) -> Iterator[TakeoffLine]:
    """Connectors, couplings and straps of the raceways of one kind and size; lengths and sticks in feet."""

    def fittings(part: str, number: int, note: str) -> TakeoffLine:
        return fitting_line(kind, size, part, number, note, count)

    yield fittings("connector", 2 * len(lengths), "two per raceway")
    joints = sum(int((length / stick).to_integral_value(ROUND_CEILING)) - 1 for length in lengths)
    if joints > 0:
        yield fittings("coupling", joints, "one per joint")
    row = support_row(kind, count.job)
    if row is not None:
        yield fittings("strap", sum(supports(length, row) for length in lengths), support_note(row))
