"""A place's amendments are one more block: they take effect with the place named, and every fault in them is told."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom import SheetFaults, read_job
from ampleroom.editions import Amendments, CodeBook, blocks
from ampleroom.editions.amendments_file import read_amendments
from ampleroom.toml_file import as_toml
from tests.helpers import report

COLD_HARBOR = """place  = "Cold Harbor"
source = "Ordinance 12-4"

[[box_fill.grounds]]
from    = 2020
covered = 2

[[box_fill.terminal_blocks]]
from = 2017
each = 1
"""

COVERED = ", ".join(
    dict.fromkeys(str(block["covered"]) for block in blocks("box_fill.grounds") if block["covered"] != "all")
)
"""How many grounds one allowance covers, of every edition that has a number."""
NEWEST_COVERED = blocks("box_fill.grounds")[-1]["covered"]
"""The same by the newest edition: what a fault shows as an example."""
SHEET = """
amendments city.toml
box J1
  square 4 x 1-1/2
  clamps outside
  terminal block #12
run J1 > ? 3 x 12/2 nm-b
"""


def line_of(rule: str, edition: int, amendments: str = COLD_HARBOR):
    sheets = report(SHEET, edition, amendments).worksheets.values()
    (found,) = [line for sheet in sheets for line in sheet.lines if line.rule == rule]
    return found


def test_a_stricter_city_is_counted_by_and_named():
    line = line_of("box-fill-grounds", 2020)
    # three grounds, two covered: 1 + 1/4 of 2.25
    assert line.amount == Decimal("2.8125")
    assert line.why == "3 share one allowance, sized by the largest (#12); 1 past the first 2 adds 0.25 each"
    assert line.cite == "Cold Harbor amendment"
    assert line.confidence == "as Cold Harbor says"


def test_an_amendment_is_not_in_force_before_its_edition():
    assert line_of("box-fill-grounds", 2017).amount == Decimal("2.25")
    assert line_of("box-fill-grounds", 2017).cite == "314.16(B)(5)"
    assert line_of("box-fill-terminal-blocks", 2014).amount == 0
    assert line_of("box-fill-terminal-blocks", 2017).amount == Decimal("2.25")


def test_an_amendment_may_bring_its_own_citation():
    own = COLD_HARBOR.replace("covered = 2", 'covered = 2\ncite = "Cold Harbor 9-3"')
    assert line_of("box-fill-grounds", 2020, own).cite == "Cold Harbor 9-3"


def test_what_is_not_amended_stays_as_in_the_book():
    line = line_of("box-fill-conductors", 2020)
    assert (line.amount, line.cite, line.confidence) == (Decimal("13.50"), "314.16(B)(1)", "two sources")


def test_the_answer_names_the_place_and_the_tables():
    said = report(SHEET, 2020, COLD_HARBOR).to_json()["edition"]
    assert said["title"] == "2020 edition, amended by Cold Harbor"
    assert said["amended_by"] == "Cold Harbor"
    assert said["amended_tables"] == ["box_fill.grounds", "box_fill.terminal_blocks"]


def test_an_amended_table_counts_as_compared_in_the_provisional_edition():
    book = CodeBook(2026, Amendments("Cold Harbor", "", {"box_fill.grounds": [{"from": 2020, "covered": 2}]}))
    assert book.is_compared("box_fill.grounds")
    assert not book.is_compared("box_fill.clamps")


def test_every_table_of_boxes_may_be_amended():
    text = (
        'place = "X"\n'
        "[[box_room.measured]]\n"
        "from = 2008\n"
        "larger_than = 50\n"
        "[[box_depth.empty]]\n"
        "from = 2008\n"
        "depth = 1\n"
    )
    text += "[[conduit_bodies.cross_section]]\nfrom = 2008\ntimes = 3\n[[reminders.fan]]\nfrom = 2008\nmost_lb = 50\n"
    amendments, faults = read_amendments(text)
    assert faults == []
    assert sorted(amendments.tables) == [
        *("box_depth.empty", "box_room.measured", "conduit_bodies.cross_section", "reminders.fan")
    ]


def test_all_is_as_good_as_a_number():
    assert read_amendments('place = "X"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = "all"\n')[1] == []


def test_an_amended_allowance_is_named_in_every_line_that_uses_it():
    rows = "{ 18 = 1.5, 16 = 1.75, 14 = 2.25, 12 = 2.5, 10 = 2.75, 8 = 3, 6 = 5 }"
    text = f'place = "Cold Harbor"\n[[box_fill.conductor_room]]\nfrom = 2020\nrows = {rows}\n'
    line = line_of("box-fill-conductors", 2020, text)
    assert line.amount == 15  # 6 x 2.50
    assert "Cold Harbor" in line.cite + line.confidence + line.why


SMALLER_PAST_12 = "{ 18 = 1.5, 16 = 1.75, 14 = 2.25, 12 = 9, 10 = 2.5, 8 = 3, 6 = 5 }"
"""A made-up place that gives #12 more than any other size."""


