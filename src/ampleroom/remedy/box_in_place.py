"""A box as the moves see it: what it is, how it sits, what it is for, what comes in."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Literal, TypeVar

from ampleroom.editions import CodeBook
from ampleroom.job.edit import Change, replacing
from ampleroom.job.model import (
    Barrier,
    Base,
    Box,
    Cable,
    Carries,
    Device,
    Item,
    Job,
    Mounting,
    Part,
    Rated,
    Run,
    SpaceShare,
)
from ampleroom.job.trade import ARMORED_CABLES, METAL_RACEWAYS
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, once
from ampleroom.remedy.remedy import Buy, Disturbance
from ampleroom.remedy.stock import Stock, StockBox
from ampleroom.worksheet import SubjectReport

T = TypeVar("T")
NO_MOUNTING = Mounting()


class BoxInPlace(Record):
    """One box of a job as its moves see it, with the stock to fix it from."""

    job: Job
    box: Box
    stock: Stock
    book: CodeBook
    report: SubjectReport
    runs: tuple[Run, ...]
    """Every run that ends here or passes."""

    @once
    def items(self) -> tuple[Item, ...]:
        """What the box is made of and holds, its kind's lines first."""
        return self.job.items(self.box)

    def of(self, kind: type[T]) -> list[T]:
        """Its items of one class, in their order."""
        return [item for item in self.items if isinstance(item, kind)]

    def only(self, kind: type[T]) -> T | None:
        """Its first item of one class; None where it has none."""
        return next(iter(self.of(kind)), None)

    @once
    def base(self) -> Base | None:
        """What box it is; None where no line says."""
        return self.only(Base)

    @once
    def mounting(self) -> Mounting:
        """How it is mounted; an empty mounting where no line says."""
        return self.only(Mounting) or NO_MOUNTING

    @property
    def finished(self) -> bool:
        """Whether plaster stands around it; a surface box has none."""
        return self.mounting.finished and self.mounting.way != "surface"

    @once
    def devices(self) -> list[Device]:
        """Its devices, in their order."""
        return self.of(Device)

    @once
    def parts(self) -> list[Part]:
        """Its rings and covers, in their order."""
        return self.of(Part)

    @property
    def divided(self) -> bool:
        """Whether a barrier divides it."""
        return bool(self.of(Barrier))

    @property
    def shared_by_volume(self) -> bool:
        """Whether a side of it has a volume of its own."""
        return any(space.volume is not None for space in self.of(SpaceShare))

    @once
    def is_metal(self) -> bool | None:
        """None: the sheet does not say."""
        base = self.base
        if base is None or (not base.material and base.form != "standard"):
            return None
        return base.material != "plastic"

    @once
    def metal_enters(self) -> bool:
        """Whether metal raceway or armored cable comes in: then no nonmetallic box goes here."""
        named = [raceway.kind for raceway in self.job.graph.raceways_at.get(self.box.name, ())]
        unnamed = [raceway.kind for run in self.runs for raceway in run.raceways]
        return any(kind in METAL_RACEWAYS for kind in named + unnamed) or any(
            is_armored(run.cable) for run in self.runs
        )

    @once
    def way(self) -> Literal["", "new-work", "old-work", "surface", "masonry"]:
        """How the box sits; a cast box with no mounting written sits on the surface."""
        return self.mounting.way or ("surface" if self.base is not None and is_cast(self.base) else "")

    @once
    def face(self) -> str:
        """``square 4``: what a ring or cover has to fit."""
        base = self.base
        if base is None or base.form != "standard":
            return ""
        return face_of(base)

    @once
    def gangs(self) -> int | None:
        """Gangs the box has, or its devices need where nobody said."""
        base = self.base
        if base is not None and base.gangs:
            return base.gangs
        if base is not None and base.form == "standard" and base.shape in ("device", "masonry", "fs", "fd"):
            return base.ganged
        if not self.devices:
            return None
        return sum(device.count * (device.gangs if device.gangs is not UNKNOWN else 1) for device in self.devices)

    @once
    def use(self) -> str:
        """``device``, ``ceiling`` or ``junction``: what a box in its place has to be made for."""
        base = self.base
        if base is not None and base.form == "standard":
            return {"octagon": "ceiling", "square": "junction"}.get(base.shape, "device")
        if any(carried.kind in ("luminaire", "fan") for carried in self.of(Carries)):
            return "ceiling"
        return "device" if self.devices or (base is not None and base.gangs) else "junction"

    @once
    def ratings(self) -> dict[str, Decimal]:
        """What a box in its place has to be listed for, fan or luminaire, and for how many pounds: what it is listed
        for now, and any fan it carries.
        """
        pounds_by_kind: dict[str, Decimal] = {}
        fans = [Rated("fan", carried.pounds) for carried in self.of(Carries) if carried.kind == "fan"]
        for rated in (*self.of(Rated), *fans):
            pounds_by_kind[rated.kind] = max(pounds_by_kind.get(rated.kind, Decimal(0)), rated.pounds or Decimal(0))
        return pounds_by_kind

    @once
    def cables(self) -> list[Run]:
        """Runs of cable, one for every place where a cable comes through the wall of the box: where it ends once, where
        it passes twice.
        """
        runs = []
        for run in self.runs:
            if run.cable is not None:
                runs += [run] * (entries(run, self.box.name) * (run.count if run.count is not UNKNOWN else 1))
        return runs

    @property
    def is_existing(self) -> bool:
        """Whether it is there before the work begins, and its cover with it."""
        return self.mounting.finished or self.mounting.existing

    @property
    def fails(self) -> bool:
        """Whether it does not pass: it fails or needs a check."""
        return not self.report.verdict.is_allowed

    # ---- what moves share ------------------------------------------------------------------------------------------

    def disturbance(self) -> Disturbance:
        """What it disturbs to get at the whole box."""
        if self.finished:
            return Disturbance.PLASTER
        return Disturbance.COVER_OFF if self.is_existing else Disturbance.NOTHING

    def minutes(self, doing: str) -> Decimal:
        """Minutes for some doing here, longer where the finish is up."""
        minutes: Decimal = getattr(self.stock.minutes, f"{doing}_finished" if self.finished else doing)
        return minutes

    @once
    def connectors(self) -> tuple[Buy, ...] | None:
        """A connector outside for every cable; None where the stock has none that fits one."""
        return connectors_for([run.cable for run in self.cables], self.stock)

    def replacing(self, old: Item | None, new: Item) -> Change:
        """The change that puts a new item in place of an old one; adds it where there is no old one."""
        return replacing(self.job, self.box, old, new)


