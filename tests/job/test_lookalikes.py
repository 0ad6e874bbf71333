"""Names that look alike: Unicode's names of the letters are the standard library's; which are drawn alike is common
practice, no source.
"""

import json
import unicodedata

import pytest

from ampleroom import check
from ampleroom.errors import SheetFaults
from ampleroom.job import read_job
from ampleroom.job.lookalikes import CYRILLIC_AND_GREEK, look_alikes
from tests.cli.helpers import inside


def sheet(*names):
    return "edition 2020\n" + "".join(f"box {name}\n  square 4 x 2-1/8\n" for name in names)


@pytest.mark.parametrize(
    ("first", "second", "letter"),
    [
        ("J1", "\u04081", "U+0408 CYRILLIC CAPITAL LETTER JE"),
        ("\u04121", "B1", "U+0412 CYRILLIC CAPITAL LETTER VE"),
        ("K\u00fcche", "Ku\u0308che", "U+0308 COMBINING DIAERESIS"),
        ("A1", "A\u200b1", "U+200B ZERO WIDTH SPACE"),
        ("A1", "\uff21\uff11", "U+FF21 FULLWIDTH LATIN CAPITAL LETTER A"),
        ("nov", "no\u03bd", "U+03BD GREEK SMALL LETTER NU"),
    ],
)
def test_two_names_that_look_alike_get_a_warning_with_the_letter(first, second, letter):
    (found,) = look_alikes(read_job(sheet(first, second)))
    assert (found.at.line, letter in found.text) == (4, True)


@pytest.mark.parametrize("names", [("J1", "Jl"), ("K\u00fcche", "Kuche"), ("\u5009", "\u5eab"), ("A1", "A2")])
def test_names_that_can_be_told_apart_get_none(names):
    assert look_alikes(read_job(sheet(*names))) == ()


def test_terminal_and_json_say_it(folder):
    (folder / "two.job").write_text(sheet("J1", "\u04081"), "utf-8")
    said = " ".join(inside("check", "two.job").out.split())
    assert "Warning: line 4: place \u04081 looks like place J1 on line 2 but is written with other letters" in said
    (warning,) = json.loads(inside("check", "two.job", "--json").out)["warnings"]
    assert warning["where"]["line"] == 4
    assert check(read_job(sheet("J1", "J2"))).to_json()["warnings"] == []


def test_a_name_that_is_not_there_but_looks_like_one_is_told_which_letter_differs():
    with pytest.raises(SheetFaults) as raised:
        read_job(sheet("J1") + "run \u04081 > ? 12/2 nm-b\n")
    assert "J1 looks like it but has other letters (U+0408" in raised.value.faults[0].hint


def test_each_pair_is_one_letter_of_another_alphabet_and_one_of_ours():
    for pair in CYRILLIC_AND_GREEK.split():
        assert len(pair) == 2
        assert unicodedata.name(pair[0]).split()[0] in ("CYRILLIC", "GREEK")
        assert unicodedata.name(pair[1]).startswith("LATIN")
