"""Lines that say what is in a box besides the runs: clamps, devices, fittings, fixture wires, pigtails, blocks."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from ampleroom.job.lines.box_base import read_standard
from ampleroom.job.lines.standard_boxes import GANG, is_box_size
from ampleroom.job.lines.statement import Statement, maybe, plain, times, words_joined
from ampleroom.job.lines.wires import read_wires, write_wires
from ampleroom.job.model import (
    Apart,
    Base,
    BondingJumper,
    Carries,
    Clamps,
    Device,
    DistributionBlock,
    Entry,
    Fitting,
    FixtureWires,
    Leads,
    Module,
    Pigtails,
    Rated,
    TerminalBlock,
    Uncounted,
)
from ampleroom.job.trade import DEVICE_KINDS, DEVICES
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, VOLUMES, Words

CLAMP_WAYS = ("inside", "outside", "none", "tabs", "push-in", "assembly")


def read_clamps(words: Words, word: str) -> Clamps:
    """``clamps inside``: where cables are held. Raises ``Unreadable``."""
    if words.take("?"):
        return Clamps(UNKNOWN, at=words.where())
    way = words.take(*CLAMP_WAYS)
    if not way:
        raise words.unknown("place for the clamps", [*CLAMP_WAYS, "?"])
    volume = Decimal(0)
    if way == "assembly":
        known = words.body("the volume left inside such as 0.8 in3")
        if known is UNKNOWN:
            raise words.wrong("an assembly needs its volume", "copy it from the instructions: clamps assembly 0.8 in3")
        volume = known
    return Clamps(way, volume, words.where())


def write_clamps(clamps: Clamps) -> str:
    """Clamps in the plain form."""
    return words_joined("clamps", maybe(clamps.way), f"{plain(clamps.volume)} in3" if clamps.way == "assembly" else "")


def read_fitting(words: Words, word: str, count: int = 1) -> Fitting:
    """``stud`` or ``hickey``, counted. Raises ``Unreadable``."""
    if words.peek().isdigit():
        count = words.whole(words.peek(), words.i, 20)
        words.i += 1
    kind = "hickey" if word.startswith("hick") else "stud"
    return Fitting(kind, count, words.where())  # type: ignore[arg-type]


def write_fitting(fitting: Fitting) -> str:
    """A stud or hickey in the plain form."""
    return times(fitting.count) + fitting.kind


# ---- devices -------------------------------------------------------------------------------------------------------


DEVICE_OPTIONS = {
    "#12": "#12",
    "2-gang wide": "2-gang wide",
    "wide": "2.1 in wide",
    "projects": "projects 1-3/4 in",
    "pigtail": "pigtail #14",
    "leads": "leads 2 x #14",
    "a": "20 A",
    "v": "120 V",
    "for": "for LABEL",
}
"""Words that may follow a device, and how each is written."""


def read_device(words: Words, word: str, count: int = 1) -> Device | Base | Uncounted:
    """A device, two on one yoke joined by ``+``, and what follows in any order; or a device box by its size; or a
    blank cover, which is no device."""
    if word == "blank" and words.peek() in UNCOUNTED["blank"][1]:
        return read_uncounted(words, word, count)
    if word == "device" and is_box_size(words):
        return read_standard(words, word)
    words.i -= 1
    names = [read_device_name(words)]
    if words.take("+"):
        names.append(read_device_name(words))
    size: Maybe[str] = UNKNOWN
    gangs: Maybe[int] = 0
    width: Maybe[Decimal] | None = None
    projects: Maybe[Decimal] | None = None
    pigtail, leads, amperes, volts, label = "", None, None, None, ""
    while words.more:
        at = words.i
        if words.take(",", "on"):
            continue
        if words.take("for"):
            label = words.text_after()
        elif words.take("pigtail"):
            pigtail = str(_known_size(words))
        elif words.take("leads"):
            leads = (words.known_count(), str(_known_size(words)))
        elif words.take("projects"):
            projects = words.inches()
            words.take("deep")
        elif (gang := GANG.fullmatch(words.peek())) is not None:
            words.i += 1
            gangs = words.whole(gang[1], at, 6)
            words.take("wide")
        elif words.take("?-gang"):
            gangs = UNKNOWN
            words.take("wide")
        elif digits := words.joined("a", "amp", "amps"):
            amperes = words.whole(digits, at, 200)
        elif digits := words.joined("v", "volt", "volts"):
            volts = words.whole(digits, at, 1000)
        elif words.peek().isdigit() and words.peek(1) in ("a", "amp", "amps"):
            amperes = words.whole(words.peek(), at, 200)
            words.i += 2
        elif words.peek().isdigit() and words.peek(1) in ("v", "volts"):
            volts = words.whole(words.peek(), at, 1000)
            words.i += 2
        elif words.is_amount(LENGTHS) or (words.peek() == "?" and words.peek(1) == "in"):
            width = words.inches()
            if not words.take("wide"):
                raise words.wrong(
                    "is this how wide the device is, or how far back it goes?",
                    "write 2.1 in wide, or projects 1-3/4 in",
                    at,
                )
        else:
            size = words.size("a conductor size such as #12") if _is_size(words) else _refuse(words)
    if not gangs:
        gangs = UNKNOWN if may_be_wide(names, amperes) and (width is None or width is UNKNOWN) else 1
    return Device(
        tuple(names), size, count, gangs, width, projects, pigtail, leads, amperes, volts, label, words.where()
    )


WIDE_AMPERES = 30
"""From so many amperes on a receptacle comes in bodies for one gang and for two; common practice, no source."""


def may_be_wide(names: Sequence[str], amperes: int | None) -> bool:
    """Whether a device comes for one gang and for two, so that its width has to be written: ranges', dryers', 30 A and
    up.
    """
    words = [name.split() for name in names]
    return any(
        "range" in name or "dryer" in name or (name[-1] in ("receptacle", "outlet") and (amperes or 0) >= WIDE_AMPERES)
        for name in words
    )


def read_device_name(words: Words) -> str:
    """One name of a device, its kinds before its word: ``3-way switch``. Raises ``Unreadable``."""
    name = []
    while words.peek() in DEVICE_KINDS or words.peek() in DEVICES:
        name.append(words.peek())
        words.i += 1
    if not name:
        raise words.unknown("device", [*DEVICES, *DEVICE_KINDS])
    if name[-1] not in DEVICES:
        raise words.unknown(f"device after {' '.join(name)!r}", DEVICES)
    return " ".join(name)


def _is_size(words: Words) -> bool:
    from ampleroom.job.words import size_word

    return words.peek().startswith("#") or size_word(words.peek()) != ""


def _refuse(words: Words) -> Maybe[str]:
    if words.peek().isdigit():
        return words.size()
    raise words.unknown("word after the device", DEVICE_OPTIONS)


def _known_size(words: Words) -> str:
    size = words.size()
    if size is UNKNOWN:
        raise words.wrong("the size cannot be ? here", "write one such as #14")
    return size


def write_device(device: Device) -> str:
    """A device in the plain form."""
    has_width = device.width is not None and device.width is not UNKNOWN
    unwritten_is_unknown = may_be_wide(device.names, device.amperes) and not has_width
    return words_joined(
        times(device.count) + " + ".join(device.names),
        f"#{maybe(device.size)}",
        "" if device.gangs == 1 and not unwritten_is_unknown else f"{maybe(device.gangs)}-gang wide",
        f"{maybe(device.width, 'in')} wide" if device.width is not None else "",
        f"projects {maybe(device.projects, 'in')}" if device.projects is not None else "",
        f"pigtail #{device.pigtail}" if device.pigtail else "",
        f"leads {device.leads[0]} x #{device.leads[1]}" if device.leads else "",
        f"{device.amperes} A" if device.amperes else "",
        f"{device.volts} V" if device.volts else "",
        f"for {device.label}" if device.label else "",
    )


# ---- the rest ------------------------------------------------------------------------------------------------------


def read_module(words: Words, word: str, count: int = 1) -> Module:
    """``module #12 2.1 in3``: a control module with no yoke. Raises ``Unreadable``."""
    size: Maybe[str] = UNKNOWN
    volume = None
    label = ""
    while words.more:
        if words.take(",", "on"):
            continue
        if words.take("for"):
            label = words.text_after()
        elif words.is_amount(VOLUMES):
            known = words.body()
            volume = None if known is UNKNOWN else known
        else:
            size = words.size()
    return Module(size, volume, count, label, words.where())


