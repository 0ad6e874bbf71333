"""What a rule is: a name, what it says and why, the tables and readings it leans on, and a sheet that shows it."""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from ampleroom.editions import READINGS, blocks
from ampleroom.pictures.drawing import ROLES
from ampleroom.rules import RULES, registry
from ampleroom.rules.box.fill import grounds
from ampleroom.rules.registry import Rule, rule, rule_in
from tests.helpers import EDITION

NAMES = list(RULES)

# What a person finds under each name, in the order of an answer: its heading, what it gives, the tables it reads, the
# disputed points it may lean on.
INDEX = """
box-fill-conductors | Conductors | fill | box_fill.conductors box_fill.conductor_room | unmeasured-loop loop-threshold neutral-bundle spare-conductors crossing-conductor
box-fill-fixture-wires | Fixture wires and leads | fill | box_fill.fixture_wires box_fill.conductor_room | flat-canopy equipment-leads device-leads
box-fill-low-voltage | Low-voltage wires | fill | box_fill.low_voltage box_fill.conductor_room | low-voltage
box-fill-clamps | Clamps | fill | box_fill.clamps box_fill.conductor_room | plastic-tabs push-in-connectors largest-present clamps-together
box-fill-fittings | Studs and hickeys | fill | box_fill.fittings box_fill.conductor_room | largest-present
box-fill-devices | Devices | fill | box_fill.devices box_fill.conductor_room | wide-device pigtailed-device combination-device mixed-yokes device-on-cover deep-bodies large-on-device
box-fill-modules | Control modules | fill | box_fill.modules box_fill.conductor_room | relay-module
box-fill-grounds | Equipment grounds | fill | box_fill.grounds box_fill.conductor_room | isolated-ground grounding-pigtail pooled-grounds armor-ground unknown-ground
box-fill-terminal-blocks | Terminal blocks | fill | box_fill.terminal_blocks box_fill.conductor_room | early-terminal-block
box-room-standard | Standard boxes | room | box_room.standard box_room.marked | measured-box printed-counts
box-room-marked | Marked and measured boxes | room | box_room.marked box_room.measured | measured-box
box-room-parts | Rings and covers | room | box_room.marked box_room.standard | unmarked-ring table-size-ring device-on-cover
box-room-barriers | Barriers and spaces | room | box_room.barrier box_room.spaces | early-barrier crossing-conductor
box-room-clamp-assembly | Clamp assemblies | room | box_fill.clamps |
conduit-body-splices | Splices in conduit bodies | finding | conduit_bodies.splices conduit_bodies.short_radius | body-splices
conduit-body-passing | Conductors through a conduit body | finding | conduit_bodies.cross_section raceways.fill raceways.rounding raceways.bore raceways.insulated raceways.bare raceways.cable |
box-depth | Depth behind devices | finding | box_depth.empty box_depth.projecting box_depth.large box_depth.by_conductor box_depth.rear_entry | deep-bodies
side-entry | Entries beside a device | finding | box_depth.side_entry |
large-conductors | 4 AWG and larger | finding | reminders.pull_box | large-on-device
support-ratings | Weight against rating | finding | reminders.luminaire reminders.fan |
side-entry-clearance | Side entries to check | reminder | box_depth.side_entry |
free-conductor | Free conductor | reminder | reminders.free_conductor | spliced-free-length
covers | Covers, finish and sheath | reminder | reminders.cover reminders.finish reminders.sheath reminders.access |
support | Support and ratings | reminder | reminders.luminaire reminders.fan reminders.small_equipment |
depth-unknown | Depth to measure | reminder | box_depth.by_conductor |
metal-into-nonmetallic | Metal into a nonmetallic box | reminder | reminders.metal_entry |
cable-without-clamp | Cable without a clamp | reminder | reminders.unclamped |
class-2-beside-power | Class 2 beside power | reminder | reminders.power_limited |
old-wiring | Old wiring | reminder | reminders.reduced_ground reminders.nm_temperature |
"""


