"""4 AWG and larger are sized by distances that are not judged here, so the question stays open."""

from __future__ import annotations

import pytest

from tests.helpers import finding, findings, in_box, verdict

RULE = "large-conductors"


def test_4_awg_keeps_the_box_open():
    found = finding(in_box("", "wires A > ? 3 x #4 thhn"), rule=RULE)
    assert (found.verdict.word, found.cite) == ("check needed", "314.28")
    assert found.message == "A holds conductors up to #4: the distances for pulling them are not judged here"
    assert found.facts[0].question == "whether A is long enough for pulling #4, by the pull-box distances"
    assert (found.facts[0].settles, found.facts[0].swing) == ("measure and work out by hand", 0)


def test_6_awg_does_not():
    assert findings(in_box("", "wires A > ? 3 x #6 thhn"), rule=RULE) == []


def test_the_thickest_is_named():
    found = finding(in_box("", "wires A > ? 1 x #2, 3 x 250 kcmil, 1 x #4"), rule=RULE)
    assert found.message.startswith("A holds conductors up to 250 kcmil:")


@pytest.mark.parametrize("role", ["ground", "isolated ground"])
def test_a_thick_ground_alone_does_not_make_it_a_pull_box(role: str):
    assert findings(in_box("", f"wires A > ? {role} #4"), rule=RULE) == []


def test_what_else_is_in_the_box_is_counted_as_always():
    sheet = in_box("", "wires A > ? 3 x #4 thhn, 2 x #12 thhn, ground #8", base="marked 7.49 in3")
    assert verdict(sheet) == "fails"  # 4.50 + 3.00 = 7.50


def test_in_a_conduit_body_it_stays_open_too():
    assert finding(in_box("", "wires ? > ? 3 x #4 thhn through A", base="conduit body lb 1 on emt"), rule=RULE)
