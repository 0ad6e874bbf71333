"""ask: one box typed in a line; the edition by year, by place, or set once."""

import pytest

from tests.cli.helpers import inside, outside
from tests.documents import ROOT, blocks

QUESTION = "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12"


def told(ran):
    return " ".join((ran.out + ran.err).split())


def test_the_whole_answer_on_one_screen(folder):
    ran = inside("ask", QUESTION, "--edition", "2020")
    assert ran.status == 1
    assert ran.out.startswith("X FAILS")
    assert len(ran.out.split("\n")) <= 36
    for words in (
        "2020 edition",
        "B1 is 1.50 in3 over: box fill 22.50 in3, box volume 21.00 in3",
        "Spliced or terminated here, #12: 6 x 2.25 = 13.50 314.16(B)(1)",
        "What else fits, one kind at a time nothing more",
        "Smallest standard box that would do square 4-11/16 x 1-1/4, 25.50 in3",
        "run B1 > ? 3 x 12/2 nm-b",
        "not an approval.",
    ):
        assert words in told(ran), words


def test_the_first_screen_of_the_readme_is_what_is_printed(folder, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    readme = ROOT / "README.md"
    (block,) = [block for block in blocks(readme) if block.language == "text" and "FAILS" in block.text]
    assert f'./run ask "{QUESTION}" --edition 2020\n' in readme.read_text("utf-8")
    assert block.text == inside("ask", QUESTION, "--edition", "2020").out
    assert block.line < 20


def test_words_need_no_quotes(folder):
    assert inside("ask", *QUESTION.split(), "--edition", "2020") == inside("ask", QUESTION, "--edition", "2020")


@pytest.mark.parametrize(
    ("question", "status"),
    [
        ("square 4 x 2-1/8, 2 x 12/2 nm-b, clamps inside", 0),
        (QUESTION, 1),
        ("sqare 4 x 1-1/2", 2),
        ("3 x 12/2 nm-b, clamps inside", 3),
    ],
)
def test_the_status_is_that_of_the_box(folder, question, status):
    assert inside("ask", question, "--edition", "2020").status == status


@pytest.mark.parametrize(
    "question",
    [QUESTION, "device 3 x 2 x ?, 2 x 12/2 nm-b, receptacle #12", "marked ? in3, ? x 14/2 nm-b, clamps tabs",
     "12/2 old, ground #16"],
)  # fmt: skip
@pytest.mark.parametrize("edition", ["2011", "2020", "2026"])
def test_the_sheet_it_prints_is_checked_to_the_same_answer(folder, question, edition):
    asked = inside("ask", question, "--edition", edition, "--json", "--to", "kept.job")
    checked = inside("check", "kept.job", "--json")
    assert asked.status == checked.status
    assert (folder / "kept.job").read_text("utf-8") == asked.json["sheet"]
    same = {"job": {"title": "", "file": "kept.job"}, "schema": "ampleroom-report/2"}
    again = {key: value for key, value in asked.json.items() if key in checked.json}
    assert str({**again, **same}).replace("'file': 'question'", "'file': 'kept.job'") == str(checked.json)


def test_the_sheet_stands_in_the_answer_as_it_is_kept(folder):
    ran = inside("ask", QUESTION, "--edition", "2020", "--to", "kept")
    assert (folder / "kept.job").read_text("utf-8") in ran.out
    again = inside("ask", QUESTION, "--edition", "2020", "--to", "kept")
    assert (again.status, again.out) == (2, "")
    assert "kept.job is there already" in again.err
    assert (folder / "kept.job").read_text("utf-8") in ran.out


def test_a_part_that_cannot_be_read_is_shown_in_the_text_as_typed(folder):
    ran = inside("ask", "square 4 x 1-1/2, 3 x 12/2 nm-bb", "--edition", "2020")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        "question:1:28: part 2, '3 x 12/2 nm-bb': unknown kind of cable 'nm-bb'\n"
        "    1 | square 4 x 1-1/2, 3 x 12/2 nm-bb\n"
        "      |                            ^^^^^ did you mean 'nm-b'?\n"
        "\n"
        "question: 1 part cannot be read; nothing was checked\n"
    )
    said = inside("ask", "square 4 x 1-1/2, 3 x 12/2 nm-bb", "--edition", "2020", "--json").json
    assert said["faults"][0]["column"] == 28


def test_a_hostile_question_does_not_write_to_the_terminal(folder):
    ran = inside("ask", "sqare \x1b[31m, receptacle #12 for \x1b]0;x\x07", "--edition", "2020")
    assert "\x1b" not in ran.err


def test_a_dash_reads_the_question_from_standard_input(folder):
    ran = outside("ask", "-", "--edition", "2020", typed=b"square 4 x 2-1/8, 12/2 nm-b\nclamps inside\n")
    assert ran.status == 0, ran.err
    assert outside("ask", "-", "--edition", "2020", typed=b"x" * 9000).err.startswith("ampleroom ask: the question has")