def cables_of_unknown_size(number: int, volume: int):
    text = f'place = "Cold Harbor"\n[[box_fill.conductor_room]]\nfrom = 2020\nrows = {SMALLER_PAST_12}\n'
    runs = "run A > ? ?/2 nm-b\n" * number
    sheet = f"amendments city.toml\nbox A\n  marked {volume} in3\n  clamps none\n{runs}"
    (found,) = [finding for finding in report(sheet, 2023, text).findings if finding.rule == "box-fill"]
    return found


def test_where_a_place_gives_a_thicker_wire_less_every_size_is_tried():
    found = cables_of_unknown_size(1, 18)
    # 14/2 with its ground takes 3 x 2.25, 12/2 3 x 9
    assert (found.worst.needed, found.best.needed) == (27, Decimal("6.75"))
    assert found.verdict.word == "check needed"
    (size,) = found.facts
    assert size.settles == "#14: passes; #12: fails; #10, #8, #6: passes"
    assert size.swing == Decimal("20.25")
    assert cables_of_unknown_size(1, 27).verdict.word == "passes"


def test_past_the_most_cases_box_fill_is_open_though_there_is_room():
    """Six cables of five sizes each are more cases than are tried."""
    found = cables_of_unknown_size(6, 400)
    assert found.verdict.word == "check needed"
    assert found.message == "A: too many facts are not known to try them all"
    assert len(found.facts) == 6


# ---- faults --------------------------------------------------------------------------------------------------------

HEAD = 'place = "X"\n'


