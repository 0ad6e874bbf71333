"""Old cable is warned of: thin or missing grounds, low temperatures, aluminum."""

from __future__ import annotations

import pytest

from tests.helpers import in_box, reminders

RULE = "old-wiring"


def said(cable: str, inside: str = "") -> list[str]:
    return [found.text for found in reminders(in_box(f"clamps none; {inside}", f"run A > ? {cable}"), rule=RULE)]


def test_a_cable_without_a_ground_is_not_extended_as_if_it_had_one():
    (found,) = reminders(in_box("clamps none", "run A > ? 14/2 old, no ground"), rule=RULE)
    assert found.text == "14/2 old (other end not known) has no ground: do not extend it as if it had"
    assert found.cite == "250.122, 250.130(C), 406.4(D)"
    assert found.caution


@pytest.mark.parametrize(
    ("cable", "warned"),
    [
        ("14/2 old, ground #16", True),
        ("12/2 old, ground #14", True),
        ("10/2 old, ground #12", True),
        ("14/2 old, ground #14", False),
        ("12/2 old, ground #12", False),
        ("8/2 old, ground #10", False),  # full size since 8 AWG is a 10 AWG ground today too
        ("14/2 nm-b", False),
        ("8/2 nm-b", False),
        ("14/2 nm-b, ground #16", True),
    ],
)
def test_a_ground_thinner_than_its_conductors_is_warned_of_up_to_10_awg(cable: str, warned: bool):
    assert any("thinner than its conductors" in text for text in said(cable)) is warned


def test_the_warning_names_both_the_ground_and_its_time():
    assert said("14/2 old, ground #16") == [
        "14/2 old (other end not known) has a #16 ground, thinner than its conductors (usual about 1955 to 1969): "
        "it does not serve new work"
    ]


def test_old_cable_under_a_luminaire_may_be_of_low_temperature():
    (text,) = said("14/2 old, ground #14", "carries luminaire 8 lb")
    assert text == (
        "14/2 old (other end not known) may be 60 C cable (before about 1985): most new luminaires want 90 C "
        "supply wires"
    )
    assert said("14/2 old", "carries luminaire 8 lb") == [text]
    assert said("14/2 old, ground #14", "carries fan 30 lb") == []
    assert said("14/2 nm-b", "carries luminaire 8 lb") == []


@pytest.mark.parametrize(
    ("cable", "warned"),
    [
        ("12/2 old, ground #12 aluminum", True),
        ("10/2 old, ground #10 aluminum", True),
        ("8/2 old, ground #10 aluminum", False),
        ("12/2 old, ground #12", False),
        ("12/2 nm-b aluminum", True),
    ],
)
def test_aluminum_branch_wiring_is_warned_of(cable: str, warned: bool):
    assert any("is aluminum branch wiring" in text for text in said(cable)) is warned


def test_aluminum_wires_pulled_singly_are_warned_of():
    (found,) = reminders(in_box("", "wires A > ? 2 x #12 aluminum"), rule=RULE)
    assert found.text.startswith("2 x #12 (other end not known) is aluminum branch wiring")


def test_an_aluminum_wire_among_some_of_unknown_size_is_warned_of():
    (found,) = reminders(in_box("", "wires A > ? 1 x #?, 1 x #12 aluminum"), rule=RULE)
    assert "is aluminum branch wiring" in found.text


def test_the_warning_of_aluminum_is_a_caution_without_a_section():
    (found,) = reminders(in_box("", "wires A > ? 2 x #12 aluminum"), rule=RULE)
    assert (found.caution, found.cite) == (True, "")


@pytest.mark.parametrize(
    ("cable", "inside", "said_of"),
    [
        ("14/2 old, ground #?", "", []),  # a ground of unknown size is not called thin
        ("?/2 old, ground #16", "", []),  # nor one beside conductors of unknown size
        ("12/2 ac aluminum", "", ["aluminum"]),  # its ground is no wire
        ("14/2 nm-b, ground #14", "carries luminaire 8 lb", []),  # only old cable may be of low temperature
        ("14/2 old, ground #14", "carries luminaire 8 lb", ["60 C"]),
    ],
)
def test_only_what_there_is_is_warned_of(cable: str, inside: str, said_of: list[str]):
    texts = said(cable, inside)
    assert len(texts) == len(said_of)
    assert all(word in text for word, text in zip(said_of, texts, strict=True))


def test_warnings_of_old_cable_are_cautions():
    found = reminders(in_box("clamps none; carries luminaire 8 lb", "run A > ? 14/2 old, ground #16"), rule=RULE)
    assert [(one.caution, one.cite) for one in found] == [(True, "250.122, 250.130(C), 406.4(D)"), (True, "334.112")]


def test_a_run_is_warned_of_once():
    assert len(said("2 x 14/2 old, no ground")) == 1


def test_copper_wires_pulled_singly_have_nothing_to_warn_of():
    assert reminders(in_box("", "wires A > ? 2 x #12, ground #14"), rule=RULE) == []


def test_an_aluminum_ground_alone_is_no_branch_wiring():
    assert reminders(in_box("", "wires A > ? ground #12 aluminum"), rule=RULE) == []
