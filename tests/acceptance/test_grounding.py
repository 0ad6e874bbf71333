"""Published questions on grounds, each a sheet given to ``check`` as a user would.

The ids are those of the collection. A published starting size is told by the load that calls for it: a sheet says what
a circuit carries, never which size somebody had in mind.
"""

from __future__ import annotations

import re

import pytest

from ampleroom.editions import OFFERED
from tests.helpers import findings

RULE = "equipment-ground"


def sheet(breaker: int, load: int, wires: str, ground: str, route: str = "", more: str = "") -> str:
    """A circuit of so many amperes in a nonmetallic raceway; ``load`` in amperes at 240 V, 0 for none written."""
    power = f"{load * 240} VA" if load else ""
    return (
        f"panel P 120/240 V\nequipment M\nraceway R1 P > M pvc-40 6 300 ft\n{route}"
        f"circuit 1 {breaker} A 240 V {power} {more}\n"
        f"wires P > M {wires} xhhw-2, ground {ground} in R1 {'by hot' if route else ''} circuit 1\n"
    )


def verdict(text: str, year: int) -> str:
    """What is found of the ground of a sheet."""
    (found,) = findings(text, year, RULE)
    word: str = found.verdict.word
    return word


# Id and source; breaker, load, conductors, the published ground, and the next thinner one; the editions.
GROWN = [
    ("gr-001, training notes on the code, about 2012: 1.4 x 41740 is 58436, and #3 has 52620",
     (300, 250, "2 x 350"), "#2", "#3", OFFERED),
    ("gr-003, exam practice, 2014/2017: 350 / 105.6 x 26240 is 86970, just over #1",
     (150, 150, "2 x 350"), "#1/0", "#1", OFFERED),
    ("gr-005, trade forum of 2004: 26240 / 10380 x 10380 is #6 exactly",
     (30, 30, "2 x #6"), "#6", "#8", OFFERED),
    ("gr-102, trade magazine quiz, about 2020: the table behind 1000 A (conductors no thicker than needed)",
     (1000, 0, "2 x 2000"), "#2/0", "#1/0", OFFERED),
]  # fmt: skip


@pytest.mark.parametrize(("case", "given", "published", "thinner", "years"), GROWN)
def test_a_ground_grows_as_published(case: str, given: tuple[int, int, str], published: str, thinner: str, years):
    for year in (2008, 2014, 2023):
        assert year in years
        assert verdict(sheet(*given, published), year) == "passes", case
        assert verdict(sheet(*given, thinner), year) == "fails", case


STARTS = [
    ("2 x 4/0, as four together keep 80 percent", "1/0", "1", 300, "ground-base by-edition"),
    ("2 x 3/0, by the table alone", "2/0", "1/0", 300, "ground-base by-table"),
    ("600 kcmil, one conductor a phase, in a nipple", "1", "2", 2, "ground-base-sets one-conductor"),
]


@pytest.mark.parametrize(("start", "published", "thinner", "feet", "reading"), STARTS)
def test_each_starting_size_gives_its_published_ground(start, published, thinner, feet, reading):
    """gr-007, trade-forum thread of 2014: 400 A on 2 x 400 kcmil; three defensible starting sizes, three grounds."""

    def text(ground: str) -> str:
        return (
            f"reading {reading}\npanel P 120/240 V\nequipment M\nraceway R1 P > M pvc-40 4 {feet} ft\n"
            "circuit 1 400 A 240 V 96000 VA\n"
            f"wires P > M 4 x 400 xhhw-2, ground #{ground} 2 sets in R1 circuit 1\n"
        )

    assert verdict(text(published), 2014) == "passes", start
    assert verdict(text(thinner), 2014) == "fails", start


def test_conductors_sized_for_the_heat_are_no_increase_from_2014_on():
    """gr-105, trade magazine quiz: no from 2014 on; under the wording of 2002 to 2011 (any increase) yes."""
    text = sheet(30, 30, "2 x #8", "#10", "route hot 300 ft ambient 150 F\n", "terminals 75 C")
    assert [verdict(text, year) for year in (2008, 2011, 2014, 2020, 2023)] == ["fails"] * 2 + ["passes"] * 3
    assert verdict("reading ground-base by-table\n" + text, 2023) == "fails"


def test_a_ground_need_never_be_thicker_than_the_conductors():
    """250.122(A), as a state adopted the 2011 text (conductors S149): aluminum behind 20 A would be #10."""
    small = "panel P 120/240 V\nequipment M\ncircuit 1 20 A 120 V\nrun P > M 14/2 nm-b circuit 1\n"
    assert verdict(small, 2023) == "passes"  # too thin for its breaker, which another rule says


def test_one_ground_serves_the_circuits_of_a_raceway_if_it_is_thick_enough_for_each():
    """250.122(C), common practice."""
    text = (
        "panel P 120/240 V\nequipment M\nraceway R1 P > M pvc-40 1 40 ft\ncircuit 1 20 A 120 V\ncircuit 2 30 A 240 V\n"
        "wires P > M 2 x #12 thhn, ground #12 in R1 circuit 1\nwires P > M 2 x #10 thhn in R1 circuit 2\n"
    )
    assert [found.verdict.word for found in findings(text, 2023, RULE)] == ["passes", "fails"]
    thicker = text.replace("ground #12", "ground #10")
    assert [found.verdict.word for found in findings(thicker, 2023, RULE)] == ["passes", "passes"]


def test_a_ground_nobody_knows_is_asked_for():
    text = "panel P 120/240 V\nequipment M\ncircuit 1 20 A 120 V\nrun P > M 12/2 nm-b, ground ? circuit 1\n"
    (found,) = findings(text, 2023, RULE)
    assert found.verdict.word == "check needed"
    assert any(re.search("ground", fact.question) for fact in found.facts)