def write_module(module: Module) -> str:
    """A control module in the plain form."""
    volume = f"{plain(module.volume)} in3" if module.volume is not None else ""
    label = f"for {module.label}" if module.label else ""
    return words_joined(times(module.count) + "module", f"#{maybe(module.size)}", volume, label)


def read_block(words: Words, word: str, count: int = 1) -> TerminalBlock:
    """``terminal block #10``. Raises ``Unreadable``."""
    if not words.take("block", "blocks", "strip"):
        raise words.unknown("word after 'terminal'", ["block"])
    return TerminalBlock(words.size() if words.more else UNKNOWN, count, words.where())


def write_block(block: TerminalBlock) -> str:
    """A terminal block in the plain form."""
    return f"{times(block.count)}terminal block #{maybe(block.size)}"


def read_distribution_block(words: Words, word: str, count: int = 1) -> DistributionBlock:
    """``power distribution block smallest 12 x 12 x 4 in terminals 6 in``. Raises ``Unreadable``."""
    if word == "power" and not words.take("distribution"):
        raise words.unknown("word after 'power'", ["distribution"])
    if not words.take("block", "blocks"):
        raise words.unknown("word after 'distribution'", ["block"])
    smallest: tuple[Decimal, ...] = ()
    clear: Decimal | None = None
    while words.more:
        if words.take(","):
            continue
        if words.take("smallest"):
            words.take("box")
            smallest = read_smallest(words)
        elif words.take("terminals"):
            known = words.inches("how far it is from its terminals to the wall they face, such as 6 in")
            clear = None if known is UNKNOWN else known
        else:
            raise words.unknown("word after the block", ["smallest 12 x 12 x 4 in", "terminals 6 in"])
    return DistributionBlock(smallest, clear, count, words.where())


