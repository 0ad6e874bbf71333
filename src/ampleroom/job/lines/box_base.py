"""Lines that say what a box is: its size or marking, what is put on it, how it is divided, how it sits in the wall."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from typing import Any

from ampleroom.editions.tables import blocks
from ampleroom.job.lines.statement import Statement, maybe, plain, words_joined
from ampleroom.job.model import Barrier, Base, Mounting, Part, SpaceShare
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, VOLUMES, Words, number_word

SHAPES = {
    "square": "square",
    "octagon": "octagon",
    "octagonal": "octagon",
    "round": "octagon",
    "device": "device",
    "utility": "device",
    "masonry": "masonry",
    "fs": "fs",
    "fd": "fd",
}
BODIES = ("lb", "ll", "lr", "c", "t", "tb", "x", "e", "lf", "capped-elbow", "service-elbow")
SHORT_BODIES = ("capped-elbow", "service-elbow")
GANG = re.compile(r"(\d{1,2})-?gangs?")


@cache
def standard_rows() -> tuple[dict[str, Any], ...]:
    """Every row any edition's table of standard boxes has: which of them an edition knows is for the check to say."""
    rows = [row for block in blocks("box_room.standard") for row in block.get("rows", ())]
    return tuple({(row["shape"], row["size"]): row for row in rows}.values())


@cache
def standard_sizes(shape: str) -> dict[str, tuple[Decimal, ...]]:
    """The trade sizes of a shape in the standard-box table: the table's own words, and the numbers in them."""
    rows = standard_rows()
    return {
        row["size"]: tuple(number_word(part) or Decimal(0) for part in row["size"].split(" x "))
        for row in rows
        if row["shape"] == shape
    }


@cache
def standard_faces() -> tuple[str, ...]:
    """``square 4``, ``octagon 4``: every shape and face in the standard-box table that a ring or cover may go on."""
    rows = standard_rows()
    faces = (f"{row['shape']} {row['size'].rpartition(' x ')[0]}" for row in rows if " x " in row["size"])
    return tuple(dict.fromkeys(faces))


@cache
def metric_sizes(shape: str) -> dict[tuple[Decimal, ...], str]:
    rows = standard_rows()
    return {
        tuple(map(Decimal, row["mm"].split(" x "))): row["size"]
        for row in rows
        if row["shape"] == shape and " x " in row["mm"]
    }


# ---- the box itself ------------------------------------------------------------------------------------------------


def read_standard(words: Words, word: str) -> Base:
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
            f"for {base.gangs} of them joined, write: {base.gangs} ganged",
            at,
        )
    return base


def is_box_size(words: Words) -> bool:
    """Whether a box's trade size stands at the cursor: ``device 3 x 2 x 2`` is a box, ``device #12`` a device."""
    return words.peek() == "box" or "x" in (words.peek(1), words.peek()[1:2], words.peek()[2:3])


def read_cover(words: Words) -> Maybe[str]:
    if words.take("?"):
        return UNKNOWN
    if cover := words.take("single", "multiple"):
        words.take("cover")
        return f"{cover} cover"
    raise words.unknown("cover", ["single cover", "multiple cover"])


def read_trade_size(words: Words, shape: str) -> tuple[Maybe[str], str]:
    """The size as the table names it; where the depth is ``?``, UNKNOWN and the face."""
    values, at = words.dimensions()
    is_metric = words.low[words.i - 1] == "mm"
    sizes = standard_sizes(shape)
    if words.take("deep"):
        pass
    if is_metric:
        return _metric_size(words, shape, at)
    wide = 1 if shape in ("square", "octagon") else 2
    if wide == 1 and len(values) == 3 and values[0] == values[1]:
        values = values[1:]
    if wide == 2 and len(values) == 3 and UNKNOWN not in values[:2] and values[0] < values[1]:  # type: ignore[operator]
        values = (values[1], values[0], values[2])
    for name, dimensions in sizes.items():
        if values == dimensions:
            return name, ""
    if len(values) == wide + 1 and values[-1] is UNKNOWN and any(values[:wide] == d[:wide] for d in sizes.values()):
        return UNKNOWN, next(n.rpartition(" x ")[0] for n, d in sizes.items() if values[:wide] == d[:wide])
    near = _nearest_sizes(values, sizes)
    hint = f"the standard ones nearest are {' and '.join(near)}; another box is written by its marking: marked 20.3 in3"
    raise words.wrong(f"no standard {shape} box is {_said(words, at)}", hint, at)


