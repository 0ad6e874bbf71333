"""What ``rule box-fill-devices`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.box.fill.devices import DEVICES
from ampleroom.rules.page import Sentence, allowances, capital, words

TRADE_WORDS = (
    "device",
    "yoke",
    "strap",
    "switch",
    "receptacle",
    "outlet",
    "dimmer",
    "gfci",
    "gfi",
    "blank plate",
    "gang",
    "pigtail",
    "box fill",
)


def devices(book: CodeBook) -> str:
    """The allowances of a yoke, and of a device wider than one gang."""
    terms = book[DEVICES]
    each, width = allowances(terms.per_yoke), inches(terms.single_gang_in)
    return (
        f"{capital(each)} for each yoke. A device wider than {width} takes {each} for each gang it needs; one that "
        "wide but "
        f"mounted in a single gang counts as {words(terms.wide_gangs)} gangs by default (disputed: wide-device)."
    )


SENTENCES = (Sentence((DEVICES,), devices),)
