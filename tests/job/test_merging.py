"""What differs between two sheets, in words; and two changes of one sheet put together, with nothing lost or
doubled.
"""

import random

import pytest

from ampleroom.job.again import lines_alike, read_whole
from ampleroom.job.differences import PlacedText, alike_ends, difference_text
from ampleroom.job.merging import Merge
from ampleroom.job.sheet import Sheet

BASE = """job Slip rails
edition 2020
box K1 at the sink
  square 4 x 2-1/8
  clamps outside
  receptacle #12
box J1 at the door
  square 4 x 1-1/2
  clamps outside
run K1 > ? 12/2 nm-b
run K1 > J1 12/2 nm-b
"""


def read(text):
    return read_whole(Sheet(text, "sheet"))


def placed(text):
    return PlacedText(read(text))


def merge(mine, theirs, base=BASE):
    return Merge(placed(base), placed(mine), placed(theirs))


def changed(*pairs, base=BASE):
    for old, new in pairs:
        assert base.count(old) == 1, old
        base = base.replace(old, new)
    return base


INSIDE = (
    "box J1 at the door\n  square 4 x 1-1/2\n  clamps outside",
    "box J1 at the door\n  square 4 x 1-1/2\n  clamps inside",
)


@pytest.mark.parametrize(
    ("pairs", "told"),
    [
        ([("run K1 > ? 12/2 nm-b\n", "run K1 > ? 2 x 12/2 nm-b\n")], "one 12/2 nm-b more in K1"),
        ([("run K1 > ? 12/2 nm-b\n", "run K1 > ? 12/2 nm-b\nrun K1 > ? 12/2 nm-b\n")], "one 12/2 nm-b more in K1"),
        ([("run K1 > ? 12/2 nm-b\n", "")], "one 12/2 nm-b fewer in K1"),
        ([("run K1 > J1 12/2", "run K1 > J1 3 x 12/2")], "two 12/2 nm-b more from K1 to J1"),
        ([("run K1 > J1 12/2 nm-b", "run K1 > J1 12/2 nm-b 30 ft")],
         "12/2 nm-b from K1 to J1: now K1 > J1 12/2 nm-b 30 ft"),
        ([INSIDE], "J1 clamps inside"),
        ([("  receptacle #12\n", "  receptacle #12\n  switch #12\n")], "switch #12 added in K1"),
        ([("  receptacle #12\n", "")], "receptacle #12 taken out of K1"),
        ([("  receptacle #12\n", "  switch #12\n")], "K1 switch #12"),
        ([("square 4 x 2-1/8", "marked 20.3 in3")], "K1 marked 20.3 in3"),
        ([("run K1 > ? ", "box L9\n  square 4 x 2-1/8\nrun K1 > ? ")], "box L9 added"),
        ([("box J1 at the door\n  square 4 x 1-1/2\n  clamps outside\n", ""), ("run K1 > J1", "run K1 > ?")],
         "box J1 taken out; 12/2 nm-b from K1 to J1: now K1 > ? 12/2 nm-b"),
        ([("edition 2020", "edition 2023")], "edition 2023"),
        ([("at the sink", "at the range")], "box K1 at the range"),
        ([("edition 2020\n", "edition 2020\n\n# by hand\n")], "empty lines or remarks"),
        ([], ""),
    ],
)  # fmt: skip
def test_a_change_is_told_in_a_few_words(pairs, told):
    assert difference_text(placed(BASE), placed(changed(*pairs))) == told


def test_two_facts_of_two_boxes_are_both_taken():
    """The sentence of the page: you one cable more in K1, there the clamps of J1."""
    mine = changed(("run K1 > ? 12/2 nm-b\n", "run K1 > ? 2 x 12/2 nm-b\n"))
    both = merge(mine, changed(INSIDE))
    assert [both.told(part) for part in both.parts] == [("", "J1 clamps inside"), ("one 12/2 nm-b more in K1", "")]
    assert both.together({}, read) == changed(("run K1 > ? 12/2 nm-b\n", "run K1 > ? 2 x 12/2 nm-b\n"), INSIDE)
    assert both.together({0: "neither"}, read) == mine
    assert both.together({1: "neither"}, read) == changed(INSIDE)


def test_cables_added_by_both_at_the_foot_are_both_taken_where_they_differ():
    both = merge(BASE + "run K1 > ? 14/2 nm-b\n", BASE + "run J1 > ? 12/3 nm-b\n")
    found = both.together({}, read)
    assert sorted(found.split("\n")) == sorted((BASE + "run K1 > ? 14/2 nm-b\nrun J1 > ? 12/3 nm-b\n").split("\n"))


def test_the_same_cable_added_by_both_is_one_or_two_and_a_person_says_which():
    """Lines that repeat: two of one kind are there already."""
    line = "run K1 > ? 12/2 nm-b\n"
    base = BASE + line
    both = merge(base + line, base + line, base)
    (part,) = both.parts
    assert both.ways(part) == ("mine", "theirs", "both")
    assert both.told(part) == ("one 12/2 nm-b more in K1", "one 12/2 nm-b more in K1")
    assert both.together({}, read) is None
    assert both.together({0: "mine"}, read) == base + line
    assert both.together({0: "both"}, read) == base + line + line


