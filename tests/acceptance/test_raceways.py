"""Published questions on pull boxes and raceways, each a sheet given to ``check`` and ``size`` as a user would.

The ids are those of the collection. Where the published answer is wrong the case says so, and has the right figure with
its reason. Not sheets: rf-114, a claim on jamming at 40 % in general (``tests/rules/raceway/test_judged.py`` works it
out), and the 1-1/2 in. of pb-017 for compact aluminum behind a back entry: the wider column for other conductors is
taken for all, which is the safe side.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from ampleroom.editions import OFFERED
from tests.cli.helpers import inside

# ---- pull boxes ------------------------------------------------------------------------------------------------------

# Id and source; the walls of R1, R2 ... with their trade sizes; what is pulled ("1>2": through, "1": ends here) and of
# what size; the least measures across, down and deep (0: none is asked); the distances between entries.
PULL_BOXES = [
    ("pb-001, EC&M quizzes on the code, about 2000: 8 x 2",
     "left 2, right 2", "1>2 #1/0", (16, 0, 0), {}),
    ("pb-003, the same (question; no key seen): 6 x 2 both ways, and 12 between the entries",
     "left 2, top 2", "1>2 #1/0", (12, 12, 0), {"R1 R2": 12}),
    ("pb-005, the same (question; no key seen): exam practice takes 14 x 14; the entries are 12 apart besides",
     "left 2, left 2", "1>2 #1/0", (14, 0, 0), {"R1 R2": 12}),
    ("pb-007, Electrical Contractor, about 2000: 8 x 4, and 6 x 3 for the top wall",
     "left 4, right 4, top 3", "1>2 #4/0, 3 #1/0", (32, 18, 0), {}),
    ("pb-009, EC&M newsletter, 2008 (figures recomputed): 6 x 3 + 2 is more than 8 x 2; 18 between the 3 in. raceways",
     "left 2, left 3, top 3, right 2", "1>4 #1/0, 2>3 #4/0", (20, 18, 0), {"R2 R3": 18}),
    ("pb-011, trade newsletter, 2025: 8 x 3", "left 3, right 3", "1>2 #4/0", (24, 0, 0), {}),
    ("pb-013, how-to page, about 2011: 8 x 3, wall to wall and not between the raceways, as it words it",
     "left 3, right 3", "1>2 #4/0", (24, 0, 0), {}),
    ("pb-015, quiz on article 314, part 9, about 2012 (question; no key seen): 6 x 2",
     "left 2, top 2", "1>2 #2", (12, 12, 0), {"R1 R2": 12}),
    ("pb-017, trade-forum thread of 2022: a #4 cable that would need a 3/4 in. raceway, from the side",
     "left 3/4", "1 #4", ("4-1/2", 0, 0), {}),
    ("pb-017: one that would need a 1 in. raceway", "left 1", "1 #4", (6, 0, 0), {}),
    ("pb-017: the same from the back: the bending space of a #4", "rear 1", "1 #4", (0, 0, 2), {}),
    ("pb-019, EC&M newsletter, 2008: 10 x 10 is not enough for 8 x 2", "left 2, right 2", "1>2 #1/0", (16, 0, 0), {}),
    ("pb-102, study question, about 2025. Its key, 12, is WRONG: it adds the trade sizes; a straight pull is 8 x 4",
     "left 1, left 1, left 4, right 1, right 1, right 4", "1>4 #4, 2>5 #4, 3>6 250", (32, 0, 0), {}),
    ("pb-105, maker's note, about 2022: 24 straight, 21 angle, so 24; 6 x 3 = 18 down is ours",
     "left 3, left 3, right 3, bottom 3", "1>3 #4/0, 2>4 #4/0", (24, 18, 0), {"R2 R4": 18}),
    ("pb-108, code quiz of October 2000, question 7 (no key seen): 6 x 3-1/2",
     "bottom 3-1/2, right 3-1/2", "1>2 500", (21, 21, 0), {"R1 R2": 21}),
]  # fmt: skip
LARGE_ENOUGH = (90, 91, 12)


def inches_text(number: Decimal) -> str:
    whole, part = divmod(number, 1)
    numerator, denominator = part.as_integer_ratio()
    return f"{int(whole)}-{numerator}/{denominator}" if part else str(int(whole))


def decimal(measure: object) -> Decimal:
    whole, _, part = str(measure).partition("-")
    top, _, bottom = part.partition("/")
    return Decimal(whole) + (Decimal(top) / Decimal(bottom) if part else 0)


def pull_box_sheet(entries: str, pulls: str, sides: tuple[Decimal, ...], apart: dict[str, Decimal]) -> str:
    """A sheet with the box PB; raceways that a pull leaves by go on to Q, all others come from P."""
    leaving = {words.split()[0].partition(">")[2] for words in pulls.split(", ")} - {""}
    lines = ["panel P", "panel Q", "box PB", f"  inside {' x '.join(map(inches_text, sides))} in"]
    raceways = []
    for number, words in enumerate(entries.split(", "), 1):
        wall, size = words.split()
        lines.append(f"  entry R{number} {wall}")
        raceways.append(f"raceway R{number} {'PB > Q' if str(number) in leaving else 'P > PB'} emt {size} 40 ft")
    lines += [f"  apart {pair} {inches_text(inches)} in" for pair, inches in apart.items()]
    lines += raceways
    for words in pulls.split(", "):
        pull, size = words.split()
        one, _, other = pull.partition(">")
        size = size if size.startswith("#") else f"{size} kcmil"
        through = f"P > Q 3 x {size} thhn through PB in R{one}, R{other}"
        lines.append(f"wires {through}" if other else f"wires P > PB 3 x {size} thhn in R{one}")
    return "\n".join(lines) + "\n"


def checked(path: Path, sheet: str, edition: int, rule: str, subject: str) -> list[str]:
    """The verdicts of a rule, by the command."""
    path.write_text(sheet, "utf-8")
    answer = inside("check", str(path), "--json", "--edition", str(edition)).json
    found = [each for one in answer["subjects"] if one["name"] == subject for each in one["findings"]]
    return [each["verdict"] for each in found if each["rule"] == rule]


@pytest.mark.parametrize(
    ("source", "entries", "pulls", "measures", "spaced"), PULL_BOXES, ids=lambda value: str(value)[:6]
)
@pytest.mark.parametrize("edition", [min(OFFERED), 2017, 2023])
def test_a_published_pull_box_passes_at_its_figure_and_fails_an_eighth_below(
    source: str, entries: str, pulls: str, measures: tuple[object, ...], spaced: dict[str, int], edition: int, tmp_path
):
    path = tmp_path / "pull.job"
    needed = tuple(map(decimal, measures))
    sides = tuple(least or Decimal(free) for least, free in zip(needed, LARGE_ENOUGH, strict=True))
    apart = {pair: Decimal(inches) for pair, inches in spaced.items()}
    exact = checked(path, pull_box_sheet(entries, pulls, sides, apart), edition, "pull-box", "PB")
    assert set(exact) == {"passes"}, source
    for which, least in enumerate(needed):
        if least:
            short = (*sides[:which], least - Decimal("0.125"), *sides[which + 1 :])
            assert "fails" in checked(path, pull_box_sheet(entries, pulls, short, apart), edition, "pull-box", "PB"), (
                source
            )
    for pair, inches in apart.items():
        near = {**apart, pair: inches - Decimal("0.125")}
        assert "fails" in checked(path, pull_box_sheet(entries, pulls, sides, near), edition, "pull-box", "PB"), source


@pytest.mark.parametrize(
    ("source", "entries", "pulls", "measures", "spaced"), PULL_BOXES, ids=lambda value: str(value)[:6]
)
def test_size_never_offers_less_than_a_published_pull_box_needs(
    source: str, entries: str, pulls: str, measures: tuple[object, ...], spaced: dict[str, int], tmp_path
):
    path = tmp_path / "pull.job"
    path.write_text("edition 2023\n" + pull_box_sheet(entries, pulls, tuple(map(Decimal, LARGE_ENOUGH)), {}), "utf-8")
    offered = inside("size", "PB", str(path), "--json").json["as_written"]
    across, down, deep = map(decimal, measures)
    assert Decimal(offered["across"]) >= across, source
    assert Decimal(offered["down"]) >= down, source
    assert Decimal(offered["deep"] or 0) == deep, source
    if not spaced:
        assert across in (0, Decimal(offered["across"])), source
        assert down in (0, Decimal(offered["down"])), source


def test_the_wall_of_both_entries_of_a_u_pull_is_16_in_long(tmp_path):
    # pb-005: 2 + 12 + 2 along the wall; exam practice stops at 14 x 14
    path = tmp_path / "pull.job"
    path.write_text("edition 2023\n" + pull_box_sheet("left 2, left 2", "1>2 #1/0", (Decimal(90),) * 3, {}), "utf-8")
    offered = inside("size", "PB", str(path), "--json").json["as_written"]
    assert (offered["across"], offered["down"]) == ("14", "16")


# ---- raceways --------------------------------------------------------------------------------------------------------

# Id and source, what lies in it, the kind, the smallest trade size that passes.
SMALLEST = [
    ("rf-001, EC&M code calculations, about 2005", "wires P > Q 3 x 500 kcmil thhn, 1 x 250 kcmil thhn, 1 x #3 thhn",
     "pvc-40", "3"),
    ("rf-003, EC&M Chapter 9 quiz, about 1996-1999 (no key seen): flat cable by its wider side, not its true area",
     "run P > Q 4 x 12/2 nm-b 0.48 in wide", "emt", "1-1/2"),
    ("rf-005, the same", "run P > Q 5 x 12/2 nm-b 0.46 in wide", "pvc-80", "2"),
    ("rf-007, exam-study answer of 2025. Its key, 1/2, is WRONG: it takes the area of THHN, and even that does not fit",
     "wires P > Q 5 x #10 thw", "pvc-80", "3/4"),
    ("rf-009, exam-study answer of 2025 (no key seen): by the areas of THHN it would be 1-1/2",
     "wires P > Q 3 x #1/0 thw, 1 x #1 thw", "emt", "2"),
    ("rf-011, exam-study test, question 16, 2014 (no key seen): spares count, 2 in. is 0.4 % too small",
     "wires P > Q 132 x #14 thwn, 5 x #12 thwn", "emt", "2-1/2"),
    ("rf-013, trade-forum thread of 2012 and Electrical Contractor, part X: 6 in 1/2", "wires P > Q 6 x #10 thhn",
     "rmc", "1/2"),
    ("rf-013: a seventh needs the next size", "wires P > Q 7 x #10 thhn", "rmc", "3/4"),
    ("rf-015, the same thread: 17 in 1 in.", "wires P > Q 17 x #10 thhn", "rmc", "1"),
    ("rf-015: an eighteenth needs the next size", "wires P > Q 18 x #10 thhn", "rmc", "1-1/4"),
    ("rf-017, homework help, 2024: the right size from a wrong area", "wires P > Q 3 x #1/0 thhn", "emt", "1-1/4"),
    ("rf-105, instructor's post of about 2011: 8 by the printed table, 7.92 rounded up", "wires P > Q 8 x #8 thw",
     "emt", "1"),
    ("rf-105: a ninth needs the next size", "wires P > Q 9 x #8 thw", "emt", "1-1/4"),
    ("rf-108, \"Conduit Fill Look Ups\", about 2006-2011: 15; 15.77 is not rounded up", "wires P > Q 15 x #10 thwn",
     "pvc-40", "1"),
    ("rf-108: a sixteenth needs the next size", "wires P > Q 16 x #10 thwn", "pvc-40", "1-1/4"),
    ("rf-111, newsgroup thread of about 2006. Its three methods are WRONG: one cable is one conductor, 53 %",
     "run P > Q 4/3 ser 0.77 in wide, ground #6", "pvc-40", "1-1/4"),
    ("rf-111: the same in rigid conduit, where 1 in. passes", "run P > Q 4/3 ser 0.77 in wide, ground #6", "rmc", "1"),
]  # fmt: skip


@pytest.mark.parametrize(("source", "inside_it", "kind", "size"), SMALLEST, ids=lambda value: str(value)[:6])
@pytest.mark.parametrize("edition", [min(OFFERED), 2017, 2023])
def test_size_gives_the_published_raceway_and_check_fails_the_one_below(
    source: str, inside_it: str, kind: str, size: str, edition: int, tmp_path
):
    path = tmp_path / "fill.job"
    sheet = f"panel P\npanel Q\nraceway R1 P > Q {kind} {{}} 70 ft\n{inside_it} in R1\n"
    assert checked(path, sheet.format(size), edition, "raceway-fill", "R1") == ["passes"], source
    sizes = inside("size", "R1", str(path), "--json", "--edition", str(edition)).json["sizes"]
    assert [each["certain"] for each in sizes if each["kind"] == kind] == [size], source
    trade = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3")
    if size != "1/2":
        below = trade[trade.index(size) - 1]
        assert checked(path, sheet.format(below), edition, "raceway-fill", "R1") == ["fails"], source


@pytest.mark.parametrize(("reading", "word"), [("", []), ("reading jam-at-bends widened\n", ["advice"])])
def test_three_2_thhn_in_1_in_rigid_jam_by_the_oval_bore_alone(reading: str, word: list[str], tmp_path):
    # rf-102, trade-forum thread, about 2012: 1.063 / 0.384 = 2.77, outside 2.8 to 3.2; with the twentieth for oval
    # bends 2.91, inside. The thread disagrees; the code's note takes the plain bore.
    sheet = reading + "panel P\npanel Q\nraceway R1 P > Q rmc 1 40 ft\nwires P > Q 3 x #2 thhn in R1\n"
    assert checked(tmp_path / "jam.job", sheet, 2023, "raceway-jam", "R1") == word
