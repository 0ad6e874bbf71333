"""Lines about the job and its places in the words of the trade: boxes with what they are, panels, circuits,
raceways.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ampleroom.editions.tables import OFFERED
from ampleroom.errors import nearest
from ampleroom.job.nicknames import BOXES, DATA_CABLES, HEADS, PANELS, PARTS, TO
from ampleroom.job.trade_words.boxes import box_alone
from ampleroom.job.trade_words.raceways import raceway
from ampleroom.job.trade_words.runs import is_run, run
from ampleroom.job.trade_words.tokens import Line, Token, asked, phrase_at, put
from ampleroom.job.trade_words.under_box import SEPARATORS, and_more
from ampleroom.job.trade_words.wireways import is_wireway, wireway

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


def box_heads(line: Line, at: str, head_only: bool = True) -> Iterator[list[Line]]:
    """``box A 4 square deep at the stair``, ``box A kitchen island``: the box on its own line, and a place without
    ``at``. ``head_only``: whether the line may say no more than where the box is.
    """
    if len(line) < 3:
        return
    end = free_text_at(line, 2)
    for last in range(end, 2, -1):
        words = line[2:last]
        if words[-1].low in SEPARATORS:
            continue
        for plain in box_alone(words):
            more, rest = and_more(line[last:])
            rest = rest[1:] if rest and rest[0].low == "," else rest
            if (
                rest
                and rest[0].low not in ("at", "for", "@")
                and (rest[0].low in BOX_WORDS or phrase_at(rest, 0, PARTS)[1] or not place_begins(rest, 0))
            ):
                continue
            head = line[:2] + (with_at(rest, 0, at) if rest else [])
            yield [head, *plain, *more]
    if head_only and end > 2 and place_begins(line, 2):
        refuse_box_in_place(line, end)
        yield [with_at(line, 2, at)]


def refuse_box_in_place(line: Line, end: int) -> None:
    """Asks back where a place without ``at`` would swallow what the box is: ``box kitchen sink 4 square deep``."""
    for first in range(2, end):
        words = line[first:end]
        many = phrase_at(words, 0, PARTS)[1]
        is_box = words[0].low in (*BOX_WORDS, "4", "4-11/16") and (
            any(re.search(r"\d", token.low) for token in words) or words[0].low in SURE_IN_PLACE
        )
        if (many and first > 2) or is_box:
            name, base = line[1].word, " ".join(token.word for token in words)
            place = " ".join(token.word for token in line[2:first])
            choices = (
                f"write box {name} {base} at {place}"
                if place
                else f"write the box's own name first: box J1 {name} {base}"
            )
            raise asked(
                (f"is {base!r} the box, or where it is?", f"{choices}, or put 'at' before the place"), line[2:end]
            )


SURE_IN_PLACE = ("octagon", "oct", "square", "sq", "plastic", "handy", "pancake")
"""Words that make a box of what stands where a place may be, without a number."""


def panel(line: Line) -> Iterator[list[Line]]:
    """``panel LP 120/208V 3ph 225A electric room``."""
    out, at, mains = line[:2], 2, False
    while at < len(line) and line[at].low not in ("at", "@"):
        phrase, many = phrase_at(line, at, PANELS)
        token = line[at]
        if both := WYE.fullmatch(token.low):
            out += put(f"{both[2]}/{both[1]} V", token)
            at += 2 if at + 1 < len(line) and line[at + 1].low in ("v", "volts") else 1
            continue
        if token.low.isdigit() and at + 1 < len(line) and line[at + 1].low in SPACES:
            if line[at + 1].low in ("space", "spaces"):
                out += line[at : at + 2]
            at += 2
            continue
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
            and (after := line[at + many_of(token)].low if at + many_of(token) < len(line) else "")
            in ("main", "bus", "mcb")
        ):
            many = many_of(token) + 1
            out += put(f"{'bus' if after == 'bus' else 'main'} {amperes[1]} A", *line[at : at + many])
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


WYE = re.compile(r"(\d{3})y/(\d{3})v?")
"""``208Y/120``: the volts of a wye, the higher ones first."""
SPACES = ("space", "spaces", "circuit", "circuits", "ckt", "pole")
"""After a number: how large a panel is; only its spaces are kept."""


def many_of(token: Token) -> int:
    """How many words an ampere rating takes: ``225A`` or ``225 A``."""
    return 1 if AMPERES.fullmatch(token.low) else 2


def circuit(line: Line) -> Iterator[list[Line]]:
    """``circuit 3 20A kitchen``, ``ckt 2 20/1 kitchen``: what it serves, without ``for``."""
    line = [piece for token in line for piece in ampere_words(token)]
    for at in range(3, len(line)):
        if line[at].low in ("for", "on"):
            return
        if line[at].low in ("space", "spaces") and at + 1 < len(line) and re.match(r"\d|\?", line[at + 1].low):
            continue
        if line[at].low not in CIRCUIT_WORDS and place_begins(line, at, CIRCUIT_WORDS):
            yield [with_at(line, at, "for")]
            return
    yield [line]


def ampere_words(token: Token) -> Line:
    """``20/1``, a one-pole breaker, as ``20 A``; ``cont`` as ``continuous``; any other word as it is."""
    if breaker := re.fullmatch(r"(\d{2,3})/1", token.low):
        return put(f"{breaker[1]} A", token)
    return [token._replace(word="continuous")] if token.low == "cont" else [token]


CIRCUIT_WORDS = ("continuous", "a", "amp", "amps", "v", "volts", "va", "w", "kva", "kw")
PANEL_WORDS = ("main", "bus", "terminals", "a", "amp", "amps", "v", "volts", "c", ",")


YEAR = re.compile(r"20\d\d")
SHORT_NAME = re.compile(r"[a-z]{1,3}-?\d{1,3}[a-z]?:?")
NAMED_BOXES = ("outlet", "device", "switch", "receptacle", "light", "ceiling", "j")
"""Words before ``box`` at the head of a box, with its name after it."""


def is_short_name(low: str) -> bool:
    """Whether a word looks like the name of a place, such as ``j9`` or ``jb-1``, and is no word of the trade."""
    return SHORT_NAME.fullmatch(low) is not None


def without_brackets(token: Token) -> Token:
    """``(garage)`` without its brackets, ``deep:`` without its colon."""
    word = token.word.removeprefix("(") if ")" not in token.word[:-1] else token.word
    return token._replace(word=word.removesuffix(")").removesuffix(":") or token.word)


def on_its_own(line: Line, low: list[str]) -> Iterator[list[Line]]:
    """The plain lines that a line about the job, a place or a run may stand for."""
    if line[0].word.endswith(":") and len(line[0].word) > 1:
        line = [line[0]._replace(word=line[0].word[:-1]), *line[1:]]
        low = [low[0][:-1], *low[1:]]
        yield [line]
    if is_wireway(line):
        yield from wireway(line)
        return
    if low[:2] in (["junction", "box"], ["pull", "box"]) or (
        len(low) > 2 and low[1] == "box" and low[0] in NAMED_BOXES and is_short_name(low[2])
    ):
        line = put("box", *line[:2]) + line[2:]
        low = ["box", *low[2:]]
    if low[:2] == ["sub", "panel"]:
        line = put("panel", *line[:2]) + line[2:]
        low = ["panel", *low[2:]]
    if low[0] == "conduit" and len(low) > 2 and low[1] != "body" and is_short_name(low[1]):
        line = put("raceway", line[0]) + line[1:]
        low = ["raceway", *low[1:]]
    if is_short_name(low[0]) and low[0] not in DATA_CABLES and not is_run(low):
        yield from box_heads(put("box", line[0]) + line, "at", head_only=False)
    first = HEADS.get(low[0], low[0])
    if first in ("box", "kind", "panel", "equipment", "circuit") and len(line) > 2:
        line = [token for place, token in enumerate(line) if place < 2 or token.low not in ("-", "–", "—")]
        line = [*line[:2], *(without_brackets(token) for token in line[2:])]
        if first == "circuit" and line[-1].low in ("cont", "continuous"):
            line = [*line[:2], line[-1]._replace(word="continuous"), *line[2:-1]]
        if len(line) > 2 and line[2].low in (",", "@"):
            line = line[:2] + line[3:]
        low = [token.low for token in line]
    if first != low[0]:
        line = put(first, line[0]) + line[1:]
        low = [first, *low[1:]]
        yield [line]
    if len(low) == 1 and (joined := re.fullmatch(r"(nec|code)?-?(20\d\d)", low[0])):
        if joined[1]:
            yield [put(f"edition {joined[2]}", line[0])]
        elif int(joined[2]) in OFFERED:
            raise asked((f"is {joined[2]} the edition of the code?", f"write edition {joined[2]}"), line)
    years = [place for place, word in enumerate(low[:3]) if YEAR.fullmatch(word)]
    if len(years) == 1 and len(low) <= 3 and {*low} & {"code", "nec", "edition"}:
        yield [put(f"edition {low[years[0]]}", line[0], line[-1])]
    if low[-1] == "inspection" and len(low) > 1:
        line, low = line[:-1], low[:-1]
    if low in (["rough"], ["rough-in"], ["rough", "in"], ["final"]) or low[0] in ("inspection", "stage"):
        yield [put("phase", line[0]) + (line[1:] if low[0] in ("inspection", "stage") else line)]
    if low[0] == "panel" and len(low) > 3 and low[1] in TO:
        yield [run(line)]
    elif first in ("box", "kind"):
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
