"""Are the tables of ampacities right? Against the physics they were made by, and against values read a second time.

The second readings, by their keys in sources.toml: C07 and C08 for 2011 to 2017, C09 and C10 for 2008, C177 for 2023.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import ADJUSTMENT, AMBIENT, AMBIENT_40, AMPACITY, ROOFTOP, AmbientRow, AmpacityRow

COLUMNS = {60: "at_60", 75: "at_75", 90: "at_90"}
YEARS = (2008, 2011, 2014, 2017, 2020, 2023)
ORDER = (
    *("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0"),
    *("250", "300", "350", "400", "500", "600", "700", "750", "800", "900", "1000", "1250", "1500", "1750", "2000"),
)


def of(year: int, material: str) -> list[AmpacityRow]:
    return [row for row in CodeBook(year)[AMPACITY].rows if row.material == material]


def cell(year: int, material: str, size: str, column: str) -> Decimal | None:
    (row,) = [row for row in of(year, material) if row.size == size]
    value: Decimal | None = getattr(row, column)
    return value


@pytest.mark.parametrize("year", YEARS)
def test_every_size_has_its_row_and_only_the_smallest_lack_a_column(year: int):
    assert [row.size for row in of(year, "copper")] == list(ORDER)
    assert [row.size for row in of(year, "aluminum")] == list(ORDER[3:])
    lacking = {(row.material, row.size) for row in CodeBook(year)[AMPACITY].rows if None in (row.at_60, row.at_75)}
    assert lacking == {("copper", "18"), ("copper", "16")}
    assert all(row.at_90 is not None for row in CodeBook(year)[AMPACITY].rows)


@pytest.mark.parametrize("material", ["copper", "aluminum"])
@pytest.mark.parametrize("year", YEARS)
def test_ampacity_grows_with_the_size_and_with_the_column(year: int, material: str):
    rows = of(year, material)
    for column in COLUMNS.values():
        values = [value for row in rows if (value := getattr(row, column)) is not None]
        assert values == sorted(set(values)), column
    for row in rows:
        columns = [value for value in (row.at_60, row.at_75, row.at_90) if value is not None]
        assert columns == sorted(columns), row


@pytest.mark.parametrize("year", YEARS)
def test_aluminum_carries_less_by_the_root_of_its_conductivity(year: int):
    """61 % of copper's conductivity: the root of it is 0.78; the books' own rounding leaves 0.74 to 0.86."""
    copper = {row.size: row for row in of(year, "copper")}
    for row in of(year, "aluminum"):
        beside = copper[row.size].at_75
        assert row.at_75
        assert beside
        assert Decimal("0.74") <= row.at_75 / beside <= Decimal("0.86"), row.size


@pytest.mark.parametrize("year", YEARS)
def test_columns_keep_the_ratio_of_heat_from_6_awg_up(year: int):
    """At 75 C about 1.195 times what is carried at 60 C, at 90 C 1.128 times that: heat balance, with the resistance
    grown by the temperature. Below, and in 2008 at 6 AWG, the book sets the numbers by policy."""
    for row in CodeBook(year)[AMPACITY].rows:
        by_policy = ORDER.index(row.size) < ORDER.index("6") or (year == 2008 and row.size == "6")
        if not by_policy:
            assert row.at_60
            assert row.at_75
            assert row.at_90
            assert Decimal("1.14") <= row.at_75 / row.at_60 <= Decimal("1.25"), row
            assert Decimal("1.09") <= row.at_90 / row.at_75 <= Decimal("1.17"), row


# Typed a second time: year, material, size, then 60, 75 and 90 C.
SECOND = """
2008 copper   14   20  20  25
2008 copper   12   25  25  30
2008 copper   3/0 165 200 225
2017 copper   14   15  20  25
2017 copper   12   20  25  30
2017 copper   10   30  35  40
2017 copper   8    40  50  55
2017 copper   6    55  65  75
2017 copper   4    70  85  95
2017 copper   3    85 100 115
2017 copper   2    95 115 130
2017 copper   1   110 130 145
2017 copper   1/0 125 150 170
2017 copper   2/0 145 175 195
2017 copper   3/0 165 200 225
2017 copper   4/0 195 230 260
2017 copper   250 215 255 290
2017 copper   500 320 380 430
2017 aluminum 12   15  20  25
2017 aluminum 10   25  30  35
2017 aluminum 8    35  40  45
2017 aluminum 6    40  50  55
2017 aluminum 4    55  65  75
2017 aluminum 2    75  90 100
2017 aluminum 1/0 100 120 135
2017 aluminum 2/0 115 135 150
2017 aluminum 4/0 150 180 205
2017 aluminum 250 170 205 230
2023 copper   14   15  20  25
2023 copper   600 350 420 475
2023 aluminum 500 260 310 350
"""


@pytest.mark.parametrize("line", SECOND.strip().splitlines())
def test_an_ampacity_is_as_typed_a_second_time(line: str):
    year, material, size, *values = line.split()
    assert [cell(int(year), material, size, column) for column in COLUMNS.values()] == [*map(Decimal, values)]


def test_nothing_changed_between_2011_and_2023_but_how_sure_it_is():
    def values(year: int) -> list[tuple[object, ...]]:
        return [(row.material, row.size, row.at_60, row.at_75, row.at_90) for row in CodeBook(year)[AMPACITY].rows]

    assert values(2011) == values(2017) == values(2020) == values(2023)
    assert values(2008) != values(2011)
    unsure = {(row.material, row.size) for row in CodeBook(2023)[AMPACITY].rows if row.confidence}
    large = ("1000", "1250", "1500", "1750", "2000")
    both = {(material, size) for material in ("copper", "aluminum") for size in large}
    assert unsure == {("copper", "18"), ("copper", "16"), *both}


def factor(conductor: int, ambient: Decimal, base: int) -> Decimal:
    share = (conductor - ambient) / (conductor - base)
    return share.sqrt().quantize(Decimal("0.01"), ROUND_HALF_UP)


def ambient_rows() -> list[tuple[int, int, AmbientRow]]:
    found = [(30, year, row) for year in (2008, 2011, 2020, 2023) for row in CodeBook(year)[AMBIENT].rows]
    return found + [(40, year, row) for year in (2011, 2023) for row in CodeBook(year)[AMBIENT_40].rows]


@pytest.mark.parametrize(("base", "year", "row"), ambient_rows())
def test_a_factor_is_the_root_of_the_share_of_the_temperature_rise(base: int, year: int, row: AmbientRow):
    """The square root of (Tc - Ta) / (Tc - base), as the book says, at the top of the band; and none from the
    temperature of the conductor on."""
    for conductor, column in COLUMNS.items():
        printed = getattr(row, column)
        if row.up_to >= conductor:
            assert printed is None
        elif printed is None:
            assert (base, conductor) == (40, 90)  # its 90 C column ends at 80
            assert row.up_to > 80
        else:
            assert abs(printed - factor(conductor, row.up_to, base)) <= Decimal("0.005"), column


def test_the_bands_go_up_by_fives_and_from_2011_have_no_end_below():
    fives = [Decimal(top) for top in range(10, 90, 5)]
    assert [row.up_to for row in CodeBook(2011)[AMBIENT].rows] == fives
    assert CodeBook(2011)[AMBIENT].least is None
    assert [row.up_to for row in CodeBook(2008)[AMBIENT].rows] == [25, 30, 35, 40, 45, 50, 55, 60, 70, 80]
    assert CodeBook(2008)[AMBIENT].least == 21
    assert CodeBook(2008)[AMBIENT_40].rows == ()


def test_company_is_adjusted_as_typed_a_second_time():
    """C14 (2014) and C84 (2005): 4-6, 7-9, 10-20, 21-30, 31-40, 41 and more."""
    typed = [("6", 80), ("9", 70), ("20", 50), ("30", 45), ("40", 40), ("None", 35)]
    for year in YEARS:
        table = CodeBook(year)[ADJUSTMENT]
        assert table.free == 3
        assert [(str(row.up_to), int(row.percent)) for row in table.rows] == typed


def test_the_sun_on_a_roof_as_typed_a_second_time():
    """C165 for the four heights, C26 for 7/8 in. of 2017, C29 for 3/4 in. of 2023. The steps are 60, 40, 30 and 25
    degrees Fahrenheit."""
    early = CodeBook(2011)[ROOFTOP]
    assert [(str(row.up_to), int(row.adds)) for row in early.rows] == [("0.5", 33), ("3.5", 22), ("12", 17), ("36", 14)]
    for row, fahrenheit in zip(early.rows, (60, 40, 30, 25), strict=True):
        assert abs(row.adds * 9 / 5 - fahrenheit) < 1
    assert CodeBook(2011)[ROOFTOP].exempt == ()
    assert CodeBook(2014)[ROOFTOP].exempt == ("xhhw-2",)
    for year, inches in ((2017, "0.875"), (2020, "0.875"), (2023, "0.75")):
        (row,) = CodeBook(year)[ROOFTOP].rows
        assert (str(row.up_to), int(row.adds), row.is_under) == (inches, 33, True)