# ---- the edition ---------------------------------------------------------------------------------------------------


def test_without_an_edition_it_is_refused_with_the_list(folder):
    ran = inside("ask", QUESTION)
    assert (ran.status, ran.out) == (2, "")
    assert (
        "which edition of the code is adopted there? Ask your authority, and give the year: one of 2008, 2011"
        in ran.err
    )


def test_the_edition_set_once_is_used_and_told(folder):
    assert inside("settings", "edition", "2017").status == 0
    ran = inside("ask", QUESTION)
    assert "2017 edition (your settings)" in ran.out
    assert inside("ask", QUESTION, "--json").json["edition_from"] == "settings"
    assert "(your settings)" not in inside("ask", QUESTION, "--edition", "2017").out
    assert "edition  2017 " in inside("new").out


def test_the_edition_of_a_place_is_told_with_its_age_and_to_be_verified(folder):
    ran = inside("ask", "square 4 x 2-1/8, 12/2 nm-b, clamps inside", "--adopted", "colorado")
    assert ran.status == 0
    assert (
        "Colorado: 2023 edition since 2023-08-01 (snapshot; a trade educator's state list, undated page of "
        "about 2024 to 2025). Verify with your authority."
    ) in told(ran)
    made = inside("new", "--adopted", "CO")
    assert "\nedition  2023 " in made.out
    assert "Verify with your authority." in made.out
    assert inside("new", "there.job", "--adopted", "CO").out.startswith("Colorado: 2023 edition")


@pytest.mark.parametrize("command", [["ask", "12/2 nm-b"], ["new"]])
def test_a_place_that_is_not_certain_or_not_known_is_not_picked_for(folder, command):
    inside("settings", "edition", "2020")
    for place, words in (
        ("California", "2023 edition since 2026-01-01 (projected;"),
        ("Oklahoma", "(probably superseded;"),
        ("Ohio", "The list has Alabama;"),
    ):
        ran = inside(*command, "--adopted", place)
        assert (ran.status, ran.out) == (2, "")
        assert words in ran.err
    assert inside(*command, "--adopted", "Alaska", "--edition", "2020").status == 2


SHEET = "edition 2017\npanel P\nbox J1  at the stair\n  square 4 x 1-1/2\n\nrun P > J1 12/2 nm-b\n"


def test_a_question_is_kept_as_a_box_of_a_sheet_that_is_there_and_taken_back(folder):
    (folder / "stair.job").write_text(SHEET, "utf-8")
    ran = inside("ask", "4 square deep, 2 12/2 nm, clamps inside, duplex #12", "--into", "stair.job", "--as", "J7")
    assert ran.status == 0
    assert ran.out.split("\n")[0].split() == ["o", "PASSES", "2017", "edition"]  # the sheet's
    assert "As a sheet, kept in stair.job as J7" in ran.out
    assert (folder / "stair.job").read_text("utf-8") == SHEET.replace(
        "1-1/2\n", "1-1/2\n\nbox J7\n  square 4 x 2-1/8\n  clamps inside\n  duplex receptacle #12\n"
    ) + ("run J7 > ? 2 x 12/2 nm-b\n")
    assert inside("check", "stair.job").out.split("\n")[1] == "2 boxes: 2 pass"
    assert inside("remedy", "stair.job", "--undo").status == 0
    assert (folder / "stair.job").read_text("utf-8") == SHEET


@pytest.mark.parametrize(
    ("words", "told_so"),
    [
        (("--into", "stair.job"), "add --as NAME"),
        (("--as", "J7"), "add --into FILE"),
        (("--into", "stair.job", "--as", "j1"), "J1 is already on line 3 of the sheet"),
        (("--into", "stair.job", "--as", "J/7"), "'J/7' cannot name a box"),
        (("--into", "nowhere.job", "--as", "J7"), "there is no file nowhere.job"),
    ],
)
def test_what_cannot_be_kept_in_a_sheet_leaves_it_as_it_was(folder, words, told_so):
    (folder / "stair.job").write_text(SHEET, "utf-8")
    ran = inside("ask", QUESTION, *words)
    assert ran.status == 2
    assert told_so in told(ran)
    assert (folder / "stair.job").read_text("utf-8") == SHEET


def test_a_cable_of_no_kind_keeps_its_kind_in_a_sheet_that_has_another_usual_one(folder):
    (folder / "stair.job").write_text("cable mc\n" + SHEET, "utf-8")
    inside("ask", "4 square deep, 12/2", "--into", "stair.job", "--as", "J7")
    assert "run J7 > ? 12/2 nm-b\n" in (folder / "stair.job").read_text("utf-8")


def test_a_sheet_with_no_box_yet_is_told_how_to_begin(folder):
    (folder / "stair.job").write_text("edition 2017\npanel P\n", "utf-8")
    ran = inside("ask", QUESTION, "--into", "stair.job", "--as", "J7")
    assert ran.status == 2
    assert "there is no box in the sheet yet" in told(ran)