def is_cast(base: Base) -> bool:
    """Whether it is a cast box (fs or fd)."""
    return base.form == "standard" and base.shape in ("fs", "fd")


def is_armored(cable: Cable | None) -> bool:
    """Whether a cable has metal armor."""
    return cable is not None and cable.kind in ARMORED_CABLES


def may_be_nonmetallic(stocked: StockBox) -> bool:
    """Whether a box one can buy is nonmetallic, or the stock file does not say; a standard size is metal."""
    base = stocked.base
    return base.material == "plastic" or (not base.material and base.form != "standard")


def connectors_for(cables: Iterable[Cable | None], stock: Stock) -> tuple[Buy, ...] | None:
    """A connector outside for every cable, like ones together; None where the stock has none that fits one."""
    by_name: dict[str, Buy] = {}
    for cable in cables:
        connector = stock.connector_for(cable)
        if connector is None:
            return None
        so_far = by_name.get(connector.name, Buy(connector.name, Decimal(0), connector.price))
        by_name[connector.name] = so_far._replace(quantity=so_far.quantity + 1)
    return tuple(by_name.values())


def entries(run: Run, place: str) -> int:
    """How often a run comes through the wall of a place: once where it ends, twice where it passes or goes on."""
    last = len(run.stops) - 1
    ends = sum(1 if index in (0, last) else 2 for index, stop in enumerate(run.stops) if stop.name == place)
    return ends + 2 * sum(passed.name == place for passed in run.through)


def face_of(base: Base) -> str:
    """``square 4``, ``octagon 4``: a standard box's shape and face."""
    size = base.face if base.size is UNKNOWN else base.size.rpartition(" x ")[0]
    return f"{base.shape} {size}".strip()


def same_face(stocked: StockBox, face: str) -> bool:
    """Whether a box in stock is a standard one with that face, such as ``square 4``."""
    return stocked.base.form == "standard" and face_of(stocked.base) == face