def index() -> list[list[str]]:
    return [[cell.strip() for cell in line.split("|")] for line in INDEX.strip().splitlines()]


def test_the_rules_stand_in_the_order_of_an_answer():
    assert [name for name, *_ in index()] == NAMES


@pytest.mark.parametrize(("name", "title", "topic", "tables", "readings"), index(), ids=NAMES)
def test_a_rule_is_found_under_its_heading_with_its_tables_and_disputed_points(
    name: str, title: str, topic: str, tables: str, readings: str
):
    found = RULES[name]
    assert (found.name, found.title, found.topic) == (name, title, topic)
    assert (found.tables, found.readings) == (tuple(tables.split()), tuple(readings.split()))


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_says_what_and_why_in_words(name: str):
    assert RULES[name].says
    assert all(paragraph.endswith((".", "!")) for paragraph in RULES[name].says)
    assert RULES[name].why.endswith(".")
    assert not RULES[name].why.startswith("Why:")


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_says_no_section_numbers_for_those_are_data(name: str):
    assert "314." not in " ".join([*RULES[name].says, RULES[name].why])


@pytest.mark.parametrize("name", NAMES)
def test_the_tables_and_readings_a_rule_names_are_there(name: str):
    assert all(blocks(table) for table in RULES[name].tables)
    assert set(RULES[name].readings) <= set(READINGS)


def test_every_reading_that_is_judged_belongs_to_a_rule_or_to_the_verdict():
    named = {reading for found in RULES.values() for reading in found.readings}
    judged = {name for name, reading in READINGS.items() if reading.judged}
    assert judged - named == {"exactly-full"}


@pytest.mark.parametrize("name", NAMES)
def test_the_example_of_a_rule_shows_it(name: str):
    report = check(read_job(RULES[name].example), EDITION)
    lines = {line.rule for sheet in report.worksheets.values() for line in sheet.lines}
    told = {found.rule for found in report.findings} | {
        reminder.rule for box in report.subjects for reminder in box.reminders
    }
    assert name in lines | told
    assert RULES[name].example.startswith("box ")


def test_a_name_is_never_given_twice():
    with pytest.raises(ValueError, match=r"^two rules are named covers$"):
        rule("covers", title="", topic="fill", tables=(), drawn_as="grounds")(lambda space, book: iter(()))


def test_a_folder_holds_one_rule():
    assert rule_in(grounds).name == "box-fill-grounds"
    with pytest.raises(LookupError, match=r"^ampleroom\.rules\.registry holds 0 rules"):
        rule_in(registry)


def test_a_rule_says_what_and_why_apart_and_line_by_line_of_its_description_in_one():
    def lines(space, book):
        """Paint counts
        by the pot.

        A lid counts too.

        Why: it
        spills.
        """
        return iter(())

    paint = Rule("paint", "Paint", "fill", (), (), lines)
    assert paint.says == ["Paint counts by the pot.", "A lid counts too."]
    assert paint.why == "it spills."
    bare = Rule("paint", "Paint", "fill", (), (), lambda space, book: iter(()))
    assert (bare.says, bare.why) == ([], "")


def test_a_name_is_given_to_one_rule_and_the_function_stays_one():
    def register(name):
        return rule(name, title="", topic="fill", tables=(), drawn_as="grounds")

    def lines(space, book):
        return iter(())

    known = rule_in(grounds)
    with pytest.raises(ValueError, match=f"two rules are named {known.name}"):
        register(known.name)(lines)
    assert known.function.__name__ == "grounds_lines"
    assert grounds.grounds_lines is known.function


def test_a_rule_of_box_fill_says_as_what_it_is_drawn():
    with pytest.raises(ValueError, match=r"^paint takes volume in a box and does not say as what it is drawn$"):
        rule("paint", title="Paint", topic="fill", tables=())(lambda space, book: iter(()))
    assert {found.drawn_as for found in RULES.values() if found.topic == "fill"} <= {*ROLES}
