"""What one raceway holds, with every fact settled one way or another: the rules weigh a ``FilledRaceway``."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TypeVar

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import INSULATED_WIRES, NIPPLE, Bore, Wire, WireSizes
from ampleroom.editions.tables import Table
from ampleroom.facts import Assumption, Ends, Unknown, fact_of
from ampleroom.job.cables import sizes_of
from ampleroom.job.model import Job, Raceway, Run, RunRaceway, Wires
from ampleroom.job.trade import RANK, THINNEST_GROUND, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import INCHES_PER_FOOT, NO_LIMIT, inches
from ampleroom.record import TupleRecord
from ampleroom.rules.raceway.limit import Piece
from ampleroom.rules.raceway.sizes import (
    BARE,
    bore_row,
    bore_rows,
    cable_area,
    cable_width,
    conductor,
    insulation_names,
    insulations_of,
    sizes_with,
)
from ampleroom.rules.runs_at_box import stops_text
from ampleroom.rules.space import exactly

T = TypeVar("T")
NONE, ONE = exactly(0), exactly(1)
FEW = tuple(map(exactly, (0, 1, 2, 2 + 1)))
"""One conductor, two and more than two fill a raceway by different parts: from none to three each number has to be
tried, from there on more is worse."""
ENDS: Ends = {
    "wires count": (*FEW, NO_LIMIT),
    "run count": (*FEW[1:], NO_LIMIT),
    **dict.fromkeys(("cable width", "wire width", "wire size", "ground size", "insulation"), "large"),
}
"""A count of conductors of one size is rounded up, so a thicker one may do where a thinner one beside it does not. At
the worst no count is rounded that leans on what is not written (``FilledRaceway.may_round``); so thicker is worse
there."""


class Lying(TupleRecord):
    """Like conductors, or like cables, that lie in a raceway."""

    count: Decimal  # type: ignore[assignment]  # a tuple's own count() is of no use here
    area: Decimal
    """Of one, in2; ``NO_LIMIT`` where nobody knows how thick it is."""
    diameter: Decimal
    label: str
    why: str
    table: Table[WireSizes]
    """Of a wire, the table it is in."""
    wire: Wire | None
    """Its row of the table; None where no table has it."""
    is_cable: bool
    is_ground: bool
    size: str
    insulation: str
    run: Run
    colors: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    """The disputed points its size leans on."""
    is_assumed: bool = False
    """Whether its size or its insulation is neither written nor set, but at one end of what it may be."""

    @property
    def piece(self) -> Piece:
        """These conductors or cables as the arithmetic of fill takes them."""
        return Piece(self.count, self.area, self.is_cable)


class FilledRaceway(TupleRecord):
    """A raceway with all that lies in it."""

    raceway: Raceway
    name: str
    row: Bore | None
    """Its row of the table of bores; None where the table has no such trade size."""
    is_nipple: bool
    length: Decimal | None
    """Feet; None where the sheet does not say."""
    lying: tuple[Lying, ...]
    may_round: bool
    """Whether a count of conductors of one size may be rounded up: not where a size or an insulation is only assumed,
    at the worst."""
    may_be_alike: bool = False
    """Whether what is only assumed may turn out to be as thick as the rest: at the best, a count is rounded up by the
    rest."""

    @property
    def is_sleeve(self) -> bool:
        """Whether it only protects cable from damage, as the sheet says. What has single wires in it is no sleeve."""
        return self.raceway.sleeve and all(each.is_cable for each in self.lying)

    @property
    def size(self) -> str:
        """Its trade size, or the one it is taken for; empty where the table has none."""
        return self.row.size if self.row else ""

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All that lies in it, what there is none of left out."""
        return tuple([each.piece for each in self.lying if each.count])

    @property
    def one_area(self) -> Decimal | None:
        """The area of one conductor, in2, where all are single conductors of one area, or may be; else None."""
        lying = [each for each in self.lying if each.count]
        if any(each.is_cable for each in lying):
            return None
        sure = [each for each in lying if not each.is_assumed] if self.may_be_alike else lying
        areas = {each.area for each in sure or lying}
        area = areas.pop() if areas else NO_LIMIT
        return area if not areas and 0 < area < NO_LIMIT else None


