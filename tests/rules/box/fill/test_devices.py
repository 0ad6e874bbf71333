"""A yoke takes two allowances, by the largest conductor on it; two for each gang where it needs more than one."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import findings, in_box, line, lines, needed, settings, verdict

RULE = "box-fill-devices"
MODULES = "box-fill-modules"


def test_a_yoke_takes_two_allowances_by_the_conductor_on_it():
    found = line(in_box("switch #14"), rule=RULE)
    assert (found.label, found.count, found.each, found.cite) == ("1 yoke: switch", 2, 2, "314.16(B)(4)")
    assert found.why == "2 for each yoke, by #14, the largest conductor on it"
    assert found.readings == ()


@pytest.mark.parametrize(
    ("size", "room"), [("18", 3), ("16", "3.5"), ("14", 4), ("12", "4.5"), ("10", 5), ("8", 6), ("6", 10)]
)
def test_a_yoke_takes_twice_the_allowance_of_its_size(size: str, room: str):
    assert needed(in_box(f"receptacle #{size}")) == Decimal(room)


def test_it_is_its_own_conductor_that_decides_and_not_the_largest_in_the_box():
    sheet = in_box("switch #14; receptacle #12", "wires A > ? 2 x #10")
    assert [found.amount for found in lines(sheet, rule=RULE)] == [4, Decimal("4.50")]


def test_two_devices_on_one_yoke_take_one_double_allowance():
    found = line(in_box("switch + receptacle #12"), rule=RULE)
    assert (found.label, found.amount) == ("1 yoke: switch + receptacle", Decimal("4.50"))
    assert found.why == "2 for each yoke, by #12, the largest conductor on it; both on one yoke"


def test_yokes_alike_are_counted_and_the_label_is_said():
    found = line(in_box("3 x switch #14 for the hall"), rule=RULE)
    assert (found.label, found.count) == ("3 yokes: switch, the hall", 6)


@pytest.mark.parametrize(("gangs", "count"), [(1, 2), (2, 4), (3, 6)])
def test_a_device_takes_two_for_each_gang_it_needs(gangs: int, count: int):
    found = line(in_box(f"dimmer #14 {gangs}-gang wide"), rule=RULE)
    assert found.count == count
    assert found.readings == ()


def test_the_line_says_how_many_gangs_it_needs():
    assert line(in_box("dimmer #14 2-gang wide"), rule=RULE).why == (
        "2 for each of 2 gangs, by #14, the largest conductor on it; it needs 2 gangs"
    )


# ---- wide devices --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "choice", "count"),
    [("2 in", "by-width", 2), ("2-1/8 in", "by-width", 4), ("2 in", "by-gang", 2), ("2-1/8 in", "by-gang", 2)],
)
def test_a_device_wider_than_two_inches_counts_as_it_is_read(width: str, choice: str, count: int):
    sheet = settings(in_box(f"dimmer #14 {width} wide"), "wide-device", choice)
    found = line(sheet, rule=RULE)
    assert found.count == count
    assert found.readings == (() if width == "2 in" else ("wide-device",))


def test_a_width_nobody_measured_is_not_told_as_a_number():
    sheet = in_box("dimmer #14 ? in wide")
    cautious = line(sheet, rule=RULE)
    assert (cautious.count, cautious.readings) == (4, ("wide-device",))  # two allowances for each of two gangs
    assert cautious.why.endswith("; not measured: assumed more than 2 in. wide, though it mounts in one gang")
    other = line(settings(sheet, "wide-device", "by-gang"), rule=RULE)
    assert (other.count, other.why.endswith("; it mounts in one gang")) == (2, True)


def test_the_line_says_why_a_wide_device_counts_so():
    sheet = in_box("dimmer #14 2-1/8 in wide")
    cautious = line(settings(sheet, "wide-device", "by-width"), rule=RULE).why
    assert cautious.endswith("; 2-1/8 in. wide, more than 2 in., though it mounts in one gang")
    other = line(settings(sheet, "wide-device", "by-gang"), rule=RULE).why
    assert other.endswith("; 2-1/8 in. wide, but it mounts in one gang")


def test_a_device_that_needs_two_gangs_counts_so_however_it_is_read():
    sheet = settings(in_box("receptacle #10 2-gang wide 2-3/4 in wide"), "wide-device", "by-gang")
    assert line(sheet, rule=RULE).amount == 10


# ---- pigtailed devices ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("choice", "room"), [("splice-size", "4.50"), ("pigtail-size", "4.00")])
def test_a_thin_pigtail_from_a_thick_splice_counts_as_it_is_read(choice: str, room: str):
    found = line(settings(in_box("receptacle #12 pigtail #14"), "pigtailed-device", choice), rule=RULE)
    assert found.amount == Decimal(room)
    assert found.readings == ("pigtailed-device",)


def test_the_line_says_which_of_the_two_decides():
    sheet = in_box("receptacle #12 pigtail #14")
    assert line(sheet, rule=RULE).why == "2 for each yoke, by the #12 splice that feeds its #14 pigtail"
    other = settings(sheet, "pigtailed-device", "pigtail-size")
    assert line(other, rule=RULE).why == "2 for each yoke, by the #14 pigtail that lands on it"


# ---- past the table ------------------------------------------------------------------------------------------------


def test_a_device_on_4_awg_counts_as_the_last_row_and_says_so():
    found = line(in_box("receptacle #4"), rule=RULE)
    assert found.amount == 10
    assert found.why == (
        "2 for each yoke, by #4, the largest conductor on it; the table has no #4, so its #6 is taken; "
        "wires that large also need pull-box distances"
    )
    assert found.readings == ("large-on-device",)


# ---- not known -----------------------------------------------------------------------------------------------------


def test_a_size_that_is_not_written_is_that_of_all_that_ends_here():
    found = line(in_box("switch; clamps none", "run A > ? 2 x 14/2 nm-b"), rule=RULE)
    assert found.amount == 4
    assert found.why == "2 for each yoke, by #14, as every conductor that ends here is #14"


def test_what_only_passes_is_not_on_the_device():
    sheet = in_box("switch", "wires A > ? 2 x #14", "wires ? > ? 1 x #10 through A")
    assert line(sheet, rule=RULE).amount == 4


def test_low_voltage_wires_are_not_on_the_device():
    sheet = in_box("switch", "wires A > ? 2 x #14", "wires A > ? 2 x #18 class 2")
    assert line(sheet, rule=RULE).amount == 4


def test_where_two_sizes_end_here_either_may_be_on_the_device():
    sheet = in_box("switch", "wires A > ? 2 x #14, 2 x #12", base="marked 12.5 in3")
    (found,) = findings(sheet)  # 8.50 of conductors, and 4.00 or 4.50
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "the largest conductor on the switch in A"
    assert found.worst.need[-1].why == "2 for each yoke, by #12, one of the sizes that end here"
    assert verdict(in_box("switch", "wires A > ? 2 x #14, 2 x #12", base="marked 13 in3")) == "passes"


def test_of_three_sizes_the_thickest_may_be_on_the_device():
    (found,) = findings(in_box("switch", "wires A > ? 1 x #10, 1 x #12, 1 x #14", base="marked 11 in3"))
    assert (found.best.needed, found.worst.needed) == (Decimal("10.75"), Decimal("11.75"))  # 6.75, and 4.00 to 5.00


def test_a_ground_alone_however_thin_may_be_on_the_device():
    found = line(in_box("switch", "wires A > ? ground #24"), rule=RULE)
    assert found.why.startswith("2 for each yoke, by #24, as every conductor that ends here is #24")


def test_a_device_nobody_gave_a_size_says_so():
    assert line(in_box("switch"), rule=RULE).why == "2 for each yoke, by a size not known"


def test_a_thin_ground_alone_is_never_what_a_device_hangs_on():
    # 4.00 + 1.75 ground + 4.00 switch = 9.75
    assert verdict(in_box("switch; clamps none", "run A > ? 14/2 old, ground #16", base="marked 9.5 in3")) == "fails"


def test_a_device_in_an_empty_box_may_be_on_anything_the_table_has():
    assert verdict(in_box("switch", base="marked 10 in3")) == "passes"  # 2 x 5.00
    assert verdict(in_box("switch", base="marked 3 in3")) == "check needed"  # 2 x 1.50
    assert verdict(in_box("switch", base="marked 2.99 in3")) == "fails"


@pytest.mark.parametrize(("slack", "room"), [("landed", "9.00"), ("loop 12 in", "9.00"), ("straight", "12.25")])
def test_what_passes_with_slack_may_land_on_the_device_and_what_passes_straight_may_not(slack: str, room: str):
    # two that loop or are landed count twice, two that pass straight once: 4.50; then the device may be on anything, #6
    sheet = settings(in_box("switch", f"wires ? > ? 1 x #12 through A {slack}"), "unmeasured-loop", "twice")
    assert needed(sheet) == Decimal(room)


def test_gangs_nobody_counted_are_one_or_two():
    sheet = in_box("dimmer #14 ?-gang", base="marked 7 in3")
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how many gangs the dimmer needs, one or two"
    assert verdict(in_box("dimmer #14 ?-gang", base="marked 8 in3")) == "passes"


def test_a_width_nobody_measured_may_be_more_than_one_gang():
    sheet = in_box("dimmer #14 ? in wide", base="marked 7 in3")
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how wide the dimmer is"
    assert verdict(in_box("dimmer #14 ? in wide", base="marked 8 in3")) == "passes"


WIDE_KINDS = ("range receptacle #8", "dryer outlet #10", "receptacle #10 30 A", "locking receptacle #6 60 A")


@pytest.mark.parametrize("device", WIDE_KINDS)
def test_a_receptacle_that_comes_in_one_gang_and_in_two_is_open_until_its_width_is_written(device: str):
    """interpretation.md, point 19: what mounts in one gang takes two allowances, what needs two takes four."""
    each = {"8": Decimal(3), "10": Decimal("2.5"), "6": Decimal(5)}[device.split("#")[1].split()[0]]
    (found,) = findings(in_box(device, base=f"marked {each * 3} in3"))
    assert found.verdict.word == "check needed"
    assert (found.best.needed, found.worst.needed) == (2 * each, 4 * each)
    assert found.facts[0].question.endswith("needs, one or two")
    for written, needs in (("1-gang wide", 2), ("2-gang wide", 4), ("2 in wide", 2), ("2.1 in wide", 4)):
        (found,) = findings(in_box(f"{device} {written}", base="marked 100 in3"))
        assert (found.verdict.word, found.worst.needed) == ("passes", needs * each)


def test_a_width_of_a_wide_receptacle_that_nobody_measured_is_open_even_where_gangs_alone_count():
    sheet = settings(in_box("range receptacle #8 ? in wide", base="marked 7 in3"), "wide-device", "by-gang")
    assert verdict(sheet) == "check needed"


@pytest.mark.parametrize("device", ["receptacle #12 20 A", "switch #10 30 A", "dimmer #14"])
def test_other_devices_are_one_gang_where_nothing_is_written(device: str):
    assert len({needed(in_box(device + wide)) for wide in ("", " 1-gang wide")}) == 1
    assert verdict(in_box(device)) == "passes"


def test_a_blank_plate_takes_no_allowance_and_asks_for_no_wire():
    sheet = in_box("blank; clamps none", "run A > ? 14/2 nm-b", "run A > ? 12/2 nm-b")
    assert needed(sheet) == Decimal("10.75")  # 2 x 2.00 + 2 x 2.25, and a ground of 2.25
    assert verdict(sheet) == "passes"
    (line,) = lines(sheet, rule="box-fill-devices")
    assert (line.label, line.amount, line.why) == ("1 blank plate", 0, "no yoke with a device on it, so no allowance")


@pytest.mark.parametrize("connected", ["blank #12", "blank #12 leads 2 x #14", "switch + blank #12"])
def test_a_blank_with_wires_on_it_is_a_device_on_a_yoke(connected: str):
    assert needed(in_box(connected)) == Decimal("4.50")


# ---- control modules -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("module", "room", "why"),
    [
        ("module #14", "4.00", "2 each, by #14"),
        ("module #14 3.9 in3", "4.00", "2 each, by #14, no less than its body's 3.9 in3"),
        ("module #14 4 in3", "4.00", "2 each, by #14, no less than its body's 4 in3"),
        ("module #12 4.3 in3", "4.50", "2 each, by #12, no less than its body's 4.3 in3"),
        ("module #14 4.1 in3", "4.10", "its body, more than 2 allowances by #14"),
        ("2 x module #14 4.1 in3", "8.20", "its body, more than 2 allowances by #14"),
        ("2 x module #14", "8.00", "2 each, by #14"),
    ],
)
def test_a_module_takes_two_allowances_or_its_body_whichever_is_larger(module: str, room: str, why: str):
    found = line(in_box(module), rule=MODULES)
    assert (found.amount, found.why) == (Decimal(room), why)
    assert found.readings == ("relay-module",)
    assert found.confidence == "from memory"
    assert found.cite == "no number in the code; counted like 314.16(B)(4)"
    assert found.label == ("2 modules" if module.startswith("2 x") else "1 module")


def test_a_module_is_not_counted_where_it_is_read_so():
    found = line(settings(in_box("2 x module #14 4.1 in3 for the fan"), "relay-module", "not-counted"), rule=MODULES)
    assert (found.label, found.amount, found.why) == ("2 modules, the fan", 0, "not counted: a disputed point")
    assert found.readings == ("relay-module",)


def test_a_module_on_a_wire_past_the_table_takes_its_last_row():
    assert line(in_box("module #4"), rule=MODULES).amount == 10


def test_a_module_of_unknown_size_is_on_what_ends_here():
    assert line(in_box("module", "wires A > ? 2 x #12"), rule=MODULES).amount == Decimal("4.50")
