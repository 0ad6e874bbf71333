"""Records of what joins places: runs, the raceways and routes they lie in, circuits."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal, TypeAlias

from ampleroom.job.model.box_lines import Apart, Wires, written_at
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import Record, TupleRecord, aside, once
from ampleroom.where import Where


class Stop(Record):
    """A place where a run's conductors end. An unknown name: the far end was not found."""

    name: Maybe[str]
    space: str = ""
    at: Where = written_at()


class Through(Record):
    """A place a run's conductors pass unbroken: straight, with slack of a length, or landed on a terminal on the
    way.
    """

    name: str
    space: str = ""
    slack: Literal["straight", "loop", "landed"] = "straight"
    loop: Maybe[Decimal] | None = None
    """The loop's whole length, inches; None: slack, not measured."""
    derived: bool = aside(False)
    """Whether the sheet does not say it: two raceways of the run meet there."""
    at: Where = written_at()


class Cable(TupleRecord):
    """A cable by its trade name: ``12/2 nm-b``. ``ground`` is what the sheet says of it, None where it says nothing."""

    kind: str
    size: Maybe[str]
    of: str
    ground: Maybe[str] | None = None
    """A size, ``none``, or UNKNOWN."""

    @property
    def name(self) -> str:
        """``12/2 nm-b``, as a sheet writes it; ``?`` for what nobody knows."""
        return f"{self.size}/{self.of} {self.kind}"


class RunRaceway(Record):
    """A raceway a run lies in: by its ``name``, or by its kind and trade size where it has none (``in emt 3/4``)."""

    name: str = ""
    kind: str = ""
    size: Maybe[str] = ""
    at: Where = written_at()


class RunRoute(Record):
    """A route a run goes along, by its name."""

    name: str
    at: Where = written_at()


class Run(Record):
    """Conductors from stop to stop: a cable, or wires pulled in raceways. Length in feet."""

    stops: tuple[Stop, ...]
    through: tuple[Through, ...] = ()
    count: Maybe[int] = 1
    cable: Cable | None = None
    wires: tuple[Wires, ...] = ()
    """Wires pulled singly; beside a cable, what the sheet adds to it (an isolated ground)."""
    length: Maybe[Decimal] | None = None
    circuit: str = ""
    raceways: tuple[RunRaceway, ...] = ()
    """The raceways it lies in, in order from its first stop; each once."""
    routes: tuple[RunRoute, ...] = ()
    """The routes it goes along, in order."""
    in_insulation: bool = False
    low_voltage: bool = False
    material: Literal["copper", "aluminum"] = "copper"
    existing: bool = False
    """It was there before: nothing to buy."""
    label: str = ""
    kind_assumed: bool = False
    """Neither the run nor the job says which kind of cable: it is taken as ``USUAL_KIND``, and the answer says so."""
    width: Maybe[Decimal] | None = None
    """How wide its cable is at its widest, inches. None: not written, so as its maker's data sheet has it."""
    spaced: bool = False
    """Whether it is kept apart from other cables all along."""
    sets: int = 1
    """How many conductors a phase it has in parallel."""
    tap: bool = False
    """Whether it is a tap: thinner than its breaker protects elsewhere."""
    load: Decimal | None = None
    """VA of its circuit that stand at its end away from the panel; None: not written."""
    at: Where = written_at()

    @once
    def place_names(self) -> tuple[Maybe[str], ...]:
        """The names of all places where it ends, then of those it passes."""
        return tuple([place.name for place in (*self.stops, *self.through)])

    @once
    def stop_numbers(self) -> dict[str, int]:
        """For every place where it ends, the number of its first stop there, from 0; an unknown end is ``"?"``."""
        numbers: dict[str, int] = {}
        for index, stop in enumerate(self.stops):
            numbers.setdefault("?" if stop.name is UNKNOWN else stop.name, index)
        return numbers

    @once
    def stop_numbers_by_identity(self) -> dict[int, int]:
        """For every stop itself, as ``id(stop)``, its number from 0: a run may stop twice at one place."""
        return {id(stop): index for index, stop in enumerate(self.stops)}


