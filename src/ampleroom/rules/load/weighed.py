"""Findings on the service of a dwelling: what it carries by one method, against its rating."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line, Unit, summed
from ampleroom.editions import CodeBook
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import TENTH, number
from ampleroom.rules.load.carried import Carried
from ampleroom.rules.registry import Sourced
from ampleroom.words import AT_VOLTS, SERVICE_NEEDED, SERVICE_QUESTION, SERVICE_REMEDY, weighed_message
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

SERVICE = "service"


def amperes(va: Decimal, volts: Decimal) -> Decimal:
    """So many VA in amperes, for a sentence."""
    return (va / volts).quantize(TENTH) if va.is_finite() else va


def next_rating(va: Decimal, volts: Decimal, book: CodeBook) -> Decimal:
    """The least standard rating that carries so many VA."""
    ratings = map(Decimal, book[STANDARD].ratings)
    return next((rating for rating in ratings if rating * volts >= va), Decimal(book[STANDARD].ratings[-1]))


def weighed(purpose: Purpose, what: Carried, need: Iterable[Line], terms: Sourced, book: CodeBook) -> Finding:
    """The rating of the service against what it carries; where no rating is written, that is asked."""
    lines = tuple(need)
    rule, volts, va = purpose.name, what.volts, summed(lines, Unit.VA)
    rating = next_rating(va, volts, book) if what.rating is None else what.rating
    label = "Least rating that would do" if what.rating is None else "Rating"
    have = Counted(rule, label, rating, volts, f"A at {number(volts, 0)} V", unit=Unit.VA, cite="")
    sheet = Worksheet((have,), lines, purpose)
    told = number(amperes(va, volts), 1)
    if what.rating is None:
        fact = OpenFact(SERVICE_QUESTION, Decimal(0), SERVICE_REMEDY.format(number(rating, 0)), what.at)
        message = SERVICE_NEEDED.format(SERVICE, Unit.VA.amount(va), told, number(volts, 0), number(rating, 0))
        return Finding(
            rule, Verdict.OPEN, SERVICE, message, terms.cite, what.at, sheet, None, (fact,), confidence=terms.confidence
        )
    message = weighed_message(SERVICE, sheet.verdict, sheet)
    if va.is_finite():
        message += AT_VOLTS.format(told, number(volts, 0))
    return Finding(rule, sheet.verdict, SERVICE, message, terms.cite, what.at, sheet, confidence=terms.confidence)


__all__ = ["SERVICE", "next_rating", "weighed"]
