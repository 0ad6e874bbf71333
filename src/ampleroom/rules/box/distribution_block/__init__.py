"""Power distribution blocks in pull and junction boxes."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from math import prod

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.facts import Ends
from ampleroom.job.model import DistributionBlock, Stop
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import inches, volume
from ampleroom.record import Record
from ampleroom.rules.box.judge.weighing import worksheet
from ampleroom.rules.box.pull_box import SAID, inside_of
from ampleroom.rules.box.pull_box.distances import OPPOSITE_COVER, WAYS, bending_space
from ampleroom.rules.box.pull_box.entering import INSULATED
from ampleroom.rules.fields import COUNTS, LEANS_ON_NONE, SIZES, VOLUMES
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "distribution-block"
ENDS: Ends = {
    **LEANS_ON_NONE,
    **dict.fromkeys(VOLUMES, "small"),
    **dict.fromkeys((*SIZES, *COUNTS), "large"),
}


class BlockInBox(Record):
    """When a box may hold a power distribution block."""

    cite: str
    confidence: str
    over: Decimal
    """In3 that the box has to be larger than; 0 where the edition has no rule for it."""


BLOCK_IN_BOX = Table("pull_boxes.distribution_block", BlockInBox, __file__)


@rule(
    NAME,
    title="Power distribution blocks in a box",
    topic="finding",
    tables=(BLOCK_IN_BOX, OPPOSITE_COVER),
    ends=ENDS,
)
def distribution_block_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """Since 2011 a power distribution block may be in a pull or junction box larger than 100 in3. The box is no smaller
    than the instructions of the block say, and at its terminals a conductor has the bending space of its size.

    Write it as `power distribution block smallest 12 x 12 x 4 in terminals 6 in`: the smallest box its instructions
    name, and how far it is from the terminals to the wall they face. The bending space is judged by the table for
    conductors that do not leave by that wall. The block's own body takes no allowance.

    Why: A block is live metal under a cover. In a tight box its conductors press on it, and on each other.
    """
    terms = book[BLOCK_IN_BOX]
    for block in space.of(DistributionBlock):
        if not terms.over:
            question = f"whether your authority takes a power distribution block in {space.subject}"
            fact = OpenFact(question, Decimal(0), f"the {book.edition.title} has no rule for one in a box", block.at)
            message = f"{space.subject} holds a power distribution block, for which this edition has no rule"
            yield finding(space, block, Verdict.OPEN, message, book, fact)
        elif space.is_conduit_body:
            message = f"{space.subject} is a conduit body; the code has power distribution blocks in boxes alone"
            yield finding(space, block, Verdict.FAILS, message, book)
        else:
            found = [large_enough(space, block, book), by_instructions(space, block, book)]
            if block.clear is not None and (thickest := thickest_on_it(space, book)):
                found.append(bends(space, block, block.clear, thickest, book))
            yield from sorted(found, key=lambda each: -each.verdict)


def large_enough(space: Space, block: DistributionBlock, book: CodeBook) -> Finding:
    """The volume of the box, or of the side of a barrier, against the least there is for a block."""
    least = book[BLOCK_IN_BOX].over
    there = volume_of(space, book)
    message = f"{space.subject} has {volume(there)}, and a box with a power distribution block has more than "
    if not there or not there.is_finite():
        message = f"{space.subject} has a volume nobody knows; a box with a power distribution block has more than "
    message += volume(least)
    return finding(space, block, Verdict.PASSES if there > least else Verdict.FAILS, message, book)


def volume_of(space: Space, book: CodeBook) -> Decimal:
    """What a box holds, in3: as box fill counts it, but of a box known by its inside alone what it measures, which box
    fill does not credit where it is small.
    """
    base = space.base
    is_plain = base is not None and base.form == "measured" and base.ganged == 1 and space.share is None
    if is_plain and not space.rings:
        assert base is not None
        return prod(base.inside, start=Decimal(1))
    return worksheet(space, book).there


def by_instructions(space: Space, block: DistributionBlock, book: CodeBook) -> Finding:
    """The inside of the box against the smallest one that the instructions of the block name. Length and width may
    change places.
    """
    measures = [inside_of(way, space, book) for way in WAYS]
    known = [inside for inside, _ in measures if inside is not None]
    facts: list[OpenFact] = []
    if not block.smallest:
        question = f"the smallest box by the instructions of the power distribution block in {space.subject}"
        settles = "the box is no smaller than that; write: smallest 12 x 12 x 4 in"
        facts.append(OpenFact(question, Decimal(0), settles, block.at))
    if len(known) < len(WAYS) or (space.share is not None and not facts):
        missing = [SAID[way] for way, (inside, _) in zip(WAYS, measures, strict=True) if inside is None]
        question = f"how far {space.subject} is inside {' and '.join(missing or SAID.values())}"
        settles = "the instructions of its power distribution block name the smallest box"
        if space.share is not None:
            settles += "; write each side as a box of its own with its inside measures"
        facts.append(OpenFact(question, Decimal(0), settles, space.box.at))
    if facts:
        message = f"{space.subject} holds a power distribution block: whether the box is large enough for it by its "
        message += "instructions is not known"
        return finding(space, block, Verdict.OPEN, message, book, *facts)
    length, width, depth = known
    _, depth_is_least = measures[-1]
    *least_sides, least_depth = block.smallest
    fits = all(have >= need for have, need in zip(sorted((length, width)), sorted(least_sides), strict=True))
    if fits and depth < least_depth and depth_is_least:
        fact = OpenFact(
            f"how far {space.subject} is inside {SAID['deep']}",
            Decimal(0),
            f"passes with {inches(least_depth)} or more",
            space.box.at,
        )
        message = (
            f"{space.subject} may be less than {inches(least_depth)} deep, which its power distribution block needs"
        )
        return finding(space, block, Verdict.OPEN, message, book, fact)
    message = f"{space.subject} is {measured_text(known)}, and the instructions of its power distribution block name "
    message += f"{measured_text(block.smallest)} or more"
    passes = fits and depth >= least_depth
    return finding(space, block, Verdict.PASSES if passes else Verdict.FAILS, message, book)


def measured_text(sides: tuple[Decimal, ...] | list[Decimal]) -> str:
    """Inside measures as a person writes them, such as 12 x 12 x 4 in."""
    return " x ".join(inches(side).removesuffix(" in.") for side in sides) + " in."


def bends(space: Space, block: DistributionBlock, clear: Decimal, thickest: str, book: CodeBook) -> Finding:
    """How far it is from the terminals to the wall against the bending space of the thickest conductor on them."""
    least = bending_space(thickest, {row.size: row.space for row in book[OPPOSITE_COVER].rows})
    message = f"{space.subject} leaves {inches(clear)} at the terminals of its power distribution block; "
    message += f"{size_text(thickest)} needs {inches(least)}"
    return finding(space, block, Verdict.PASSES if clear >= least else Verdict.FAILS, message, book)


def thickest_on_it(space: Space, book: CodeBook) -> str:
    """The thickest insulated conductor that ends in a space and has a bending space; empty where none has."""
    smallest = min(RANK[row.size] for row in book[OPPOSITE_COVER].rows)
    ending = [
        each.size
        for each in space.entering
        if each.count and isinstance(each.met, Stop) and each.role in INSULATED and RANK[each.size] >= smallest
    ]
    return max(ending, key=RANK.__getitem__, default="")


def finding(
    space: Space, block: DistributionBlock, verdict: Verdict, message: str, book: CodeBook, *facts: OpenFact
) -> Finding:
    """A finding of this rule at the line of a block."""
    terms = book[BLOCK_IN_BOX]
    return Finding(
        NAME, verdict, space.subject, message, terms.cite, block.at, facts=facts, confidence=terms.confidence
    )