def read_smallest(words: Words) -> tuple[Decimal, ...]:
    """The smallest box by a block's instructions, inches; empty for ``?``. Raises ``Unreadable``."""
    if words.take("?"):
        return ()
    sizes, at = words.dimensions("the smallest box its instructions name, such as 12 x 12 x 4 in")
    words.take(*LENGTHS)
    known = tuple([size for size in sizes if size is not UNKNOWN])
    if len(known) != len(SMALLEST) or len(sizes) != len(SMALLEST):
        raise words.wrong("a box has three measures", "write: smallest 12 x 12 x 4 in, or: smallest ?", at)
    return known


SMALLEST = ("length", "width", "depth")


def write_distribution_block(block: DistributionBlock) -> str:
    """A power distribution block in the plain form."""
    return words_joined(
        f"{times(block.count)}power distribution block",
        f"smallest {' x '.join(plain(side) for side in block.smallest)} in" if block.smallest else "",
        f"terminals {plain(block.clear)} in" if block.clear is not None else "",
    )


def read_fixture_wires(words: Words, word: str) -> FixtureWires:
    """``fixture wires 2 x #16 from domed canopy``. Raises ``Unreadable``."""
    if not words.take("wires", "wire"):
        raise words.unknown("word after 'fixture'", ["wires"])
    wires = read_wires(words)
    canopy: Maybe[str] = ""
    if words.take("from"):
        canopy = words.take("domed", "flat") or (UNKNOWN if words.take("?") else "")
        if not words.take("canopy"):
            raise words.unknown("canopy", ["domed canopy", "flat canopy", "? canopy"])
    return FixtureWires(wires, canopy, words.where())  # type: ignore[arg-type]


def write_fixture_wires(fixture: FixtureWires) -> str:
    """Fixture wires in the plain form."""
    canopy = f"from {maybe(fixture.canopy)} canopy" if fixture.canopy else ""
    return words_joined("fixture wires", write_wires(fixture.wires), canopy)


def read_leads(words: Words, word: str) -> Leads:
    """``leads 3 x #16 for room control``. Raises ``Unreadable``."""
    wires = read_wires(words)
    label = words.text_after() if words.take("for") else ""
    return Leads(wires, label, words.where())


def write_leads(leads: Leads) -> str:
    """Leads in the plain form."""
    return words_joined("leads", write_wires(leads.wires), f"for {leads.label}" if leads.label else "")


def read_pigtails(words: Words, word: str, count: int = 1) -> Pigtails:
    """``3 x pigtail #12``. Raises ``Unreadable``."""
    here = words.known_count()
    size = _known_size(words)
    ground = bool(words.take("ground", "grounds"))
    return Pigtails(here if here != 1 else count, size, ground, words.where())


