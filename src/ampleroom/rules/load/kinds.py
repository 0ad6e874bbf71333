"""What a load is by the words a sheet has for it. Common practice, no source."""

from __future__ import annotations

import re
from functools import lru_cache

from ampleroom.job.model import Circuit
from ampleroom.job.trade import TWO_HOTS, USUAL_VOLTS
from ampleroom.record import Record


class LoadKind(Record):
    """One kind of load: by which paragraph it counts, and whether it has a motor or takes the neutral."""

    name: str
    counts_as: str
    """``cooking``, ``dryer``, ``charger``, ``heat``, ``storage heat``, ``cooling``, ``heat pump``, ``fixed``: fastened
    in place; ``other``: in full.
    """
    has_motor: bool = False
    volts: int = USUAL_VOLTS
    """Of one whose volts are not written; at the lowest usual voltage it is on the neutral."""


COOKING = {name: LoadKind(name, "cooking", volts=TWO_HOTS) for name in ("range", "oven", "cooktop")}
NAMED = {
    "dryer": LoadKind("dryer", "dryer", volts=TWO_HOTS),
    "charger": LoadKind("charger", "charger", volts=TWO_HOTS),
    "heat": LoadKind("heat", "heat", volts=TWO_HOTS),
    "storage heat": LoadKind("storage heat", "storage heat", volts=TWO_HOTS),
    "ac": LoadKind("ac", "cooling", has_motor=True, volts=TWO_HOTS),
    "heat pump": LoadKind("heat pump", "heat pump", has_motor=True, volts=TWO_HOTS),
    "water heater": LoadKind("water heater", "fixed", volts=TWO_HOTS),
    "dishwasher": LoadKind("dishwasher", "fixed"),
    "disposer": LoadKind("disposer", "fixed", has_motor=True),
    "compactor": LoadKind("compactor", "fixed", has_motor=True),
    "microwave": LoadKind("microwave", "fixed"),
    "pump": LoadKind("pump", "fixed", has_motor=True),
    "fan": LoadKind("fan", "fixed", has_motor=True),
    "blower": LoadKind("blower", "fixed", has_motor=True),
    "appliance": LoadKind("appliance", "fixed"),
    **COOKING,
}
"""Every kind by the name answers have for it."""
ALSO = {
    "stove": "range",
    "wall oven": "oven",
    "counter unit": "cooktop",
    "clothes dryer": "dryer",
    "car charger": "charger",
    "ev charger": "charger",
    "evse": "charger",
    "baseboard": "heat",
    "baseboards": "heat",
    "electric heat": "heat",
    "space heat": "heat",
    "furnace": "heat",
    "thermal storage": "storage heat",
    "air conditioner": "ac",
    "air conditioning": "ac",
    "a/c": "ac",
    "cooling": "ac",
    "disposal": "disposer",
    "garbage disposal": "disposer",
    "trash compactor": "compactor",
    "sump pump": "pump",
    "well pump": "pump",
    "attic fan": "fan",
    "attic fans": "fan",
    "exhaust fan": "fan",
    "hot water heater": "water heater",
}
"""Other names of the same."""
GENERAL = frozenset(
    [
        "light",
        "lights",
        "lighting",
        "receptacle",
        "receptacles",
        "outlet",
        "outlets",
        "plug",
        "plugs",
        "bedroom",
        "bedrooms",
        "bath",
        "closet",
        "dining",
        "entry",
        "foyer",
        "garage",
        "hallway",
        "living",
        "porch",
        "room",
        "rooms",
        "stairs",
        "hall",
        "kitchen",
        "counter",
        "counters",
        "bathroom",
        "laundry",
        "office",
        "den",
        "small-appliance",
    ]
)
"""Words of a circuit's label by which it is one of those the floor area or the circuits by number stand for."""
LARGE = (("heat", "heat pump", "storage heat"), ("cooling", "heat pump"), ("cooking",), ("dryer",), ("water heater",))
"""What most houses have and whoever types a sheet may forget: each by what it counts as, or by its name."""
BESIDE_ROOMS = frozenset(
    [
        "and",
        "the",
        "of",
        "at",
        "in",
        "for",
        "up",
        "upstairs",
        "down",
        "downstairs",
        "left",
        "right",
        "front",
        "back",
        "north",
        "south",
        "east",
        "west",
        "first",
        "second",
        "old",
        "new",
        "house",
        "small",
        "large",
        "main",
    ]
)
"""Words of a label that say where, and nothing of what is fed."""
OTHER = "other"


@lru_cache(maxsize=1024)
def kind_named(text: str) -> LoadKind:
    """The kind a load is by its own words; what no kind is named like counts in full."""
    low = " ".join(text.lower().split())
    name = ALSO.get(low, low)
    if name not in NAMED and name.endswith("s"):
        name = ALSO.get(name[:-1], name[:-1])
    return NAMED.get(name) or LoadKind(low, OTHER)


def kind_of_circuit(circuit: Circuit) -> LoadKind | None:
    """The kind of load a circuit says it is, by what it serves or by how its label ends (``kitchen range``); None where
    neither says it.
    """
    return kind_at_the_end(circuit.serves or circuit.label)


@lru_cache(maxsize=1024)
def kind_at_the_end(label: str) -> LoadKind | None:
    """The kind a label ends with: every case of an unknown fact asks for those of all circuits again."""
    words = label.split()
    kinds = (kind_named(" ".join(words[first:])) for first in range(len(words)))
    return next((kind for kind in kinds if kind.counts_as != OTHER), None)


def is_general(circuit: Circuit) -> bool:
    """Whether a circuit is for lights and receptacles alone: by its label, every word of it, or as it says nothing."""
    is_told = bool(circuit.label) or circuit.load is None
    return is_told and (circuit.volts or USUAL_VOLTS) <= USUAL_VOLTS and names_rooms_alone(circuit.label)


@lru_cache(maxsize=1024)
def names_rooms_alone(label: str) -> bool:
    """Whether every word of a label is a room, lights or receptacles, or says where."""
    return GENERAL.issuperset(word for word in re.findall(r"[a-z-]+", label.lower()) if word not in BESIDE_ROOMS)


__all__ = ["LoadKind", "is_general", "kind_named", "kind_of_circuit"]
