"""What a takeoff is, and what every part of it counts with."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from ampleroom.editions import NEWEST_COMPARED, CodeBook
from ampleroom.editions.book import NOTHING_AMENDED
from ampleroom.editions.raceways import SUPPORTS, Support
from ampleroom.job.model import Box, Item, Job, Mounting, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record
from ampleroom.remedy.stock import Money, Stock, cents


class TakeoffLine(Record):
    """So much of one thing. ``each`` None: it is not in the stock file, so its price is not known."""

    group: str
    item: str
    quantity: Decimal
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
        """How many lines have no price."""
        return sum(line.price is None for line in self.lines)


class Count:
    """One job being counted: the minutes of work so far, and what nobody can buy yet."""

    def __init__(self, job: Job, stock: Stock) -> None:
        self.job = job
        self.stock = stock
        self.minutes = Decimal(0)
        self.missing: list[str] = []
        """What to find out first, in sentences for the list."""
        self.raceway_feet = {r.name: r.length for r in job.raceways if r.length is not None and r.length is not UNKNOWN}
        self.raceway_feet |= {
            w.name: w.length for w in job.wireways if w.length is not None and w.length is not UNKNOWN
        }
        self.items: dict[str, tuple[Item, ...]] = {box.name: job.items(box) for box in job.boxes}
        """The lines that describe each box, by its name."""

    def is_new(self, box: Box) -> bool:
        """Whether a box is still to be bought, with what is on it."""
        mounting = next((item for item in self.items[box.name] if isinstance(item, Mounting)), None)
        return mounting is None or not (mounting.existing or mounting.finished)

    def is_bought(self, run: Run) -> bool:
        """Whether a run is new: old cable, and one nobody knows, is there already."""
        return not run.existing and not (run.cable is not None and run.cable.kind in ("old", "?"))

    def number_of(self, run: Run) -> int:
        """How many such runs; 0 where nobody counted them."""
        return 0 if run.count is UNKNOWN else run.count

    def length(self, run: Run) -> Decimal:
        """How long a run is, feet: as written or as its raceways are; what is not known is noted and counts as 0."""
        feet = [self.raceway_feet.get(raceway.name) for raceway in run.raceways]
        known = [length for length in feet if length]
        if run.length is None and known and len(known) == len(feet):
            return sum(known, Decimal(0))  # as long as the raceways it lies in
        if not run.length or run.length is UNKNOWN:
            ends = " > ".join("?" if stop.name is UNKNOWN else stop.name for stop in run.stops)
            name = run.cable.name if run.cable else "wires"
            self.missing.append(f"the length of {name} {ends} (line {run.at.line})")
            return Decimal(0)
        return run.length

    def with_waste(self, feet: Decimal) -> Decimal:
        """A length with the waste added, in whole feet."""
        return self.stock.with_waste(feet)

    def waste_note(self, feet: Decimal) -> str:
        """``193 ft + 10 % waste = 213 ft``."""
        return f"{plain(feet)} ft + {plain(self.stock.waste_percent)} % waste = {plain(self.with_waste(feet))} ft"


class Tally:
    """Things of one group with the price of one, each counted together."""

    def __init__(self, group: str) -> None:
        self.group = group
        self.counted: dict[str, tuple[int, Money | None]] = {}

    def add(self, part: str, each: Money | None, count: int) -> None:
        """So many more of something, at a price each; None: it has no price."""
        known, _ = self.counted.get(part, (0, each))
        self.counted[part] = (known + count, each)

    def lines(self) -> Iterator[TakeoffLine]:
        """A line for each, by name."""
        for part in sorted(self.counted):
            count, each = self.counted[part]
            price = count * each if each is not None else None
            yield TakeoffLine(self.group, part, Decimal(count), "", each, price)


def feet_price(feet: Decimal, each: Money | None) -> Money | None:
    """What so many feet cost at a price a foot; None where that is not known."""
    return cents(feet * each) if each is not None else None


def support_row(kind: str, job: Job) -> Support | None:
    """How far apart supports may be, in feet, where the job is; a sheet without an edition goes by the newest."""
    book = CodeBook(job.edition or NEWEST_COMPARED, job.amendments or NOTHING_AMENDED)
    return next((row for row in book[SUPPORTS].rows if row.kind == kind), None)


def support_note(row: Support) -> str:
    """``every 4.5 ft and within 1 ft of each end``."""
    return f"every {plain(row.every)} ft and within {plain(row.within)} ft of each end"


def supports(length: Decimal, row: Support) -> int:
    """One near each end, and enough between that none is farther from the next than allowed; one for both ends will do
    where it is near both.
    """
    between = length - 2 * row.within
    if between <= 0:
        return 1
    return 1 + int((between / row.every).to_integral_value(ROUND_CEILING))


def plain(value: Decimal | int) -> str:
    """A number with two decimals at most and no zeros at the end."""
    text = format(Decimal(value).quantize(Decimal("0.01"), ROUND_FLOOR), "f")
    return text.rstrip("0").rstrip(".")
