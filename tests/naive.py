"""A second, slow and simple reading of the rules for room and fill of a box, kept apart from the first on purpose.

Written from ``reference/boxes/fill_rules.md`` and ``interpretation.md`` alone, its tables typed from the csv files
beside them. It shares nothing with ``ampleroom.rules``: only the records of the job are the same. Every conductor
becomes one entry of a list, and everything is counted one by one. All facts must be known; sizes are those of the
sheet.

Where both papers are silent, the two readings were talked over and the more careful answer taken: a clamp, stud,
ground, device, module or block by a conductor past the end of the table takes its last row; a low-voltage conductor
thicker than 18 AWG its own; no barrier comes off before 2017, marked or not, unless the sheet reads it so; lines above
the first space hold for every space; the four fixture wires left out are four a space, the thickest.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from ampleroom.job.model import (
    Barrier,
    Base,
    BondingJumper,
    Box,
    Cable,
    Clamps,
    Device,
    Fitting,
    FixtureWires,
    Item,
    Job,
    Leads,
    Module,
    Part,
    Pigtails,
    Run,
    SpaceShare,
    TerminalBlock,
    Wires,
)
from ampleroom.job.unknown import UNKNOWN, Maybe

T = TypeVar("T")

# conductor_allowance.csv
ALLOWANCE = {
    "18": Fraction("1.50"),
    "16": Fraction("1.75"),
    "14": Fraction("2.00"),
    "12": Fraction("2.25"),
    "10": Fraction("2.50"),
    "8": Fraction("3.00"),
    "6": Fraction("5.00"),
}

# metal_boxes.csv, rows r01 to r24
METAL_BOX = {
    ("octagon", "4 x 1-1/4"): Fraction("12.5"),
    ("octagon", "4 x 1-1/2"): Fraction("15.5"),
    ("octagon", "4 x 2-1/8"): Fraction("21.5"),
    ("square", "4 x 1-1/4"): Fraction("18.0"),
    ("square", "4 x 1-1/2"): Fraction("21.0"),
    ("square", "4 x 2-1/8"): Fraction("30.3"),
    ("square", "4-11/16 x 1-1/4"): Fraction("25.5"),
    ("square", "4-11/16 x 1-1/2"): Fraction("29.5"),
    ("square", "4-11/16 x 2-1/8"): Fraction("42.0"),
    ("device", "3 x 2 x 1-1/2"): Fraction("7.5"),
    ("device", "3 x 2 x 2"): Fraction("10.0"),
    ("device", "3 x 2 x 2-1/4"): Fraction("10.5"),
    ("device", "3 x 2 x 2-1/2"): Fraction("12.5"),
    ("device", "3 x 2 x 2-3/4"): Fraction("14.0"),
    ("device", "3 x 2 x 3-1/2"): Fraction("18.0"),
    ("device", "4 x 2-1/8 x 1-1/2"): Fraction("10.3"),
    ("device", "4 x 2-1/8 x 1-7/8"): Fraction("13.0"),
    ("device", "4 x 2-1/8 x 2-1/8"): Fraction("14.5"),
    ("masonry", "3-3/4 x 2 x 2-1/2"): Fraction("14.0"),
    ("masonry", "3-3/4 x 2 x 3-1/2"): Fraction("21.0"),
    ("fs", "single cover"): Fraction("13.5"),
    ("fd", "single cover"): Fraction("18.0"),
    ("fs", "multiple cover"): Fraction("18.0"),
    ("fd", "multiple cover"): Fraction("24.0"),
}

# How deep each is, inches: the last number of its trade size, or the least depth the table gives.
METAL_BOX_DEPTH = {
    "1-1/4": Fraction("1.25"),
    "1-1/2": Fraction("1.5"),
    "1-7/8": Fraction("1.875"),
    "2": Fraction("2"),
    "2-1/8": Fraction("2.125"),
    "2-1/4": Fraction("2.25"),
    "2-1/2": Fraction("2.5"),
    "2-3/4": Fraction("2.75"),
    "3-1/2": Fraction("3.5"),
}

# Thin to thick; what is thicker than 6 AWG has no allowance and belongs to the pull-box rules.
SMALL = ["24", "22", "20", "18", "16", "14", "12", "10", "8", "6"]

# cable_types.csv: the ground that comes in each cable where the sheet says nothing of it.
CABLE_GROUND = {
    ("nm-b", "14"): "14",
    ("nm-b", "12"): "12",
    ("nm-b", "10"): "10",
    ("nm-b", "8"): "10",
    ("nm-b", "6"): "10",
    ("nm-b", "4"): "8",
    ("uf-b", "14"): "14",
    ("uf-b", "12"): "12",
    ("uf-b", "10"): "10",
    ("mc", "14"): "14",
    ("mc", "12"): "12",
    ("mc", "10"): "10",
}


@dataclass
class One:
    """One conductor in the box."""

    size: str
    what: str
    """wire, ground, isolated ground or low-voltage."""
    counts: int = 1


def naive_reading(
    job: Job,
    box: Box,
    space: str,
    edition: int,
    readings: Mapping[str, str],
    *,
    what_devices_say_is_present: bool = True,
) -> tuple[Fraction | None, Fraction]:
    """The room and the fill of one space of one box, in3. A room of None: nobody knows it.

    A device with #12 on it means that a #12 is in the box, so it may size the clamps. ``what_devices_say_is_present``
    set to False takes only conductors with a line of their own.
    """
    items = everything_written_of(job, box)
    room = room_of(items, space, edition, readings)
    return room, fill_of(job, box, items, space, edition, readings, what_devices_say_is_present)


def nothing_is_in(job: Job, box: Box) -> bool:
    """Whether no line puts a conductor, a device, a module or a terminal block into a box, on any side of it."""
    contents = Device | Module | TerminalBlock | FixtureWires | Leads | Pigtails | BondingJumper
    if any(isinstance(item, contents) for item in everything_written_of(job, box)):
        return False
    stops = [stop.name for run in job.runs for stop in run.stops]
    passed = [through.name for run in job.runs for through in run.through]
    return box.name not in [*stops, *passed]


def everything_written_of(job: Job, box: Box) -> list[Item]:
    items: list[Item] = []
    for kind in job.kinds:
        if kind.name == box.kind:
            for item in kind.items:
                items.append(item)
    for item in box.items:
        items.append(item)
    return items


# ---- room ----------------------------------------------------------------------------------------------------------


def room_of(items: list[Item], space: str, edition: int, readings: Mapping[str, str]) -> Fraction | None:
    base = None
    for item in items:
        if isinstance(item, Base):
            base = item
    if base is None:
        return None

    whole = room_of_base(base)
    if whole is None:
        return None
    for item in items:
        if isinstance(item, Part):
            whole = whole + room_of_part(item, readings)

    # The barriers take room away: what is marked on them, or a number by what they are made of.
    for item in items:
        if isinstance(item, Barrier):
            if edition < 2017 and readings.get("early-barrier", "takes-nothing") == "takes-nothing":
                continue
            if item.volume is not None:
                whole = whole - Fraction(item.volume)
            elif item.material == "metal":
                whole = whole - Fraction(1, 2)
            else:
                whole = whole - 1

    spaces = [item for item in items if isinstance(item, SpaceShare)]
    if len(spaces) > 0:
        mine = None
        for item in spaces:
            if item.name == space:
                mine = item
        assert mine is not None
        if mine.volume is not None:
            written = Fraction(0)
            for item in spaces:
                assert item.volume is not None
                written = written + Fraction(item.volume)
            here = whole * Fraction(mine.volume) / written
            here = min(here, Fraction(mine.volume))
        elif mine.share is not None:
            here = whole * Fraction(mine.share[0], mine.share[1])
        else:
            assert mine.gangs is not None
            gangs = 0
            for item in spaces:
                assert item.gangs is not None
                gangs = gangs + item.gangs
            here = whole * Fraction(mine.gangs, gangs)
    else:
        here = whole

    # What an assembly leaves inside comes off the room, where the edition knows such assemblies.
    if edition >= 2014:
        for item in what_is_in(items, space):
            if isinstance(item, Clamps) and item.way == "assembly":
                here = here - Fraction(item.volume)
    return here


def room_of_base(base: Base) -> Fraction | None:
    if base.form == "standard":
        if base.volume is not None:
            return Fraction(known(base.volume)) * base.ganged
        if base.material == "plastic":
            return None
        one = METAL_BOX[base.shape, str(base.size)]
        how_many = base.ganged
        if base.shape in ("masonry", "fs", "fd") and base.gangs is not None and base.gangs > how_many:
            how_many = base.gangs
        return one * how_many
    if base.form == "marked":
        return Fraction(known(base.volume)) * base.ganged
    if base.form == "measured" and base.volume is not None:
        return Fraction(known(base.volume)) * base.ganged
    if base.form == "measured":
        product = Fraction(1)
        for side in base.inside:
            product = product * Fraction(side)
        if product <= 100 or base.material == "plastic":
            return None
        return Fraction(math.floor(product * 100), 100)
    if base.form == "conduit body":
        if base.volume is None:
            return None
        return Fraction(known(base.volume))
    return None


def room_of_part(part: Part, readings: Mapping[str, str]) -> Fraction:
    if part.volume is not None:
        return Fraction(known(part.volume))
    if part.kind == "extension ring" and part.size != "":
        if part.material == "plastic":
            return Fraction(0)
        if readings.get("table-size-ring", "table-volume") == "adds-nothing":
            return Fraction(0)
        return METAL_BOX[part.shape, part.size]
    return Fraction(0)


# ---- fill ----------------------------------------------------------------------------------------------------------


def fill_of(
    job: Job,
    box: Box,
    items: list[Item],
    space: str,
    edition: int,
    readings: Mapping[str, str],
    what_devices_say_is_present: bool,
) -> Fraction:
    inside = what_is_in(items, space)
    low_voltage_counts = readings.get("low-voltage", "as-18") == "as-18"

    # Every conductor that comes in, one by one, as often as it counts.
    entering: list[One] = []
    for run in job.runs:
        for _ in range(known(run.count)):
            for index in range(len(run.stops)):
                stop = run.stops[index]
                if stop.name == box.name and stop.space == space:
                    sides = 1
                    if 0 < index < len(run.stops) - 1:
                        sides = 2
                    for _ in range(sides):
                        for one in conductors_of_one(run):
                            entering.append(one)
            for passed in run.through:
                if passed.name == box.name and passed.space == space:
                    counts = 1
                    if passed.slack == "landed" or (passed.slack == "loop" and passed.loop is None):
                        if readings.get("unmeasured-loop", "twice") == "twice":
                            counts = 2
                    elif passed.slack == "loop":
                        assert passed.loop is not None
                        if Fraction(known(passed.loop)) >= loop_that_counts_twice(items, readings):
                            counts = 2
                    for one in conductors_of_one(run):
                        one.counts = counts
                        entering.append(one)

    # Those that end here from a luminaire, from other equipment, from a device.
    left_out: list[One] = []
    thin: list[One] = []
    for item in inside:
        if isinstance(item, FixtureWires):
            relief = item.canopy == "domed"
            if item.canopy == "flat" and readings.get("flat-canopy", "counted") == "as-domed":
                relief = True
            from_canopy(item.wires, relief, entering, left_out, thin)
        if isinstance(item, Leads):
            relief = readings.get("equipment-leads", "counted") == "as-canopy"
            from_canopy(item.wires, relief, entering, left_out, thin)
        if isinstance(item, BondingJumper):
            for _ in range(item.count):
                entering.append(One(known(item.size), "ground"))
        if isinstance(item, Pigtails):
            for _ in range(item.count):
                if item.ground and readings.get("grounding-pigtail", "not-counted") == "counted":
                    entering.append(One(item.size, "ground"))
                else:
                    left_out.append(One(item.size, "wire"))

    # Four thin ones of a canopy may be left out, and nobody would choose other than the thickest of them.
    thin.sort(key=allowance_of, reverse=True)
    for index in range(len(thin)):
        if index < 4:
            left_out.append(thin[index])
        else:
            entering.append(thin[index])

    # The largest of all that is in here, whatever it does.
    largest = Fraction(0)
    for one in entering + left_out:
        largest = max(largest, allowance_by(one.size))
    for item in inside:
        if isinstance(item, Device) and is_only_a_plate(item):
            continue
        if what_devices_say_is_present and isinstance(item, Device | Module | TerminalBlock):
            largest = max(largest, allowance_by(known(item.size)))
        if what_devices_say_is_present and isinstance(item, Device) and item.leads is not None:
            largest = max(largest, allowance_by(item.leads[1]))

    fill = Fraction(0)

    # Conductors, each at its own size.
    for one in entering:
        if one.what == "wire" or (one.what == "low-voltage" and low_voltage_counts):
            fill = fill + allowance_of(one) * one.counts

    # Grounds.
    fill = fill + fill_of_grounds(entering, edition, readings)

    # Clamps: one allowance for all of them.
    clamps_take = False
    for item in inside:
        if isinstance(item, Clamps) and clamps_are_inside(str(item.way), edition, readings):
            clamps_take = True
    if clamps_take:
        fill = fill + largest

    # Studs and hickeys: one for each of the two kinds.
    for kind in ("stud", "hickey"):
        there_is_one = False
        for item in inside:
            if isinstance(item, Fitting) and item.kind == kind:
                there_is_one = True
        if there_is_one:
            fill = fill + largest

    # Devices, modules, blocks.
    for item in inside:
        if isinstance(item, Device) and not is_only_a_plate(item):
            size = known(item.size)
            if item.pigtail and readings.get("pigtailed-device", "splice-size") == "pigtail-size":
                size = item.pigtail
            gangs = known(item.gangs)
            is_wide = item.width is not None and Fraction(known(item.width)) > 2
            if is_wide and gangs < 2 and readings.get("wide-device", "by-width") == "by-width":
                gangs = 2
            for _ in range(item.count):
                if item.leads is not None and readings.get("device-leads", "not-counted") == "counted":
                    for _ in range(item.leads[0]):
                        fill = fill + allowance(item.leads[1])
                for _ in range(gangs):
                    fill = fill + allowance_by(size) + allowance_by(size)
        if isinstance(item, Module) and readings.get("relay-module", "larger") == "larger":
            for _ in range(item.count):
                double = allowance_by(known(item.size)) * 2
                body = Fraction(item.volume) if item.volume is not None else Fraction(0)
                fill = fill + max(double, body)
        if isinstance(item, TerminalBlock):
            counted = readings.get("early-terminal-block", "not-counted") == "counted"
            if edition >= 2023 or counted:
                for _ in range(item.count):
                    fill = fill + allowance_by(known(item.size))
    return fill


def fill_of_grounds(entering: list[One], edition: int, readings: Mapping[str, str]) -> Fraction:
    plain = []
    isolated = []
    for one in entering:
        if one.what == "ground":
            plain.append(allowance_by(one.size))
        if one.what == "isolated ground":
            isolated.append(allowance_by(one.size))

    if edition < 2020:
        fill = Fraction(0)
        if len(plain) > 0:
            fill = fill + max(plain)
        if len(isolated) > 0:
            fill = fill + max(isolated)
        return fill

    fill = Fraction(0)
    if readings.get("isolated-ground", "pooled") == "own-allowance":
        pool = plain
        if len(isolated) > 0:
            fill = fill + max(isolated)
    else:
        pool = plain + isolated
    if len(pool) > 0:
        fill = fill + max(pool)
        for _ in pool[4:]:
            fill = fill + max(pool) / 4
    return fill


def is_only_a_plate(device: Device) -> bool:
    """A blank of which no wire, no leads and no body are written: nothing is on a yoke."""
    if device.size is not UNKNOWN or device.pigtail or device.leads is not None or device.projects is not None:
        return False
    return all(name.split(" ")[-1] == "blank" for name in device.names)


def clamps_are_inside(way: str, edition: int, readings: Mapping[str, str]) -> bool:
    if way == "inside":
        return True
    if way == "tabs":
        return readings.get("plastic-tabs", "counted") == "counted"
    if way == "push-in":
        return readings.get("push-in-connectors", "counted") == "counted"
    if way == "assembly":
        return edition < 2014
    return False


def what_is_in(items: list[Item], space: str) -> list[Item]:
    """What is written of one space: the lines after its own, up to the next, and those before any, which hold for
    all.
    """
    found: list[Item] = []
    here = ""
    for item in items:
        if isinstance(item, SpaceShare):
            here = item.name
        elif here in ("", space):
            found.append(item)
    return found


def conductors_of_one(run: Run) -> list[One]:
    """What one cable, or one pull of wires, brings in."""
    groups: list[Wires] = []
    if run.cable is not None:
        insulated = 0
        for part in run.cable.of.split("/"):
            insulated = insulated + int(part)
        groups.append(Wires(insulated, run.cable.size))
        ground = ground_of(run.cable)
        if ground != "":
            groups.append(Wires(1, ground, "ground"))
    for group in run.wires:
        groups.append(group)
    found = []
    for group in groups:
        for _ in range(known(group.count)):
            size = known(group.size)
            if run.low_voltage:
                found.append(One(size, "low-voltage"))
            elif group.role == "insulated":
                found.append(One(size, "wire"))
            else:
                found.append(One(size, group.role))
    return found


def ground_of(cable: Cable) -> str:
    """The size of the ground wire in a cable; an empty one where it has none."""
    if cable.ground == "none":
        return ""
    if cable.ground is not None:
        return known(cable.ground)
    if cable.kind in ("ac", "mc-ap"):  # the armor, with its bare wire, is the ground
        return ""
    return CABLE_GROUND[cable.kind, known(cable.size)]


def from_canopy(
    wires: tuple[Wires, ...], relief: bool, entering: list[One], left_out: list[One], thin: list[One]
) -> None:
    """Wires of a luminaire or of equipment: under a domed canopy the grounds are left out, and four of the thin
    ones.
    """
    for group in wires:
        for _ in range(known(group.count)):
            size = known(group.size)
            what = "wire" if group.role == "insulated" else group.role
            one = One(size, what)
            if not relief:
                entering.append(one)
            elif what != "wire":
                left_out.append(one)
            elif size in ("24", "22", "20", "18", "16"):
                thin.append(one)
            else:
                entering.append(one)


def loop_that_counts_twice(items: list[Item], readings: Mapping[str, str]) -> Fraction:
    """Twice the free length: 6 in., or, read by the depth, enough to reach 3 in. out of the box."""
    free = Fraction(6)
    if readings.get("loop-threshold", "twelve-inches") == "by-depth":
        depth = depth_of(items)
        if depth is not None and depth + 3 > free:
            free = depth + 3
    return free * 2


def depth_of(items: list[Item]) -> Fraction | None:
    """How deep the box is with its rings and covers; None where that is not known, or its opening is large."""
    depth = None
    for item in items:
        if isinstance(item, Base):
            if item.form == "measured":
                if item.inside[0] >= 8 and item.inside[1] >= 8:
                    return None
                depth = Fraction(item.inside[2])
            elif item.depth is not None:
                depth = Fraction(known(item.depth))
            elif item.form == "standard" and item.shape == "fs":
                depth = Fraction("1.75")
            elif item.form == "standard" and item.shape == "fd":
                depth = Fraction("2.375")
            elif item.form == "standard":
                depth = METAL_BOX_DEPTH[str(item.size).split(" x ")[-1]]
    if depth is None:
        return None
    for item in items:
        if isinstance(item, Part):
            if item.depth is not None:
                depth = depth + Fraction(known(item.depth))
            elif item.size != "":
                depth = depth + METAL_BOX_DEPTH[item.size.split(" x ")[-1]]
    return depth


def allowance_of(one: One) -> Fraction:
    """Low-voltage conductors take what 18 AWG takes at the least; the table gives them no number of their own."""
    if one.what == "low-voltage":
        return max(ALLOWANCE["18"], allowance(one.size))
    return allowance(one.size)


def allowance(size: str) -> Fraction:
    if size not in SMALL:
        return Fraction(0)
    if size in ("24", "22", "20"):
        return ALLOWANCE["18"]
    return ALLOWANCE[size]


def allowance_by(size: str) -> Fraction:
    """The allowance of a clamp or stud where this is the largest conductor: past the end of the table, its last row."""
    if size not in SMALL:
        return ALLOWANCE["6"]
    return allowance(size)


def known(fact: Maybe[T] | None) -> T:
    assert fact is not None
    assert fact is not UNKNOWN
    return fact
