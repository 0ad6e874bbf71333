"""Wireways and gutters: at the limit from both sides, what lies in one, what nobody knows, and laws of the answer."""

from __future__ import annotations

import random
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction

import pytest

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.job import write_job
from ampleroom.job.edit import PutRaceway
from ampleroom.record import replace
from ampleroom.remedy.takeoff import takeoff
from ampleroom.remedy.trial import Trial
from ampleroom.sizing import wireway as sizing
from ampleroom.worksheet import Verdict
from tests.cli.helpers import inside
from tests.helpers import COMPARED, EDITION
from tests.remedy.helpers import stock

FILL, CONDUCTORS, SPLICES, BENDING = "wireway-fill", "wireway-conductors", "wireway-splices", "wireway-bending"
AREAS = {"12": "0.0133", "6": "0.0507", "2": "0.1158", "3/0": "0.2679", "500": "0.7073"}
"""THHN, in2, typed a second time from the table of insulated wires (Chapter 9 Table 5)."""
SPACES = {"6": "1.5", "2": "2.5", "3/0": "4", "500": "6"}
"""Inches, typed a second time from the table of bending spaces, one wire to a terminal; #12 has none."""


def sheet(line: str, *runs: str, places: str = "") -> str:
    return "\n".join(["panel P", "equipment M1", places, line, *runs, ""])


def findings(text: str, year: int = EDITION) -> dict[str, Verdict]:
    """The verdict of each rule on the first wireway; of several findings the worst."""
    report = check(read_job(text), year)
    subject = next(each for each in report.subjects if each.kind in ("wireway", "gutter"))
    verdicts: dict[str, Verdict] = {}
    for finding in subject.findings:
        verdicts[finding.rule] = max(finding.verdict, verdicts.get(finding.rule, Verdict.PASSES))
    return verdicts


def fill(text: str, year: int = EDITION):
    report = check(read_job(text), year)
    return next(finding for finding in report.findings if finding.rule == FILL)


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize("form", ["wireway", "gutter"])
def test_exactly_a_fifth_passes_and_a_little_less_room_fails(form, year):
    # worked by hand: 250 x 0.0133 = 3.325, a fifth of 3.325 x 5 = 16.625 = 2.5 x 6.65
    runs = "wires P > M1 250 x #12 thhn in W1"
    assert fill(sheet(f"{form} W1 2.5 x 6.65 no splices", runs), year).verdict is Verdict.PASSES
    assert fill(sheet(f"{form} W1 2.5 x 6.6499 no splices", runs), year).verdict is Verdict.FAILS


def test_runs_count_that_lie_end_or_pass_in_it_and_those_of_raceways_that_end_there():
    raceways = "raceway R1 P > W1 emt 1\nraceway R2 w1 > M1 emt 1"
    for runs, lengths in (
        ("wires P > M1 3 x #12 thhn in W1", 1),
        ("wires P > M1 3 x #12 thhn through W1", 1),
        ("wires P > W1 3 x #12 thhn", 1),
        ("wires P > W1 > M1 3 x #12 thhn", 2),
        ("wires P > M1 3 x #12 thhn in R1 then R2", 1),
        ("wires P > M1 3 x #12 thhn in R1 then W1 then R2", 1),
        ("wires P > M1 3 x #12 thhn", 0),
    ):
        found = fill(sheet("wireway W1 4 x 4", runs, places=raceways))
        if lengths:
            assert found.worst.needed == Decimal("0.0399") * lengths, runs
        else:
            assert (found.verdict, found.worst) == (Verdict.OPEN, None)


def test_a_run_in_a_raceway_that_ends_at_a_wireway_is_counted_there_and_not_told_as_left_out():
    job = read_job(sheet("wireway W1 4 x 4", "wires P > M1 3 x #12 thhn in R1", places="raceway R1 P > W1 emt 1"))
    assert not any("ends unless its run says so" in text for text in job.assumptions)


def test_a_cable_takes_a_circle_on_its_wider_side_and_its_conductors_are_counted():
    text = sheet("wireway W1 4 x 4", "run P > M1 10 x 12/3 mc 0.5 in wide in W1")
    report = check(read_job(text), EDITION)
    sheets = {each.rule: each.worst for each in report.findings if each.worst is not None}
    assert sheets[FILL].needed == Decimal("0.1964") * 10  # pi / 4 x 0.5 x 0.5, rounded up to a ten-thousandth
    assert sheets[CONDUCTORS].needed == 30


