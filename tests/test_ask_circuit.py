"""Questions about a circuit: what is understood, the sheet they become, and what is found for them."""

from __future__ import annotations

import pytest

from ampleroom.ask import ask
from ampleroom.ask_circuit import EXAMPLES, CircuitQuestion, parts_of
from ampleroom.errors import AmpleroomError
from ampleroom.worksheet import Verdict
from tests.cli.helpers import inside

EDITION = 2020


def sheet_of(question: str) -> list[str]:
    """The lines of the sheet a question becomes, before anything is found."""
    parts = parts_of([piece.strip() for piece in question.split(",")])
    assert parts is not None
    return [line for line in CircuitQuestion(parts).sheet().split("\n") if line and not line.startswith("panel")]


AS_TYPED = [
    ("50 A range, 42 ft, nm-b", ["equipment A", "circuit 1 50 A 240 V serves range",
                                 "run P > A ?/3 nm-b 42 ft circuit 1 spaced"]),
    ("30a dryer", ["equipment A", "circuit 1 30 A 240 V serves dryer", "run P > A ?/3 circuit 1 spaced"]),
    ("9600 VA kiln, continuous, 240 V, 6/2 mc", ["circuit 1 ? A 240 V 9600 va continuous for kiln",
                                                 "run P > ? 6/2 mc circuit 1 spaced"]),
    ("12 x 12/2 nm-b in one hole", ["route way sealed", "circuit 1 ? A",
                                    "run P > ? 12 x 12/2 nm-b circuit 1 by way"]),
    ("3 x #10 thhn, 9 current-carrying, 110 F", ["route way ambient 110 F bundled", "circuit 1 ? A",
                                                 "wires P > ? 3 x #10 thhn circuit 1 by way",
                                                 "wires P > ? 6 x #10 by way for the others"]),
    ("60 A, 3 x #6 thhn in emt 3/4, 75 C terminals", ["circuit 1 60 A terminals 75 C",
                                                      "wires P > ? 3 x #6 thhn in emt 3/4 circuit 1"]),
    ("mca 22.4 a, mocp 35 a, 10/2 nm-b", ["equipment A", "circuit 1 ? A mca 22.4 A mocp 35 A",
                                          "run P > A 10/2 nm-b circuit 1 spaced"]),
    ("60 A hot tub 80 ft", ["equipment A", "circuit 1 60 A for hot tub",
                            "wires P > A 2 x #? thhn, ground #? 80 ft circuit 1 spaced"]),
    ("dryer 30 A 10/3 mc", ["equipment A", "circuit 1 30 A 240 V serves dryer",
                            "run P > A 10/3 mc circuit 1 spaced"]),
    ("mca 22 mocp 40, 60 ft nm-b", ["equipment A", "circuit 1 ? A mca 22 A mocp 40 A",
                                    "run P > A ?/2 nm-b 60 ft circuit 1 spaced"]),
    ("5 hp motor 240 V 10/2 nm-b", ["equipment A", "circuit 1 ? A 240 V motor 5 hp",
                                    "run P > A 10/2 nm-b circuit 1 spaced"]),
    ("ev charger 48 A", ["equipment A", "circuit 1 ? A 240 V 11520 VA serves charger",
                         "wires P > A 2 x #? thhn, ground #? circuit 1 spaced"]),
    ("what size wire for a 40 A range, 42 ft?", ["equipment A", "circuit 1 40 A 240 V serves range",
                                                 "run P > A ?/3 42 ft circuit 1 spaced"]),
    ("what breaker for 10/2 nm-b", ["circuit 1 ? A", "run P > ? 10/2 nm-b circuit 1 spaced"]),
    ("12/2 on a 20 A breaker", ["circuit 1 20 A", "run P > ? 12/2 circuit 1 spaced"]),
    ("20 A circuit, #12 thhn, in emt, 40 ft", ["circuit 1 20 A", "wires P > ? 2 x #12 thhn 40 ft in emt ? circuit 1"]),
    ("#12 thhn in 1/2 emt 20 A 60 ft", ["circuit 1 20 A", "wires P > ? 2 x #12 thhn 60 ft in emt 1/2 circuit 1"]),
    ("3 x #10 thhn in emt, 9 ccc, 110 F", ["route way ambient 110 F bundled", "circuit 1 ? A",
                                           "wires P > ? 3 x #10 thhn, 6 x #10 thhn in emt ? circuit 1 by way"]),
    ("200 A dwelling service, aluminum", ["equipment A",
                                          "circuit 1 200 A 240 V serves dwelling electrode water #? on P",
                                          "wires P > A 3 x #? xhhw-2 aluminum circuit 1 spaced"]),
    ("100 A subpanel, aluminum, 80 ft", ["circuit 1 100 A 240 V on P for subpanel",
                                         "wires P > A 3 x #? xhhw-2, ground #? aluminum 80 ft circuit 1 spaced"]),
    ("5 hp motor 3 phase 480 V", ["equipment A", "circuit 1 ? A 480 V 3-phase motor 5 hp",
                                  "wires P > A 3 x #? thhn, ground #? circuit 1 spaced"]),
    ("20 A continuous 1500 VA", ["circuit 1 20 A 1500 va continuous", "run P > ? ?/2 circuit 1 spaced"]),
    ("20 A, 12/2 in insulation", ["circuit 1 20 A", "run P > ? 12/2 in insulation circuit 1 spaced"]),
]  # fmt: skip


