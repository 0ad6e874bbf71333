"""The sheet as written: where each word stands, what is a remark, and that an edit touches one line alone."""

from pathlib import Path
from typing import Any

import pytest

from ampleroom.job import UNKNOWN, Sheet, read_with_faults, sheet_from_bytes, sheet_from_file
from ampleroom.job.edit import AddItem, DropItem, PutItem, PutRun, changed, edited
from ampleroom.job.model import Clamps
from ampleroom.job.one_line import read_item
from ampleroom.job.sheet import columns, words_of
from ampleroom.rules.raceway.filled import raceways_of
from ampleroom.where import NOWHERE
from tests.job.helpers import AMENDMENTS, faults, job, job_and_faults

GOOD = sorted((Path(__file__).parent.parent / "jobs" / "good").glob("*.job"))
SHEETS = pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
PRESS = """# A cider press.
job   Cider press
box J1   at the vat        # behind the sieve
\tdevice 3 x 2 x 2-1/2
  switch   #14     # two of them, one is spare
  clamps inside

run J1 > ?   12/2 nm-b # from the barn
"""


# ---- words and columns -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("box J1 at ridge", ["box", "J1", "at", "ridge"]), ("run P>J1>?", ["run", "P", ">", "J1", ">", "?"]),
        ("  a,b , c", ["a", ",", "b", ",", "c"]), ("\tbox\t J1", ["box", "J1"]), ("box\u00a0J1", ["box", "J1"]),
        ("switch #14 # a remark", ["switch", "#14"]), ("switch #14 #a remark", ["switch", "#14"]),
        ("switch #? # a", ["switch", "#?"]), ("# 12 wires", []), ("#12", ["#12"]), ("#", []), ("", []),
        ("a#b", ["a#b"]), ("box J1\r", ["box", "J1"]), ("switch #14# x", ["switch", "#14#", "x"]),
    ],
)  # fmt: skip
def test_a_line_is_words_and_a_remark(line, words):
    assert words_of(line) == words


@pytest.mark.parametrize(
    ("line", "first", "last", "span"),
    [
        ("box J1 at ridge", 1, 1, (5, 7)), ("  box J1", 0, 1, (3, 9)), ("\tbox\tJ1", 1, 1, (6, 8)),
        ("run P>J1", 2, 3, (6, 9)), ("box J1", 2, 2, (7, 8)), ("box J1  # x", 2, 2, (7, 8)),
        ("box Ł水1 at x", 1, 1, (5, 8)), ("", 0, 0, (1, 2)), ("# x", 0, 0, (1, 2)), ("box J1", 0, 9, (1, 7)),
    ],
)  # fmt: skip
def test_words_stand_in_columns_counted_from_one(line, first, last, span):
    assert columns(line, first, last) == span


@SHEETS
def test_every_fact_of_a_good_sheet_keeps_its_line_and_columns(path):
    sheet = sheet_from_file(path)
    found, _ = read_with_faults(sheet)
    records: list[Any] = [
        *found.boxes,
        *found.kinds,
        *found.runs,
        *found.panels,
        *found.circuits,
        *found.raceways,
        *found.routes,
        *found.loads,
        *found.equipment,
    ]
    records += [item for box in found.boxes for item in box.items] + [
        item for kind in found.kinds for item in kind.items
    ]
    records += [stop for run in found.runs for stop in (*run.stops, *run.through)]
    assert records
    for record in records:
        column, end = sheet.columns(record.at)
        said = sheet.lines[record.at.line - 1][column - 1 : end - 1]
        assert said == said.strip()
        name = getattr(record, "name", "")
        assert str(name).casefold() in said.casefold()


@SHEETS
def test_a_good_sheet_is_the_same_job_after_it_was_written_and_read(path):
    from ampleroom.job import write_job

    found, told = read_with_faults(sheet_from_file(path))
    assert told == []
    again, told = read_with_faults(Sheet(write_job(found), folder=path.parent))
    assert told == []
    assert again == found
    assert write_job(again) == write_job(found)


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_a_good_sheet_is_judged_by_every_edition(path):
    from ampleroom import check
    from ampleroom.check import circuits
    from ampleroom.editions import OFFERED

    found, _ = read_with_faults(sheet_from_file(path))
    for year in OFFERED:
        rated = len(list(circuits(found)))
        assert len(check(found, year).subjects) == len(found.boxes) + len(list(raceways_of(found))) + rated + (
            found.dwelling is not None
        )


# ---- line ends, marks, tabs, letters ---------------------------------------------------------------------------------


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("last", [True, False])
def test_line_ends_and_a_mark_before_the_text_change_nothing(end, mark, last):
    text = mark + PRESS.replace("\n", end)
    found = job(text if last else text.removesuffix(end))
    assert found == job(PRESS)
    assert [box.at for box in found.boxes] == [box.at for box in job(PRESS).boxes]


def test_a_sheet_of_an_old_editor_with_bare_returns_is_told_about_not_crashed_on():
    _, told = job_and_faults(PRESS.replace("\n", "\r"))
    assert told


