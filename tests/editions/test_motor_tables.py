"""Are the tables of motors and fixed equipment right? Against what a horsepower draws, and values read a second time.

The second readings, by their keys in sources.toml: L01 for single phase, L02 and L03 for three phase, L05 and L06 for
the devices.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import (
    APPLIANCE,
    CHARGING,
    COMPRESSOR,
    COMPRESSOR_DEVICE,
    COMPRESSOR_WILL_NOT_START,
    MAJOR_FRACTION,
    RANGE,
    RANGE_DEMAND,
    SPACE_HEAT,
    WATER_HEATER,
)
from ampleroom.editions.motors import (
    DEVICE,
    DISCONNECT,
    OVERLOAD,
    SEVERAL,
    SINGLE_PHASE,
    THREE_PHASE,
    WILL_NOT_START,
    WIRE,
)

BOOK = CodeBook(2023)
VOLTS = (115, 200, 208, 230, 460, 575)
SHARES = {115: "2", 200: "1.15", 208: "1.1", 460: "0.5", 575: "0.4"}
"""Current at these volts as a share of the current at 230, as the tables were made: 208 and 200 by 1.1 and 1.15."""
WATTS = 746
"""Of one horsepower."""


def half_of_last(value: Decimal) -> Decimal:
    """Half of the last printed place; a third figure is not trusted."""
    return Decimal("0.5") * Decimal(10) ** max(int(value.as_tuple().exponent), value.adjusted() - 2)


@pytest.mark.parametrize("row", BOOK[SINGLE_PHASE].rows, ids=lambda row: row.hp)
def test_currents_of_one_phase_go_with_the_volts(row):
    for volts in (115, 200, 208):
        printed, exact = getattr(row, f"at_{volts}"), row.at_230 * Decimal(SHARES[volts])
        assert abs(printed - exact) <= half_of_last(printed) + half_of_last(row.at_230) * Decimal(SHARES[volts]), volts


@pytest.mark.parametrize("row", BOOK[THREE_PHASE].rows, ids=lambda row: row.hp)
def test_currents_of_three_phases_go_with_the_volts(row):
    """From 250 hp up only 460 and 575 V are printed; from 3 hp up no 115 V. Within rounding, and one percent."""
    hp = horsepower(row.hp)
    assert (row.at_230 is None) is (hp >= 250)
    assert (row.at_115 is None) is (hp >= 3)
    base, share = (row.at_230, Decimal(1)) if row.at_230 is not None else (row.at_460, Decimal("0.5"))
    for volts, of_230 in SHARES.items():
        printed = getattr(row, f"at_{volts}")
        if printed is not None:
            exact = base * Decimal(of_230) / share
            assert abs(printed - exact) <= half_of_last(printed) + half_of_last(base) + exact / 50, volts


def horsepower(text: str) -> Decimal:
    whole, _, part = text.rpartition("-")
    over, _, under = part.partition("/")
    return Decimal(whole or 0) + Decimal(over) / Decimal(under or 1)


@pytest.mark.parametrize("table", [SINGLE_PHASE, THREE_PHASE], ids=lambda table: table.name)
def test_currents_grow_with_the_horsepower(table):
    rows = BOOK[table].rows
    sizes = [horsepower(row.hp) for row in rows]
    assert sizes == sorted(set(sizes))
    for volts in VOLTS:
        values = [value for row in rows if (value := getattr(row, f"at_{volts}", None)) is not None]
        assert values == sorted(set(values))


@pytest.mark.parametrize("row", [*BOOK[SINGLE_PHASE].rows, *BOOK[THREE_PHASE].rows], ids=lambda row: row.hp)
def test_a_motor_gives_a_possible_share_of_what_it_draws(row):
    """Efficiency times power factor: of the least single-phase motor a quarter, of the greatest three-phase nine
    tenths, and never more than all of it."""
    phases = 3 if hasattr(row, "at_460") else 1
    volts, current = (230, row.at_230) if row.at_230 is not None else (460, row.at_460)
    drawn = float(volts * current) * phases**0.5
    share = float(horsepower(row.hp)) * WATTS / drawn
    assert (0.40 if phases == 3 else 0.24) <= share <= 0.95


SECOND_SINGLE = """
1/4   5.8  3.3  3.2  2.9
1/2   9.8  5.6  5.4  4.9
3/4   13.8 7.9  7.6  6.9
1     16   9.2  8.8  8.0
1-1/2 20   11.5 11.0 10
2     24   13.8 13.2 12
5     56   32.2 30.8 28
10    100  57.5 55.0 50
"""
SECOND_THREE = """
1/2   2.5  2.4  2.2  1.1 0.9
1     4.8  4.6  4.2  2.1 1.7
3     11.0 10.6 9.6  4.8 3.9
5     17.5 16.7 15.2 7.6 6.1
10    32.2 30.8 28   14  11
25    78.2 74.8 68   34  27
50    150  143  130  65  52
100   285  273  248  124 99
200   552  528  480  240 192
"""


@pytest.mark.parametrize("line", SECOND_SINGLE.strip().splitlines())
def test_a_single_phase_current_is_as_typed_a_second_time(line: str):
    hp, *values = line.split()
    (row,) = [row for row in BOOK[SINGLE_PHASE].rows if row.hp == hp]
    assert [row.at_115, row.at_200, row.at_208, row.at_230] == [*map(Decimal, values)]


@pytest.mark.parametrize("line", SECOND_THREE.strip().splitlines())
def test_a_three_phase_current_is_as_typed_a_second_time(line: str):
    hp, *values = line.split()
    (row,) = [row for row in BOOK[THREE_PHASE].rows if row.hp == hp]
    assert [row.at_200, row.at_208, row.at_230, row.at_460, row.at_575] == [*map(Decimal, values)]


def test_the_percents_of_motors_as_typed_a_second_time():
    devices = {row.device: (int(row.percent), row.wound) for row in BOOK[DEVICE].rows}
    assert devices == {
        "inverse-time breaker": (250, 150),
        "dual-element fuse": (175, 150),
        "non-time-delay fuse": (300, 150),
        "instantaneous-trip breaker": (800, None),
    }
    usual = {row.device: row.percent for row in BOOK[DEVICE].rows}
    for row in BOOK[WILL_NOT_START].rows:
        assert row.percent > usual[row.device]
        assert row.larger is None or usual[row.device] < row.larger < row.percent
    assert [BOOK[table].percent for table in (WIRE, DISCONNECT)] == [125, 115]
    assert [BOOK[SEVERAL].largest, BOOK[SEVERAL].others, BOOK[SEVERAL].continuous] == [125, 100, 125]
    overload = BOOK[OVERLOAD]
    assert [overload.marked, overload.marked_starting] == [125, 140]
    assert [overload.other, overload.other_starting] == [115, 130]
    assert overload.confidence == "from memory"


def test_a_water_heater_as_published():
    """4500 W at 240 V: 18.75 A, times 1.25 is 23.4 A of wire; times 1.5 is 28.1, so 30 A at most ("Code Q&A: electric
    water heaters", EC&M)."""
    amperes = Decimal(4500) / 240
    assert round(amperes * BOOK[WATER_HEATER].percent / 100, 1) == Decimal("23.4")
    assert round(amperes * BOOK[APPLIANCE].percent / 100, 1) == Decimal("28.1")
    assert amperes > BOOK[APPLIANCE].over
    assert BOOK[WATER_HEATER].gallons == 120


def test_electric_heat_as_the_trade_reckons_it():
    """A circuit of 20 A at 240 V carries 3840 W of heat, one of 30 A 5760 W: common practice, no source."""
    for amperes, watts in ((20, 3840), (30, 5760)):
        assert amperes * 240 * 100 / BOOK[SPACE_HEAT].percent == watts
    assert BOOK[CHARGING].percent == BOOK[SPACE_HEAT].percent


def test_compressors_and_ranges_as_typed_a_second_time():
    percents = [BOOK[table].percent for table in (COMPRESSOR, COMPRESSOR_DEVICE, COMPRESSOR_WILL_NOT_START)]
    assert percents == [125, 175, 225]
    assert [BOOK[RANGE].kilowatts, BOOK[RANGE].amperes] == [Decimal("8.75"), Decimal(40)]
    demand = BOOK[RANGE_DEMAND]
    assert [demand.over, demand.part_up_to, demand.percent] == [Decimal("1.75"), Decimal("8.75"), Decimal(80)]
    assert [demand.base_up_to, demand.base, demand.percent_for_each, demand.most] == [12, 8, 5, 27]
    assert BOOK[MAJOR_FRACTION].kilowatts == Decimal("0.5")