@pytest.mark.parametrize(
    ("line", "verdict", "asked"),
    [
        ("wireway W1 ? x ?", Verdict.OPEN, "passes if 0.20 in2 or more"),
        ("wireway W1 ? x 4", Verdict.OPEN, "passes if 0.05 in. or more"),
        ("wireway W1 4 x ?", Verdict.OPEN, "passes if 0.05 in. or more"),
    ],
)
def test_a_section_nobody_measured_is_asked_and_said_from_where_on_it_passes(line, verdict, asked):
    # worked by hand: 3 x 0.0133 = 0.0399, a fifth of 0.1995; over 4 in. 0.0499
    found = fill(sheet(line, "wires P > M1 3 x #12 thhn in W1"))
    assert (found.verdict, [fact.settles for fact in found.facts]) == (verdict, [asked])


def test_a_count_nobody_made_is_asked_and_said_up_to_which_it_passes():
    found = fill(sheet("wireway W1 4 x 4", "wires P > M1 ? x #12 thhn in W1"))
    assert found.verdict is Verdict.OPEN
    assert [fact.settles for fact in found.facts] == ["passes with 240 or fewer"]  # 3.2 / 0.0133 = 240.6


@pytest.mark.parametrize("word", ["splices ?", ""])
def test_splices_nobody_measured_where_runs_end_are_asked_and_said_up_to_which_area_they_pass(word):
    text = sheet(f"gutter W1 4 x 4 {word}", "wires P > W1 3 x #12 thhn", "wires W1 > M1 3 x #12 thhn")
    found = next(each for each in check(read_job(text), EDITION).findings if each.rule == SPLICES)
    assert found.verdict is Verdict.OPEN
    assert [fact.settles for fact in found.facts] == ["passes if 11.92 in2 or less"]  # 12 - 0.0798 = 11.9202


def test_without_a_word_of_splices_none_are_assumed_and_every_surface_says_so():
    text = sheet("wireway W1 4 x 4", "wires P > M1 3 x #12 thhn in W1")
    report = check(read_job(text), EDITION)
    assert any("Assumes no splices and no taps in W1 (line 4)" in said for said in report.job.assumptions)
    assert any(reminder.rule == SPLICES for reminder in report.subject("W1").reminders)
    written = check(read_job(text.replace("4 x 4", "4 x 4 no splices")), EDITION)
    assert not any("splices" in said for said in written.job.assumptions)
    assert not any(reminder.rule == SPLICES for reminder in written.subject("W1").reminders)


def test_more_than_thirty_conductors_are_advice_and_never_a_silent_pass():
    for many, verdict in ((30, Verdict.PASSES), (31, Verdict.ADVICE)):
        text = sheet("wireway W1 6 x 6 no splices", f"wires P > M1 {many} x #12 thhn, ground #12 thhn in W1")
        assert findings(text)[CONDUCTORS] is verdict


def test_to_2011_the_thirty_are_counted_anywhere_from_2014_on_at_a_place():
    text = sheet("wireway W1 6 x 6 no splices", "wires P > M1 31 x #12 thhn in W1")
    for year in COMPARED:
        (found,) = [each for each in check(read_job(text), year).findings if each.rule == CONDUCTORS]
        assert ("side by side" in found.message) is (year >= 2014)


def test_a_nonmetallic_one_is_not_judged_and_so_never_passes():
    text = sheet("wireway W1 12 x 12 nonmetallic", "wires P > M1 3 x #12 thhn in W1")
    assert findings(text) == {FILL: Verdict.OPEN}


def test_with_nothing_in_it_it_never_passes():
    assert findings(sheet("wireway W1 12 x 12 no splices")) == {FILL: Verdict.OPEN}


def test_a_wire_of_unknown_size_leaves_fill_and_bending_open():
    found = findings(sheet("wireway W1 4 x 4 no splices turns across 4 in", "wires P > M1 3 x #? thhn in W1"))
    assert found[FILL] is found[BENDING] is Verdict.OPEN


