"""Lines: an amount equals the same worked out apart from them, and what is printed adds up to what decides."""

import pickle
from decimal import Decimal
from fractions import Fraction
from itertools import product
from math import floor, inf, nan, prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom import Verdict, Worksheet
from ampleroom.arithmetic import Chain, Counted, Figure, Line, NoSum, Pick, Share, Total, Unit, UnitsDiffer
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import replace
from ampleroom.worksheet import Purpose
from tests.strategies import examples

UNITS = (Unit.IN3, Unit.IN2, Unit.VOLT, Unit.AMPERE)
NUMBERS = st.decimals(-500, 500, places=4)
FACTORS = st.decimals(0, 2, places=3)
WHYS = st.sampled_from(("", "as its marking says"))


def figure(amount, unit=Unit.AMPERE, label="figure"):
    return Figure("rule", label, Decimal(amount), unit)


def counted(unit):
    shares = st.fractions(-3, 3, max_denominator=12)
    return st.builds(
        lambda count, each, why: Counted("rule", "counted", count, each, why, "1.1", unit=unit),
        st.one_of(st.integers(0, 60).map(Decimal), FACTORS, shares),
        NUMBERS,
        WHYS,
    )


def lines(unit):
    """Lines of every kind in one unit, up to three deep."""
    plain = st.one_of(
        counted(unit),
        st.builds(lambda amount: figure(amount, unit), NUMBERS),
        st.builds(lambda value: Figure.from_float("rule", "float", value, unit), st.floats(-1e6, 1e6)),
    )
    return st.recursive(plain, lambda parts: composed(parts, unit), max_leaves=5)


def composed(parts, unit):
    factors = st.builds(lambda factor: figure(factor, Unit.FACTOR), FACTORS)
    return st.one_of(
        st.builds(
            lambda start, factors: Chain("rule", "chain", start, tuple(factors)), parts, st.lists(factors, max_size=2)
        ),
        st.builds(lambda percent, whole: Share("rule", "share", percent, whole), st.decimals(0, 200, places=1), parts),
        st.builds(lambda many: Total("rule", "total", tuple(many), unit), st.lists(parts, max_size=4)),
        st.builds(
            lambda which, many: Pick("rule", "pick", which, tuple(many)),
            st.sampled_from(("largest", "least")),
            st.lists(parts, min_size=1, max_size=4),
        ),
    )


def exact(line):
    """The amount in fractions, worked out apart from the lines' own arithmetic; a count of a share as its docstring
    says.
    """
    match line:
        case Counted():
            amount = Fraction(line.count) * Fraction(line.each)
            if isinstance(line.count, Fraction) and not is_decimal(amount):
                return Fraction(floor(amount * 10000), 10000)
            return amount
        case Figure():
            return Fraction(line.amount)
        case Chain():
            return exact(line.start) * prod(map(exact, line.factors))
        case Share():
            return exact(line.whole) * Fraction(line.percent) / 100
        case Total():
            return sum(map(exact, line.parts), Fraction(0))
        case Pick():
            return (max if line.which == "largest" else min)(map(exact, line.parts))


def is_decimal(number):
    """Whether it can be written out in decimals: its denominator has no other factors than 2 and 5."""
    rest = number.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def read(text):
    return Fraction(text.removeprefix("about "))


@examples(80)
@given(st.sampled_from(UNITS).flatmap(lines))
def test_an_amount_is_what_fractions_make_of_the_parts(line):
    for _, part in line.with_parts():
        assert Fraction(part.amount) == exact(part)


@examples(80)
@given(st.sampled_from(UNITS).flatmap(lines))
def test_the_numbers_that_are_printed_come_to_the_number_that_decides(line):
    for _, part in line.with_parts():
        assert read(part.printed) == Fraction(part.amount)
        decimals = part.printed.partition(".")[2]
        assert len(decimals) >= part.unit.places
        assert reckoned(part) in (None, Fraction(part.amount))


def reckoned(line):
    """What a reader makes of a sum as it is printed; None where it names the number of parts only, or counts a
    share.
    """
    steps = line.steps
    if not steps:
        assert line.sum_text == line.printed
        return None
    if steps.startswith("sum of") or (" of " in steps and "," not in steps and "%" not in steps):
        return None
    assert line.sum_text == f"{steps} = {line.printed}"
    if "%" in steps:
        percent, whole = steps.split(" % of ")
        return Fraction(percent) * Fraction(whole) / 100
    if steps.startswith(("largest of", "least of")):
        which, numbers = steps.split(" of ")
        return (max if which == "largest" else min)(map(Fraction, numbers.split(", ")))
    if " x " in steps:
        amount = prod(map(Fraction, steps.split(" x ")), start=Fraction(1))
        return amount if is_decimal(amount) else None  # a count of a share, rounded down
    return sum((Fraction(text) for text in steps.replace(" - ", " + -").split(" + ")), Fraction(0))


