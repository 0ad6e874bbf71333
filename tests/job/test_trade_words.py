"""The trade's words: what is read, what is asked back, and that one slip is one fault."""

import pytest

from ampleroom.check import check
from ampleroom.job import Sheet, nicknames, read_with_faults, write_job
from ampleroom.job.edit import AddFirst, AddItem, DropItem, PutItem, SetKind, edited
from ampleroom.job.lines import UNDER_A_BOX
from ampleroom.job.model import Base, Stop
from ampleroom.job.one_line import read_item
from ampleroom.job.settling import read_run_line
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable
from tests.job.helpers import faults, job, job_and_faults


def plain(line):
    """A line under a box, as it is written back."""
    found = job(f"box J1\n  {line}\n")
    assert job(write_job(found)) == found
    return [written.strip() for written in write_job(found).split("\n")[2:] if written]


# ---- nothing changes for what is plain -------------------------------------------------------------------------------


@pytest.mark.parametrize("statement", UNDER_A_BOX, ids=lambda statement: statement.words[0])
def test_a_plain_line_is_never_tried_by_the_trades_words(statement, monkeypatch):
    from ampleroom.job import trade_words

    def never(*_):
        raise AssertionError("a plain line was read by the words of the trade")

    monkeypatch.setattr(trade_words, "under_a_box", never)
    monkeypatch.setattr(trade_words, "on_its_own", never)
    read_with_faults(Sheet(f"box X9\n  {statement.example}\n"))


def test_service_entrance_cable_says_its_ground():
    (told,) = faults("box J1\nrun J1 > ? 10/3 ser\n")
    assert told.startswith("10/3 ser is not in the table of cables; write its ground")


BRANDS = ("wire nut", "wirenut", "decora")
"""Words that began as a brand's, from memory; none is read."""


@pytest.mark.parametrize("word", BRANDS)
def test_no_brand_word_is_read(word):
    assert faults(f"box J1\n  {word}\n")


# ---- each table ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("phrase", "meaning"), nicknames.BOX_LINES.items())
def test_every_whole_line_is_read(phrase, meaning):
    assert plain(phrase) == [meaning]


@pytest.mark.parametrize(("phrase", "meaning"), nicknames.DEVICES.items())
def test_every_device_is_read(phrase, meaning):
    assert plain(f"{phrase} #12") == [f"{meaning} #12"]
    assert plain(f"2 {phrase} #12") == [f"2 x {meaning} #12"]


@pytest.mark.parametrize(("phrase", "meaning"), nicknames.PARTS.items())
def test_every_ring_and_cover_is_read(phrase, meaning):
    assert plain(f"{phrase} 3.5 in3") == [f"{meaning} 3.5 in3"]


@pytest.mark.parametrize("phrase", [phrase for phrase, says in nicknames.BOXES.items() if "-gang" in says])
def test_every_word_for_gangs_is_read(phrase):
    assert plain(f"{phrase} box 18 cu in") == [f"marked 18 in3 {nicknames.BOXES[phrase]}"]


@pytest.mark.parametrize("phrase", [phrase for phrase, says in nicknames.BOXES.items() if "mounted" in says])
def test_every_way_to_mount_a_box_is_read(phrase):
    assert plain(f"{phrase} box 18 cu in")[1] == nicknames.BOXES[phrase].removeprefix("plastic, ")


@pytest.mark.parametrize("phrase", [phrase for phrase, says in nicknames.BOXES.items() if says in ("plastic", "metal")])
def test_every_material_is_read(phrase):
    assert plain(f"{phrase} box 18 cu in") == [f"marked 18 in3 {nicknames.BOXES[phrase]}"]


@pytest.mark.parametrize("line", ["1900 deep", "deep 1900 box", "4sq deep", "4x4x2-1/8", '4" square 2-1/8"'])
def test_a_deep_square_box_is_written_many_ways(line):
    assert plain(line) == ["square 4 x 2-1/8"]


@pytest.mark.parametrize(("phrase", "meaning"), nicknames.PANELS.items())
def test_every_word_of_a_panel_is_read(phrase, meaning):
    said = f"{phrase} 200A" if meaning == "main" else f"120/208V 3ph {phrase}" if not meaning else phrase
    found = job(f"panel LP {said}\nbox J1\n").panels[0]
    assert meaning in ("", "main") or found.phases == int(meaning[0])
    assert found.main == (200 if meaning == "main" else None)


@pytest.mark.parametrize("phrase", nicknames.HEADS)
def test_every_first_word_is_read(phrase):
    rest = {
        "edition": "2020", "circuit": "3 20 A", "box": "J2", "panel": "LP", "equipment": "K1",
        "address": "12 Slip Road",
    }.get(nicknames.HEADS[phrase], "Slip")  # fmt: skip
    assert write_job(job(f"box J1\n{phrase} {rest}\n")) == write_job(job(f"box J1\n{nicknames.HEADS[phrase]} {rest}\n"))


@pytest.mark.parametrize("phrase", nicknames.GROUNDS)
def test_a_cable_with_its_usual_ground_is_that_cable(phrase):
    assert read_run_line(f"run A > B 12-2 {phrase}") == read_run_line("run A > B 12/2")


