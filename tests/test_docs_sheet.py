"""docs/sheet.md: every kind of line stands in it, every sheet in any document is read, and what it claims is so."""

import io

import pytest

from ampleroom import check
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_report
from ampleroom.editions import OFFERED, READINGS
from ampleroom.editions.amendments_file import read_amendments
from ampleroom.editions.readings import Reading
from ampleroom.job import Sheet, nicknames, read_job, read_with_faults, write_job
from ampleroom.job.lines import STATEMENTS
from ampleroom.job.lines.box_base import BODIES
from ampleroom.job.lines.box_contents import CLAMP_WAYS, WALLS
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.mounting import WAYS
from ampleroom.job.lines.runs import CABLE_KINDS
from ampleroom.job.trade import COLORS, DEVICE_KINDS, DEVICES, INSULATIONS, SIZES
from ampleroom.job.words import LENGTHS, VOLUMES
from tests.documents import DOCUMENTS, ROOT, blocks, codes, rows
from tests.job.helpers import AMENDMENTS, AROUND, UNDER

SHEET = ROOT / "docs" / "sheet.md"
JOBS = [(path, block) for path in DOCUMENTS for block in blocks(path) if block.language == "job"]


def place(value):
    path, block = value
    return f"{path.name}:{block.line}"


def faults(text):
    return [fault.first_line for fault in read_with_faults(Sheet(text), lambda name: AMENDMENTS)[1]]


def line_is_read(line):
    """Whether a line can stand in a sheet, under a box or on its own."""
    word = line.lower().split()[0] if line.split() else ""
    if word in ("box", "kind"):
        return not faults(("kind nail-on\n" if word == "box" else "box J8\n") + f"{line}\n")
    if word in UNDER or word.isdigit() or word.endswith("x"):
        about = "  space left 1/2\n  space right 1/2\n" if word == "barrier" else ""
        before, after = ("  barrier metal\n", "  space right 1 gang\n") if word == "space" else ("", "")
        around = AROUND + ("raceway R2 P > J9 emt 1\n" if word == "apart" else "")
        return not faults(f"{around}box X1\n{before}  {line}\n{about}{after}")
    around = AROUND.replace("panel P\n", "") if word == "panel" else AROUND
    around = around.replace("circuit 3\n", "") if word == "circuit" else around
    around = around.replace("route attic\n", "") if word == "route" else around
    around = around.replace("raceway R1 P > J9 emt 1\n", "") if word == "raceway" else around
    around += "raceway R2 J9 > J1 emt 1\nroute crawl\n"
    return not faults(f"{around}equipment {'Z' if word == 'equipment' else 'K1'}\n{line}\n")


@pytest.mark.parametrize("value", JOBS, ids=place)
def test_every_sheet_in_a_document_is_read_without_fault(value):
    assert faults(value[1].text) == []


@pytest.mark.parametrize("statement", STATEMENTS, ids=lambda statement: statement.words[0])
def test_every_kind_of_line_stands_in_the_document_by_its_example(statement):
    assert statement.example in codes(SHEET.read_text("utf-8"))


def test_the_answers_shown_are_the_answers_given():
    answers, sheet = 0, ""
    for block in blocks(SHEET):
        if block.language == "job":
            sheet = block.text
        elif block.language == "answer":
            out = io.StringIO()
            job, _ = read_with_faults(Sheet(sheet, "sheet.job"))
            write_report(check(job), Paper(out, 80, color=False))
            assert block.text in out.getvalue()
            answers += 1
    assert answers >= 3


def test_the_faults_shown_are_the_faults_told():
    sheet = "job Studio\nedition 2020\npanel P\nbox J1\n  sqaure 4 x 1-1/2\n  switch #13\n"
    told = "\n\n".join(fault.text for fault in read_with_faults(Sheet(sheet, "studio.job"))[1]) + "\n"
    assert [block.text for block in blocks(SHEET) if block.language == "answer-faults"] == [told]


