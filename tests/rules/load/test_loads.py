"""Properties of dwelling loads, a second reading of the standard and the optional method, and what nobody knows."""

from __future__ import annotations

import random
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job import write_job
from ampleroom.job.model import Dwelling, Job, Load
from ampleroom.report import Report
from ampleroom.rules.load.carried import ENDS, Subject, carried, subjects_of
from ampleroom.rules.load.optional import optional_load
from ampleroom.rules.load.standard import standard_load
from tests.frozen import SNAPSHOTS, YEARS, Frozen, by_subject

BOOK = CodeBook(2020)
KINDS = ("range", "dryer", "charger", "heat", "ac", "water heater", "dishwasher", "disposer", "kiln", "cooktop")


# ---- a second reading, in whole numbers and fractions, from the text of 2020 ---------------------------------------

COLUMN_A = "80 75 70 66 62 59 56 53 51 49 47 45 43 41 40 39 38 37 36 35 34 33 32 31 30"
COLUMN_B = "80 65 55 50 45 43 40 36 35 34 32 32 32 32 32 28 28 28 28 28 26 26 26 26 26"


def column_c(watts: list[int]) -> Fraction:
    n = len(watts)
    base = Fraction(5 + 3 * n if n <= 5 else 15 + n) * 1000
    over = Fraction(sum(max(each, 12000) for each in watts), n) / 1000 - 12
    return base * (100 + 5 * int(over + Fraction(1, 2))) / 100


def naive_cooking(watts: list[int]) -> Fraction:
    tabled = [each for each in watts if 1750 < each <= 27000]
    rest = Fraction(sum(watts) - sum(tabled))
    if not tabled:
        return rest
    a = [each for each in tabled if each < 3500]
    b = [each for each in tabled if 3500 <= each <= 8750]
    c = [each for each in tabled if each > 8750]
    ways = [column_c(tabled)]
    if a or b:
        ways.append(
            (sum(a) * Fraction(COLUMN_A.split()[len(a) - 1]) / 100 if a else Fraction())
            + (sum(b) * Fraction(COLUMN_B.split()[len(b) - 1]) / 100 if b else Fraction())
            + (column_c(c) if c else 0)
        )
    return rest + min(ways)


def naive(area: int, loads: list[tuple[str, int]]) -> tuple[Fraction, Fraction]:
    """VA by the standard and by the optional method; heat has four controls or more."""
    of = {kind: [watts for name, watts in loads if name == kind] for kind in KINDS}
    general = area * 3 + 4500
    lighting = Fraction(general if general <= 3000 else 3000 + Fraction(min(general, 120000) - 3000) * 35 / 100)
    lighting += Fraction(max(0, general - 120000)) / 4
    fixed = of["water heater"] + of["dishwasher"] + of["disposer"]
    large = [each for each in fixed if each >= 500]
    fastened = Fraction(sum(large)) * (3 if len(large) >= 4 else 4) / 4 + sum(each for each in fixed if each < 500)
    dryers = sum(max(each, 5000) for each in of["dryer"])  # fewer than five
    heat, cooling = sum(of["heat"]), sum(of["ac"])
    motors = of["disposer"] + (of["ac"] if cooling > heat else [])
    standard = lighting + fastened + dryers + naive_cooking(of["range"] + of["cooktop"]) + max(heat, cooling)
    standard += sum(of["charger"]) + sum(of["kiln"]) + Fraction(max(motors, default=0), 4)
    rest = general + sum(sum(of[kind]) for kind in KINDS if kind not in ("heat", "ac"))
    optional = (
        min(rest, 10000) + Fraction(max(0, rest - 10000)) * 2 / 5 + max(Fraction(heat) * 2 / 5, Fraction(cooling))
    )
    return standard, optional


def loads_of(dice: random.Random) -> list[tuple[str, int]]:
    picked = [dice.choice(KINDS) for _ in range(dice.randrange(9))]
    while picked.count("dryer") > 4:
        picked.remove("dryer")
    return [(kind, dice.randrange(100, 30000, 50)) for kind in picked]


def job_of(area: int, loads: list[tuple[str, int]], **more: object) -> Job:
    dwelling = Dwelling(Decimal(area), service=200, **more)  # type: ignore[arg-type]
    return Job(dwelling=dwelling, loads=tuple(Load(kind, Decimal(va), controls=4) for kind, va in loads))


def by_both(job: Job, book: CodeBook = BOOK) -> tuple[Decimal, Decimal]:
    assert job.dwelling is not None
    what = carried(Subject(job.dwelling, job.loads, job.circuits), job.graph, book, Assumption(ENDS))
    standard, optional = next(standard_load(what, book)).worst, next(optional_load(what, book)).worst
    assert standard is not None
    assert optional is not None
    return standard.needed, optional.needed


def test_random_dwellings_count_as_in_a_second_reading():
    dice = random.Random(14)
    for _ in range(1500):
        area, loads = dice.randrange(100, 60000), loads_of(dice)
        assert tuple(map(Fraction, by_both(job_of(area, loads)))) == naive(area, loads), (area, loads)


# ---- properties ----------------------------------------------------------------------------------------------------


