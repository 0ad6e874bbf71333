"""Lines under a box in the words of the trade, and lines that say several things at once."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.lines import UNDER_A_BOX
from ampleroom.job.nicknames import ASKED, BOX_LINES
from ampleroom.job.trade_words.boxes import box, conduit_body, part
from ampleroom.job.trade_words.devices import device
from ampleroom.job.trade_words.tokens import Line, asked, counted, phrase_at, put

UNDER = frozenset(word for statement in UNDER_A_BOX for word in statement.words)
COUNTED = frozenset(word for statement in UNDER_A_BOX if statement.counted for word in statement.words)


def under_a_box(line: Line) -> Iterator[list[Line]]:
    """The plain lines that a line under a box may stand for, the likeliest first."""
    line = [token._replace(word=token.word.strip("()")) for token in line]
    line = [token for token in line if token.word]
    if not line:
        return
    for family in (whole_line, conduit_body, part, device, box, count_alone):
        plain = family(line)
        if plain is not None:
            yield plain
    phrase, many = phrase_at(counted(line)[1], 0, dict.fromkeys(ASKED, ""))
    if many:
        raise asked(ASKED[phrase], line)


def whole_line(line: Line) -> list[Line] | None:
    """A phrase that stands for a whole line, such as ``smoke detector``; None for any other."""
    count, rest = counted(line)
    phrase, many = phrase_at(rest, 0, BOX_LINES)
    if not many:
        return None
    plain = BOX_LINES[phrase]
    if phrase == "fan box" and len(rest) > many:
        return None
    return [count + put(plain, *rest[:many]) + rest[many:]]


def count_alone(line: Line) -> list[Line] | None:
    """``3 pigtails #12``: a count without its x."""
    count, rest = counted(line)
    return [count + rest] if count and rest and rest[0].low in COUNTED else None


SEPARATORS = (",", "w/", "with", "and", "&", ";")


def pieces_apart(line: Line) -> list[Line]:
    """The parts of a line that says several things: ``4 square deep w/ mud ring, clamps inside``; none for any other."""
    out: list[Line] = [[]]
    for token in line:
        if token.low in SEPARATORS:
            out.append([])
        else:
            out[-1].append(token)
    return [piece for piece in out if piece] if len(out) > 1 else []


def and_more(line: Line) -> tuple[list[Line], Line]:
    """What else is said of a box after ``w/`` or a comma, as plain lines, and the rest: where the box is."""
    more: list[Line] = []
    while line and line[0].low in SEPARATORS:
        end = next(
            (place for place in range(1, len(line)) if line[place].low in (*SEPARATORS, "at", "for", "@")), len(line)
        )
        piece = line[1:end]
        plain = [piece] if piece and piece[0].low in UNDER else next(under_a_box(piece), None)
        if plain is None:
            break
        more += plain
        line = line[end:]
    return more, line
