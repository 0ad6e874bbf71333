"""Lines about the job and its places in the words of the trade: boxes with what they are, panels, circuits, raceways."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ampleroom.errors import nearest
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.nicknames import BOXES, CABLES, HEADS, PANELS, TO
from ampleroom.job.trade_words.boxes import box_alone
from ampleroom.job.trade_words.runs import is_run, run
from ampleroom.job.trade_words.tokens import Line, Token, phrase_at, put
from ampleroom.job.trade_words.under_box import and_more
from ampleroom.job.words import number_word

AMPERES = re.compile(r"(\d{1,3})-?(?:a|amps?)")
PLACE = re.compile(r"[^\W\d_][\w'’.&-]*|\d+(?:st|nd|rd|th)|@")


def place_begins(line: Line, at: int, options: Sequence[str] = ()) -> bool:
    """Whether a description may begin here though no ``at`` stands before it: no number, and no mistyped option."""
    word = line[at].low
    return word in ("in", "on", "by", "near") or (PLACE.fullmatch(word) is not None and not nearest(word, options))


def with_at(line: Line, at: int, word: str = "at") -> Line:
    """The line with the word that begins free text put in."""
    if line[at].low in ("at", "for"):
        return line
    start = at + 1 if line[at].low in ("in", "@") and at + 1 < len(line) else at
    return [*line[:at], Token(word, line[start].first, line[start].first), *line[start:]]


def free_text_at(line: Line, first: int = 0) -> int:
    """Where free text begins: at ``at`` or ``for``."""
    return next((place for place in range(first, len(line)) if line[place].low in ("at", "for", "@")), len(line))


BOX_WORDS = frozenset(word for phrase in BOXES for word in phrase.split())


def box_heads(line: Line, at: str) -> Iterator[list[Line]]:
    """``box A 4 square deep at the stair``, ``box A kitchen island``: the box on its own line, and a place without ``at``."""
    if len(line) < 3:
        return
    end = free_text_at(line, 2)
    for last in range(end, 2, -1):
        words = line[2:last]
        for plain in box_alone(words):
            more, rest = and_more(line[last:])
            rest = rest[1:] if rest and rest[0].low == "," else rest
            if (
                rest
                and rest[0].low not in ("at", "for", "@")
                and (rest[0].low in BOX_WORDS or not place_begins(rest, 0))
            ):
                continue
            head = line[:2] + (with_at(rest, 0, at) if rest else [])
            yield [head, *plain, *more]
    if end > 2 and place_begins(line, 2):
        yield [with_at(line, 2, at)]


def panel(line: Line) -> Iterator[list[Line]]:
    """``panel LP 120/208V 3ph 225A electric room``."""
    out, at, mains = line[:2], 2, False
    while at < len(line) and line[at].low not in ("at", "@"):
        phrase, many = phrase_at(line, at, PANELS)
        token = line[at]
        if many:
            out += put(PANELS[phrase], *line[at : at + many])
            mains = PANELS[phrase] == "main"
            at += many
            continue
        amperes = AMPERES.fullmatch(token.low) or (
            AMPERES.fullmatch(token.low + line[at + 1].low) if at + 1 < len(line) else None
        )
        if (
            amperes
            and not mains
            and (after := line[at + many_of(token)].low if at + many_of(token) < len(line) else "") in ("main", "bus")
        ):
            many = many_of(token) + 1
            out += put(f"{after} {amperes[1]} A", *line[at : at + many])
            at += many
            continue
        if amperes and not mains and out[-1].low not in ("main", "bus", "terminals"):
            many = many_of(token)
            out += put(f"bus {amperes[1]} A", *line[at : at + many])
            at += many
        elif (
            place_begins(line, at, ("main", "bus", "terminals", "amps", "volts", "phase"))
            and token.low not in PANEL_WORDS
        ):
            break
        else:
            out.append(token)
            at += 1
        mains = False
    rest = line[at:]
    if rest:
        out += with_at(rest, 0)
    yield [out]


def many_of(token: Token) -> int:
    """How many words an ampere rating takes: ``225A`` or ``225 A``."""
    return 1 if AMPERES.fullmatch(token.low) else 2


def circuit(line: Line) -> Iterator[list[Line]]:
    """``circuit 3 20A kitchen``: what it serves, without ``for``."""
    for at in range(3, len(line)):
        if line[at].low in ("for", "on"):
            return
        if line[at].low not in CIRCUIT_WORDS and place_begins(line, at, CIRCUIT_WORDS):
            yield [with_at(line, at, "for")]
            return


CIRCUIT_WORDS = ("continuous", "a", "amp", "amps", "v", "volts", "va", "w", "kva", "kw")
PANEL_WORDS = ("main", "bus", "terminals", "a", "amp", "amps", "v", "volts", "c", ",")


def raceway(line: Line) -> Iterator[list[Line]]:
    """``raceway R1 P to J9 3/4 EMT 62' 3 90s``."""
    out, at = line[:2], 2
    while at < len(line):
        token, after = line[at], line[at + 1] if at + 1 < len(line) else None
        kind = CABLES.get(after.low, after.low) if after else ""
        if token.low in TO:
            out += put(">", token)
        elif after and kind in RACEWAY_KINDS and number_word(token.low.rstrip('"')) is not None:
            out += put(f"{kind} {token.low.rstrip(chr(34))}", token, after)
            at += 1
        elif after and token.low.isdigit() and (bend := re.fullmatch(r"(\d{2})(?:'?s|°)?", after.low)) and len(out) > 5:
            out += put(f"{token.low} bends {bend[1]}", token, after)
            at += 1
        else:
            out.append(token)
        at += 1
    yield [out]


YEAR = re.compile(r"20\d\d")


def on_its_own(line: Line, low: list[str]) -> Iterator[list[Line]]:
    """The plain lines that a line about the job, a place or a run may stand for."""
    if line[0].word.endswith(":") and len(line[0].word) > 1:
        line = [line[0]._replace(word=line[0].word[:-1]), *line[1:]]
        low = [low[0][:-1], *low[1:]]
        yield [line]
    if low[:2] in (["junction", "box"], ["pull", "box"]):
        line = put("box", *line[:2]) + line[2:]
        low = ["box", *low[2:]]
    first = HEADS.get(low[0], low[0])
    if first != low[0]:
        line = put(first, line[0]) + line[1:]
        low = [first, *low[1:]]
        yield [line]
    years = [place for place, word in enumerate(low[:3]) if YEAR.fullmatch(word)]
    if len(years) == 1 and len(low) <= 3 and {*low} & {"code", "nec", "edition"}:
        yield [put(f"edition {low[years[0]]}", line[0], line[-1])]
    if low in (["rough"], ["rough-in"], ["rough", "in"], ["final"]) or low[0] in ("inspection", "stage"):
        yield [put("phase", line[0]) + (line[1:] if low[0] in ("inspection", "stage") else line)]
    if first in ("box", "kind"):
        yield from box_heads(line, "at" if first == "box" else "for")
    elif first == "circuit":
        yield from circuit(line)
    elif first == "equipment" and len(line) > 2 and place_begins(line, 2):
        yield [with_at(line, 2)]
    elif first == "panel" and len(line) > 2:
        yield from panel(line)
    elif first == "raceway" and len(line) > 3:
        yield from raceway(line)
    elif is_run(low):
        yield [run(line)]
