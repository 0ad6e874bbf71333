"""What ``rule ground-fault`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import GROUND_FAULT
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("gfci", "gfi", "ground fault", "kitchen", "bathroom", "garage", "outdoors", "sink")


def rooms(book: CodeBook) -> str:
    """Which receptacles, in which rooms, and how near to a sink."""
    terms = book[GROUND_FAULT]
    ratings = f"{' and '.join(map(str, terms.amperes))} A" if terms.amperes else "any rating"
    every = ", ".join(row.room for row in terms.rows if row.receptacles == "all")
    counters = ", ".join(row.room for row in terms.rows if row.receptacles == "counter")
    of_counters = f"; for the counter: {counters}" if counters else ""
    but = f", but not in: {', '.join(terms.but_near_sinks)}" if terms.but_near_sinks else ""
    what = "a sink, a tub or a shower" if terms.near_tubs else "a sink"
    lights = f" Lights too in: {', '.join(terms.outlets_in)}." if terms.outlets_in else ""
    return (
        f"Receptacles up to {count(terms.volts)} V, {ratings}, one phase, in: {every}{of_counters}. Also within "
        f"{count(terms.feet)} ft of {what}{but}.{lights}"
    )


SENTENCES = (Sentence((GROUND_FAULT,), rooms),)
