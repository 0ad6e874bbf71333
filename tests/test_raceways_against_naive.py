"""Raceways, pull boxes and wireways against the naive second readings, on random sheets: ``naive_raceways.py``,
``naive_pull_boxes.py`` and ``naive_wireways.py``. The long run is ``scripts/read_twice.py``. Where two readings
differed once is a test of its own.
"""

from __future__ import annotations

import pytest

from ampleroom.rules.raceway.limit import fill_limit
from tests import two_readings
from tests.helpers import findings
from tests.two_readings import disagreement

SEEDS = 120


@pytest.mark.parametrize("of", ["raceways", "pull-boxes", "conduit-bodies", "wireways"])
@pytest.mark.parametrize("unknowns", [False, True])
def test_both_readings_of_random_sheets_agree(of: str, unknowns: bool):
    for number in range(SEEDS):
        told, _ = disagreement(f"boathouse {number}", of=of, unknowns=unknowns)
        assert not told, told


@pytest.mark.parametrize("of", ["raceways", "pull-boxes", "conduit-bodies", "wireways"])
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


THROUGH_A_WIREWAY = """\
edition 2020
panel P
equipment M1
wireway W1 4 x 4 5 ft no splices apart R1 R2 11.9 in
raceway R1 P > W1 emt 2
raceway R2 W1 > M1 emt 2
{}
"""


@pytest.mark.parametrize(
    ("run", "word"),
    [
        ("wires P > M1 3 x #2 thhn in R1 then R2", "fails"),  # 6 x 2 = 12
        ("wires P > M1 ? x #2 thhn in R1 then R2", "check needed"),
        ("run P > M1 ?/2 mc 0.9 in wide in R1 then R2", None),  # made up to #6
        ("run P > M1 12/2 mc 0.9 in wide in R1 then R2", None),
    ],
)
def test_what_may_be_small_or_absent_never_fails_a_wireway_by_its_entries(run: str, word: str | None):
    found = findings(THROUGH_A_WIREWAY.format(run), rule="wireway-entries")
    assert [each.verdict.word for each in found] == ([word] if word else [])
