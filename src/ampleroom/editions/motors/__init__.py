"""Motors: what they draw by horsepower, amperes, and what is sized to that, percent."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Cited, Table
from ampleroom.record import Record


class SinglePhaseRow(Record):
    """A single-phase motor: its current by volts."""

    hp: str
    """Horsepower: ``1/2``, ``7-1/2``."""
    at_115: Decimal
    at_200: Decimal
    at_208: Decimal
    at_230: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class SinglePhase(Record):
    """Single-phase motors, the least first."""

    cite: str
    confidence: str
    rows: tuple[SinglePhaseRow, ...]


class ThreePhaseRow(Record):
    """A three-phase motor, squirrel cage or wound rotor: its current by volts; ``None`` where none is printed."""

    hp: str
    at_115: Decimal | None = None
    at_200: Decimal | None = None
    at_208: Decimal | None = None
    at_230: Decimal | None = None
    at_460: Decimal | None = None
    at_575: Decimal | None = None
    confidence: str = ""
    """Empty: as sure as the table."""


class ThreePhase(Record):
    """Three-phase motors, the least first."""

    cite: str
    confidence: str
    rows: tuple[ThreePhaseRow, ...]


class OfCurrent(Record):
    """A percent of the current of the table."""

    cite: str
    confidence: str
    percent: Decimal


class Several(Record):
    """Wire of several motors: percents of the current of the largest, of the others, and of other continuous loads."""

    cite: str
    confidence: str
    largest: Decimal
    others: Decimal
    continuous: Decimal


class DeviceRow(Record):
    """The percent of the table current that one kind of device may have; ``None`` where none is stated."""

    device: str
    percent: Decimal
    """Of single-phase and squirrel-cage motors."""
    wound: Decimal | None = None
    """Of wound-rotor and direct-current motors."""
    efficient: Decimal | None = None
    """Of energy-efficient motors of design B."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Devices(Record):
    """Breakers and fuses before one motor; the next standard size up may be taken."""

    cite: str
    confidence: str
    rows: tuple[DeviceRow, ...]


class WillNotStartRow(Record):
    """The percent that one kind of device may have at most where the motor does not start on the usual one."""

    device: str
    percent: Decimal
    small: Decimal | None = None
    """The most amperes ``percent`` holds for; ``None``: it holds for all."""
    larger: Decimal | None = None
    """The percent above that."""
    confidence: str = ""
    """Empty: as sure as the table."""


class WillNotStart(Record):
    """Devices of motors that do not start on the usual one."""

    cite: str
    confidence: str
    rows: tuple[WillNotStartRow, ...]


class Overload(Record):
    """Overload devices, percent of the nameplate current: ``marked`` of a motor marked with ``service_factor`` or more,
    or with a temperature rise of at most ``rise`` degrees Celsius, ``other`` of any other; at most, where it trips on
    starting, ``..._starting``.
    """

    cite: str
    confidence: str
    service_factor: Decimal
    rise: Decimal
    marked: Decimal
    marked_starting: Decimal
    other: Decimal
    other_starting: Decimal


CURRENT = Table("motors.current", Cited, __file__)
SINGLE_PHASE = Table("motors.single_phase", SinglePhase, __file__, SinglePhaseRow)
THREE_PHASE = Table("motors.three_phase", ThreePhase, __file__, ThreePhaseRow)
WIRE = Table("motors.wire", OfCurrent, __file__)
SEVERAL = Table("motors.several", Several, __file__)
DEVICE = Table("motors.device", Devices, __file__, DeviceRow)
WILL_NOT_START = Table("motors.will_not_start", WillNotStart, __file__, WillNotStartRow)
OVERLOAD = Table("motors.overload", Overload, __file__)
DISCONNECT = Table("motors.disconnect", OfCurrent, __file__)
