"""Lines that say what is put on a box: rings and covers, and what volume they add."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.job.lines.standard_boxes import GANG, SHAPES, read_trade_size
from ampleroom.job.lines.statement import Statement, maybe, words_joined
from ampleroom.job.model import Part
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, VOLUMES, Words, number_word

SECOND_WORD = {
    "extension": ("ring", "box"),
    "plaster": ("ring", "cover"),
    "mud": ("ring",),
    "raised": ("cover",),
    "domed": ("cover",),
}
OPTIONS = {
    "unmarked": "unmarked",
    "marked": "marked 3.5 in3",
    "deep": "1/2 in deep",
    "metal": "metal",
    "plastic": "plastic",
}
"""Words that may follow a ring or cover, and how each is written."""
PART = {
    "extension": "extension ring",
    "plaster": "plaster ring",
    "mud": "plaster ring",
    "raised": "raised cover",
    "domed": "domed cover",
}


def read_part(words: Words, word: str) -> Part:
    """``plaster ring 3.5 in3``: a ring or cover, its volume in in3 and its depth in inches. Raises ``Unreadable``."""
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
        elif number_word(words.peek()) is not None:
            volume = words.room("a volume such as 3.5 in3")  # a number with a unit of neither, which is the fault
        elif named := words.take("metal", "plastic", "nonmetallic"):
            material = "metal" if named == "metal" else "plastic"
        elif word == "extension" and words.peek() in SHAPES:
            shape = SHAPES[words.next("a shape").lower()]
            known, _ = read_trade_size(words, shape)
            if known is UNKNOWN:
                raise words.wrong("an extension ring's size cannot be half known", "write: extension ring ?", at)
            size = known
            volume = None if volume is UNKNOWN else volume
        else:
            raise words.unknown(
                "word",
                {**OPTIONS, **({shape: shape for shape in SHAPES} if word == "extension" else {})},
            )
    return Part(PART[word], volume, shape, size, depth, material, words.where())  # type: ignore[arg-type]


def is_unknown_depth(words: Words) -> bool:
    """Whether ``? deep`` or ``? in deep`` stands at the cursor; ``? in3`` is a volume."""
    return words.peek() == "?" and (words.peek(1) == "deep" or words.peek(1) in LENGTHS)


def write_part(part: Part) -> str:
    """A ring or cover in the plain form."""
    volume = (
        "" if part.volume is None and part.size else "unmarked" if part.volume is None else maybe(part.volume, "in3")
    )
    depth = f"{maybe(part.depth, 'in')} deep" if part.depth is not None else ""
    return words_joined(part.kind, part.shape, part.size, volume, part.material, depth)


STATEMENTS = (
    Statement(
        tuple(SECOND_WORD),
        Part,
        read_part,
        write_part,
        "plaster ring 3.5 in3",
        "a ring or cover on the box; unmarked, it adds nothing",
    ),
)

__all__ = ["STATEMENTS", "write_part"]
