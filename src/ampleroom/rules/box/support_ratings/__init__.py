"""What hangs on a box, against what it is listed to carry."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import Carries, Rated
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.fields import LEANS_ON_NONE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.where import Where
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "support-ratings"


class LuminaireWeight(Record):
    """Pounds a ceiling box may carry unmarked, and pounds that may hang on a device box."""

    cite: str
    confidence: str
    ceiling_lb: Decimal
    light_lb: Decimal


class FanWeight(Record):
    """Pounds of a fan a box may carry at most, and from which on its marking gives the weight."""

    cite: str
    confidence: str
    most_lb: Decimal
    marked_over_lb: Decimal


LUMINAIRE = Table("reminders.luminaire", LuminaireWeight, __file__)
FAN = Table("reminders.fan", FanWeight, __file__)


@rule(
    NAME,
    title="Weight against rating",
    topic="finding",
    tables=(LUMINAIRE, FAN),
    ends=LEANS_ON_NONE,
)
def rating_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """A box must not carry more than it is listed for. No box carries a fan over 70 lb, and over 35 lb the marking must
    give the weight. A luminaire or other equipment over 50 lb hangs from the building, or from a box listed and
    marked for that weight.

    A weight over the rating in the sheet fails. A weight that needs a marking is 'check needed' until the marking is in
    the sheet. Lighter equipment with no rating written gets a reminder.

    Why: A box torn from the ceiling comes down with everything on it.
    """
    for kind in ("fan", "luminaire", "equipment"):
        carried = [hung for hung in space.of(Carries) if hung.kind == kind]
        pounds = sum((hung.pounds for hung in carried if hung.pounds is not None), Decimal(0))
        if not pounds:
            continue
        rated = [rating for rating in space.of(Rated) if rating.kind == ("fan" if kind == "fan" else "luminaire")]
        marked = [rating.pounds for rating in rated if rating.pounds is not None]
        listed = min(marked, default=None)  # of two, the smaller
        at = carried[0].at
        limit, without_marking = limits(kind, book)
        if limit is not None and pounds > limit:
            sentence = (
                f"carries a fan of {weight(pounds)}, and no box carries more than {weight(limit)}: it hangs from "
                "the building"
            )
            yield finding(Verdict.FAILS, space, book, kind, sentence, at)
        elif listed is not None:
            verdict = Verdict.PASSES if pounds <= listed else Verdict.FAILS
            sentence = f"carries {named(kind)} of {weight(pounds)} and is rated for {weight(listed)}"
            yield finding(verdict, space, book, kind, sentence, at)
        elif pounds > without_marking:
            sentence = (
                f"carries {named(kind)} of {weight(pounds)}: over {weight(without_marking)} the box must be listed "
                "and marked for the weight"
            )
            fact = OpenFact(
                f"the weight {space.subject} is marked to carry",
                Decimal(0),
                f"passes if it is {weight(pounds)} or more",
                at,
            )
            yield finding(Verdict.OPEN, space, book, kind, sentence, at, (fact,))


def limits(kind: str, book: CodeBook) -> tuple[Decimal | None, Decimal]:
    """The most any box may carry of a kind, in pounds (None: as its marking says), and the most it may without a
    marking.
    """
    if kind == "fan":
        fan = book[FAN]
        return fan.most_lb, fan.marked_over_lb
    return None, book[LUMINAIRE].ceiling_lb


def finding(
    verdict: Verdict,
    space: Space,
    book: CodeBook,
    kind: str,
    sentence: str,
    at: Where,
    facts: tuple[OpenFact, ...] = (),
) -> Finding:
    """A finding that cites the section on fans, or else on luminaires; ``sentence`` follows the box's name."""
    terms = book[FAN] if kind == "fan" else book[LUMINAIRE]
    name = space.subject
    return Finding(NAME, verdict, name, f"{name} {sentence}", terms.cite, at, facts=facts, confidence=terms.confidence)


def named(kind: str) -> str:
    """The load with its article: ``a fan``, ``equipment``."""
    return "equipment" if kind == "equipment" else f"a {kind}"


def weight(pounds: Decimal) -> str:
    """Pounds as text: ``50 lb``."""
    return f"{count(pounds)} lb"
