"""Unknown facts at their best, at their worst, one at its best, or tried at a value."""

from __future__ import annotations

from ampleroom.rules.outlook import Outlook, Question
from ampleroom.where import NOWHERE

DEPTH, CLAMPS = Question("how deep it is", NOWHERE), Question("where its clamps are", NOWHERE, 1)


def test_facts_are_taken_at_their_worst():
    assert Outlook().take(DEPTH, "deep", "shallow") == "shallow"


def test_a_hopeful_outlook_takes_all_at_their_best():
    assert Outlook(hopeful=True).take(DEPTH, "deep", "shallow") == "deep"


def test_one_fact_may_turn_out_well_alone():
    outlook = Outlook(well=DEPTH)
    assert outlook.take(DEPTH, "deep", "shallow") == "deep"
    assert outlook.take(CLAMPS, "outside", "inside") == "inside"


def test_a_value_that_is_tried_decides_over_the_outlook():
    outlook = Outlook(hopeful=True, given={DEPTH: "middling"})
    assert outlook.take(DEPTH, "deep", "shallow") == "middling"


def test_everything_asked_is_kept_with_its_worst_value():
    outlook = Outlook(hopeful=True)
    outlook.take(DEPTH, "deep", "shallow")
    outlook.take(CLAMPS, "outside", "inside")
    assert outlook.asked == {DEPTH: "shallow", CLAMPS: "inside"}