class Subject(TupleRecord):
    """A raceway to judge, and the runs that lie in it."""

    raceway: Raceway
    runs: tuple[Run, ...]
    sharing: tuple[Run, ...] = ()
    """Of a raceway without a line of its own, all runs between the same two places that name one of that kind and size,
    if there are others besides its own: they may lie in one raceway."""

    @property
    def name(self) -> str:
        """Its name: ``R1``; of one without a line of its own ``emt 3/4, line 12``."""
        return self.raceway.name

    @property
    def is_sleeve(self) -> bool:
        """Whether it only protects cable from damage, as the sheet says. What has single wires in it is no sleeve."""
        return self.raceway.sleeve and all(run.cable is not None for run in self.runs)


def raceways_of(job: Job) -> Iterator[Subject]:
    """Every raceway of a job in the order of the sheet: those with a line of their own, then those only a run names."""
    runs_in = job.graph.runs_in
    for raceway in job.raceways:
        yield Subject(raceway, runs_in.get(raceway.name, ()))
    alike: dict[tuple[object, ...], list[Run]] = {}
    for run in job.runs:
        for lain_in in run.raceways:
            if not lain_in.name:
                alike.setdefault(shared_by(run, lain_in), []).append(run)
    for run in job.runs:
        for lain_in in run.raceways:
            if not lain_in.name:
                sharing = alike[shared_by(run, lain_in)]
                raceway = unnamed(run, lain_in.kind, lain_in.size, lain_in.at)
                yield Subject(raceway, (run,), tuple(sharing) if len(sharing) > 1 else ())


def shared_by(run: Run, lain_in: RunRaceway) -> tuple[object, ...]:
    """What runs have in common that may lie in one raceway without a name: its kind, its size and their two last
    stops.
    """
    ends = [str(stop.name) for stop in (run.stops[0], run.stops[-1]) if stop.name is not UNKNOWN]
    apart = id(run) if len(ends) < len(("from", "to")) else 0  # an end nobody found may be anywhere
    return (lain_in.kind, str(lain_in.size), *sorted(ends), apart)


def unnamed(run: Run, kind: str, size: object, at: object) -> Raceway:
    """The raceway of ``in emt 3/4``: it has no line and no name, so it is called by what it is and where that
    stands.
    """
    ends = [("?" if stop.name is UNKNOWN else str(stop.name)) for stop in (run.stops[0], run.stops[-1])]
    line = f", line {run.at.line}" if run.at.line else ""
    size_said = "?" if size is UNKNOWN else size
    return Raceway(f"{kind} {size_said}{line}", (ends[0], ends[1]), kind, size, at=run.at)  # type: ignore[arg-type]


class Asker:
    """One raceway under one assumption."""

    __slots__ = ("assumed", "assumption", "book", "name")

    def __init__(self, name: str, book: CodeBook, assumption: Assumption) -> None:
        self.name = name
        self.book = book
        self.assumption = assumption
        self.assumed = False
        """Whether a size or an insulation was assumed since it was last looked at."""

    def take(self, unknown: Unknown[T]) -> T:
        """What is assumed for a size or an insulation."""
        self.assumed = self.assumed or unknown.fact not in self.assumption.values
        return self.assumption.take(unknown)

    def size(self, record: object, field: str, text: str, sizes: tuple[str, ...], part: str = "") -> str:
        """A size; of one possible size nothing is asked."""
        if len(sizes) == 1:
            return sizes[0]
        names = tuple(map(size_text, sizes))
        return self.take(Unknown(fact_of(record, field, part), text, sizes, names))

    def count(self, record: object, field: str, text: str, least: Decimal, part: str = "") -> Decimal:
        """How many, from ``least`` up."""
        return self.assumption.take(Unknown(fact_of(record, field, part), text, (least, NO_LIMIT), is_range=True))

    def width(self, record: object, field: str, text: str, part: str = "") -> Decimal:
        """How wide something is, inches, from nothing up."""
        ends = (Decimal(0), NO_LIMIT)
        return self.assumption.take(Unknown(fact_of(record, field, part), text, ends, is_range=True, unit="in"))


