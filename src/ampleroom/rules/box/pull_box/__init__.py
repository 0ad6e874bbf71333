"""Pull and junction boxes for conductors of 4 AWG and larger."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal
from typing import Any

from ampleroom.arithmetic import Counted, Figure, Line, Pick, Total, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.editions.tables import Table
from ampleroom.facts import Ends
from ampleroom.job.model import Apart, MarkedFor, Part
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.box.pull_box.distances import (
    ANGLE,
    OPPOSITE,
    OPPOSITE_COVER,
    SPACING,
    STRAIGHT,
    WAY,
    WAYS,
    Distance,
    Multiple,
    PullEntry,
    Spacing,
    Way,
    distances,
    is_straight,
    spacings,
)
from ampleroom.rules.box.pull_box.entering import Pulls, large_conductors, pulls_through, unread_sizes
from ampleroom.rules.box.pull_box.marking import INSULATION_READING, MARKING, Coverage, coverage
from ampleroom.rules.fields import LEANS_ON_NONE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, Space, depth_of, exactly, is_unmeasured
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "pull-box"

ENDS: Ends = {
    **LEANS_ON_NONE,
    "wires count": "large",  # where there may be none of them
    "cable size": "large",  # a place may have lowered the size from which on they are large
    "wire size": "large",
}
SAID: dict[Way, str] = {
    "across": "from left to right",
    "down": "from top to bottom",
    "deep": "from the back to the cover",
}
PURPOSES = {way: Purpose(NAME, Unit.INCH, f"Inside, {said}", "Least distance") for way, said in SAID.items()}
OF_RULE: dict[str, Table[Any]] = {"straight": STRAIGHT, "angle": ANGLE, "cover": OPPOSITE_COVER}
MOST_ASKED = 3
"""Of so many pairs of raceways each is asked by itself how far apart they are; more are asked about together."""
SPACED = Purpose(NAME, Unit.INCH, "Distance between entries", "Least distance")


@rule(
    NAME,
    title="Pull boxes, 4 AWG and larger",
    topic="finding",
    tables=(PULL_BOX, STRAIGHT, ANGLE, SPACING, MARKING, OPPOSITE_COVER),
    readings=(
        *("small-in-row", "straight-splice", "entry-distance", "large-on-device"),
        *("spacing-across-splice", "back-entry-spacing", INSULATION_READING),
    ),
    ends=ENDS,
)
def pull_box_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """#4 and larger has no allowance. Its box is sized by distances, and a raceway counts by its trade size. Straight
    through from one wall to the opposite one, the box is 8 times the largest raceway long. For an angle pull, a U pull
    or a splice it is 6 times the largest raceway of the row from that wall to the opposite one, and the other raceways
    of the row are added.

    Entries of the same conductors stand 6 times the larger raceway apart. From an entry in the back, opposite a cover
    that comes off, the bending space of the thickest conductor reaches to the cover. Write the wall of each raceway as
    `entry R1 left`, and what you measured between entries as an `apart` line. Everything else in the box is counted
    as usual. A smaller box may be listed and marked for its conductors: `marked for 3 x #4/0 xhhw`.

    Why: A thick conductor needs length to bend, and no number of cubic inches gives it that.
    """
    if space.is_conduit_body:
        return  # a rule of its own judges it
    large = large_conductors(space, book)
    unread = tuple(unread_sizes(space, book))
    if not large:
        if unread:
            message = f"{space.subject} may hold conductors of {size_text(book[PULL_BOX].from_size)} or larger: "
            message += "their size is not known"
            yield finding(space, Verdict.OPEN, message, PULL_BOX, book, facts=unread)
        return
    if not space.of(MarkedFor):
        yield from by_distances(space, large, unread, book)
        return
    marked = coverage(space, book)
    if marked.is_covered and not unread:
        message = f"{space.subject} {marked.text}"
        yield finding(space, Verdict.PASSES, message, MARKING, book, sheet=marked.sheet, readings=marked.readings)
        return
    for each in by_distances(space, large, unread, book):
        yield each if marked.is_covered is False else open_for_marking(each, marked)


def open_for_marking(each: Finding, marked: Coverage) -> Finding:
    """A finding on a distance of a box whose marking may make it good: one that fails is open."""
    if each.verdict is not Verdict.FAILS:
        return each
    readings = tuple(dict.fromkeys((*each.readings, *marked.readings)))
    message = f"{each.message}; the box {marked.text}"
    return each._replace(verdict=Verdict.OPEN, message=message, facts=marked.facts, readings=readings)


def by_distances(
    space: Space, large: list[Entering], unread: tuple[OpenFact, ...], book: CodeBook
) -> Iterator[Finding]:
    """A pull box by its walls and its inside measures. ``unread``: conductors that may be large too."""
    thickest = size_text(max((each.size for each in large), key=RANK.__getitem__))
    pulled = pulls_through(space, book)
    missing = (*unread, *pulled.questions, *pulled.wall_questions)
    if missing or anything_turns(pulled, book):  # a straight pull goes by its own two raceways alone
        missing += (*pulled.row_questions, *pulled.row_wall_questions)
    if missing:
        message = f"{space.subject} holds conductors up to {thickest}: where they come in is not known"
        yield finding(space, Verdict.OPEN, message, PULL_BOX, book, facts=missing)
        return
    needed = distances(pulled.entries, pulled.pulls, book)
    for way in WAYS:
        of_way = tuple([distance for distance in needed if distance.way == way])
        if of_way:
            yield from way_findings(way, of_way, pulled, space, book)
    apart = spacings(pulled.entries, pulled.pulls, book)
    unmeasured = [
        spacing for spacing in apart if not spacing.is_sure and measured(spacing, pulled, space, book) is None
    ]
    if pulled.too_many_stop or len(unmeasured) > MOST_ASKED:
        yield splices_finding(pulled, space, book)
        apart = tuple([spacing for spacing in apart if spacing not in unmeasured])
    for spacing in apart:
        yield spacing_finding(spacing, pulled, space, book)


def anything_turns(pulled: Pulls, book: CodeBook) -> bool:
    """Whether some pull is not straight through, so that the rows of its entries are added up. All their walls are
    known.
    """
    return not all(is_straight(pull, pulled.entries, book) for pull in pulled.pulls)


def finding(
    space: Space,
    verdict: Verdict,
    message: str,
    table: Table[Any],
    book: CodeBook,
    *,
    facts: tuple[OpenFact, ...] = (),
    sheet: Worksheet | None = None,
    readings: tuple[str, ...] = (),
) -> Finding:
    """A finding of this rule, by the section and with the confidence of a table."""
    terms = book[table]
    return Finding(
        NAME,
        verdict,
        space.subject,
        message,
        terms.cite,
        space.box.at,
        facts=facts,
        worst=sheet,
        readings=readings,
        confidence=terms.confidence,
    )


# ---- from wall to wall ----------------------------------------------------------------------------------------------


def way_findings(
    way: Way, needed: tuple[Distance, ...], pulled: Pulls, space: Space, book: CodeBook
) -> Iterator[Finding]:
    """One dimension of the box against the distances that go by it. One that holds only if conductors are spliced to
    each other never fails the box: it asks whether they are.
    """
    inside, _ = inside_of(way, space, book)
    perhaps = tuple([each for each in needed if not (each.is_sure or inside is None or each.inches <= inside)])
    others = tuple([distance for distance in needed if distance not in perhaps])
    if others:
        yield way_finding(way, others, pulled, space, book)
    for distance in perhaps:
        one, other = (pulled.entries[number].name for number in distance.entries)
        message = f"{space.subject} needs {inches(distance.inches)} {SAID[way]} if conductors of {one} and of {other} "
        message += "are spliced to each other"
        fact = spliced_fact(one, other, space)
        yield finding(space, Verdict.OPEN, message, STRAIGHT, book, facts=(fact,), readings=distance.readings)


def way_finding(way: Way, needed: tuple[Distance, ...], pulled: Pulls, space: Space, book: CodeBook) -> Finding:
    """One dimension of the box against the largest of the distances that go by it."""
    lines = [distance_line(distance, pulled.entries, book) for distance in needed]
    need = lines[0] if len(lines) == 1 else Pick(NAME, f"Least {SAID[way]}", "largest", tuple(lines))
    largest = max(needed, key=lambda distance: distance.inches)
    readings = tuple(dict.fromkeys(name for distance in needed for name in distance.readings))
    table = OF_RULE[largest.rule]
    inside, is_least = inside_of(way, space, book)
    is_most = space.share is not None and way != "deep"  # a barrier leaves each side less than the whole box
    if inside is not None:
        have = Figure(NAME, f"Inside {space.subject}", inside, Unit.INCH, "as written in the sheet")
        sheet = Worksheet((have,), (need,), PURPOSES[way])
        if (sheet.passes and not is_most) or not (sheet.passes or is_least):
            message = f"{space.subject} is {inches(inside)} {SAID[way]} and needs {inches(sheet.needed)}"
            return finding(space, sheet.verdict, message, table, book, sheet=sheet, readings=readings)
    question = f"how far {space.subject} is inside {SAID[way]}"
    settles = f"passes with {inches(largest.inches)} or more"
    if is_most:
        settles += "; write each side as a box of its own with its inside measures"
    fact = OpenFact(question, Decimal(0), settles, space.box.at)
    message = f"{space.subject} needs {inches(largest.inches)} {SAID[way]}, and is not measured"
    return finding(space, Verdict.OPEN, message, table, book, facts=(fact,), readings=readings)


def inside_of(way: Way, space: Space, book: CodeBook) -> tuple[Decimal | None, bool]:
    """One inside dimension, inches, and whether it may be more; None where the sheet does not have it."""
    base = space.base
    if way == "deep":
        rings = space.of(Part)
        return depth_of(base, space.base_size, rings, book), any(is_unmeasured(part) for part in rings)
    if base is None or len(base.inside) < len(WAYS):
        return None, False
    return base.inside[WAYS.index(way)], False


def distance_line(distance: Distance, entries: tuple[PullEntry, ...], book: CodeBook) -> Line:
    """One distance, from the trade sizes it is made of."""
    named = [entries[number] for number in distance.entries]
    if distance.rule == "cover":
        entry = named[0]
        label = f"{entry.name} in the back, {size_text(entry.thickest)}"
        terms = book[OPPOSITE_COVER]
        return Figure(
            NAME, label, distance.inches, Unit.INCH, "bending space to the cover", terms.cite, terms.confidence
        )
    if distance.rule == "straight":
        return multiple(f"{named[0].name} straight through to {named[1].name}", distance.largest, STRAIGHT, book)
    largest = next(entry for entry in named if entry.size == distance.largest)
    row = f", row {distance.row}" if distance.row > 1 else ""
    first = multiple(f"{largest.name}, the largest in the {distance.wall} wall{row}", distance.largest, ANGLE, book)
    others = [
        Figure(NAME, entry.name, entry.size, Unit.INCH, "the rest of its row", first.cite, first.confidence)
        for entry in named
        if entry is not largest
    ]
    if not others:
        return first
    label = f"From the {distance.wall} wall{row} to the opposite one"
    return Total(NAME, label, (first, *others), Unit.INCH, readings=distance.readings)


def multiple(label: str, size: Decimal, table: Table[Multiple], book: CodeBook) -> Counted:
    """So many times a trade size."""
    terms = book[table]
    why = f"{terms.times} times its trade size"
    return Counted(NAME, label, exactly(int(terms.times)), size, why, terms.cite, terms.confidence, unit=Unit.INCH)


# ---- from entry to entry --------------------------------------------------------------------------------------------


def splices_finding(pulled: Pulls, space: Space, book: CodeBook) -> Finding:
    """Where the conductors of many raceways stop: which are spliced to each other, and how far apart those come in."""
    times = book[SPACING].times
    most = inches(times * max(entry.size for entry in pulled.entries if entry.is_large))
    question = (
        f"which raceways of {space.subject} have conductors spliced to each other, and how far apart those come in"
    )
    settles = (
        f"passes where they are {times} times the larger apart, {most} at most; write each pair as one run that goes on"
    )
    if not pulled.too_many_stop:
        settles += ", or: apart R1 R2 ... in"
    fact = OpenFact(question, Decimal(0), settles, space.box.at)
    message = f"{space.subject} does not say which raceways have conductors spliced to each other: those stand {times} "
    message += "times the larger apart"
    return finding(space, Verdict.OPEN, message, SPACING, book, facts=(fact,))


def spliced_fact(one: str, other: str, space: Space) -> OpenFact:
    """Whether conductors that are cut in a box go on from one raceway into the other."""
    question = f"whether conductors of {one} and of {other} are spliced to each other in {space.subject}"
    return OpenFact(question, Decimal(0), "passes if they are not; fails if they are", space.box.at)


def measured(spacing: Spacing, pulled: Pulls, space: Space, book: CodeBook) -> tuple[Decimal, str] | None:
    """How far two entries are apart, inches, and how that is known: measured, or as far as opposite walls are. None
    where the sheet does not have it.
    """
    one, other = pulled.entries[spacing.one], pulled.entries[spacing.other]
    for apart in space.of(Apart):
        if {apart.one, apart.other} == {one.name, other.name} and apart.distance is not UNKNOWN:
            return apart.distance, "as measured"
    if OPPOSITE.get(one.wall) == other.wall and space.share is None:
        across, _ = inside_of(WAY[one.wall], space, book)
        if across is not None and across >= spacing.inches:  # they are in opposite walls, so at least as far apart
            return across, "in opposite walls"
    return None


def bounds_apart(one: PullEntry, other: PullEntry, space: Space, book: CodeBook) -> tuple[Decimal, Decimal] | None:
    """The least and the most that two entries can be apart in their walls, inches; None where the box is not measured
    or has a barrier, or its depth may be more.
    """
    sides = {way: inside_of(way, space, book) for way in WAYS}
    if space.share is not None or any(inside is None or is_least for inside, is_least in sides.values()):
        return None
    lengths = {way: inside for way, (inside, _) in sides.items() if inside is not None}
    between = WAY.get(one.wall, "deep")
    if one.wall == other.wall:
        del lengths[between]  # both lie in one wall
    most = sum((length * length for length in lengths.values()), Decimal(0)).sqrt()
    is_opposite = OPPOSITE.get(one.wall) == other.wall
    return lengths[between] if is_opposite else Decimal(0), most


def rounded_up(length: Decimal) -> Decimal:
    """Up to the next sixteenth of an inch."""
    return (length * 16).to_integral_value(ROUND_CEILING) / 16


def spacing_finding(spacing: Spacing, pulled: Pulls, space: Space, book: CodeBook) -> Finding:
    """How far two entries of the same conductors are apart, as measured, or as far as their walls are."""
    one, other = pulled.entries[spacing.one], pulled.entries[spacing.other]
    by_centers = book.reading("entry-distance") == "centers"
    larger = max(one, other, key=lambda entry: entry.size)
    need = multiple(f"{larger.name}, the larger of the two", larger.size, SPACING, book)
    label = f"{one.name} to {other.name}, {'center to center' if by_centers else 'edge to edge'}"
    known = measured(spacing, pulled, space, book)
    if known is None:
        question = f"how far apart {one.name} and {other.name} enter {space.subject}, {label.rpartition(', ')[2]}"
        settles = f"passes with {inches(spacing.inches)} or more; write: apart {one.name} {other.name} ... in"
        message = f"{space.subject} needs {inches(spacing.inches)} between {one.name} and {other.name}, "
        message += "which hold the same conductors; not measured"
        if not spacing.is_sure:
            message = f"{space.subject} needs {inches(spacing.inches)} between {one.name} and {other.name} "
            message += "if their conductors are spliced to each other; not measured"
        fact = OpenFact(question, Decimal(0), settles, space.box.at)
        return finding(space, Verdict.OPEN, message, SPACING, book, facts=(fact,), readings=spacing.readings)
    distance, why = known
    if (bounds := bounds_apart(one, other, space, book)) is not None:
        least, most = bounds
        if not least <= distance <= most:
            limit = f"more than {inches(rounded_up(most))}" if distance > most else f"less than {inches(least)}"
            message = f"{space.subject} cannot take in {one.name} and {other.name} {inches(distance)} apart: "
            message += f"where they come in it is never {limit}"
            fact = OpenFact(
                f"how far apart {one.name} and {other.name} enter {space.subject}, {label.rpartition(', ')[2]}",
                Decimal(0),
                "the measures of the box, the walls or the apart line are wrong: measure again",
                space.box.at,
            )
            return finding(space, Verdict.OPEN, message, SPACING, book, facts=(fact,), readings=spacing.readings)
    sheet = Worksheet((Figure(NAME, label, distance, Unit.INCH, why),), (need,), SPACED)
    if not (sheet.passes or spacing.is_sure):
        fact = spliced_fact(one.name, other.name, space)
        message = (
            f"{space.subject} takes in {one.name} and {other.name} {inches(distance)} apart; conductors spliced from "
        )
        message += f"one to the other need {inches(spacing.inches)}"
        return finding(space, Verdict.OPEN, message, SPACING, book, facts=(fact,), readings=spacing.readings)
    message = (
        f"{space.subject} takes in {one.name} and {other.name} {inches(distance)} apart; the conductors they share "
    )
    message += f"need {inches(spacing.inches)}"
    return finding(space, sheet.verdict, message, SPACING, book, sheet=sheet, readings=spacing.readings)
