"""What one space holds: a box, or one side of a barrier in it, with every fact settled one way or another.

The rules weigh a ``Space``. Facts nobody knows were taken as an ``Assumption`` says.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal, TypeVar

from ampleroom.editions import CodeBook
from ampleroom.job.model import (
    Base,
    Box,
    Clamps,
    Device,
    Entry,
    Module,
    Mounting,
    Part,
    Pigtails,
    Raceway,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
)
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, count
from ampleroom.record import Record, TupleRecord
from ampleroom.rules.runs_at_box import direction, run_name

How = Literal["ends", "passes", "looped"]
L = TypeVar("L", bound=Record)
Count = Decimal
"""How many; ``NO_LIMIT`` where nobody counted them."""


@lru_cache(maxsize=256)
def exactly(count: int) -> Count:
    """A whole number as a count."""
    return Decimal(count)


class Entering(TupleRecord):
    """Like conductors of one run that come into the space, and what becomes of them there."""

    count: Count  # type: ignore[assignment]  # a tuple's own count() is of no use here
    size: str
    role: Literal["insulated", "ground", "isolated ground"]
    how: How
    run: Run
    low_voltage: bool
    readings: tuple[str, ...]
    """The disputed points that decide whether its slack counts twice."""
    confidence: str
    lands: bool
    """Whether it may be connected to a device here: it ends, or passes with slack."""
    insulation: str
    """As written; of a ground in a conduit body ``bare`` or ``thickest``, as settled."""
    met: Stop | Through
    """Where the run ends here or passes."""
    onward: bool
    """Of a run that ends here and goes on: whether these are the ends that go on."""

    def run_name(self, here: str) -> str:
        """The run as it is named from here: ``12/2 nm-b from P``."""
        return run_name(self.run, here, self.met, self.onward)

    def own_name(self, here: str) -> str:
        """These conductors alone: ``2 x #10 from P`` of a pull, ``2 of 12/2 nm-b from P`` of a cable."""
        many = "?" if self.count == NO_LIMIT else count(self.count)
        if self.run.cable is not None:
            return f"{many} of {self.run_name(here)}"
        size = self.size if any(wires.size == self.size for wires in self.run.wires) else "?"
        return f"{many} x {size_text(size)} {direction(self.run, here, self.met, self.onward)}"


class Ring(TupleRecord):
    """A ring or cover, settled: its marked room, or the standard size it has unmarked."""

    part: Part
    room: Decimal | None


class SettledDevice(TupleRecord):
    """A device with its unknown facts settled: conductor size and why, gangs, width in inches if known."""

    device: Device
    size: str
    why_size: str
    gangs: int
    width: Decimal | None
    thickest: str
    """The largest conductor on it, whether or not a pigtail decides by which size it counts."""


class Sized(TupleRecord):
    """A module or a terminal block with the size of its largest conductor."""

    item: Module | TerminalBlock
    size: str


class BoxWires(TupleRecord):
    """Fixture wires, leads, jumpers: conductors written under the box and not by a run."""

    count: Count  # type: ignore[assignment]
    size: str
    role: Literal["insulated", "ground", "isolated ground"]
    canopy: str
    label: str
    is_lead: bool
    """Of equipment outside the box or serving as its cover."""


class Space(TupleRecord):
    """One volume that is judged alone. ``subject`` is its name: ``J1``, ``J1/left``."""

    box: Box
    subject: str
    base: Base | None
    base_room: Decimal
    """Marked, measured or standard room of one box as settled; NO_LIMIT or 0 where nobody knows it."""
    base_size: str
    """The trade size as settled, where the box is a standard one."""
    share: SpaceShare | None
    all_shares: tuple[SpaceShare, ...]
    entering: tuple[Entering, ...]
    clamps: Clamps | None
    """None: no cable comes in, so nothing needs a clamp."""
    clamps_written: bool
    rings: tuple[Ring, ...] = ()
    fixture_wires: tuple[BoxWires, ...] = ()
    leads: tuple[BoxWires, ...] = ()
    jumpers: tuple[BoxWires, ...] = ()
    devices: tuple[SettledDevice, ...] = ()
    blanks: tuple[Device, ...] = ()
    """Blank plates: no yoke, so no allowance."""
    modules: tuple[Sized, ...] = ()
    blocks: tuple[Sized, ...] = ()
    mounting: Mounting | None = None
    rear_entry: bool = False
    side_entries: tuple[Entry, ...] = ()
    """Entries written in any wall but the rear one."""
    raceways: tuple[Raceway, ...] = ()
    """Raceways that come into the box, on whatever side of a barrier."""
    written: Mapping[type, Sequence[Any]] = {}
    """All lines of it by their kind, as they are written: for a kind of line nothing about which needs settling."""

    def of(self, kind: type[L]) -> Sequence[L]:
        """The lines of one kind, in the order of the sheet, as they are written; empty where there are none."""
        return self.written.get(kind, ())

    @property
    def largest(self) -> str | None:
        """The thickest conductor in the space: entering, passing, grounds, fixture wires, pigtails, what is on a
        device; None: there is none.
        """
        sizes = [entering.size for entering in self.entering]
        for group in (self.fixture_wires, self.leads, self.jumpers, self.of(Pigtails)):
            if group:
                sizes += [conductors.size for conductors in group]
        for settled in self.devices:
            sizes += [settled.thickest, settled.device.leads[1]] if settled.device.leads else [settled.thickest]
        for sized in (*self.modules, *self.blocks):
            sizes.append(sized.size)
        return largest(sizes)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is written that a box is for: no conductor, device, module or terminal block. Clamps, studs,
        rings and what the box carries are no contents by themselves.
        """
        return not (
            self.entering
            or self.fixture_wires
            or self.leads
            or self.jumpers
            or self.of(Pigtails)
            or self.devices
            or self.modules
            or self.blocks
        )

    @property
    def is_conduit_body(self) -> bool:
        """Whether it is a conduit body and no box."""
        return self.base is not None and self.base.form == "conduit body"


def depth_of(base: Base | None, size: str, parts: Iterable[Part], book: CodeBook) -> Decimal | None:
    """Inside depth with its rings and covers, inches; None where the box's own is not known. A ring or cover nobody
    measured (``unmeasured``) adds nothing: the box is at least that deep.
    """
    if base is None:
        return None
    own: Decimal | None = None
    if base.depth is not None and base.depth is not UNKNOWN:
        own = base.depth
    elif base.form == "standard":
        own = standard_depth(base.shape, size, book)
    if own is None:
        return None
    for part in parts:
        if part.depth is None:
            own += standard_depth(part.shape, part.size, book) or 0
        elif part.depth is not UNKNOWN:
            own += part.depth
    return own


def is_unmeasured(part: Part) -> bool:
    """Whether nobody knows how deep a ring or cover is: written so, or not written and of no standard size."""
    return part.depth is UNKNOWN or (part.depth is None and not part.size)


def standard_depth(shape: str, size: str, book: CodeBook) -> Decimal | None:
    """Inside depth in inches of a trade size by the table; None if it has none."""
    row = book.standard_box(shape, size)
    return row.depth if row else None


def largest(sizes: Iterable[str]) -> str | None:
    """The thickest of some sizes."""
    return max(sizes, key=RANK.__getitem__, default=None)