def filled(subject: Subject, book: CodeBook, assumption: Assumption) -> FilledRaceway:
    """A raceway put together, an assumption asked for every fact nobody knows."""
    raceway = subject.raceway
    asker = Asker(raceway.name, book, assumption)
    lying = tuple([each for run in subject.runs for each in of_run(run, asker)])
    is_assumed = any(each.is_assumed for each in lying)
    may_round = not (assumption.at_worst and is_assumed)
    row, nipple = row_of(raceway, asker), is_nipple(subject, asker)
    return FilledRaceway(
        raceway, raceway.name, row, nipple, length_of(raceway), lying, may_round, is_assumed and may_round
    )


def row_of(raceway: Raceway, asker: Asker) -> Bore | None:
    """The row of its trade size; where nobody read the size, of the one it is taken for."""
    if raceway.size is not UNKNOWN:
        return bore_row(raceway.kind, raceway.size, asker.book)
    rows = bore_rows(raceway.kind, asker.book)
    sizes = tuple([row.size for row in rows])
    fact = fact_of(raceway, "raceway size")
    taken = asker.assumption.take(Unknown(fact, f"the trade size of {raceway.name}", sizes))
    return rows[sizes.index(taken)]


def length_of(raceway: Raceway) -> Decimal | None:
    """Its length in feet; None where the sheet does not say."""
    return None if raceway.length is None or raceway.length is UNKNOWN else raceway.length


def is_nipple(subject: Subject, asker: Asker) -> bool:
    """Whether it is so short that it may be filled as a nipple. A length nobody wrote is asked for."""
    raceway = subject.raceway
    longest = asker.book[NIPPLE].longest
    length = length_of(raceway)
    if length is not None:
        return length * INCHES_PER_FOOT <= longest
    if raceway.sleeve:
        return False
    text = f"how long {raceway.name} is"
    names = (f"{inches(longest)} or less", "longer")
    fact = fact_of(raceway, "raceway length")
    return asker.assumption.take(Unknown(fact, text, (True, False), names))


def of_run(run: Run, asker: Asker) -> Iterator[Lying]:
    """What one run lays in a raceway: a cable, or its groups of wires."""
    times = ONE
    if run.count is UNKNOWN:
        name = run.cable.name if run.cable else "such wires"
        times = asker.count(run, "run count", f"how many {name} there are alike", ONE)
    elif run.count != 1:
        times = exactly(run.count)
    if run.cable is not None:
        yield cable_lying(run, times, asker)
        return
    for part, wires in enumerate(run.wires):
        yield wires_lying(run, part, wires, times, asker)


def name_of(run: Run) -> str:
    """A run by what it is and where it goes: ``12/2 nm-b, P > J1``."""
    name = run.cable.name if run.cable is not None else "wires"
    return f"{name}, {stops_text(run.stops)}"


def cable_lying(run: Run, times: Decimal, asker: Asker) -> Lying:
    """A cable: one conductor, as thick as its wider side."""
    assert run.cable is not None
    size = run.cable.size
    width = run.width
    if width is None or width is UNKNOWN:
        if size is UNKNOWN:
            sizes = sizes_of(run.cable)
            size = asker.size(run, "cable size", f"the size of {name_of(run)}", sizes)
        known = cable_width(run, str(size)) if width is None else None
        wide = (
            known
            if known is not None
            else asker.width(run, "cable width", f"how wide {name_of(run)} is, at its widest")
        )
    else:
        wide = width
    label = f"Cable {run.cable._replace(size=size).name}"
    area = cable_area(wide) if wide < NO_LIMIT else NO_LIMIT
    width_text = f", {inches(wide)} wide" if 0 < wide < NO_LIMIT else ""
    why = f"{stops_text(run.stops)}; counts as one conductor{width_text}"
    return Lying(times, area, wide, label, why, INSULATED_WIRES, None, True, False, str(size), "", run)


