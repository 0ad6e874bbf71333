"""Reminder: a power distribution block in a box."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import DistributionBlock
from ampleroom.record import Record
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "distribution-block-on-site"


class OnSite(Record):
    """What is looked at where a power distribution block is in a box."""

    cite: str
    confidence: str
    supply_side: bool
    """Whether one that is listed for it may be on the supply side of the service."""


ON_SITE = Table("reminders.distribution_block", OnSite, __file__)


@rule(
    NAME,
    title="Distribution block, on site",
    topic="reminder",
    of_contents=True,
    tables=(ON_SITE,),
)
def distribution_block_on_site(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """A power distribution block in a box is listed, shows no live parts with the cover off, and has room at its
    terminals. Conductors that pass through the box keep clear of its terminals.

    Why: Whoever opens the box later works an inch away from live metal.
    """
    if not space.of(DistributionBlock):
        return
    text = "the power distribution block is listed, and no live part is exposed with the cover off"
    if any(each.how != "ends" for each in space.entering):
        text += "; conductors that pass through keep clear of its terminals"
    terms = book[ON_SITE]
    yield remind(NAME, text, terms, caution=True)
    text = "its terminals have the bending space of 312.6; conductors that leave by the wall the terminals face need "
    text += "more, by Table 312.6(B), which is not judged here. Box fill leaves the block itself out: leave room for it"
    yield remind(NAME, text, terms)
    allowed = "only one that is listed for it is" if terms.supply_side else "no power distribution block in a box is"
    yield remind(NAME, f"{allowed} on the supply side of the service", terms)
