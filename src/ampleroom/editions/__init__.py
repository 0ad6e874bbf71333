"""The code book as dated data: which numbers are in force in an edition, where they stand, who compared them.

A table is a list of blocks, oldest first; each says from which edition it is in force and only what changed. What is in
force in a year is the blocks down to that year, later keys over earlier ones. A local amendment is one more block.
"""

from ampleroom.editions.amendments import Amendments
from ampleroom.editions.book import CodeBook
from ampleroom.editions.readings import READINGS, Reading
from ampleroom.editions.tables import NEWEST_COMPARED, OFFERED, Edition, blocks, edition, source_text

__all__ = [
    "NEWEST_COMPARED",
    "OFFERED",
    "READINGS",
    "Amendments",
    "CodeBook",
    "Edition",
    "Reading",
    "blocks",
    "edition",
    "source_text",
]
