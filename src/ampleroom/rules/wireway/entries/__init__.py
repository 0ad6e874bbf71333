"""How far apart raceways of the same large conductors enter a wireway or gutter."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.cables import sizes_of
from ampleroom.job.model import Raceway, Run
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.allowance import is_large
from ampleroom.rules.box.pull_box.distances import SPACING, STRAIGHT
from ampleroom.rules.box.pull_box.entering import trade_inches
from ampleroom.rules.raceway.filled import Lying
from ampleroom.rules.registry import rule
from ampleroom.rules.space import exactly
from ampleroom.rules.wireway.filled import FilledWireway
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "wireway-entries"
PURPOSE = Purpose(NAME, Unit.INCH, "Distance between entries", "Least distance")
WIREWAY = Table("wireways.entries", Cited, __file__)
GUTTER = Table("wireways.gutter_entries", Cited, __file__)
MOST_ASKED = 6
"""So many pairs of raceways are asked about one by one."""


@rule(
    NAME,
    title="Entries of a wireway",
    topic="finding",
    about="wireway",
    tables=(WIREWAY, GUTTER, PULL_BOX, SPACING, STRAIGHT),
    readings=("entry-distance",),
)
def wireway_entries(filled: FilledWireway, book: CodeBook) -> Iterator[Finding]:
    """Where #4 and larger is pulled through a wireway or gutter from one raceway into another, both enter it as far
    apart as in a pull box: 6 times the larger one where the conductors turn, 8 times where they go straight through.

    End both raceways at it, name them in the run, and write what you measured: `apart R1 R2 ... in`.

    Why: The length between its entries is all that a thick conductor has to bend in.
    """
    if not filled.is_judged:
        return
    name, at = filled.name, filled.wireway.at
    terms = book[GUTTER if filled.is_gutter else WIREWAY]
    unmeasured = 0
    for (one, other), is_sure in pairs_of(filled, book).items():
        finding = pair_finding(filled, one, other, is_sure, book)
        unmeasured += finding.verdict is Verdict.OPEN
        if finding.verdict is not Verdict.OPEN or unmeasured <= MOST_ASKED:
            yield finding
    if unmeasured > MOST_ASKED:
        question = f"how far apart the other raceways of the same conductors enter {name}"
        settles = "write for each pair: apart R1 R2 24 in"
        fact = OpenFact(question, Decimal(0), settles, at)
        message = f"{name}: {unmeasured - MOST_ASKED} more pairs of raceways are not measured"
        yield Finding(NAME, Verdict.OPEN, name, message, terms.cite, at, facts=(fact,), confidence=terms.confidence)


def pairs_of(filled: FilledWireway, book: CodeBook) -> dict[tuple[Raceway, Raceway], bool]:
    """Every two raceways between which large conductors are pulled through it, and whether they are large for
    certain.
    """
    ending = {raceway.name: raceway for raceway in filled.subject.raceways}
    pairs: dict[tuple[Raceway, Raceway], bool] = {}
    for each in filled.lying:
        if each.is_ground or not each.count or not may_be_large(each, book):
            continue
        raceways = entered_by(each.run, filled.name, ending)
        if raceways is not None:
            is_sized = not each.is_assumed or all(wires.size is not UNKNOWN for wires in each.run.wires)
            is_sure = is_sized and each.size in RANK and all(wires.count is not UNKNOWN for wires in each.run.wires)
            pairs[raceways] = pairs.get(raceways, False) or is_sure
    return pairs


def may_be_large(lying: Lying, book: CodeBook) -> bool:
    """Whether conductors are, or may be, large enough for the distances of a pull box."""
    if lying.size in RANK:
        return is_large(lying.size, book)
    cable = lying.run.cable
    return cable is not None and is_large(sizes_of(cable)[-1], book)  # of a cable by its width, the size may be unread


def entered_by(run: Run, name: str, ending: dict[str, Raceway]) -> tuple[Raceway, Raceway] | None:
    """The two raceways by which a run comes into a wireway and leaves it unbroken; None where there are no two."""
    if any(stop.name == name for stop in run.stops):
        return None
    raceways = [ending[each.name] for each in run.raceways if each.name in ending]
    return (raceways[0], raceways[1]) if len(raceways) == 2 else None


def pair_finding(filled: FilledWireway, one: Raceway, other: Raceway, is_sure: bool, book: CodeBook) -> Finding:
    """How far two raceways enter from each other."""
    name, at = filled.name, filled.wireway.at
    terms = book[GUTTER if filled.is_gutter else WIREWAY]

    def is_open(message: str, question: str, settles: str) -> Finding:
        fact = OpenFact(question, Decimal(0), settles, at)
        return Finding(NAME, Verdict.OPEN, name, message, terms.cite, at, facts=(fact,), confidence=terms.confidence)

    both = f"{one.name} and {other.name}"
    unsized = [raceway for raceway in (one, other) if raceway.size is UNKNOWN]
    if unsized:
        message = f"{name}: how far apart {both} have to enter goes by their trade sizes"
        return is_open(message, f"the trade size of {unsized[0].name}", "the distance goes by it")
    larger = max((one, other), key=lambda raceway: trade_inches(str(raceway.size)))
    size = trade_inches(str(larger.size))
    turning, straight = size * book[SPACING].times, size * book[STRAIGHT].times
    goes_straight = filled.wireway.turn == 0
    least = f"{inches(straight)}" if goes_straight else f"{inches(turning)}, or {inches(straight)} straight through"
    wanted = frozenset((one.name.casefold(), other.name.casefold()))
    distance = next(
        (each.distance for each in filled.wireway.apart if {each.one.casefold(), each.other.casefold()} == wanted),
        UNKNOWN,
    )
    if distance is UNKNOWN:
        message = f"{name} needs {least} between {both}, which hold the same conductors; not measured"
        settles = f"passes if {inches(straight)} or more"
        if not goes_straight:
            settles += f"; {inches(turning)} will do where the conductors turn"
        settles += f"; write apart {one.name} {other.name} and the inches on the line of {name}"
        how = "center to center" if book.reading("entry-distance") == "centers" else "edge to edge"
        return is_open(message, f"how far apart {both} enter {name}, {how}", settles)
    is_straight = goes_straight or distance >= straight
    table = STRAIGHT if is_straight else SPACING
    multiple = book[table]
    have = Figure(NAME, f"{one.name} to {other.name}", distance, Unit.INCH, "as measured")
    why = f"{multiple.times} times its trade size, {'straight through' if is_straight else 'where they turn'}"
    need = Counted(
        *(NAME, f"{larger.name}, the larger of the two", exactly(int(multiple.times)), size, why),
        *(terms.cite, terms.confidence),
        unit=Unit.INCH,
    )
    sheet = Worksheet((have,), (need,), PURPOSE)
    message = f"{name} takes in {both} {inches(distance)} apart; the conductors they share need {least}"
    if not is_sure and not sheet.passes:
        question = f"whether wires of #4 or larger go through {both}"
        return is_open(message, question, "passes if there are none")
    if sheet.passes and not is_straight:
        question = f"whether the conductors of {both} turn in {name} or go straight through"
        return is_open(message, question, "passes if they turn; fails if they go straight through")
    return Finding(NAME, sheet.verdict, name, message, terms.cite, at, worst=sheet, confidence=terms.confidence)
