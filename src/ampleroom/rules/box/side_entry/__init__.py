"""Room between a device and an entry in a side wall."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import Entry
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.fields import LEANS_ON_NONE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import SettledDevice, Space
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "side-entry"


class SideEntry(Record):
    """Clearance between a device and the box wall, inches; 0 where the book asks for none."""

    cite: str
    confidence: str
    clearance: Decimal


SIDE_ENTRY = Table("box_depth.side_entry", SideEntry, __file__)


@rule(
    NAME,
    title="Entries beside a device",
    topic="finding",
    tables=(SIDE_ENTRY,),
    ends=LEANS_ON_NONE,
)
def side_entry_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """Where wiring enters a side wall, the device must not reach back past the middle of that entry, or it must keep a
    clearance to the box wall. The code first said so in the 2023 edition.

    Only an entry written in the sheet is judged. If the sheet leaves out what decides, the answer is 'check needed'. A
    box with no side entry written gets a reminder of the distances instead.

    Why: Wires that come in beside a device get pinched between its body and the wall.
    """
    terms = book[SIDE_ENTRY]
    if not terms.clearance or space.is_conduit_body:
        return
    for entry in space.side_entries:
        for settled in space.devices:
            if entry.wall == "side" or settled.device.projects is not None:
                yield side_finding(entry, settled, space, book)


def side_finding(entry: Entry, settled: SettledDevice, space: Space, book: CodeBook) -> Finding:
    """Whether one device leaves one entry its room: by its middle, or by what is clear of the wall."""
    terms = book[SIDE_ENTRY]
    device = settled.device
    least = Decimal(terms.clearance)
    name = " + ".join(device.names)
    where = (
        "an entry in a side wall" if entry.wall == "side" else f"{entry.raceway}, which enters the {entry.wall} wall"
    )
    reach = f"the {name} in {space.subject}"
    center = None if entry.center is UNKNOWN else entry.center
    clear = None if entry.clear is UNKNOWN else entry.clear
    reaches = None if device.projects is UNKNOWN else device.projects
    facts: tuple[OpenFact, ...] = ()
    if clear is not None and clear >= least:
        verdict, sentence = Verdict.PASSES, f"{reach} leaves {inches(clear)} beside {where}, and needs {inches(least)}"
    elif center is not None and reaches is not None and reaches <= center:
        verdict = Verdict.PASSES
        sentence = f"{reach} reaches {inches(reaches)} back, not past the middle of {where} at {inches(center)}"
    elif center is not None and reaches is not None and clear is not None:
        verdict = Verdict.FAILS
        sentence = f"{reach} reaches {inches(reaches)} back, past the middle of {where} at {inches(center)}"
        sentence += f", and leaves {inches(clear)} clear of the wall, not {inches(least)}"
    else:
        verdict = Verdict.OPEN
        sentence = f"{reach}: whether it leaves {where} its room is not known"
        facts = tuple(missing_facts(entry, settled, center, clear, least))
    return Finding(
        NAME, verdict, space.subject, sentence, terms.cite, entry.at, facts=facts, confidence=terms.confidence
    )


def missing_facts(
    entry: Entry, settled: SettledDevice, center: Decimal | None, clear: Decimal | None, least: Decimal
) -> Iterator[OpenFact]:
    """What would settle it: any one of them may."""
    device = settled.device
    name = " + ".join(device.names)
    if clear is None:
        settles = f"passes with {inches(least)} or more"
        yield OpenFact(f"what is clear between the {name} and the box wall", Decimal(0), settles, entry.at)
    if center is None:
        settles = "passes if the device does not reach past it"
        yield OpenFact(
            "how far behind the device's mounting plane the middle of the entry is", Decimal(0), settles, entry.at
        )
    if device.projects is None or device.projects is UNKNOWN:
        settles = "passes if that is not past the middle of the entry"
        yield OpenFact(f"how far the {name} reaches back", Decimal(0), settles, device.at)
