"""Where a dwelling needs ground-fault and arc-fault protection, by edition, typed a second time from published lists.

Sources of ground faults: EC&M, "Branch circuits, part two", 2007, and an article in Electrical Contractor (the eight
places of the editions before 2011); an inspection agency's "2011 and 2014 NEC changes"; an electrical board's
comparison of 2014; a handout of 2021, EC&M and the inspectors' magazine (2020); a contractor's and a device maker's
guide (2023). Of arc faults: EC&M (2011), a publisher's blog and a newsletter (2014), a course lecture and a renewal
course (2020, 2023). Of appliances: two device makers' guides (2023), the comparison of 2014; sump pumps in 2020 are
from memory.
"""

from __future__ import annotations

import re

import pytest

from ampleroom import read_job
from ampleroom.check import circuits
from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import ARC_FAULT, GROUND_FAULT
from ampleroom.facts import Assumption
from ampleroom.job.trade import ROOMS
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.circuit.outlets import outlets_of
from ampleroom.rules.circuit.wired import ENDS, Wiring
from tests.helpers import COMPARED, report
from tests.web.helpers import STUDIO

NEVER = 9999

# The room as a sheet has it, and since which edition a 20 A receptacle there has ground-fault protection.
GROUND_FAULT_SINCE = {
    **dict.fromkeys(("bathroom", "garage", "shed", "outdoors", "crawl space", "basement unfinished"), 2008),
    **dict.fromkeys(("boathouse", "kitchen counter", "laundry near sink", "bar near sink"), 2008),
    "utility room near sink": 2008,
    **dict.fromkeys(("laundry away", "kitchen near sink", "bedroom near tub"), 2014),
    **dict.fromkeys(("basement finished", "damp place"), 2020),
    **dict.fromkeys(("kitchen away", "bar away"), 2023),
    **dict.fromkeys(("utility room away", "attic", "bedroom", "living room", "hallway", "closet"), NEVER),
}  # fmt: skip
# The room, and since which edition its 15 and 20 A circuits have arc-fault protection.
ARC_FAULT_SINCE = {
    **dict.fromkeys(("family room", "dining room", "living room", "parlor", "library", "den", "bedroom"), 2008),
    **dict.fromkeys(("sunroom", "recreation room", "closet", "hallway"), 2008),
    **dict.fromkeys(("kitchen away", "laundry away"), 2014),
    **dict.fromkeys(("bathroom", "garage", "outdoors", "basement unfinished", "attic", "crawl space"), NEVER),
}
APPLIANCE_SINCE = {
    "dishwasher": 2014,
    "sump pump": 2020,
    **dict.fromkeys(("range", "oven", "cooktop", "dryer", "microwave"), 2023),
    "water heater": NEVER,
    "heat": NEVER,
}


def found(sheet: str, rule: str, year: int) -> str:
    """The verdict of a rule on circuit 1, the only rule that is asked; empty where it says nothing."""
    job, book = read_job(sheet), CodeBook(year)
    subject = next(each for each in circuits(job) if each.circuit.name == "1")
    outlets = outlets_of(subject, job.graph, Wiring(subject, job.graph, book, Assumption(ENDS)))
    return next((each.verdict.word for each in RULES[rule].function(outlets, book)), "")


def receptacle_in(room: str, words: str = "no gfci no afci") -> str:
    line = f"  room {room}\n" if room else ""
    return (
        f"panel P 120/240 V\nbox A\n  marked 20 in3\n  clamps none\n{line}  receptacle #12\n"
        f"circuit 1 20 A 120 V {words}\nrun P > A 12/2 nm-b 20 ft circuit 1\n"
    )


@pytest.mark.parametrize("room", GROUND_FAULT_SINCE)
def test_ground_fault_protection_is_needed_since_its_edition(room: str):
    for year in COMPARED:
        wanted = "fails" if year >= GROUND_FAULT_SINCE[room] else "passes"
        assert found(receptacle_in(room), "ground-fault", year) == wanted, year
        assert found(receptacle_in(room, "gfci"), "ground-fault", year) == "passes", year


@pytest.mark.parametrize("room", ARC_FAULT_SINCE)
def test_arc_fault_protection_is_needed_since_its_edition(room: str):
    for year in COMPARED:
        wanted = "fails" if year >= ARC_FAULT_SINCE[room] else "passes"
        assert found(receptacle_in(room), "arc-fault", year) == wanted, year
        assert found(receptacle_in(room, "afci"), "arc-fault", year) == "passes", year


@pytest.mark.parametrize("served", APPLIANCE_SINCE)
def test_an_appliance_needs_ground_fault_protection_since_its_edition(served: str):
    sheet = (
        f"panel P 120/240 V\nequipment A\ncircuit 1 20 A 120 V serves {served} no gfci\n"
        "run P > A 12/2 nm-b 20 ft circuit 1\n"
    )
    for year in COMPARED:
        assert found(sheet, "appliance-ground-fault", year) == ("fails" if year >= APPLIANCE_SINCE[served] else ""), (
            year
        )


def test_every_room_of_the_tables_is_one_that_a_sheet_can_say():
    rooms = {*ROOMS.values()}
    for year in COMPARED:
        book = CodeBook(year)
        assert {row.room for row in book[GROUND_FAULT].rows} | {*book[ARC_FAULT].rooms} <= rooms


def test_lights_of_a_crawl_space_count_since_2017():
    """EC&M on the changes of 2017, and Electrical Contractor, "Remodel with care", 2021."""
    sheet = receptacle_in("crawl space", "no gfci").replace("receptacle #12", "light #12")
    assert [found(sheet, "ground-fault", year) for year in COMPARED] == ["", "", "", "fails", "fails", "fails"]


