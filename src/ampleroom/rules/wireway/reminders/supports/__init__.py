"""Where a wireway or gutter is held."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import Wireway
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.registry import rule
from ampleroom.rules.wireway.filled import FilledWireway
from ampleroom.worksheet import Reminder

NAME = "wireway-supports"


class WirewaySupport(Record):
    """Feet between supports of a level run; of longer lengths, or such as are listed so; of an upright run."""

    cite: str
    confidence: str
    level: Decimal
    longer: Decimal
    upright: Decimal


class GutterSupport(Record):
    """Feet between supports of a gutter."""

    cite: str
    confidence: str
    level: Decimal


WIREWAY = Table("wireways.support", WirewaySupport, __file__)
GUTTER = Table("wireways.gutter_support", GutterSupport, __file__)


@rule(NAME, title="Supports of a wireway", topic="reminder", about="wireway", tables=(WIREWAY, GUTTER))
def wireway_supports(filled: FilledWireway, book: CodeBook) -> Iterator[Reminder]:
    """A level wireway is fastened at its ends and every 5 ft; up to every 10 ft where one length is longer or it is
    listed so. An upright one is fastened every 15 ft, with no more than one joint from support to support. A gutter is
    fastened every 5 ft.

    Why: A trough that sags opens at its joints, and its cover no longer closes.
    """
    wireway = filled.wireway
    if wireway.nonmetallic:
        return
    if filled.is_gutter:
        gutter = book[GUTTER]
        text = f"Support it every {count(gutter.level)} ft{supports_text(wireway, gutter.level)}."
        yield Reminder(NAME, text, gutter.cite, confidence=gutter.confidence)
        return
    terms = book[WIREWAY]
    text = (
        f"Support it at its ends and every {count(terms.level)} ft where it is level"
        f"{supports_text(wireway, terms.level)}; up to every {count(terms.longer)} ft "
        f"where one length is longer or it is listed so. Upright, every {count(terms.upright)} ft."
    )
    yield Reminder(NAME, text, terms.cite, confidence=terms.confidence)


def supports_text(wireway: Wireway, every: Decimal) -> str:
    """``: at least 3 for 8 ft``; empty where its length is not known."""
    if wireway.length is None or wireway.length is UNKNOWN or not every:
        return ""
    return f": at least {supports(wireway.length, every)} for {count(wireway.length)} ft"


def supports(length: Decimal, every: Decimal) -> int:
    """How many supports a level trough takes at the least, one at each end; both in feet."""
    return int((length / every).to_integral_value(ROUND_CEILING)) + 1
