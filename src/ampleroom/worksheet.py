"""How answers are made of arithmetic: the number that decides is the sum of the lines that are printed."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from enum import IntEnum
from typing import Protocol

from ampleroom.arithmetic import Line, Unit, printed, summed
from ampleroom.facts import Fact
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record, TupleRecord, aside, source_of
from ampleroom.where import NOWHERE, Where


class Purpose(Record):
    """What a worksheet weighs, such as a box's fill against its volume: the words above its two halves, and its
    unit.
    """

    name: str
    """The rule whose finding carries it."""
    unit: Unit
    have: str
    """``Box volume``"""
    need: str
    """``Box fill``"""
    is_drawn: bool = False
    """Whether its picture shows each amount as a tile of its size: for what takes up room, such as in3 of a box."""


BOX_FILL = Purpose("box-fill", Unit.IN3, "Box volume", "Box fill", is_drawn=True)
"""The volume of a box, or of one side of its barrier, against what is in it."""
RACEWAY_FILL = Purpose("raceway-fill", Unit.IN2, "Allowed fill", "Conductors")
"""The part of a raceway's cross section that may be filled, against the conductors and cables in it."""

WIREWAY_FILL = Purpose("wireway-fill", Unit.IN2, "Allowed fill", "Conductors")
"""The part of the section of a wireway or gutter that may be filled, against the conductors and cables in it."""

WIRE_PROTECTION = Purpose("wire-protection", Unit.AMPERE, "Largest breaker", "Breaker")
"""The largest breaker that protects a wire, against the one it has."""
CONDUCTOR_AMPACITY = Purpose("conductor-ampacity", Unit.AMPERE, "Ampacity", "Load")
"""What a wire may carry where it lies, against what it carries."""
CONTINUOUS_LOAD = Purpose("continuous-load", Unit.AMPERE, "Ampacity", "Load at 125 %")
"""What a wire may carry before heat and company are looked at, against its load with more for the continuous part."""
BREAKER_LOAD = Purpose("breaker-load", Unit.AMPERE, "Breaker", "Load")
"""The rating of a breaker against the load of its circuit, with more for the continuous part."""
RANGE_CIRCUIT = Purpose("range-circuit", Unit.AMPERE, "Breaker", "Least for a range")
"""The rating of a range's circuit against the least for one of its size."""
APPLIANCE_BREAKER = Purpose("appliance-breaker", Unit.AMPERE, "Largest breaker", "Breaker")
"""The largest breaker before one appliance without a motor, by its nameplate, against the one there is."""
DWELLING_SERVICE = Purpose("dwelling-service", Unit.AMPERE, "Wire is good for", "Needed")
"""What the wire of a dwelling's service or feeder is good for, against what its rating asks for."""
NAMEPLATE_WIRE = Purpose("nameplate-wire", Unit.AMPERE, "Ampacity", "Minimum circuit ampacity")
"""What a wire may carry, against the ampacity its equipment's nameplate asks for."""
NAMEPLATE_BREAKER = Purpose("nameplate-breaker", Unit.AMPERE, "Maximum on the nameplate", "Breaker")
"""The largest breaker a nameplate allows, against the one there is."""
MOTOR_WIRE = Purpose("motor-wire", Unit.AMPERE, "Ampacity", "Motor at 125 %")
"""What a wire may carry, against the current of its motor with the part a motor adds."""
MOTOR_BREAKER = Purpose("motor-breaker", Unit.AMPERE, "Largest breaker", "Breaker")
"""The largest breaker before a motor, against the one there is."""
ELECTRODE_CONDUCTOR = Purpose("electrode-conductor", Unit.CIRCULAR_MIL, "Conductor", "Needed")
"""The section of the conductor to a grounding electrode, against what the wires of its service call for."""
TAP_CONDUCTOR = Purpose("tap-conductor", Unit.CIRCULAR_MIL, "Tap", "Thinnest tap")
"""The section of a tap against the thinnest there may be on its circuit."""
EQUIPMENT_GROUND = Purpose("equipment-ground", Unit.CIRCULAR_MIL, "Ground", "Ground needed")
"""The section of an equipment ground against what its breaker and its conductors call for."""

VOLTAGE_DROP = Purpose("voltage-drop", Unit.VOLT, "Advised limit", "Voltage drop")
"""The most a circuit should lose in its wires, as advice, against what it loses."""
DROP_IN_ALL = Purpose("voltage-drop-in-all", Unit.VOLT, "Advised limit in all", "Voltage drop in all")
"""The same of a circuit and the feeders before it together."""

