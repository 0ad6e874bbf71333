"""Raceways and pull boxes against the naive second readings, on random sheets: ``naive_raceways.py`` and
``naive_pull_boxes.py``. The long run is ``scripts/read_twice.py``. Where the two differed once is a test of its own.
"""

from __future__ import annotations

import pytest

from ampleroom.rules.raceway.limit import fill_limit
from tests import two_readings
from tests.helpers import findings
from tests.two_readings import disagreement

SEEDS = 120


@pytest.mark.parametrize("of", ["raceways", "pull-boxes", "conduit-bodies"])
@pytest.mark.parametrize("unknowns", [False, True])
def test_both_readings_of_random_sheets_agree(of: str, unknowns: bool):
    for number in range(SEEDS):
        told, _ = disagreement(f"boathouse {number}", of=of, unknowns=unknowns)
        assert not told, told


@pytest.mark.parametrize("of", ["raceways", "pull-boxes", "conduit-bodies"])
def test_random_sheets_pass_fail_and_stay_open(of: str):
    verdicts = [disagreement(f"boathouse {number}", of=of, unknowns=True)[1] for number in range(SEEDS)]
    for verdict in ("passes", "fails", "open"):
        assert verdicts.count(f"{verdict} / {verdict}") > SEEDS / 20


def test_a_wrong_percentage_would_be_noticed(monkeypatch: pytest.MonkeyPatch):
    def wider(*words):
        limit = fill_limit(*words)
        return limit._replace(area=limit.area * 41 / 40)

    monkeypatch.setattr("ampleroom.rules.raceway.fill.fill_limit", wider)
    assert any(disagreement(f"boathouse {number}", of="raceways", unknowns=False)[0] for number in range(SEEDS))


def test_a_wrong_multiple_would_be_noticed(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(two_readings, "naive_pull_box", lambda *words: "passes")
    assert any(disagreement(f"boathouse {number}", of="pull-boxes", unknowns=False)[0] for number in range(SEEDS))


# ---- where the two readings differed once ---------------------------------------------------------------------------

SPLICED_ACROSS = """\
reading straight-splice as-straight
panel P
panel Q
box PB
  inside 18 x {down} x 6 in
  entry R1 top
  entry R2 bottom
raceway R1 P > PB emt 3 40 ft
raceway R2 PB > Q emt 3 40 ft
wires P > PB 3 x #1/0 thhn in R1
wires PB > Q 3 x #1/0 thhn in R2
"""


@pytest.mark.parametrize(("down", "word"), [("24", "passes"), ("23-7/8", "check needed"), ("17-7/8", "fails")])
def test_a_splice_nobody_wrote_never_fails_a_box_by_the_distance_straight_across(down: str, word: str):
    # by hand: 6 x 3 = 18 for what ends here; 8 x 3 = 24 only if the two are spliced to each other
    found = findings(SPLICED_ACROSS.format(down=down), rule="pull-box")
    assert max(each.verdict for each in found).word == word


UNREAD = """\
panel P
box PB
  inside 12 x 12 x 6 in
raceway R1 P > PB emt 1 40 ft
{second}wires P > PB 3 x #? {insulation} in R1
"""


@pytest.mark.parametrize(("insulation", "asked"), [("thhn", True), ("", True), ("tffn", False)])
def test_a_size_nobody_read_in_a_raceway_may_be_large_and_is_asked(insulation: str, asked: bool):
    found = findings(UNREAD.format(insulation=insulation, second=""), rule="pull-box")
    assert [each.verdict.word for each in found] == ["check needed"] * asked
    assert [fact.question for each in found for fact in each.facts] == ["whether wires from P are #4 or larger"] * asked


def test_beside_large_conductors_it_is_asked_too():
    second = "  entry R1 left\nequipment K\nraceway R2 P > PB emt 2\nwires P > PB 3 x #4 thhn in R2\n"
    sheet = UNREAD.format(insulation="thhn", second=second).replace("  entry R1 left\n", "")
    sheet = sheet.replace("12 x 6 in", "12 x 6 in\n  entry R1 left\n  entry R2 left")
    (found,) = findings(sheet, rule="pull-box")
    assert "whether wires from P are #4 or larger" in [fact.question for fact in found.facts]


@pytest.mark.parametrize(
    "line", ["run P > PB ?/2 nm-b", "wires P > PB 3 x #? thhn", "wires P > PB 3 x #? class 2 in R1"]
)
def test_a_cable_wires_in_no_raceway_and_low_voltage_are_not_asked_for_it(line: str):
    sheet = UNREAD.format(insulation="thhn", second="").replace("wires P > PB 3 x #? thhn in R1", line)
    assert findings(sheet, rule="pull-box") == []