# ---- laws, on random wireways ---------------------------------------------------------------------------------------


def random_wireway(dice: random.Random) -> tuple[str, list[str], list[tuple[int, str]]]:
    """A line, its runs, and the same as counts and sizes for whoever reads them a second time."""
    one, other = (dice.choice(("1", "2", "2.5", "3.5", "4", "6", "8")) for _ in "12")
    splices = dice.choice(("no splices", "splices 1 in2", "splices 2 x 3 in", "splices 11 in2"))
    turn = dice.choice(("", "straight", f"turns across {one} in", f"turns across {other} in"))
    groups = [(dice.choice((1, 3, 9, 40)), dice.choice(list(AREAS))) for _ in range(dice.randint(1, 4))]
    runs = [f"wires P > M1 {many} x {size if size == '500' else f'#{size}'} thhn in W1" for many, size in groups]
    return f"{dice.choice(('wireway', 'gutter'))} W1 {one} x {other} {splices} {turn}", runs, groups


def naive(line: str, groups: list[tuple[int, str]]) -> dict[str, Verdict]:
    """A second reading, in fractions, from the line's words and the tables typed above."""
    words = line.split()
    sides = [Fraction(words[2]), Fraction(words[4])]
    area = sides[0] * sides[1]
    taken = sum(many * Fraction(AREAS[size]) for many, size in groups)
    found = {FILL: Verdict.PASSES if taken <= area / 5 else Verdict.FAILS}
    found[CONDUCTORS] = Verdict.ADVICE if sum(many for many, _ in groups) > 30 else Verdict.PASSES
    if "no splices" in line:
        found[SPLICES] = Verdict.PASSES
    else:
        splices = Fraction(6) if "splices 2 x 3" in line else Fraction(line.partition("splices ")[2].split()[0])
        found[SPLICES] = Verdict.PASSES if taken + splices <= area * 3 / 4 else Verdict.FAILS
    spaces = [Fraction(SPACES[size]) for _, size in groups if size in SPACES]
    if spaces:
        least = max(spaces)
        if "straight" in line:
            found[BENDING] = Verdict.PASSES
        elif "turns" in line:
            side = Fraction(line.partition("turns across ")[2].split()[0])
            found[BENDING] = Verdict.PASSES if side >= least else Verdict.FAILS
        else:
            found[BENDING] = Verdict.PASSES if min(sides) >= least else Verdict.OPEN
    return found


def test_random_wireways_are_judged_as_a_second_reading_judges_them():
    dice = random.Random(12)
    seen: set[tuple[str, Verdict]] = set()
    for _ in range(400):
        line, runs, groups = random_wireway(dice)
        found = findings(sheet(line, *runs))
        assert found == naive(line, groups), line
        seen |= set(found.items())
    assert len(seen) == 9, "every verdict a rule can have was met"


def test_the_order_of_runs_and_sides_changes_nothing_and_a_larger_one_never_fails_where_a_smaller_passes():
    dice = random.Random(7)
    for _ in range(120):
        line, runs, _ = random_wireway(dice)
        before = findings(sheet(line, *runs))
        words = line.split()
        turned = " ".join([*words[:2], words[4], "x", words[2], *words[5:]])
        assert findings(sheet(turned, *reversed(runs))) == before
        if "turns" not in line:
            larger = " ".join([*words[:2], str(float(words[2]) + 1), "x", str(float(words[4]) + 1), *words[5:]])
            after = findings(sheet(larger, *runs))
            assert all(after[rule] <= verdict for rule, verdict in before.items())


def test_the_smallest_passes_and_one_size_down_does_not():
    dice = random.Random(3)
    sides = [str(side) for side in sizing.SIDES]
    for _ in range(40):
        line, runs, _ = random_wireway(dice)
        job = read_job("edition 2020\n" + sheet(line.partition(" turns")[0], *runs))
        (found,) = sizing.sizes(sizing.subject_named(job, "W1"), job, book_for(job))
        passing = []
        for side in sides:
            words = line.partition(" turns")[0].split()
            written = " ".join([*words[:2], side, "x", side, *words[5:]])
            verdicts = findings("edition 2020\n" + sheet(written, *runs), 2020)
            if all(verdicts.get(rule, Verdict.PASSES).is_allowed for rule in sizing.BY_SECTION):
                passing.append(f"{side} x {side}")
        assert found.certain == (passing[0] if passing else "")


