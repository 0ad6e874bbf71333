"""Changes to a job: on its records and on its sheet alike, and on no line but those concerned."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.job import Sheet, read_with_faults, write_job
from ampleroom.job.edit import (
    AddBox,
    AddFirst,
    AddItem,
    AddKind,
    AddRun,
    Change,
    DropItem,
    DropRun,
    PutItem,
    PutRun,
    SetKind,
    Step,
    changed,
    edited,
    replacing,
    written_out,
)
from ampleroom.job.model import (
    Base,
    Box,
    Cable,
    Clamps,
    Device,
    Item,
    Job,
    Kind,
    Leads,
    Mounting,
    Pigtails,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
)
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from tests.strategies import Dice, clamps, content, device, examples, jobs, mounting, places_of, run

LOOSE = (Device, Leads, Pigtails, TerminalBlock)
"""What may be put in another's place or taken out of any box."""
REMARKS = ("  # seen from the ladder", "\t#x", "   # 12/2 > J1, or so?", "")


# ---- a sheet as people leave it, and changes to it -----------------------------------------------------------------


def job_in(text: str) -> Job:
    """The job in a sheet without a fault, its line ends as they are."""
    job, faults = read_with_faults(Sheet(text))
    assert faults == [], faults[0].text
    return job


def untidy(dice: Dice, job: Job) -> str:
    """A job's sheet with remarks, odd spaces, empty lines, boxes in any order and runs among the boxes' lines."""
    blocks = [block.split("\n") for block in write_job(job).rstrip("\n").split("\n\n")]
    places = [block for block in blocks if block[0].startswith(("box ", "kind "))]
    runs = [line for block in blocks for line in block if line.startswith(("run ", "wires "))]
    rest = [line for block in blocks if block not in places for line in block if line not in runs]
    lines = [*rest, ""]
    while places:
        lines += [*places.pop(dice.whole(0, len(places) - 1)), "", "# ---- next ----"]
    for line in runs:
        lines.insert(len(lines) if dice.chance(2) else dice.line().whole(len(rest) + 1, len(lines)), line)
    end = dice.pick(("\n", "\r\n"))
    text = end.join(untidy_line(dice.line(), line) for line in lines)
    return dice.pick(("", "\ufeff")) + text + (end if dice.chance(2) else "")


def untidy_line(dice: Dice, line: str) -> str:
    words = line.split(" ")
    first = dice.pick(("", " ", "\t", "      ")) + dice.pick((" ", "   ", "\t")).join(words[:2])
    return " ".join([first, *words[2:]]) + dice.pick(REMARKS)


def random_change(dice: Dice, job: Job) -> Change:
    change: Change = ()
    for number in range(dice.whole(1, 6)):
        steps = dice.pick(MAKERS)(dice.line(), job, f"new{number}")
        change += steps
        job = changed(job, steps)
    return change


def add_item(dice: Dice, job: Job, name: str) -> Change:
    return (AddItem(dice.pick(job.boxes).name, content(dice)),)


def put_item(dice: Dice, job: Job, name: str) -> Change:
    """A line in place of another that may stand where that one stood."""
    box = dice.pick(job.boxes)
    if not box.items:
        return ()
    old = dice.pick(box.items)
    new: Item
    match old:
        case Clamps():
            new = clamps(dice)
        case Mounting():
            new = mounting(dice)
        case Base() if not any(isinstance(item, SpaceShare) for item in box.items) and old.form != "conduit body":
            new = Base("marked", volume=Decimal(dice.whole(1, 90)))
        case Device() | Leads() | Pigtails() | TerminalBlock():
            new = content(dice)
        case _:
            return ()
    return (PutItem(box.name, new, old),)


def drop_item(dice: Dice, job: Job, name: str) -> Change:
    box = dice.pick(job.boxes)
    loose = [item for item in box.items if isinstance(item, LOOSE)]
    return (DropItem(box.name, dice.pick(loose)),) if loose else ()


def write_out(dice: Dice, job: Job, name: str) -> Change:
    box = dice.pick(job.boxes)
    known = next((kind.items for kind in job.kinds if kind.name == box.kind), ())
    loose = [item for item in known if isinstance(item, Device)]
    return written_out(job, box, (dice.pick(loose), device(dice))) if loose else written_out(job, box)


def other_kind(dice: Dice, job: Job, name: str) -> Change:
    """A kind for a box that says nothing of itself."""
    box = dice.pick(job.boxes)
    if any(isinstance(item, Base | Clamps | SpaceShare | Mounting) for item in job.items(box)):
        return ()
    kind = Kind(name, (Base("marked", volume=Decimal(30)), clamps(dice)), dice.pick(("", "the one on the van")))
    return (AddKind(kind), SetKind(box.name, name))


def add_box(dice: Dice, job: Job, name: str) -> Change:
    items = (Base("standard", "square", "4 x 1-1/2"), clamps(dice))
    return (AddBox(Box(name, dice.pick(("", "beside it, low")), items=items), dice.pick(job.boxes).name),)


