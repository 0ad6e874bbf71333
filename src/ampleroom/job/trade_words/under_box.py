"""Lines under a box in the words of the trade, and lines that say several things at once."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ampleroom.job.lines import UNDER_A_BOX
from ampleroom.job.nicknames import ASKED, BOX_LINES, GROUND_WORDS
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
    for family in (whole_line, weight, pigtails, question, conduit_body, part, device, box, count_alone):
        plain = family(line)
        if plain is not None:
            yield plain


def question(line: Line) -> list[Line] | None:
    """Asks back what a word with several meanings means: ``divider``, but not ``metal divider``; None for any other
    line. Raises ``AskedBack``.
    """
    if len(line) == 2 and line[0].low in ("metal", "plastic") and line[1].low in ("divider", "partition", "barrier"):
        return [put(f"barrier {line[0].low}", *line)]
    rest = counted(line)[1]
    phrase, many = phrase_at(rest, 0, dict.fromkeys(ASKED, ""))
    if many and (many == len(rest) or rest[0].low not in UNDER):
        raise asked(ASKED[phrase], line)
    return None


def whole_line(line: Line) -> list[Line] | None:
    """A phrase that stands for a whole line, such as ``smoke detector``; None for any other."""
    count, rest = counted(line)
    phrase, many = phrase_at(rest, 0, BOX_LINES)
    if not many and rest:
        plural = [*rest[:-1], rest[-1]._replace(word=rest[-1].word + "s")]
        phrase, many = phrase_at(plural, 0, BOX_LINES)
        if many != len(rest):
            return None
    if not many:
        return None
    plain = BOX_LINES[phrase]
    if phrase == "fan box" and len(rest) > many:
        return None
    return [count + put(plain, *rest[:many]) + in_pounds(rest[many:])]


def in_pounds(line: Line) -> Line:
    """``35#`` after what a box carries, as ``35 lb``."""
    if len(line) == 1 and (pounds := re.fullmatch(r"(\d{1,3})#", line[0].low)):
        return put(f"{pounds[1]} lb", line[0])
    return line


def weight(line: Line) -> list[Line] | None:
    """``fan 40 lb``, ``35# fan``: what hangs on the box."""
    fans = [token for token in line if token.low == "fan"]
    pounds = re.fullmatch(
        r"(\d{1,3})(?:#| ?lbs?)", " ".join(token.low for token in line if token.low not in ("fan", "ceiling", "paddle"))
    )
    return [put(f"carries fan {pounds[1]} lb", line[0], line[-1])] if len(fans) == 1 and pounds else None


def pigtails(line: Line) -> list[Line] | None:
    """``#12 ground pigtail``, ``3 grounding pigtails #12``: conductors that never leave the box."""
    count, rest = counted(line)
    if not any(token.low in ("pigtail", "pigtails") for token in rest[:3]) or rest[0].low in ("pigtail", "pigtails"):
        return None
    sizes = [token for token in rest if token.low.startswith("#")]
    grounds = [token for token in rest if token.low in (*GROUND_WORDS, "grounding", "green")]
    if len(sizes) > 1 or len(rest) != 1 + len(sizes) + len(grounds):
        return None
    name = next(token for token in rest if token.low in ("pigtail", "pigtails"))
    return [count + put("pigtail", name) + sizes + (put("ground", grounds[0]) if grounds and sizes else [])]


def count_alone(line: Line) -> list[Line] | None:
    """``3 pigtails #12``: a count without its x."""
    count, rest = counted(line)
    return [count + rest] if count and rest and rest[0].low in COUNTED else None


SEPARATORS = (",", "w/", "with", "and", "&", ";", "+", "plus")


def pieces_apart(line: Line) -> list[Line]:
    """The parts of a line that says several things: ``4 square deep w/ mud ring, clamps inside``; none for any
    other.
    """
    out: list[Line] = [[]]
    for token in line:
        if token.low in SEPARATORS:
            out.append([])
        else:
            out[-1].append(token)
    return [piece for piece in out if piece] if len(out) > 1 and out[0] and out[-1] else []


def and_more(line: Line) -> tuple[list[Line], Line]:
    """What else is said of a box after ``w/`` or a comma, as plain lines, and the rest: where the box is."""
    more: list[Line] = []
    while line and line[0].low in SEPARATORS:
        end = next(
            (place for place in range(1, len(line)) if line[place].low in (*SEPARATORS, "at", "for", "@")), len(line)
        )
        piece = line[1:end]
        plain = next(under_a_box(piece), None)
        if plain is None and piece and piece[0].low in UNDER:
            plain = [piece]
        if plain is None:
            break
        more += plain
        line = line[end:]
    return more, line
