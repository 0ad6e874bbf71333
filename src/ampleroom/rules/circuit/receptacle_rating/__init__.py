"""What receptacles on a circuit are rated for."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.protection import RECEPTACLES, SINGLE_RECEPTACLE, ReceptacleRow
from ampleroom.job.trade import RECEPTACLES_BY_NAME, USUAL_RECEPTACLE
from ampleroom.rules.circuit.outlets import Outlet, Outlets, Receptacle, names_of
from ampleroom.rules.registry import rule
from ampleroom.words import (
    NO_RECEPTACLES,
    RECEPTACLE_AMPERES,
    RECEPTACLE_QUESTION,
    RECEPTACLE_REMEDY,
    RECEPTACLES_FIT,
    RECEPTACLES_NOT_ALLOWED,
    RECEPTACLES_UNKNOWN,
    SINGLE_RECEPTACLE_FITS,
    SINGLE_RECEPTACLE_TOO_SMALL,
    USUAL_RATING_TAKEN,
    WHICH_CIRCUIT_QUESTION,
    WHICH_CIRCUIT_REMEDY,
)
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "receptacle-rating"
ZERO = Decimal(0)


@rule(
    NAME,
    title="Receptacles on a circuit",
    topic="finding",
    about="outlets",
    tables=(RECEPTACLES, SINGLE_RECEPTACLE),
)
def receptacle_rating(outlets: Outlets, book: CodeBook) -> Iterator[Finding]:
    """Receptacles are of a rating the table has for their circuit: a 20 A circuit takes 15 and 20 A, a 40 A circuit 40
    and 50 A. A single receptacle that is alone on its circuit is rated for the whole of it. A duplex is a pair.

    Where a rating is not written, a receptacle on a small circuit is taken for 15 A; elsewhere it is asked.

    Why: A plug fits whatever its receptacle allows, and the wire behind it has to carry that.
    """
    rated = outlets.amperes
    with_receptacles = [place for place in outlets.places if place.receptacles]
    if rated is None or not with_receptacles or not outlets.is_branch:
        return
    terms = book[RECEPTACLES]
    if alone(outlets, with_receptacles):
        yield from single(outlets, with_receptacles[0], rated, book)
        return
    row = next((row for row in terms.rows if row.circuit == rated), None)
    if row is None:
        return
    answers = {place: answer_at(place, row) for place in with_receptacles}
    wrong = [place for place, answer in answers.items() if answer == "wrong"]
    unknown = [place for place, answer in answers.items() if answer in ("unknown", "which")]
    ratings = " or ".join(map(str, row.ratings))
    allowed = RECEPTACLE_AMPERES.format(ratings) if ratings else NO_RECEPTACLES
    if wrong:
        verdict, message = (
            Verdict.FAILS,
            RECEPTACLES_NOT_ALLOWED.format(outlets.name, names_of(wrong, False), rated, allowed),
        )
    elif unknown:
        verdict, message = (
            Verdict.OPEN,
            RECEPTACLES_UNKNOWN.format(outlets.name, names_of(unknown, False), rated, allowed),
        )
    else:
        is_taken = any(rating_of(each) is None for place in with_receptacles for each in place.receptacles)
        taken = USUAL_RATING_TAKEN.format(USUAL_RECEPTACLE) if is_taken else ""
        names = names_of(with_receptacles, False)
        verdict, message = Verdict.PASSES, RECEPTACLES_FIT.format(outlets.name, rated, ratings, names, taken)
    facts = tuple([question_of(place, answers[place]) for place in unknown]) if verdict is Verdict.OPEN else ()
    also = tuple([place.at for place in (*wrong, *unknown)])
    at, sure = outlets.circuit.at, book.confidence(RECEPTACLES, row)
    yield Finding(NAME, verdict, outlets.name, message, terms.cite, at, facts=facts, also=also, confidence=sure)


def alone(outlets: Outlets, with_receptacles: list[Outlet]) -> bool:
    """Whether one single receptacle is all that a circuit feeds, for certain."""
    if len(with_receptacles) > 1 or not all(place.is_found for place in outlets.places):
        return False
    (place,) = with_receptacles
    (first, *more) = place.receptacles
    others = any(each.is_outlet for each in outlets.places if each is not place)
    return not more and not others and first.is_single and first.number == 1 and first.is_certain


def single(outlets: Outlets, place: Outlet, rated: Decimal, book: CodeBook) -> Iterator[Finding]:
    """What is found of a single receptacle on a circuit of its own."""
    terms, rating = book[SINGLE_RECEPTACLE], rating_of(place.receptacles[0])
    facts: tuple[OpenFact, ...] = ()
    if rating is None:
        verdict, message = (
            Verdict.OPEN,
            RECEPTACLES_UNKNOWN.format(outlets.name, place.name, rated, f"{rated} A or more"),
        )
        facts = (question_of(place, "unknown"),)
    elif rating < rated:
        verdict, message = Verdict.FAILS, SINGLE_RECEPTACLE_TOO_SMALL.format(outlets.name, place.name, rating, rated)
    else:
        verdict, message = Verdict.PASSES, SINGLE_RECEPTACLE_FITS.format(outlets.name, place.name, rating, rated)
    at, sure = outlets.circuit.at, terms.confidence
    yield Finding(NAME, verdict, outlets.name, message, terms.cite, at, facts=facts, also=(place.at,), confidence=sure)


def rating_of(receptacle: Receptacle) -> int | None:
    """The amperes of a receptacle: as written, or by what it is for; None where neither says it."""
    return receptacle.amperes or RECEPTACLES_BY_NAME.get(receptacle.kind)


def answer_at(place: Outlet, row: ReceptacleRow) -> str:
    """``right``, ``wrong``; ``unknown`` where a rating is not written, ``which`` where another circuit may feed it."""
    answers: set[str] = set()
    for each in place.receptacles:
        rating = rating_of(each)
        if rating is None and USUAL_RECEPTACLE in row.ratings:
            rating = USUAL_RECEPTACLE
        if not row.ratings or (rating is not None and rating not in row.ratings):
            answers.add("wrong" if each.is_certain else "which")
        elif rating is None:
            answers.add("unknown")
    return next((answer for answer in ("wrong", "which", "unknown") if answer in answers), "right")


def question_of(place: Outlet, answer: str) -> OpenFact:
    """What to look at."""
    if answer == "which":
        return OpenFact(WHICH_CIRCUIT_QUESTION.format(place.name), ZERO, WHICH_CIRCUIT_REMEDY, place.at)
    return OpenFact(RECEPTACLE_QUESTION.format(place.name), ZERO, RECEPTACLE_REMEDY, place.at)


__all__ = ["NAME", "receptacle_rating"]