def add_run(dice: Dice, job: Job, name: str) -> Change:
    return (AddRun(run(dice, places_of(job), job)),)


def put_run(dice: Dice, job: Job, name: str) -> Change:
    return (PutRun(run(dice, places_of(job), job), dice.pick(job.runs)),) if job.runs else ()


def drop_run(dice: Dice, job: Job, name: str) -> Change:
    return (DropRun(dice.pick(job.runs)),) if job.runs else ()


MAKERS = (add_item, put_item, drop_item, write_out, other_kind, add_box, add_run, put_run, drop_run)


@st.composite
def edits(draw) -> tuple[Job, Change]:
    """A job read from an untidy sheet, and a change to it."""
    dice = Dice(draw, unknowns=True)
    job = job_in(untidy(dice.line(), draw(jobs(unknowns=True, extras=True, most_runs=4))))
    return job, random_change(dice.line(), job)


def lines_concerned(job: Job, change: Change) -> set[int]:
    """Lines of the sheet that a change exchanges or takes out."""
    found = set()
    for step in change:
        match step:
            case PutItem(_, _, old) | DropItem(_, old) | PutRun(_, old) | DropRun(old):
                found.add(old.at.line)
            case SetKind(name, _):
                found |= {box.at.line for box in job.boxes if box.name == name}
    return found


# ---- what holds for all of them ------------------------------------------------------------------------------------


@examples(150)
@given(edits())
def test_the_edited_sheet_reads_as_the_changed_job(edit):
    job, change = edit
    assert job_in(edited(job, change)) == changed(job, change)


@examples(80)
@given(edits())
def test_lines_not_concerned_stay_as_they_are_and_in_their_order(edit):
    job, change = edit
    concerned = lines_concerned(job, change)
    before = job.sheet.text.split("\n")
    after = iter([line.rstrip("\r") for line in edited(job, change).split("\n")])
    for number, line in enumerate(before, 1):
        assert number in concerned or any(line.rstrip("\r") == other for other in after), f"line {number} is gone"


@examples(80)
@given(edits())
def test_an_edited_sheet_has_one_kind_of_line_end(edit):
    job, change = edit
    alone = re.compile(r"(?<!\r)\n|\r(?!\n)") if "\r\n" in job.sheet.text else re.compile("\r")
    assert not alone.search(edited(job, change))
    assert edited(job, change).endswith("\n") == job.sheet.text.endswith("\n")


@examples(30)
@given(edits())
def test_no_change_is_no_difference(edit):
    job, _ = edit
    assert edited(job, ()) == job.sheet.text


# ---- one by one ----------------------------------------------------------------------------------------------------

SHEET = """# Ferry landing
edition 2020
box J1   at the ramp   # behind the sign
    square 4 x 1-1/2   # rusty
  clamps inside

box J2
\tmarked 20 in3
run J1 > J2  12/2 nm-b 12 ft     # new
# end
"""


def after(*steps: Step, sheet: str = SHEET) -> list[str]:
    """The lines of the sheet that are new, by unified difference."""
    from difflib import ndiff

    text = edited(job_in(sheet), steps)
    return [line for line in ndiff(sheet.split("\n"), text.split("\n")) if line[:1] in "+-"]


def old(box: str, number: int, sheet: str = SHEET) -> Item:
    return job_in(sheet).box(box).items[number]


def test_a_line_exchanged_keeps_its_indentation_and_its_remark():
    assert after(PutItem("J1", Base("standard", "square", "4 x 2-1/8"), old("J1", 0))) == [
        "-     square 4 x 1-1/2   # rusty",
        "+     square 4 x 2-1/8  # rusty",
    ]


def test_a_line_added_to_a_box_stands_under_its_last_one():
    text = edited(job_in(SHEET), (AddItem("J2", Clamps("tabs")),))
    assert "\tmarked 20 in3\n  clamps tabs\nrun" in text


def test_a_run_changed_keeps_its_remark():
    (was,) = job_in(SHEET).runs
    assert after(PutRun(replace(was, length=Decimal(20)), was)) == [
        "- run J1 > J2  12/2 nm-b 12 ft     # new",
        "+ run J1 > J2 12/2 nm-b 20 ft  # new",
    ]


def test_a_new_box_stands_after_the_one_it_is_beside_and_its_runs_after_the_last():
    new = Box("J1b", items=(Base("marked", volume=Decimal(30)),))
    link = Run((Stop("J1"), Stop("J1b")), cable=Cable("nm-b", "12", "2"), length=Decimal(3))
    text = edited(job_in(SHEET), (AddBox(new, "J1"), AddRun(link)))
    assert "  clamps inside\n\nbox J1b\n  marked 30 in3\n\nbox J2\n" in text
    assert text.endswith("# new\nrun J1 > J1b 12/2 nm-b 3 ft\n# end\n")


