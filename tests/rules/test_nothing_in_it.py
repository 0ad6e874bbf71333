"""A box in which nothing is written, or whose volume nobody knows, is open: nobody has checked anything there."""

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.fits import fits
from tests.helpers import box, in_box

VOLUME_NOT_KNOWN = ["", "marked ? in3", "unmarked", "inside 4 x 4 x 2 in", "square 4 x 1-1/2 plastic"]


def only(found):
    (finding,) = [finding for finding in found.findings if finding.rule == "box-fill"]
    return finding


@pytest.mark.parametrize("base", ["marked 20.3 in3", "square 4 x 1-1/2", "octagon 4 x ?", "inside 12 x 12 x 6 in"])
@pytest.mark.parametrize("beside", ["", "clamps inside", "stud", "plaster ring 3 in3", "mounted old-work"])
def test_a_box_with_nothing_in_it_is_open(base, beside):
    found = box(in_box(beside, base=base))
    assert found.is_empty
    assert only(found).verdict is Verdict.OPEN
    assert "has nothing in it yet" in only(found).message
    assert "what comes into A and what sits in it" in [fact.question for fact in only(found).facts]


@pytest.mark.parametrize("base", VOLUME_NOT_KNOWN)
def test_a_box_of_unknown_volume_with_nothing_in_it_is_not_called_exactly_full(base):
    found = only(box(in_box(base=base)))
    assert found.verdict is Verdict.OPEN
    assert found.message == "A has nothing in it yet; box volume not known"


@pytest.mark.parametrize("base", VOLUME_NOT_KNOWN)
@pytest.mark.parametrize(
    "inside", ["fixture wires 2 x #16 from domed canopy", "fixture wires 2 x #16 from domed canopy; plaster ring 3 in3"]
)
def test_a_box_of_unknown_volume_is_open_even_where_what_is_in_it_takes_no_room(inside, base):
    """Four thin fixture wires from a domed canopy need not be counted: 314.16(B)(1), exception."""
    found = only(box(in_box(inside, base=base)))
    assert found.worst.needed == 0
    assert found.verdict is Verdict.OPEN
    assert "full" not in found.message
    assert any("0.00 in3 or more" not in fact.settles and "known" in fact.settles for fact in found.facts)


@pytest.mark.parametrize(
    "inside", ["switch #12", "fixture wires 2 x #16 from domed canopy", "pigtail #14", "terminal block #12"]
)
def test_one_thing_in_it_and_it_is_judged(inside):
    assert box(in_box(inside)).verdict is Verdict.PASSES


def test_a_side_left_empty_does_not_open_a_box_that_has_something_in_it():
    sheet = "box A\n  marked 60 in3\n  barrier metal\n  space l 1/2\n  space r 1/2\nrun A/l > ? 12/2 nm-b\n"
    assert [finding.verdict for finding in box(sheet).findings if finding.worst] == [Verdict.PASSES, Verdict.PASSES]
    assert box(sheet.replace("run A/l > ? 12/2 nm-b\n", "")).verdict is Verdict.OPEN


def test_what_fits_into_an_empty_box_is_still_counted():
    """21.00 in3 takes two 12/2 with clamps inside: 2 x 2 x 2.25 + 2.25 + 2.25 = 13.50; three: 18.00; four: over
    21.00.
    """
    sheet = "edition 2020\nbox A\n  square 4 x 1-1/2\n  clamps inside\n"
    job = read_job(sheet)
    (found,) = fits(job, "A", check(job).book, ("12/2 nm-b",))
    assert (found.certain, found.possible) == (3, 3)


def test_a_job_without_a_box_is_not_a_pass():
    assert check(read_job("edition 2020\npanel P\n")).verdict is Verdict.OPEN
