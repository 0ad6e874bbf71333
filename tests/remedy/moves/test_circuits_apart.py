"""A second raceway for some circuits of one."""

from ampleroom.remedy.moves.circuits_apart import circuits_apart
from tests.remedy.helpers import MoveCase, assert_holds, job_of, length_entry, of, stock


def in_one_raceway(circuits: int) -> str:
    """So many circuits of 20 A with two #12 THHN and a bare ground each."""
    return "edition 2020\npanel P 120/240 V\nequipment K1\nraceway R1 P > K1 emt 1 20 ft\n" + "".join(
        f"circuit {number} 20 A 120 V 1900 VA\n"
        f"wires P > K1 2 x #12 thhn, ground #12 bare in R1 20 ft circuit {number}\n"
        for number in range(1, circuits + 1)
    )


PARTS = stock(length_entry("emt 1/2", "1.00", 10), length_entry("emt 3/4", "1.50", 10))
CASES = [
    MoveCase(
        circuits_apart,
        in_one_raceway(5),
        PARTS,
        "20.00",
        30,
        "0",
        "10 conductors keep 50 % (310.15(C)(1)) of 30 A: 15 A, less than the 15.84 A of 1900 VA at 120 V; eight keep "
        "70 %, 21 A. Two lengths of EMT 1/2 at 10.00; a minute and a half a foot to put up and pull",
        "circuit 1",
    )
]


def test_as_many_circuits_move_as_leave_all_of_them_passing():
    """Of eight circuits, 16 conductors, four may stay in each: 8 conductors and 70 %."""
    sheet = in_one_raceway(8)
    offered = [each for each in of(sheet, PARTS, "circuit 1") if "beside R1" in each.action]
    every = next(each for each in offered if len(each.also_fixes) == 7)
    assert "for circuit 1, circuit 2, circuit 3, circuit 4" in every.action
    for remedy in offered:
        assert_holds(job_of(sheet), remedy)