@pytest.mark.parametrize(
    ("text", "line", "column", "message", "hint"),
    [
        ("place = \n", 1, 9, "invalid value", "the file is TOML"),
        ("[", 1, 1, "invalid initial character for a key part", "the file is TOML"),
        (HEAD + "[[box_fill.grounds]]\nfrom = [2020\n", 3, 1, "unclosed array", "the file is TOML"),
        ("", 1, 1, "the file does not name the place it is for", 'write a line such as place = "Cold Harbor"'),
        (
            'place = " "\n',
            1,
            1,
            "the file does not name the place it is for",
            'write a line such as place = "Cold Harbor"',
        ),
        (
            "place = 3\n",
            1,
            1,
            "the file does not name the place it is for",
            'write a line such as place = "Cold Harbor"',
        ),
        (HEAD + "[[box_fil.grounds]]\n", 2, 3, "nothing called 'box_fil' can be amended", "did you mean 'box_fill'?"),
        (
            HEAD + "[[fees.height]]\n",
            *(2, 3, "nothing called 'fees' can be amended"),
            "write one of ampacity, box_depth, box_fill, box_room, by_place, cables_heat, conduit_bodies, equipment, "
            "grounding, loads, motors, multiwire, panels, protection, pull_boxes, raceways, reminders, "
            "resistance, voltage_drop, wire_ends, wireways",
        ),
        (
            HEAD + "\n[[box_fill.ground]]\nfrom = 2020\n",
            3,
            3,
            "no table 'ground' in box_fill",
            "did you mean 'grounds'?",
        ),
        (
            HEAD + "[box_fill.grounds]\nfrom = 2020\n",
            *(2, 2, "box_fill.grounds is written with one pair of brackets"),
            "write [[box_fill.grounds]]",
        ),
        (
            HEAD + "[[box_fill.grounds]]\ncovered = 2\n",
            *(2, 3, "since which edition? [[box_fill.grounds]] does not say"),
            "write a line such as from = 2020",
        ),
        (
            HEAD + '[[box_fill.grounds]]\nfrom = "2020"\n',
            *(3, 1, "from is '2020'"),
            "write the year of an edition, such as 2020",
        ),
        (
            HEAD + "[[box_fill.grounds]]\nfrom = 2020\ncover = 2\n",
            4,
            1,
            "box_fill.grounds has no 'cover'",
            "did you mean 'covered'?",
        ),
        (
            HEAD + "[[box_fill.grounds]]\nfrom = 2020\nzzz = 2\n",
            *(4, 1, "box_fill.grounds has no 'zzz'"),
            "write one of confidence, covered, extra, isolated_set",
        ),
        (
            HEAD + '[[box_fill.grounds]]\nfrom = 2020\n  covered = "two"\n',
            *(4, 3, "covered is 'two'"),
            f"write a number, such as {NEWEST_COVERED}",
        ),
        (
            HEAD + "# covered\n[[ box_fill.grounds ]]\nfrom = 2020\n[[box_fill.clamps]]\nfrom = 2020\ncovered = 1\n",
            *(7, 1, "box_fill.clamps has no 'covered'"),
            "write one of assembly, confidence, together",
        ),
        (
            'place = "Covered Slip"\n[[ box_fill.grounds ]]\nfrom = 2020\n covered = -2\n',
            *(4, 2, "covered is -2"),
            f"write a number of 0 or more, such as {NEWEST_COVERED}",
        ),
        (
            HEAD + "[[box_fill.grounds]]\nfrom = 2020\ncovered = -1\n",
            *(4, 1, "covered is -1"),
            f"write a number of 0 or more, such as {NEWEST_COVERED}",
        ),
        (HEAD + "source = 3\n", 2, 1, "source is 3", 'write it in quotes, such as "Ordinance 12-4"'),
        (
            HEAD + "[[box_fill.grounds]]\nfrom = 2020\nsource = 3\n",
            *(4, 1, "source is 3"),
            'write it in quotes, such as "Ordinance 12-4"',
        ),
        (
            HEAD + "[[box_fill.grounds]]\nfrom = 2020\ncite = 3\n",
            *(4, 1, "cite is 3"),
            'write it in quotes, such as "Ordinance 12-4"',
        ),
        (
            HEAD + "[[box_fill.fixture_wires]]\nfrom = 2020\nsmaller_than = 14\n",
            *(4, 1, "smaller_than is 14"),
            'write it in quotes, such as "14"',
        ),
    ],
    ids=lambda value: repr(value) if isinstance(value, str) else "",
)
def test_a_fault_is_told_with_its_place_and_what_to_do(text: str, line: int, column: int, message: str, hint: str):
    amendments, faults = read_amendments(text)
    assert [(fault.line, fault.column, fault.message, fault.hint) for fault in faults] == [
        (line, column, message, hint)
    ]
    assert amendments.tables == {}
    assert amendments.source == ""


@pytest.mark.parametrize("end", ["", "\n", "\n\n"])
def test_a_file_that_breaks_off_is_faulted_on_its_last_line(end: str):
    (fault,) = read_amendments('place = "X"\n[[box_fill.clamps]]\nfrom = [2020,' + end)[1]
    assert (fault.line, fault.column) == (3, 1)


def test_what_cannot_be_read_at_all_is_of_no_place():
    assert read_amendments("place = \n")[0] == Amendments("")


ALLOWANCES = "{ 18 = 1.50, 16 = 1.75, 14 = 2.00, 12 = 2.25, 10 = 2.50, 8 = 3.00, 6 = 5.00 }"


