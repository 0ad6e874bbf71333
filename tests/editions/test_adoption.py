"""Which edition a place had adopted: the rows as read from public lists, and that nothing uncertain is picked."""

import re

import pytest

from ampleroom.editions import OFFERED
from ampleroom.editions.adoption import adopted_edition, adoption_of, adoptions
from ampleroom.editions.tables import listed
from ampleroom.errors import EditionUnknown

# The newest rows as they stand in the lists that were read: trade educators' and a labor department's public pages of
# about 2024 to 2025, a city's page of March 2024, a consultant's notice of February 2023.
IN_FORCE = """
Alabama 2020 2022-07-01 | Alaska 2020 2020-04-16 | Arkansas 2020 2022-08-01 | Colorado 2023 2023-08-01
Connecticut 2020 2022-10-01 | Delaware 2020 2021-09-01 | District of Columbia 2014 2020-05-29 | Florida 2020 2023-12-31
Massachusetts 2023 2023-03-01 | Minnesota 2023 2023-07-01 | Vancouver, Washington 2023 2024-04-01
"""
NOT_CERTAIN = ("Arizona", "California", "North Carolina", "Oklahoma", "Oregon", "Washington")


def known():
    return [re.fullmatch(r"(.+) (\d{4}) (\S+)", row.strip()) for row in re.split(r"[|\n]", IN_FORCE) if row.strip()]


@pytest.mark.parametrize("row", known(), ids=lambda row: row[1])
def test_a_place_with_one_edition_in_force_is_answered_with_it(row):
    year, found = adopted_edition(row[1].upper())
    assert year == int(row[2]) == found.edition
    assert f"{row[2]} edition since {row[3]} (snapshot; " in found.text
    assert found.text.endswith("Verify with your authority.")
    assert found.known == found.text


@pytest.mark.parametrize("place", NOT_CERTAIN)
def test_what_is_not_certain_is_shown_and_not_picked(place):
    found = adoption_of(place)
    assert found.edition is None
    with pytest.raises(EditionUnknown) as trouble:
        adopted_edition(place)
    for row in found.rows:
        assert row.text in str(trouble.value)
    assert "Ask your authority" in str(trouble.value)


def test_every_place_is_in_one_of_the_two_lists():
    assert {found.place for found in adoptions()} == {row[1] for row in known()} | {*NOT_CERTAIN}


def test_states_answer_to_their_two_letters():
    assert adoption_of(" co ").place == "Colorado"
    shorts = [place["short"] for place in listed("adoption")["place"] if place["short"]]
    assert len(set(shorts)) == len(shorts) == len(adoptions()) - 1


@pytest.mark.parametrize(
    ("name", "near"), [("Colorada", "Colorado"), ("Vancouver", "Vancouver, Washington"), ("calfornia", "California")]
)
def test_an_unknown_place_gets_the_nearest(name, near):
    with pytest.raises(EditionUnknown, match=f"The nearest: {near}"):
        adoption_of(name)


def test_a_place_nothing_is_known_of_gets_the_list():
    for name in ("Ohio", "", "x" * 500):
        with pytest.raises(EditionUnknown, match="The list has Alabama; Alaska; ") as trouble:
            adoption_of(name)
        assert len(str(trouble.value)) < 1500


def test_rows_are_whole_and_the_newest_come_first():
    statuses = {"snapshot", "projected", "superseded", "probably superseded", "historic"}
    for found in adoptions():
        dates = [row.since for row in found.rows if row.since]
        assert dates == sorted(dates, reverse=True)
        for row in found.rows:
            assert row.status in statuses
            assert row.source
            assert row.as_of
            assert row.edition in {*OFFERED, None}


def test_sources_are_kinds_of_lists_and_nobody_is_named():
    """A source is said by what kind it is, in small letters; what is left with a capital is a month or a state."""
    allowed = {"January", "February", "March", "April", "May", "June", "July", "September", "October", "December"}
    for found in adoptions():
        for row in found.rows:
            assert re.match(r"(a|an|the) [a-z]", row.source)
            capitals = set(re.findall(r"\b[A-Z]\w+", f"{row.source} {row.as_of} {row.note}"))
            assert capitals <= allowed, found.place
