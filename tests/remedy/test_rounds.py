"""Fixes that meet at one box: what one round leaves is fixed in the next, on the job as the first leaves it."""

from __future__ import annotations

from pathlib import Path

import pytest

from ampleroom.check import book_for, check
from ampleroom.job import read_job
from ampleroom.job.edit import edited
from ampleroom.remedy import stock_from_text
from ampleroom.remedy.plan import Limits, Plan, plan

STOCK = stock_from_text((Path(__file__).parents[2] / "examples" / "stock.toml").read_text("utf-8"))
SHEET = """\
edition 2023
panel P
panel S
box PB
  inside {inside} x 8 in
  entry R1 left
  entry R2 right
raceway R1 P > PB emt 1-1/4 20 ft
raceway R2 PB > S emt 1-1/4 30 ft
wires P > S 3 x #1/0 thhn, ground #6 thhn through PB in R1, R2
"""
# 3 x 0.1855 + 0.0507 = 0.6072 in2, more than 40 % of 1-1/4 in. EMT, 0.598; of 1-1/2 in. 0.814


def planned(sheet: str, limits: Limits | None = None) -> Plan:
    job = read_job(sheet)
    return plan(job, book_for(job), STOCK, limits, solver=False)


@pytest.mark.parametrize("inside", ["24 x 24", "12 x 12"])
def test_both_raceways_of_a_pull_box_are_fixed_in_one_plan_and_it_can_be_written(inside: str):
    made = planned(SHEET.format(inside=inside))
    assert [remedy.box for remedy in made.remedies] == ["R1", "R2"]
    assert made.rounds == 2
    assert made.nothing == ()
    assert made.fixed_text == "2 raceways"
    assert made.cost == sum(remedy.cost(STOCK) for remedy in made.remedies)
    assert not made.choice.is_proved
    assert made.proof.startswith("Found in 2 rounds")
    text = edited(made.job, made.change)
    assert text.count("emt 1-1/2") == 2
    assert check(read_job(text)).verdict.is_allowed
    assert check(made.job_after).verdict.is_allowed


def test_fixes_that_meet_nowhere_need_no_second_round():
    sheet = SHEET.format(inside="24 x 24").replace("R2 PB > S emt 1-1/4", "R2 PB > S emt 1-1/2")
    made = planned(sheet)
    assert ([remedy.box for remedy in made.remedies], made.rounds) == (["R1"], 1)
    assert made.choice.is_proved


def test_where_the_kinds_of_box_are_limited_there_is_one_round():
    made = planned(SHEET.format(inside="24 x 24"), limits=Limits(most_kinds=1))
    assert (made.rounds, [none.box for none in made.nothing]) == (1, ["R2"])


def test_a_raceway_that_no_round_fixes_is_left_with_its_reason():
    made = planned(SHEET.format(inside="24 x 24").replace("R2 PB > S emt 1-1/4", "R2 PB > S pvc-80 1-1/4"))
    assert [remedy.box for remedy in made.remedies] == ["R1"]
    assert [none.box for none in made.nothing] == ["R2"]