def test_one_of_two_equal_lines_taken_out_while_the_other_is_written_anew():
    base = BASE + "run K1 > ? 12/2 nm-b\n"
    mine = BASE
    theirs = BASE + "run K1 > J1 12/2 nm-b 8 ft\n"
    both = merge(mine, theirs, base)
    assert both.together({}, read) is None  # one line, two wishes
    assert both.together({0: "mine"}, read) == mine
    assert both.together({0: "theirs"}, read) == theirs


def test_neighboring_lines_are_facts_of_their_own():
    mine = changed(("square 4 x 1-1/2", "marked 22 in3"))
    both = merge(mine, changed(INSIDE))
    assert both.together({}, read) == changed(INSIDE, base=mine.replace("marked 22 in3", "square 4 x 1-1/2")).replace(
        "square 4 x 1-1/2", "marked 22 in3"
    )


def test_one_line_changed_by_both_has_to_be_chosen():
    both = merge(changed(("  receptacle #12", "  switch #12")), changed(("  receptacle #12", "  receptacle #10")))
    (part,) = both.parts
    assert both.ways(part) == ("mine", "theirs")
    assert both.together({}, read) is None
    assert "  receptacle #10\n" in both.together({0: "theirs"}, read)
    assert both.together({0: "both"}, read) is None  # no way of this part


def test_one_line_changed_alike_by_both_is_no_conflict():
    both = merge(changed(INSIDE), changed(INSIDE, ("edition 2020", "edition 2023")))
    assert both.together({}, read) == changed(INSIDE, ("edition 2020", "edition 2023"))


def test_a_line_never_comes_under_another_box():
    """There J1 is taken out; you write a line under it. Left to lines alone, yours would come under K1."""
    gone = "box J1 at the door\n  square 4 x 1-1/2\n  clamps outside\n"
    mine = changed((gone, gone + "  switch #12\n"))
    both = merge(mine, changed((gone, ""), ("run K1 > J1", "run K1 > ?")))
    assert both.together({}, read) is None
    number = next(n for n, part in enumerate(both.parts) if part.mine and part.theirs)
    assert both.together({number: "theirs"}, read) == changed((gone, ""), ("run K1 > J1", "run K1 > ?"))


def test_a_line_under_a_box_and_a_box_added_behind_it_keep_their_places():
    base = BASE.replace("run K1 > ? 12/2 nm-b\nrun K1 > J1 12/2 nm-b\n", "")
    for one, other in [("mine", "theirs"), ("theirs", "mine")]:
        sides = {one: base + "  switch #12\n", other: base + "box L9\n  square 4 x 2-1/8\n"}
        found = merge(sides["mine"], sides["theirs"], base).together({}, read)
        assert found == base + "  switch #12\nbox L9\n  square 4 x 2-1/8\n"


def lines_under(text):
    """Every line with the box it stands under, as a count."""
    return sorted(placed(text).tokens)


def test_random_changes_lose_nothing_and_double_nothing():
    """Changes of different boxes by each side: what comes out is the base with both, whatever their order."""
    random_ = random.Random("slip rails")
    for _ in range(150):
        boxes = [f"B{n}" for n in range(8)]
        blocks = {
            box: [f"box {box} at {box}", "  square 4 x 2-1/8", "  clamps outside", "  receptacle #12"] for box in boxes
        }
        base = "\n".join(["job X", "edition 2020", *(line for box in boxes for line in blocks[box]), ""])
        random_.shuffle(boxes)
        sides, expected = [], {box: list(lines) for box, lines in blocks.items()}
        for own in (boxes[:4], boxes[4:]):
            mine = {box: list(lines) for box, lines in blocks.items()}
            for box in own:
                for target in (mine, expected):
                    target[box] = altered(blocks[box], box)
            sides.append(
                "\n".join(["job X", "edition 2020", *(line for box in sorted(blocks) for line in mine[box]), ""])
            )
        whole = "\n".join(["job X", "edition 2020", *(line for box in sorted(blocks) for line in expected[box]), ""])
        both = merge(sides[0], sides[1], base)
        assert both.together({}, read) == whole
        assert merge(sides[1], sides[0], base).together({}, read) == whole


def altered(lines, box):
    """Another state of a box, always the same for one name."""
    way = sum(map(ord, box)) % 4
    return [
        [*lines[:2], "  clamps inside", *lines[3:]],
        [*lines, "  switch #12"],
        lines[:-1],
        [lines[0], "  marked 30 in3", *lines[2:]],
    ][way]


def test_what_two_lists_have_in_common_at_their_ends_is_what_a_loop_finds():
    random_ = random.Random("ends")
    for _ in range(2000):
        old, new = ([random_.choice(["a", "b", "ab", ""]) for _ in range(random_.randrange(9))] for _ in range(2))
        first = next((n for n, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))
        rest = min(len(old), len(new)) - first
        pairs = list(zip(reversed(old), reversed(new), strict=False))[:rest]
        last = next((n for n, (a, b) in enumerate(pairs) if a != b), rest)
        assert alike_ends(old, new) == (first, last)
        if old and new:
            assert lines_alike("\n".join(old), "\n".join(new)) == (first, last)
