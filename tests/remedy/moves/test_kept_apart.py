"""Cables fastened apart instead of in a bundle."""

from ampleroom.remedy.moves.kept_apart import kept_apart
from tests.remedy.helpers import MoveCase, assert_holds, job_of, of, stock

CIRCUITS = "".join(
    f"equipment K{number}\ncircuit {number} 20 A 120 V 1900 VA\n"
    f"run P > K{number} 12/2 nm-b 40 ft circuit {number} by joist\n"
    for number in range(1, 7)
)
SHEET = f"edition 2020\npanel P 120/240 V\nroute joist 20 ft bundled\n{CIRCUITS}"
"""12 conductors that carry current keep 50 % (310.15(C)(1)): 15 of 30 A, and 1900 VA at 120 V are 15.84 A."""
PARTS = stock(labor="[labor]\nper_hour = 60\n[labor.minutes]\nspacing_per_foot = 0.1\n")
CASES = [
    MoveCase(
        kept_apart,
        SHEET,
        PARTS,
        "0",
        12,
        "0",
        "Alone 30 A at 90 C, no more than 20 A at 60 C (334.80). 6 cables for 20 ft at a tenth of a minute a foot",
        "circuit 1",
    )
]


def test_one_fix_is_told_to_fix_all_the_cables_of_the_bundle():
    remedy = next(each for each in of(SHEET, PARTS, "circuit 2") if "apart" in each.action)
    assert remedy.action == "fasten the 6 cables by joist apart from each other, not in a bundle"
    assert remedy.also_fixes == {f"circuit {number}" for number in (1, 3, 4, 5, 6)}
    assert remedy.details == ("It also fixes circuits 1, 3, 4, 5 and 6.",)
    assert_holds(job_of(SHEET), remedy)


def test_cables_of_which_no_line_says_where_they_lie_are_kept_apart_by_themselves():
    sheet = SHEET.replace("route joist 20 ft bundled", "cable nm-b up to 6 together").replace(" by joist", "")
    remedy = next(each for each in of(sheet, PARTS, "circuit 2") if "apart" in each.action)
    assert remedy.action == "fasten its cables apart from others all along, P > K2"
    assert_holds(job_of(sheet), remedy)


def test_through_one_sealed_hole_nothing_is_kept_apart():
    assert not any("apart" in each.action for each in of(SHEET.replace("bundled", "sealed"), PARTS, "circuit 2"))