STANDARD_LOAD = Purpose("standard-load", Unit.VA, "Service", "Load, standard method")
"""What the service of a dwelling is rated for, against its load by the standard method."""
OPTIONAL_LOAD = Purpose("optional-load", Unit.VA, "Service", "Load, optional method")
"""The same by the optional method."""
EXISTING_LOAD = Purpose("existing-load", Unit.VA, "Service", "Load, existing dwelling")
"""The same of a dwelling that stands and gets more."""
METERED_LOAD = Purpose("metered-load", Unit.VA, "Service", "Load, measured")
"""The same by the greatest demand that was measured."""
APARTMENTS_LOAD = Purpose("apartments-load", Unit.VA, "Service", "Load, apartments")
"""The same of several dwellings under one service."""
NEUTRAL_LOAD = Purpose("neutral-load", Unit.VA, "Service", "Load on the neutral")
"""What the service is rated for, against the load on its neutral."""
LEAST_SERVICE = Purpose("least-service", Unit.AMPERE, "Service", "Least service")
"""The rating of the service of a dwelling, against the least there may be."""


PANEL_SPACES = Purpose("panel-spaces", Unit.COUNT, "Spaces", "Taken")
"""The spaces of a panel, against those its circuits take."""
PANEL_MAIN = Purpose("panel-main", Unit.AMPERE, "Bus", "Protected by")
"""The bus of a panel, against the main or the breaker of its feeder."""
REQUIRED_CIRCUITS = Purpose("required-circuits", Unit.COUNT, "Circuits there", "Circuits required")
"""The circuits a dwelling has for one use, against those it must have."""


class Verdict(IntEnum):
    """What a check found; the larger, the worse. Advice is what the code book recommends but does not require."""

    PASSES = 0
    ADVICE = 1
    OPEN = 2
    FAILS = 3

    @property
    def word(self) -> str:
        """``passes``, ``advice``, ``check needed``, ``fails``: as every surface and JSON have it."""
        return ("passes", "advice", "check needed", "fails")[self]

    @property
    def shape(self) -> str:
        """One letter-sized mark, so that color is never the only signal."""
        return ("o", "i", "?", "X")[self]

    @property
    def is_allowed(self) -> bool:
        """Whether the code allows it for certain: it passes, or is only advised against."""
        return self <= Verdict.ADVICE


def between(worst: Verdict, best: Verdict) -> Verdict:
    """The verdict where facts are unknown, from that with all of them at their worst and that with all at their best.

    Advice at the worst and a pass at the best is advice. What fails at the worst alone is open.
    """
    if worst.is_allowed:
        return worst
    return Verdict.FAILS if worst is best is Verdict.FAILS else Verdict.OPEN


class Worksheet(Record):
    """What there is and what is needed, line by line, and both sums."""

    have: tuple[Line, ...]
    need: tuple[Line, ...]
    purpose: Purpose = BOX_FILL
    otherwise: Verdict = Verdict.FAILS
    """The verdict where more is needed than there is: a failure, or advice."""
    there: Decimal = aside(None)
    """The sum of ``have``."""
    needed: Decimal = aside(None)
    """The sum of ``need``."""

    def __init__(
        self,
        have: tuple[Line, ...],
        need: tuple[Line, ...],
        purpose: Purpose = BOX_FILL,
        otherwise: Verdict = Verdict.FAILS,
    ) -> None:
        """Adds up both sides. Raises ``UnitsDiffer`` where a line is not in the unit of the purpose."""
        unit = purpose.unit
        self.settle(
            have=have,
            need=need,
            purpose=purpose,
            otherwise=otherwise,
            there=summed(have, unit),
            needed=summed(need, unit),
        )

    @property
    def unit(self) -> Unit:
        """What its amounts are measured in."""
        return self.purpose.unit

    @property
    def verdict(self) -> Verdict:
        """Passes where what is needed goes into what there is; else what this worksheet says then."""
        return Verdict.PASSES if self.passes else self.otherwise

    @property
    def margin(self) -> Decimal:
        """What is left over, in ``unit``; negative: so much is short. A need without bounds goes into no room, however
        large.
        """
        return self.there - self.needed if self.needed != NO_LIMIT else -NO_LIMIT

    @property
    def passes(self) -> bool:
        """Exactly full passes."""
        return self.needed <= self.there and self.needed != NO_LIMIT

    @property
    def there_printed(self) -> str:
        """``there`` as it is printed, without its unit: ``21.00``, ``about 3.60``, ``not known``."""
        return printed(self.there, self.unit, any(line.is_rounded for line in self.have))

    @property
    def needed_printed(self) -> str:
        """``needed`` as it is printed, without its unit."""
        return printed(self.needed, self.unit, any(line.is_rounded for line in self.need))

    @property
    def margin_printed(self) -> str:
        """What is left over or short, as it is printed, without its sign and unit."""
        return printed(abs(self.margin), self.unit, any(line.is_rounded for line in self.lines))

    @property
    def lines(self) -> tuple[Line, ...]:
        """Those that are added up, without what they are made of."""
        return self.have + self.need

    @property
    def all_lines(self) -> Iterator[Line]:
        """Those that are added up, and all they are made of."""
        for line in self.lines:
            yield line
            for part in line.parts:
                yield from (each for _, each in part.with_parts())