def test_how_many_more_fit_is_the_most_that_do():
    job = read_job("edition 2020\n" + sheet("wireway W1 2.5 x 2.5 no splices", "wires P > M1 60 x #12 thhn in W1"))
    (more,) = sizing.fits_in(sizing.subject_named(job, "W1"), job, book_for(job), ("1 x #12 thhn",))
    assert (more.certain, more.possible) == (33, 33)  # 1.25 / 0.0133 = 93.98


def test_a_job_with_wireways_is_written_as_it_was_read():
    text = sheet(
        "wireway W1 P > M1 4 x 6 5 ft splices ? turns across 6 in apart R1 R2 24 in nonmetallic for the shop",
        places="raceway R1 P > W1 emt 1\nraceway R2 W1 > M1 emt 1\ngutter G1 at P ? x 2.5 ? ft no splices straight",
    )
    job = read_job(text)
    assert read_job(write_job(job)) == job


@pytest.mark.parametrize("line", ["", "raceway R1 P > M1 emt 1\nwires P > M1 3 x #12 thhn in R1\n"])
def test_a_check_of_a_job_without_wireways_loads_none_of_their_rules(line):
    text = f"edition 2020\npanel P\nequipment M1\n{line}box J1\n  square 4 x 2-1/8\n"
    asked = f"import sys; from ampleroom import check, read_job; check(read_job({text!r})); print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True).stdout.split()
    assert "ampleroom.check" in loaded
    assert not [name for name in loaded if name.startswith(("ampleroom.rules.wireway", "ampleroom.sizing"))]


def test_size_fits_and_ask_answer_for_a_wireway(tmp_path):
    text = "edition 2020\n" + sheet("gutter W1 6 x 6 no splices", "wires P > M1 26 x #3/0 thwn in W1")
    (tmp_path / "shop.job").write_text(text, "utf-8")
    sized = inside("size", "w1", str(tmp_path / "shop.job"))
    assert (sized.status, "6 x 6, 0.2346 in2 spare" in sized.out) == (0, True)  # 7.2 - 26 x 0.2679
    more = inside("fits", "W1", str(tmp_path / "shop.job"), "--cable", "#3/0 thwn")
    assert more.out.startswith("NO: #3/0 thwn more in W1")
    asked = inside("ask", "26 x #3/0 thwn in gutter", "--edition", "2020")
    assert (asked.status, "gutter W1 6 x 6" in asked.out) == (0, True)
    slip = inside("ask", "3 x #6 thhn in wireway 4 x", "--edition", "2020")
    assert (slip.status, "in wireway 4 x" in slip.err) == (2, True)


def test_takeoff_counts_each_section_and_length_and_its_supports(tmp_path):
    text = "edition 2020\n" + sheet("wireway W1 4 x 4 12 ft no splices", "wires P > M1 3 x #12 thhn in W1")
    lines = [(line.item, line.quantity) for line in takeoff(read_job(text), stock()).lines if "ireway" in line.item]
    assert lines == [("Wireway 4 x 4 in., 12 ft", Decimal(1)), ("Wireway supports", Decimal(4))]


def test_a_fix_beside_a_wireway_is_checked_with_the_wireway(tmp_path):
    runs = ("wires P > M1 9 x #10 thhn in R1 then R2", "wires P > M1 3 x #12 thhn in W1")
    raceways = "raceway R1 P > W1 emt 1/2 10 ft\nraceway R2 W1 > M1 emt 1/2 10 ft"
    job = read_job("edition 2020\n" + sheet("wireway W1 4 x 4 5 ft no splices", *runs, places=raceways))
    trial = Trial(job, book_for(job))
    (raceway, _) = job.raceways
    change = (PutRaceway(replace(raceway, size="3/4"), raceway),)
    touched = trial.touched(change)
    assert "W1" in touched
    after = trial.after(change)
    assert after["W1"].findings == trial.reports["W1"].findings
    assert after["R1"].verdict is Verdict.PASSES