@pytest.mark.parametrize("to", nicknames.TO)
def test_a_run_goes_to_the_other_end_in_many_ways(to):
    assert job(f"box A\nbox B\nA {to} B 12/2\n").runs == job("box A\nbox B\nrun A > B 12/2\n").runs


@pytest.mark.parametrize("words", nicknames.HOMERUNS)
def test_a_home_run_goes_to_the_panel(words):
    said = f"box A\n{' '.join(words)} A 12/2\n"
    assert job("panel MP\n" + said).runs[0].stops == (Stop("MP"), Stop("A"))
    assert job(said).runs[0].stops == (Stop(UNKNOWN), Stop("A"))


# ---- asked back ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("phrase", nicknames.ASKED)
def test_a_word_with_several_meanings_is_asked_back_with_the_choices(phrase):
    question, choices = nicknames.ASKED[phrase]
    assert faults(f"box J1\n  {phrase}\n") == [f"{question}; {choices}"]
    assert choices.startswith("write ")


@pytest.mark.parametrize("line", ["marked 333", "nail-on 333", "old work 150", "4 x", "3/4", "2-gang 20 30"])
def test_a_number_that_may_be_anything_is_no_volume(line):
    assert len(faults(f"box J1\n  {line}\n")) == 1


def test_a_switch_followed_by_a_cable_is_no_box():
    (told,) = faults("box J1\n  switch 12/2\n")
    assert told.startswith("unknown word '12/2' after the device")


# ---- said in the answer ----------------------------------------------------------------------------------------------


def test_an_assumed_kind_of_cable_is_said_and_stays_assumed_when_written():
    found = job("edition 2020\nbox A\n  square 4 x 1-1/2\nrun A > ? 12-2\n")
    assert "Assumes NM-B where no kind of cable is written (line 4)" in found.assumptions[0]
    again = job(write_job(found))
    assert again.runs[0].kind_assumed
    assert check(found).to_json()["assumptions"] == list(found.assumptions)


def test_the_jobs_usual_cable_is_meant_where_there_is_one_and_nothing_is_assumed():
    found = job("cable mc\nbox A\nrun A > ? 12-2\nrun A > ? 12-2 nm\n")
    assert [run.cable.kind for run in found.runs if run.cable] == ["mc", "nm-b"]
    assert found.assumptions == ()


def test_wire_connectors_change_no_number_and_the_answer_says_so():
    text = "edition 2020\nbox A\n  square 4 x 1-1/2\n  clamps inside\n{}run A > ? 2 x 12/2 nm-b\n"
    with_them, without = job(text.format("  6 wire connectors\n")), job(text.format(""))
    assert check(with_them).worksheets == check(without).worksheets
    assert with_them.assumptions == ("Takes no room in the count: wire connectors",)


# ---- one slip is one fault -------------------------------------------------------------------------------------------

SLIPS = {
    "box": "panel P\nbox A = door\n  square 4 x 1-1/2\n  switch #14\nrun P > A 12/2\nrun A > ? 14/2\n",
    "box, mistyped": "panel P\nbx A at the door\n  square 4 x 1-1/2\n  switch #14\nrun P > A 12/2\n",
    "panel": "panel P 120//240 V\nbox A\nrun P > A 12/2\ncircuit 3 on P\nraceway R1 P > A emt 1\n",
    "raceway": "panel P\nbox A\nraceway R1 P > A emtt 1\nwires P > A 3 x #12 in R1\nwires P > A 3 x #10 in R1\n",
    "kind": "kind K = x\n  marked 18 in3\nbox A K\nbox B K at the door\n",
    "circuit": "panel P\nbox A\ncircuit 3 20 Q\nrun P > A 12/2 circuit 3\nrun P > A 14/2 circuit 3\n",
    "circuit and another": "panel P\nbox A\ncircuit 1\ncircuit 3 20 Q\nrun P > A 12/2 circuit 3\n",
    "no head": "panel P\n  square 4 x 1-1/2\n  switch #14\n  clamps inside\n",
    "a place left out": "panel P\nrun P > A 12/2\nrun A > ? 12/2\nrun A > ? 14/2\n",
    "a divided box": "panel P\nbox A = door\n  marked 40 in3\nrun P > A/left 12/2\n",
}


@pytest.mark.parametrize("text", SLIPS.values(), ids=SLIPS)
def test_one_slip_is_one_fault(text):
    assert len(faults(text)) == 1, faults(text)


def test_a_name_that_is_missing_is_told_once_with_every_line_that_uses_it():
    (told,) = faults(SLIPS["a place left out"])
    assert told.startswith("there is no place 'A';")
    assert told.endswith("Also on lines 3, 4")


def test_forty_bad_lines_are_at_most_forty_faults_of_three_lines():
    bad = [
        "  gizmo",
        "  square 4 x 9",
        "run A > B 12/9",
        "panel",
        "run A > Q1 12/2",
        "  switch #13",
        "box ?",
        "circuit 1 = x",
    ]
    text = "box A\n" + "".join(f"{bad[number % 8]}\n" for number in range(40))
    _, told = job_and_faults(text)
    assert 0 < len(told) <= 40
    assert all(len(fault.text.split("\n")) <= 3 for fault in told)
    assert len({fault.line for fault in told}) == len(told)