def test_the_amendments_shown_are_read():
    (shown,) = [block.text for block in blocks(SHEET) if block.language == "toml"]
    amendments, told = read_amendments(shown)
    assert (amendments.place, told) == ("Cold Harbor", [])


# ---- tables ---------------------------------------------------------------------------------------------------------

LINES = [
    row
    for heading in (
        "About the whole job",
        "Boxes and other places",
        "What a box is",
        "What is in it",
        "Circuits, raceways, routes",
    )
    for row in rows(SHEET, heading)
]


@pytest.mark.parametrize("row", LINES, ids=lambda row: codes(row[0])[0].split()[0])
def test_a_line_of_the_tables_is_read(row):
    for line in codes(row[0]):
        assert line_is_read(line), line


@pytest.mark.parametrize("row", [row for row in LINES if len(row) > 2], ids=lambda row: codes(row[0])[0].split()[0])
def test_what_may_follow_a_line_may(row):
    line = codes(row[0])[0]
    for more in codes(row[2]):
        begun = " ".join(line.split()[: 3 if line.startswith("fixture") else 2])
        assert any(
            map(line_is_read, (f"{line} {more}", f"{begun} {more}", f"{line.replace(' at ', f' {more} at ')}"))
        ), more


WRITTEN = {
    "number": "mounted cavity {}",
    "conductor size": "switch {}",
    "count": "{} switch",
    "inside length of a box": "mounted cavity {}",
    "length of a run": "run P > J1 12/2 nm-b {}",
    "volume": "marked {}",
    "trade size of a box": "square {}",
    "load": "circuit 1 {}",
    "temperature": "route ridge ambient {}",
    "cable": "run P > J1 {}",
}


@pytest.mark.parametrize("row", rows(SHEET, "Sizes, lengths, volumes"), ids=lambda row: row[0])
def test_a_quantity_may_be_written_as_the_document_says(row):
    for said in codes(row[1]):
        assert line_is_read(WRITTEN[row[0]].format(said)), said


def test_the_words_after_a_run_may_follow_a_run():
    for row in rows(SHEET, "Runs")[2:]:
        for said in codes(row[0]):
            many = "2 x " if said in ("2 x", "2 sets") else ""
            line = f"run P > J1 {many}12/2 nm-b {said if said != '2 x' else ''}"
            assert line_is_read(line), said


def test_what_may_be_unknown_is_read():
    for row in rows(SHEET, "What nobody knows"):
        for said in codes(row[0]):
            said = said.replace("J1 loop", "J9 loop")
            told = (said, f"run P > J1 {said}", f"run P > J1 12/2 nm-b {said}", f"{said.replace('...', '12/2 nm-b')}")
            assert said == "clamps" or any(map(line_is_read, told)), said


WORDS = {
    "devices": DEVICES,
    "kinds of device, before the device's word": DEVICE_KINDS,
    "cables": (*CABLE_KINDS, "?"),
    "insulation": INSULATIONS,
    "colors": COLORS,
    "conductor sizes": SIZES,
    "raceways": RACEWAY_KINDS,
    "conduit bodies": BODIES,
    "clamps": (*CLAMP_WAYS, "?"),
    "mountings": WAYS,
    "walls of a pull box": WALLS,
    "units of length": tuple(LENGTHS),
    "units of volume": tuple(VOLUMES),
}
USED = {
    "devices": "single {} #12",
    "kinds of device, before the device's word": "{} switch #12",
    "cables": "run P > J1 12/2 {}, ground #12",
    "insulation": "wires P > J1 3 x #12 {}",
    "colors": "wires P > J1 3 x #12 {}",
    "conductor sizes": "receptacle #{}",
    "raceways": "raceway R8 P > J9 {} 1",
    "conduit bodies": "conduit body {} 3/4",
    "clamps": "clamps {}",
    "mountings": "mounted {}",
    "walls of a pull box": "entry R1 {}",
    "units of length": "run P > J1 12/2 nm-b 38 {}",
    "units of volume": "marked 20.3 {}",
}


def test_the_lists_of_words_are_those_of_the_code():
    assert {row[0]: tuple(codes(row[1])) for row in rows(SHEET, "All the words")} == WORDS