@pytest.mark.parametrize(
    ("table", "line", "message", "hint"),
    [
        ("box_fill.grounds", "covered = true", "covered is true", f"write a number, such as {NEWEST_COVERED}"),
        ("reminders.cover", "screws = 1", "screws is 1", "write true or false"),
        ("box_room.barrier", "metal = true", "metal is true", "write a number, such as 0.5"),
        (
            "box_fill.grounds",
            'isolated_set = "some"',
            "isolated_set is 'some'",
            "write a number, such as 0",
        ),
        (
            *("box_room.standard", "printed_sizes = []", "the printed_sizes of box_room.standard cannot be amended"),
            "confidence, rows",
        ),
        (
            *("box_fill.conductor_room", "rows = { 13 = 2 }", "box_fill.conductor_room has no row '13'"),
            "write one of 18, 16, 14, 12, 10, 8, 6",
        ),
        (
            "box_fill.conductor_room",
            "rows = { 112 = 2 }",
            "box_fill.conductor_room has no row '112'",
            "did you mean '12'?",
        ),
        (
            *("box_fill.conductor_room", 'rows = { 14 = "two" }'),
            *("14 is 'two'", "write a number, such as 2.00"),
        ),
        ("box_fill.conductor_room", "rows = 2", "rows is 2", f"write it as {ALLOWANCES}"),
    ],
)
def test_a_value_that_cannot_stand_there_is_told_on_its_line_with_what_can(
    table: str, line: str, message: str, hint: str
):
    (fault,) = read_amendments(f"{HEAD}[[{table}]]\nfrom = 2020\n{line}\n")[1]
    assert (fault.line, fault.message) == (4, message)
    if "cannot be amended" not in message:
        assert fault.hint == hint
    else:
        assert fault.hint.startswith("write one of confidence, ")


def test_a_fault_of_a_table_spelled_in_two_lines_is_told_at_its_name():
    (fault,) = read_amendments(HEAD + "[box_fill]\nground = 3\n")[1]
    assert (fault.line, fault.column, fault.message) == (3, 1, "no table 'ground' in box_fill")


def test_a_topic_that_is_a_number_is_told_with_a_table_it_holds():
    (fault,) = read_amendments(HEAD + "box_fill = 3\n")[1]
    assert (fault.line, fault.column, fault.message) == (2, 1, "box_fill is 3")
    assert fault.hint == "write one of its tables, such as [[box_fill.clamps]]"


def test_a_table_far_from_any_is_told_with_all_there_are():
    (fault,) = read_amendments(HEAD + "[[box_depth.zzz]]\nfrom = 2020\n")[1]
    assert fault.hint == "write one of by_conductor, empty, large, projecting, rear_entry, side_entry"


@pytest.mark.parametrize(
    ("table", "line"),
    [("reminders.cover", "screws = false"), ("box_fill.grounds", "covered = 0"), ("box_fill.grounds", "extra = 0.5")],
)
def test_no_and_nothing_and_a_half_may_be_written(table: str, line: str):
    assert read_amendments(f"{HEAD}[[{table}]]\nfrom = 2020\n{line}\n")[1] == []


@pytest.mark.parametrize(("value", "written"), [(True, "true"), (False, "false"), (4, "4"), ("all", '"all"')])
def test_a_value_is_told_as_one_would_write_it(value: object, written: str):
    assert as_toml(value) == written


def test_a_file_that_names_no_place_is_of_none():
    assert read_amendments("")[0].place == ""


def test_a_heading_may_have_spaces_in_it():
    text = HEAD + "[[box_fill.grounds]]\nfrom = 2020\n[[ box_fill.grounds ]]\nfrom = 2023\ncover = 2\n"
    assert [fault.line for fault in read_amendments(text)[1]] == [6]
    twice = (
        HEAD + "[[ box_fill.grounds ]]\nfrom = 2020\ncovered = 2\n[[ box_fill.grounds ]]\nfrom = 2023\ncovered = -1\n"
    )
    assert [fault.line for fault in read_amendments(twice)[1]] == [7]


def test_a_block_without_a_heading_is_told_where_it_stands():
    (fault,) = read_amendments('box_fill.grounds = [{ from = 2020, cover = 2 }]\nplace = "X"\n')[1]
    assert (fault.line, fault.column) == (1, 36)


