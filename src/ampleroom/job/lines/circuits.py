"""``circuit``, ``raceway``, ``route``: what a run belongs to, lies in, and goes along."""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import groupby
from typing import Any, Literal

from ampleroom.job.lines.statement import (
    Statement,
    maybe,
    name_of,
    plain,
    trade_size,
    without_number_sign,
    words_joined,
)
from ampleroom.job.model import Circuit, Electrode, Raceway, Route, Serves
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, Words

RACEWAY_KINDS = ("emt", "ent", "fmc", "imc", "lfmc", "lfnc-a", "lfnc-b", "pvc-40", "pvc-80", "rmc")
POWERS: dict[str, Decimal | None] = {"va": Decimal(1), "w": Decimal(1), "kva": Decimal(1000), "kw": Decimal(1000)}


SERVED: dict[str, Serves] = {
    "range": "range",
    "dryer": "dryer",
    "water heater": "water heater",
    "heat": "heat",
    "charger": "charger",
    "dwelling": "dwelling",
    "dishwasher": "dishwasher",
    "oven": "oven",
    "cooktop": "cooktop",
    "microwave": "microwave",
    "sump pump": "sump pump",
}
"""What a circuit may serve that the code has a rule of its own for, as a sheet writes it."""
AMPERES: dict[str, Decimal | None] = {"a": Decimal(1), "amp": Decimal(1), "amps": Decimal(1)}


def read_circuit(words: Words, word: str) -> Circuit:
    """``circuit 3 20 A``: a circuit, its breaker and its load. Raises ``Unreadable``."""
    name = without_number_sign(name_of(words, "circuit"))
    said: dict[str, Any] = {}
    where = words.where()
    while words.more:
        at = words.i
        if words.take(","):
            continue
        if words.take("for"):
            said["label"] = words.text_after()
        elif words.take("continuous"):
            said["continuous"] = True
        elif words.take("on"):
            said["panel"] = words.next("a panel's name")
        elif words.peek() in ("space", "spaces") and (words.peek(1)[:1].isdigit() or words.peek(1) == "?"):
            said["spaces"] = read_spaces(words)
        elif words.take("electrode"):
            said["electrodes"] = read_electrodes(words)
        elif words.take("serves"):
            said["serves"] = read_served(words)
        elif words.take_all("dual", "function") or words.take("dual-function"):
            said["gfci"] = said["afci"] = True
        elif device := words.take("gfci", "afci"):
            said[device] = True
        elif words.peek() == "no" and words.peek(1) in ("gfci", "afci"):
            said[words.peek(1)] = False
            words.i += 2
        elif words.take("mca"):
            said["mca"] = read_amperes(words)
        elif words.take("mocp"):
            said["mocp"] = words.whole(str(read_amperes(words)), words.i - 1)
        elif words.take("motor"):
            said["horsepower"] = read_horsepower(words)
        elif words.take("terminals"):
            degrees = words.joined("c", "°c") or words.next("60 C or 75 C")
            if degrees not in ("60", "75"):
                raise words.wrong("terminals are marked 60 C or 75 C", "write terminals 75 C", at + 1)
            said["terminals"] = int(degrees)
            words.take("c", "°c")
        elif phases := words.take("1-phase", "3-phase"):
            said["phases"] = int(phases[0])
        elif digits := words.joined("a", "amp", "amps"):
            said["amperes"] = words.whole(digits, at)
        elif digits := words.joined("v", "volt", "volts"):
            said["volts"] = words.whole(digits, at)
        elif words.peek(1) in ("a", "amp", "amps"):
            said["amperes"] = UNKNOWN if words.take("?") else words.whole(words.next("the amperes"), at)
            words.i += 1
        elif words.peek(1) in ("v", "volts"):
            said["volts"] = words.whole(words.next("the volts"), at)
            words.i += 1
        elif words.is_amount(POWERS):
            said["load"] = read_power(words)
        else:
            raise words.unknown("word", WORDS_OF_A_CIRCUIT)
    return Circuit(name, at=where, **said)


