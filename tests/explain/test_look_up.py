"""A page is found by its name, by a trade word, and by a section of any edition."""

from __future__ import annotations

from typing import Any

import pytest

from ampleroom.editions import OFFERED, READINGS
from ampleroom.editions.tables import Table
from ampleroom.explain import PagesFound, PageUnknown, look_up
from ampleroom.explain.look_up import indexed_tables, names, section_index, title_of, trade_words_of
from ampleroom.explain.sections import cites_of, sections, sections_in
from ampleroom.rules.all_rules import RULES


def pages(asked: str) -> list[str]:
    found = look_up(asked)
    return [page.name for page in found.pages] if isinstance(found, PagesFound) else [found]


@pytest.mark.parametrize("name", names())
def test_every_page_is_found_by_its_name_as_typed_in_any_way(name: str):
    assert pages(name) == pages(name.upper()) == [name]
    assert name in pages(name.replace("-", " "))


@pytest.mark.parametrize(
    ("word", "found"),
    [
        ("grounds", ["box-fill-grounds"]),
        ("ground", ["box-fill-grounds"]),
        ("EGC", ["box-fill-grounds"]),
        ("clamps", ["box-fill-clamps"]),
        ("pigtails", ["box-fill-conductors", "box-fill-devices", "box-fill-grounds", "grounding-pigtail"]),
        ("mud ring", ["box-room-parts"]),
        ("gfci", ["box-fill-devices", "ground-fault"]),
        ("terminal", ["box-fill-terminal-blocks", "early-terminal-block"]),
        ("plastic tabs", ["plastic-tabs"]),
        ("box fill grounds", ["box-fill-grounds"]),
        ("low voltage", ["box-fill-low-voltage", "class-2-beside-power", "low-voltage"]),
        ("boxes", ["box"]),
        ("readings", ["disputed"]),
        ("box fill", [name for name in RULES if name.startswith("box-fill")]),
    ],
)
def test_a_trade_word_finds_its_page_or_all_it_may_mean(word: str, found: list[str]):
    assert pages(word) == found


@pytest.mark.parametrize(
    ("section", "found"),
    [
        ("314.16(B)(5)", ["box-fill-grounds"]),
        ("314.16 (B) (5)", ["box-fill-grounds"]),
        ("314.16b5", ["box-fill-grounds"]),
        ("section 314.16(B)(6)", ["box-fill-terminal-blocks"]),
        ("314.5", ["conduit-body-splices"]),  # 2008
        ("314.16(C)(3)", ["conduit-body-splices"]),  # from 2011
        ("Table 314.16(A)", ["box-room-standard", "box"]),
        ("Table 314.16(B)", ["box-fill-conductors"]),  # to 2020
        ("Table 314.16(B)(1)", ["box-fill-conductors"]),  # from 2023
        ("314.24(B)(4)", ["box-depth", "depth-unknown"]),
        ("314.17(B)", ["covers"]),
        ("Chapter 9 Table 1", ["conduit-body-passing", "conduit-body-large", "raceway-fill", "raceway-jam"]),
    ],
)
def test_a_section_of_any_edition_finds_its_page(section: str, found: list[str]):
    assert pages(section) == found


def test_a_whole_section_lists_all_that_is_under_it():
    under = pages("314.16")
    counted = {name for name in RULES if name.startswith(("box-fill", "box-room", "conduit-body"))}
    elsewhere = {"box-fill-low-voltage", "conduit-body-large"}  # the code has no section for the first; 314.28
    assert counted - elsewhere <= set(under)
    assert "box" in under
    assert under == [name for name in names() if name in under]
    assert set(pages("314.24")) == {"box-depth", "side-entry", "side-entry-clearance", "depth-unknown"}


def test_every_section_of_every_block_of_every_rule_leads_to_that_rule():
    for rule in RULES:
        for table in indexed_tables(rule):
            assert {block["cite"] for block in table.blocks if "cite" in block} <= set(cites_of(table))
            for cite in cites_of(table):
                for section in sections_in(cite):
                    assert rule in pages(section)


@pytest.mark.parametrize("section", section_index())
def test_every_section_of_the_index_can_be_typed(section: str):
    assert pages(section)


@pytest.mark.parametrize(
    ("cite", "sections"),
    [
        ("314.17(B), (C)", ["314.17(B)", "314.17(C)"]),
        ("314.20, 314.21", ["314.20", "314.21"]),
        ("314.16(A): no deduction stated", ["314.16(A)"]),
        ("300.14 (2023 number; the 2026 number is not confirmed)", ["300.14"]),
        ("no table value", []),
        ("Chapter 9, note 7 to the tables", ["Chapter 9, note 7"]),
    ],
)
def test_the_sections_in_a_citation(cite: str, sections: list[str]):
    assert list(sections_in(cite)) == sections


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("garden hose", "code section 'garden hose'; try a word such as grounds"),
        ("grouns", "code section 'grouns'; the nearest are ground and"),
        ("314.16(B)(9)", "code section '314.16(B)(9)'; the nearest are 314.16(B)("),
        ("", "there is no rule"),
    ],
)  # fmt: skip
def test_what_is_not_known_gets_the_nearest(asked: str, told: str):
    with pytest.raises(PageUnknown) as refused:
        look_up(asked)
    assert told in str(refused.value)


