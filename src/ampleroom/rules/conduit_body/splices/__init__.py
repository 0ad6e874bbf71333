"""Conduit bodies: splices, taps and devices."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.facts import Ends
from ampleroom.job.model import Pigtails
from ampleroom.rules.fields import LEANS_ON_NONE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Finding, Verdict

NAME = "conduit-body-splices"

ENDS: Ends = {**LEANS_ON_NONE, "wires count": "large"}
"""What may end there is worse than nothing."""


SPLICES = Table("conduit_bodies.splices", Cited, __file__)
"""That a body needs a marked volume to hold splices."""
SHORT_RADIUS = Table("conduit_bodies.short_radius", Cited, __file__)
"""That a short-radius body holds none."""


@rule(
    NAME,
    title="Splices in conduit bodies",
    topic="finding",
    tables=(SPLICES, SHORT_RADIUS),
    readings=("body-splices",),
    ends=ENDS,
    of_bodies=True,
)
def splices_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """Splice or terminate conductors in a conduit body, or mount a device there, only if its maker marked a volume on
    it. Then count it like a box, against that volume. A short-radius body, such as a capped elbow, takes no splice,
    tap or device at all.

    Why: A conduit body is a bend with a removable cover. Splices in it cannot be folded out of the way of the wires
    pulled past them.
    """
    base = space.base
    if base is None or not space.is_conduit_body or not holds_splices(space):
        return
    name = space.subject
    if base.short_radius:
        terms = book[SHORT_RADIUS]
        message = f"{name} is a short-radius body and holds splices or a device: it may hold none"
        yield Finding(
            NAME,
            Verdict.FAILS,
            name,
            message,
            terms.cite,
            base.at,
            confidence=terms.confidence,
        )
    elif base.volume is None:
        terms = book[SPLICES]
        message = f"{name} holds splices or a device, and no volume is marked on it: it may hold none"
        yield Finding(
            NAME,
            Verdict.FAILS,
            name,
            message,
            terms.cite,
            base.at,
            confidence=terms.confidence,
            readings=("body-splices",),
        )


def holds_splices(space: Space) -> bool:
    """Whether anything ends, is spliced or lands on a device here."""
    return bool(space.devices or space.modules or space.blocks or space.of(Pigtails)) or any(
        entering.how == "ends" for entering in space.entering
    )
