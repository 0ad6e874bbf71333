"""docs/json.md: every field that is printed stands there with its type, and every field there is printed."""

from __future__ import annotations

import json
from typing import Any

import pytest

from ampleroom.cli import COMMANDS
from ampleroom.editions import READINGS
from ampleroom.rules.all_rules import RULES
from tests.cli.helpers import FAILS, FAULTY, NO_EDITION, OPEN, PASSES, inside
from tests.documents import ROOT, codes, rows

JSON = ROOT / "docs" / "json.md"
EXAMPLES = ROOT / "examples"
SPACES = """edition 2020
reading plastic-tabs not-counted
amendments cold_harbor.toml
box B1 at the bench
  marked 54 in3 plastic 3-gang
  barrier plastic
  space power 1/3
  2 x receptacle #12
  clamps tabs
  space signal 2/3
  clamps none
run B1/power > ? 2 x 12/2 nm-b
box L1
  conduit body c 1/2 on emt
wires L1 > ? 9 x #12 thhn
box L2
  conduit body lb 1/2 on emt
wires ? > ? 2 x #12 thhn, 2 x #14 thhn through L2
run B1/power > ? 14/2
"""
AMENDMENTS = 'place = "Cold Harbor"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n'
ROOMLESS = """edition 2020
box A1
  marked ? in3
  clamps ?
  2 x receptacle #12
  mounted finished
run A1 > ? 12/2 nm-b
box A2
  device 3 x 2 x 1-1/2
  clamps inside
  2 x receptacle #12
  mounted finished
run A2 > ? 14 x 12/2 nm-b
"""
GROUNDS = """edition 2017
reading spliced-free-length spliced
box J1
  square 4 x 2-1/8
  clamps outside
circuit 3 20 A
load range 12 kW
run J1 > ? 6 x 12/2 nm-b circuit 3
"""
RACEWAY = """edition 2020
job Slip room
panel P
equipment K1
raceway R1 P > K1 emt 1 40 ft
raceway R2 P > K1 emt ? 40 ft
wireway W1 4 x 4 5 ft
wires P > K1 3 x #3 thhn in R1
wires P > K1 3 x #6 thhn, ground #10 in R2
wires P > K1 3 x #6 thhn in W1
"""
PULL_BOX = """edition 2020
panel P
equipment K1
box PB1
  inside 24 x 18 x 6 in
  entry R1 left
  entry R2 top
  entry R3 rear
raceway R1 P > PB1 emt 3
raceway R2 PB1 > K1 emt 3
raceway R3 P > PB1 emt 2
wires P > K1 3 x #250 thhn through PB1 in R1, R2
wires P > PB1 3 x #4 thhn in R3
"""
BODY = """edition 2020
panel P
equipment K1
box LB1
  conduit body lb 3 on rmc
  marked for 3 x #4/0
box C1
  conduit body c 3/4 on emt
box T1
  conduit body t 2 on emt
box C2
  conduit body ll 2 on emt
wires P > K1 3 x #4/0 xhhw through LB1
wires P > K1 3 x #10 thhn through C1
wires P > K1 ? x #4 thhn through T1
wires P > K1 3 x #4 through C2
wires P > C2 > K1 3 x #4 thhn
"""
BENT = """edition 2020
panel P
equipment K1
raceway R1 P > K1 emt 3/4 5 bends 90
wires P > K1 9 x #8 thhn in R1
"""
KILN = "edition 2020\npanel P\nequipment K1\ncircuit 5 50 A 240 V 9600 VA\nrun P > K1 6/2 nm-b circuit 5\n"
SERVICE = """edition 2020
panel P 120/240 V
equipment M
circuit 1 200 A 240 V serves dwelling electrode rod ?
wires P > M 3 x #4/0 xhhw-2 aluminum circuit 1
"""
TREE = """edition 2020
panel P 120/240 V
circuit 3 20 A
run P > A 12/2 nm-b 38 ft circuit 3 load 600 VA
run A > ? 12/2 nm-b 22 ft circuit 3 load 750 VA
run A > ? 12/2 nm-b circuit 3
box A
  marked 30 in3
circuit 4 60 A 240 V 11520 VA serves charger
equipment K
wires P > K 2 x #4 thhn, ground #6 60 ft circuit 4 spaced
"""
BUNDLE = """edition 2020
panel P 120/240 V
equipment K1
equipment K2
route plate 1 ft sealed
circuit 1 20 A 120 V
circuit 2 20 A 120 V
run P > K1 4 x 12/2 nm-b 40 ft circuit 1 by plate
run P > K2 12/2 nm-b 40 ft circuit 2 by plate
"""
ALIKE = "edition 2020\nbox J1\n  square 4 x 2-1/8\nbox \u04081\n  square 4 x 2-1/8\n"
SHEETS = {
    "alike": ALIKE, "body": BODY, "kiln": KILN, "bent": BENT, "pull-box": PULL_BOX, "raceway": RACEWAY,
    "passes": PASSES, "fails": FAILS, "open": OPEN, "faulty": FAULTY, "no-edition": NO_EDITION, "spaces": SPACES,
    "roomless": ROOMLESS, "grounds": GROUNDS, "bundle": BUNDLE, "service": SERVICE, "tree": TREE,
}  # fmt: skip
HEADINGS = [line.removeprefix("### ") for line in JSON.read_text("utf-8").split("\n") if line.startswith("### ")]
TYPES: dict[str, dict[str, str]] = {
    heading: {codes(row[0])[0]: row[1] for row in rows(JSON, heading)} for heading in HEADINGS
}
SCALARS: dict[str, type | tuple[type, ...]] = {
    "text": str, "whole number": int, "number": (int, float), "true or false": bool, "null": type(None),
}  # fmt: skip
PRINTS = {
    "report": [["check", f"{name}.job"] for name in ("alike", "passes", "fails", "open", "spaces", "roomless",
        "grounds")]
    + [["check", "open.job", "--edition", "2026"], ["show", "J1", "open.job"], ["show", "B1", "spaces.job"]],
    "report-of-circuit": [["show", "5", "kiln.job"], ["show", "3", "tree.job"], ["show", "4", "tree.job"],
        ["show", "3", "grounds.job"]],
    "report-before": [["check", f"{name}.job", "--form", "1"] for name in ("passes", "spaces")]
    + [["show", "J1", "open.job", "--form", "1"], ["check", "grounds.job", "--form", "1"]],
    "fits": [["fits", "J1", "passes.job"], ["fits", "B1/power", "spaces.job"]],
    "tried": [["fits", "J1", f"{name}.job", "--cable", "12/2", "nm-b"] for name in ("alike", "passes", "fails", "open")]
    + [["fits", "B1/power", "spaces.job", "--cable", "12/2", "nm-b"]],
    "size-of-body": [["size", name, "body.job"] for name in ("LB1", "T1", "C2")],
    "size-of-circuit": [["size", "3", "grounds.job"], ["size", "5", "kiln.job"], ["size", "1", "service.job"]],
    "size-of-box": [["size", "PB1", "pull-box.job"]],
    "size": [["size", name, "raceway.job"] for name in ("R1", "R2", "W1")] + [["size", "C1", "body.job"]],
    "rules": [["rule"]],
    "rule": [["rule", name] for name in RULES],
    "point": [["rule", name] for name in READINGS],
    "pages": [["rule", "pigtails"]],
    "points": [["rule", "disputed"]],
    "box-table": [["rule", "box"], ["rule", "box", "--edition", "2026"]],
    "sheet": [["new"], ["new", "new-one.job"], ["new", "--adopted", "Alaska"]],
    "answer": [["ask", "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12", "--adopted", "Alaska"],
               ["ask", "3 x #6 thhn, ground #10 in emt", "--edition", "2020"],
               ["ask", "12/2 nm-b", "--edition", "2017"],
               ["ask", "how many #12 thhn in 3/4 emt", "--edition", "2020"],
               ["ask", "9600 VA kiln, continuous, 240 V, nm-b", "--edition", "2020"],
               ["ask", "12 x 12/2 nm-b in one hole", "--edition", "2020"],
               ["ask", "200 A dwelling service, aluminum", "--edition", "2020"],
               ["ask", "square 4 x 2-1/8, 2 x 12/2, clamps inside", "--edition", "2020"],
               ["ask", "marked 200 in3, 40 x 12/2 nm-b, clamps tabs", "--edition", "2020"]],
    "own": [["settings", "edition", "2020"], ["settings"]],
    "remedies": [["remedy", "J1", "fails.job", "--no-solver"], ["remedy", "R1", "bent.job", "--no-solver"],
        ["remedy", "circuit", "1", "bundle.job"], ["remedy", "A1", "roomless.job", "--no-solver", "--no-plaster"],
                 ["remedy", "A2", "roomless.job", "--no-solver", "--no-plaster"]],
    "plan": [["remedy", "fails.job", "--no-solver"], ["remedy", "bent.job", "--no-solver"],
        ["remedy", "open.job", "--no-solver"],
        ["remedy", "roomless.job", "--no-solver", "--no-plaster"]],
    "reexamined": [["remedy", "grounds.job", "--no-solver", "--against", "2023"]],
    "takeoff": [["takeoff", "fails.job"]],
    "picture": [["map", "fails.job"]],
    "converted": [["convert", "fails.job", "--to", "fails.csv"]],
    "faults": [["check", "faulty.job"], ["show", "J1", "faulty.job"], ["fits", "J1", "faulty.job"]],
    "error": [["check", "no-edition.job"], ["show", "J9", "passes.job"], ["rule", "nothing"], ["new", "passes.job"]],
}  # fmt: skip
NOT_RUN = {"packet"}
"""Printed by what needs more than the core; its fields are held against the code below."""


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """Everything the commands print, by the name of its object."""
    folder = tmp_path_factory.mktemp("json")
    for name, text in SHEETS.items():
        (folder / f"{name}.job").write_text(text, "utf-8")
    (folder / "cold_harbor.toml").write_text(AMENDMENTS, "utf-8")
    (folder / "stock.toml").write_bytes((EXAMPLES / "stock.toml").read_bytes())
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setenv("XDG_CONFIG_HOME", str(folder / "config"))
        return {
            name: [json.loads(inside(*words, "--json").out) for words in several] for name, several in PRINTS.items()
        }


