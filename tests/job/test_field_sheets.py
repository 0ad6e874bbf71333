"""Four long sheets as they are typed in the field, and the jobs they mean, written by hand from the words alone.

What a word means is common practice, no source; each box and run below is what an electrician would say on the phone.
"""

from decimal import Decimal
from pathlib import Path

import pytest

from ampleroom.job import UNKNOWN, Job, read_job, read_with_faults, sheet_from_file, write_job
from ampleroom.job.model import (
    Base,
    Box,
    Cable,
    Carries,
    Circuit,
    Clamps,
    Device,
    Fitting,
    Kind,
    Mounting,
    Panel,
    Part,
    Raceway,
    Rated,
    Run,
    RunRaceway,
    Stop,
    Through,
    Uncounted,
    Wires,
)

FIELD = Path(__file__).parent.parent / "jobs" / "field"


def stops(*names):
    return tuple(Stop(UNKNOWN if name == "?" else name) for name in names)


def nm(size, of):
    """A cable of which no kind is written."""
    return {"cable": Cable("nm-b", size, of), "kind_assumed": True}


def square(size, face=""):
    return Base("standard", "square", size, face)


def marked(volume, **more):
    return Base("marked", volume=Decimal(volume) if volume else UNKNOWN, **more)


BUNKHOUSE = Job(
    title="Cannery bunkhouse, upper floor",
    address="9 Net Loft Road",
    permit="#26-0932",
    contractor="Tide & Sons crew",
    phase="rough-in",
    edition=2020,
    panels=(Panel("MP", (120, 240), 1, main=200, description="mud room"),),
    circuits=(Circuit("1", 15), Circuit("2", 20, label="sinks")),
    boxes=(
        Box("A", "hall ceiling", items=(
            square("4 x 2-1/8"), Clamps("none"), Device(("keyless light",)), Uncounted("wire connectors", 6),
        )),
        Box("B", "bunk room door", items=(
            marked("20.3", material="plastic", gangs=1), Mounting("new-work"), Device(("3-way switch",)),
        )),
        Box("C", items=(
            marked("22.5", material="plastic"), Mounting("new-work"), Device(("3-way switch",), "14"),
            Device(("smoke alarm",)),
        )),
        Box("D", "wash room", items=(
            marked("32", material="plastic", gangs=2), Device(("gfci",), amperes=20),
            Device(("single-pole switch",), "12"),
        )),
        Box("E", "over the bunks", items=(marked("15.5"), Rated("fan"), Carries("fan", Decimal(35)), Clamps("tabs"))),
        Box("F", "desk", items=(marked("18"), Mounting("old-work"), Device(("duplex receptacle",), count=2))),
    ),
    runs=(
        Run(stops("MP", "A"), length=Decimal(40), circuit="1", **nm("14", "2")),
        Run(stops("A", "B"), **nm("14", "3")),
        Run(stops("B", "C"), length=Decimal(22), **nm("14", "3")),
        Run(stops("A", "E"), **nm("14", "2")),
        Run(stops("MP", "D"), circuit="2", **nm("12", "2")),
        Run(stops("D", "F"), **nm("12", "2")),
        Run(stops("F", "?"), wires=(Wires(8, "22"),), low_voltage=True),
    ),
)  # fmt: skip

