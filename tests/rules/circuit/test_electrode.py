"""The conductor to a grounding electrode, every cell of its table: typed a second time from two sources, a trade page
and the 2011 code as a state adopted it.
"""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from ampleroom.ask import ask
from ampleroom.worksheet import Finding

SIZES = ["8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500", "600", "750"]
ROWS = [  # the thickest copper and aluminum wire of a service, and the thinnest copper and aluminum conductor
    (("2",), ("1/0",), "8", "6"),
    (("1", "1/0"), ("2/0", "3/0"), "6", "4"),
    (("2/0", "3/0"), ("4/0", "250"), "4", "2"),
    (("4/0", "350"), ("300", "500"), "2", "1/0"),
    (("400", "600"), ("600", "900"), "1/0", "3/0"),
    (("700", "1000"), ("1000", "1750"), "2/0", "4/0"),
    (("1250", "2000"), ("2000",), "3/0", "250"),
]
CELLS = [
    (service, metal, enough, of)
    for copper, aluminum, of_copper, of_aluminum in ROWS
    for services, metal in ((copper, "copper"), (aluminum, "aluminum"))
    for service in services
    for enough, of in ((of_copper, "copper"), (of_aluminum, "aluminum"))
]


def found(wires: str, electrode: str) -> Finding:
    sheet = (
        "panel P 120/240 V\nequipment M\nraceway R1 P > M rmc 6 20 ft\n"
        f"circuit S1 200 A 240 V 1-phase terminals 75 C electrode {electrode}\nwires P > M {wires} in R1 circuit S1\n"
    )
    findings = check(read_job(sheet), 2020).subject("circuit S1").findings
    (finding,) = [each for each in findings if each.rule == "electrode-conductor"]
    return finding


def told(size: str, metal: str) -> str:
    return f"#{size} aluminum" if metal == "aluminum" else f"#{size}"


@pytest.mark.parametrize(("service", "metal", "enough", "of"), CELLS)
def test_a_water_pipe_by_every_cell_and_a_size_thinner_fails(service: str, metal: str, enough: str, of: str):
    wires = f"2 x #{service} xhhw" + (" aluminum" if metal == "aluminum" else "")
    assert found(wires, f"water {told(enough, of)}").verdict.word == "passes"
    thinner = SIZES[SIZES.index(enough) - 1] if enough != "8" else "10"
    assert found(wires, f"water {told(thinner, of)}").verdict.word == "fails"


@pytest.mark.parametrize(
    ("electrode", "enough", "thinner"),
    [("rod", "#6", "#8"), ("pipe", "#6", "#8"), ("plate", "#4 aluminum", "#6 aluminum"), ("concrete", "#4", "#6")],
)
def test_enough_for_one_electrode_alone(electrode: str, enough: str, thinner: str):
    """250.66(A) and (B) of the 2011 and 2020 texts."""
    wires = "3 x 500 xhhw"
    assert found(wires, f"{electrode} {enough}").verdict.word == "passes"
    assert found(wires, f"{electrode} {thinner}").verdict.word == "fails"


def test_aluminum_to_concrete_and_a_ring_have_no_size_of_their_own():
    assert found("3 x 500 xhhw", "concrete #4 aluminum").verdict.word == "fails"
    ring = found("3 x 500 xhhw", "ring #2")
    assert (ring.verdict.word, ring.facts[0].question) == ("check needed", "how thick the ring is")
    assert found("3 x 500 xhhw", "ring #1/0").verdict.word == "passes"


def test_the_thickest_wire_decides_and_sets_count_together():
    assert found("2 x #4/0 xhhw, 1 x #2 xhhw", "water #4").verdict.word == "fails"
    assert found("6 x #4/0 xhhw 2 sets", "water #2").verdict.word == "fails"  # 423.2 kcmil: over 350
    assert found("6 x #3/0 xhhw 2 sets", "water #2").verdict.word == "passes"  # 335.6 kcmil


def test_two_electrodes_are_two_findings_and_an_unknown_size_is_asked():
    sheet = (
        "panel P 120/240 V\nequipment M\ncircuit S1 200 A 240 V serves dwelling electrode rod ?, water #6\n"
        "wires P > M 3 x #4/0 xhhw aluminum circuit S1\n"
    )
    findings = check(read_job(sheet), 2020).subject("circuit S1").findings
    rod, water = [each for each in findings if each.rule == "electrode-conductor"]
    assert (rod.verdict.word, water.verdict.word) == ("check needed", "fails")
    assert rod.facts[0].settles == "passes if #6 or thicker"


def test_a_question_without_a_sheet_has_electrodes():
    """#4/0 aluminum takes #4 copper to a water pipe, by the table; #6 to a rod alone. What is asked for is found."""
    answer = ask("200 A, 240 V, 3 x #4/0 xhhw, aluminum, electrode rod #6, electrode water ?", 2020)
    found = [each for each in answer.report.findings if each.rule == "electrode-conductor"]
    assert [each.verdict.word for each in found] == ["passes", "passes"]
    assert "electrode rod #6, water #4" in answer.sheet