def fields_of(name: str) -> dict[str, str]:
    own = dict(TYPES[name])
    return {**TYPES[own.pop("...")], **own} if "..." in own else own


def misfits(value: Any, kind: str, path: str, seen: set[str]) -> list[str]:
    """Where a value is not what the document says; ``seen`` gathers the fields that were there with a value."""
    ways = kind.split(" or ") if kind != "true or false" else [kind]
    if value is None:
        return [] if "null" in ways else [f"{path} is null"]
    (way,) = [way for way in ways if way != "null"]
    if way in SCALARS:
        fits = isinstance(value, SCALARS[way]) and (way == "true or false" or not isinstance(value, bool))
        return [] if fits else [f"{path} is {value!r}, not {way}"]
    if way.startswith("list of "):
        return [trouble for item in value for trouble in misfits(item, way.removeprefix("list of "), f"{path}[]", seen)]
    if kind.startswith("map of "):
        return [
            trouble
            for item in value.values()
            for trouble in misfits(item, kind.removeprefix("map of "), f"{path}{{}}", seen)
        ]
    fields = fields_of(way)
    found = [f"{path}.{name} is not in the document" for name in value.keys() - fields.keys()]
    found += [f"{path}.{name} is not printed" for name in fields.keys() - value.keys()]
    for name in value.keys() & fields.keys():
        if value[name] is not None and value[name] != [] and value[name] != {}:
            seen.add(f"{way}.{name}")
        found += misfits(value[name], fields[name], f"{path}.{name}", seen)
    return found