@pytest.mark.parametrize(("question", "lines"), AS_TYPED)
def test_a_question_becomes_the_lines_of_a_sheet(question: str, lines: list[str]):
    assert sheet_of(question) == lines


@pytest.mark.parametrize("question", ["square 4 x 1-1/2, 3 x 12/2 nm-b", "3 x #6 thhn in emt", "12/2 nm-b", "sqare"])
def test_a_question_about_a_box_or_a_raceway_is_left_alone(question: str):
    assert parts_of(question.split(", ")) is None


def test_what_is_left_out_is_found():
    """The published 50 A range on 6 AWG; 30 A at 90 C x 0.45 for 24 conductors is 13.5 A (two trade articles)."""
    found = ask("50 A range, 42 ft, nm-b", EDITION)
    assert (found.verdict, "6/3 nm-b" in found.sheet) == (Verdict.PASSES, True)
    crowded = ask("12 x 12/2 nm-b in one hole", EDITION)
    assert crowded.circuit is not None
    assert (crowded.verdict, crowded.circuit.largest.certain, crowded.circuit.largest.possible) == (
        Verdict.OPEN,
        None,
        15,
    )
    hot = ask("3 x #10 thhn, 9 current-carrying, 110 F", EDITION)
    assert hot.circuit is not None
    assert hot.circuit.largest.certain == 20  # 40 x 0.87 x 0.7 = 24.36 A
    assert (hot.circuit.wires[0].certain, hot.smallest.assumes) == ("10", ())


def test_a_service_a_feeder_and_a_raceway_are_answered_whole():
    """200 A of one dwelling: #4/0 aluminum with #4 copper to the water pipe, as every wire chart of the trade has it
    (from memory). Nine #10 at 110 F keep 24.36 A in a raceway too, and metal raceway is their ground.
    """
    service = ask("200 A dwelling service, aluminum", EDITION)
    assert service.circuit is not None
    assert (service.verdict, service.circuit.wires[0].certain) == (Verdict.PASSES, "4/0")
    assert [each.text for each in service.circuit.electrodes] == ["#4"]
    feeder = ask("100 A subpanel, aluminum, 80 ft, 75 C terminals", EDITION)
    assert "3 x #1 xhhw-2, ground #6 aluminum" in feeder.sheet
    crowded = ask("3 x #10 thhn in emt, 9 current-carrying, 110 F", EDITION)
    assert crowded.circuit is not None
    assert (crowded.verdict, crowded.circuit.largest.certain, crowded.box.kind) == (Verdict.PASSES, 20, "circuit")
    told = inside("ask", "20 A circuit, #12 thhn, in emt, 40 ft", "--edition", str(EDITION))
    assert "in emt 1/2" in told.out
    assert "Not judged here" in told.out


def test_nonmetallic_cable_counts_at_60_c_behind_a_continuous_load_too():
    """48 A at 125 % is 60 A, and 6/2 nonmetallic cable has 55 A whatever its terminals are marked for (334.80)."""
    found = ask("charger 48 A, 6/2 nm-b, 75 C terminals", EDITION)
    assert found.verdict is Verdict.FAILS


def test_a_motor_and_a_nameplate_set_the_largest_breaker():
    """5 hp at 230 V: 28 A of Table 430.248; 250 % is 70 A, 125 % is 35 A, which #8 carries at 60 C. A nameplate sets
    its own. Where nothing sets one, none is named.
    """
    motor, marked, unmarked = (
        ask(f"{each} 240 V nm-b", EDITION) for each in ("5 hp motor", "mca 22 mocp 40", "mca 22")
    )
    assert motor.circuit is not None
    assert (motor.circuit.largest.certain, motor.circuit.wires[0].certain) == (70, "8")
    assert motor.verdict is Verdict.PASSES  # behind 60 A: the #10 ground of 8/2 is too thin behind 70 A
    assert marked.circuit is not None
    assert (marked.circuit.largest.certain, marked.verdict) == (40, Verdict.PASSES)
    assert unmarked.circuit is not None
    assert (unmarked.circuit.largest.text, unmarked.verdict) == ("not known", Verdict.OPEN)


def test_what_is_taken_as_so_is_said():
    found = ask("20 A, 12/2 nm-b", EDITION)
    assert found.smallest.assumes == ("alone, with no other cable bundled to it",)
    assert [said[:22] for said in found.assumptions] == ["Assumes 30 C (86 F) ar"]
    assert ask("20 A, 12/2 nm-b, 30 C", EDITION).assumptions == ()


def test_two_of_one_kind_and_too_little_company_are_refused():
    with pytest.raises(AmpleroomError, match="keep one of them"):
        ask("20 A, 30 A, 42 ft, 43 ft", EDITION)
    with pytest.raises(AmpleroomError, match="its own wires are 3"):
        ask("3 x #10 thhn, 2 current-carrying", EDITION)
    with pytest.raises(AmpleroomError, match="how many wires there are"):
        ask("? x #10 thhn, 2 current-carrying", EDITION)


@pytest.mark.parametrize("question", EXAMPLES)
def test_the_examples_are_answered_in_text_and_as_json(question: str):
    told = inside("ask", question, "--edition", str(EDITION))
    assert told.status in (0, 3)
    assert "Wire and breaker" in told.out
    data = inside("ask", question, "--edition", str(EDITION), "--json").json
    assert data["subjects"][0]["kind"] == "circuit"
    assert data["circuit"]["wires"][0]["text"]
