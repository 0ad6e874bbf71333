"""An answer without a sheet: how the parts are read, what is answered, which standard box would do."""

import contextlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampleroom import check, read_job
from ampleroom.ask import BOX, LONGEST, QuestionFaults, ask, pieces_of
from ampleroom.editions import blocks
from ampleroom.editions.adoption import adopted_edition
from ampleroom.errors import AmpleroomError, EditionUnknown
from ampleroom.job.model import Base, Device
from ampleroom.worksheet import Verdict

QUESTION = "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12"


def lines(question):
    """The lines of the sheet a question makes, without its edition."""
    return [line.strip() for line in ask(question, 2020).sheet.split("\n") if line.strip()][1:]


def told(question):
    with pytest.raises(QuestionFaults) as trouble:
        ask(question, 2020)
    return trouble.value.faults


def marked(question):
    """What the faults of a question point at."""
    return [question[fault.column - 1 : fault.end - 1] for fault in told(question)]


def test_the_box_is_judged_and_its_sheet_is_judged_alike():
    """By hand: 6 x 2.25 conductors + 2.25 clamps + 4.50 receptacle + 2.25 grounds = 22.50 in a box of 21.0 (314.16)."""
    answer = ask(QUESTION, 2020)
    assert answer.verdict is Verdict.FAILS
    assert str(answer.report.worksheets[BOX].margin) == "-1.50"
    assert answer.box.findings == check(read_job(answer.sheet)).subjects[0].findings


@pytest.mark.parametrize(
    ("question", "sheet"),
    [
        (QUESTION, ["box B1", "square 4 x 1-1/2", "clamps inside", "receptacle #12", "run B1 > ? 3 x 12/2 nm-b"]),
        ("12/2 nm-b,14/2 nm-b", ["box B1", "run B1 > ? 12/2 nm-b", "run B1 > ? 14/2 nm-b"]),
        ("12/2 old, ground #16", ["box B1", "run B1 > ? 12/2 old, ground #16"]),
        ("12/2 nm-b,, , clamps ?,", ["box B1", "clamps ?", "run B1 > ? 12/2 nm-b"]),
        ("3 x #12 thhn, ground #12, 2 x #14", ["box B1", "wires B1 > ? 3 x #12 thhn, ground #12, 2 x #14"]),
        ("marked 34 in3, plastic, 2-gang", ["box B1", "marked 34 in3 plastic 2-gang"]),
        ("square 4 x 1-1/2\nclamps inside", ["box B1", "square 4 x 1-1/2", "clamps inside"]),
        ('receptacle #12 for "north, up", clamps none', ["box B1", "receptacle #12 for north, up", "clamps none"]),
        ("receptacle #12 for “north, up”", ["box B1", "receptacle #12 for north, up"]),
        (f'"{QUESTION}"', lines(QUESTION)),
        ('octagon 4" x 1-1/2", clamps none', ["box B1", "octagon 4 x 1-1/2", "clamps none"]),
        ("12/2 nm-b 1,500 ft", ["box B1", "run B1 > ? 12/2 nm-b 1500 ft"]),
        ("4 x #12,120 ft", ["box B1", "wires B1 > ? 4 x #12 120 ft"]),
        (
            "marked 34 in3, barrier metal, space a 1/2, 12/2 nm-b, space b 1/2, 14/2 nm-b",
            ["box B1", "marked 34 in3", "barrier metal", "space a 1/2", "space b 1/2", "run B1/a > ? 12/2 nm-b",
             "run B1/b > ? 14/2 nm-b"],
        ),
        ("reading wide-device by-gang, receptacle #12", ["reading wide-device by-gang", "box B1", "receptacle #12"]),
    ],
)  # fmt: skip
def test_the_parts_become_lines_of_a_sheet(question, sheet):
    assert lines(question) == sheet


