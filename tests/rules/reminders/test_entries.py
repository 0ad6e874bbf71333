"""Cautions for metal into a nonmetallic box, cable with no clamp, and class 2 beside power.

314.17 is the row of the shelf: a single-gang nonmetallic box needs no clamp where the cable is fastened within 8 in.
314.3 and 725.136 are from memory, and say so.
"""

from __future__ import annotations

import pytest

from tests.helpers import COMPARED, in_box, reminders, verdict

METAL = "metal-into-nonmetallic"
UNCLAMPED = "cable-without-clamp"
POWER = "class-2-beside-power"
BOND = ": such a box needs a listed means to bond the metal through it; a metal box does not"
RACEWAY = ("panel P", "raceway R1 P > A {} 1/2", "wires P > A 2 x #12 thhn in R1")


def texts(sheet: str, rule: str, year: int = 2023) -> list[str]:
    found = reminders(sheet, year, rule)
    assert all(reminder.caution for reminder in found)
    return [reminder.text for reminder in found]


@pytest.mark.parametrize("kind", ["emt", "imc", "rmc", "fmc", "lfmc"])
def test_metal_raceway_into_a_nonmetallic_box_is_cautioned(kind: str):
    runs = [line.format(kind) for line in RACEWAY]
    assert texts(in_box("", *runs, base="marked 40 in3 plastic"), METAL) == [
        f"{kind.upper()} R1 enters a nonmetallic box{BOND}"
    ]
    assert texts(in_box("", *runs, base="marked 40 in3"), METAL) == [
        f"{kind.upper()} R1 enters a box that may be nonmetallic{BOND}"
    ]
    for base in ("marked 40 in3 metal", "square 4 x 2-1/8"):
        assert texts(in_box("", *runs, base=base), METAL) == []


@pytest.mark.parametrize("kind", ["ent", "lfnc-b", "pvc-40", "pvc-80"])
def test_nonmetallic_raceway_into_a_nonmetallic_box_is_not(kind: str):
    runs = [line.format(kind) for line in RACEWAY]
    assert texts(in_box("", *runs, base="marked 40 in3 plastic"), METAL) == []


@pytest.mark.parametrize(("cable", "said"), [("12/2 mc", True), ("14/2 ac", True), ("12/2 nm-b", False)])
def test_armored_cable_into_a_nonmetallic_box_is_cautioned(cable: str, said: bool):
    for inside, run in (("clamps none", f"run A > ? {cable}"), ("", f"run ? > ? {cable} through A")):
        found = texts(in_box(inside, run, base="marked 40 in3 plastic 1-gang"), METAL)
        assert found == ([f"{cable} enters a nonmetallic box{BOND}"] if said else [])


def test_wires_in_a_raceway_that_goes_on_past_the_box_are_seen():
    sheet = in_box("", "panel P", "raceway R1 P > P rmc 1/2", "wires P > A 2 x #12 in R1", base="marked 9 in3 plastic")
    assert texts(sheet, METAL) == [f"RMC R1 enters a nonmetallic box{BOND}"]


@pytest.mark.parametrize(
    ("base", "inside", "box"),
    [
        ("square 4 x 2-1/8", "", "a metal box"),
        ("marked 40 in3 metal 1-gang", "", "a metal box"),
        ("marked 40 in3 plastic 2-gang", "", "a box of 2 gangs"),
        ("marked 10 in3 plastic 1-gang 3 ganged", "", "a box of 3 gangs"),
        ("marked 40 in3 plastic", "2 x switch #14", "a box of 2 gangs"),
        ("marked 40 in3 plastic 1-gang", "", ""),
        ("marked 40 in3 plastic", "switch #14", ""),
        ("conduit body lb 3/4 marked 40 in3", "", ""),
    ],
)
@pytest.mark.parametrize("year", COMPARED)
def test_cable_with_no_clamp_is_for_a_single_gang_nonmetallic_box(base: str, inside: str, box: str, year: int):
    sheet = in_box(f"clamps none; {inside}", "run A > ? 14/2 nm-b", base=base)
    said = (
        f"cable comes into {box} with no clamp: secure it to the box. Only a single-gang nonmetallic box does without, "
        "with the cable fastened within 8 in."
    )
    assert texts(sheet, UNCLAMPED, year) == ([said] if box else [])
    assert texts(sheet.replace("clamps none", "clamps outside"), UNCLAMPED, year) == []
    assert texts(sheet.replace("run A > ? 14/2 nm-b", "wires A > ? 2 x #14"), UNCLAMPED, year) == []


CLASS_2 = "wires {} > ? 2 x #18 class 2"


def test_class_2_beside_power_is_cautioned_unless_a_barrier_parts_them():
    (text,) = texts(in_box("clamps none", "run A > ? 14/2 nm-b", CLASS_2.format("A")), POWER)
    assert text.startswith("class 2, signal or data wires share this space with power wires: put a barrier")
    assert texts(in_box("clamps none", CLASS_2.format("A")), POWER) == []
    assert texts(in_box("clamps none", "run A > ? 14/2 nm-b"), POWER) == []
    parted = in_box(
        "barrier metal; space a 1/2; clamps none; space b 1/2; clamps none",
        "run A/a > ? 14/2 nm-b",
        CLASS_2.format("A/b"),
    )
    assert texts(parted, POWER) == []


def test_a_caution_turns_no_verdict():
    assert verdict(in_box("clamps none", "run A > ? 14/2 nm-b", CLASS_2.format("A"))) == "passes"


@pytest.mark.parametrize(
    ("sheet", "rule", "cite", "sure"),
    [
        (in_box("", "run A > ? 12/2 mc", base="marked 40 in3 plastic"), METAL, "314.3", "from memory"),
        (in_box("clamps none", "run A > ? 12/2 nm-b", base="square 4 x 2-1/8"), UNCLAMPED, "314.17", "one source"),
        (in_box("", "run A > ? 12/2 nm-b", CLASS_2.format("A")), POWER, "725.136", "from memory"),
    ],
)
def test_each_caution_says_where_it_stands_and_how_sure_that_is(sheet: str, rule: str, cite: str, sure: str):
    (found,) = reminders(sheet, 2023, rule)
    assert (found.cite, found.confidence) == (cite, sure)