def test_of_a_circuit_that_is_made_longer_only_new_places_are_judged():
    """Old wiring may stay: B is new, and A is where it goes on from; before both lies an old box in a bathroom."""
    box = "box {}\n  marked 20 in3\n  clamps none\n  room {}\n  receptacle #12\n"
    sheet = (
        "panel P 120/240 V\n" + box.format("Z", "bathroom") + box.format("A", "attic") + box.format("B", "{}")
        + "circuit 1 20 A 120 V no gfci\nrun P > Z > A 12/2 nm-b existing circuit 1\nrun A > B 12/2 nm-b circuit 1\n"
    )  # fmt: skip
    assert found(sheet.format("attic"), "ground-fault", 2023) == "passes"
    assert found(sheet.format("garage"), "ground-fault", 2023) == "fails"


def test_what_is_not_written_is_asked_and_never_passed():
    """No room, ``room ?``, and a kitchen receptacle that may serve the counter; nothing on the breaker."""
    two = receptacle_in("bedroom", "no gfci") + (
        "box B\n  marked 20 in3\n  clamps none\n  {}receptacle #12\nrun A > B 12/2 nm-b 9 ft circuit 1\n"
    )
    for line in ("", "room ?\n  "):
        assert found(two.format(line), "ground-fault", 2023) == "check needed"
    assert found(receptacle_in("kitchen", "no gfci"), "ground-fault", 2020) == "check needed"
    assert found(receptacle_in("bathroom", ""), "ground-fault", 2023) == "check needed"
    assert found(receptacle_in("bedroom", ""), "arc-fault", 2023) == "check needed"
    assert found(two.format("") + "run B > ? 12/2 nm-b circuit 1\n", "arc-fault", 2023) == "check needed"


def test_a_job_without_rooms_is_not_judged_by_place_and_says_so_once():
    sheet = receptacle_in("", "")
    judged = report(sheet, 2023)
    assert not {each.rule for each in judged.subject("circuit 1").findings} & {"ground-fault", "arc-fault"}
    assert sum("no box says its room" in each for each in judged.job.assumptions) == 1
    assert any("no room is written" in each.text for each in judged.subject("circuit 1").reminders)
    with_room = report(receptacle_in("bedroom", ""), 2023)
    assert not any("no box says its room" in each for each in with_room.job.assumptions)
    assert not any("no room is written" in each.text for each in with_room.subject("circuit 1").reminders)


def test_a_room_changes_nothing_but_what_is_said_of_protection():
    without = re.sub(r"\n  room [^\n]*", "", STUDIO)
    of_place = {"ground-fault", "arc-fault"}
    for year in (2008, 2023):
        with_rooms, bare = report(STUDIO, year), report(without, year)
        for subject in with_rooms.subjects:
            kept = [(each.rule, each.verdict, each.message) for each in subject.findings if each.rule not in of_place]
            other = bare.subject(subject.name).findings
            assert kept == [(each.rule, each.verdict, each.message) for each in other if each.rule not in of_place]


def test_a_room_may_be_said_for_a_kind_of_box():
    sheet = (
        "panel P 120/240 V\nkind wall\n  marked 20 in3\n  clamps none\n  room bathroom\n  receptacle #12\n"
        "box A wall\nbox B wall\ncircuit 1 20 A 120 V no gfci\nrun P > A > B 12/2 nm-b circuit 1\n"
    )
    (finding,) = [each for each in report(sheet, 2023).subject("circuit 1").findings if each.rule == "ground-fault"]
    assert finding.message == "circuit 1 lacks ground-fault protection at A (bathroom), B (bathroom)"


# Circuit, receptacle, verdict: Table 210.21(B)(3) as Electrical Contractor and a code library have it; of 10 A the 2023
# copy of Table 210.24(1), where receptacles are not permitted.
RATINGS = [
    (10, 15, "fails"), (15, 15, "passes"), (15, 20, "fails"), (20, 15, "passes"), (20, 20, "passes"), (20, 30, "fails"),
    (30, 20, "fails"), (30, 30, "passes"), (30, 50, "fails"), (40, 30, "fails"), (40, 40, "passes"), (40, 50, "passes"),
    (50, 40, "fails"), (50, 50, "passes"), (50, 60, "fails"),
]  # fmt: skip


@pytest.mark.parametrize(("circuit", "rating", "wanted"), RATINGS)
def test_receptacles_have_a_rating_their_circuit_takes(circuit: int, rating: int, wanted: str):
    sheet = (
        f"panel P 120/240 V\nbox A\n  marked 60 in3\n  clamps none\n  2 x receptacle #6 {rating} A\n"
        f"circuit 1 {circuit} A 240 V\nrun P > A 6/2 nm-b 20 ft circuit 1\n"
    )
    assert found(sheet, "receptacle-rating", 2023) == wanted


def test_a_single_receptacle_alone_has_no_less_than_its_circuit():
    for circuit, rating, wanted in ((20, 15, "fails"), (20, 20, "passes"), (30, 30, "passes"), (30, 20, "fails")):
        sheet = (
            f"panel P 120/240 V\nbox A\n  marked 60 in3\n  clamps none\n  single receptacle #10 {rating} A\n"
            f"circuit 1 {circuit} A 240 V\nrun P > A 10/2 nm-b 20 ft circuit 1\n"
        )
        assert found(sheet, "receptacle-rating", 2023) == wanted, (circuit, rating)