def _metric_size(words: Words, shape: str, at: int) -> tuple[Maybe[str], str]:
    said = tuple(Decimal(word) for word in re.findall(r"\d+", " ".join(words.low[at : words.i])))
    sizes = metric_sizes(shape)
    if said in sizes:
        return sizes[said], ""
    known = ", ".join(" x ".join(map(str, key)) for key in sizes)
    raise words.wrong(f"no standard {shape} box is {_said(words, at)}", f"in mm there are {known}", at)


def _nearest_sizes(values: tuple[Maybe[Decimal], ...], sizes: dict[str, tuple[Decimal, ...]]) -> list[str]:
    said = [value for value in values if value is not UNKNOWN]

    def distance(name: str) -> Decimal:
        return sum(
            (abs(a - b) for a, b in zip(said, sizes[name], strict=False)),
            Decimal(9 * abs(len(said) - len(sizes[name]))),
        )

    return sorted(sizes, key=distance)[:2]


def _said(words: Words, at: int) -> str:
    return " ".join(words.said[at : words.i])


def read_marked(words: Words, word: str) -> Base:
    volume = words.room()
    return _with_options(words, "marked", volume=volume)


def read_unmarked(words: Words, word: str) -> Base:
    return _with_options(words, "unmarked")


def read_inside(words: Words, word: str) -> Base:
    at = words.i
    values, _ = words.dimensions("inside length x width x depth, such as 12 x 12 x 6 in")
    if len(values) != 3 or UNKNOWN in values:
        raise words.wrong("the inside of a box has length, width and depth", "write: inside 12 x 12 x 6 in", at)
    inside = tuple(value for value in values if value is not UNKNOWN)
    return _with_options(words, "measured", inside=inside, depth=inside[2])


def read_conduit_body(words: Words, word: str) -> Base:
    if not words.take("body"):
        raise words.unknown("word after 'conduit'", ["body"])
    shape = words.take(*BODIES)
    if not shape:
        raise words.unknown("conduit body", BODIES)
    at = words.i
    size = words.next("a trade size such as 3/4")
    if number_word(size) is None and proper(size) is None:
        words.i = at + 1
        raise words.wrong(f"{size!r} is no trade size", "such as 1/2, 3/4, 1, 1-1/4")
    return _with_options(words, "conduit body", shape=shape, trade_size=size, short_radius=shape in SHORT_BODIES)


def proper(word: str) -> Decimal | None:
    from ampleroom.job.words import proper_fraction

    return proper_fraction(word)


OPTIONS = ("marked", "metal", "plastic", "ganged", "gang", "deep", "on", "short-radius", "area")


def _with_options(words: Words, form: str, **known: object) -> Base:
    """The words that may follow in any order: marked volume, gangs, how many ganged, depth, material."""
    while words.more:
        if words.take(","):
            continue
        at = words.i
        if words.take("marked"):
            known["volume"] = words.room()
        elif found := words.take("metal", "plastic", "nonmetallic"):
            known["material"] = "metal" if found == "metal" else "plastic"
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
            known["raceway"] = words.next("the kind of raceway, such as emt").lower()
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
    gangs = f"{base.gangs}-gang" if base.gangs else ""
    ganged = f"{base.ganged} ganged" if base.ganged != 1 else ""
    own_depth = base.inside[2] if base.inside else None
    depth = f"{maybe(base.depth, 'in')} deep" if base.depth is not None and base.depth != own_depth else ""
    marked = f"marked {maybe(base.volume, 'in3')}" if base.volume is not None else ""
    match base.form:
        case "standard" if base.shape in ("fs", "fd"):
            said = f"{base.shape} {maybe(base.size)}"
        case "standard":
            said = f"{base.shape} {f'{base.face} x ?' if base.size is UNKNOWN else base.size}"
        case "marked":
            said, marked = f"marked {maybe(base.volume or UNKNOWN, 'in3')}", ""
        case "measured":
            said = "inside " + " x ".join(map(plain, base.inside)) + " in"
        case "unmarked":
            said = "unmarked"
        case "conduit body":
            said = words_joined("conduit body", base.shape, base.trade_size, base.raceway and f"on {base.raceway}")
    short = "short-radius" if base.short_radius and base.shape not in SHORT_BODIES else ""
    area = f"area {plain(base.area)} in2" if base.area is not None else ""
    return words_joined(said, marked, base.material, gangs, ganged, depth, short, area)


