"""Are the tables of resistance right? Against the geometry of wire and the resistivity of its metal, and values read a
second time.

The second readings, by their keys in sources.toml: C01 and C149 for direct current, C02 to C04 for alternating current.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from ampleroom.editions import CodeBook
from ampleroom.editions.resistance import (
    IMPEDANCE,
    RESISTANCE,
    TEMPERATURE,
    TRADE_CONSTANTS,
    ImpedanceRow,
    ResistanceRow,
)

BOOK = CodeBook(2023)
DIRECT = BOOK[RESISTANCE].rows
ALTERNATING = BOOK[IMPEDANCE].rows
NAMES = [f"{metal}_{conduit}" for metal in ("copper", "aluminum") for conduit in ("pvc", "aluminum", "steel")]

COPPER_AT_20 = 10.371
"""Ohms of a foot of one circular mil at 20 C, of annealed copper by the international standard (100 percent IACS)."""
ALUMINUM_SHARE = 0.61
"""The conductivity of aluminum for wire, as a share of copper's (61 percent IACS)."""
GROWTH = {"copper": 0.00393, "aluminum": 0.00404}
"""Share by which resistance grows for each degree above 20 C."""
LAY = 1.02
"""Strands lie in a spiral, so they are 2 percent longer than the conductor."""


def gauge_circular_mils(size: str) -> float:
    """Circular mils of an AWG size by the definition of the gauge, ASTM B258: 0.005 in. times 92 to (36 - n) / 39."""
    number = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}.get(size)
    if number is None:
        number = int(size)
    return float((5 * 92 ** ((36 - number) / 39)) ** 2)


@pytest.mark.parametrize("row", DIRECT, ids=lambda row: f"{row.size} {row.stranding}")
def test_a_size_has_the_circular_mils_of_its_gauge(row: ResistanceRow):
    exact = float(row.size) * 1000 if row.circular_mils >= 250_000 else gauge_circular_mils(row.size)
    assert float(row.circular_mils) == pytest.approx(exact, rel=0.0035)  # printed to four figures


@pytest.mark.parametrize("row", DIRECT, ids=lambda row: f"{row.size} {row.stranding}")
def test_resistance_is_that_of_the_metal(row: ResistanceRow):
    for metal, at_20 in (("copper", COPPER_AT_20), ("aluminum", COPPER_AT_20 / ALUMINUM_SHARE)):
        lay = LAY if row.stranding == "stranded" else 1
        exact = at_20 * (1 + GROWTH[metal] * 55) * lay / float(row.circular_mils) * 1000
        assert float(getattr(row, metal)) == pytest.approx(exact, rel=0.0055), metal
    assert Decimal("1.015") <= row.coated / row.copper <= Decimal("1.07")  # tin on each strand


def test_resistance_falls_with_the_size():
    for stranding in ("solid", "stranded"):
        for column in ("copper", "coated", "aluminum"):
            values = [getattr(row, column) for row in DIRECT if row.stranding == stranding]
            assert values == sorted(set(values), reverse=True)


@pytest.mark.parametrize("row", ALTERNATING, ids=lambda row: row.size)
def test_impedance_is_that_of_its_resistance_and_reactance(row: ImpedanceRow):
    """R times the power factor and X times the sine of its angle, within the rounding of what is printed."""
    power_factor = float(BOOK[IMPEDANCE].power_factor)
    sine = math.sin(math.acos(power_factor))
    for name in NAMES:
        resistance, printed = getattr(row, name), getattr(row, f"z_{name}")
        if resistance is None:
            assert (row.size, printed) == ("14", None)
            continue
        reactance = row.x_steel if name.endswith("steel") else row.x_pvc
        exact = float(resistance) * power_factor + float(reactance) * sine
        rounding = half_of_last(printed) + power_factor * half_of_last(resistance) + sine * half_of_last(reactance)
        assert abs(float(printed) - exact) <= rounding + 1e-9, name


def half_of_last(value: Decimal) -> float:
    """Half of the last printed place."""
    return 0.5 * 10.0 ** int(value.as_tuple().exponent)


