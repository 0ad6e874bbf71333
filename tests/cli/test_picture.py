"""show BOX --picture: the box's pictures in a file beside the worksheet."""

import re
import xml.etree.ElementTree as ET

import pytest

from tests.cli.helpers import inside
from tests.pictures.helpers import DIVIDED, SVG
from tests.pictures.test_circuit_tree import FORK


def words(path):
    return ["".join(element.itertext()) for element in ET.parse(path).iter(f"{SVG}text")]


def test_the_picture_holds_what_enters_and_the_room_and_the_worksheet_is_printed_all_the_same(folder):
    ran = inside("show", "J1", "fails.job", "--picture", "J1.svg")
    assert ran == inside("show", "J1", "fails.job")
    assert ran.status == 1
    written = words(folder / "J1.svg")
    assert {"J1", "FAILS", "15.00 in³ over", "12/2 nm-b", "black #12"} <= set(written)


def test_each_side_of_a_barrier_has_its_room(folder):
    (folder / "divided.job").write_text(DIVIDED)
    inside("show", "D", "divided.job", "--picture", "D.svg")
    assert {"D/left", "D/right"} <= set(words(folder / "D.svg"))


def test_where_facts_are_unknown_both_cases_are_drawn(folder):
    assert inside("show", "J1", "open.job", "--picture", "J1.svg").status == 3
    assert {"Worst case", "Best case"} <= set(words(folder / "J1.svg"))


def test_the_picture_as_a_drawing_file_opens(folder):
    ezdxf = pytest.importorskip("ezdxf")
    inside("show", "J1", "fails.job", "--picture", "J1.dxf")
    assert not ezdxf.readfile(folder / "J1.dxf").audit().errors


def test_another_kind_of_file_is_refused_before_anything_is_printed(folder):
    ran = inside("show", "J1", "fails.job", "--picture", "J1.pdf")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("ampleroom show: a picture is written as .svg or .dxf, not '.pdf'")


def test_dark_and_light_differ(folder):
    for theme in ("light", "dark"):
        inside("show", "J1", "fails.job", "--picture", f"{theme}.svg", "--theme", theme)
    assert (folder / "light.svg").read_bytes() != (folder / "dark.svg").read_bytes()


def test_the_tree_of_a_circuit_is_told_and_drawn(folder):
    (folder / "fork.job").write_text(FORK)
    lines = inside("show", "3", "fork.job").out.splitlines()
    start = lines.index("From P outward")
    rows = [re.sub(r"  +", "|", line.strip()) for line in lines[start + 1 : start + 5]]
    assert rows == [
        "P > J1|12/2 nm-b, 38 ft|20 A|1.88 V, 1.6 %",
        "J1 > W1|12/2 nm-b, 22 ft|20 A|2.97 V, 2.5 %",
        "* W1 > W2|10/2 nm-b, 8 ft|30 A|3.22 V, 2.7 %",
        "J1 > S1|12/2 nm-b, 15 ft|20 A|2.62 V, 2.2 %",
    ]
    inside("show", "3", "fork.job", "--picture", "fork.svg")
    assert "W2 is farthest down" in (folder / "fork.svg").read_text("utf-8")