# ---- what is put on it ---------------------------------------------------------------------------------------------

SECOND_WORD = {
    "extension": ("ring", "box"),
    "plaster": ("ring", "cover"),
    "mud": ("ring",),
    "raised": ("cover",),
    "domed": ("cover",),
}
PART = {
    "extension": "extension ring",
    "plaster": "plaster ring",
    "mud": "plaster ring",
    "raised": "raised cover",
    "domed": "domed cover",
}


def read_part(words: Words, word: str) -> Part:
    if not words.take(*SECOND_WORD[word]):
        raise words.unknown(f"word after {word!r}", SECOND_WORD[word])
    volume: Maybe[Decimal] | None = UNKNOWN
    shape = size = material = ""
    depth: Maybe[Decimal] | None = None
    while words.more:
        at = words.i
        if words.take(",", "marked") or GANG.fullmatch(words.peek()):
            words.i += GANG.fullmatch(words.peek()) is not None
        elif words.take("unmarked"):
            volume = None
        elif is_unknown_depth(words):
            words.i += 1
            words.take(*LENGTHS)
            words.take("deep")
            depth = UNKNOWN
        elif words.is_amount(VOLUMES) or words.peek() == "?":
            volume = words.room()
        elif words.is_amount(LENGTHS):
            depth = words.inches()
            words.take("deep")
        elif found_material := words.take("metal", "plastic", "nonmetallic"):
            material = "metal" if found_material == "metal" else "plastic"
        elif word == "extension" and words.peek() in SHAPES:
            shape = SHAPES[words.next("a shape").lower()]
            known, _ = read_trade_size(words, shape)
            if known is UNKNOWN:
                raise words.wrong("an extension ring's size is known or not written", "write: extension ring ?", at)
            size = known
            volume = None if volume is UNKNOWN else volume
        else:
            raise words.unknown(
                "word",
                ["unmarked", "marked", "in3", "deep", "metal", "plastic", *(SHAPES if word == "extension" else ())],
            )
    return Part(PART[word], volume, shape, size, depth, material, words.where())  # type: ignore[arg-type]


def is_unknown_depth(words: Words) -> bool:
    """Whether ``? deep`` or ``? in deep`` stands at the cursor; ``? in3`` is a volume."""
    return words.peek() == "?" and (words.peek(1) == "deep" or words.peek(1) in LENGTHS)


def write_part(part: Part) -> str:
    volume = (
        "" if part.volume is None and part.size else "unmarked" if part.volume is None else maybe(part.volume, "in3")
    )
    depth = f"{maybe(part.depth, 'in')} deep" if part.depth is not None else ""
    return words_joined(part.kind, part.shape, part.size, volume, part.material, depth)


# ---- how it is divided ---------------------------------------------------------------------------------------------


def read_barrier(words: Words, word: str) -> Barrier:
    material = words.take("metal", "plastic", "nonmetallic")
    if not material:
        raise words.unknown("barrier", ["metal", "plastic"])
    words.take("marked")
    volume = None
    if words.more:
        known = words.body()
        volume = None if known is UNKNOWN else known
    return Barrier("metal" if material == "metal" else "plastic", volume, words.where())


def write_barrier(barrier: Barrier) -> str:
    return words_joined(
        "barrier", barrier.material, f"marked {plain(barrier.volume)} in3" if barrier.volume is not None else ""
    )


