"""Whether the fill of a box goes into its volume, and what each unknown fact would settle."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.facts import Bounds, Values, bounds
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.box.fill import VERDICT
from ampleroom.rules.box.judge.weighing import Side, Weighed, margin_first
from ampleroom.rules.effects import Outcome, empty_facts, open_facts
from ampleroom.rules.space import Space
from ampleroom.words import TOO_MANY_FACTS, empty_message, fill_message
from ampleroom.worksheet import BOX_FILL, Finding, OpenFact, Verdict, Worksheet, between


def fill_finding(side: Side, book: CodeBook, is_empty: bool) -> Finding:
    """Whether the fill goes into the room: at the worst, and at the best where facts are unknown.

    A box in which nothing is written (``is_empty``), or whose volume nobody knows, is open, never a pass.
    """
    case = side.case
    space, worst_sheet = case.worst
    best_sheet = case.best.sheet if case.best.sheet != worst_sheet else None
    verdict = fill_verdict(case, is_empty)
    if not case.is_complete:
        message = TOO_MANY_FACTS.format(space.subject)
    elif verdict is Verdict.OPEN and is_empty:
        message = empty_message(space.subject, worst_sheet, is_volume_unknown(space, case.best.space))
    else:
        message = fill_message(space.subject, verdict, worst_sheet, best_sheet)
    facts: tuple[OpenFact, ...] = ()
    if verdict is Verdict.OPEN:
        facts = (*(empty_facts(space) if is_empty else ()), *fill_facts(case, side, is_empty))
    terms = book[VERDICT]
    return Finding(
        BOX_FILL.name,
        verdict,
        space.subject,
        message,
        terms.cite,
        space.box.at,
        worst_sheet,
        best_sheet,
        facts,
        confidence=terms.confidence,
    )


def fill_verdict(case: Bounds[Weighed], is_empty: bool) -> Verdict:
    """What the worst and the best case make of a box, or of a side of it."""
    worst, best = case.worst, case.best
    if not case.is_complete:
        return Verdict.OPEN
    verdict = between(worst.sheet.verdict, best.sheet.verdict)
    if verdict.is_allowed and (is_empty or is_volume_unknown(worst.space, best.space)):
        return Verdict.OPEN
    return verdict


def is_volume_unknown(space: Space, best: Space) -> bool:
    """Whether nobody knows the volume of the box itself: it could be none, and it could be any."""
    return space.base_room == 0 and best.base_room == NO_LIMIT


# ---- facts to check ------------------------------------------------------------------------------------------------


def fill_facts(case: Bounds[Weighed], side: Side, is_empty: bool) -> Iterator[OpenFact]:
    """Each unknown fact that moves the box fill, with what each of its values would settle."""
    worst, best = case.worst.sheet, case.best.sheet

    def attempt(values: Values) -> Outcome:
        tried = bounds(side.weigh, side.ends, margin_first, values)
        numbers = tuple([(weighed.sheet.there, weighed.sheet.needed) for weighed in (tried.worst, tried.best)])
        return Outcome(fill_verdict(tried, is_empty), numbers, tried.worst.sheet, tried.best.sheet)

    def swing(well: Outcome, ill: Outcome) -> Decimal:
        assert well.worst is not None
        assert ill.best is not None
        if moves(worst, well.worst):
            return gained(worst, well.worst)
        return gained(ill.best, best) if ill.best.there.is_finite() else ill.best.needed - best.needed

    return open_facts(case.needed.values(), side.ends, attempt, swing)


def moves(before: Worksheet, after: Worksheet) -> bool:
    """Whether two ways to take a fact differ in a number, not only in words."""
    return (before.there, before.needed) != (after.there, after.needed)


def gained(worst: Worksheet, well: Worksheet) -> Decimal:
    """How much better one fact that turns out well makes a space, in3; what nobody can bound on both sides is left
    out.
    """
    if worst.needed.is_finite() or well.needed.is_finite():
        return well.margin - worst.margin
    bounded = [[line.amount for line in sheet.need if line.amount.is_finite()] for sheet in (worst, well)]
    if len(worst.need) - len(bounded[0]) > len(well.need) - len(bounded[1]):
        return NO_LIMIT
    return (well.there - worst.there) + (sum(bounded[0], Decimal(0)) - sum(bounded[1], Decimal(0)))