@examples(50)
@given(st.sampled_from(UNITS), st.data())
def test_a_worksheet_decides_by_the_numbers_it_prints(unit, data):
    have, need = (tuple(data.draw(st.lists(lines(unit), max_size=3))) for _ in range(2))
    sheet = Worksheet(have, need, Purpose("test", unit, "There is", "Needed"))
    there, needed = (sum(read(line.printed) for line in half) for half in (have, need))
    assert (read(sheet.there_printed), read(sheet.needed_printed)) == (there, needed)
    assert sheet.passes == (needed <= there)
    assert read(sheet.margin_printed) == abs(there - needed)
    is_rounded = any(line.is_rounded for line in (*have, *need))
    assert sheet.margin_printed.startswith("about ") == is_rounded


@examples(50)
@given(st.sampled_from(UNITS).flatmap(lines))
def test_a_line_comes_back_the_same_from_another_process(line):
    again = pickle.loads(pickle.dumps(line))
    assert again == line
    assert (type(again), again.amount, hash(again)) == (type(line), line.amount, hash(line))


# ---- published and common arithmetic -------------------------------------------------------------------------------


def test_an_ampacity_is_a_chain_of_factors_and_the_least_of_several():
    # trade-magazine quiz on conductors, about 2003, published: 30 A x 70 % = 21 A, on a 20 A breaker
    corrected = Chain("am", "12 AWG, nine in a raceway", figure(30), (figure("0.7", Unit.FACTOR),))
    lowest = Pick("am", "Ampacity", "least", (corrected, figure(20)))
    assert corrected.sum_text == "30 x 0.7 = 21"
    assert (lowest.text, lowest.picked) == ("least of 21, 20 = 20 A", lowest.parts[1])


def test_a_percentage_is_taken_without_rounding():
    # Chapter 9 Table 4, 1/2 EMT: 0.304 in2 in all; the column for two wires prints 0.094
    share = Share("fill", "Two wires", Decimal(31), figure("0.304", Unit.IN2))
    assert (share.amount, share.text) == (Decimal("0.09424"), "31 % of 0.3040 = 0.09424 in2")


def test_a_fill_is_compared_with_a_share_and_not_as_a_ratio():
    share = Share("fill", "A third of 1 in2", Decimal("33.3"), figure(1, Unit.IN2))
    purpose = Purpose("fill", Unit.IN2, "May be filled", "Filled")
    sheets = [Worksheet((share,), (figure(area, Unit.IN2),), purpose) for area in ("0.333", "0.3330000001")]
    assert [sheet.passes for sheet in sheets] == [True, False]


def test_a_drop_is_rounded_before_it_decides_and_printed_as_it_decided():
    drop = Figure.from_float("drop", "Drop", 3.6004, Unit.VOLT)
    sheet = Worksheet(
        (figure("3.6", Unit.VOLT),), (drop,), Purpose("drop", Unit.VOLT, "Advised", "Drop"), Verdict.ADVICE
    )
    assert (drop.text, drop.amount, sheet.verdict) == ("about 3.60 V", Decimal("3.60"), Verdict.PASSES)
    more = Figure.from_float("drop", "Drop", 3.605001, Unit.VOLT)
    assert more.printed == "about 3.61"
    assert Worksheet(sheet.have, (more,), sheet.purpose, Verdict.ADVICE).verdict is Verdict.ADVICE


def test_halves_are_rounded_up_and_what_is_no_number_is_refused():
    assert [Figure.from_float("x", "x", value, Unit.VOLT).printed for value in (0.125, 2.0**300)] == [
        "about 0.13",
        f"about {2**300}.00",
    ]
    assert Figure.from_float("x", "x", inf, Unit.VOLT).amount == NO_LIMIT
    with pytest.raises(ValueError, match="not a number"):
        Figure.from_float("x", "Heat", nan, Unit.VOLT)


