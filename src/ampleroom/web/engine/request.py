"""What a question brings with it: the sheet, the edition, the stock file, the limits; each read or refused in words."""

from __future__ import annotations

import base64
from collections import OrderedDict
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any

from ampleroom.check import edition_for
from ampleroom.editions import OFFERED, CodeBook
from ampleroom.errors import AmpleroomError, SheetFaults
from ampleroom.job import Fault, Job, Sheet
from ampleroom.job.again import Reading, read_whole
from ampleroom.remedy import Stock, stock_from_text
from ampleroom.remedy.plan import Limits
from ampleroom.web.bounds import LARGEST_SHEET, USUAL_SHEET

SECONDS = 20.0
"""How long the solver may take, where there is one."""
FILE = "sheet.job"
"""The name of every sheet here: it has none of its own."""


class Question(AmpleroomError):
    """A question the engine cannot answer as it was put."""


def reading_of(text: str) -> Reading:
    """A sheet as read; the last ones are kept: many of a usual size, a few large ones."""
    return readings_of_size(text).get(text) or kept(text, read_whole(sheet_of(text), nothing_beside))


def opened(text: str) -> tuple[Job, tuple[Fault, ...]]:
    """A sheet read, with its faults."""
    reading = reading_of(text)
    return reading.job, reading.faults


def opened_after(before: str, text: str) -> tuple[Job, tuple[Fault, ...]]:
    """A sheet read as it is after a change of one that was opened: of a small change only what is new is read."""
    known = readings_of_size(text).get(text)
    was = readings_of_size(before).get(before)
    if known is None and was is not None:
        known = kept(text, was.again(sheet_of(text), nothing_beside))
    return (known.job, known.faults) if known is not None else opened(text)


def sheet_of(text: str) -> Sheet:
    """A sheet of the page, its line ends as on any system."""
    return Sheet(text.replace("\r\n", "\n"), FILE)


class KeptReadings:
    """The last sheets as they were read, by their text: at most ``most`` of them."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.readings: OrderedDict[str, Reading] = OrderedDict()

    def get(self, text: str) -> Reading | None:
        """The reading of a text, which is then the last one used."""
        reading = self.readings.get(text)
        if reading is not None:
            self.readings.move_to_end(text)
        return reading

    def keep(self, text: str, reading: Reading) -> None:
        """Keep a reading of a text; past ``most`` the one used longest ago goes."""
        self.readings[text] = reading
        while len(self.readings) > self.most:
            self.readings.popitem(last=False)


USUAL_READINGS, LARGE_READINGS = KeptReadings(128), KeptReadings(6)


def readings_of_size(text: str) -> KeptReadings:
    """Where a text of this size is kept; refuses one the page does not take."""
    if len(text) > LARGEST_SHEET:
        raise Question(
            f"the sheet has {len(text)} letters; the page takes up to {LARGEST_SHEET}. Use the command line for it"
        )
    return USUAL_READINGS if len(text) <= USUAL_SHEET else LARGE_READINGS


def kept(text: str, reading: Reading) -> Reading:
    """The same reading, kept now for the next question about its text."""
    readings_of_size(text).keep(text, reading)
    return reading


def nothing_beside(name: str) -> str:
    """Raises ``KeyError``: a sheet of the page has no file beside it to include."""
    raise KeyError(name)


def whole(text: str) -> Job:
    """A sheet of which every line can be read: what is handed on may not leave out what nobody could read."""
    job, faults = opened(text)
    if faults:
        raise SheetFaults(FILE, faults)
    return job


def with_names_of_their_own(job: Job) -> Job:
    """A job no two places of which have one name: what a change is to be made to must be one thing."""
    if twice := job.twice():
        raise Question(f"two places are named {twice[0]}; give one of them another name in the sheet first")
    return job


def text_of(data: dict[str, Any], key: str = "sheet") -> str:
    """The text of a field that must be there; ``checked`` has seen to it."""
    value: str = data[key]
    return value


def edition_of(job: Job, data: dict[str, Any]) -> int:
    """The edition asked for, or the sheet's; a sheet without one is refused, as on the command line."""
    asked = data.get("edition")
    return edition_for(job, None if asked is None else offered_year(asked))


def offered_year(year: int) -> int:
    """The same year. Raises ``AmpleroomError`` for an edition that is not offered."""
    return CodeBook(year).year  # refuses one that is not offered


def offered_editions() -> list[dict[str, Any]]:
    """Every edition offered, the oldest first: year, whether it is provisional, a note."""
    return [
        {"year": year, "provisional": offered.provisional, "note": offered.note} for year, offered in OFFERED.items()
    ]


def solver_of(data: dict[str, Any]) -> bool:
    """Whether the solver may be asked; it is unless somebody says no."""
    return data.get("solver") is not False


def stock_of(data: dict[str, Any]) -> Stock:
    """The question's stock; an empty one where it brings none. Raises ``AmpleroomError`` where it cannot be read."""
    text = data.get("stock") or ""
    return stock_read(text) if text.strip() else Stock()


@lru_cache(maxsize=8)
def stock_read(text: str) -> Stock:
    """A stock file's text, read; the last few are kept as read."""
    return stock_from_text(text)


def limits_of(data: dict[str, Any]) -> Limits:
    """The question's limits of a plan; ``margin`` in in³. Raises ``Question`` where it is no number or out of range."""
    asked = data.get("limits") or {}
    try:
        margin = Decimal(asked.get("margin") or "0")
    except InvalidOperation:
        raise Question("'margin' is not a number; send in3 such as 2.25") from None
    if not margin.is_finite() or not 0 <= margin < 1000:
        raise Question("'margin' must be from 0 to under 1000 in3, such as 2.25")
    return Limits(
        bool(asked.get("no_plaster")),
        bool(asked.get("only_in_stock")),
        asked.get("most_kinds"),
        asked.get("spare") or "",
        margin,
    )


def from_base64(text: Any, key: str) -> bytes:
    """The bytes of a field in base64. Raises ``Question``, which names the field, where it is not that."""
    try:
        return base64.b64decode(text, validate=True)
    except (ValueError, TypeError):
        raise Question(f"{key!r} is not base64") from None
