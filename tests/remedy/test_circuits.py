"""Fixes of circuits: what is offered makes the circuit pass and nothing worse, in a plan too, and can be undone."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.cli.saving import undo_file
from ampleroom.remedy.plan import plan
from ampleroom.remedy.remedy import CIRCUIT
from ampleroom.remedy.takeoff import takeoff
from ampleroom.worksheet import Verdict
from tests.cli.helpers import inside
from tests.remedy.helpers import (
    LABOR,
    assert_holds,
    box_entry,
    breaker_entry,
    cable_entry,
    every,
    job_of,
    length_entry,
    nothing,
    stock,
)
from tests.remedy.moves.test_more_holes import through_one

ENTRIES = (
    *(cable_entry(size, price) for size, price in (("14/2", "0.52"), ("12/2", "0.74"), ("10/2", "1.25"))),
    *(breaker_entry(f"{amperes} A 1-pole", amperes) for amperes in (15, 20, 25, 30)),
    breaker_entry("20 A 1-pole dual function", 52),
    *(length_entry(f"#{size} thhn", price) for size, price in ((12, "0.30"), (10, "0.50"), (8, "0.80"))),
    *(length_entry(f"emt {size}", price, 10) for size, price in (("1/2", "1"), ("3/4", "2"), ("1", "3"))),
    box_entry("marked 22 in3 plastic 1-gang", 4, clamps="inside", mounting='"new-work"'),
)
PARTS = stock(*ENTRIES)


def a_sheet(seed: int) -> str:
    """A few circuits with their wires open, along routes and in one raceway; some too hot, too thin or too many."""
    dice = random.Random(seed)
    lines = [
        f"edition {dice.choice((2008, 2014, 2020, 2023))}",
        "panel P 120/240 V",
        f"route attic 24 ft ambient {dice.choice((120, 150, 160))} F",
        "route cellar 30 ft",
        "route plate 1 ft sealed",
        "route joist 20 ft bundled",
        f"raceway R1 P > Z emt {dice.choice(('1/2', '3/4'))} 20 ft",
        "equipment Z",
    ]
    way = "by plate" if seed % 2 else "by joist"
    for number in range(1, 8):
        load = dice.choice(("", " 1200 VA", " 1900 VA", " 2300 VA"))
        lines.append(
            f"circuit {number} {dice.choice((15, 20, 20, 20))} A 120 V{load} terminals {dice.choice((60, 75))} C"
        )
        size = dice.choice((14, 12, 12, 12, 12))
        if number == 1 and dice.random() < 0.3:
            lines.append(f"wires P > Z 2 x #{size} thhn, ground #{size} bare in R1 20 ft circuit {number}")
            continue
        by = way if number > 2 else "by attic"
        lines.append(f"run P > B{number} {size}/2 nm-b {dice.randint(9, 60)} ft circuit {number} {by}")
        if dice.random() < 0.5:
            room = dice.choice(("14", "16", "18"))
            lines += [f"box B{number} marked {room} in3 plastic 1-gang", "  clamps inside", "  receptacle"]
        else:
            lines.append(f"equipment B{number}")
    return "\n".join(lines) + "\n"


def test_every_fix_of_a_random_circuit_holds_by_the_whole_rules():
    """Each fix is made, written into the sheet, read again, and judged by the whole check."""
    tried: dict[str, int] = {}
    for seed in (1, 2, 3):
        sheet = a_sheet(seed)
        job = job_of(sheet)
        for report in check(job).subjects:
            if report.kind != CIRCUIT or report.verdict.is_allowed:
                continue
            offered = every(sheet, PARTS, report.name)
            if report.verdict is Verdict.OPEN:
                assert not offered, seed
            for remedy in offered:
                assert_holds(job, remedy)
                tried[remedy.action.split()[0]] = tried.get(remedy.action.split()[0], 0) + 1
    assert all(tried.get(word, 0) > 1 for word in ("use", "bore", "fasten", "take")), tried


def test_a_plan_fixes_a_bundle_once_and_not_circuit_by_circuit():
    """One more hole of 10 minutes is 10.00; six smaller breakers are 6 x (15 + 15)."""
    job = job_of(through_one(6))
    parts = stock(*ENTRIES, labor=f"{LABOR}hole = 10\n")
    made = {by: plan(job, book_for(job), parts, solver=by) for by in (True, False)}
    for each in made.values():
        (remedy,) = each.remedies
        assert remedy.action == "bore 1 more hole beside plate, 3 cables in the new one, 3 left"
        assert each.cost == Decimal(10)
        assert each.fixed_text == "6 circuits"
        assert all(subject.verdict.is_allowed for subject in each.report_after().subjects)
    assert made[True].choice.is_proved


def test_a_fix_of_a_box_is_judged_over_the_circuits_too():
    """A larger box changes no circuit; a cable led elsewhere is told to touch none that it leaves as it is."""
    sheet = a_sheet(3)
    job = job_of(sheet)
    for report in check(job).subjects:
        if report.kind == "box" and not report.verdict.is_allowed:
            for remedy in every(sheet, PARTS, report.name):
                assert_holds(job, remedy)
                assert not any(name.startswith(CIRCUIT) for name in remedy.touches)


def test_applied_and_undone_the_sheet_is_what_it_was_byte_for_byte(tmp_path):
    text = through_one(5).replace("circuit 5 20 A 120 V\n", "circuit 5 20 A 120 V  # kiln lights\r\n")
    sheet, prices = tmp_path / "plate.job", tmp_path / "stock.toml"
    sheet.write_bytes(text.encode())
    prices.write_text("".join(ENTRIES), "utf-8")
    for words in (("circuit", "5"), ("5",)):
        for choice in (1, 2):
            applied = inside("remedy", *words, str(sheet), "--apply", "--yes", "--choose", str(choice))
            assert applied.status == 0, applied.err
            assert check(read_job(sheet.read_bytes().decode())).subject("circuit 5").verdict.is_allowed
            assert "# kiln lights" in sheet.read_text("utf-8")
            assert inside("remedy", str(sheet), "--undo").status == 0
            assert sheet.read_bytes() == text.encode()
    assert not undo_file(sheet).exists()


def test_a_circuit_without_wires_or_with_old_ones_says_what_to_write():
    head = "edition 2020\npanel P 120/240 V\n"
    assert nothing(f"{head}circuit 1 20 A 120 V\n", PARTS, "1").reasons == (
        "it has no wires in the sheet: write circuit 1 after its runs",
    )


@pytest.mark.parametrize(
    ("line", "breaker", "price"),
    [
        ("circuit 1 20 A 120 V", "20 A 1-pole breaker", Decimal(20)),
        ("circuit 1 40 A 240 V", "40 A 2-pole breaker", None),
        ("circuit 1 20 A 120 V dual function", "20 A 1-pole dual function breaker", Decimal(52)),
        ("circuit 1 20 A 120 V gfci", "20 A 1-pole GFCI breaker", None),
        ("circuit 1 40 A 208 V 3-phase", "40 A 3-pole breaker", None),
    ],
)
def test_the_takeoff_has_the_breaker_of_each_circuit_with_new_wire(line, breaker, price):
    sheet = f"edition 2020\npanel P 120/240 V\nequipment K\n{line}\nrun P > K 8/3 nm-b 40 ft circuit 1\n"
    counted = [each for each in takeoff(job_of(sheet), PARTS).lines if each.group == "breakers"]
    assert [(each.item, each.quantity, each.price) for each in counted] == [(breaker, Decimal(1), price)]
    old = sheet.replace("40 ft", "40 ft existing")
    assert not [each for each in takeoff(job_of(old), PARTS).lines if each.group == "breakers"]
    unknown = takeoff(job_of(sheet.replace(" 20 A ", " ? A ").replace(" 40 A ", " ? A ")), PARTS)
    assert "the breaker of circuit 1 (line 4)" in unknown.missing