def write_pigtails(pigtails: Pigtails) -> str:
    """Pigtails in the plain form."""
    return f"{times(pigtails.count)}pigtail #{pigtails.size}{' ground' if pigtails.ground else ''}"


def read_jumper(words: Words, word: str, count: int = 1) -> BondingJumper:
    """``bonding jumper #8``. Raises ``Unreadable``."""
    if not words.take("jumper", "jumpers"):
        raise words.unknown("word after 'bonding'", ["jumper"])
    return BondingJumper(words.size(), count, words.where())


def write_jumper(jumper: BondingJumper) -> str:
    """A bonding jumper in the plain form."""
    return f"{times(jumper.count)}bonding jumper #{maybe(jumper.size)}"


UNCOUNTED = {
    "wire": ("wire connectors", ("connectors", "connector")),
    "ground": ("ground screw", ("screw", "screws", "clip", "clips")),
    "blank": ("blank cover", ("cover", "covers", "plate", "plates")),
}


def read_uncounted(words: Words, word: str, count: int = 1) -> Uncounted:
    """``wire connectors``, ``ground screw``, ``blank cover``: kept, and counted for nothing."""
    kind, second = UNCOUNTED[word]
    if not words.take(*second):
        raise words.unknown(f"word after {word!r}", second[:1])
    return Uncounted(kind, count, words.where())  # type: ignore[arg-type]


def write_uncounted(uncounted: Uncounted) -> str:
    """What takes no room, in the plain form."""
    return times(uncounted.count) + uncounted.kind


def _pounds(words: Words) -> Decimal | None:
    if not words.more:
        return None
    known, _ = words.amount({"lb": None, "lbs": None, "pounds": None, "lb.": None}, "a weight such as 35 lb")
    return None if known is UNKNOWN else known


def read_carries(words: Words, word: str) -> Carries:
    """``carries luminaire 12 lb``: what hangs on the box, in pounds. Raises ``Unreadable``."""
    carried = words.take("luminaire", "fan", "equipment")
    if not carried:
        raise words.unknown("load", ["luminaire", "fan", "equipment"])
    return Carries(carried, _pounds(words), words.where())  # type: ignore[arg-type]


def read_rated(words: Words, word: str) -> Rated:
    """``rated fan 70 lb``: what the box is listed to carry, in pounds. Raises ``Unreadable``."""
    carried = words.take("luminaire", "fan")
    if not carried:
        raise words.unknown("rating", ["luminaire", "fan"])
    return Rated(carried, _pounds(words), words.where())  # type: ignore[arg-type]


def write_weight(record: Carries | Rated) -> str:
    """What hangs on a box or what it is rated for, in the plain form."""
    word = "carries" if isinstance(record, Carries) else "rated"
    return words_joined(word, record.kind, f"{plain(record.pounds)} lb" if record.pounds is not None else "")


WALLS = ("left", "right", "top", "bottom", "rear")


def read_entry(words: Words, word: str) -> Entry:
    """``entry R1 left row 2``, ``entry rear center``: where a raceway or wiring enters. Raises ``Unreadable``."""
    if words.take("rear"):
        words.take("center", "centre")
        return Entry("rear", at=words.where())
    if words.take("side"):
        return read_side_entry(words)
    raceway = words.next("the way in such as R1, rear or side")
    wall = words.take(*WALLS)
    if not wall:
        raise words.unknown("wall", WALLS)
    row = 1
    if words.take("row"):
        row = words.whole(words.next("the row's number"), words.i - 1, 20)
    return Entry(wall, raceway, row, at=words.where())  # type: ignore[arg-type]


def read_side_entry(words: Words) -> Entry:
    """An entry in a side wall: how far back its middle is, and what the device leaves clear of the wall."""
    center: Maybe[Decimal] | None = None
    clear: Maybe[Decimal] | None = None
    while words.more:
        if words.take(","):
            continue
        if words.take("center", "centre"):
            center = words.inches("the distance back to its center such as 1-1/4 in")
            words.take("back", "deep")
        elif words.take("clear"):
            clear = words.inches("the clearance between device and wall such as 5/8 in")
        else:
            raise words.unknown("word", ["center", "clear"])
    return Entry("side", center=center, clear=clear, at=words.where())