WORDS_OF_A_CIRCUIT = (
    *("20 A", "240 V", "1500 VA", "continuous", "3-phase", "terminals 75 C", "serves range"),
    *("mca 22 A", "mocp 35 A", "motor 5 hp", "gfci", "no afci", "on", "for", "space 5", "electrode rod #6"),
)
"""What may follow a circuit's name, one example of each."""


SPACE = re.compile(r"([1-9]\d{0,2})([ab]?)")
"""A space of a panel by its number; ``7a``, ``7b``: the halves of a tandem breaker."""
BETWEEN_SPACES = (",", "and", "&")
MOST_SPACES = 200
"""Spaces a panel may have."""


def read_spaces(words: Words) -> Maybe[tuple[str, ...]]:
    """``space 5``, ``spaces 5,7``, ``space 7a``: where a breaker sits. Raises ``Unreadable``."""
    words.take("space", "spaces")
    if words.take("?"):
        return UNKNOWN
    spaces: list[str] = []
    while True:
        at = words.i
        words.i += 1
        for part in re.split(r"[+/&]", words.low[at]):
            if SPACE.fullmatch(part) is None or int(part.rstrip("ab")) > MOST_SPACES:
                raise words.wrong(f"{part!r} is not a space", "write its number, or 7a for half a tandem", at)
            if part in spaces:
                raise words.wrong(f"space {part} is written twice", "keep one of them", at)
            spaces.append(part)
        goes_on = words.peek() in BETWEEN_SPACES and SPACE.fullmatch(words.peek(1)) is not None
        if not goes_on or words.peek(2) in UNITS_OF_A_CIRCUIT:
            return tuple(spaces)
        words.i += 1


UNITS_OF_A_CIRCUIT = (*AMPERES, *POWERS, "v", "volt", "volts")
"""After a number: it is no space."""


def spaces_text(circuit: Circuit) -> str:
    """``5``, ``5,7``, ``?``: the spaces of a circuit, as a sheet has them."""
    return "?" if circuit.spaces is UNKNOWN else ",".join(circuit.spaces)


ELECTRODES = ("rod", "pipe", "plate", "concrete", "ring", "water", "steel")
"""Grounding electrodes, as a sheet writes them: encased in concrete, a ring in the earth, a metal water pipe, the steel
of the building."""


def read_electrodes(words: Words) -> tuple[Electrode, ...]:
    """``rod #6, concrete #4`` after ``electrode``. Raises ``Unreadable``."""
    electrodes: list[Electrode] = []
    while True:
        at = words.i
        kind = words.take(*ELECTRODES)
        if not kind:
            raise words.unknown("grounding electrode", ELECTRODES)
        size = words.size("the size of its conductor such as #6")
        is_aluminum = bool(words.take("aluminum", "al"))
        words.take("copper", "cu")
        electrodes.append(Electrode(kind, size, "aluminum" if is_aluminum else "copper", words.where(at)))
        start = words.i
        if not (words.take(",", "and") and words.peek() in ELECTRODES):
            words.i = start
            return tuple(electrodes)


def electrodes_text(circuit: Circuit) -> str:
    """``rod #6, concrete #4``: the electrodes of a service, as a sheet has them."""
    return ", ".join(
        words_joined(each.kind, f"#{maybe(each.size)}", "aluminum" if each.material == "aluminum" else "")
        for each in circuit.electrodes
    )


def read_served(words: Words) -> Serves:
    """``water heater`` after ``serves``. Raises ``Unreadable``."""
    for phrase, served in SERVED.items():
        if words.take_all(*phrase.split()):
            return served
    raise words.unknown("thing served", SERVED)


def read_amperes(words: Words) -> Decimal:
    """``22.4 A`` of a nameplate. Raises ``Unreadable``."""
    at = words.i
    known, _ = words.amount(AMPERES, "amperes such as 22 A")
    if known is UNKNOWN:
        raise words.wrong("what a nameplate says cannot be ?", "read it there, or leave it out", at)
    return words.positive(known, at)