def test_a_pick_is_the_first_of_those_alike_and_rounded_only_where_what_it_picked_is():
    first, second = figure(20, label="first"), figure(20, label="second")
    assert [Pick("p", "p", which, (first, second)).picked.label for which in ("largest", "least")] == ["first"] * 2
    about = Figure.from_float("p", "float", 19.6, Unit.AMPERE)
    assert Pick("p", "p", "largest", (figure(21), about)).text == "largest of 21, 20 = 21 A"
    assert Pick("p", "p", "least", (figure(21), about)).text == "least of 21, 20 = about 20 A"


def test_a_sum_of_very_many_is_told_by_their_number_and_a_negative_part_is_taken_off():
    assert Total("t", "t", (figure(1),) * 7, Unit.AMPERE).sum_text == "sum of 7 = 7"
    assert Pick("t", "t", "largest", (figure(1),) * 7).sum_text == "largest of 7 = 1"
    parts = (figure("30.3", Unit.IN3), figure("-0.5", Unit.IN3))
    assert Total("t", "t", parts, Unit.IN3).text == "30.30 - 0.50 = 29.80 in3"
    assert Total("t", "t", (), Unit.IN3).text == "0.00 in3"


# ---- units, and what nobody knows ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        Total("t", "sum", (figure(1), figure(1, Unit.VOLT)), Unit.AMPERE),
        Pick("t", "least", "least", (figure(1), figure(1, Unit.VOLT))),
        Chain("t", "chain", figure(1), (figure(1),)),
    ],
)
def test_amounts_of_different_units_are_refused(line):
    with pytest.raises(UnitsDiffer):
        _ = line.amount


@pytest.mark.parametrize("half", ["have", "need"])
def test_a_worksheet_refuses_a_line_in_another_unit(half):
    volts, amperes = (figure(1, Unit.VOLT),), (figure(1),)
    have, need = (amperes, volts) if half == "have" else (volts, amperes)
    with pytest.raises(UnitsDiffer, match="figure is in AMPERE, not in VOLT"):
        Worksheet(have, need, Purpose("drop", Unit.VOLT, "Advised", "Drop"))


UNKNOWN = figure(NO_LIMIT)


@pytest.mark.parametrize(
    ("line", "amount"),
    [
        (Counted("u", "u", NO_LIMIT, Decimal(0), "", ""), 0),
        (Counted("u", "u", Decimal(0), NO_LIMIT, "", ""), 0),
        (Counted("u", "u", NO_LIMIT, Decimal(2), "", ""), NO_LIMIT),
        (Chain("u", "u", UNKNOWN, (figure(0, Unit.FACTOR),)), 0),
        (Chain("u", "u", UNKNOWN, (figure("0.8", Unit.FACTOR),)), NO_LIMIT),
        (Share("u", "u", Decimal(0), UNKNOWN), 0),
        (Share("u", "u", Decimal(40), UNKNOWN), NO_LIMIT),
        (Total("u", "u", (UNKNOWN, figure(3)), Unit.AMPERE), NO_LIMIT),
        (Pick("u", "u", "largest", (UNKNOWN, figure(3))), NO_LIMIT),
        (Pick("u", "u", "least", (UNKNOWN, figure(3))), 3),
    ],
)
def test_nothing_of_what_nobody_can_bound_is_nothing_and_any_of_it_has_no_limit(line, amount):
    assert line.amount == amount
    assert (line.sum_text == "not known") == (amount == NO_LIMIT)
    assert line.text.endswith("not known") == (amount == NO_LIMIT)


def test_an_amount_without_a_limit_cannot_be_taken_off_another():
    with pytest.raises(NoSum):
        _ = Total("u", "u", (UNKNOWN, figure(-NO_LIMIT)), Unit.AMPERE).amount
    with pytest.raises(ValueError, match="nothing to pick from"):
        _ = Pick("u", "u", "least", ()).amount


def test_a_need_without_a_limit_never_passes():
    purpose = Purpose("load", Unit.AMPERE, "Ampacity", "Load")
    for have, need in product((figure(5), UNKNOWN), repeat=2):
        sheet = Worksheet((have,), (need,), purpose)
        assert sheet.passes == (need is not UNKNOWN)
    assert Worksheet((UNKNOWN,), (UNKNOWN,), purpose).margin_printed == "not known"


def test_a_line_of_another_kind_is_another_line():
    total = Total("t", "t", (figure(1),), Unit.AMPERE)
    pick = Pick("t", "t", "least", (figure(1),))
    chain = Chain("t", "t", figure(1), ())
    assert len({total, pick, chain}) == 3
    assert replace(chain, label="u") != chain
    assert all(
        isinstance(line, Line) for line in (total, pick, chain, Counted("t", "t", Decimal(1), Decimal(1), "", ""))
    )