@pytest.mark.parametrize("name", WORDS)
def test_every_word_of_the_lists_can_be_used(name):
    for word in WORDS[name]:
        line = USED[name].format(word) + (" 0.8 in3" if word == "assembly" else "")
        if word == "rear":
            line = "entry rear center"
        assert line_is_read(line), line


def choices_told(reading: Reading) -> list[str]:
    """The default, and in the next column the other choices, or none."""
    default, *others = [f"`{choice}`: {means}" for choice, means in reading.choices.items()]
    return [default, "; ".join(others) or "none"]


def test_the_disputed_points_are_told_as_the_tables_have_them():
    told = [
        [
            f"`{name}`",
            f"{reading.asks[:1].upper()}{reading.asks[1:]}",
            *choices_told(reading),
        ]
        for name, reading in READINGS.items()
        if reading.judged
    ]
    assert rows(SHEET, "Disputed points") == told


def test_a_sheet_may_set_every_choice_of_a_disputed_point():
    for row in rows(SHEET, "Disputed points"):
        choices = [codes(cell)[0] for cell in row[2:] if codes(cell)]
        assert all(line_is_read(f"reading {codes(row[0])[0]} {choice}") for choice in choices)


def test_every_edition_offered_stands_in_the_document():
    said = next(row[1] for row in rows(SHEET, "About the whole job") if row[0] == "`edition 2020`")
    assert all(str(year) in said for year in OFFERED)


# ---- the trade's words -----------------------------------------------------------------------------------------------

TABLES = {
    "box": nicknames.BOXES,
    "ring or cover": nicknames.PARTS,
    "line": nicknames.BOX_LINES,
    "device": nicknames.DEVICES,
    "word of a run": nicknames.CABLES,
    "raceway": nicknames.RACEWAYS,
    "wireway": nicknames.WIREWAYS,
    "word of a panel": nicknames.PANELS,
    "first word": nicknames.HEADS,
}
"""The tables of nicknames by the head of their first column in the document."""
MEANS_NOTHING = {"any": "no more than that it is a box", "": "nothing that a box needs"}


def trade_rows(head):
    """The rows of the table of the trade's words whose first column is called so: words, and how they are read."""
    section = SHEET.read_text("utf-8").split("## The trade's words\n")[1].split("\n## ")[0]
    table = section.split(f"| {head} | read as |\n|---|---|\n")[1].split("\n\n")[0]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in table.splitlines()]


@pytest.mark.parametrize("head", TABLES)
def test_every_trade_word_that_is_read_stands_in_the_document(head):
    written = {word: (codes(row[1]) or [row[1]])[0] for row in trade_rows(head) for word in codes(row[0])}
    assert written == {word: MEANS_NOTHING.get(plain, plain) for word, plain in TABLES[head].items()}


def test_every_question_asked_back_stands_in_the_document():
    said = codes(SHEET.read_text("utf-8").split("Asked back, with the choices:")[1].split("\n\n")[0])
    assert set(nicknames.ASKED) <= set(said)


@pytest.mark.parametrize("row", trade_rows("as typed"), ids=lambda row: row[0])
def test_a_line_as_typed_is_written_back_as_the_document_says(row):
    (typed,), plain = codes(row[0]), codes(row[1])
    around = AROUND.replace("raceway R1 P > J9 emt 1\n", "")
    around = around.replace("box J9\n", "") if typed.startswith("J9 ") else around
    if (
        typed.startswith(("code", "rough", "panel", "box", "ckt", "raceway", "J9 ", "J1-J9", "12-2 HR"))
        or " J9" in typed
        or "homerun" in typed
    ):
        text = f"{around}{typed}\n"
    else:
        text = f"{around}box X1\n  {typed}\n"
    job, told = read_with_faults(Sheet(text))
    assert told == []
    lines = [line.strip() for line in write_job(job).split("\n")]
    assert [line for line in plain if line not in lines] == []
    assert read_job(write_job(job)) == job