def test_two_boxes_after_the_same_one_stand_in_the_order_of_the_job():
    job = job_in(SHEET)
    change = (
        AddBox(Box("A"), "J1"),
        AddBox(Box("B"), "J1"),
        AddItem("A", Clamps("none")),
        AddItem("J1", Device(("switch",))),
    )
    found = job_in(edited(job, change))
    assert found == changed(job, change)
    assert [box.name for box in found.boxes] == ["J1", "B", "A", "J2"]


def test_a_line_put_in_by_an_earlier_step_is_exchanged_in_its_own_box():
    """Two boxes that get the same line each: a later step at the second leaves the first alone."""
    job = job_in("kind usual\n  marked 20 in3\n  clamps inside\nbox A usual\nbox B usual\n")
    change = (*written_out(job, job.boxes[0]), *written_out(job, job.boxes[1]))
    half = changed(job, change)
    change += (PutItem("B", Clamps("outside"), half.box("B").items[1]),)
    found = job_in(edited(job, change))
    assert [found.box(name).items[1] for name in ("A", "B")] == [Clamps("inside"), Clamps("outside")]
    assert found == changed(job, change)


def test_a_line_exchanged_twice_says_the_last():
    first = Clamps("outside")
    job = job_in(SHEET)
    change = (
        PutItem("J1", first, old("J1", 1)),
        PutItem("J1", Clamps("none"), first),
        AddItem("J1", Device(("timer",), "14")),
    )
    assert job_in(edited(job, change)) == changed(job, change)
    assert "  clamps none\n  timer #14\n" in edited(job, change)


def test_a_new_kind_stands_behind_those_there_are_and_before_the_first_box():
    text = "kind old\n  marked 9 in3\n\nbox A old\nbox B\n"
    job = job_in(text)
    change = (AddKind(Kind("new", (Base("marked", volume=Decimal(12)),))), SetKind("B", "new"))
    assert edited(job, change) == "kind old\n  marked 9 in3\n\nkind new\n  marked 12 in3\n\nbox A old\nbox B new\n"
    alone = job_in("edition 2020\n\nbox B\n")
    assert edited(alone, change) == "edition 2020\n\nkind new\n  marked 12 in3\n\nbox B new\n"


def test_another_kind_of_a_name_that_is_taken_is_a_mistake():
    text = "kind deep\n  marked 9 in3\nbox A deep\n"
    job = job_in(text)
    with pytest.raises(LookupError, match="another kind Deep"):
        changed(job, (AddKind(Kind("Deep", (Base("marked", volume=Decimal(12)),))),))
    same = AddKind(Kind("deep", (Base("marked", volume=Decimal(9)),)))
    assert edited(job, (same,)) == text


def test_lines_of_a_kind_written_out_stand_before_the_boxs_own():
    """The box's switch is in the second space; it is so still when the lines of its kind stand under the box."""
    text = "kind split\n  marked 40 in3\n  barrier metal\n  space l 1/2\n  space r 1/2\nbox A split\n  switch #14\n"
    job = job_in(text)
    found = job_in(edited(job, replacing(job, job.boxes[0], job.kinds[0].items[0], Base("marked", volume=Decimal(50)))))
    assert [type(item).__name__ for item in found.boxes[0].items] == [
        "Base", "Barrier", "SpaceShare", "SpaceShare", "Device",
    ]  # fmt: skip
    assert found.boxes[0].items[0] == Base("marked", volume=Decimal(50))
    assert found.boxes[0].kind == ""


def test_of_two_lines_alike_in_a_kind_one_is_swapped():
    job = job_in("kind pair\n  switch #14\n  switch #14\nbox A pair\n")
    new = Device(("dimmer",), "14")
    change = replacing(job, job.boxes[0], job.kinds[0].items[1], new)
    assert changed(job, change).boxes[0].items == (job.kinds[0].items[0], new)


def test_a_line_of_a_job_younger_than_its_sheet_is_not_looked_for_in_it():
    job = changed(job_in(SHEET), (AddItem("J2", Clamps("tabs")),))
    with pytest.raises(LookupError, match="its text is older than the job"):
        edited(job, (DropItem("J2", job.box("J2").items[1]),))


def test_a_line_that_is_not_there_is_a_mistake():
    with pytest.raises(LookupError, match="is not there any more"):
        edited(job_in(SHEET), (DropItem("J2", Clamps("tabs")),))


def test_a_sheet_that_ends_without_a_line_end_still_does():
    text = "box A\r\n  marked 20 in3\r\nrun A > ? 12/2 nm-b"
    job = job_in(text)
    link = Run((Stop("A"), Stop(UNKNOWN)), cable=Cable("nm-b", "14", "2"))
    assert edited(job, (AddRun(link),)) == text + "\r\nrun A > ? 14/2 nm-b"
    assert edited(job, (DropRun(job.runs[0]),)) == "box A\r\n  marked 20 in3"


def test_a_job_without_a_sheet_is_written_anew():
    job = Job(boxes=(Box("A"),))
    change = (AddFirst("A", (Base("marked", volume=Decimal(20)),)),)
    assert edited(job, change) == "\nbox A\n  marked 20 in3\n"
