"""Thicker wire where more volts are lost than is advised."""

from ampleroom import check
from ampleroom.remedy.moves.less_drop import less_drop
from ampleroom.worksheet import Verdict
from tests.cli.helpers import inside
from tests.remedy.helpers import MoveCase, assert_holds, cable_entry, job_of, of, only, placed, stock

SHEET = """edition 2020
panel P 120/240 V
equipment K1
circuit 2 15 A 120 V 1200 VA
run P > K1 14/2 nm-b 90 ft circuit 2 spaced
"""
PARTS = stock(cable_entry("12/2"), cable_entry("10/2", "1.25"))
CASES = [
    MoveCase(
        less_drop,
        SHEET,
        PARTS,
        "74.25",
        45,
        "5",
        "10 A through 180 ft: of #14, 3.14 ohms in 1,000 ft (chapter 9, table 8), 5.65 V; of #12, 1.98 ohms, 3.56 V, "
        "less than the 3.60 V of 3 %. #12 has 20 A at most. 99 ft at 0.75, half a minute a foot",
        "circuit 2",
    )
]


def test_a_drop_is_bettered_only_for_who_asks_for_it(tmp_path):
    """It is advice: the plan of the whole job buys nothing for it."""
    remedy = only(of(SHEET, PARTS, "circuit 2"))
    assert remedy.leaves.endswith("V of 3.60 V advised")
    assert_holds(job_of(SHEET), remedy)
    sheet = tmp_path / "far.job"
    sheet.write_text(SHEET, "utf-8")
    (tmp_path / "stock.toml").write_text(cable_entry("12/2"), "utf-8")
    assert "Passes as it is. What follows is advice." in inside("remedy", "circuit", "2", str(sheet)).out
    assert "Nothing to fix" in inside("remedy", str(sheet)).out


def test_a_ground_that_cannot_grow_with_its_wire_keeps_the_cable_as_it_is():
    """At 150 ft #8 would do. Grown from #14 its ground has to be #8 too (250.122(B)), and that of the cable is #10."""
    sheet = SHEET.replace("90 ft", "150 ft")
    assert check(job_of(sheet)).subject("circuit 2").verdict is Verdict.ADVICE
    assert not list(less_drop(placed(sheet, PARTS, "circuit 2")))
