"""Small words of an answer that were wrong once: units, whose conductors, which citation, how many digits."""

from __future__ import annotations

from decimal import Decimal

from ampleroom import read_job
from ampleroom.check import book_for
from ampleroom.explain import explain
from ampleroom.fits import fits, how_many
from tests.cli.helpers import inside
from tests.helpers import finding, in_box, report, there


def test_the_example_of_a_rule_on_areas_is_told_in_square_inches():
    assert {line.unit.plain for line in explain("conduit-body-passing").lines} == {"in2"}
    assert {line.unit.plain for line in explain("box-fill-conductors").lines} == {"in3"}
    said = inside("rule", "conduit-body-passing").out
    assert "6 x 0.0211 = 0.1266 in2" in said
    assert "in3" not in said


def test_an_amended_allowance_is_cited_on_lines_of_its_size_only():
    # the amended 14 takes what a 12 takes: only the size tells them apart
    city = 'place = "X"\n[[box_fill.conductor_room]]\nfrom = 2020\ncite = "X 1"\nrows = { 14 = 2.25 }\n'
    sheet = "amendments x.toml\n" + in_box("fixture wires 1 x #18", "wires A > ? 1 x #14, 1 x #12")
    lines = report(sheet, 2023, city).worksheets["A"].need
    amended = {line.label: "allowances by X 1" in line.cite for line in lines}
    assert amended == {
        "Spliced or terminated here, #14": True,
        "Spliced or terminated here, #12": False,
        "Fixture wires, #18": False,
    }


def test_a_box_measured_in_millimetres_has_no_more_digits_than_a_tape():
    assert there(in_box(base="inside 100 x 100 x 200 mm")) == Decimal("122.04")  # 2000 cm3 is 122.047 in3
    assert there(in_box(base="inside 5 x 5 x 5 in")) == 125


def test_a_box_that_cannot_fail_by_its_volume_is_not_told_under_which_it_would():
    found = finding(
        in_box(base="marked ? in3").replace("marked ? in3", "marked ? in3\n  clamps ?") + "run A > ? ? x 14/2 nm-b\n"
    )
    assert all("under 0.00" not in fact.settles for fact in found.facts)
    none_at_best = finding(in_box("fixture wires 1 x #18 from ? canopy", base="marked ? in3"))
    (fact, *_) = none_at_best.facts
    assert fact.settles == "passes if 1.50 in3 or more"


def test_more_is_pulled_through_a_body_and_not_spliced_in_it():
    sheet = "edition 2023\n" + in_box("", "wires ? > ? 6 x #12 thhn through A", base="conduit body c 1/2 on emt")
    job = read_job(sheet)
    book = book_for(job)
    # nine 12 AWG go through 1/2 EMT; 0.1216 in2 less six of 0.0133 leave room for four 14 AWG of 0.0097
    assert how_many(job, "A", "1 x #12 thhn", book).certain == 3
    assert how_many(job, "A", "1 x #14 thhn", book).certain == 4
    assert [fit.text for fit in fits(job, "A", book, ("10/3 nm-b",))] == ["not known"]


def test_a_marked_body_takes_splices():
    job = read_job("edition 2023\n" + in_box(base="conduit body c 3/4 on rmc marked 7.0 in3"))
    assert how_many(job, "A", "1 x #10 thhn", book_for(job)).certain == 2  # 7.0 / 2.50