def test_tabs_are_one_column_and_set_words_apart():
    _, (fault,) = job_and_faults("box J1\n\tswitch\t#14\tgren\n")
    assert (fault.column, fault.end) == (13, 17)
    shown, carets = fault.text.split("\n")[1:]
    assert shown == "    2 | \tswitch\t#14\tgren"
    assert carets.startswith("      | \t      \t   \t^^^^ write one of: ")


@pytest.mark.parametrize("name", ["Łódź-1", "水", "J1′", "küche", "№5", "α", "🔌", "J\u00b2"])
def test_names_may_be_in_any_letters(name):
    found = job(f"box {name} at the {name}\n  square 4 x 1-1/2\nrun {name.upper()} > ? 12/2 nm-b for {name}\n")
    assert found.boxes[0].name == found.runs[0].stops[0].name == name
    assert (found.boxes[0].description, found.runs[0].label) == (f"the {name}", name)


def test_names_are_spelled_as_they_were_given():
    found = job("box Jx\nbox jY\nrun jX > JY 12/2 nm-b through ?\n".replace(" through ?", ""))
    assert [stop.name for stop in found.runs[0].stops] == ["Jx", "jY"]


def test_a_description_is_kept_as_written():
    found = job('box J1  at  ridge,over > the "stair", 2nd floor (old)  # a remark\n')
    assert found.boxes[0].description == 'ridge,over > the "stair", 2nd floor (old)'


def test_a_very_long_line_is_shown_around_its_fault():
    _, (fault,) = job_and_faults("box J1\n  switch #14 " + "on " * 500 + "thnh " + "on " * 500 + "\n")
    head, shown, carets = fault.text.split("\n")
    assert head.startswith(f"sheet:2:{fault.column}: unknown word 'thnh' after the device")
    assert len(shown) < 200
    assert shown[carets.index("^") : carets.rindex("^") + 1] == "thnh"


def test_a_control_character_is_shown_as_a_dot():
    assert faults("box J1\n  swi\x07tch\n") == ["unknown word 'swi·tch'; did you mean 'switch'?"]
    _, (fault,) = job_and_faults("box J1\n  swi\x07tch\n")
    assert fault.text.split("\n")[1] == "    2 |   swi·tch"


# ---- an edit touches its own line alone ------------------------------------------------------------------------------

EDITS = {
    "put": (lambda found: PutItem("J1", read_item("3-way switch #12"), found.boxes[0].items[1]), 4,
        b"  3-way switch #12  # two of them, one is spare"),
    "clamps": (lambda found: PutItem("J1", Clamps("outside"), found.boxes[0].items[2]), 5, b"  clamps outside"),
    "base": (lambda found: PutItem("J1", read_item("marked 20.3 in3"), found.boxes[0].items[0]), 3,
        b"\tmarked 20.3 in3"),
    "run": (lambda found: PutRun(run_of("14/3 nm-b"), found.runs[0]), 7, b"run J1 > ? 14/3 nm-b  # from the barn"),
}  # fmt: skip


def run_of(cable):
    from ampleroom.record import replace

    return replace(job(f"box J1\nrun J1 > ? {cable}\n").runs[0], at=NOWHERE)


@pytest.mark.parametrize(("step", "line", "now"), EDITS.values(), ids=EDITS)
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("last", [True, False])
def test_an_edit_of_one_line_leaves_every_other_byte_alone(step, line, now, end, mark, last):
    data = mark + PRESS.encode().replace(b"\n", end)
    data = data if last else data.removesuffix(end)
    found, _ = read_with_faults(sheet_from_bytes(data, "press.job"))
    after = edited(found, (step(found),)).encode()
    lines = data.split(end)
    lines[line] = now
    assert after == end.join(lines)


@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_a_line_more_and_a_line_less_leave_every_other_byte_alone(end):
    data = PRESS.encode().replace(b"\n", end)
    found, _ = read_with_faults(sheet_from_bytes(data, "press.job"))
    lines = data.split(end)
    assert edited(found, (AddItem("J1", read_item("stud")),)).encode() == end.join([*lines[:6], b"  stud", *lines[6:]])
    assert edited(found, (DropItem("J1", found.boxes[0].items[2]),)).encode() == end.join([*lines[:5], *lines[6:]])


@SHEETS
def test_an_edit_of_a_good_sheet_is_read_as_the_changed_job(path):
    found, _ = read_with_faults(sheet_from_file(path))
    box = next(box for box in found.boxes if box.items)
    change = (PutItem(box.name, Clamps(UNKNOWN), box.items[0]), AddItem(box.name, read_item("stud")))
    again, _ = read_with_faults(Sheet(edited(found, change), folder=path.parent), beside=lambda name: AMENDMENTS)
    assert again.boxes == changed(found, change).boxes
    assert again.runs == found.runs


def test_a_line_that_was_put_may_be_put_again_or_dropped():
    found = job(PRESS)
    first, second = read_item("switch #12"), read_item("dimmer #12")
    old = found.boxes[0].items[1]
    put = PutItem("J1", first, old)
    (placed,) = [item for item in changed(found, (put,)).boxes[0].items if item == first]
    assert edited(found, (put, PutItem("J1", second, placed))) == edited(found, (PutItem("J1", second, old),))
    assert edited(found, (put, DropItem("J1", placed))) == edited(found, (DropItem("J1", old),))
