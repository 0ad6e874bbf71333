"""What check, show and fits print."""

import pytest

from ampleroom.cli.check import Options, parser, plainly
from tests.cli.helpers import PASSES, inside

AMENDED = """job Ice house
edition 2020
amendments harbor.toml
box J1 at the chute
  square 4 x 1-1/2
  clamps inside
run J1 > ? 2 x 12/2 nm-b
run J1 > ? 14/2 old, ground #16
"""
HARBOR = (
    'place = "Cold Harbor"\n'
    'source = "Ordinance 12-4"\n'
    "[[box_fill.grounds]]\n"
    "from = 2020\n"
    'cite = "Cold Harbor 5"\n'
    "covered = 2\n"
)


@pytest.fixture
def amended(folder):
    (folder / "amended.job").write_text(AMENDED)
    (folder / "harbor.toml").write_text(HARBOR)
    return folder


def test_a_failing_box_is_told_with_its_place_both_numbers_the_difference_and_the_rule(folder):
    told = " ".join(inside("check", "fails.job").out.split())
    assert "X FAILS J1 at the vat fails.job:3:1 15.00 in3 over: box fill 22.50 in3, box volume 7.50 in3" in told
    whole = " ".join(inside("check", "--all", "fails.job").out.split())
    assert "box volume 7.50 in3 [box-fill]" in whole
    assert "cables too many 314.16, 2020 edition" in whole


def test_an_open_box_is_told_with_what_to_find_out_and_where(folder):
    told = " ".join(inside("check", "open.job").out.split())
    assert "Check this: 1. the volume marked in J1 (line 4): passes if 9.00 in3 or more" in told


def test_failing_boxes_come_first_then_open_ones_then_the_rest(folder):
    sheet = (
        "edition 2020\n"
        "box A\n"
        "  square 4 x 1-1/2\n"
        "  switch #14\n"
        "box B\n"
        "  marked ? in3\n"
        "  switch #14\n"
        "box C\n"
        "  device 3 x 2 x 1-1/2\n"
        "  2 x switch #12\n"
    )
    (folder / "order.job").write_text(sheet)
    told = inside("check", "order.job").out
    assert told.index("FAILS  C") < told.index("CHECK NEEDED  B") < told.index("PASSES  1 box")


def test_what_no_rule_judges_is_told_under_the_counts_and_is_no_pass(folder):
    more = "panel P main 200 A\nraceway R1 P > J1 emt 1\ncircuit 3 20 A 3000 VA continuous\nload range 12 kW\n"
    (folder / "more.job").write_text(PASSES + more)
    told = inside("check", "more.job")
    assert told.status == 3
    lines = told.out.split("\n")
    assert lines[1:3] == [
        "1 box, 1 raceway, 1 circuit: 2 need a check, 1 passes",
        "Not judged: 1 load, 1 panel",
    ]
    assert inside("check", "more.job", "--json").json["verdict"] == "check needed"
    shown = inside("show", "J1", "more.job", "--json")
    assert (shown.status, shown.json["verdict"], shown.json["not_judged"]) == (0, "passes", [])
    assert "Not judged" not in inside("check", "passes.job").out


def test_a_box_with_nothing_in_it_or_of_unknown_volume_is_no_pass(folder):
    (folder / "empty.job").write_text("edition 2020\nbox J1\n  square 4 x 1-1/2\nbox J2\n  marked ? in3\nbox J3\n")
    ran = inside("check", "empty.job")
    told = " ".join(ran.out.split())
    assert ran.status == 3
    assert "CHECK NEEDED J1 empty.job:2:1 nothing in it yet; box volume 21.00 in3" in told
    assert "nothing in it yet; box volume not known" in told
    assert "full" not in told


def test_an_edition_that_is_provisional_says_so_first(folder):
    lines = inside("check", "passes.job", "--edition", "2026").out.split("\n")
    assert "(provisional)" in lines[0]
    assert lines[1].startswith("  Provisional: the 2023 rules are used")


def test_an_amended_edition_names_the_place_and_its_lines_cite_it(amended):
    told = " ".join(inside("check", "amended.job").out.split())
    assert "2020 edition, amended by Cold Harbor" in told
    assert "Amended by Cold Harbor (Ordinance 12-4): box_fill.grounds." in told
    assert "Cold Harbor 5" in inside("show", "J1", "amended.job").out