@pytest.mark.parametrize(
    ("key", "hint"),
    [
        ('"cov\\u0065r"', "did you mean 'covered'?"),
        ('"z\\u007az"', "write one of confidence, covered, extra, isolated_set"),
    ],
)
def test_a_key_that_is_not_written_out_is_told_at_the_heading(key: str, hint: str):
    (fault,) = read_amendments(f"{HEAD}# a remark\n[[box_fill.grounds]]\nfrom = 2020\n{key} = 2\n")[1]
    assert (fault.line, fault.column, fault.hint) == (3, 1, hint)


def test_a_remark_is_not_the_place_of_a_fault():
    text = HEAD + "[[box_fill.grounds]]\nfrom = 2020\n# cover = 4 was meant once\ncover = 2\n"
    assert [fault.line for fault in read_amendments(text)[1]] == [5]


def test_rows_that_are_not_amended_stay_as_in_the_book():
    text = f"{HEAD}[[box_fill.conductor_room]]\nfrom = 2020\nrows = {{ 14 = 2.25 }}\n"
    amendments, faults = read_amendments(text)
    assert faults == []
    rows = CodeBook(2020, amendments).block("box_fill.conductor_room")["rows"]
    assert (rows["14"], rows["12"]) == (Decimal("2.25"), Decimal("2.25"))
    assert CodeBook(2017, amendments).block("box_fill.conductor_room")["rows"]["14"] == 2


def test_all_faults_are_told_at_once():
    text = "[[box_fill.ground]]\nfrom = 2020\n[[box_fil.clamps]]\n[[box_fill.clamps]]\ntogether = 1\n"
    assert len(read_amendments(text)[1]) == 4


def test_a_fault_in_the_file_is_a_fault_of_the_job():
    with pytest.raises(SheetFaults) as refused:
        read_job(SHEET, beside=lambda name: HEAD + "[[box_fill.grounds]]\nfrom = 2020\ncover = 2\n")
    (fault,) = refused.value.faults
    assert (fault.file, fault.line, fault.column) == ("city.toml", 4, 1)
    assert fault.source == "cover = 2"


def test_a_file_that_is_not_there_is_told_at_the_line_that_names_it():
    nothing: dict[str, str] = {}
    with pytest.raises(SheetFaults) as refused:
        read_job(SHEET, beside=nothing.__getitem__)
    (fault,) = refused.value.faults
    assert (fault.line, fault.column) == (2, 12)
    assert fault.message == "there is no file 'city.toml' beside the sheet"


def test_a_fault_in_a_second_block_is_told_there():
    text = HEAD + '[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n[[box_fill.grounds]]\nfrom = 2023\ncovered = "two"\n'
    assert [fault.line for fault in read_amendments(text)[1]] == [7]


def test_a_block_that_is_no_block_is_told():
    (fault,) = read_amendments(HEAD + "[box_fill]\ngrounds = [3]\n")[1]
    assert (fault.line, fault.column, fault.message) == (3, 1, "box_fill.grounds holds 3")
    assert fault.hint == "write [[box_fill.grounds]], and its values on lines below"


def test_more_than_a_hundred_faults_are_not_listed():
    text = 'place = "Cold Harbor"\n[[box_fill.grounds]]\nfrom = 2020\n' + "".join(f"k{n} = 1\n" for n in range(5000))
    _, faults = read_amendments(text)
    assert [fault.line for fault in faults] == [*range(4, 104), 104]
    assert faults[99].message == "box_fill.grounds has no 'k99'"
    assert (faults[100].message, faults[100].hint) == ("and more faults, not listed", "fix those above first")


def test_a_fault_is_looked_for_in_its_own_block():
    first = "[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n"
    second = "[[ box_fill.grounds ]]\nfrom = 2023\ncovered = 'x'\n"
    text = f"place = 'C'\n{first}{second}"
    _, (fault,) = read_amendments(text)
    assert (fault.line, fault.column) == (7, 1)
