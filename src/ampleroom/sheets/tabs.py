"""The tabs of a workbook: each row becomes a line of a sheet, and its words remember the cell they came from.

One grammar serves both doors: a workbook is read by turning its rows into sheet lines, so that the same reader finds
the same faults and they are told by tab and cell.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import partial
from operator import attrgetter
from typing import Any

from ampleroom.job.lines.box_base import write_base
from ampleroom.job.lines.box_contents import CLAMP_WAYS, write_apart, write_clamps, write_device
from ampleroom.job.lines.box_parts import write_part
from ampleroom.job.lines.circuits import bends_text, electrodes_text, protection_text, spaces_text
from ampleroom.job.lines.heads import usual_cable_text
from ampleroom.job.lines.runs import raceways_text, routes_text, through_text
from ampleroom.job.lines.statement import maybe, plain
from ampleroom.job.lines.wires import write_wires
from ampleroom.job.lines.wireways import place_text, section_text, splices_text, turn_text
from ampleroom.job.model import (
    Base,
    Box,
    Circuit,
    Clamps,
    Device,
    Equipment,
    Item,
    Job,
    Kind,
    Panel,
    Part,
    Raceway,
    Route,
    Run,
    Wireway,
)
from ampleroom.job.passing import said_in
from ampleroom.job.writer import written
from ampleroom.record import Record
from ampleroom.sheets.remarks import SIGN, Remarks

Row = dict[str, str]
"""A row's cells by column name."""


class Column(Record):
    """One column: its name, a note for whoever fills it in, words to choose from, how its cell stands in a line."""

    name: str
    note: str
    before: str = ""
    after: str = ""
    choices: tuple[str, ...] = ()
    wide: int = 16
    flag: str = ""
    """For yes/no columns: the words a yes stands for."""
    lines: bool = False
    """Each piece of the cell, parted by ; or a line end, is a line of its own under the row's."""
    remarks: bool = False
    """Each line of the cell is a remark over the row's line."""


class Tab(Record):
    """One tab: the word its lines begin with, its columns in the order of the line, a job's records and the row of
    each.
    """

    name: str
    word: str
    columns: tuple[Column, ...]
    records: Callable[[Job], Iterable[Any]]
    row: Callable[[Any], Row]
    says: str
    also: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its columns, in order."""
        return tuple(column.name for column in self.columns)

    def rows(self, job: Job, remarks: Remarks) -> Iterable[Row]:
        """The rows of a job, each with the remarks that stand by it in the job's sheet."""
        if REMARKS not in self.columns:
            yield from map(self.row, self.records(job))
            yield from ({"Word": SIGN, "What": remark} for remark in remarks.before)
            return
        for record in self.records(job):
            yield {**self.row(record), REMARKS.name: remarks.of(record)}


REMARKS = Column("Remarks", "words for people only, in as many lines as you like", remarks=True, wide=30)
YES = ("yes",)
HEAD_WORDS = ("job", "address", "permit", "contractor", "phase", "edition", "amendments", "cable")
JOB_WORDS = (*HEAD_WORDS, "reading", "note", "dwelling", "load", SIGN)
DEVICE_EXAMPLES = "switch #14; receptacle #12; 2 x 3-way switch #14"


# ---- rows of a job -------------------------------------------------------------------------------------------------


def job_lines(job: Job) -> Iterable[tuple[str, str]]:
    """The first word and the rest of every line about the whole job."""
    if job.title:
        yield "job", job.title
    for word in ("address", "permit", "contractor", "phase"):
        if text := getattr(job, word):
            yield word, text
    if job.edition is not None:
        yield "edition", str(job.edition)
    if job.amendments_file:
        yield "amendments", job.amendments_file
    if said := usual_cable_text(job.usual_cable, job.cables_together):
        yield "cable", said.removeprefix("cable ")
    records: list[Any] = [*job.readings, *job.notes, *([job.dwelling] if job.dwelling else []), *job.loads]
    for record in records:
        word, _, rest = written(record).partition(" ")
        yield word, rest