def read_horsepower(words: Words) -> str:
    """``5 hp``, ``1/2 hp``, as a motor's nameplate has it. Raises ``Unreadable``."""
    at = words.i
    known, _ = words.amount({"hp": Decimal(1)}, "horsepower such as 5 hp")
    if known is UNKNOWN:
        raise words.wrong("the horsepower cannot be ?", "read it on the nameplate, or leave the motor out", at)
    whole, part = divmod(words.positive(known, at), 1)
    if not part:
        return str(int(whole))
    top, bottom = part.as_integer_ratio()
    return f"{int(whole)}-{top}/{bottom}" if whole else f"{top}/{bottom}"


def read_power(words: Words) -> Maybe[Decimal]:
    """A load such as ``1500 VA`` or ``9.6 kW``, in VA. Raises ``Unreadable``."""
    at = words.i
    known, unit = words.amount(POWERS, "a load such as 1500 VA")
    if known is UNKNOWN:
        return UNKNOWN
    return words.positive(known * (POWERS[unit] or 1), at)


def write_circuit(circuit: Circuit) -> str:
    """A circuit in the plain form."""
    return words_joined(
        "circuit",
        circuit.name,
        maybe(circuit.amperes, "A") if circuit.amperes is not None else "",
        f"{circuit.volts} V" if circuit.volts else "",
        f"{circuit.phases}-phase" if circuit.phases else "",
        maybe(circuit.load, "VA") if circuit.load is not None else "",
        "continuous" if circuit.continuous else "",
        f"serves {circuit.serves}" if circuit.serves else "",
        f"motor {circuit.horsepower} hp" if circuit.horsepower else "",
        f"mca {plain(circuit.mca)} A" if circuit.mca is not None else "",
        f"mocp {circuit.mocp} A" if circuit.mocp is not None else "",
        f"terminals {circuit.terminals} C" if circuit.terminals else "",
        protection_text(circuit, "gfci"),
        protection_text(circuit, "afci"),
        f"electrode {electrodes_text(circuit)}" if circuit.electrodes else "",
        f"on {circuit.panel}" if circuit.panel else "",
        f"space{'s' if ',' in spaces_text(circuit) else ''} {spaces_text(circuit)}" if circuit.spaces else "",
        f"for {circuit.label}" if circuit.label else "",
    )


def protection_text(circuit: Circuit, device: Literal["gfci", "afci"]) -> str:
    """``gfci``, ``no gfci``; empty where nobody wrote it."""
    there = circuit.gfci if device == "gfci" else circuit.afci
    return "" if there is None else device if there else f"no {device}"


def read_raceway(words: Words, word: str) -> Raceway:
    """``raceway R1 P > J9 emt 1 62 ft``: a raceway between two places, its length in feet. Raises ``Unreadable``."""
    name = name_of(words, "raceway")
    first = name_of(words, "place")
    if not words.take(">"):
        raise words.no_other_end()
    ends = (first, name_of(words, "place"))
    kind = words.take(*RACEWAY_KINDS)
    if not kind:
        raise words.unknown("kind of raceway", RACEWAY_KINDS)
    size = trade_size(words)
    length: Maybe[Decimal] | None = None
    bends: list[int] = []
    is_sleeve = is_underground = False
    while words.more:
        at = words.i
        if words.take(","):
            continue
        if words.is_amount(LENGTHS) or words.peek() == "?":
            length = words.feet()
        elif words.take("sleeve"):
            is_sleeve = True
        elif words.take("underground"):
            is_underground = True
        elif words.peek().isdigit() and words.peek(1) in ("bend", "bends"):
            how_many = words.whole(words.peek(), at, 20)
            words.i += 2
            degrees = words.whole(words.next("the angle of each bend such as 90"), words.i - 1, 90)
            bends += [degrees] * how_many
        else:
            raise words.unknown("word", ["62 ft", "3 bends 90", "sleeve", "underground"])
    return Raceway(name, ends, kind, size, length, tuple(bends), is_sleeve, is_underground, words.where())


