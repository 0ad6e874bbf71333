"""Which end of each unknown fact is worse for box fill."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.facts import End, Ends
from ampleroom.job.model import Device, Item, Module, TerminalBlock
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.fields import BOX_WIRES, CONTENTS, COUNTS, MAY_BE_NONE, SIZES, VOLUMES

ENDS: Ends = {
    **dict.fromkeys(VOLUMES, "small"),
    **dict.fromkeys((*SIZES, *COUNTS, *BOX_WIRES, *CONTENTS, "loop"), "large"),
    "insulation": "neither",
}


def fill_ends(items: tuple[Item, ...], book: CodeBook) -> Ends:
    """More wires, thicker ones, wider devices and clamps inside fill more; a smaller volume holds less.

    Beside a device, module or block whose largest wire is not known one more wire can help: it tells what may be
    connected there. And a place that amends allowances may give a thicker wire the smaller one; then sizes are tried
    one by one.
    """
    ends: dict[str, End] = {}
    holders = (item for item in items if isinstance(item, Device | Module | TerminalBlock))
    if any(item.size is UNKNOWN for item in holders):
        ends["wires count"] = MAY_BE_NONE
    if book.once(grows_with_size):
        return {**ENDS, **ends} if ends else ENDS
    sizes = (*SIZES, "box wires size", "connected size")
    return {field: end for field, end in {**ENDS, **ends}.items() if field not in sizes}


def grows_with_size(book: CodeBook) -> bool:
    """Whether no conductor has a smaller allowance than a thinner one."""
    rows = book[CONDUCTOR_ROOM].rows
    rooms = [rows[size] for size in sorted(rows, key=RANK.__getitem__)]
    return rooms == sorted(rooms)
