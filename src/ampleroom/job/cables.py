"""What is inside a cable: its insulated conductors and its ground."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from typing import Any

from ampleroom.editions.cables import CABLES
from ampleroom.job.model import Cable, Run, Wires
from ampleroom.job.trade import BRANCH_SIZES, CABLE_SIZES, RANK
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import Record

_TABLE = CABLES.blocks[0]
_ROWS: dict[tuple[str, str, str], dict[str, Any]] = {
    (row["kind"], row["size"], row["of"]): row for row in _TABLE["rows"]
}
COMMON: tuple[str, ...] = tuple(_TABLE["common"])
COMMON_WIRES: tuple[str, ...] = tuple(_TABLE["common_wires"])
SAYS: dict[str, str] = {row["kind"]: row["says"] for row in _TABLE["kinds"]}

ARMOR_GROUNDS = ("ac", "mc-ap")
"""Cables whose armor, with the strip or bare wire under it, is the ground: no ground wire comes into the box."""
USUAL_COLORS = ("black", "white", "red", "blue", "yellow", "brown", "orange", "gray")


class Makeup(Record):
    """A cable's conductors, how sure that is, and its outside size in inches where a data sheet was seen.

    A ground of unknown count is one that may not be there.
    """

    wires: tuple[Wires, ...]
    colors: tuple[str, ...]
    confidence: str
    width: Decimal | None = None
    height: Decimal | None = None
    armor_ground: bool = False


@lru_cache(maxsize=512)
def makeup(cable: Cable) -> Makeup | None:
    """What is in a cable, or None where nobody knows its ground: then the sheet has to say it."""
    insulated: Maybe[int] = UNKNOWN if cable.of == "?" else sum(int(part) for part in cable.of.split("/"))
    row = _ROWS.get((cable.kind, str(cable.size), cable.of))
    confidence: str = (row.get("confidence") or _TABLE["confidence"]) if row else "from memory"
    colors: tuple[str, ...] = tuple(row["colors"].split()) if row else ()
    if not row and insulated is not UNKNOWN:
        colors = USUAL_COLORS[:insulated]
    ground, armor = _ground(cable, row)
    if ground is None:
        return None
    wires = (Wires(insulated, cable.size), *ground)
    if cable.ground is not None:
        confidence = "as the sheet says"
    size = (row.get("width"), row.get("height")) if row else (None, None)
    return Makeup(wires, colors, confidence, *size, armor_ground=armor)


def _ground(cable: Cable, row: dict[str, Any] | None) -> tuple[tuple[Wires, ...] | None, bool]:
    """The grounds of a cable (None: not known and not to be bounded), and whether its armor is the ground."""
    maybe_there = (Wires(UNKNOWN, cable.size, "ground"),)
    if cable.ground == "none":
        return (), False
    if cable.ground is UNKNOWN:
        return maybe_there, False
    if cable.ground is not None:
        return (Wires(1, cable.ground, "ground"),), False
    if cable.kind in ARMOR_GROUNDS:
        return (), True
    if cable.kind == "ser":
        return None, False  # its ground is thinner by the maker's own table: the sheet says it
    if cable.kind in ("old", "?"):
        return maybe_there, False
    if row is not None:
        return (Wires(1, row["ground"], "ground"),), False
    if cable.size is UNKNOWN or cable.size in BRANCH_SIZES:
        return (Wires(1, cable.size, "ground"),), False
    return None, False


def sizes_of(cable: Cable) -> tuple[str, ...]:
    """The sizes a cable of unknown size may have, thin to thick: every kind is made up to the largest that has an
    allowance; the table of make-ups may know larger ones."""
    sizes = {size for kind, size, of in _ROWS if cable.of in (of, "?") and (kind == cable.kind or cable.kind == "?")}
    return tuple(sorted(sizes.union(CABLE_SIZES), key=RANK.__getitem__))


@lru_cache(maxsize=4096)
def _all_wires(cable: Cable | None, wires: tuple[Wires, ...]) -> tuple[Wires, ...]:
    if cable is None:
        return wires
    inside = makeup(cable)
    return (inside.wires if inside else ()) + wires


def conductors_of(run: Run) -> tuple[Wires, ...]:
    """Every conductor of one run: what is in its cable, and what the sheet adds."""
    return _all_wires(run.cable, run.wires)
