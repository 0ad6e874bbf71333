"""Lines that say what a box is: its trade size, its marking, its inside measurements, or a conduit body."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.job.lines.standard_boxes import GANG, SHAPES, read_trade_size
from ampleroom.job.lines.statement import Statement, maybe, plain, words_joined
from ampleroom.job.lines.wires import read_group, write_group
from ampleroom.job.model import Base, MarkedFor
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, Words, number_word

BODIES = ("lb", "ll", "lr", "c", "t", "tb", "x", "e", "lf", "capped-elbow", "service-elbow")
SHORT_BODIES = ("capped-elbow", "service-elbow")


def read_standard(words: Words, word: str) -> Base:
    """``square 4 x 1-1/2``: a standard metal box. Raises ``Unreadable``."""
    shape = SHAPES[word]
    words.take("box")
    if shape in ("fs", "fd"):
        size, face = read_cover(words), ""
    else:
        size, face = read_trade_size(words, shape)
    base = _with_options(words, "standard", shape=shape, size=size, face=face)
    if shape == "device" and base.gangs is not None and base.gangs > 1:
        at = next(i for i, written in enumerate(words.low) if GANG.fullmatch(written) or written == "gang")
        raise words.wrong(
            f"a {face or size} device box is one gang",
            f"for {base.gangs} of them ganged together, write: {base.gangs} ganged",
            at,
        )
    return base


def read_cover(words: Words) -> Maybe[str]:
    """``single cover`` or ``multiple cover`` of a cast box, or ``?``. Raises ``Unreadable``."""
    if words.take("?"):
        return UNKNOWN
    if cover := words.take("single", "multiple"):
        words.take("cover")
        return f"{cover} cover"
    raise words.unknown("cover", ["single cover", "multiple cover"])


def read_marked(words: Words, word: str) -> Base | MarkedFor:
    """``marked 20.3 in3``: a box by its marking; ``marked for 3 x #4/0 xhhw``: what a conduit body or a smaller pull
    box is listed for. Raises ``Unreadable``.
    """
    if words.take("for"):
        return read_marked_for(words, word)
    volume = words.room()
    return _with_options(words, "marked", volume=volume)


MARKED_SUCH_AS = "write it as it is marked, such as: marked for 3 x #4/0 xhhw; or: marked for ?, marked for none"


def read_marked_for(words: Words, word: str) -> MarkedFor:
    """The most conductors and their largest size, as marked; ``none`` or ``?``. Raises ``Unreadable``."""
    at = words.i
    if words.take("?"):
        return MarkedFor(UNKNOWN, words.where())
    if words.take("none", "nothing"):
        return MarkedFor(None, words.where())
    words.take("max", "maximum")
    wires = read_group(words)
    if wires.count is UNKNOWN or wires.size is UNKNOWN:
        raise words.wrong("a marking has a number and a size", MARKED_SUCH_AS, at)
    if wires.role != "insulated" or wires.color or not wires.count:
        raise words.wrong("a marking has a number, a size and an insulation", MARKED_SUCH_AS, at)
    return MarkedFor(wires, words.where())


def write_marked_for(marked: MarkedFor) -> str:
    """What it is marked for, in the plain form."""
    wires = marked.wires
    return f"marked for {'?' if wires is UNKNOWN else 'none' if wires is None else write_group(wires)}"


def read_unmarked(words: Words, word: str) -> Base:
    """``unmarked plastic``: a box with no marking and no standard size. Raises ``Unreadable``."""
    return _with_options(words, "unmarked")


def read_inside(words: Words, word: str) -> Base:
    """``inside 12 x 12 x 6 in``: a box by its inside measurements, in inches. Raises ``Unreadable``."""
    inside = inside_of(words)
    return _with_options(words, "measured", inside=inside, depth=inside[2])


def inside_of(words: Words) -> tuple[Decimal, ...]:
    """Length, width and depth inside, inches. Raises ``Unreadable``."""
    at = words.i
    values, _ = words.dimensions("the inside size such as 12 x 12 x 6 in")
    if len(values) != 3 or UNKNOWN in values:
        raise words.wrong("the inside of a box takes a length, a width and a depth", "write: inside 12 x 12 x 6 in", at)
    return tuple(value for value in values if value is not UNKNOWN)


def read_conduit_body(words: Words, word: str) -> Base:
    """``conduit body lb 3/4``: a conduit body by its type and trade size. Raises ``Unreadable``."""
    if not words.take("body"):
        raise words.unknown("word after 'conduit'", ["body"])
    shape = words.take(*BODIES)
    if not shape:
        raise words.unknown("type of conduit body", BODIES)
    at = words.i
    size = words.next("a trade size such as 3/4")
    if number_word(size) is None and proper(size) is None:
        words.i = at + 1
        raise words.wrong(f"{size!r} is not a trade size", "write one such as 1/2, 3/4, 1 or 1-1/4")
    return _with_options(words, "conduit body", shape=shape, trade_size=size, short_radius=shape in SHORT_BODIES)


def proper(word: str) -> Decimal | None:
    """A proper fraction, ``3/4``; None for anything else."""
    from ampleroom.job.words import proper_fraction

    return proper_fraction(word)


OPTIONS = {
    "marked": "marked 20.3 in3",
    "metal": "metal",
    "plastic": "plastic",
    "ganged": "2 ganged",
    "gang": "2-gang",
    "deep": "2-1/8 in deep",
    "on": "on emt",
    "short-radius": "short-radius",
    "area": "area 1.06 in2",
    "inside": "inside 12 x 4 x 4 in",
}
"""Words that may follow what a box is, and how each is written."""


def _with_options(words: Words, form: str, **known: object) -> Base:
    """The words that may follow in any order: marked volume, gangs, how many ganged, depth, material."""
    while words.more:
        if words.take(","):
            continue
        at = words.i
        if words.take("marked"):
            if words.peek() == "for":
                raise words.wrong("what it is marked for is a line of its own", "write it on the next line", at)
            known["volume"] = words.room()
        elif material := words.take("metal", "plastic", "nonmetallic"):
            known["material"] = "metal" if material == "metal" else "plastic"
        elif (gang := GANG.fullmatch(words.peek())) is not None:
            words.i += 1
            known["gangs"] = words.whole(gang[1], at, 20)
        elif words.peek().isdigit() and words.peek(1) in ("gang", "gangs"):
            known["gangs"] = words.whole(words.peek(), at, 20)
            words.i += 2
        elif words.peek().isdigit() and words.peek(1) == "ganged":
            known["ganged"] = words.whole(words.peek(), at, 20)
            words.i += 2
        elif form == "conduit body" and words.take("on"):
            known["raceway"] = words.next("the kind of raceway such as emt").lower()
        elif form == "conduit body" and words.take("inside"):
            known["inside"] = inside = inside_of(words)
            known["depth"] = inside[2]
        elif form == "conduit body" and words.take("short-radius"):
            known["short_radius"] = True
        elif form == "conduit body" and words.take("area"):
            area = words.number("a cross-section such as 1.06 in2")
            known["area"] = None if area is UNKNOWN else area
            words.take("in2", "in²", "sq")
        elif words.is_amount(LENGTHS) or (words.peek() == "?" and words.peek(1) in ("deep", "in")):
            depth = words.inches()
            words.take("deep")
            known["depth"] = depth
        else:
            raise words.unknown("word", OPTIONS)
    return Base(form, at=words.where(), **known)  # type: ignore[arg-type]


def write_base(base: Base) -> str:
    """What a box is, in the plain form."""
    gangs = f"{base.gangs}-gang" if base.gangs else ""
    ganged = f"{base.ganged} ganged" if base.ganged != 1 else ""
    own_depth = base.inside[2] if base.inside else None
    depth = f"{maybe(base.depth, 'in')} deep" if base.depth is not None and base.depth != own_depth else ""
    marked = f"marked {maybe(base.volume, 'in3')}" if base.volume is not None else ""
    match base.form:
        case "standard" if base.shape in ("fs", "fd"):
            form = f"{base.shape} {maybe(base.size)}"
        case "standard":
            form = f"{base.shape} {f'{base.face} x ?' if base.size is UNKNOWN else base.size}"
        case "marked":
            form, marked = f"marked {maybe(base.volume or UNKNOWN, 'in3')}", ""
        case "measured":
            form = "inside " + " x ".join(map(plain, base.inside)) + " in"
        case "unmarked":
            form = "unmarked"
        case "conduit body":
            form = words_joined("conduit body", base.shape, base.trade_size, base.raceway and f"on {base.raceway}")
    short = "short-radius" if base.short_radius and base.shape not in SHORT_BODIES else ""
    area = f"area {plain(base.area)} in2" if base.area is not None else ""
    inside = f"inside {' x '.join(map(plain, base.inside))} in" if base.form == "conduit body" and base.inside else ""
    return words_joined(form, marked, base.material, gangs, ganged, depth, short, area, inside)


STATEMENTS = (
    Statement(
        tuple(SHAPES),
        Base,
        read_standard,
        write_base,
        "square 4 x 1-1/2",
        "a standard metal box; its volume is in the code's table",
    ),
    Statement(
        ("marked",),
        Base,
        read_marked,
        write_base,
        "marked 20.3 in3 plastic 1-gang",
        "a box by the volume marked inside it",
    ),
    Statement(
        ("unmarked",),
        Base,
        read_unmarked,
        write_base,
        "unmarked plastic",
        "a box of no standard size in which no marking is to be found",
    ),
    Statement(
        ("inside",), Base, read_inside, write_base, "inside 12 x 12 x 6 in", "a large box by its inside measurements"
    ),
    Statement(
        ("conduit",),
        Base,
        read_conduit_body,
        write_base,
        "conduit body lb 3/4 on rmc marked 7 in3",
        "a conduit body, the raceway it is on, its marking",
    ),
    Statement(
        ("marked for",),
        MarkedFor,
        read_marked_for,
        write_marked_for,
        "marked for 3 x #4/0 xhhw",
        "the number and size of conductors a conduit body or a smaller pull box is listed and marked for; none, ?",
    ),
)

__all__ = ["BODIES", "STATEMENTS", "read_standard", "write_base", "write_marked_for"]