def test_every_rule_has_trade_words_and_no_word_stands_for_nothing():
    for name in [*RULES, "box", "disputed"]:
        words = trade_words_of(name)
        assert words
        for word in words:
            assert name in pages(word) or look_up(word) in names()


TRADE_WORDS = {
    "box-fill-conductors": "conductor, wire, hot, neutral, splice, traveler, "
    "loop, coil, pigtail, jumper, pass through, box fill, allowance",
    "box-fill-fixture-wires": "fixture wire, canopy, domed canopy, luminaire wire, lead, equipment lead, box fill",
    "box-fill-low-voltage": "low voltage, class 2, data, thermostat wire, doorbell, signal, box fill",
    "box-fill-clamps": "clamp, cable clamp, internal clamp, connector, locknut, bushing, box fill",
    "box-fill-fittings": "stud, hickey, fixture stud, support fitting, box fill",
    "box-fill-devices": "device, yoke, strap, switch, receptacle, outlet, "
    "dimmer, gfci, gfi, blank plate, gang, pigtail, box fill",
    "box-fill-modules": "module, relay, smart relay, control module, box fill",
    "box-fill-grounds": "ground, equipment ground, egc, equipment grounding conductor, bonding jumper, "
    "bare, green, isolated ground, pigtail, box fill",
    "box-fill-terminal-blocks": "terminal block, terminal strip, wire connector, splicing connector, box fill",
    "box-room-standard": "standard box, metal box, box volume, box size, box room, 1900 box, "
    "4 square, octagon, handy box, device box, masonry box, ganged boxes",
    "box-room-marked": "marked box, plastic box, nonmetallic box, box volume, box room, unmarked box, measured box",
    "box-room-parts": "ring, cover, extension ring, plaster ring, mud ring, raised cover, box volume",
    "box-room-barriers": "barrier, divider, partition, space, box volume",
    "box-room-clamp-assembly": "clamp assembly, box volume",
    "conduit-body-splices": "conduit body, lb, splice, capped elbow, short radius, tap",
    "conduit-body-passing": "conduit body, lb, ll, lr, raceway, conduit fill, pass through",
    "box-depth": "depth, deep, box depth, shallow, device depth",
    "side-entry": "side entry, side wall, entry, knockout",
    "pull-box": (
        "pull box, junction box, large conductor, 4 awg, #4, straight pull, angle pull, u pull, 8 times, 6 times"
    ),
    "raceway-fill": (
        "raceway, conduit, conduit fill, raceway fill, fill, emt, pvc, nipple, sleeve, pipe, cable in conduit"
    ),
    "raceway-flexible-whip": "flexible conduit, flex, fmc, whip, 3/8 flex",
    "raceway-bends": "bend, 360, four bends, pull point, offset, conduit bend",
    "raceway-jam": "jam, jam ratio, jamming",
    "raceway-bend-radius": "bend, bend radius, radius, bender, conduit bend",
    "raceway-supports": "strap, conduit strap, support, hanger, conduit support",
    "raceway-expansion": "expansion, expansion fitting, expansion joint, pvc",
    "support-ratings": "weight, rating, fan, fan box, luminaire, fixture, support",
    "side-entry-clearance": "side entry, side wall, entry, clearance",
    "free-conductor": "free conductor, free length, 6 inches, slack, tail",
    "covers": "cover, faceplate, blank cover, finish, set back, gap, sheath, drywall screw, access, buried box",
    "support": "weight, rating, fan, fan box, luminaire, fixture, smoke alarm, support",
    "depth-unknown": "depth, deep, measure",
    "metal-into-nonmetallic": "plastic box, nonmetallic box, bonding, armored cable, metal raceway, mc, ac",
    "cable-without-clamp": "clamp, no clamp, stapled, single gang",
    "class-2-beside-power": "class 2, low voltage, barrier, separation",
    "old-wiring": "old wiring, old cable, aluminum, no ground, reduced ground, knob and tube",
}
"""The words of each rule, kept a second time: a word misspelled in its folder would lead nobody to its page. Common
practice, no source. A new rule need not stand here; that its words lead to it is tested for every rule."""


@pytest.mark.parametrize("rule", TRADE_WORDS)
def test_every_trade_word_is_spelled_as_the_trade_does(rule: str):
    assert ", ".join(trade_words_of(rule)) == TRADE_WORDS[rule]


def test_every_page_has_a_title():
    assert all(title_of(name) for name in names())
    assert title_of("plastic-tabs") == READINGS["plastic-tabs"].asks


def table_named(name: str) -> Table[Any]:
    return next(table for rule in RULES.values() for table in rule.reads if table.name == name)


@pytest.mark.parametrize(
    ("tables", "found"),
    [
        (("conduit_bodies.short_radius",), {"314.5": (2008, 2008), "314.16(C)(3)": (2011, max(OFFERED))}),
        (("box_fill.terminal_blocks",), {"314.16(B)(6)": (2023, max(OFFERED))}),
        (("box_fill.low_voltage",), {}),
        (("reminders.sheath",), {"314.17(C)": (2008, 2017), "314.17(B)": (2017, max(OFFERED))}),
    ],
)
def test_a_section_is_told_for_the_editions_that_have_it(tables: tuple[str, ...], found: dict[str, tuple[int, int]]):
    assert {section: (years[0], years[-1]) for section, years in sections(map(table_named, tables)).items()} == found
