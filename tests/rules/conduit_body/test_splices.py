"""Splices and devices in a conduit body: only where its maker marked a volume, and never in a short-radius one."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, finding, findings, in_box, verdict

RULE = "conduit-body-splices"
ENDS = "wires A > ? 2 x #12 thhn"
PASSES = "wires ? > ? 2 x #12 thhn through A"


def body(base: str, *runs: str, inside: str = "") -> str:
    return in_box(inside, *runs, base=f"conduit body {base}")


def test_splices_in_an_unmarked_body_fail():
    found = finding(body("lb 3/4 on emt", ENDS), rule=RULE)
    assert (found.verdict.word, found.cite) == ("fails", "314.16(C)(2)")
    assert found.message == "A holds splices or a device, and no volume is marked on it: it may hold none"
    assert found.readings == ("body-splices",)


def test_splices_in_a_marked_body_are_counted_against_its_volume():
    assert findings(body("lb 3/4 marked 4.5 in3", ENDS), rule=RULE) == []
    assert finding(body("lb 3/4 marked 4.5 in3", ENDS)).verdict.word == "passes"  # 2 x 2.25
    assert finding(body("lb 3/4 marked 4.49 in3", ENDS)).verdict.word == "fails"


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize("base", ["capped-elbow 3/4", "service-elbow 3/4", "lb 3/4 short-radius"])
def test_splices_in_a_short_radius_body_fail_marked_or_not(year: int, base: str):
    for marking in ("", " marked 9 in3"):
        found = finding(body(base + marking, ENDS), year, RULE)
        assert found.verdict.word == "fails"
        assert found.message == "A is a short-radius body and holds splices or a device: it may hold none"
        assert found.cite == ("314.5" if year == 2008 else "314.16(C)(3)")


@pytest.mark.parametrize("inside", ["switch #12", "module #12", "terminal block #12", "pigtail #12"])
def test_a_device_a_module_a_block_or_a_pigtail_makes_it_a_place_of_splices(inside: str):
    assert finding(body("c 1/2 on emt", PASSES, inside=inside), rule=RULE).verdict.word == "fails"


def test_a_body_that_only_lets_conductors_pass_needs_no_marking():
    assert findings(body("c 1/2 on emt", PASSES), rule=RULE) == []
    assert verdict(body("c 1/2 on emt", PASSES)) == "passes"


def test_a_box_is_no_conduit_body():
    assert findings(in_box("", ENDS, base="unmarked"), rule=RULE) == []


def test_an_empty_body_has_nothing_to_judge_and_is_open():
    assert findings(body("c 1/2 on emt"), rule=RULE) == []
    assert verdict(body("c 1/2 on emt")) == "check needed"
    (found,) = findings(body("c 1/2 on emt"), rule="conduit-body-passing")
    assert found.message == "A has nothing in it yet"


def test_a_body_holds_its_marked_volume_of_everything():
    sheet = body("lb 1 marked 12 in3", "wires A > ? 3 x #12 thhn, ground 2 x #12")
    found = finding(sheet)
    # A published photo column counts both grounds, 5 x 2.25; they share one allowance: 4 x 2.25.
    assert found.worst.needed == Decimal("9.00")


def test_whether_grounds_are_bare_says_nothing_of_box_fill_however_many_there_are():
    """By 314.16(B) 24 x 2.25, and for twelve grounds one allowance and a quarter of one for each past four: 60.75.
    Whether each ground is bare nobody knows: more cases than are tried, and they matter only to what passes.
    """
    sheet = body("lb 2 on emt marked 60.75 in3", *["wires A > ? 2 x #12 thhn, ground #12"] * 12)
    assert finding(sheet).verdict.word == "passes"
    passing = finding(sheet, rule="conduit-body-passing")
    assert passing.verdict.word == "check needed"
    assert passing.message == "A: too many facts are not known to try them all"