def job_row(line: tuple[str, str]) -> Row:
    """A line about the job itself as a row: its word and what follows."""
    return {"Word": line[0], "What": line[1]}


def box_row(box: Box) -> Row:
    """A box as a row; an unknown kind is ``?``."""
    kind = "" if not box.kind else maybe(box.kind)
    return {"Box": box.name, "Kind": kind, "At": box.description, **item_cells(box.items)}


def kind_row(kind: Kind) -> Row:
    """A kind of box as a row."""
    return {"Kind": kind.name, "For": kind.description, **item_cells(kind.items)}


COLUMN_OF: dict[type, str] = {Base: "What it is", Part: "Rings and covers", Clamps: "Clamps", Device: "Devices"}
ITEM_ORDER = (Base, Part, Clamps, Device)


def item_cells(items: tuple[Item, ...]) -> Row:
    """Lines under a box by column; where their order is another than the columns', all of them in the last one."""
    places = [ITEM_ORDER.index(type(item)) if type(item) in COLUMN_OF else len(ITEM_ORDER) for item in items]
    if places != sorted(places):
        return {"More lines": joined(map(written, items))}
    cells: dict[str, list[str]] = {}
    for item in items:
        cells.setdefault(COLUMN_OF.get(type(item), "More lines"), []).append(item_text(item))
    return {name: joined(texts) for name, texts in cells.items()}


def joined(lines: Iterable[str]) -> str:
    """Several lines in one cell; a semicolon that is part of one is doubled."""
    return "\n".join(line.replace(";", ";;") for line in lines)


def parted(cell: str) -> list[str]:
    """The lines of a cell, parted by line ends or single semicolons."""
    return [line.replace(";;", ";") for line in re.split(r"\n|(?<!;);(?!;)", cell) if line.strip()]


def item_text(item: Item) -> str:
    """A line under a box, without the word its column already says."""
    match item:
        case Base():
            return write_base(item)
        case Part():
            return write_part(item)
        case Clamps():
            return write_clamps(item).removeprefix("clamps ")
        case Device():
            return write_device(item)
        case _:
            return written(item)


def run_row(run: Run) -> Row:
    """A run as a row; length in feet, ``?`` where unknown."""
    return {
        "From": end_text(run, 0),
        "To": " > ".join(end_text(run, place) for place in range(1, len(run.stops))),
        "Cable or wires": conductors_text(run),
        "Aluminum": "yes" if run.material == "aluminum" else "",
        "Class 2": "yes" if run.low_voltage else "",
        "Through": ", ".join(map(through_text, said_in(run))),
        "Raceway": raceways_text(run),
        "Length": maybe(run.length, "ft") if run.length is not None else "",
        "Circuit": run.circuit,
        "Tap": "yes" if run.tap else "",
        "Load, VA": plain(run.load) if run.load is not None else "",
        "Routes": routes_text(run),
        "In insulation": "yes" if run.in_insulation else "",
        "Spaced": "yes" if run.spaced else "",
        "Sets": str(run.sets) if run.sets > 1 else "",
        "Existing": "yes" if run.existing else "",
        "For": run.label,
    }


def end_text(run: Run, place: int) -> str:
    """One stop of a run as text: the box, with /SIDE where a barrier divides it."""
    stop = run.stops[place]
    return maybe(stop.name) + (f"/{stop.space}" if stop.space else "")


def conductors_text(run: Run) -> str:
    """The cable or the wires of a run as a sheet has them, without its stops."""
    if run.cable is None:
        return write_wires(run.wires)
    text = written(run)
    bare = written(Run(run.stops, count=run.count, cable=run.cable, wires=run.wires, kind_assumed=run.kind_assumed))
    head = "run " + " > ".join(end_text(run, place) for place in range(len(run.stops))) + " "
    assert text.startswith("run ")
    return bare.removeprefix(head)


