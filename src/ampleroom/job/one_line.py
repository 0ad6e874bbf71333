"""What one line of a sheet says by itself: in the plain form, else by the words of the trade."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from ampleroom.job.lines import ON_THEIR_OWN, UNDER_A_BOX
from ampleroom.job.model import Base, Item
from ampleroom.job.moved import moved
from ampleroom.job.sheet import words_of
from ampleroom.job.words import AskedBack, FirstWordUnknown, Unreadable, Words
from ampleroom.job.writer import written
from ampleroom.record import TupleRecord, replace
from ampleroom.where import NOWHERE

ALONE = {word: statement for statement in ON_THEIR_OWN for word in statement.words}
UNDER = {word: statement for statement in UNDER_A_BOX for word in statement.words}
STANDS_ALONE = "start a line with one of: " + ", ".join(statement.words[0] for statement in ON_THEIR_OWN)
_TWO_WORDS = ("conduit", "extension", "terminal", "fixture", "bonding", "wire")
STANDS_UNDER = "under a box you can write: " + ", ".join(
    " ".join(statement.example.split()[:2]) if statement.words[0] in _TWO_WORDS else statement.words[0]
    for statement in UNDER_A_BOX
)
RULED = "-=*_~ \t\r"
"""A line of nothing else divides the page and says nothing."""
REMARK_MARKS = ("//", "--", ";", "*", "/*")
"""Words by which a remark begins elsewhere."""
MOST_WORDS = 200
"""Longer lines are not tried by the trade's words."""
COUNTED = tuple(word for word, statement in UNDER.items() if statement.counted)


class OneLine(TupleRecord):
    """What one line says by itself. ``more``: items that the same line says too, as in ``box A 4 square deep``."""

    word: str
    record: Any
    is_item: bool
    more: tuple[Item, ...] = ()
    no_at: bool = False
    """A place was written without ``at``: its first word may be the name of a kind."""


def read_one_line(line_number: int, raw: str, hints: bool, under: bool = True) -> OneLine | None:
    """What a line says; None: nothing. ``Unreadable`` if it cannot be read."""
    start = raw.split(None, 1)[:1]
    if not start or not (words := words_of(start[0])) or (start[0][0] in RULED and not raw.strip(RULED)):
        return None
    if words[0].lower() in ALONE:
        return kept_line(line_number, raw, hints, False)
    line = kept_line(0, raw, hints, under)
    return numbered(line, line_number) if line.is_item else kept_line(line_number, raw, hints, under)


def numbered(line: OneLine, line_number: int) -> OneLine:
    """A line read as of line 0, with its number."""
    return line._replace(
        record=moved(line.record, line_number), more=tuple([moved(item, line_number) for item in line.more])
    )


@lru_cache(maxsize=20_000)
def kept_line(line_number: int, raw: str, hints: bool, under: bool) -> OneLine:
    """What a line says, kept: the same line in the same place says the same, and of a sheet read again after a tap all
    lines but one are known. Lines under a box are alike by the hundred; they are read as of line 0.

    A line is read as it stands; if it cannot be, by the trade's words for the same (``trade_words``).
    """
    typed = words_of(raw)
    try:
        word, record = read_plainly(Words(line_number, typed, raw, hints), under)
    except Unreadable as trouble:
        return read_by_trade_words(line_number, typed, raw, hints, trouble)
    return OneLine(word, record, word not in ALONE)


def read_plainly(words: Words, under: bool) -> tuple[str, Any]:
    """A line in the plain form: its first word and its record."""
    word = words.low[0]
    try:
        if word in ALONE:
            words.i = 1
            record = ALONE[word].read(words, word)
        elif word in UNDER:
            words.i = 1
            record = UNDER[word].read(words, word)
        else:
            record = read_counted(words, under)
        if words.more:
            raise words.too_much()
    except Unreadable as trouble:
        trouble.first, trouble.last = words.as_written(trouble.first, trouble.last)
        raise
    return word, record


