"""The page's fixes of what is no box: asked, shown and made like those of a box."""

from __future__ import annotations

from pathlib import Path

from ampleroom.web.engine import answer

STOCK = (Path(__file__).parents[2] / "examples" / "stock.toml").read_text("utf-8")
SHEET = """edition 2020
panel P
equipment K1
box J1
  square 4 x 2-1/8
  clamps outside
raceway R1 P > K1 emt 3/4 62 ft
wires P > K1 9 x #8 thhn in R1
"""


def test_a_raceway_is_fixed_from_its_own_screen():
    asked = {"sheet": SHEET, "box": "R1", "stock": STOCK}
    shown = answer("remedies", asked)
    first = shown["remedies"][0]
    assert (first["kind"], first["what"], first["unit"]) == ("raceway", "use EMT 1 instead of 3/4", "in2")
    assert first["leaves"].endswith("in2 spare")
    made = answer("apply", {**asked, "choose": 1})
    assert "raceway R1 P > K1 emt 1 62 ft" in made["sheet"]


def test_it_joins_the_plan_of_the_job():
    planned = answer("plan", {"sheet": SHEET, "stock": STOCK})
    assert [(remedy["kind"], remedy["box"]) for remedy in planned["remedies"]] == [("raceway", "R1")]


def test_a_circuit_is_fixed_from_its_own_screen_by_either_of_its_names():
    """#14 on 20 A: a breaker of 15 A, or #12."""
    sheet = "edition 2020\npanel P 120/240 V\nequipment K1\ncircuit 3 20 A 120 V 1200 VA\n"
    sheet += "run P > K1 14/2 nm-b 40 ft circuit 3 spaced\n"
    for name in ("circuit 3", "3"):
        asked = {"sheet": sheet, "box": name, "stock": STOCK}
        shown = answer("remedies", asked)["remedies"]
        assert [(each["kind"], each["unit"], each["leaves"]) for each in shown] == [("circuit", "A", "passes")] * 2
        assert "circuit 3 15 A 120 V 1200 VA" in answer("apply", {**asked, "choose": 1})["sheet"]
        assert "run P > K1 12/2 nm-b 40 ft circuit 3 spaced" in answer("apply", {**asked, "choose": 2})["sheet"]
    assert [each["box"] for each in answer("plan", {"sheet": sheet, "stock": STOCK})["remedies"]] == ["circuit 3"]