OBSERVATORY = Job(
    title="Hilltop observatory, dome floor",
    phase="final",
    edition=2023,
    usual_cable="mc",
    panels=(
        Panel("LP", (120, 208), 3, bus=225, description="electric closet"),
        Panel("UP", (120, 208), 3, main=100, description="the pier"),
    ),
    boxes=(
        Box("P1", "pier base", items=(
            square("4-11/16 x 2-1/8"), Clamps("outside"), Part("raised cover", Decimal(6)),
            Device(("duplex receptacle",), "12", amperes=20), Device(("duplex receptacle", "switch"), "12"),
        )),
        Box("P2", "west stair", items=(
            square("4 x 1-1/2"), Clamps("outside"), Part("plaster ring", UNKNOWN, depth=Decimal("0.625")),
            Device(("occupancy sensor",), "12"),
        )),
        Box("P3", items=(
            square("4 x 2-1/8"), Part("extension ring", None, "square", "4 x 1-1/2"), Uncounted("blank cover"),
            Uncounted("ground screw"),
        )),
        Box("P4", "shutter motor", items=(
            Base("standard", "device", "4 x 2-1/8 x 1-7/8"),
            Device(("double-pole switch",), "10", amperes=30, volts=240),
        )),
        Box("P5", "roof", items=(Base("conduit body", "lb", trade_size="3/4"),)),
        Box("P6", "red lights", items=(
            marked("", gangs=3), Device(("dimmer",), "12", 3), Device(("thermostat",)),
        )),
    ),
    raceways=(Raceway("R1", ("LP", "P1"), "emt", "3/4", Decimal(60), (90, 90, 90)),),
    runs=(
        Run(stops("P1", "P2"), cable=Cable("mc", "12", "2"), length=Decimal(30)),
        Run(stops("P2", "P3"), count=2, cable=Cable("mc", "12", "2")),
        Run(stops("LP", "P4"), wires=(Wires(3, "10", insulation="thhn"), Wires(1, "10", "ground")),
            raceways=(RunRaceway("", "emt", "3/4"),)),
        Run(stops("LP", "P1"), (Through("P5"),), wires=(Wires(4, "12", insulation="thhn", color="black"),),
            raceways=(RunRaceway("R1"),)),
        Run(stops("P3", "P6"), cable=Cable("mc", "12", "3"), circuit="7"),
        Run(stops("UP", "P6"), wires=(Wires(5, "18"),), low_voltage=True),
        Run(stops("P4", "?"), cable=Cable("mc-ap", "12", "2")),
        Run(stops("UP", "LP"), cable=Cable("ser", "4/0", "3", "2/0"), material="aluminum"),
    ),
)  # fmt: skip

LIGHTHOUSE = Job(
    title="Keeper's cottage, walked with the covers off",
    edition=2017,
    panels=(Panel("P"),),
    kinds=(Kind("remod", (marked("18", gangs=1), Mounting("old-work")), "the back rooms"),),
    boxes=(
        Box("J1", "attic, over the lamp stair", items=(
            Base("standard", "octagon", UNKNOWN, "4"), Clamps("inside"), Fitting("stud"),
        )),
        Box("J2", items=(Base("standard", "device", UNKNOWN, "4 x 2-1/8"), Device(("switch",)))),
        Box("J3", "kitchen", "remod", items=(Device(("gfci",), amperes=15),)),
        Box("J4", "kitchen", items=(marked("", depth=Decimal("0.5")), Device(("light",)))),
        Box("J5", items=(Base("standard", "octagon", "4 x 2-1/8"), Part("extension ring", UNKNOWN))),
        Box("J6", "cellar", items=(
            square("4 x 2-1/8"), Clamps("none"), Device(("duplex receptacle",), "12"), Uncounted("wire connectors"),
        )),
        Box("J7", "cellar stair", items=(
            Base("standard", "device", "3 x 2 x 2-1/2", material="metal"), Device(("switch",), "14"),
        )),
    ),
    runs=(
        Run(stops("J1", "J2"), wires=(Wires(2, "14", insulation="knob-and-tube"),)),
        Run(stops("J1", "?"), wires=(Wires(2, "14", insulation="knob-and-tube"),)),
        Run(stops("J2", "J3"), cable=Cable("?", UNKNOWN, "?")),
        Run(stops("P", "J3"), **nm("10", "3")),
        Run(stops("J4", "J6"), cable=Cable("uf-b", "12", "2"), length=Decimal(18)),
        Run(stops("P", "J6"), wires=(Wires(2, "6"), Wires(1, "6"))),
        Run(stops("J6", "J7", "J5"), cable=Cable("old", "14", "2")),
        Run(stops("P", "J4"), cable=Cable("nm-b", "12", "2"), length=Decimal(38), existing=True),
    ),
)  # fmt: skip