def read_by_trade_words(line_number: int, typed: list[str], raw: str, hints: bool, trouble: Unreadable) -> OneLine:
    """A line by the trade's words, or the clearest fault there is of it."""
    from ampleroom.job import trade_words  # read only when somebody writes so

    line = trade_words.tokens_of(typed)
    low = [token.low for token in line]

    def read(plain: list[trade_words.Token]) -> tuple[str, Any]:
        words = Words(line_number, [token.word for token in plain], raw, hints, [token[1:] for token in plain])
        return read_plainly(words, True)

    if len(typed) > MOST_WORDS or any(letter.isdigit() and not letter.isascii() for letter in raw):
        raise trouble
    if low[0] not in ALONE and not low[0].endswith((":", "-")) and not trade_words.may_mean_something(low):
        raise trouble
    for plain in trade_words.on_its_own(line, low):
        try:
            (word, head), *others = map(read, plain)
        except Unreadable as closer:
            trouble = clearer(trouble, closer)
            continue
        no_at = word == "box" and bool(head.description) and "at" not in low and "@" not in low
        return OneLine(word, head, word not in ALONE, tuple(item for _, item in others), no_at)
    if low[0] in ALONE and low[0] not in UNDER:
        raise trouble
    if (cable := trade_words.comes_in(line)) is not None:
        try:
            return OneLine(*read(cable), False)
        except Unreadable as closer:
            raise clearer(trouble, closer) from None
    pieces = [line, *trade_words.pieces_apart(line)]
    items: list[tuple[str, Any]] = []
    for piece in pieces:
        records: list[tuple[str, Any]] = []
        try:
            records = items_of(piece, read, trouble)
        except AskedBack:
            raise
        except Unreadable as closer:
            if piece is line:
                trouble = clearer(trouble, closer)
                continue
        if piece is line:
            items = records
            break
        if not records or (items and any(isinstance(record, Base) for _, record in records)):
            raise trouble
        items += records
    if not items:
        raise trouble
    (word, first), *rest = items
    return OneLine(word, first, True, tuple(item for _, item in rest))


def items_of(
    line: list[Any], read: Callable[[list[Any]], tuple[str, Any]], trouble: Unreadable
) -> list[tuple[str, Any]]:
    """The records of a line, or a piece of one, under a box."""
    from ampleroom.job import trade_words

    try:
        item = read(line)
        if item[0] not in ALONE:
            return [item]
    except Unreadable:
        pass
    for plain in trade_words.under_a_box(line):
        if plain[0][0].low in ALONE:
            continue
        try:
            return [read(piece) for piece in plain]
        except Unreadable as closer:
            trouble = clearer(trouble, closer)
    raise trouble


def clearer(trouble: Unreadable, other: Unreadable) -> Unreadable:
    """The one that came further; a question back is always the clearer."""
    if isinstance(other, AskedBack):
        raise other
    return other if other.first > trouble.first or isinstance(trouble, FirstWordUnknown) else trouble


def read_counted(words: Words, under: bool) -> Any:
    """``3 x switch #14``; anything else begins with a word nobody knows."""
    count = words.known_count()
    word = words.peek()
    if words.i and word in COUNTED:
        words.i += 1
        return UNDER[word].read(words, word, count)  # type: ignore[call-arg]
    if words.i:
        words.refuse_no_size()
        raise words.unknown("word", {word: word[:-1] if word[:-1] in COUNTED else word for word in COUNTED})
    trouble = words.unknown("word", [*ALONE, *UNDER] if under else [*ALONE])
    if words.raw.split()[0] in REMARK_MARKS or words.raw.rstrip().endswith(":"):
        trouble.hint = "begin a heading or a remark with #"
    elif not trouble.hint.startswith("did you mean"):
        trouble.hint = STANDS_UNDER if under else STANDS_ALONE
    raise FirstWordUnknown(trouble.first, trouble.last, trouble.message, trouble.hint)


def read_item(text: str) -> Item:
    """One line of a box by itself, such as ``square 4 x 1-1/2``; ``Unreadable`` if it is none."""
    typed = words_of(text)
    if not typed:
        raise Unreadable(0, 0, "nothing is written", "write a line such as: square 4 x 1-1/2")
    line = None if typed[0].lower() in ALONE else read_one_line(1, text, True)
    if line is None or not line.is_item:
        raise Unreadable(0, 0, f"{typed[0]!r} does not go under a box", "write a line such as: square 4 x 1-1/2")
    if line.more:
        several = ", and ".join(written(item) for item in (line.record, *line.more))
        raise Unreadable(0, len(typed) - 1, "that says several things at once", f"write each by itself: {several}")
    item: Item = replace(line.record, at=NOWHERE)
    return item


def read_line(text: str) -> tuple[Any, ...]:
    """All that one line of a sheet says by itself, whatever stands around it; nothing for an empty one. ``Unreadable``
    if it cannot be read.
    """
    line = read_one_line(1, text, True)
    return () if line is None else (line.record, *line.more)


__all__ = ["ALONE", "UNDER", "OneLine", "read_item", "read_line", "read_one_line", "read_plainly"]