SHARE = re.compile(r"(\d{1,2})/(\d{1,2})")


def read_space(words: Words, word: str) -> SpaceShare:
    from ampleroom.job.lines.statement import name_of

    name = name_of(words, "space")
    at = words.i
    if gang := GANG.fullmatch(words.peek()):
        words.i += 1
        return SpaceShare(name, gangs=words.whole(gang[1], at, 20), at=words.where())
    if words.peek().isdigit() and words.peek(1) in ("gang", "gangs"):
        words.i += 2
        return SpaceShare(name, gangs=words.whole(words.low[at], at, 20), at=words.where())
    if found := SHARE.fullmatch(words.peek()):
        words.i += 1
        top, bottom = int(found[1]), int(found[2])
        if not 0 < top < bottom:
            raise words.wrong(f"{found[0]} is no share of a box", "a share is less than the whole, such as 1/3", at)
        return SpaceShare(name, share=(top, bottom), at=words.where())
    volume = words.room("a share: 1/3, 2 gangs, or a volume such as 18 in3")
    if volume is UNKNOWN:
        raise words.wrong("a space's share is written", "such as 1/3, 2 gangs or 18 in3", at)
    return SpaceShare(name, volume=volume, at=words.where())


def write_space(space: SpaceShare) -> str:
    if space.gangs is not None:
        share = f"{space.gangs} gangs"
    elif space.share is not None:
        share = f"{space.share[0]}/{space.share[1]}"
    else:
        share = f"{plain(space.volume or Decimal(0))} in3"
    return f"space {space.name} {share}"


# ---- how it sits ---------------------------------------------------------------------------------------------------

WAYS = ("new-work", "old-work", "surface", "masonry")


def read_mounting(words: Words, word: str) -> Mounting:
    way, cavity, hole, finished, existing = "", None, None, False, False
    while words.more:
        at = words.i
        if words.take(","):
            continue
        if found := words.take(*WAYS):
            way = found
        elif words.take("finished"):
            finished = True
        elif words.take("existing"):
            existing = True
        elif words.take("cavity"):
            known = words.inches("a depth such as 3-1/2 in")
            cavity = None if known is UNKNOWN else known
        elif words.take("hole"):
            values, _ = words.dimensions("a width and a height such as 2 x 3 in")
            if len(values) != 2 or UNKNOWN in values:
                raise words.wrong("a hole has a width and a height", "write: hole 2 x 3 in", at)
            hole = (values[0], values[1])
        else:
            raise words.unknown("mounting", [*WAYS, "finished", "existing", "cavity", "hole"])
    return Mounting(way, cavity, hole, finished, existing, words.where())  # type: ignore[arg-type]


def write_mounting(mounting: Mounting) -> str:
    cavity = f"cavity {plain(mounting.cavity)} in" if mounting.cavity is not None else ""
    hole = f"hole {plain(mounting.hole[0])} x {plain(mounting.hole[1])} in" if mounting.hole else ""
    return words_joined(
        "mounted",
        mounting.way,
        cavity,
        hole,
        "finished" if mounting.finished else "",
        "existing" if mounting.existing else "",
    )


STATEMENTS = (
    Statement(
        tuple(SHAPES),
        Base,
        read_standard,
        write_base,
        "square 4 x 1-1/2",
        "a standard metal box; its room is in the book's table",
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
        tuple(SECOND_WORD),
        Part,
        read_part,
        write_part,
        "plaster ring 3.5 in3",
        "a ring or cover on the box; unmarked, it adds nothing",
    ),
    Statement(("barrier",), Barrier, read_barrier, write_barrier, "barrier metal", "a barrier that divides the box"),
    Statement(
        ("space",),
        SpaceShare,
        read_space,
        write_space,
        "space left 2 gangs",
        "one side of a barrier; the lines that follow are in it",
    ),
    Statement(
        ("mounted",),
        Mounting,
        read_mounting,
        write_mounting,
        "mounted old-work cavity 3-1/2 in finished",
        "how the box sits in the wall",
    ),
)

__all__ = ["STATEMENTS", "standard_sizes"]
