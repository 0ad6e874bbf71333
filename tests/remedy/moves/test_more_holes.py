"""More holes for the cables that go through one."""

from ampleroom.remedy.moves.more_holes import more_holes
from tests.remedy.helpers import MoveCase, assert_holds, job_of, of, stock


def through_one(cables: int) -> str:
    """So many circuits of 20 A with 12/2, all through one sealed plate."""
    return "edition 2008\npanel P 120/240 V\nroute plate 1 ft sealed\n" + "".join(
        f"equipment K{number}\ncircuit {number} 20 A 120 V\n"
        f"run P > K{number} 12/2 nm-b 40 ft circuit {number} by plate\n"
        for number in range(1, cables + 1)
    )


PARTS = stock(labor="[labor]\nper_hour = 60\n[labor.minutes]\nhole = 7\n")
CASES = [
    MoveCase(
        more_holes,
        through_one(2).replace("K1 12/2 nm-b 40 ft", "K1 4 x 12/2 nm-b 40 ft"),
        PARTS,
        "0",
        7,
        "0",
        "Five cables are 10 conductors that carry current and keep 50 %: 15 A. Two holes: 4 cables are 8 and keep "
        "70 %, 21 A of 30, as a thread of 2010 has it for three 12/2 and a multiwire 12/3 in one caulked hole, where "
        "20 A is right. The other is alone in its hole",
        "circuit 1",
    )
]


def test_twelve_cables_in_one_hole_need_three():
    """Four in each: 8 conductors keep 70 %, 21 A (a thread of 2010 on 334.80). Six in each keep 50 %, 15 A."""
    sheet = through_one(12)
    remedy = next(each for each in of(sheet, PARTS, "circuit 5") if len(each.also_fixes) == 11)
    assert remedy.action == "bore 2 more holes beside plate, 4 cables in each"
    assert remedy.minutes == 14
    assert_holds(job_of(sheet), remedy)


def test_one_cable_may_go_through_a_hole_of_its_own():
    """The other eleven fail as before: nobody says otherwise."""
    sheet = through_one(12)
    remedy = next(each for each in of(sheet, PARTS, "circuit 5") if "1 cable in the new one" in each.action)
    assert remedy.action == "bore 1 more hole beside plate, 1 cable in the new one, 11 left"
    assert not remedy.also_fixes
    assert_holds(job_of(sheet), remedy)