def test_one_more_load_never_lowers_the_load_but_by_the_step_of_four_appliances():
    """The standard method has one step down: the fourth appliance fastened in place takes a quarter off all of them,
    so a small fourth one lowers the sum. By the optional method nothing does.
    """
    dice = random.Random(15)
    stepped = 0
    for _ in range(300):
        area, loads = dice.randrange(100, 9000), loads_of(dice)
        more = (dice.choice(KINDS), dice.randrange(600, 12000, 50))
        before, after = by_both(job_of(area, loads)), by_both(job_of(area, [*loads, more]))
        assert after[1] >= before[1]
        fixed = [va for kind, va in loads if kind in ("water heater", "dishwasher", "disposer") and va >= 500]
        cooks = [va for kind, va in loads if kind in ("range", "cooktop")]
        if more[0] in ("water heater", "dishwasher", "disposer") and len(fixed) == 3:
            stepped += after[0] < before[0]
        elif not (more[0] in ("range", "cooktop") and cooks):  # a second range may bring down their average
            assert after[0] >= before[0], (area, loads, more)
    assert stepped


def test_heat_and_cooling_are_never_both_added():
    both = by_both(job_of(1500, [("heat", 9000), ("ac", 5000)]))
    assert both[0] == by_both(job_of(1500, [("heat", 9000)]))[0]


def test_a_fourth_appliance_counts_from_2020_on_only_if_it_is_large_enough():
    loads = [("water heater", 4500), ("dishwasher", 1200), ("disposer", 600), ("disposer", 400)]
    assert by_both(job_of(1500, loads), CodeBook(2017))[0] < by_both(job_of(1500, loads), CodeBook(2020))[0]


def test_charging_counts_for_7200_va_at_least_from_2023_on():
    """220.57: a device maker's guide to the 2023 edition."""
    small = [("charger", 1400)]
    assert by_both(job_of(1500, small), CodeBook(2023))[0] - by_both(job_of(1500, small), CodeBook(2020))[0] == 5800


# ---- the sheet -----------------------------------------------------------------------------------------------------


def service(sheet: str, year: int = 2020) -> tuple[Report, dict[str, Verdict]]:
    report = check(read_job(sheet), year)
    return report, {finding.rule: finding.verdict for finding in report.subject("service").findings}


CIRCUITS = """edition 2020
panel P 120/240 V main 100 A
circuit 1 40 A 240 V 12 kW serves range
circuit 2 30 A 240 V {} serves dryer
circuit 3 15 A 680 VA for lights
circuit 4 20 A 1200 VA for shelf lamp
dwelling 1500 ft2
"""


def test_circuits_that_say_what_they_serve_are_the_loads_and_a_line_for_one_is_the_same_load():
    known = check(
        read_job(CIRCUITS.format("5 kW") + "load clothes dryer 5 kW on circuit 2\nload lamp 1200 VA on circuit 4\n")
    )
    sheet = known.subject("service").findings[0].worst
    assert sheet is not None
    lines = [each.label for each in sheet.all_lines]
    assert [label for label in lines if "dryer" in label.lower()] == ["Dryers", "Each dryer", "clothes dryer"]
    assert not any("circuit 3" in label for label in lines)


def test_what_nobody_knows_is_asked_and_never_passes_by_luck():
    report, verdicts = service(CIRCUITS.format("? VA").replace("main 100 A", "main 80 A"))
    assert verdicts["standard-load"] is Verdict.OPEN
    asked = {fact.question for finding in report.subject("service").findings for fact in finding.facts}
    assert "what the nameplate of circuit 2, dryer says, VA" in asked
    _, verdicts = service("dwelling ? ft2 service 100 A\n")
    assert verdicts["standard-load"] is Verdict.OPEN
    _, verdicts = service("dwelling 1000 ft2 service ? A\nload range 12 kW\n")
    assert verdicts["standard-load"] is Verdict.OPEN
    _, verdicts = service("dwelling 1000 ft2 service 100 A\nload kiln ? kW\n")
    assert verdicts["standard-load"] is Verdict.OPEN


def test_one_method_is_enough_and_the_others_say_so():
    sheet = "dwelling 1500 ft2 service 100 A\nload range 12 kW\nload furnace 10 kW\nload dryer 5 kW\n"
    report, verdicts = service(sheet)
    assert (verdicts["standard-load"], verdicts["optional-load"]) == (Verdict.ADVICE, Verdict.PASSES)
    assert "Another method the code allows is enough" in report.subject("service").findings[0].message


def test_loads_without_a_dwelling_are_said_not_to_be_judged():
    assert check(read_job("edition 2020\nbox J1\n  square 4 x 1-1/2\nload range 12 kW\n")).not_judged_text == (
        "Not judged: 1 load"
    )


def test_a_dwelling_without_a_box_is_a_whole_sheet():
    assert service("dwelling 1500 ft2 service 100 A\n")[1]["standard-load"] is Verdict.PASSES


