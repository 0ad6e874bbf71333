"""What a conduit body must be: the least that passes, and nothing less."""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.editions.raceways import BORES
from ampleroom.errors import AmpleroomError
from ampleroom.sizing.conduit_body import needed_body, needed_lines, sizes

SMALL = "edition 2020\npanel P\npanel Q\nbox A\n  conduit body lb {size} on {kind}\nwires P > Q {wires} through A\n"
LARGE = "edition {year}\npanel P\npanel Q\nbox A\n  conduit body {base}\n  {under}\nwires P > Q {wires} through A\n"


@pytest.mark.parametrize("wires", ["3 x #12 thhn", "9 x #10 thhn", "2 x #6 thhn", "12 x #6 xhhw, ground #8 bare"])
def test_the_smallest_passes_and_one_size_down_fails(wires: str):
    job = read_job(SMALL.format(size="1/2", kind="emt", wires=wires))
    book = book_for(job)
    found = sizes(job, "A", book)
    assert [each.kind for each in found] == ["emt", "imc", "rmc", "pvc-40", "pvc-80"]
    for each in found:
        known = [row.size for row in book[BORES].rows if row.kind == each.kind]
        at = known.index(each.certain)
        assert each.next_up == known[at + 1]
        for size, word in [(each.certain, "passes"), *((size, "fails") for size in known[max(at - 1, 0) : at])]:
            report = check(read_job(SMALL.format(size=size, kind=each.kind, wires=wires)))
            assert report.subject("A").verdict.word == word, (each.kind, size)


@pytest.mark.parametrize(
    "lines", ["box A\n  conduit body lb 1/2 on emt", "box A\n  conduit body lb 1 on emt marked 12 in3"]
)
def test_an_empty_body_and_one_with_splices_have_no_size_by_their_raceway(lines: str):
    wires = "wires A > ? 3 x #12 thhn\n" if "marked" in lines else ""
    job = read_job(f"edition 2020\n{lines}\n{wires}")
    with pytest.raises(AmpleroomError, match="A is not sized by its raceway"):
        sizes(job, "A", book_for(job))


@pytest.mark.parametrize(
    ("wires", "marked", "one_less"),
    [
        ("3 x #4/0 xhhw", "3 x #4/0 xhhw", ("2 x #4/0 xhhw", "3 x #3/0 xhhw")),
        ("3 x #4/0 xhhw, ground #4 bare", "4 x #4/0 xhhw", ("3 x #4/0 xhhw", "4 x #1/0 xhhw")),
    ],
)
@pytest.mark.parametrize("year", [2014, 2020])
def test_a_marking_for_what_it_needs_passes_and_one_for_less_does_not(year, wires, marked, one_less):
    def word(marking: str) -> str:
        sheet = LARGE.format(year=year, base="lb 3 on rmc", under=f"marked for {marking}", wires=wires)
        return check(read_job(sheet)).subject("A").verdict.word

    job = read_job(LARGE.format(year=year, base="lb 3 on rmc", under="", wires=wires))
    needed = needed_body(job, "A", book_for(job))
    assert f"{needed.conductors} x #{needed.size} xhhw" == marked
    assert (needed.area is None) is (year < 2017)
    assert word(marked) == "passes"
    assert [word(less) for less in one_less] == ["check needed"] * 2


def test_the_inside_it_needs_passes_and_an_eighth_less_does_not():
    # EC&M, Quizzes on the Code, about 2000: 8 x 2 = 16 in.
    def sheet(long: str) -> str:
        base = f"c 2 on emt inside {long} x 4 x 4 in"
        return LARGE.format(year=2020, base=base, under="marked for none", wires="3 x #1/0 thhn")

    job = read_job(sheet("1"))
    assert ("or, without a marking, from left to right", "16 in.") in needed_lines(needed_body(job, "A", book_for(job)))
    assert [check(read_job(sheet(long))).subject("A").verdict.word for long in ("16", "15-7/8")] == ["passes", "fails"]
