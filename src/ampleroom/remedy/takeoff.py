"""Takeoff: what the sheet says has to be bought, counted from the same runs and boxes that were judged."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from ampleroom.editions import NEWEST_COMPARED, CodeBook
from ampleroom.editions.book import NOTHING_AMENDED
from ampleroom.editions.raceways import SUPPORTS, Support
from ampleroom.job.lines.box_base import write_base
from ampleroom.job.lines.box_parts import write_part
from ampleroom.job.model import (
    Base,
    Box,
    Cable,
    Carries,
    Clamps,
    Device,
    FixtureWires,
    Item,
    Job,
    Leads,
    Mounting,
    Panel,
    Part,
    Run,
)
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, replace
from ampleroom.remedy.spot import face_of
from ampleroom.remedy.stock import Money, Stock, StockBox, StockPart, cents

GROUPS = ("boxes", "rings and covers", "connectors", "devices", "cable", "wire", "raceway", "fittings", "labor")
STICK = Decimal(10)
"""Feet of one length of raceway where the stock file does not say; common practice, no source."""


class TakeoffLine(Record):
    """So much of one thing. ``each`` None: it is not in the stock file, so its price is not known."""

    group: str
    what: str
    number: Decimal
    unit: str
    each: Money | None
    price: Money | None
    note: str = ""


class Takeoff(Record):
    """The list for the counter, and the labor."""

    lines: tuple[TakeoffLine, ...]
    minutes: Decimal
    missing: tuple[str, ...]
    """What to find out first: it is not on the list, because nobody knows what to buy."""
    waste_percent: Decimal
    currency: str

    @property
    def total(self) -> Money:
        """Of all that has a price."""
        return sum((line.price for line in self.lines if line.price is not None), Decimal(0))

    @property
    def unpriced(self) -> int:
        return sum(line.price is None for line in self.lines)


def takeoff(job: Job, stock: Stock) -> Takeoff:
    """All that is new in a job: what was there before, and old cable, is not bought."""
    counter = _Counter(job, stock)
    lines = [
        *counter.boxes(),
        *counter.connectors(),
        *counter.devices(),
        *counter.cables(),
        *counter.wires(),
        *counter.raceways(),
    ]
    minutes = counter.minutes
    hours = (minutes / 60).quantize(Decimal("0.01"))
    each = stock.per_hour or None
    labor = TakeoffLine(
        "labor", "labor", hours, "h", each, stock.labor(minutes) if each else None, f"{plain_minutes(minutes)} minutes"
    )
    lines.sort(key=lambda line: GROUPS.index(line.group))
    return Takeoff((*lines, labor), minutes, tuple(counter.missing), stock.waste_percent, stock.currency)


def plain_minutes(minutes: Decimal) -> str:
    return format(minutes.quantize(Decimal(1)), "f")


class _Counter:
    """Counts one job, keeping the minutes and what could not be counted."""

    def __init__(self, job: Job, stock: Stock) -> None:
        self.job = job
        self.stock = stock
        self.minutes = Decimal(0)
        self.missing: list[str] = []
        self.raceway_feet = {r.name: r.length for r in job.raceways if r.length is not None and r.length is not UNKNOWN}
        self.items: dict[str, tuple[Item, ...]] = {box.name: job.items(box) for box in job.boxes}

    def is_new(self, box: Box) -> bool:
        mounting = next((item for item in self.items[box.name] if isinstance(item, Mounting)), None)
        return mounting is None or not (mounting.existing or mounting.finished)

    def bought(self, run: Run) -> bool:
        return not run.existing and not (run.cable is not None and run.cable.kind in ("old", "?"))

    # ---- boxes and what is on them ---------------------------------------------------------------------------------

    def boxes(self) -> Iterator[TakeoffLine]:
        bases: dict[str, tuple[int, Money | None]] = {}
        parts: dict[str, tuple[int, Money | None]] = {}
        for box in self.job.boxes:
            if box.kind is UNKNOWN:
                self.missing.append(f"{box.name}: which box goes there is still to be chosen ('remedy' chooses it)")
                continue
            if not self.is_new(box):
                continue
            self.minutes += self.stock.minutes.new_box
            base = next((item for item in self.items[box.name] if isinstance(item, Base)), None)
            if (unknown := unknown_of_box(base)) or base is None:
                self.missing.append(f"{box.name}: {unknown}")
            else:
                self.add(bases, *self.box_line(base))
                if (cover := self.blank_cover(base, box)) is not None:
                    self.add(parts, *cover)
            for part in self.items[box.name]:
                if isinstance(part, Part):
                    self.minutes += self.stock.minutes.ring
                    if part.volume is UNKNOWN:
                        self.missing.append(f"{box.name}: the volume marked in its {part.kind}")
                    else:
                        self.add(parts, *self.part_line(part, base))
        yield from self.lines("boxes", bases)
        yield from self.lines("rings and covers", parts)

    def box_line(self, base: Base) -> tuple[str, Money | None, int]:
        stocked = self.stocked_box(replace(base, ganged=1))
        if stocked is not None:
            return stocked.name, stocked.price, base.ganged
        return write_base(base), None, 1

    def blank_cover(self, base: Base, box: Box) -> tuple[str, Money, int] | None:
        """Of a junction box: one with nothing on its face that covers it already. An extension ring is as open as the box."""
        covers = [
            item
            for item in self.items[box.name]
            if isinstance(item, Device | Carries | FixtureWires | Leads | Part)
            and not (isinstance(item, Part) and item.kind == "extension ring")
        ]
        if covers:
            return None
        stocked = self.stocked_box(base)
        return (f"blank cover for {stocked.name}", stocked.cover_price, 1) if stocked and stocked.cover_price else None

    def stocked_box(self, base: Base) -> StockBox | None:
        same = [stocked for stocked in self.stock.boxes if stocked.base == base]
        if not same:
            same = [s for s in self.stock.boxes if (s.base.form, s.base.shape, s.base.size, s.base.volume, s.base.gangs, s.base.ganged)
                    == (base.form, base.shape, base.size, base.volume, base.gangs, base.ganged)]  # fmt: skip
        return min(same, key=lambda stocked: stocked.price, default=None)

    def part_line(self, part: Part, base: Base | None) -> tuple[str, Money | None, int]:
        face = face_of(base) if base is not None and base.form == "standard" else ""
        same = [stocked for stocked in self.stock.parts if same_part(stocked, part, face)]
        found = min(same, key=lambda stocked: stocked.price, default=None)
        if found is not None:
            return found.name, found.price, 1
        name = write_part(replace(part, depth=None) if part.depth is UNKNOWN else part)
        return f"{name} on {face}" if face and not part.shape else name, None, 1

    # ---- devices ---------------------------------------------------------------------------------------------------

    def devices(self) -> Iterator[TakeoffLine]:
        found: dict[str, tuple[int, Money | None]] = {}
        for box in self.job.boxes:
            if not self.is_new(box):
                continue
            for item in self.items[box.name]:
                if isinstance(item, Device):
                    self.minutes += self.stock.minutes.device * item.count
                    if unknown := self.unknown_of_device(item):
                        self.missing.append(f"{box.name}: {unknown}")
                    else:
                        self.add(found, *self.device_line(item))
        yield from self.lines("devices", found)

    def unknown_of_device(self, device: Device) -> str:
        """What has to be known before a device can be bought; empty where all is."""
        name = " + ".join(device.names)
        if "device" in device.names and all(stocked.device.names != device.names for stocked in self.stock.devices):
            return f"which device it is, line {device.at.line}"
        if device.gangs is UNKNOWN:
            return f"how many gangs its {name} needs"
        return ""

    def device_line(self, device: Device) -> tuple[str, Money | None, int]:
        stocked = next((s for s in self.stock.devices if s.device.names == device.names), None)
        if stocked is not None:
            return stocked.name, stocked.price, device.count
        rating = f" {device.amperes} A" if device.amperes else ""
        wide = f", {device.gangs} gangs wide" if device.gangs not in (1, UNKNOWN) else ""
        return " + ".join(device.names) + rating + wide, None, device.count

    # ---- connectors ------------------------------------------------------------------------------------------------

    def connectors(self) -> Iterator[TakeoffLine]:
        """One for every end and passing of a cable where it is clamped outside, and where it enters a panel."""
        found: dict[str, tuple[int, Money | None]] = {}
        panels = {panel.name for panel in self.job.panels if isinstance(panel, Panel)}
        outside = {
            name
            for name, items in self.items.items()
            if any(isinstance(i, Clamps) and i.way == "outside" for i in items)
        }
        for run in self.job.runs:
            if run.cable is None or not self.bought(run) or unknown_of_cable(run):
                continue
            last = len(run.stops) - 1
            for number, stop in enumerate(run.stops):
                if stop.name in panels or stop.name in outside:
                    self.connector(found, run.cable, (2 if 0 < number < last else 1) * self.alike(run))
            for passed in run.through:
                if passed.name in outside:
                    self.connector(found, run.cable, 2 * self.alike(run))
        yield from self.lines("connectors", found)

    def connector(self, found: dict[str, tuple[int, Money | None]], cable: Cable, number: int) -> None:
        stocked = self.stock.connector_for(cable)
        self.minutes += self.stock.minutes.connector * number
        if stocked is not None:
            self.add(found, stocked.name, stocked.price, number)
        else:
            self.add(found, f"connector for {cable.name}", None, number)

    def alike(self, run: Run) -> int:
        """How many such runs; 0 where nobody counted them."""
        return 0 if run.count is UNKNOWN else run.count

    # ---- by the foot -----------------------------------------------------------------------------------------------

    def cables(self) -> Iterator[TakeoffLine]:
        feet: dict[Cable, Decimal] = {}
        ends: dict[Cable, list[Decimal]] = {}
        for run in self.job.runs:
            if run.cable is None or not self.bought(run):
                continue
            if unknown := unknown_of_cable(run):
                self.missing.append(f"line {run.at.line}: {unknown}")
                continue
            cable = Cable(run.cable.kind, run.cable.size, run.cable.of)
            length = self.length(run)
            feet[cable] = feet.get(cable, Decimal(0)) + length * self.alike(run)
            ends.setdefault(cable, []).extend([length] * self.alike(run))
        for cable in sorted(feet, key=lambda cable: cable.name):
            self.minutes += feet[cable] * self.stock.minutes.cable_per_foot
            yield from self.cable_lines(cable, feet[cable])
        yield from self.staples(ends)

    def cable_lines(self, cable: Cable, feet: Decimal) -> Iterator[TakeoffLine]:
        """Whole coils, and the last of it by the foot where that is cheaper than one coil more."""
        needed = self.with_waste(feet)
        stocked = self.stock.cable(cable)
        name, each = (stocked.name, stocked.per_foot) if stocked else (cable.name, None)
        note = f"{self.waste_note(feet)}: {plain(needed)} ft"
        if stocked is not None and stocked.coil_feet and stocked.coil_price is not None:
            coils = (needed / stocked.coil_feet).to_integral_value(ROUND_FLOOR)
            over = needed - coils * stocked.coil_feet
            if cents(over * stocked.per_foot) >= stocked.coil_price:
                coils, over = coils + 1, Decimal(0)
            if coils:
                unit = f"coil of {plain(stocked.coil_feet)} ft"
                yield TakeoffLine("cable", name, coils, unit, stocked.coil_price, coils * stocked.coil_price, note)
                needed, note = over, f"the rest of {plain(needed)} ft"
        if needed:
            yield TakeoffLine(
                "cable", name, needed, "ft", each, cents(needed * each) if each is not None else None, note
            )

    def with_waste(self, feet: Decimal) -> Decimal:
        return (feet * (100 + self.stock.waste_percent) / 100).to_integral_value(ROUND_CEILING)

    def waste_note(self, feet: Decimal) -> str:
        return f"{plain(feet)} ft in the runs, {plain(self.stock.waste_percent)} % waste"

    def length(self, run: Run) -> Decimal:
        feet = [self.raceway_feet.get(raceway.name) for raceway in run.raceways]
        known = [length for length in feet if length]
        if run.length is None and known and len(known) == len(feet):
            return sum(known, Decimal(0))  # as long as the raceways it lies in
        if not run.length or run.length is UNKNOWN:
            ends = " > ".join("?" if stop.name is UNKNOWN else stop.name for stop in run.stops)
            what = run.cable.name if run.cable else "wires"
            self.missing.append(f"line {run.at.line}: {what} {ends} has no length")
            return Decimal(0)
        return run.length

    def staples(self, ends: dict[Cable, list[Decimal]]) -> Iterator[TakeoffLine]:
        """Supports of cable: one near each end and as many between as the spacing asks for."""
        for kind in sorted({cable.kind for cable in ends}):
            row = support_row(kind, self.job)
            if row is None:
                continue
            lengths = [length for cable, found in ends.items() if cable.kind == kind for length in found if length]
            number = sum(supports(length, row) for length in lengths)
            if number:
                note = f"every {plain(row.every)} ft and within {plain(row.within)} ft of each end"
                yield TakeoffLine("fittings", f"supports for {kind}", Decimal(number), "", None, None, note)

    def wires(self) -> Iterator[TakeoffLine]:
        feet: dict[str, Decimal] = {}
        for run in self.job.runs:
            if run.cable is not None or not self.bought(run):
                continue
            length = self.length(run)
            for wires in run.wires:
                if wires.count is UNKNOWN or wires.size is UNKNOWN:
                    self.missing.append(f"line {run.at.line}: wires of unknown number or size")
                    continue
                kind = wires.insulation or ("bare" if wires.role == "ground" and wires.color in ("", "bare") else "")
                if not length:
                    continue
                name = f"{size_text(wires.size)} {kind}".strip()
                feet[name] = feet.get(name, Decimal(0)) + length * wires.count
        for name in sorted(feet):
            with_waste = self.with_waste(feet[name])
            stocked = next((kept for kept in self.stock.lengths if kept.what == name.lower()), None)
            each = stocked.per_foot if stocked else None
            note = self.waste_note(feet[name])
            yield TakeoffLine(
                "wire",
                stocked.name if stocked else name,
                with_waste,
                "ft",
                each,
                cents(with_waste * each) if each is not None else None,
                note,
            )

    def raceways(self) -> Iterator[TakeoffLine]:
        feet: dict[tuple[str, str], list[Decimal]] = {}
        for raceway in self.job.raceways:
            if not raceway.length or raceway.length is UNKNOWN:
                self.missing.append(f"line {raceway.at.line}: raceway {raceway.name} has no length")
                continue
            if raceway.size is UNKNOWN:
                self.missing.append(f"line {raceway.at.line}: the trade size of raceway {raceway.name}")
                continue
            feet.setdefault((raceway.kind, raceway.size), []).append(raceway.length)
        for (kind, size), lengths in sorted(feet.items()):
            total = sum(lengths, Decimal(0))
            self.minutes += total * self.stock.minutes.raceway_per_foot
            stocked = next((kept for kept in self.stock.lengths if kept.what == f"{kind} {size}"), None)
            stick = stocked.length if stocked and stocked.length else STICK
            sticks = (total / stick).to_integral_value(ROUND_CEILING)
            each = stocked.per_foot * stick if stocked else None
            name = stocked.name if stocked else f"{kind.upper()} {size}"
            yield TakeoffLine(
                "raceway",
                name,
                sticks,
                f"length of {plain(stick)} ft",
                each,
                sticks * each if each is not None else None,
                f"{plain(total)} ft",
            )
            yield TakeoffLine(
                "fittings",
                f"{kind.upper()} {size} connectors",
                Decimal(2 * len(lengths)),
                "",
                None,
                None,
                "two a raceway",
            )
            joints = sum(int((length / stick).to_integral_value(ROUND_CEILING)) - 1 for length in lengths)
            if joints > 0:
                yield TakeoffLine(
                    "fittings",
                    f"{kind.upper()} {size} couplings",
                    Decimal(joints),
                    "",
                    None,
                    None,
                    "one a joint between lengths",
                )
            row = support_row(kind, self.job)
            if row is not None:
                number = sum(supports(length, row) for length in lengths)
                note = f"every {plain(row.every)} ft and within {plain(row.within)} ft of each end"
                yield TakeoffLine("fittings", f"{kind.upper()} {size} straps", Decimal(number), "", None, None, note)

    # ---- shared ----------------------------------------------------------------------------------------------------

    def add(self, found: dict[str, tuple[int, Money | None]], what: str, each: Money | None, number: int) -> None:
        known, _ = found.get(what, (0, each))
        found[what] = (known + number, each)

    def lines(self, group: str, found: dict[str, tuple[int, Money | None]]) -> Iterator[TakeoffLine]:
        for what in sorted(found):
            number, each = found[what]
            yield TakeoffLine(group, what, Decimal(number), "", each, number * each if each is not None else None)


def unknown_of_box(base: Base | None) -> str:
    """What has to be known before a box can be bought; empty where all is."""
    if base is None:
        return "which box it is"
    if base.form == "unmarked":
        return "which box goes there: no marking was found in this one"
    if base.size is UNKNOWN:
        return f"the size of its {base.shape} box" if not base.face else f"how deep its {base.shape} {base.face} box is"
    return "the volume marked in it" if base.volume is UNKNOWN else ""


def unknown_of_cable(run: Run) -> str:
    """What has to be known before a run of cable can be bought, its length aside; empty where all is."""
    assert run.cable is not None
    if run.count is UNKNOWN:
        return f"how many {run.cable.name} there are alike"
    return f"the size of the {run.cable.name}" if run.cable.size is UNKNOWN else ""


def same_part(stocked: StockPart, part: Part, face: str) -> bool:
    """Whether a ring or cover on sale is the one of a box with that face, ``square 4``; a ring of a standard size names its
    own face, any other of which nobody knows the face is not matched.
    """
    kept = stocked.part
    if (kept.kind, kept.volume, kept.shape, kept.size) != (part.kind, part.volume, part.shape, part.size):
        return False
    if stocked.on != face and (face or not part.size):
        return False
    unlike_depth = kept.depth != part.depth and UNKNOWN not in (kept.depth, part.depth)
    if unlike_depth and kept.depth is not None and part.depth is not None:
        return False
    return "" in (kept.material, part.material) or kept.material == part.material


def support_row(kind: str, job: Job) -> Support | None:
    """How far apart supports may be, in feet, where the job is; a sheet without an edition goes by the newest."""
    book = CodeBook(job.edition or NEWEST_COMPARED, job.amendments or NOTHING_AMENDED)
    return next((row for row in book[SUPPORTS].rows if row.kind == kind), None)


def supports(length: Decimal, row: Support) -> int:
    """One near each end, and enough between that none is farther from the next than allowed; one for both ends will do
    where it is near both.
    """
    between = length - 2 * row.within
    if between <= 0:
        return 1
    return 1 + int((between / row.every).to_integral_value(ROUND_CEILING))


def plain(value: Decimal | int) -> str:
    text = format(Decimal(value).quantize(Decimal("0.01"), ROUND_FLOOR), "f")
    return text.rstrip("0").rstrip(".")