@pytest.mark.parametrize(
    ("question", "at", "message"),
    [
        ("sqare 4 x 1-1/2, 12/2 nm-b", ["sqare"], "part 1, 'sqare 4 x 1-1/2': unknown word 'sqare'"),
        ("clamps none, 12/2 nm-bb, receptcle", ["nm-bb", "receptcle"],
         "part 2, '12/2 nm-bb': unknown kind of cable 'nm-bb'"),
        ("marked 1,500 cm3, 12/2 nmx", ["nmx"], "part 2, '12/2 nmx': unknown kind of cable 'nmx'"),
        ('receptacle #12 for "a, b", swtch', ["swtch"], "part 2, 'swtch': unknown word 'swtch'"),
        ("receptacle #12 for north, wall", ["wall"], "part 2, 'wall': unknown word 'wall'"),
        ("receptacle # 12", ["# 12"], "part 1, 'receptacle # 12': a question has no remarks"),
        ("run P > J1 12/2 nm-b", ["run"], "part 1, 'run P > J1 12/2 nm-b': a line of a whole sheet begins with 'run'"),
        ("box J9", ["box"], "part 1, 'box J9': a line of a whole sheet begins with 'box'"),
        ("octagon 4 x 2-1/8, square 4 x 1-1/2", ["square 4 x 1-1/2"],
         "part 2, 'square 4 x 1-1/2': the size of B1 is already in part 1"),
        ("12/2 nm-b in R1", ["12/2 nm-b in R1"], "part 1, '12/2 nm-b in R1': there is no raceway 'R1'"),
        ("12/2 old for pump, ground #16", ["ground #16"],
         "part 2, 'ground #16': which cable or wires does this ground belong to?"),
    ],
)  # fmt: skip
def test_a_part_that_cannot_be_read_is_told_with_its_place_and_a_suggestion(question, at, message):
    faults = told(question)
    assert marked(question) == at or at == ["12/2 nm-b in R1"]
    assert faults[0].message == message
    assert all(fault.hint for fault in faults)


def test_a_comma_in_a_label_is_told_and_never_swallows_a_part():
    """A label is free text to the end of its line: 'clamps inside' must not become a part of it."""
    answer = ask("receptacle #12 for pump, clamps inside, 12/2 nm-b", 2020)
    assert "clamps inside" in answer.sheet.split("\n")[4]
    assert "put quotes around" in told("receptacle #12 for pump, by the door")[0].hint
    assert "quotes" not in told("receptacle #12 for pump, clamps insde")[0].hint


@given(st.text(alphabet=" ,\n\"“”#1250/x-'abnm", max_size=40))
def test_every_letter_of_a_piece_stands_where_it_says(typed):
    for piece in pieces_of(typed):
        assert "".join(typed[place] for place in piece.places) == piece.text
        assert piece.text == piece.text.strip() != ""
    kept = {place for piece in pieces_of(typed) for place in piece.places}
    lost = {typed[place] for place in range(len(typed)) if place not in kept}
    assert all(letter in ',"“”' or letter.isspace() for letter in lost)


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_text_is_answered_or_refused_in_words(typed):
    with contextlib.suppress(AmpleroomError):
        job = read_job(ask(typed, 2020).sheet)
        assert job.boxes or job.circuits  # 1A asks about a circuit


def test_nothing_and_too_much_are_refused():
    for typed in ("", " , \n", "x" * (LONGEST + 1)):
        with pytest.raises(AmpleroomError, match=r"nothing is asked|up to 4000"):
            ask(typed, 2020)


# ---- the edition ---------------------------------------------------------------------------------------------------


def test_there_is_no_default_edition():
    with pytest.raises(EditionUnknown, match="one of 2008, 2011, 2014, 2017, 2020, 2023, 2026"):
        ask(QUESTION)


def test_who_says_the_edition():
    alaska = adopted_edition("Alaska")[1]
    asked = ask("edition 2017, 12/2 nm-b", 2023, None, 2020)
    assert (asked.report.book.year, asked.edition_from) == (2023, "asked")
    written = ask("edition 2017, 12/2 nm-b", None, None, 2023)
    assert (written.report.book.year, written.edition_from) == (2017, "question")
    place = ask("12/2 nm-b", None, alaska, 2017)
    assert (place.report.book.year, place.edition_from) == (2020, "adopted")
    assert place.sheet.startswith("# Alaska: 2020 edition since 2020-04-16")
    own = ask("12/2 nm-b", None, None, 2011)
    assert (own.report.book.year, own.edition_from) == (2011, "settings")
    with pytest.raises(AmpleroomError, match="keep one of them"):
        ask("edition 2017, 12/2 nm-b", None, alaska)
    with pytest.raises(EditionUnknown, match="no 1999 edition"):
        ask("12/2 nm-b", 1999)


# ---- the smallest standard box -------------------------------------------------------------------------------------

PRINTED = {
    # Table 314.16(A), the column for 12 AWG, as reprinted by S2 and the state adoption S58: how many each box holds.
    "octagon": {"4 x 1-1/4": 5, "4 x 1-1/2": 6, "4 x 2-1/8": 9},
    "square": {"4 x 1-1/4": 8, "4 x 1-1/2": 9, "4-11/16 x 1-1/4": 11, "4 x 2-1/8": 13, "4-11/16 x 1-1/2": 13,
        "4-11/16 x 2-1/8": 18},
    "device": {"3 x 2 x 1-1/2": 3, "3 x 2 x 2": 4, "3 x 2 x 2-1/4": 4, "3 x 2 x 2-1/2": 5, "3 x 2 x 2-3/4": 6,
        "3 x 2 x 3-1/2": 8,
               "4 x 2-1/8 x 1-1/2": 4, "4 x 2-1/8 x 1-7/8": 5, "4 x 2-1/8 x 2-1/8": 6},
}  # fmt: skip