def wires_lying(run: Run, part: int, wires: Wires, times: Decimal, asker: Asker) -> Lying:
    """A group of like wires."""
    asker.assumed = False
    count = exactly(wires.count) if wires.count is not UNKNOWN else wires_count(run, part, wires, asker)
    size = wires.size if wires.size is not UNKNOWN else wire_size(run, part, wires, asker)
    insulation = wires.insulation or insulation_of(run, part, wires, str(size), asker)
    in_table = conductor(insulation, str(size), asker.book)
    label = f"{size_text(size)} {insulation}".rstrip()
    why = stops_text(run.stops)
    if in_table is None:
        text = f"how thick {label} is over its insulation ({stops_text(run.stops)})"
        wide = asker.width(run, "wire width", text, str(part))
        area, diameter = (cable_area(wide) if wide < NO_LIMIT else NO_LIMIT), wide
        table, wire = INSULATED_WIRES, None
    else:
        area, diameter, table, wire = in_table.wire.area, in_table.wire.diameter, in_table.table, in_table.wire
    if wires.role != "insulated":
        why += "; " + wires.role
    if not wires.insulation and insulation != BARE:
        why += "; its insulation is not written"
    total = count if times is ONE else times * count if count else NONE
    colors = (wires.color,) if wires.color else ()
    is_ground = wires.role != "insulated"
    leans = ("unknown-ground",) if is_ground and wires.size is UNKNOWN else ()
    return Lying(
        total,
        area,
        diameter,
        label,
        why,
        table,
        wire,
        False,
        is_ground,
        str(size),
        insulation,
        run,
        colors,
        leans,
        asker.assumed,
    )


def wires_count(run: Run, part: int, wires: Wires, asker: Asker) -> Decimal:
    """How many of a group of wires there are, which the sheet does not say."""
    return asker.count(
        run, "wires count", f"how many {size_text(wires.size)} come in ({stops_text(run.stops)})", NONE, str(part)
    )


def wire_size(run: Run, part: int, wires: Wires, asker: Asker) -> str:
    """The size of some wires, which the sheet does not say; of a ground what such a circuit can have."""
    every = sizes_with(wires.insulation, asker.book)
    if wires.role == "insulated":
        return asker.size(run, "wire size", f"the size of the {name_of(run)}", every, str(part))
    insulated = [other.size for other in run.wires if other.role == "insulated"]
    known = [size for size in insulated if size is not UNKNOWN]
    if len(known) == len(insulated) and known and asker.book.reading("unknown-ground") == "as-circuit":
        thick = max(known, key=RANK.__getitem__)
        first, last = sorted((RANK[THINNEST_GROUND], RANK[thick]))
        every = tuple([size for size in every if first <= RANK[size] <= last]) or every
    return asker.size(run, "ground size", f"the size of the ground of {name_of(run)}", every, str(part))


def insulation_of(run: Run, part: int, wires: Wires, size: str, asker: Asker) -> str:
    """How some wires are insulated, which the sheet does not say; a ground may be bare."""
    if wires.color == BARE:
        return BARE
    choices = insulations_of(size, asker.book)
    names = insulation_names(size, asker.book)
    if wires.role == "ground" and not wires.color and conductor(BARE, size, asker.book):
        choices, names = (BARE, *choices), (BARE, *names)
    if not choices:
        return ""
    group = f"ground {size_text(size)}" if wires.role == "ground" else size_text(size)
    text = f"the insulation of the {group} ({stops_text(run.stops)})"
    if len(choices) == 1:
        return choices[0]
    return asker.take(Unknown(fact_of(run, "insulation", str(part)), text, choices, names))