@pytest.mark.parametrize("name", PRINTS)
def test_what_is_printed_is_what_the_document_says(printed, name):
    for value in printed[name]:
        assert misfits(value, name, name, set()) == []


def test_every_field_of_the_document_is_printed_with_a_value(printed):
    seen: set[str] = set()
    for name, values in printed.items():
        for value in values:
            misfits(value, name, name, seen)
    written = {f"{name}.{field}" for name in HEADINGS if name not in NOT_RUN for field in fields_of(name)}
    assert written - seen == {
        "plan.not_looked_at",  # only where the time for the search ran out
        "plan.not_tried",  # only of a box with more than 24 cables: tests/cli/test_remedy.py
        "remedies.not_tried",
        "answer.not_judged",  # of one box alone
        "answer.warnings",
        "report-of-circuit.not_judged",
        "report-of-circuit.warnings",
        "tried.not_judged",
    }


def test_every_schema_printed_stands_in_the_document(printed):
    text = JSON.read_text("utf-8")
    for values in printed.values():
        assert all(f"`{value['schema']}`" in text for value in values)


def test_every_object_of_the_document_is_used():
    used = {word for fields in TYPES.values() for kind in fields.values() for word in kind.split()}
    assert {name for name in HEADINGS if name not in used} == (set(PRINTS) | NOT_RUN) - used


def test_the_packet_prints_the_fields_of_the_document():
    source = (ROOT / "src" / "ampleroom" / "cli" / "packet.py").read_text("utf-8")
    for field in TYPES["packet"]:
        assert f'"{field}":' in source


def test_every_command_is_in_the_table_of_the_document():
    said = " ".join(row[0] for row in rows(JSON, "The answers as JSON"))
    assert [command for command in COMMANDS if command not in said] in ([], ["serve"], ["serve", "offline"])


def test_numbers_that_decide_are_texts_and_their_sums_are_exact(printed):
    from fractions import Fraction

    for report in printed["report"]:
        for box in report["subjects"]:
            for finding in box["findings"]:
                for sheet in (finding["worksheet"], finding["best_case"], finding["worst_case"]):
                    if sheet and sheet["needed"] is not None:
                        assert sum(Fraction(line["amount"]) for line in sheet["need"]) == Fraction(sheet["needed"])
