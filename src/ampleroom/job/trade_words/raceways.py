"""A raceway in the words of the trade: ``conduit R1 P to J9 3/4" EMT 62' 3 90s``, ``sch 40 PVC 1-1/4``."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.nicknames import ASKED_RACEWAYS, COUNTS, RACEWAYS, TO
from ampleroom.job.trade_words.tokens import Line, Token, asked, phrase_at, put
from ampleroom.job.words import number_word, proper_fraction

KINDS = {kind: kind for kind in (*RACEWAY_KINDS, *ASKED_RACEWAYS)} | RACEWAYS
"""What a kind is called: the kind itself, or a name that several have."""
UNDER_EARTH = ("buried", "underground", "ug", "u/g", "direct-buried")
NIPPLE = ("how long is the nipple?", "write its length: 6 in")


def raceway(line: Line) -> Iterator[list[Line]]:
    """The plain line: name, ends with ``>`` between, kind, trade size, length, bends."""
    line = [piece for token in line if token.low not in (",", "and", "&") for piece in bend_words(token)]
    head, rest = line[:2], with_ends(line[2:])
    described, rest = kind_and_size(rest)
    if not described:
        at = next((place for place, token in enumerate(rest) if token.low == ">"), 0) + 2
        described, after = kind_and_size(rest[at:])
        rest = rest[:at] + after if described else rest
    elif len(rest) > 2:
        rest = with_ends(rest)
    ends, options = rest[:3], rest[3:]
    yield [[*head, *ends, *described, *plain_options(options)]]


def with_ends(line: Line) -> Line:
    """The line with ``>`` between its ends, where it begins with them: ``P to J9``, ``P-J9``."""
    if len(line) > 2 and line[1].low in TO:
        return [line[0], *put(">", line[1]), *line[2:]]
    if line and (both := re.fullmatch(r"([a-z]{1,3}\d{0,3})-([a-z]{1,3}\d{1,3})", line[0].low)):
        name = line[0].word
        return [*put(f"{name[: both.end(1)]} > {name[both.start(2) :]}", line[0]), *line[1:]]
    return line


def kind_and_size(line: Line) -> tuple[Line, Line]:
    """``3/4" EMT``, ``sch 40 PVC 1 1/4`` as kind and trade size, and the rest of the line; none where it begins with
    something else. A name that several kinds have is asked back.
    """
    phrase, many = phrase_at(line, 0, KINDS)
    if phrase:
        size, rest = trade_size(line[many:])
    else:
        size, rest = trade_size(line)
        phrase, many = phrase_at(rest, 0, KINDS) if size else ("", 0)
        rest = rest[many:]
    if not (phrase and size):
        return [], line
    kind, said = KINDS[phrase], line[: len(line) - len(rest)]
    if kind in ASKED_RACEWAYS:
        name, kinds = ASKED_RACEWAYS[kind]
        raise asked((f"which {name}?", "write " + ", or ".join(f"{each} {size}" for each in kinds)), said)
    return put(f"{kind} {size}", said[0], said[-1]), rest


def trade_size(line: Line) -> tuple[str, Line]:
    """``1-1/4"``, ``1 1/4``, ``1/2 in`` as a trade size, and the rest; an empty one where none stands there."""
    words = [token.low.rstrip('"”″') for token in line[:3]]
    if words[:1] == ["?"]:
        return "?", line[1:]
    if not words or number_word(words[0]) is None:
        return "", line
    if words[0].isdigit() and len(words) > 1 and proper_fraction(words[1]) is not None:
        words[:2], many = [f"{words[0]}-{words[1]}"], 2
    else:
        many = 1
    return words[0], line[many + (words[1:2] in (["in"], ["inch"])) :]


def plain_options(line: Line) -> Line:
    """Length, bends and where it runs: ``two 90s and a 45`` as ``2 bends 90 1 bends 45``, ``buried``."""
    out: Line = []
    at = 0
    while at < len(line):
        token = line[at]
        count = COUNTS.get(token.low, token.low)
        after = line[at + 1] if at + 1 < len(line) else None
        if after and count.isdigit() and (bend := re.fullmatch(r"(\d{2})(?:'?s|°)?", after.low)):
            out += put(f"{count} bends {bend[1]}", token, after)
            at += 1
        elif token.low == "nipple":
            if len(line) == 1:
                raise asked(NIPPLE, [token])
        elif token.low in UNDER_EARTH:
            out += put("underground", token)
        else:
            out.append(token)
        at += 1
    return out


def bend_words(token: Token) -> Line:
    """``3-90s`` and ``(3)`` as ``3 90s`` and ``3``."""
    if bends := re.fullmatch(r"(\d)[-x×](\d\d)(?:'?s|°)?", token.low):
        return put(f"{bends[1]} {bends[2]}", token)
    word = token.word.strip("()") if token.word != "()" else token.word
    return [token._replace(word=word)] if word and token.low not in ("x", "×") else []


__all__ = ["raceway"]