def write_raceway(raceway: Raceway) -> str:
    """A raceway in the plain form."""
    length = maybe(raceway.length, "ft") if raceway.length is not None else ""
    ends = " > ".join(raceway.ends)
    return words_joined(
        "raceway",
        raceway.name,
        ends,
        raceway.kind,
        maybe(raceway.size),
        length,
        bends_text(raceway.bends),
        "sleeve" if raceway.sleeve else "",
        "underground" if raceway.underground else "",
    )


def bends_text(bends: tuple[int, ...]) -> str:
    """Bends in the order in which they lie, those alike that follow one another together."""
    return " ".join(f"{len(list(alike))} bends {degrees}" for degrees, alike in groupby(bends))


TEMPERATURES: dict[str, Decimal | None] = {"c": None, "f": None, "°c": None, "°f": None}


def read_route(words: Words, word: str) -> Route:
    """``route attic 24 ft ambient 110 F``: a route, its length in feet, its ambient in degrees C. Raises
    ``Unreadable``.
    """
    name = name_of(words, "route")
    length = ambient = rooftop = spaced = None
    in_insulation = sealed = False
    description = ""
    where = words.where()
    while words.more:
        if words.take(","):
            continue
        if words.take("at"):
            description = words.text_after()
        elif words.take("ambient"):
            ambient = read_temperature(words)
        elif words.take("rooftop"):
            known = words.inches("a height above the roof such as 4 in")
            rooftop = None if known is UNKNOWN else known
        elif words.take_all("in", "insulation"):
            in_insulation = True
        elif words.take("sealed"):
            sealed = True
        elif word_of_spacing := words.take("spaced", "bundled"):
            spaced = word_of_spacing == "spaced"
        elif words.is_amount(LENGTHS):
            known = words.feet()
            length = None if known is UNKNOWN else known
        else:
            raise words.unknown("word", WORDS_OF_A_ROUTE)
    return Route(name, length, ambient, in_insulation, sealed, rooftop, spaced, description, where)


WORDS_OF_A_ROUTE = ("ambient 110 F", "in insulation", "sealed", "spaced", "bundled", "rooftop 4 in", "24 ft", "at")
"""What may follow a route's name, one example of each."""


def read_temperature(words: Words) -> Decimal | None:
    """Degrees C; written in C or F."""
    if is_below_zero := words.peek().startswith("-"):
        words.low[words.i] = words.peek()[1:]
    known, unit = words.amount(TEMPERATURES, "a temperature such as 110 F")
    if known is UNKNOWN:
        return None
    if is_below_zero:
        known = -known
    if unit.endswith("f"):
        return ((known - 32) * 5 / 9).quantize(Decimal("0.0001")).normalize() + 0
    return known


def write_route(route: Route) -> str:
    """A route in the plain form."""
    return words_joined(
        "route",
        route.name,
        f"{plain(route.length)} ft" if route.length is not None else "",
        f"ambient {plain(route.ambient)} C" if route.ambient is not None else "",
        "in insulation" if route.in_insulation else "",
        "sealed" if route.sealed else "",
        f"rooftop {plain(route.rooftop)} in" if route.rooftop is not None else "",
        "" if route.spaced is None else "spaced" if route.spaced else "bundled",
        f"at {route.description}" if route.description else "",
    )


STATEMENTS = (
    Statement(
        ("circuit",),
        Circuit,
        read_circuit,
        write_circuit,
        "circuit 3 20 A 1500 VA continuous for wheel bench",
        "a circuit, its breaker and its load",
    ),
    Statement(
        ("raceway",),
        Raceway,
        read_raceway,
        write_raceway,
        "raceway R1 P > J9 emt 1 62 ft 3 bends 90",
        "a raceway between two places",
    ),
    Statement(
        ("route",),
        Route,
        read_route,
        write_route,
        "route attic 24 ft ambient 110 F in insulation",
        "a stretch of building that runs go along: run ... by attic",
    ),
)