def circuit_row(circuit: Circuit) -> Row:
    """A circuit as a row: amperes, volts, load in VA; unknown is ``?``."""
    return {
        "Circuit": circuit.name,
        "Amperes": maybe(circuit.amperes) if circuit.amperes is not None else "",
        "Volts": str(circuit.volts) if circuit.volts else "",
        "Phases": str(circuit.phases) if circuit.phases else "",
        "Load, VA": maybe(circuit.load) if circuit.load is not None else "",
        "Continuous": "yes" if circuit.continuous else "",
        "Serves": circuit.serves,
        "Motor, hp": circuit.horsepower,
        "MCA, A": plain(circuit.mca) if circuit.mca is not None else "",
        "MOCP, A": str(circuit.mocp) if circuit.mocp else "",
        "Terminals, C": str(circuit.terminals) if circuit.terminals else "",
        "GFCI": protection_text(circuit, "gfci"),
        "AFCI": protection_text(circuit, "afci"),
        "Electrodes": electrodes_text(circuit),
        "Panel": circuit.panel,
        "Space": spaces_text(circuit),
        "For": circuit.label,
    }


def panel_row(panel: Panel) -> Row:
    """A panel as a row: volts, main and bus in amperes, terminals in degrees C."""
    return {
        "Panel": panel.name,
        "Volts": "/".join(map(str, panel.volts)),
        "Phases": str(panel.phases) if panel.phases else "",
        "Main, A": str(panel.main) if panel.main else "",
        "Bus, A": str(panel.bus) if panel.bus else "",
        "Terminals, C": str(panel.terminals) if panel.terminals else "",
        "Spaces": str(panel.spaces) if panel.spaces else "",
        "At": panel.description,
    }


def equipment_row(equipment: Equipment) -> Row:
    """A piece of equipment as a row."""
    return {"Equipment": equipment.name, "Room": equipment.room, "At": equipment.description}


def raceway_row(raceway: Raceway) -> Row:
    """A raceway as a row: trade size, length in feet, bends, whether it is a sleeve, whether it lies underground."""
    return {
        "Raceway": raceway.name,
        "From": raceway.ends[0],
        "To": raceway.ends[1],
        "Kind": raceway.kind,
        "Size": maybe(raceway.size),
        "Length": maybe(raceway.length, "ft") if raceway.length is not None else "",
        "Bends": bends_text(raceway.bends),
        "Sleeve": "yes" if raceway.sleeve else "",
        "Underground": "yes" if raceway.underground else "",
    }


def wireways_of_form(job: Job, form: str) -> Iterable[Wireway]:
    """The wireways of a job, or its gutters."""
    return [wireway for wireway in job.wireways if wireway.form == form]


def wireway_row(wireway: Wireway) -> Row:
    """A wireway or gutter as a row: its inside in inches, its length in feet."""
    return {
        wireway.form.capitalize(): wireway.name,
        "Place": place_text(wireway),
        "Inside": section_text(wireway),
        "Length": maybe(wireway.length, "ft") if wireway.length is not None else "",
        "Splices": splices_text(wireway),
        "Turns": turn_text(wireway),
        "Entries": " ".join(map(write_apart, wireway.apart)),
        "Nonmetallic": "yes" if wireway.nonmetallic else "",
        "For": wireway.label,
    }


def route_row(route: Route) -> Row:
    """A route as a row: length in feet, ambient in degrees C, height over the roof in inches."""
    return {
        "Route": route.name,
        "Length": f"{plain(route.length)} ft" if route.length is not None else "",
        "Ambient, C": plain(route.ambient) if route.ambient is not None else "",
        "In insulation": "yes" if route.in_insulation else "",
        "Sealed": "yes" if route.sealed else "",
        "Rooftop, in": plain(route.rooftop) if route.rooftop is not None else "",
        "Spacing": "" if route.spaced is None else "spaced" if route.spaced else "bundled",
        "At": route.description,
    }


# ---- the tabs ------------------------------------------------------------------------------------------------------

ITEM_COLUMNS = (
    Column(
        "What it is",
        "the box by its trade size or its marking: square 4 x 1-1/2, marked 20.3 in3 plastic 1-gang, ? for not known",
        lines=True,
        wide=34,
    ),
    Column("Rings and covers", "plaster ring 3.5 in3; several parted by ;", lines=True, wide=26),
    Column("Clamps", "where cables are held", before="clamps", choices=(*CLAMP_WAYS[:5], "?"), lines=True, wide=10),
    Column("Devices", f"each with its largest wire: {DEVICE_EXAMPLES}", lines=True, wide=36),
    Column("More lines", "anything else a sheet may say under a box, parted by ; or line ends", lines=True, wide=36),
)