@pytest.mark.parametrize("row", ALTERNATING, ids=lambda row: row.size)
def test_alternating_current_meets_no_less_than_direct(row: ImpedanceRow):
    """But for rounding to two figures; in steel the reactance is about a quarter greater: the iron around adds it."""
    (direct,) = [one for one in DIRECT if (one.size, one.stranding) == (row.size, "stranded")]
    for name in NAMES:
        value = getattr(row, name)
        if value is not None:
            metal = getattr(direct, name.partition("_")[0])
            assert float(value) >= float(metal) - half_of_last(value) - 0.02 * float(metal), name
    assert Decimal("1.20") <= row.x_steel / row.x_pvc <= Decimal("1.30")


def test_the_coefficients_are_those_of_20_degrees_seen_from_75():
    table = BOOK[TEMPERATURE]
    for metal in ("copper", "aluminum"):
        seen = GROWTH[metal] / (1 + GROWTH[metal] * float(table.base - 20))
        assert float(getattr(table, metal)) == pytest.approx(seen, abs=0.00001)


def test_the_constants_of_the_trade_are_those_of_the_table():
    """Resistance times circular mils of stranded conductors, within the three figures it is printed with."""
    table = BOOK[TRADE_CONSTANTS]
    for row in DIRECT:
        if row.stranding == "stranded" and row.circular_mils >= 26240:
            assert float(row.copper * row.circular_mils / 1000) == pytest.approx(float(table.copper), rel=0.006)
            assert float(row.aluminum * row.circular_mils / 1000) == pytest.approx(float(table.aluminum), rel=0.006)
    assert table.confidence == "from memory"


# Typed a second time: size and stranding, circular mils, then copper, coated copper and aluminum.
SECOND = """
14 solid       4110 3.07   3.19   5.06
14 stranded    4110 3.14   3.26   5.17
12 solid       6530 1.93   2.01   3.18
12 stranded    6530 1.98   2.05   3.25
10 solid      10380 1.21   1.26   2.00
10 stranded   10380 1.24   1.29   2.04
8  stranded   16510 0.778  0.809  1.28
6  stranded   26240 0.491  0.510  0.808
4  stranded   41740 0.308  0.321  0.508
2  stranded   66360 0.194  0.201  0.319
1/0 stranded 105600 0.122  0.127  0.201
4/0 stranded 211600 0.0608 0.0626 0.100
500 stranded 500000 0.0258 0.0265 0.0424
"""


@pytest.mark.parametrize("line", SECOND.strip().splitlines())
def test_a_resistance_is_as_typed_a_second_time(line: str):
    size, stranding, *values = line.split()
    (row,) = [row for row in DIRECT if (row.size, row.stranding) == (size, stranding)]
    assert [row.circular_mils, row.copper, row.coated, row.aluminum] == [*map(Decimal, values)]


# Typed a second time: size, reactance in PVC and in steel, then effective impedance of copper and of aluminum in PVC,
# aluminum and steel.
SECOND_IMPEDANCES = """
12  0.054 0.068 1.7  1.7  1.7  2.8  2.8  2.8
10  0.050 0.063 1.1  1.1  1.1  1.8  1.8  1.8
6   0.051 0.064 0.44 0.45 0.45 0.71 0.72 0.72
1/0 0.044 0.055 0.13 0.13 0.13 0.19 0.20 0.20
4/0 0.041 0.051 0.074 0.078 0.080 0.11 0.11 0.11
500 0.039 0.048 0.043 0.048 0.050 0.057 0.061 0.064
"""


@pytest.mark.parametrize("line", SECOND_IMPEDANCES.strip().splitlines())
def test_an_impedance_is_as_typed_a_second_time(line: str):
    size, *values = line.split()
    (row,) = [row for row in ALTERNATING if row.size == size]
    found = [row.x_pvc, row.x_steel, *(getattr(row, f"z_{name}") for name in NAMES)]
    assert found == [*map(Decimal, values)]


def test_a_voltage_drop_as_published():
    """EC&M about 1999: 480 V three-phase, 10 AWG copper in steel, 20 A, 200 ft: 1.1 ohms in 1,000 ft, 7.62 V. A study
    guide of 2025: 12 AWG stranded, 1.98 ohms, 20 A, 100 ft one way: 7.92 V."""
    (ten,) = [row for row in ALTERNATING if row.size == "10"]
    assert round(math.sqrt(3) * float(ten.z_copper_steel) * 20 * 0.2, 2) == 7.62
    (twelve,) = [row for row in DIRECT if (row.size, row.stranding) == ("12", "stranded")]
    assert 2 * twelve.copper * 20 * Decimal("0.1") == Decimal("7.92")