def test_an_unknown_word_under_a_box_lists_what_can_stand_there_and_elsewhere_what_can_begin_a_line():
    (told,) = faults("box A\n  gizmo\n")
    assert told.startswith("unknown word 'gizmo'; under a box you can write: square, marked,")
    assert "edition" not in told
    (told,) = faults("panel P\ngizmo\n")
    assert told.startswith("unknown word 'gizmo'; start a line with one of: job,")


@pytest.mark.parametrize(
    ("line", "never"),
    [("panel P 120/000 V", "120/240"), ("panel P 4-phase", "3-phase"), ("circuit 1 15 Q", "20 A")],
)
def test_a_suggestion_with_another_number_is_left_out(line, never):
    (told,) = faults(f"box A\n{line}\n")
    assert f"did you mean '{never}" not in told


def test_120_208_volts_are_read():
    assert job("box A\npanel P 120/208V\n").panels[0].volts == (120, 208)


# ---- one line that says several things -------------------------------------------------------------------------------

SEVERAL = """box A 1900 w/ mud ring, no clamps at the door  # seen
  switch #14
  old work box 18 cu in
run A > ? 12/2 nm-b
""".replace("  old work box 18 cu in\n", "")


def test_an_edit_of_a_line_that_says_several_things_writes_each_on_its_own():
    found = job(SEVERAL)
    base, ring, _, switch = found.boxes[0].items
    assert isinstance(base, Base)
    assert edited(found, (PutItem("A", read_item("square 4 x 2-1/8"), base),)) == (
        "box A at the door  # seen\n"
        "  square 4 x 2-1/8\n"
        "  plaster ring ? in3\n"
        "  clamps none\n"
        "  switch #14\n"
        "run A > ? 12/2 nm-b\n"
    )
    assert edited(found, (DropItem("A", ring),)) == (
        "box A at the door  # seen\n  square 4 x 1-1/2\n  clamps none\n  switch #14\nrun A > ? 12/2 nm-b\n"
    )
    assert edited(found, (DropItem("A", switch),)) == SEVERAL.replace("  switch #14\n", "")
    assert edited(found, (AddItem("A", read_item("stud")),)) == SEVERAL.replace("#14\n", "#14\n  stud\n")


def test_a_kind_is_set_and_written_out_beside_such_a_line():
    found = job("kind K\n  clamps none\n" + SEVERAL.replace(", no clamps", ""))
    text = edited(found, (SetKind("A", "K"), AddFirst("A", (read_item("stud"),))))
    assert text.split("\n")[2:6] == [
        "box A K at the door  # seen",
        "  stud",
        "  square 4 x 1-1/2",
        "  plaster ring ? in3",
    ]


def test_a_single_line_that_says_several_things_is_not_one_item():
    with pytest.raises(Unreadable, match="that says several things") as told:
        read_item("nail-on 20.3")
    assert told.value.hint == "write each by itself: marked 20.3 in3 plastic, and mounted new-work"


def test_a_single_run_is_read_by_the_same_reader():
    found = job("cable mc\npanel MP\nbox A\n")
    assert read_run_line("homerun A 12-2", found) == job("panel MP\nbox A\nrun MP > A 12/2 mc\n").runs[0]
    with pytest.raises(Unreadable, match="that is not a run"):
        read_run_line("switch #14")
    with pytest.raises(Unreadable, match="which panel"):
        read_run_line("homerun A 12-2", job("panel MP\npanel LP\nbox A\n"))


# ---- where a fault points --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("  GFI #13", "#13"),
        ("  2 duplexes #13", "#13"),
        ("A to B 12/2 wibble", "wibble"),
        ("homerun A from", "from"),
        ("  1-gang mud ring wooden", "wooden"),
        ("  4 square 9", "4 square 9"),
    ],
)
def test_a_fault_points_at_what_was_typed(line, words):
    _, told = job_and_faults(f"panel P\nbox B\nbox A\n{line}\n")
    (fault,) = told
    assert line[fault.column - 1 : fault.end - 1] == words


def test_a_description_in_a_line_of_trade_words_is_kept_as_written():
    found = job('box A 4 square deep, at  ridge,over > the "stair"  # a remark\nbox B the OLD  pantry\n')
    assert [box.description for box in found.boxes] == ['ridge,over > the "stair"', "the OLD  pantry"]


@pytest.mark.parametrize("name", ["J1", "j1", "J1:"])
def test_a_colon_after_a_name_is_no_part_of_it(name):
    assert job(f"box J1:\nrun {name} > ? 12/2\n").runs[0].stops[0].name == "J1"


@pytest.mark.parametrize("edition", [2008, 2023])
def test_any_number_of_a_cable_of_which_nothing_is_known_is_judged(edition):
    found = job("box A\n  marked 20 in3\n  clamps none\nrun A > ? ? x ?/? ?\nrun A > ? 14/?\n")
    assert check(found, edition).verdict.word == "check needed"
