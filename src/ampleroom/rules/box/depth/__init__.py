"""Depth behind devices and equipment."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.facts import End, Ends
from ampleroom.job.model import Device, Item, Part
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.fields import LEANS_ON_NONE, MAY_BE_NONE, SIZES
from ampleroom.rules.registry import rule
from ampleroom.rules.space import SettledDevice, Space, depth_of, is_unmeasured
from ampleroom.where import Where
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "box-depth"


class EmptyDepth(Record):
    """The least depth of a box with no device in it, inches."""

    cite: str
    confidence: str
    depth: Decimal


class Projecting(Record):
    """A device that reaches back more than this many inches needs so many more behind it."""

    cite: str
    confidence: str
    beyond: Decimal
    clearance: Decimal


class LargeOnDevice(Record):
    """Wires larger than this on a device need a box identified for them."""

    cite: str
    confidence: str
    larger_than: str


class DepthRow(Record):
    """What some sizes of wire on a device call for; inches."""

    sizes: tuple[str, ...]
    depth: Decimal
    cite: str
    projecting_beyond: Decimal | None = None
    """Behind a device that reaches back further, the clearance is kept; None: these sizes ask for none."""
    clearance: Decimal = Decimal(0)


class DepthByConductor(Record):
    """The least depth by the size of the wires on a device."""

    cite: str
    confidence: str
    rows: tuple[DepthRow, ...]


class RearEntry(Record):
    """Clearance behind a device wired through the middle of the back, inches."""

    cite: str
    confidence: str
    clearance: Decimal


EMPTY = Table("box_depth.empty", EmptyDepth, __file__)
PROJECTING = Table("box_depth.projecting", Projecting, __file__)
LARGE = Table("box_depth.large", LargeOnDevice, __file__)
BY_CONDUCTOR = Table("box_depth.by_conductor", DepthByConductor, __file__, DepthRow)
REAR_ENTRY = Table("box_depth.rear_entry", RearEntry, __file__)


class Need(Record):
    """A least depth in inches, for what, and where it stands."""

    depth: Decimal
    why: str
    cite: str
    confidence: str


def depth_ends(items: tuple[Item, ...], book: CodeBook) -> Ends:
    """A thicker wire needs a deeper box; but behind a device that reaches far back a 12 may need more than a 6, so
    there every size is tried. A wire that may not be there leaves its device to any size. A shallower box is worse.
    """
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
        EMPTY,
        PROJECTING,
        LARGE,
        BY_CONDUCTOR,
        REAR_ENTRY,
    ),
    readings=("deep-bodies",),
    ends=depth_ends,
)
def depth_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """A box must be deep enough behind each device. The size of the wires on the device sets a least depth. If the body
    of the device reaches far back, the box must be that deep plus a clearance. Rings and covers that bring the
    device forward add to the depth. A box with no device has a least depth too.

    A depth or a reach written as `?`, and a ring with no depth written, are facts to check. Where they decide, the
    answer is 'check needed'.

    Why: Wires pressed flat between a device and the back of the box get nicked and run hot.
    """
    if space.base is None or space.is_conduit_body:
        return
    depth = depth_of(space.base, space.base_size, [ring.part for ring in space.rings], book)
    needs = [need for settled in space.devices for need in device_needs(settled, space, book)] or [empty_need(book)]
    name = space.subject
    at = space.devices[0].device.at if space.devices else space.base.at
    too_large = [settled for settled in space.devices if RANK[settled.size] > RANK[book[LARGE].larger_than]]
    if too_large:
        terms = book[LARGE]
        message = (
            f"{name}: {size_text(too_large[0].size)} on the {too_large[0].device.names[0]} needs a box identified "
            "for that purpose"
        )
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
            terms.cite,
            at,
            facts=(fact,),
            confidence=terms.confidence,
        )
    reaching = [settled for settled in space.devices if settled.device.projects is UNKNOWN]
    if depth is None and not (space.devices and (space.base.depth is UNKNOWN or reaching)):
        return  # said as a reminder
    need = max(needs, key=lambda need: need.depth)
    open_parts = [ring.part for ring in space.rings if is_unmeasured(ring.part)]
    is_shallow = depth is None or need.depth > depth
    is_measured = depth is not None and not open_parts
    if (is_shallow and is_measured) or not (is_shallow or reaching):
        yield measured_finding(space, need, depth or Decimal(0), open_parts, at)
        return
    facts = tuple(depth_facts(space, need, depth, open_parts, reaching, book))
    message = open_message(space.subject, need, depth, open_parts, reaching)
    yield Finding(NAME, Verdict.OPEN, name, message, need.cite, at, facts=facts, confidence=need.confidence)


def measured_finding(space: Space, need: Need, depth: Decimal, open_parts: list[Part], at: Where) -> Finding:
    """The finding that no unknown fact can turn; ``depth`` in inches, without the rings nobody measured."""
    name = space.subject
    verdict = Verdict.PASSES if need.depth <= depth else Verdict.FAILS
    at_least = "at least " if open_parts else ""
    message = f"{name} is {at_least}{inches(depth)} deep and needs {inches(need.depth)} {need.why}"
    if verdict is Verdict.FAILS:
        message += f": {inches(need.depth - depth)} too shallow"
    return Finding(NAME, verdict, name, message, need.cite, at, confidence=need.confidence)


def open_message(
    name: str, need: Need, depth: Decimal | None, open_parts: list[Part], reaching: list[SettledDevice]
) -> str:
    """Which depth is known, what it must be, and what has to be measured; depths in inches."""
    needs = f"needs {inches(need.depth)} {need.why}"
    reach = f"how far its {' + '.join(reaching[0].device.names)} reaches back is not known" if reaching else ""
    if depth is None:
        return f"{name} {needs}, and its depth is not known" + (f"; {reach}" if reach else "")
    if need.depth > depth:
        bare = f"{name} is {inches(depth)} deep without its {open_parts[0].kind} and {needs}"
        return f"{bare}: measure the {open_parts[0].kind}" + (f"; {reach}" if reach else "")
    return f"{name} is {'at least ' if open_parts else ''}{inches(depth)} deep, and {reach}"


def depth_facts(
    space: Space,
    need: Need,
    depth: Decimal | None,
    open_parts: list[Part],
    reaching: list[SettledDevice],
    book: CodeBook,
) -> Iterator[OpenFact]:
    """What to measure: the box, its rings, how far a device reaches back; each with what it must be where it alone
    decides.
    """
    name = space.subject
    assert space.base is not None
    shallow = depth is None or need.depth > depth
    lacking = need.depth - (depth or Decimal(0))
    places = [(f"how deep {name} is", space.base.at)] if depth is None else []
    places += [(f"how deep the {part.kind} of {name} is", part.at) for part in open_parts]
    alone = len(places) == 1 and not reaching
    settles = f"passes if it is {inches(lacking)} or more" if alone else "all of these together decide"
    for question, at in places:
        yield OpenFact(question, Decimal(0), settles, at)
    for settled in reaching:
        settles = "all of these together decide"
        if not shallow and depth is not None and len(reaching) == 1:
            sure = " anyway" if open_parts else ""
            settles = f"passes{sure} if it is {inches(most_reach(settled, depth, space, book))} or less"
        reach = f"how far the {' + '.join(settled.device.names)} in {name} reaches back"
        yield OpenFact(reach, Decimal(0), settles, settled.device.at)


def most_reach(settled: SettledDevice, depth: Decimal, space: Space, book: CodeBook) -> Decimal:
    """How far back a device may reach in a box so deep, inches; what its wires need is taken as met."""
    far = book[PROJECTING]
    most = max(far.beyond, depth - far.clearance)
    row = size_row(settled, book)
    if row is not None and row.projecting_beyond is not None:
        clearance = book[REAR_ENTRY].clearance if space.rear_entry else row.clearance
        most = min(most, max(row.projecting_beyond, depth - clearance))
    return most


def least_depth(space: Space, book: CodeBook) -> Need | None:
    """The depth a box of unknown depth must have, for the reminder; None where it holds no device."""
    needs = [need for settled in space.devices for need in device_needs(settled, space, book)]
    return max(needs, key=lambda need: need.depth, default=None)


def empty_need(book: CodeBook) -> Need:
    """The depth a box needs with no device in it, in inches."""
    terms = book[EMPTY]
    return Need(terms.depth, "with no device in it", terms.cite, terms.confidence)


def size_row(settled: SettledDevice, book: CodeBook) -> DepthRow | None:
    """What the size of the wires on a device calls for; None past the sizes the book states."""
    return next((row for row in book[BY_CONDUCTOR].rows if settled.size in row.sizes), None)


def device_needs(settled: SettledDevice, space: Space, book: CodeBook) -> Iterator[Need]:
    """Every least depth one device calls for."""
    device = settled.device
    name = " + ".join(device.names)
    by_size = book[BY_CONDUCTOR]
    row = size_row(settled, book)
    if row is not None:
        why = f"behind a {name} with {size_text(settled.size)} on it"
        yield Need(row.depth, why, row.cite, by_size.confidence)
    if device.projects is None or device.projects is UNKNOWN:
        return
    far = book[PROJECTING]
    if device.projects > far.beyond:
        why = f"behind a {name} that reaches {inches(device.projects)} back"
        yield Need(device.projects + far.clearance, why, far.cite, far.confidence)
    if row is not None and row.projecting_beyond is not None and device.projects > row.projecting_beyond:
        rear = book[REAR_ENTRY]
        clearance = rear.clearance if space.rear_entry else row.clearance
        why = f"behind a {name} with {size_text(settled.size)} on it that reaches {inches(device.projects)} back"
        why += ", wired through the middle of the back" if space.rear_entry else ""
        yield Need(
            device.projects + clearance,
            why,
            row.cite,
            rear.confidence if space.rear_entry else by_size.confidence,
        )
