"""The least service of a one-family dwelling."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import LEAST_SERVICE
from ampleroom.facts import Ends
from ampleroom.rules.load.carried import ENDS as OF_A_LOAD
from ampleroom.rules.load.carried import Carried
from ampleroom.rules.load.weighed import SERVICE
from ampleroom.rules.registry import rule
from ampleroom.words import weighed_message
from ampleroom.worksheet import LEAST_SERVICE as PURPOSE
from ampleroom.worksheet import Finding, Worksheet

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LOAD, "neither"), "service": "small"}


@rule(NAME, title="Least service of a dwelling", topic="finding", about="load", tables=(LEAST_SERVICE,), ends=ENDS)
def least_service(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """The service of a one-family dwelling has a least rating, however little the house draws.

    Why: A house gets more loads than it began with.
    """
    terms = book[LEAST_SERVICE]
    if what.rating is None or what.units > 1:
        return
    have = Figure(NAME, "Rating", what.rating, Unit.AMPERE)
    need = Figure(NAME, "Least rating", terms.amperes, Unit.AMPERE, "", terms.cite, terms.confidence)
    sheet = Worksheet((have,), (need,), PURPOSE)
    message = weighed_message(SERVICE, sheet.verdict, sheet)
    yield Finding(NAME, sheet.verdict, SERVICE, message, terms.cite, what.at, sheet, confidence=terms.confidence)
