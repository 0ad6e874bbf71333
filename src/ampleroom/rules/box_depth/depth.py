"""Depth behind devices and equipment."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.facts import End, Ends
from ampleroom.job.model import Device, Item
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.fields import LEANS_ON_NONE, MAY_BE_NONE, SIZES
from ampleroom.rules.registry import rule
from ampleroom.rules.space import SettledDevice, Space, depth_of
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "box-depth"
EXAMPLE = """
box D1
  square 4 x 1-1/2
  plaster ring 3.5 in3 1/2 in deep
  clamps outside
  receptacle #12 projects 1-5/8 in
run D1 > ? 2 x 12/2 nm-b
"""


class Need(Record):
    """A least depth in inches, for what, and where it stands."""

    depth: Decimal
    why: str
    cite: str
    confidence: str


def depth_ends(items: tuple[Item, ...], book: CodeBook) -> Ends:
    """A thicker wire needs a deeper box; but behind a device that reaches far back a 12 may need more than a 6, so there
    every size is tried. A wire that may not be there leaves its device to any size. A shallower box is worse."""
    devices = [item for item in items if isinstance(item, Device)]
    ends: dict[str, End] = {**LEANS_ON_NONE, "box size": "small"}
    if any(device.size is UNKNOWN for device in devices):
        sizes = (*SIZES, "connected size", "ground")
        if any(device.projects is not None for device in devices):
            for field in sizes:
                del ends[field]
        else:
            ends |= dict.fromkeys(sizes, "large")
        ends["wires count"] = MAY_BE_NONE
    return ends


@rule(
    NAME,
    title="Depth behind devices",
    topic="finding",
    tables=(
        "box_depth.empty",
        "box_depth.projecting",
        "box_depth.large",
        "box_depth.by_conductor",
        "box_depth.rear_entry",
    ),
    readings=("deep-bodies",),
    example=EXAMPLE,
    ends=depth_ends,
)
def depth_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """A box that holds a device must be deep enough behind it: by the size of the wires on the device, and by how far its
    body reaches back plus a clearance where it reaches far. Rings and covers that bring the device forward add to the
    depth. A box with no device needs half an inch.

    Since 2023 the clearance is larger where 12 or 10 AWG comes in through the middle of the back wall.

    Why: wires pressed flat between a device and the back of the box are nicked, and run hot.
    """
    if space.base is None or space.is_conduit_body:
        return
    depth = depth_of(space.base, space.base_size, [ring.part for ring in space.rings], book)
    needs = [need for settled in space.devices for need in device_needs(settled, space, book)] or [empty_need(book)]
    name = space.subject
    at = space.devices[0].device.at if space.devices else space.base.at
    too_large = [
        settled for settled in space.devices if RANK[settled.size] > RANK[book["box_depth.large"]["larger_than"]]
    ]
    if too_large:
        terms = book["box_depth.large"]
        message = f"{name}: {size_text(too_large[0].size)} on the {too_large[0].device.names[0]} needs a box identified for that purpose"
        fact = OpenFact(
            f"whether {name} is identified for such large wires",
            Decimal(0),
            "its marking or its maker's instructions say",
            at,
        )
        yield Finding(
            NAME,
            Verdict.OPEN,
            name,
            message,
            terms["cite"],
            at,
            facts=(fact,),
            confidence=terms["confidence"],
        )
    if depth is None:
        return  # said as a reminder
    need = max(needs, key=lambda need: need.depth)
    verdict = Verdict.PASSES if need.depth <= depth else Verdict.FAILS
    said = f"{name} is {inches(depth)} deep and needs {inches(need.depth)} {need.why}"
    if verdict is Verdict.FAILS:
        said += f": {inches(need.depth - depth)} too shallow"
    yield Finding(NAME, verdict, name, said, need.cite, at, confidence=need.confidence)


def least_depth(space: Space, book: CodeBook) -> Need | None:
    """The depth a box of unknown depth must have, for the reminder; None where it holds no device."""
    needs = [need for settled in space.devices for need in device_needs(settled, space, book)]
    return max(needs, key=lambda need: need.depth, default=None)


def empty_need(book: CodeBook) -> Need:
    terms = book["box_depth.empty"]
    return Need(Decimal(terms["depth"]), "with no device in it", terms["cite"], terms["confidence"])


def device_needs(settled: SettledDevice, space: Space, book: CodeBook) -> Iterator[Need]:
    """Every least depth one device calls for."""
    device = settled.device
    name = " + ".join(device.names)
    by_size = book["box_depth.by_conductor"]
    row = next((row for row in by_size["rows"] if settled.size in row["sizes"]), None)
    if row is not None:
        why = f"behind a {name} with {size_text(settled.size)} on it"
        yield Need(row["depth"], why, row["cite"], by_size["confidence"])
    if device.projects is None:
        return
    far = book["box_depth.projecting"]
    if device.projects > far["beyond"]:
        why = f"behind a {name} that reaches {inches(device.projects)} back"
        yield Need(device.projects + far["clearance"], why, far["cite"], far["confidence"])
    if row is not None and "projecting_beyond" in row and device.projects > row["projecting_beyond"]:
        rear = book["box_depth.rear_entry"]
        clearance = rear["clearance"] if space.rear_entry else row["clearance"]
        why = f"behind a {name} with {size_text(settled.size)} on it that reaches {inches(device.projects)} back"
        why += ", wired through the middle of the back" if space.rear_entry else ""
        yield Need(
            device.projects + clearance,
            why,
            row["cite"],
            book.confidence("box_depth.rear_entry" if space.rear_entry else "box_depth.by_conductor"),
        )