def test_old_wiring_is_a_caution_in_both(amended):
    assert "\nCaution\n  J1: " in inside("check", "amended.job").out
    assert "! CAUTION: " in inside("show", "J1", "amended.job").out


def test_show_tells_every_line_and_the_sum_that_decides(folder):
    told = inside("show", "J1", "fails.job").out
    assert "      2 x 2.25 = 4.50 in3" in told
    assert "      total 22.50 in3\n" in told
    assert "  Box volume 7.50 - box fill 22.50 = 15.00 in3 over\n" in told


def test_a_box_that_is_exactly_full_passes_and_says_so(folder):
    (folder / "full.job").write_text("edition 2020\nbox J1\n  marked 9 in3\n  clamps inside\nrun J1 > ? 12/2 nm-b\n")
    assert inside("check", "full.job").status == 0
    assert "J1 full" in inside("check", "full.job").out
    assert "Box volume 9.00 - box fill 9.00 = exactly full" in inside("show", "J1", "full.job").out


def test_an_empty_box_says_that_nothing_is_written_in_it(folder):
    (folder / "bare.job").write_text("edition 2020\nbox J1\n  square 4 x 1-1/2\n")
    assert "nothing is written in it yet" in inside("show", "J1", "bare.job").out


def test_fits_says_yes_no_or_only_if(folder):
    assert inside("fits", "J1", "passes.job", "--cable", "12/2", "nm-b").out.startswith("YES: 12/2 nm-b more in J1\n")
    assert inside("fits", "J1", "fails.job", "--cable", "12/2", "nm-b").out.startswith("NO: 12/2 nm-b more in J1\n")
    assert inside("fits", "J1", "open.job", "--cable", "12/2", "nm-b").out.startswith(
        "ONLY IF THE FACTS NOT CHECKED YET ALLOW IT: "
    )


def test_fits_counts_what_else_goes_in(folder):
    told = inside("fits", "J1", "passes.job").out
    assert "\n  12/2 nm-b " in told
    assert "One at a time, checked against every rule. The other end is not" in " ".join(told.split())
    assert "Nothing more. J1 is 15.00 in3 over" in " ".join(inside("fits", "J1", "fails.job").out.split())


def test_fits_takes_wires_and_several_cables_as_a_sheet_has_them(folder):
    assert inside("fits", "J1", "passes.job", "--cable", "2 x 14/3 mc").status == 0
    assert inside("fits", "J1", "passes.job", "--cable", "3", "x", "#12", "thhn,", "ground", "#12").status == 0


def test_the_order_of_options_does_not_matter(folder):
    usual = inside("fits", "J1", "passes.job", "--cable", "12/2", "nm-b", "--json")
    assert inside("fits", "--json", "J1", "passes.job", "--cable", "12/2 nm-b") == usual


def test_form_1_keeps_the_word_its_readers_know_and_nobody_elses_words(folder):
    sheet = (
        "job check needed\n"
        "edition 2020\n"
        "box J1 at check needed\n"
        "  marked ? in3\n"
        "  switch #14\n"
        "  clamps ?\n"
        "run J1 > ? 14/2 nm-b\n"
    )
    (folder / "words.job").write_text(sheet)
    answer = inside("check", "words.job", "--json", "--form", "1").json
    assert (answer["verdict"], answer["counts"]["not settled"]) == ("not settled", 1)
    assert [answer["job"]["title"], answer["boxes"][0]["at"]] == ["check needed"] * 2
    assert answer["boxes"][0]["findings"][0]["verdict"] == "not settled"
    assert inside("check", "words.job", "--json").json["counts"]["check needed"] == 1


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["a.job"],
        ["a.job", "--all"],
        ["--json", "a.job"],
        ["--all", "--json", "--all"],
        [""],
        ["a b.job"],
    ],
)
def test_what_is_read_without_the_parser_is_what_the_parser_reads(words: list[str]):
    plain = plainly(words)
    assert plain is not None
    assert {name: getattr(plain, name) for name in Options._fields} == vars(parser().parse_args(words))


@pytest.mark.parametrize(
    "words", [["a", "b"], ["--al"], ["--edition", "2017", "a"], ["-"], ["--", "a"], ["-h"], ["--json=1"]]
)
def test_all_else_is_left_to_the_parser(words: list[str]):
    assert plainly(words) is None
