"""Every kind of line a sheet may have: the grammar, one file a family, each with its reader, its writer and an
example.
"""

from ampleroom.job.lines import (
    box_base,
    box_contents,
    box_parts,
    box_sides,
    circuits,
    dwellings,
    heads,
    mounting,
    places,
    rooms,
    runs,
    wireways,
)
from ampleroom.job.lines.statement import Statement

UNDER_A_BOX: tuple[Statement, ...] = (
    *box_base.STATEMENTS,
    *box_parts.STATEMENTS,
    *box_sides.STATEMENTS,
    *mounting.STATEMENTS,
    *rooms.STATEMENTS,
    *box_contents.STATEMENTS,
)
ON_THEIR_OWN: tuple[Statement, ...] = (
    *heads.STATEMENTS,
    *dwellings.STATEMENTS,
    *places.STATEMENTS,
    *circuits.STATEMENTS,
    *wireways.STATEMENTS,
    *runs.STATEMENTS,
)
STATEMENTS = ON_THEIR_OWN + UNDER_A_BOX

__all__ = ["ON_THEIR_OWN", "STATEMENTS", "UNDER_A_BOX", "Statement"]
