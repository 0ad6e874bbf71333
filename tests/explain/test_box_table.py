"""How many of each size a standard box holds: as the published table prints it, and as a check counts."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom import check, read_job
from ampleroom.editions import OFFERED
from ampleroom.explain import box_table
from ampleroom.explain.box_table import how_many
from tests.editions.test_tables import SECOND, SIZES

DECIDED_BY_VOLUME = {("octagon 4 x 1-1/4", "8"): 4}
"""Printed as 5 in the prints of the 2011 text and as 4 in a copy of the 2023 text; 12.5 in3 over 3.00 is 4.17."""


def published() -> dict[str, tuple[Decimal, list[int]]]:
    """Table 314.16(A), typed from published reprints and a state's adoption of the 2011 text (sources S1-S9, S58)."""
    found = {}
    for line in SECOND.strip().splitlines():
        _, shape, size, _, volume, _, counts = (cell.strip() for cell in line.split("|"))
        name = f"{shape.upper() if shape in ('fs', 'fd') else shape} {size}"
        found[name] = (Decimal(volume), [int(count) for count in counts.split()])
    return found


@pytest.mark.parametrize("year", OFFERED)
def test_every_count_is_the_published_one_and_the_one_that_was_misprinted_is_by_the_volume(year: int):
    table = box_table(year)
    assert table.sizes == SIZES
    assert [row.name for row in table.rows] == list(published())
    for row in table.rows:
        volume, counts = published()[row.name]
        assert row.volume == volume
        expected = {
            size: DECIDED_BY_VOLUME.get((row.name, size), count) for size, count in zip(SIZES, counts, strict=True)
        }
        assert row.holds == expected


@pytest.mark.parametrize("row", [row for row in box_table().rows if not row.per_gang], ids=lambda row: row.name)
@pytest.mark.parametrize("size", SIZES)
def test_a_check_passes_that_many_and_fails_one_more(row, size: str):
    def verdict(count: int) -> str:
        sheet = f"edition 2023\nbox A\n  {row.name}\n  clamps none\nwires A > ? {count} x #{size}\n"
        return next(found.verdict.word for found in check(read_job(sheet)).findings if found.rule == "box-fill")

    assert (verdict(row.holds[size]), verdict(row.holds[size] + 1)) == ("passes", "fails")


@pytest.mark.parametrize(
    ("volume", "each", "count"), [("18.0", "2.25", 8), ("12.5", "3.00", 4), ("7.5", "5.00", 1), ("1", "1.50", 0)]
)
def test_a_part_of_an_allowance_is_no_conductor(volume: str, each: str, count: int):
    assert how_many(Decimal(volume), Decimal(each)) == count


def test_the_notes_say_what_else_takes_room_and_which_count_is_misprinted():
    told = " ".join(box_table(2017).notes)
    assert "Clamps, devices, grounds, studs and terminal blocks take room too." in told
    assert "octagon 4 x 1-1/4, #8: some printings of the code's table have 5. The volume decides: 4" in told
    assert "* For each gang." in told
    assert any("Provisional" in note for note in box_table(2026).notes)