def write_entry(entry: Entry) -> str:
    """An entry in the plain form."""
    if entry.wall == "side":
        return words_joined(
            "entry side",
            f"center {maybe(entry.center, 'in')} back" if entry.center is not None else "",
            f"clear {maybe(entry.clear, 'in')}" if entry.clear is not None else "",
        )
    if not entry.raceway:
        return "entry rear center"
    return words_joined("entry", entry.raceway, entry.wall, f"row {entry.row}" if entry.row != 1 else "")


def read_apart(words: Words, word: str) -> Apart:
    """``apart R1 R2 14 in``: how far two raceways enter from each other. Raises ``Unreadable``."""
    one = words.next("the first raceway, such as R1")
    words.take("and", ",")
    other = words.next("the second raceway, such as R2")
    if one.casefold() == other.casefold():
        raise words.wrong("a distance is between two raceways", "write: apart R1 R2 14 in", words.i - 1)
    return Apart(one, other, words.inches("the distance between them such as 14 in"), words.where())


def write_apart(apart: Apart) -> str:
    """A distance between two entries in the plain form."""
    return words_joined("apart", apart.one, apart.other, maybe(apart.distance, "in"))


STATEMENTS = (
    Statement(
        ("clamps", "clamp"),
        Clamps,
        read_clamps,
        write_clamps,
        "clamps inside",
        "where cables are held: inside, outside, none, tabs, push-in, assembly, ?",
    ),
    Statement(
        ("stud", "studs", "hickey", "hickeys"),
        Fitting,
        read_fitting,
        write_fitting,
        "stud",
        "a luminaire stud or a hickey",
        counted=True,
    ),
    Statement(
        tuple(dict.fromkeys((*DEVICES, *DEVICE_KINDS))),
        Device,
        read_device,
        write_device,
        "switch + receptacle #12 projects 1-1/4 in",
        "a device, or two on one yoke, and the largest conductor on it",
        counted=True,
    ),
    Statement(
        ("module", "modules"),
        Module,
        read_module,
        write_module,
        "module #12 2.1 in3",
        "a control module with no yoke",
        counted=True,
    ),
    Statement(
        ("terminal",),
        TerminalBlock,
        read_block,
        write_block,
        "terminal block #10",
        "a terminal block and the largest conductor on it",
        counted=True,
    ),
    Statement(
        ("power", "distribution"),
        DistributionBlock,
        read_distribution_block,
        write_distribution_block,
        "power distribution block smallest 12 x 12 x 4 in terminals 6 in",
        "a power distribution block, the smallest box by its instructions, and how far its terminals are from the wall",
        counted=True,
    ),
    Statement(
        ("fixture",),
        FixtureWires,
        read_fixture_wires,
        write_fixture_wires,
        "fixture wires 2 x #16, ground #16 from domed canopy",
        "wires of a luminaire that end here",
    ),
    Statement(
        ("leads",),
        Leads,
        read_leads,
        write_leads,
        "leads 3 x #16 for room control",
        "leads of equipment mounted outside the box or as its cover",
    ),
    Statement(
        ("pigtail", "pigtails"),
        Pigtails,
        read_pigtails,
        write_pigtails,
        "3 x pigtail #12",
        "conductors that never leave the box",
        counted=True,
    ),
    Statement(
        ("bonding",),
        BondingJumper,
        read_jumper,
        write_jumper,
        "bonding jumper #8",
        "a bonding jumper that enters the box",
        counted=True,
    ),
    Statement(
        ("wire", "ground"),
        Uncounted,
        read_uncounted,
        write_uncounted,
        "wire connectors",
        "twist-on and push-in splicing connectors: they take no room in the count",
        counted=True,
    ),
    Statement(("carries",), Carries, read_carries, write_weight, "carries luminaire 12 lb", "what hangs on the box"),
    Statement(("rated",), Rated, read_rated, write_weight, "rated fan 70 lb", "what the box is listed to carry"),
    Statement(
        ("entry",),
        Entry,
        read_entry,
        write_entry,
        "entry R1 left row 2",
        (
            "where a raceway enters a pull box; 'entry rear center' for wiring behind a device, 'entry side' for "
            "wiring beside one"
        ),
    ),
    Statement(
        ("apart",),
        Apart,
        read_apart,
        write_apart,
        "apart R1 R2 14 in",
        "how far apart two raceways enter a pull box, between their nearest edges",
    ),
)