TABS: tuple[Tab, ...] = (
    Tab(
        "Job",
        "",
        (
            Column("Word", ", ".join(JOB_WORDS) + " for a remark", choices=JOB_WORDS, wide=14),
            Column("What", "the rest of the line: Boathouse studio, 2020, plastic-tabs not-counted", wide=60),
        ),
        job_lines,
        job_row,
        "the job's name, the adopted edition, readings and notes",
    ),
    Tab(
        "Boxes",
        "box",
        (
            Column("Box", "its name: one word, such as J1"),
            Column("Kind", "a name from the Kinds tab, or ? where a box is still to be chosen", wide=14),
            *ITEM_COLUMNS,
            Column("At", "where it is", before="at", wide=30),
            REMARKS,
        ),
        attrgetter("boxes"),
        box_row,
        "one row a box",
        ("Box list", "Box"),
    ),
    Tab(
        "Runs",
        "run",
        (
            Column("From", "a box, a panel, or ?", wide=12),
            Column("To", "a box, a panel, or ?", before=">", wide=12),
            Column("Cable or wires", "12/2 nm-b; 3 x #12 thhn, ground #12", choices=(), wide=24),
            Column("Aluminum", "yes for aluminum", flag="aluminum", choices=YES, wide=9),
            Column("Class 2", "yes for class 2 and data wires", flag="class 2", choices=YES, wide=9),
            Column("Length", "with its unit, 38 ft; a bare number is feet", wide=10),
            Column("Through", "boxes it passes unbroken: J1, or J1 loop 14 in", before="through", wide=18),
            Column("Raceway", "names from the Raceways tab, in order: R1 then R2", before="in", wide=10),
            Column("Circuit", "a name from the Circuits tab", before="circuit", wide=9),
            Column("Tap", "yes for a tap, thinner than its breaker protects", flag="tap", choices=YES, wide=9),
            Column("Load, VA", "of its circuit, at its end away from the panel", before="load", after="VA", wide=9),
            Column("Routes", "names from the Routes tab, in order: crawlspace then attic", before="by", wide=10),
            Column("In insulation", "yes if it lies in insulation", flag="in insulation", choices=YES, wide=12),
            Column("Spaced", "yes if it is kept apart from other cables", flag="spaced", choices=YES, wide=9),
            Column("Sets", "conductors a phase in parallel", after="sets", wide=9),
            Column("Existing", "yes if it was there before", flag="existing", choices=YES, wide=9),
            Column("For", "what it is for", before="for", wide=24),
            REMARKS,
        ),
        attrgetter("runs"),
        run_row,
        "one row a run: its conductors count in every box it reaches",
        ("Cables", "Wires"),
    ),
    Tab(
        "Circuits",
        "circuit",
        (
            Column("Circuit", "its name or number"),
            Column("Amperes", "of its breaker, or ?", after="A"),
            Column("Volts", "", after="V"),
            Column("Phases", "1 or 3", after="-phase"),
            Column("Load, VA", "", after="VA"),
            Column("Continuous", "yes for three hours or more", flag="continuous", choices=YES),
            Column("Serves", "range, dryer, water heater, heat, charger, dishwasher ... or dwelling", before="serves"),
            Column("Motor, hp", "from its nameplate", before="motor", after="hp"),
            Column("MCA, A", "minimum circuit ampacity, from the nameplate", before="mca", after="A"),
            Column("MOCP, A", "largest breaker or fuse, from the nameplate", before="mocp", after="A"),
            Column("Terminals, C", "60 or 75, for both ends", before="terminals", after="C"),
            Column("GFCI", "ground-fault protection of all of it: gfci, or no gfci", choices=("gfci", "no gfci")),
            Column("AFCI", "arc-fault protection: afci, or no afci", choices=("afci", "no afci")),
            Column(
                "Electrodes", "of a service, each with its conductor: rod #6, concrete #4", before="electrode", wide=18
            ),
            Column("Panel", "a name from the Panels tab", before="on"),
            Column("Space", "where its breaker sits: 5, or 5,7; 7a for half a tandem", before="space", wide=9),
            Column("For", "what it serves", before="for", wide=30),
            REMARKS,
        ),
        attrgetter("circuits"),
        circuit_row,
        "one row a circuit",
    ),
    Tab(
        "Panels",
        "panel",
        (
            Column("Panel", "its name"),
            Column("Volts", "120/240", after="V"),
            Column("Phases", "1 or 3", after="-phase"),
            Column("Main, A", "", before="main", after="A"),
            Column("Bus, A", "", before="bus", after="A"),
            Column("Terminals, C", "60 or 75", before="terminals", after="C"),
            Column("Spaces", "how many it has", after="spaces", wide=9),
            Column("At", "where it is", before="at", wide=30),
            REMARKS,
        ),
        attrgetter("panels"),
        panel_row,
        "one row a panel",
    ),
    Tab(
        "Equipment",
        "equipment",
        (
            Column("Equipment", "its name"),
            Column("Room", "the room it stands in: garage, outdoors", before="room"),
            Column("At", "where it is", before="at", wide=30),
            REMARKS,
        ),
        attrgetter("equipment"),
        equipment_row,
        "what runs end in that is no box",
    ),
    Tab(
        "Kinds",
        "kind",
        (
            Column("Kind", "a name for a box used again and again"),
            *ITEM_COLUMNS,
            Column("For", "in words", before="for", wide=30),
            REMARKS,
        ),
        attrgetter("kinds"),
        kind_row,
        "boxes described once",
    ),
    Tab(
        "Raceways",
        "raceway",
        (
            Column("Raceway", "its name"),
            Column("From", "a place"),
            Column("To", "a place", before=">"),
            Column("Kind", "emt, pvc-40 ..."),
            Column("Size", "its trade size"),
            Column("Length", "62 ft"),
            Column("Bends", "3 bends 90", wide=18),
            Column("Sleeve", "yes", flag="sleeve", choices=YES),
            Column("Underground", "yes", flag="underground", choices=YES),
            REMARKS,
        ),
        attrgetter("raceways"),
        raceway_row,
        "one row a raceway",
    ),
    *(
        Tab(
            f"{form.capitalize()}s",
            form,
            (
                Column(form.capitalize(), "its name"),
                Column("Place", "P > J9 or at P; may be empty", wide=14),
                Column("Inside", "4 x 4, in inches"),
                Column("Length", "5 ft"),
                Column("Splices", "no splices, splices 6 in2 or splices 2 x 3 in", wide=20),
                Column("Turns", "straight, or turns across 6 in", wide=20),
                Column("Entries", "apart R1 R2 24 in", wide=24),
                Column("Nonmetallic", "yes", flag="nonmetallic", choices=YES),
                Column("For", "what it is for", before="for", wide=24),
                REMARKS,
            ),
            partial(wireways_of_form, form=form),
            wireway_row,
            f"one row a {form}",
        )
        for form in ("wireway", "gutter")
    ),
    Tab(
        "Routes",
        "route",
        (
            Column("Route", "its name"),
            Column("Length", "24 ft"),
            Column("Ambient, C", "", before="ambient", after="C"),
            Column("In insulation", "yes", flag="in insulation", choices=YES),
            Column("Sealed", "yes", flag="sealed", choices=YES),
            Column("Rooftop, in", "height above the roof", before="rooftop", after="in"),
            Column("Spacing", "spaced or bundled: how its cables lie", choices=("spaced", "bundled")),
            Column("At", "where it goes", before="at", wide=30),
            REMARKS,
        ),
        attrgetter("routes"),
        route_row,
        "stretches of building that runs go along",
    ),
)

BY_NAME = {tab.name.casefold(): tab for tab in TABS} | {also.casefold(): tab for tab in TABS for also in tab.also}

__all__ = ["BY_NAME", "TABS", "Column", "Row", "Tab", "parted"]
