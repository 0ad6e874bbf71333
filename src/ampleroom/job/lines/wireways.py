"""``wireway`` and ``gutter``: troughs with a cover, in which runs lie, end or are tapped."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Literal, TypeAlias

from ampleroom.job.lines.box_contents import read_apart, write_apart
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.statement import Statement, maybe, name_of, plain, words_joined
from ampleroom.job.model import Apart, Wireway
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, Words, number_word

Side: TypeAlias = Maybe[Decimal]
AREAS: dict[str, Decimal | None] = dict.fromkeys(
    ("in2", "in^2", "in²", "sqin", "sq.in.", "sq in", "sq in.", "square in", "square inches"), Decimal(1)
)
BY = ("x", "×", "by")
OPTIONS = (
    "4 x 4",
    "5 ft",
    "splices 6 in2",
    "no splices",
    "straight",
    "turns across 4 in",
    "apart R1 R2 24 in",
    "at",
    "for",
)
SECTION = "the section inside such as 4 x 4"
SPLICES_HINT = (
    "write the area they take where they take most, such as: splices 6 in2, or measured across: splices 2 x 3 in"
)
MOST = Decimal(1000)
"""Inches; no wireway is wider."""


def read_wireway(words: Words, word: str) -> Wireway:
    """``wireway W1 P > J9 4 x 4 5 ft``, ``gutter G1 at P 6 x 6 4 ft``: the trough, its inside measures in inches and
    its length in feet. Raises ``Unreadable``.
    """
    sample = "G1" if word == "gutter" else "W1"
    if is_section(words) or not words.peek():
        raise words.at_cursor(f"this {word} has no name", f"write: {word} {sample} 4 x 4")
    name = name_of(words, word)
    ends: tuple[str, ...] = ()
    inside: tuple[Side, Side] | None = None
    length: Maybe[Decimal] | None = None
    splices: Maybe[Decimal] | None = None
    turn: Decimal | None = None
    turn_at = 0
    apart: list[Apart] = []
    is_nonmetallic, label = False, ""
    if words.peek() in (">", "to"):
        words.i -= 1
        raise words.at_cursor(f"this {word} has no name", f"write: {word} {sample} {words.typed[words.i]} > ...")
    if words.peek(1) == ">":
        ends = read_ends(words)
    while words.more:
        at = words.i
        if words.take(",", "metal", "steel"):
            continue
        if words.take("for"):
            label = words.text_after()
        elif words.take("at"):
            if ends:
                raise words.wrong(f"where {name} is, is written twice", "keep one of them", at)
            ends = (name_of(words, "place"),)
        elif is_section(words):
            section = read_section(words)
            if inside is not None:
                raise words.wrong(f"how large {name} is inside is written twice", "keep one of them", at)
            inside = section
        elif words.is_amount(LENGTHS):
            length = words.feet()
        elif words.take("?"):  # a length nobody measured, or nothing at all is known of its size
            if inside is None:
                inside = (UNKNOWN, UNKNOWN)
            else:
                length = UNKNOWN
                words.take("ft", "feet", "in")
        elif words.take("splices", "splice", "taps", "tap", "no", "without"):
            if splices is not None:
                raise words.wrong(f"the splices in {name} are written twice", "keep one of them", at)
            splices = read_splices(words, at)
        elif words.take("straight"):
            words.take("through")
            turn, turn_at = Decimal(0), at
        elif words.take("turns", "turn"):
            turn, turn_at = read_turn(words), at
        elif words.take("apart"):
            line = read_apart(words, "apart")
            apart.append(Apart(line.one, line.other, line.distance, words.where(at)))
        elif not ends and inside is not None and words.peek(1) == ">":
            ends = read_ends(words)
        elif words.take("nonmetallic", "non-metallic"):
            is_nonmetallic = True
        else:
            if at == 2 and inside is None and words.peek() not in RACEWAY_KINDS:
                raise words.unknown("word", (f"{words.typed[at]} > J9", "at P", *OPTIONS))
            raise words.unknown("word", OPTIONS)
    if inside is None:
        raise words.missing(f"how large {name} is inside", "write its two measures, such as 4 x 4, or ? x ?")
    if turn and UNKNOWN not in inside and turn not in inside:
        sides = " x ".join(map(maybe, inside))
        hint = " or ".join(f"turns across {maybe(side)} in" for side in dict.fromkeys(inside))
        raise words.wrong(f"{name} is {sides} and has no side of {plain(turn)} in.", f"write {hint}", turn_at)
    form: Literal["wireway", "gutter"] = "gutter" if word == "gutter" else "wireway"
    return Wireway(name, form, ends, inside, length, splices, turn, tuple(apart), is_nonmetallic, label, words.where())


def read_ends(words: Words) -> tuple[str, str]:
    """``P > J9``: the two places it joins."""
    first = name_of(words, "place")
    words.i += 1
    return first, name_of(words, "place")


def is_section(words: Words) -> bool:
    """Whether the two measures of a section stand at the cursor: ``4 x 4``, ``4x4``, ``4 in x 4 in``, ``? x ?``."""
    word = words.peek()
    if re.fullmatch(r"[\d?][^x×]*[x×][\d?].*", word):
        return True
    if word != "?" and number_word(word.rstrip('"')) is None:
        return False
    ahead = next((place for place in (1, 2, 3) if words.peek(place) in BY), 0)
    between = [words.peek(place) for place in range(1, ahead)]
    return ahead > 0 and all(each in LENGTHS or number_word(each.rstrip('"')) is not None for each in between)


def read_section(words: Words) -> tuple[Side, Side]:
    """Two measures in inches. Raises ``Unreadable`` where there are more or fewer."""
    at = words.i
    first = read_side(words) if words.peek(1) in LENGTHS else None
    if first is not None and words.take(*BY):
        sides: tuple[Side, ...] = (first, read_side(words))
    else:
        words.i = at
        sides, _ = words.dimensions(SECTION)
    if len(sides) != 2:
        section = " x ".join(map(maybe, sides[:2]))
        rest = f" {maybe(sides[2])} in" if len(sides) > 2 else " 5 ft"
        raise words.wrong("a section has two measures", f"write the length after them: {section}{rest}", at)
    for side in sides:
        if side is not UNKNOWN and not 0 < side <= MOST:
            raise words.wrong("that is no section of a wireway", f"write {SECTION}", at)
    return sides[0], sides[1]


def read_side(words: Words) -> Side:
    """One measure with its unit, in inches."""
    return words.inches(SECTION)


def read_splices(words: Words, at: int) -> Maybe[Decimal]:
    """What splices and taps take of a section, in2: ``6 in2``, ``2 x 3 in``, ``none``, ``?``."""
    if words.typed[at].lower() in ("no", "without"):
        if not words.take("splices", "splice", "taps", "tap"):
            raise words.unknown(f"word after {words.typed[at]!r}", ["splices"])
        return Decimal(0)
    if words.take("none"):
        return Decimal(0)
    if is_section(words):
        one, other = read_section(words)
        return UNKNOWN if one is UNKNOWN or other is UNKNOWN else one * other
    if words.take("?"):
        words.take("in2")
        return UNKNOWN
    if words.is_amount(AREAS):
        start = words.i
        area, _ = words.amount(AREAS, "an area such as 6 in2")
        return area if area is UNKNOWN else words.positive(area, start)
    if not words.more:
        raise words.missing("how much of its section the splices take", f"{SPLICES_HINT}, or: splices ?")
    words.i += 1
    raise words.wrong("how much of its section do the splices take?", f"{SPLICES_HINT}, or: splices ?", at)


def read_turn(words: Words) -> Decimal | None:
    """The side across which conductors turn, inches; None for ``?``."""
    words.take("across", "in")
    if words.take("?"):
        return None
    side = words.inches("a side of its section such as 4 in")
    return None if side is UNKNOWN else side


def write_wireway(wireway: Wireway) -> str:
    """A wireway or gutter in the plain form."""
    return words_joined(
        wireway.form,
        wireway.name,
        place_text(wireway),
        section_text(wireway),
        maybe(wireway.length, "ft") if wireway.length is not None else "",
        splices_text(wireway),
        turn_text(wireway),
        " ".join(map(write_apart, wireway.apart)),
        "nonmetallic" if wireway.nonmetallic else "",
        f"for {wireway.label}" if wireway.label else "",
    )


def place_text(wireway: Wireway) -> str:
    """``P > J9``, ``at P``, or nothing: where it is, as a sheet writes it."""
    if len(wireway.ends) > 1:
        return " > ".join(wireway.ends)
    return f"at {wireway.ends[0]}" if wireway.ends else ""


def splices_text(wireway: Wireway) -> str:
    """``splices 6 in2``, ``no splices``, or nothing: what a sheet says of its splices."""
    if wireway.splices is None:
        return ""
    return "no splices" if wireway.splices == 0 else f"splices {maybe(wireway.splices, 'in2')}"


def turn_text(wireway: Wireway) -> str:
    """``turns across 6 in``, ``straight``, or nothing: what a sheet says of which way its conductors run."""
    if wireway.turn is None:
        return ""
    return f"turns across {plain(wireway.turn)} in" if wireway.turn else "straight"


def section_text(wireway: Wireway) -> str:
    """``4 x 4``: the two inside measures of a wireway, as a sheet writes them."""
    return " x ".join(map(maybe, wireway.inside))


STATEMENTS = (
    Statement(
        ("wireway",),
        Wireway,
        read_wireway,
        write_wireway,
        "wireway W1 P > J9 4 x 4 5 ft no splices",
        "a metal wireway by its inside measures",
    ),
    Statement(
        ("gutter",),
        Wireway,
        read_wireway,
        write_wireway,
        "gutter G1 at P 6 x 6 4 ft splices 6 in2",
        "an auxiliary gutter, in which wires are tapped",
    ),
)
