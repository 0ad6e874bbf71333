"""The pages of ``rule``: a rule, a disputed point, the two tables, and the list of them all."""

import json
import re

import pytest

from ampleroom.editions import READINGS, CodeBook
from ampleroom.explain.by_edition import periods
from ampleroom.rules.all_rules import RULES
from tests.cli.helpers import inside


def flat(text):
    """A printed page with its line breaks taken out."""
    return " ".join(text.split())


def test_alone_it_lists_every_rule_table_and_point_a_sheet_may_set(folder):
    ran = inside("rule")
    assert ran.status == 0
    assert all(f"  {rule.name} " in ran.out for rule in RULES.values())
    assert "\n  box " in ran.out
    assert "\n  disputed " in ran.out
    for reading in READINGS.values():
        assert (f"  {reading.name}: " in ran.out) is (reading.is_open and reading.judged)
    assert all(len(line) <= 60 for line in ran.out.split("\n"))
    assert flat(ran.out).endswith("NAME may be a word such as grounds, or a code section.")


@pytest.mark.parametrize("name", RULES)
def test_a_page_says_where_what_why_how_editions_differ_with_an_example(folder, name):
    page = inside("rule", name).out
    assert "\nCode section: " in page
    for heading in ("\nWhy: ", "\nBy edition\n", "\nExample, "):
        assert page.count(heading) == 1
    for period in periods(name):
        assert f"  {period.label}:" in page
        assert flat(period.text + period.mark) in flat(page)


@pytest.mark.parametrize("name", RULES)
def test_sources_and_confidences_are_printed_when_asked_for(folder, name):
    plain, whole = inside("rule", name).out, inside("rule", name, "--sources").out
    for heading in ("\nHow sure\n", "\nSources\n"):
        assert heading not in plain
        assert heading in whole
    assert "one source" not in plain
    assert "two sources" not in plain


@pytest.mark.parametrize("name", RULES)
def test_what_rests_on_memory_is_marked_without_asking(folder, name):
    page = flat(inside("rule", name).out).partition("By edition")[2].partition("Example,")[0]
    for period in periods(name):
        assert ("from memory" in page) >= bool(period.from_memory)
        if period.from_memory:
            assert flat(period.text + period.mark) in page


def test_no_row_of_a_raceway_or_a_wire_rests_on_memory_any_more():
    assert "From memory" not in flat(inside("rule", "conduit-body-passing").out)


@pytest.mark.parametrize("name", READINGS)
def test_a_disputed_point_tells_its_choices_the_first_as_the_default(folder, name):
    page = flat(inside("rule", name).out)
    reading = READINGS[name]
    assert f"Disputed point: {name}" in page
    assert all(f"reading {name} {choice}" in page for choice in reading.choices)
    assert (f"reading {name} {reading.default} (the default)" in page) is reading.is_open
    assert "Discussed in" not in page
    assert "Discussed in" in inside("rule", name, "--sources").out


def test_the_example_is_worked_by_the_edition_asked_for():
    before = inside("rule", "box-fill-grounds", "--edition", "2017").out
    assert "Example, 2017 edition" in before
    assert before != inside("rule", "box-fill-grounds", "--edition", "2020").out


@pytest.mark.parametrize("name", RULES)
@pytest.mark.parametrize("year", ["2008", "2026"])
def test_every_page_is_printed_by_the_first_and_the_last_edition(folder, name, year):
    page = inside("rule", name, "--edition", year)
    assert page.status == 0
    assert f"Example, {CodeBook(int(year)).title}" in page.out


def test_where_an_edition_says_nothing_the_page_says_so():
    assert "The 2020 edition has no such rule." in inside("rule", "side-entry", "--edition", "2020").out


def test_grounds_differ_by_edition_in_sentences():
    page = flat(inside("rule", "grounds").out)
    assert "2008-2017: One allowance covers all equipment grounds, however many there are." in page
    assert re.search(r"(From 2020|2020-\d{4}): One allowance covers the first four equipment grounds", page)
    assert not re.search(r"covered|isolated set 1|extra 0", page)


def test_a_word_of_several_pages_lists_them():
    ran = inside("rule", "pigtails")
    assert ran.status == 0
    assert ran.out.startswith("Pages for 'pigtails'\n  box-fill-conductors: Conductors\n")


def test_several_words_need_no_quotes():
    assert inside("rule", "mud", "ring").out == inside("rule", "box-room-parts").out
    assert inside("rule", "314.16(B)(5)").out == inside("rule", "box-fill-grounds").out


def test_what_is_not_known_is_refused_with_what_to_try():
    ran = inside("rule", "garden", "hose")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.endswith("'ampleroom rule' lists all pages\n")
    assert "'garden hose'; try a word such as grounds, clamps or devices" in ran.err


def test_box_prints_the_table_of_an_edition(folder):
    page = inside("rule", "box", "--edition", "2017").out
    assert page.startswith("How many conductors a standard box holds, 2017 edition\n")
    assert "Code section: Table 314.16(A); Table 314.16(B)\n" in page
    assert "\nsquare 4 x 1-1/2           21.00  14  12  10   9   8   7   4\n" in page
    assert "\nFS single cover*           13.50   9   7   6   6   5   4   2\n" in page
    assert max(map(len, page.split("\n"))) <= 60
    assert "one source" in inside("rule", "box", "--sources").out
    assert "one source" not in page


def test_disputed_prints_every_point_with_its_default_and_the_other_choice(folder):
    page = flat(inside("rule", "disputed").out)
    for reading in READINGS.values():
        if not reading.judged:
            continue
        assert f"{reading.name}: {reading.asks[:1].upper()}{reading.asks[1:]}" in page
        if reading.is_open:
            for choice, means in reading.choices.items():
                assert f"{choice}{' (default)' if choice == reading.default else ''}: {means}." in page


def test_json_of_a_word_is_that_of_its_page():
    assert inside("rule", "grounds", "--json").out == inside("rule", "box-fill-grounds", "--json").out
    page = json.loads(inside("rule", "grounds", "--json").out)
    before, since = page["editions"][:2]
    assert (before["label"], before["mark"]) == ("2008-2017", "(2017 from memory)")
    assert (since["first"], since["mark"]) == (2020, "")
    boxes = json.loads(inside("rule", "box", "--json").out)["boxes"]
    assert boxes[4] == {
        "box": "square 4 x 1-1/2",
        "volume": "21.00",
        "holds": {"18": 14, "16": 12, "14": 10, "12": 9, "10": 8, "8": 7, "6": 4},
        "per_gang": False,
        "confidence": "two sources",
    }
