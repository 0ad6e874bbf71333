"""Cable taken along a cooler route of the sheet."""

from decimal import Decimal

from ampleroom.job.edit import PutRun
from ampleroom.remedy.moves.cooler_route import cooler_route
from tests.remedy.helpers import MoveCase, assert_holds, cable_entry, job_of, of, stock

SHEET = """edition 2020
panel P 120/240 V
equipment K1
route attic 24 ft ambient 150 F
route cellar 30 ft
circuit 1 20 A 120 V 2280 VA
run P > K1 12/2 nm-b 40 ft circuit 1 by attic
"""
PARTS = stock(cable_entry("12/2"))
CASES = [
    MoveCase(
        cooler_route,
        SHEET,
        PARTS,
        "5.25",
        3,
        "0",
        "150 F are 65.6 C, where insulation of 90 C keeps 58 % (310.15(B)(1)): 17.4 A of 30, less than the 19 A of "
        "2280 VA. By the cellar 20 A at 60 C. 6 ft more and 10 %, up to whole feet: 7 ft at 0.75; half a minute a foot",
        "circuit 1",
    )
]


def test_the_run_is_as_much_longer_as_the_route():
    job = job_of(SHEET)
    remedy = next(each for each in of(SHEET, PARTS, "circuit 1") if "cellar" in each.action)
    assert remedy.action == "take P > K1 by cellar instead of attic"
    (step,) = remedy.change
    assert isinstance(step, PutRun)
    assert step.new.length == Decimal(46)
    assert_holds(job, remedy)


def test_a_route_as_warm_or_warmer_is_not_offered():
    assert not any(
        "cellar" in each.action
        for each in of(SHEET.replace("cellar 30 ft", "cellar 30 ft ambient 150 F"), PARTS, "circuit 1")
    )
