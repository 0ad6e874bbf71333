"""Wires of the same size with an insulation for more heat."""

from ampleroom.remedy.moves.hotter_insulation import hotter_insulation
from tests.remedy.helpers import MoveCase, assert_holds, job_of, length_entry, of, stock

SHEET = """edition 2020
panel P
equipment K1
equipment K2
raceway R1 P > K1 emt 1 40 ft
circuit 1 30 A 240 V 6000 VA terminals 75 C
wires P > K1 2 x #10 tw, ground #10 bare in R1 40 ft circuit 1
wires P > K2 4 x #12 thhn, ground #12 bare in R1 40 ft
"""
PARTS = stock(length_entry("#10 thhn", "0.50"))
CASES = [
    MoveCase(
        hotter_insulation,
        SHEET,
        PARTS,
        "44.00",
        20,
        "0",
        "Six conductors keep 80 % (310.15(C)(1)): of 30 A at 60 C 24 A, less than the 25 A of the load; of 40 A at "
        "90 C 32 A. #10 has 30 A at most. 2 x 40 ft and 10 % at 0.50, half a minute a foot",
        "circuit 1",
    )
]


def test_the_insulation_of_the_stock_file_is_offered_with_its_dry_place():
    remedy = next(each for each in of(SHEET, PARTS, "circuit 1") if "thhn" in each.action)
    assert remedy.action == "pull #10 thhn instead of #10 tw for P > K1"
    assert "the place is dry: thhn is not for wet ones" in remedy.notes
    assert_holds(job_of(SHEET), remedy)
    assert not any(
        "thhn" in each.action for each in of(SHEET.replace("emt 1 40", "pvc-40 1 underground 40"), PARTS, "circuit 1")
    )
