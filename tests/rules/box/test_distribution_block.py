"""Power distribution blocks in a box: how large it is, what the instructions of the block say, and its terminals.

Over 100 in3, and no smaller than the instructions: "2011 National Electrical Code Changes", item 15, EC&M.
"""

from __future__ import annotations

import pytest

from ampleroom.job import Sheet, read_with_faults
from tests.helpers import findings, report

RULE = "distribution-block"
BLOCK = "power distribution block smallest 6 x 5 x 4 in"


def verdicts(box: str, block: str = BLOCK, wires: str = "", edition: int = 2020) -> list[str]:
    sheet = f"equipment M\nbox J1\n  {box}\n  {block}\n{wires}"
    return [each.verdict.word for each in findings(sheet, edition=edition, rule=RULE)]


@pytest.mark.parametrize(
    ("box", "words"),
    [
        ("inside 6.25 x 4 x 4 in", ["fails", "fails"]),  # exactly 100 in3, and 4 in. are less than 5
        ("inside 6.25 x 5 x 4 in", ["passes", "passes"]),  # 125 in3
        ("inside 5 x 6 x 4 in", ["passes", "passes"]),  # turned
        ("inside 5 x 8 x 3 in", ["fails", "passes"]),  # 120 in3, and not deep enough
        ("marked 100 in3", ["fails", "check needed"]),
        ("marked 100.01 in3", ["check needed", "passes"]),
        ("marked ? in3", ["check needed", "check needed"]),
        (
            "marked 202 in3\n  barrier plastic marked 2 in3\n  space a 1/2\n  space b 1/2",
            ["fails", "check needed"],
        ),
    ],
)
def test_the_box_is_over_100_in3_and_as_large_as_the_instructions_say(box: str, words: list[str]):
    assert verdicts(box) == words  # the block stands below the last of its sides, which is a box of its own


@pytest.mark.parametrize(
    ("wire", "clear", "word"),
    [("#4/0", "4", "passes"), ("#4/0", "3-15/16", "fails"), ("#6", "1-1/2", "passes"), ("#6", "1-7/16", "fails")],
)
def test_its_terminals_have_the_bending_space_of_the_thickest_conductor_that_ends_there(wire, clear, word):
    # Table 312.6(A), one wire to a terminal: 4 in. for #4/0, 1-1/2 in. for #6
    block = f"{BLOCK} terminals {clear} in"
    wires = f"wires M > J1 3 x {wire} thhn\nwires M > ? 3 x 500 thhn through J1\n"
    found = verdicts("inside 12 x 12 x 6 in", block, wires)
    assert sorted(found) == sorted(["passes", "passes", word])


def test_10_awg_has_no_bending_space():
    assert len(verdicts("inside 12 x 12 x 6 in", f"{BLOCK} terminals 1 in", "wires M > J1 3 x #10 thhn\n")) == 2


def test_before_2011_it_is_asked_and_a_conduit_body_is_no_place_for_it():
    assert verdicts("inside 12 x 12 x 6 in", edition=2008) == ["check needed"]
    assert verdicts("conduit body lb 2 on rmc marked 120 in3") == ["fails"]


@pytest.mark.parametrize(("edition", "text"), [(2014, "no power distribution block in a box is"), (2017, "only one")])
def test_what_is_seen_on_site_is_told_and_conductors_that_pass_are_named(edition: int, text: str):
    def told(wires: str) -> list[str]:
        sheet = f"equipment M\nbox J1\n  inside 12 x 12 x 6 in\n  {BLOCK}\n{wires}"
        (subject,) = [each for each in report(sheet, edition).subjects if each.name == "J1"]
        return [each.text for each in subject.reminders if each.rule == "distribution-block-on-site"]

    through, ending = told("wires M > ? 3 x #4 thhn through J1\n"), told("wires M > J1 3 x #4 thhn\n")
    assert "conductors that pass through keep clear of its terminals" in through[0]
    assert "pass through" not in ending[0]
    assert any(each.startswith(text) for each in ending)


@pytest.mark.parametrize(
    ("line", "trouble"),
    [
        ("power strip", "distribution"),
        ("distribution panel", "block"),
        ("distribution block smallest 12 x 12 in", "three measures"),
        ("distribution block large", "smallest 12 x 12 x 4 in"),
    ],
)
def test_what_cannot_be_read_says_what_to_write(line: str, trouble: str):
    (fault,) = read_with_faults(Sheet(f"edition 2020\nbox J1\n  inside 12 x 12 x 4 in\n  {line}\n"))[1]
    assert trouble in f"{fault.message} {fault.hint}"