@pytest.mark.parametrize(
    ("line", "plain"),
    [
        ("dwelling 1800 ft2, service 200 A 120/240 V, small-appliance 3, laundry 0 existing metered 62 A at lane", ""),
        ("dwelling ? ft2 service ? A units 12", ""),
        ("load ac 24 A 240 V", "load ac 5760 VA 240 V"),
        ("load 4 x heat 2 kW 4 controls new on circuit 7 for the loft", ""),
        ("load dryer ? W 240 V", "load dryer ? VA 240 V"),
    ],
)
def test_a_line_is_written_as_it_is_read(line: str, plain: str):
    job = read_job(f"dwelling 900 ft2\n{line}\n" if line.startswith("load") else f"{line}\n")
    written = write_job(job)
    assert read_job(written) == job
    assert plain in written


# ---- frozen answers ------------------------------------------------------------------------------------------------

SHEETS = (SNAPSHOTS / "loads.txt").read_text("utf-8").split("\n\n")


def answers(year: int) -> dict[str, Any]:
    """Every finding on every dwelling."""
    found: dict[str, Any] = {}
    for number, sheet in enumerate(SHEETS, 1):
        report = check(read_job(f"{sheet}\n"), year).subject("service")
        found[str(number)] = by_subject(report.findings)["service"]
    return found


FROZEN = Frozen("loads", "tests.rules.load.test_loads", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


if __name__ == "__main__":
    FROZEN.main(__doc__)


@pytest.mark.parametrize(
    ("line", "is_counted"),
    [
        ("50 A 240 V for kitchen range", True),
        ("30 A 240 V for laundry dryer", True),
        ("20 A for kitchen disposer", True),
        ("30 A 240 V for kiln", True),
        ("30 A 240 V", True),
        ("20 A 1500 VA", True),
        ("20 A for freezer", True),
        ("20 A for kitchen counter, left", False),
        ("15 A for upstairs bedrooms and hall", False),
        ("15 A", False),
    ],
)
def test_a_circuit_is_left_to_the_floor_area_only_where_all_its_words_are_rooms_and_lights(line: str, is_counted: bool):
    """Common practice, no source: what a circuit's label calls a room may still feed a range. At the worst each of the
    others takes all its breaker lets through.
    """

    def needed(circuit: str) -> Decimal:
        report, _ = service(f"panel P\ndwelling 900 ft2 service 100 A\n{circuit}")
        sheet = report.subject("service").findings[0].worst
        assert sheet is not None
        return sheet.needed

    assert (needed(f"circuit 1 {line}\n") > needed("")) == is_counted


def test_a_feeder_counts_where_nothing_is_written_of_the_panel_it_feeds():
    sheet = "edition 2020\npanel P\npanel S\ndwelling 900 ft2 service 100 A\ncircuit 5 60 A 240 V 9600 VA on P\n"
    sheet += "run P > S 6/3 nm-b circuit 5\n"
    alone, with_its_own = (
        next(each for each in check(read_job(text)).subjects if each.kind == "dwelling")
        for text in (sheet, sheet + "circuit 6 15 A on S for lights\n")
    )
    for service_report, is_counted in ((alone, True), (with_its_own, False)):
        sheet_of_it = service_report.findings[0].worst
        assert sheet_of_it is not None
        assert any("circuit 5" in line.label for line in sheet_of_it.all_lines) == is_counted


def test_large_loads_of_which_the_sheet_has_none_are_told():
    def cautions(more: str) -> list[str]:
        report = check(read_job(f"edition 2020\ndwelling 1500 ft2 service 100 A\n{more}"))
        return [reminder.text for subject in report.subjects for reminder in subject.cautions]

    (text,) = cautions("load range 12 kW\nload heat pump 5 kW\n")
    assert text.startswith("The load counts no dryer or water heater: ")
    assert cautions("load range 12 kW\nload heat pump 5 kW\nload dryer 5 kW\nload water heater 4.5 kW\n") == []


@pytest.mark.parametrize(
    ("lines", "va"),
    [
        ("load heat 4 kW 2 controls\nload heat 6 kW 2 controls\n", 4000),
        ("load heat 4 kW 2 controls\nload heat 6 kW 1 controls\n", 6500),
        ("load heat 4 kW 4 controls\nload heat 6 kW\n", 4000),
        ("load heat 4 kW 4 controls\nload furnace 6 kW\n", 5500),
    ],
)
def test_the_controls_of_all_heaters_are_counted_together(lines: str, va: int):
    """By hand: 40 % of heat with four controls or more, 65 % with fewer (220.82(C))."""
    report, _ = service(f"dwelling 1500 ft2 service 200 A\n{lines}")
    (found,) = [each for each in report.subject("service").findings if each.rule == "optional-load"]
    assert found.worst is not None
    assert found.worst.needed == 1500 * 3 + 4500 + va


def test_controls_nobody_counted_are_one_fact_of_the_dwelling():
    job = read_job("edition 2020\ndwelling 1500 ft2 service 100 A\n" + "load heat 2 kW\n" * 3)
    (subject,) = subjects_of(job)
    assumption = Assumption(ENDS)
    assert {item.few_controls for item in carried(subject, job.graph, BOOK, assumption).items} == {True}
    assert [fact.field for fact in assumption.needed] == ["controls"]