class OpenFact(Record):
    """A fact nobody has checked, and what it would settle in one finding."""

    question: str
    swing: Decimal
    """How much of the fill or the room depends on it, in3."""
    settles: str = ""
    at: Where = NOWHERE
    fact: Fact | None = None
    """Which fact it is; None: of what the sheet has no word for, such as a distance to be measured."""
    effort: int = 0
    """What it takes to find out, as in ``facts.Unknown``."""
    by_value: tuple[tuple[str, Verdict], ...] = ()
    """What the finding is with each of its values; empty where they are a range."""


class Surplus(Protocol):
    """What of a box would have to go for it to pass, worked out when somebody asks."""

    @property
    def text(self) -> str:
        """``one 12/2 cable too many``; empty where no one kind of thing answers."""


class Finding(TupleRecord):
    """What one rule says of one box or one space of it."""

    rule: str
    verdict: Verdict
    subject: str
    """The box, or box/space, as the sheet names it."""
    message: str
    cite: str
    at: Where = NOWHERE
    worst: Worksheet | None = None
    """The arithmetic with every unknown fact at its worst; the whole arithmetic where nothing is unknown."""
    best: Worksheet | None = None
    """The arithmetic with every unknown fact at its best; absent where nothing is unknown."""
    facts: tuple[OpenFact, ...] = ()
    also: tuple[Where, ...] = ()
    """Other places in the sheet that had a part in it."""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    surplus: Surplus | None = None
    """For a box that fails: what is too many in it."""

    @property
    def worksheet(self) -> Worksheet | None:
        """The arithmetic that decides: the best case where even that fails, else the worst."""
        if self.verdict is Verdict.FAILS and self.best is not None:
            return self.best
        return self.worst

    @property
    def all_readings(self) -> tuple[str, ...]:
        """The disputed points it leaned on, its worksheets' lines included."""
        names = dict.fromkeys(self.readings)
        for sheet in (self.worst, self.best):
            if sheet is not None:
                for line in sheet.all_lines:
                    names.update(dict.fromkeys(line.readings))
        return tuple(names)


class Reminder(Record):
    """Something no count can see, to be looked at on the spot; a caution warns of danger."""

    rule: str
    text: str
    cite: str = ""
    caution: bool = False
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()


class SubjectReport(Record):
    """All that was found of one subject: a box, a conduit body, or whatever else a rule judges."""

    kind: str
    """``box``, ``conduit body``: the name of its kind, in ``rules.kinds.KINDS``."""
    name: str
    description: str
    at: Where
    findings: tuple[Finding, ...]
    reminders: tuple[Reminder, ...] = ()
    is_empty: bool = False
    """Whether nothing is written in it yet: for a box no conductor and no device, in none of its spaces."""

    @property
    def like(self) -> SubjectReport | None:
        """The report of a subject of equal contents, where this one is worked out when somebody looks: verdicts,
        numbers and disputed points are the same, only the names in the sentences are its own. None of any other.
        """
        source = source_of(self)
        return source[1] if source else None

    @property
    def verdict(self) -> Verdict:
        """The worst of its findings; open where no rule said anything of it."""
        if self.like is not None:
            return self.like.verdict
        return max((finding.verdict for finding in self.findings), default=Verdict.OPEN)

    @property
    def cautions(self) -> tuple[Reminder, ...]:
        """The reminders that warn of danger."""
        if self.like is not None and not self.like.cautions:
            return ()
        return tuple(reminder for reminder in self.reminders if reminder.caution)

    @property
    def readings(self) -> tuple[tuple[str, str], ...]:
        """The disputed points that mattered, each with the subject of its finding, as ``J1/left``."""
        if self.like is not None:  # not divided, so its findings are on itself
            return tuple([(reading, self.name) for reading, _ in self.like.readings])
        of_findings = [(name, finding.subject) for finding in self.findings for name in finding.all_readings]
        of_reminders = [(name, self.name) for reminder in self.reminders for name in reminder.readings]
        return (*of_findings, *of_reminders)

    @property
    def fill_findings(self) -> tuple[Finding, ...]:
        """Those that carry a worksheet: of a box one a space, and its distances if it is a pull box."""
        return tuple(finding for finding in self.findings if finding.worst is not None)

    @property
    def drawn_findings(self) -> tuple[Finding, ...]:
        """Those whose worksheet has a picture, with a tile for each amount."""
        return tuple(
            finding for finding in self.findings if finding.worst is not None and finding.worst.purpose.is_drawn
        )

    def margins(self, purpose: str, worst: bool = False) -> list[Decimal]:
        """What is left in each worksheet of a purpose, as it decides; ``worst``: with unknown facts at their worst."""
        if self.like is not None:
            return self.like.margins(purpose, worst)
        sheets = [(finding.worst if worst else finding.worksheet) for finding in self.findings]
        return [sheet.margin for sheet in sheets if sheet is not None and sheet.purpose.name == purpose]
