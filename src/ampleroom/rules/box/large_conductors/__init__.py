"""Conductors of 4 AWG and larger."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.facts import Ends
from ampleroom.job.trade import RANK, size_text
from ampleroom.rules.allowance import is_large
from ampleroom.rules.fields import LEANS_ON_NONE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "large-conductors"

ENDS: Ends = {
    **LEANS_ON_NONE,
    "wires count": "large",  # where there may be none of them
    "cable size": "large",  # a place may have lowered the size from which on they are large
    "wire size": "large",
}


@rule(
    NAME,
    title="4 AWG and larger",
    topic="finding",
    tables=(PULL_BOX,),
    readings=("large-on-device",),
    ends=ENDS,
)
def large_conductor_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """#4 and larger has no allowance. Its box is sized by distances: from wall to wall, and from one entry to the next.
    This version does not judge those distances, so the answer is 'check needed'. Everything else in the box is counted as
    usual.

    Why: A thick conductor needs length to bend, and no number of cubic inches gives it that.
    """
    sizes = [
        entering.size for entering in space.entering if entering.role == "insulated" and is_large(entering.size, book)
    ]
    if not sizes:
        return
    terms = book[PULL_BOX]
    size = size_text(max(sizes, key=RANK.__getitem__))
    name = space.subject
    message = f"{name} holds conductors up to {size}: the distances for pulling them are not judged here"
    fact = OpenFact(
        f"whether {name} is long enough for pulling {size}, by the pull-box distances",
        Decimal(0),
        "measure and work out by hand",
        space.box.at,
    )
    yield Finding(
        NAME,
        Verdict.OPEN,
        name,
        message,
        terms.cite,
        space.box.at,
        facts=(fact,),
        confidence=terms.confidence,
    )
