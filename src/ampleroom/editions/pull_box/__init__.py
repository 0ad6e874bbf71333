"""From which conductor size on a box is sized by pulling distances and not by volume."""

from __future__ import annotations

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class PullBox(Record):
    """The smallest size that counts as large."""

    cite: str
    confidence: str
    from_size: str


PULL_BOX = Table("reminders.pull_box", PullBox, __file__)