@pytest.mark.parametrize("number", range(1, 20))
def test_the_smallest_box_of_each_shape_is_by_the_printed_table(number):
    volumes = {(row["shape"], row["size"]): row["volume"] for row in blocks("box_room.standard")[0]["rows"]}
    found = {each.shape: each for each in ask(f"{number} x #12 thhn", 2020).smallest.boxes}
    for shape, sizes in PRINTED.items():
        enough = [size for size, most in sizes.items() if most >= number]
        if not enough:
            assert shape not in found
            continue
        least = min(volumes[shape, size] for size in enough)
        best = found[shape].certain
        assert best is not None
        assert best.room == least
        assert best.line.removeprefix(f"{shape} ") in enough
        assert found[shape].possible == best


@pytest.mark.parametrize(
    "question",
    [
        QUESTION,
        "device 3 x 2 x ?, 2 x 12/2 nm-b, receptacle #12",
        "octagon 4 x 1-1/2, plaster ring 3.5 in3, 4 x 14/2 nm-b, clamps none",
        "marked ? in3 plastic 2-gang, clamps tabs, 2 x switch #14, 14/3 nm-b",
        "4 x 14/2 nm-b, light #14",
        "fs single cover, receptacle #12, 2 x #12 thhn",
    ],
)
def test_a_box_that_is_suggested_passes_when_it_is_written_into_the_sheet(question):
    answer = ask(question, 2020)
    assert answer.smallest.boxes
    for found in answer.smallest.boxes:
        assert found.certain is not None
        kept = [
            line
            for line in answer.sheet.split("\n")
            if not line.startswith(("  octagon", "  device", "  square", "  marked", "  fs"))
        ]
        at = kept.index("box B1") + 1
        text = "\n".join([*kept[:at], f"  {found.certain.line}", *kept[at:]]).replace("clamps tabs", "clamps inside")
        assert check(read_job(text)).verdict is Verdict.PASSES, found


def test_more_devices_than_gangs_do_not_go_into_a_box():
    """Common practice, no source: a single 3 x 2 box takes one yoke, a square box two."""
    for number in (1, 2, 3):
        for found in ask(f"{number} x switch #14, 14/2 nm-b, clamps none", 2020).smallest.boxes:
            assert found.certain is not None
            job = read_job(f"edition 2020\nbox B1\n  {found.certain.line}\n  {number} x switch #14\n")
            base, device = job.boxes[0].items
            assert isinstance(base, Base)
            assert isinstance(device, Device)
            assert (base.ganged if base.shape == "device" else 2) >= number


@pytest.mark.parametrize(
    ("question", "reason"),
    [
        ("40 x 12/2 nm-b", "no standard box in the code's table would do"),
        ("marked 34 in3, barrier metal, space a 1/2, space b 1/2",
         "no box is suggested in place of one with a barrier"),
        ("square 4 x 2-1/8, 3 x #4 thhn", "B1 holds conductors up to #4: where they come in is not known"),
        ("receptacle #12 ?-gang wide", "how many gangs its devices take is not known"),
    ],
)  # fmt: skip
def test_where_no_box_is_suggested_it_says_why(question, reason):
    suggestion = ask(question, 2020).smallest
    assert suggestion.boxes == ()
    assert suggestion.reason == reason


def test_what_is_not_known_gives_two_boxes():
    (device, *_) = ask("device 3 x 2 x 2-1/2, 2 x 12/2 nm-b", 2020).smallest.boxes
    assert device.possible is not None
    assert device.certain is not None
    assert device.possible.room < device.certain.room


@pytest.mark.parametrize(
    ("question", "said"),
    [
        ("marked 30 in3, plaster ring 3.5 in3, 12/2 nm-b", "without the ring or cover, which may not fit"),
        ("marked 30 in3 plastic, clamps tabs, 12/2 nm-b", "with clamps inside in place of plastic tabs"),
        ("marked 30 in3, mounted old-work, 12/2 nm-b", "without a look at the wall or the hole it must fit"),
        ("octagon 4 x 2-1/8, carries fan 30 lb, 12/2 nm-b", "as listed for what it carries"),
        ("square 4 x 2-1/8, switch #14, 14/2 nm-b", "without the ring or raised cover a device on a square box needs"),
    ],
)
def test_a_suggestion_says_how_it_was_counted(question, said):
    assert said in ask(question, 2020).smallest.assumes