USUAL_KIND = "nm-b"
"""The cable meant where nobody says which. Common practice, no source."""
PANEL_END = "?panel"
"""The far end of a home run while it is read: the job's panel."""
BOX_END = "?box"
"""The near end of a cable written under a box, while it is read: that box."""


class Raceway(Record):
    """A raceway between two places. Length in feet."""

    name: str
    ends: tuple[str, str]
    kind: str
    size: Maybe[str]
    length: Maybe[Decimal] | None = None
    bends: tuple[int, ...] = ()
    """Degrees of each bend."""
    sleeve: bool = False
    """Whether it only protects cable from damage and is no complete raceway."""
    underground: bool = False
    at: Where = written_at()


class Wireway(Record):
    """A metal wireway or an auxiliary gutter: a trough with a cover, in which runs lie, end or are tapped. Inside
    measures in inches, splices in in2, length in feet.
    """

    name: str
    form: Literal["wireway", "gutter"] = "wireway"
    ends: tuple[str, ...] = ()
    """The two places it joins, the one place it is at, or none."""
    inside: tuple[Maybe[Decimal], Maybe[Decimal]] = (UNKNOWN, UNKNOWN)
    """The two sides of its section."""
    length: Maybe[Decimal] | None = None
    splices: Maybe[Decimal] | None = None
    """What splices and taps take of its section where they take most; 0: there are none. None: not written."""
    turn: Decimal | None = None
    """The side across which its conductors turn to leave; 0: all go straight through. None: not known."""
    apart: tuple[Apart, ...] = ()
    """How far raceways enter it from each other."""
    nonmetallic: bool = False
    label: str = ""
    at: Where = written_at()


class Route(Record):
    """A stretch of building several runs share: what it does to their heat. Ambient in degrees C, length in feet."""

    name: str
    length: Decimal | None = None
    ambient: Decimal | None = None
    in_insulation: bool = False
    sealed: bool = False
    """Through one hole in framing that is closed with insulation, caulk or foam."""
    rooftop: Decimal | None = None
    spaced: bool | None = None
    """Whether the cables along it are kept apart; False: they lie bundled. None: not written."""
    description: str = ""
    at: Where = written_at()


Serves: TypeAlias = Literal[
    "",
    "range",
    "dryer",
    "water heater",
    "heat",
    "charger",
    "dwelling",
    "dishwasher",
    "oven",
    "cooktop",
    "microwave",
    "sump pump",
]
"""What a circuit is for, where the code has a rule of its own for that; ``dwelling``: a service or feeder that carries
a whole dwelling."""


class Electrode(Record):
    """A grounding electrode of a service, and the conductor that goes to it alone."""

    kind: str
    """``rod``, ``pipe``, ``plate``, ``concrete``, ``ring``, ``water`` or ``steel``."""
    size: Maybe[str]
    """Of its conductor."""
    material: Literal["copper", "aluminum"] = "copper"
    at: Where = written_at()


class Circuit(Record):
    """A circuit: its breaker in amperes, its volts and its load."""

    name: str
    amperes: Maybe[int] | None = None
    volts: int | None = None
    phases: int | None = None
    load: Maybe[Decimal] | None = None
    """VA."""
    continuous: bool = False
    serves: Serves = ""
    horsepower: str = ""
    """Of a motor, as its nameplate has it: ``5``, ``1/2``."""
    mca: Decimal | None = None
    """The minimum circuit ampacity on a nameplate, amperes."""
    mocp: int | None = None
    """The largest breaker or fuse a nameplate allows, amperes."""
    terminals: int | None = None
    """Degrees C for which the terminals at both ends are marked."""
    gfci: bool | None = None
    """Whether all of it is behind a ground-fault device, such as its breaker; False: it is not. None: not written."""
    afci: bool | None = None
    """Whether it has arc-fault protection by a means the code allows, such as its breaker."""
    panel: str = ""
    spaces: Maybe[tuple[str, ...]] = ()
    """The spaces of its panel its breaker sits in: ``("5", "7")``; half a tandem is ``7a``. Empty: not written."""
    label: str = ""
    electrodes: tuple[Electrode, ...] = ()
    """Of a service: its grounding electrodes, each with its conductor."""
    at: Where = written_at()
