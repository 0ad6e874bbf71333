"""Published questions on ampacity and bundling, each a sheet given to ``check`` as a user would.

The ids are those of the collection. Each wire is held to its published ampacity by a load: the largest whole number of
volt-amperes that fits passes, a hundredth of an ampere more fails. Not sheets: am-015, am-017 and am-023, which are
cases of ``dwelling-service`` and ``nameplate-wire`` beside those rules; am-013 beside ``wire-protection``; bu-009, a
count alone (held here by its factor); bu-102, of a strut-type channel raceway, which a sheet has no word for.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import report

# Id and source; the edition; what the sheet has beside panel, equipment and circuit; the terminals; the amperes.
PUBLISHED = [
    ("am-001, EC&M quizzes on the code, about 2003: 30 x 0.7; 20 A at 60 C terminals, so 75 C is marked", 2011,
     "wires P > M 9 x #12 thhn in R1 20 ft circuit 1", 75, "21"),
    ("am-003, the same (question; no key seen): 8 of 16 carry current", 2011,
     "wires P > M 8 x #12 thhn in R1 20 ft circuit 1", 75, "21"),
    ("am-005, a weekly problem of 2025: 40 x 0.82 of three conductors", 2023,
     "route hot 20 ft ambient 120 F\nwires P > M 3 x #10 thhn in R1 20 ft by hot circuit 1", 75, "32.8"),
    ("am-005: all four carry current, which its key leaves out: x 0.8", 2023,
     "route hot 20 ft ambient 120 F\nwires P > M 4 x #10 thhn in R1 20 ft by hot circuit 1", 75, "26.24"),
    ("am-007, newsletter of 2008, with #3 thw for its 100 A: 75 + 30 F is 105 F, 0.82 at 75 C", 2014,
     "route roof 20 ft ambient 75 F rooftop 6 in\nwires P > M 2 x #3 thw in R1 20 ft by roof circuit 1", 75, "82"),
    ("am-009, trade-forum thread of 2005: 75 x 0.91 x 0.8, no more than 55 A at 60 C", 2008,
     "route hot 20 ft ambient 100 F\nwires P > M 4 x #6 thhn in R1 20 ft by hot circuit 1", 60, "54.6"),
    ("am-011, trade-forum thread of 2007: 8 current-carrying", 2011,
     "wires P > M 8 x #12 thhn in R1 20 ft circuit 1", 75, "21"),
    ("am-019, exam study of 2025 (no key seen): 95 x 0.91 = 86.45, 85 A by 75 C terminals", 2023,
     "route hot 20 ft ambient 40 C\nwires P > M 2 x #4 thhn in R1 20 ft by hot circuit 1", 75, "85"),
    ("am-019: 70 A by 60 C terminals", 2023,
     "route hot 20 ft ambient 40 C\nwires P > M 2 x #4 thhn in R1 20 ft by hot circuit 1", 60, "70"),
    ("am-021, code quiz of July 2001 (no key seen)", 2008, "wires P > M 3 x 250 kcmil thwn in R1 20 ft circuit 1",
     75, "255"),
    ("am-102, EC&M, about 2009: two sets of 3/0 in one raceway, 225 x 0.8 each", 2008,
     "wires P > M 6 x #3/0 thhn 2 sets in R1 20 ft circuit 1", 75, "360"),
    ("bu-001, forum thread of 2012: three 14/2 through one sealed hole, 20 A, 15 A at 60 C from 2011", 2011,
     "route hole sealed bundled\nrun P > M 3 x 14/2 nm-b 20 ft by hole circuit 1", 75, "15"),
    ("bu-001: 60 C had 20 A in 2008", 2008,
     "route hole sealed bundled\nrun P > M 3 x 14/2 nm-b 20 ft by hole circuit 1", 75, "20"),
    ("bu-003, forum thread of 2010: 8 or 9 conductors, 30 x 0.7", 2008,
     "route hole sealed bundled\nrun P > M 12/2 nm-b 20 ft by hole circuit 1\n"
     "run P > M 2 x 12/2 nm-b 20 ft by hole\nrun P > M 12/3 nm-b 20 ft by hole", 75, "21"),
    ("bu-005, inspector's note of 2019: 55 x 0.8 = 44, no more than 40 A at 60 C", 2008,
     "route attic 20 ft in insulation bundled\nrun P > M 3 x 8/2 nm-b, ground #10 20 ft by attic circuit 1", 75, "40"),
    ("bu-007, forum thread of 2010, disputed: cables that touch insulation without spacing count from 2008 on", 2008,
     "route bay 20 ft in insulation bundled\nrun P > M 5 x 12/2 nm-b 20 ft by bay circuit 1", 75, "15"),
    ("bu-007: kept apart they do not", 2011,
     "route bay 20 ft in insulation spaced\nrun P > M 5 x 12/2 nm-b 20 ft by bay circuit 1", 75, "20"),
    ("bu-011, Q and A of 2015: 1/0 aluminum service cable in insulation at 110 F, 100 A at 60 C in 2014", 2014,
     "route attic 20 ft ambient 110 F in insulation\n"
     "run P > M 1/0/3 ser aluminum, ground #4 20 ft by attic spaced circuit 1", 75, "100"),
    ("bu-011: 135 x 0.87 from 2017 on", 2017,
     "route attic 20 ft ambient 110 F in insulation\n"
     "run P > M 1/0/3 ser aluminum, ground #4 20 ft by attic spaced circuit 1", 75, "117.45"),
    ("bu-105, forum thread of 2005: four two-wire circuits are eight conductors, 40 x 0.7", 2008,
     "wires P > M 8 x #10 thhn, ground #10 in R1 20 ft circuit 1", 75, "28"),
    ("bu-108, forum thread, about 2010: 30 x 0.7 and not 25 x 0.7", 2008,
     "wires P > M 8 x #12 thhn in R1 20 ft circuit 1", 75, "21"),
    ("bu-111, forum question, about 2021: six multiwire conductors that carry current, 30 x 0.8", 2017,
     "wires P > M 6 x #12 thhn in R1 20 ft circuit 1", 75, "24"),
    ("bu-111: at ten 30 x 0.5", 2017, "wires P > M 10 x #12 thhn in R1 20 ft circuit 1", 75, "15"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("source", "edition", "lying", "terminals", "amperes"), PUBLISHED, ids=lambda value: str(value)[:6]
)
def test_a_wire_carries_its_published_ampacity_and_no_more(
    source: str, edition: int, lying: str, terminals: int, amperes: str
):
    carried = Decimal(amperes)

    def verdict(load: Decimal) -> str:
        circuit = f"circuit 1 800 A 100 V {load * 100:f} VA terminals {terminals} C"
        raceway = "raceway R1 P > M emt 4 20 ft\n" if "in R1" in lying else ""
        sheet = f"panel P 120/240 V\nequipment M\n{raceway}{circuit}\n{lying}\n"
        found = report(sheet, edition).subject("circuit 1").findings
        return max(each.verdict for each in found if each.rule == "conductor-ampacity").word

    assert verdict(carried) == "passes", source
    assert verdict(carried + Decimal("0.01")) == "fails", source
