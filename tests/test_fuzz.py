"""Damaged sheets: whatever is done to a sheet, the answer is a clear one. ``scripts/fuzz_sheets.py`` runs more of
them.
"""

import random

import pytest
from scripts.fuzz_sheets import AMENDMENTS, DAMAGES, GENTLE, damaged, fuzz, good_sheets, told, trial

from ampleroom.job import Sheet, read_with_faults

SEED = "tests"


@pytest.mark.parametrize("part", range(6))
def test_three_hundred_damaged_sheets_get_a_clear_answer(part):
    counts, failures = fuzz(SEED, 50, 50 * part)
    assert not failures, told(failures[0])
    assert counts.total() == 50


@pytest.mark.parametrize("kind", ["toml", "workbook"])
def test_damaged_files_of_other_kinds_get_a_clear_answer(kind):
    if kind == "workbook":
        pytest.importorskip("python_calamine")
        pytest.importorskip("xlsxwriter")
    counts, failures = fuzz(SEED, {"toml": 200, "workbook": 8}[kind], kind=kind)
    assert not failures, told(failures[0])
    assert len(counts) > 1


def test_a_sheet_is_damaged_the_same_way_again():
    assert damaged(SEED, 7)[0] == damaged(SEED, 7)[0]
    assert len({damaged(SEED, index)[0] for index in range(100)}) > 90


def test_the_sheets_that_are_damaged_are_good_before():
    for text in good_sheets():
        assert read_with_faults(Sheet(text), lambda name: AMENDMENTS)[1] == []


def test_some_damaged_sheets_are_checked_and_some_are_faulty():
    counts, _ = fuzz(SEED, 100)
    assert counts["faults"] > 10
    assert counts["checked"] > 10


@pytest.mark.parametrize("damage", [way for way, _ in DAMAGES + GENTLE], ids=lambda way: way.__name__)
def test_every_way_to_damage_a_sheet_damages_it(damage):
    chance = random.Random(1)
    assert any(damage(text, chance) != text for text in good_sheets() for _ in range(10))


def test_a_crash_is_a_failure_with_its_sheet(monkeypatch):
    def crashes(*_):
        raise ZeroDivisionError("of our own making")

    monkeypatch.setattr("scripts.fuzz_sheets.read_sheet", crashes)
    came_to, failure = trial(SEED, 0)
    assert came_to == "FAILED"
    assert failure is not None
    assert "of our own making" in told(failure)
    assert failure.text[:100] in told(failure)


def test_what_takes_too_long_is_a_failure(monkeypatch):
    def never_ends(*_):
        while True:
            pass

    monkeypatch.setattr("scripts.fuzz_sheets.SECONDS", 0.05)
    monkeypatch.setattr("scripts.fuzz_sheets.read_sheet", never_ends)
    came_to, failure = trial(SEED, 0)
    assert came_to == "FAILED"
    assert failure is not None
    assert "took over 0.05 s" in failure.trouble