CHAPEL = Job(
    title="Quarry Hill chapel, kitchen remodel",
    address="400 Quarry Hill Rd",
    permit="no. 26-1178",
    contractor="Third Saturday volunteers",
    phase="rough-in",
    edition=2020,
    usual_cable="mc",
    panels=(
        Panel("KP", (120, 208), 3, bus=100, description="serving pantry"),
        Panel("SP", bus=60, description="stage"),
    ),
    circuits=(
        Circuit("1", 20, label="counter left"),
        Circuit("3", 20, label="counter right"),
        Circuit("5", 20, continuous=True, label="warmer cont."),
    ),
    boxes=(
        Box("JB1", "kitchen ceiling", items=(
            square("4 x 2-1/8"), Part("extension ring", UNKNOWN), Clamps("outside"), Uncounted("wire connectors", 6),
            Uncounted("ground screw"),
        )),
        Box("JB2", "over the range", items=(square("4-11/16 x 2-1/8"), Uncounted("blank cover"))),
        Box("C1", "left of sink", items=(
            square("4 x 1-1/2"), Part("plaster ring", UNKNOWN, depth=Decimal("0.625")),
            Device(("duplex receptacle",), "12", 2), Clamps("outside"),
        )),
        Box("C2", "right of sink", items=(
            square("4 x 1-1/2"), Part("plaster ring", UNKNOWN, depth=Decimal("0.625")),
            Device(("gfci",), amperes=20), Device(("duplex receptacle",), amperes=20), Clamps("outside"),
        )),
        Box("C3", "pass-through", items=(square("4 x 1-1/2"), Device(("switch", "receptacle"), "12"),
            Clamps("inside"))),
        Box("H1", "hood", items=(
            Base("standard", "device", "4 x 2-1/8 x 1-7/8"), Device(("single-pole switch",), "12"), Clamps("outside"),
        )),
        Box("L1", "center of hall", items=(
            Base("standard", "octagon", "4 x 2-1/8"), Mounting("", existing=True), Clamps("none"),
            Carries("fan", Decimal(42)), Fitting("hickey"),
        )),
        Box("D1", "stage door", items=(
            marked("16", gangs=1), Mounting("old-work"), Device(("3-way switch",), count=2), Clamps("tabs"),
        )),
        Box("S1", items=(Mounting("", existing=True), Device(("smoke co alarm",)), Fitting("stud"))),
    ),
    runs=(
        Run(stops("JB1", "?"), count=2, cable=Cable("mc", "12", "2")),
        Run(stops("JB2", "JB1"), cable=Cable("mc", "12", "3")),
        Run(stops("JB2", "?"), count=2, cable=Cable("mc", "12", "2")),
        Run(stops("KP", "JB1"), cable=Cable("mc", "12", "2"), length=Decimal(65), circuit="1"),
        Run(stops("KP", "C1"), cable=Cable("mc", "12", "2"), circuit="3"),
        Run(stops("JB1", "C2"), cable=Cable("mc", "12", "2"), length=Decimal(30)),
        Run(stops("C2", "C3"), cable=Cable("mc", "12", "2"), length=Decimal(8)),
        Run(
            stops("JB2", "L1"), (Through("JB1"),),
            wires=(
                *(Wires(1, "12", insulation="thhn", color=color) for color in ("black", "white", "red")),
                Wires(1, "12", "ground"),
            ),
            raceways=(RunRaceway("", "fmc", "3/4"),),
        ),
        Run(stops("H1", "JB2"), cable=Cable("mc", "12", "2", "none"), existing=True),
        Run(stops("D1", "L1"), cable=Cable("mc", "14", "3"), label="travelers"),
        Run(stops("KP", "JB2"), count=2, cable=Cable("mc", "10", "3"), circuit="5"),
        Run(stops("SP", "KP"), cable=Cable("ser", "6", "3", "8"), material="aluminum", length=Decimal("12.5")),
        Run(stops("L1", "S1"), cable=Cable("nm-b", "14", "2"), label="switch leg"),
        Run(stops("S1", "?"), wires=(Wires(4, "18"),), low_voltage=True),
        Run(stops("D1", "?"), cable=Cable("mc", "14", "2", "none")),
    ),
)  # fmt: skip

JOBS = {"bunkhouse": BUNKHOUSE, "chapel": CHAPEL, "observatory": OBSERVATORY, "lighthouse": LIGHTHOUSE}


@pytest.mark.parametrize("name", JOBS)
def test_a_sheet_as_typed_in_the_field_is_the_job_it_means(name):
    found, told = read_with_faults(sheet_from_file(FIELD / f"{name}.job"))
    assert [fault.text for fault in told] == []
    for box, expected in zip(found.boxes, JOBS[name].boxes, strict=True):
        assert box == expected
    for run, wanted in zip(found.runs, JOBS[name].runs, strict=True):
        assert run == wanted
    assert found == JOBS[name]


@pytest.mark.parametrize("name", JOBS)
def test_it_is_written_in_the_plain_form_and_read_again(name):
    text = write_job(JOBS[name])
    assert read_job(text) == JOBS[name]
    assert write_job(read_job(text)) == text
    assert "1900" not in text


def test_every_field_sheet_has_its_job():
    assert {path.stem for path in FIELD.glob("*.job")} == set(JOBS)
