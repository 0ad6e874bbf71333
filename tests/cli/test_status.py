"""Exit statuses, and what is in the way of an answer."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.helpers import FAILS, OPEN, PASSES, inside, outside

STATUS = {"passes": 0, "fails": 1, "open": 3, "faulty": 2, "no-edition": 2, "not-there": 2}
NO_SHEETS = {
    "empty": b"",
    "remarks": b"# nothing yet\n",
    "utf16": "box J1\n".encode("utf-16"),
    "workbook": b"PK\x03\x04....",
    "pdf": b"%PDF-1.7\n",
    "rubbish": bytes(range(256)) * 9,
    "zero": b"box J1\n\x00",
    "large": b"#" * 25_000_000,
}


@pytest.mark.parametrize(("name", "status"), STATUS.items())
def test_check_ends_with_the_status_of_the_worst_box(folder, name, status):
    assert inside("check", f"{name}.job").status == status


@pytest.mark.parametrize(("name", "status"), STATUS.items())
def test_show_ends_with_the_status_of_its_box(folder, name, status):
    assert inside("show", "j1", f"{name}.job").status == status


@pytest.mark.parametrize(("name", "status"), STATUS.items())
def test_fits_with_a_cable_ends_with_the_status_of_the_box_with_it(folder, name, status):
    assert inside("fits", "J1", f"{name}.job", "--cable", "14/2", "nm-b").status == status


@pytest.mark.parametrize("name", ["passes", "fails", "open"])
def test_fits_without_a_cable_is_a_list_and_ends_well(folder, name):
    assert inside("fits", "J1", f"{name}.job").status == 0


def test_the_status_is_that_of_the_process(folder):
    assert [outside("check", f"{name}.job").status for name in ("passes", "fails", "faulty", "open")] == [0, 1, 2, 3]


def test_a_failing_box_weighs_more_than_an_open_one(folder):
    (folder / "both.job").write_text(FAILS + OPEN.partition("2020\n")[2].replace("J1", "J2"))
    assert inside("check", "both.job").status == 1


def test_another_edition_may_be_asked_for_where_the_sheet_says_none(folder):
    assert inside("check", "no-edition.job", "--edition", "2017").status == 0
    told = inside("check", "no-edition.job").err
    assert told.startswith(
        "ampleroom check: the sheet does not say which edition of the code is adopted there; write a line"
    )


@pytest.mark.parametrize("data", NO_SHEETS.values(), ids=NO_SHEETS)
def test_a_file_that_is_no_sheet_ends_with_two_and_a_word(folder, data):
    (folder / "odd.job").write_bytes(data)
    ran = inside("check", "odd.job")
    assert (ran.status, ran.out) == (2, "")
    assert "odd.job" in ran.err
    assert "Traceback" not in ran.err


def test_a_folder_ends_with_two_and_a_word(folder):
    ran = inside("check", str(folder))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.endswith("is a folder; name the job sheet in it\n")


def test_the_faults_of_a_sheet_are_all_told_with_their_lines(folder):
    ran = inside("check", "faulty.job")
    assert ran.out == ""
    assert ran.err == (
        "faulty.job:4:3: unknown word 'sqare'\n"
        "    4 |   sqare 4 x 1-1/2\n"
        "      |   ^^^^^ did you mean 'square'?\n"
        "\n"
        "faulty.job:5:10: '#13' is not a conductor size\n"
        "    5 |   switch #13\n"
        "      |          ^^^ write #14 or #12\n"
        "\n"
        "faulty.job: 2 lines cannot be read; nothing was checked\n"
    )


def test_the_only_sheet_of_a_folder_need_not_be_named(folder):
    told = inside("check").err
    assert (
        told == "ampleroom check: which sheet? There are fails.job, faulty.job, no-edition.job, open.job, passes.job\n"
    )
    for path in folder.glob("*.job"):
        if path.name != "passes.job":
            path.unlink()
    assert inside("check").status == inside("show", "J1").status == inside("fits", "J1").status == 0
    (folder / "passes.job").unlink()
    assert inside("check").err.endswith("there is no .job file in this folder; 'new' writes a starter sheet\n")


def test_a_dash_reads_the_sheet_from_standard_input(folder):
    ran = outside("check", "-", typed=PASSES.encode())
    assert ran.status == 0
    assert "J1" in ran.out
    assert outside("check", "-", typed=b"box J1\nwrod\n").err.startswith("standard input:2:1: unknown word 'wrod'")
    assert outside("check", "-", typed=b"\xff\xfeb\x00").err.startswith(
        "ampleroom check: standard input is saved as UTF-16"
    )
    assert outside("show", "J1", "-", "--json", typed=PASSES.encode()).json["job"]["file"] == "standard input"


def test_what_comes_in_without_end_is_given_up(folder):
    ran = outside("check", "-", typed=b"#" * 24_000_002)
    assert ran.status == 2
    assert ran.err.startswith("ampleroom check: standard input is over 24 MB")


def test_an_edition_that_is_not_offered_ends_with_two(folder):
    for words in (["check", "passes.job"], ["show", "J1", "passes.job"], ["rule", "box-fill-grounds"]):
        ran = inside(*words, "--edition", "1999")
        assert ran.status == 2
        assert "no 1999 edition is offered; the editions are 2008, 2011" in ran.err
    assert inside("check", "passes.job", "--edition", "new").status == 2


def test_an_interrupt_ends_quietly(folder, monkeypatch):
    def interrupted(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr("ampleroom.cli.run", interrupted)
    assert inside("check") == (130, "", "stopped\n")


def test_no_command_writes_over_the_sheet(folder):
    for words in (
        ["packet", "passes.job", "--to", "passes.job"],
        ["map", "passes.job", "--to", "passes.job"],
        ["show", "J1", "passes.job", "--picture", "passes.job"],
        ["convert", "passes.job", "--to", "passes.job"],
        ["new", "passes.job"],
    ):
        ran = inside(*words)
        assert (ran.status, ran.out) == (2, "")
        assert ran.err.startswith(f"ampleroom {words[0]}: ")
        assert (folder / "passes.job").read_text() == PASSES


@pytest.mark.parametrize("command", ["check", "show", "fits", "remedy", "takeoff", "map", "packet", "convert"])
def test_every_command_tells_a_sheet_that_is_not_there(folder, command):
    words = {"show": ["J1", "gone.job"], "fits": ["J1", "gone.job"], "convert": ["gone.job", "--to", "gone.xlsx"]}
    ran = inside(command, *words.get(command, ["gone.job"]))
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"ampleroom {command}: there is no file gone.job; ")
    assert inside().status == 0


def test_a_cold_check_loads_no_parser_of_toml_and_no_pathlib():
    code = "import sys; from ampleroom.cli import main; main(['check', 'examples/studio.job']); print(*sys.modules)"
    for _ in range(2):  # the first may have tables to compile
        done = subprocess.run(
            [sys.executable, "-I", "-S", "-c", f"import sys; sys.path.insert(0, 'src'); {code}"],
            cwd=Path(__file__).parents[2],
            capture_output=True,
            text=True,
            check=True,
        )
    assert not {"tomllib", "pathlib", "json", "dataclasses", "difflib"} & set(done.stdout.split("\n")[-2].split())
