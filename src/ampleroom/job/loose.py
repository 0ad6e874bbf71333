"""From what people type to the plain form of a sheet. Tried only on a line that cannot be read as it stands.

Each family gives one way to write the line plainly; whoever asks reads it by the usual grammar, which has the last word.
So nothing that is readable changes its meaning, and no second grammar grows here. A word of the plain form remembers the
words it stands for, so that a fault still points at what was typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from ampleroom.errors import nearest
from ampleroom.job.lines import UNDER_A_BOX
from ampleroom.job.lines.box_base import BODIES, standard_sizes
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.runs import CABLE_KINDS, cable_word
from ampleroom.job.model import PANEL_END
from ampleroom.job.nicknames import (
    ASKED,
    BOX_LINES,
    BOXES,
    CABLES,
    CONTROL_CABLES,
    COUNTS,
    DATA_CABLES,
    DEPTHS,
    DEVICES,
    GROUND_WORDS,
    GROUNDS,
    HEADS,
    HOMERUNS,
    PANELS,
    PARTS,
    TO,
)
from ampleroom.job.trade import DEVICE_KINDS, RANK
from ampleroom.job.trade import DEVICES as DEVICE_WORDS
from ampleroom.job.words import JOINED, VOLUMES, AskedBack, number_word, proper_fraction, size_word


class Token(NamedTuple):
    """A word, and the first and last word as written that it stands for."""

    word: str
    first: int
    last: int

    @property
    def low(self) -> str:
        return self.word.lower()


Line = list[Token]
UNDER = frozenset(word for statement in UNDER_A_BOX for word in statement.words)
COUNTED = frozenset(word for statement in UNDER_A_BOX if statement.counted for word in statement.words)


def tokens_of(said: Sequence[str]) -> Line:
    return [Token(word, place, place) for place, word in enumerate(said)]


def put(text: str, *stands_for: Token) -> Line:
    """Words of the plain form in place of some that were typed."""
    first, last = stands_for[0].first, stands_for[-1].last
    return [Token(word, first, last) for word in text.split()]


def asked(question: tuple[str, str], line: Line) -> AskedBack:
    return AskedBack(line[0].first, line[-1].last, *question)


def phrase_at(line: Line, at: int, table: dict[str, str], most: int = 3) -> tuple[str, int]:
    """The longest phrase of a table that stands at a place, and how many words it has; an empty one and 0 for none."""
    for many in range(min(most, len(line) - at), 0, -1):
        phrase = " ".join(token.low for token in line[at : at + many])
        if phrase in table:
            return phrase, many
    return "", 0


def may_mean_something(low: Sequence[str]) -> bool:
    """Whether a line whose first word nobody knows holds any word of the trade, or a number: a file of rubbish is many lines."""
    return any(word[0] in "0123456789#(" or word in KNOWN or singular(word) in KNOWN or "/" in word for word in low)


# ---- lines under a box ---------------------------------------------------------------------------------------------


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


def counted(line: Line) -> tuple[Line, Line]:
    """``2 x``, ``2x``, ``two``, ``2`` before what there are two of, as ``2 x``; and the rest of the line."""
    if len(line) < 2 or phrase_at(line, 0, DEVICES, 2)[1] == 2:
        return [], line
    word = COUNTS.get(line[0].low, line[0].low)
    joined = re.fullmatch(r"(\d+)x", word)
    number = joined[1] if joined else word
    if not number.isdigit():
        return [], line
    rest = line[2:] if not joined and line[1].low in ("x", "×", "ea", "each") else line[1:]
    return ([] if number == "1" else put(f"{number} x", line[0])), rest


def singular(word: str) -> str:
    for end, instead in (("switches", "switch"), ("xes", "x"), ("s", "")):
        if word.endswith(end) and len(word) > 3:
            return word.removesuffix(end) + instead
    return word


def whole_line(line: Line) -> list[Line] | None:
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


BODY_SIZE = re.compile(r"(\d{1,2}(?:-\d/\d)?|\d/\d)\"?")


def conduit_body(line: Line) -> list[Line] | None:
    """``LB 3/4``, ``3/4 LB``, ``3/4" EMT LB``: a conduit body by its type and trade size."""
    words = [token.low for token in line]
    types = [place for place, word in enumerate(words[:3]) if word in BODIES]
    sizes = [place for place, word in enumerate(words[:3]) if BODY_SIZE.fullmatch(word)]
    if len(types) != 1 or not sizes or (types[0] and len(words[types[0]]) == 1):
        return None
    beside = [place for place in (types[0] - 1, types[0] + 1) if place in sizes]
    if not beside:
        return None
    sizes = beside
    size = words[sizes[0]].rstrip('"')
    kinds = [
        place for place, word in enumerate(words) if word in RACEWAY_KINDS and (not place or words[place - 1] != "on")
    ]
    taken = {types[0], sizes[0], *kinds}
    rest = [token for place, token in enumerate(line) if place not in taken and token.low not in ("conduit", "body")]
    on = f"on {words[kinds[0]]}" if kinds else ""
    rest_volume = [Token("marked", t.first, t.first) for t in rest[:1] if number_word(t.low) is not None]
    return [put(f"conduit body {words[types[0]]} {size} {on}", line[0], line[-1]) + rest_volume + rest]


def part(line: Line) -> list[Line] | None:
    """``ext ring``, ``1-gang mud ring 5/8``: a ring or cover, its rise and its volume."""
    for at in range(len(line)):
        phrase, many = phrase_at(line, at, PARTS)
        if many:
            break
    else:
        return None
    out = put(PARTS[phrase], *line[at : at + many])
    rest = line[:at] + line[at + many :]
    if (
        PARTS[phrase] == "extension ring"
        and (shape := box(rest)) is not None
        and shape[0][0].word in ("square", "octagon", "device")
    ):
        return [out + shape[0]]
    for place, token in enumerate(rest):
        gang = gangs_of(rest, place)
        following = rest[place + 1].low if place + 1 < len(rest) else ""
        if gang:
            out += put(f"{gang}-gang", token)
        elif token.low in ("gang", "rise", "raised", "flat", "box"):
            continue
        elif (rise := proper_fraction(token.low.rstrip('"'))) is not None and rise < 2 and not is_unit(following):
            out += put(f"{token.low.rstrip(chr(34))} in deep", token)
        else:
            out.append(token)
    return [out]


def is_unit(word: str) -> bool:
    return word in ("in", "in.", "inch", "cu", "cu.", "cubic", "deep") or word in VOLUMES


GANG_WORDS = {
    "single": "1",
    "one": "1",
    "double": "2",
    "two": "2",
    "three": "3",
    "triple": "3",
    "four": "4",
    "quad": "4",
}
GANGS = re.compile(r"(\d{1,2}|[a-z]+)-?(?:gang|g)")


def gangs_of(line: Line, at: int) -> str:
    """How many gangs ``2-gang``, ``2g``, ``single-gang`` or the two words ``single gang`` say; an empty one for none."""
    word = line[at].low
    if joined := GANGS.fullmatch(word):
        number = GANG_WORDS.get(joined[1], joined[1])
        return number if number.isdigit() else ""
    if at + 1 < len(line) and line[at + 1].low in ("gang", "gangs"):
        number = GANG_WORDS.get(word, word)
        return number if number.isdigit() else ""
    return ""


DEFAULT_DEVICE = {"usb": "receptacle", "single": "receptacle", "locking": "receptacle", "range": "receptacle", "dryer": "receptacle",
                  "weather": "receptacle", "isolated-ground": "receptacle", "tamper-resistant": "receptacle"}  # fmt: skip
AMPERES = re.compile(r"(\d{1,3})-?(?:a|amps?)")
VOLTS = re.compile(r"(\d{2,3})-?v(?:olts?)?")


def device(line: Line) -> list[Line] | None:
    """``GFI``, ``2 duplex receptacles 20A``, ``sp switch``: devices, with their plain names first."""
    count, rest = counted([piece for token in line for piece in parted_names(token)])
    if not rest or rest[0].low == "?":
        return None
    names: list[list[Token]] = [[]]
    after: Line = []
    at = 0
    while at < len(rest):
        token = rest[at]
        if token.low == "for":
            after += rest[at:]
            break
        phrase, many = device_phrase(rest, at)
        if many and at and rest[at - 1].low == ",":
            return None
        if phrase == "combo" and len(names) == 2:
            at += many
            continue
        if many and not after_takes(after):
            stands = rest[at : at + many]
            add_name(names[-1], put(DEVICES.get(phrase, phrase), *stands))
            at += many
        elif token.low in ("+", "/", "&") and names[-1] and not after:
            names.append([])
            at += 1
        elif token.low in ("with", "w/", "ea", "each"):
            at += 1
        elif token.low in ("amp", "a", "v", "volt") and after and after[-1].word.isdigit():
            after += put("A" if token.low in ("amp", "a") else "V", token)
            at += 1
        else:
            after.append(token)
            at += 1
    if not names[0] or not names[-1]:
        return None
    said: Line = []
    for several in names:
        said += ([Token("+", several[0].first, several[0].first)] if said else []) + complete(several)
    return [count + said + after]


def after_takes(after: Line) -> bool:
    """Whether the next word belongs to one before it, as in ``leads 3 x #18`` or ``pigtail #14``."""
    return bool(after) and after[-1].low in ("projects", "on")


def device_phrase(line: Line, at: int) -> tuple[str, int]:
    """A device's name, or a word of one, singular or plural."""
    for many in (3, 2, 1):
        words = [token.low for token in line[at : at + many]]
        if len(words) == many:
            for last in (words[-1], singular(words[-1])):
                phrase = " ".join([*words[:-1], last])
                if phrase in DEVICES or (many == 1 and phrase in (*DEVICE_WORDS, *DEVICE_KINDS)):
                    return phrase, many
    return "", 0


def parted_names(token: Token) -> Line:
    """``switch/receptacle`` as three words."""
    both = token.low.split("/")
    if len(both) == 2 and all(singular(word) in DEVICE_WORDS for word in both):
        return put(" + ".join(both), token)
    return [token]


def add_name(name: Line, more: Line) -> None:
    """Joins a word to a device's name. The device that a nickname stands for gives way to one that is written, as in
    ``3-way dimmer``; one that is written twice stays once, as in ``sp switch``."""
    if (
        name and name[-1].word in DEVICE_WORDS and (name[-1].word not in DEVICE_KINDS or name[-1].word == more[-1].word)
    ) or (len(name) > 1 and name[-1].word == "switch" and name[-1].first == name[-2].first):
        name.pop()
    name += more


def complete(name: Line) -> Line:
    """A name that ends in a device's word."""
    if name[-1].word in DEVICE_WORDS:
        return name
    return name + put(DEFAULT_DEVICE.get(name[-1].word, "switch" if name[-1].word == "pilot" else "device"), name[-1])


# ---- what a box is -------------------------------------------------------------------------------------------------

NUMBER_IN_A_SIZE = re.compile(r"(\d[\d./-]*|[½¼¾⅛⅜⅝⅞]|\d[½¼¾⅛⅜⅝⅞])(?:\"|″|”|in\.?|inch)?")
FACE_AND_SHAPE = re.compile(r"(4-11/16|4|5)\"?-?(sq|square|s|oct|octagon|round)\.?")


def pieces_of(line: Line) -> Line:
    """The words of a line about a box, with sizes taken apart: ``4x4x1-1/2"`` and ``4sq`` as several words."""
    out: Line = []
    for token in line:
        word = token.low
        if joined := FACE_AND_SHAPE.fullmatch(word):
            out += put(f"{joined[1]} {'square' if joined[2].startswith('s') else 'octagon'}", token)
        elif re.fullmatch(r"[\d./\"″”½¼¾⅛⅜⅝⅞-]+(?:[x×][\d./\"″”½¼¾⅛⅜⅝⅞?-]+)+(?:in\.?)?", word):
            out += put(re.sub("[x×]", " x ", word), token)
        else:
            out.append(token._replace(word=word))
    return out


BARE_VOLUME = re.compile(r"[1-9]\d?(?:\.\d+)?")
"""A marking without its unit is cubic inches as long as it cannot be cubic centimeters: no box has under 100 of those."""


class BoxWords:
    """What the words of one line say of a box, collected in any order."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.shape = self.face = self.depth = self.rank = self.gangs = self.material = self.way = ""
        self.numbers: list[str] = []
        self.volume = ""
        self.fan = self.said_box = self.said_marked = False

    def read(self) -> bool:
        """Whether every word is one about a box."""
        line, at = pieces_of(self.line), 0
        if line[-1].word in ("x", "×", "by"):
            return False
        while at < len(line):
            step = (
                self.volume_at(line, at)
                or self.gangs_at(line, at)
                or self.nickname_at(line, at)
                or self.size_at(line, at)
            )
            if not step:
                return False
            at += step
        return True

    def volume_at(self, line: Line, at: int) -> int:
        word = line[at].low
        joined = JOINED.fullmatch(word)
        if joined and joined[2] in VOLUMES and number_word(joined[1]) is not None:
            self.volume = f"{joined[1]} {joined[2]}"
            return 1
        if number_word(word) is None and word != "?":
            return 0
        for many in (2, 1):
            unit = " ".join(token.low.rstrip(".") for token in line[at + 1 : at + 1 + many])
            if len(line) > at + many and unit in (*VOLUMES, "cu in", "cubic inch", "cuin"):
                metric = VOLUMES.get(unit, Decimal(1)) is None
                self.volume = f"{word} {'cm3' if metric else 'in3'}"
                return 1 + many
        return 0

    def gangs_at(self, line: Line, at: int) -> int:
        gangs = gangs_of(line, at)
        if gangs:
            self.gangs = gangs
            return 1 if GANGS.fullmatch(line[at].low) else 2
        return 0

    def nickname_at(self, line: Line, at: int) -> int:
        phrase, many = phrase_at(line, at, BOXES)
        if not many:
            phrase, many = phrase_at(line, at, dict.fromkeys(ASKED, ""))
            if many and phrase.startswith("5 "):
                raise asked(ASKED[phrase], self.line)
            return 0
        for fact in BOXES[phrase].split(", "):
            words = fact.split()
            if fact in ("deep", "shallow"):
                self.rank = fact
            elif fact in ("plastic", "metal"):
                self.material = fact
            elif words[0] == "mounted":
                self.way = words[1]
            elif fact == "rated fan":
                self.fan = True
            elif fact == "any":
                self.said_box = self.said_box or phrase == "box"
                self.said_marked = self.said_marked or phrase == "marked"
            elif not self.shape:
                self.shape = words[0]
                sizes = fact.removeprefix(words[0]).strip().split(" x ")
                if words[0] == "device" and len(sizes) == 2:
                    self.face = " x ".join(sizes)
                else:
                    self.face, self.depth = (*sizes, "", "")[:2]
        return many

    def size_at(self, line: Line, at: int) -> int:
        word = line[at].low
        if word in ("x", "×", "by", "in", "in.", '"', "inch", ",", "a", "the"):
            return 1
        if word == "?":
            self.numbers.append("?")
            return 1
        match = NUMBER_IN_A_SIZE.fullmatch(word)
        value = number_word(match[1]) if match else None
        if match is None or value is None:
            return 0
        if at + 1 < len(line) and match[1].isdigit() and proper_fraction(line[at + 1].low.rstrip('"')) is not None:
            self.numbers.append(f"{match[1]}-{line[at + 1].low.rstrip(chr(34))}")
            return 2
        self.numbers.append(match[1])
        return 1

    # ---- what it comes to ------------------------------------------------------------------------------------------

    def plain(self) -> list[Line] | None:
        base = self.base()
        if base is None:
            return None
        texts = [base] if base else []
        if self.way:
            texts.append(f"mounted {self.way}")
        if self.fan:
            texts.append("rated fan")
        return [put(text, self.line[0], self.line[-1]) for text in texts] or None

    def base(self) -> str | None:
        """The plain line for the box itself; an empty one where no more is said than what it carries or how it sits."""
        self.guess_shape()
        more = " ".join(filter(None, (self.material, f"{self.gangs}-gang" if self.gangs else "")))
        if self.shape == "pancake":
            sizes = [number for number in self.numbers if number != "?" and (number_word(number) or 9) < 2]
            depth = f"{sizes[0]} in deep" if sizes else ""
            return " ".join(f"marked {self.volume or '? in3'} {more} {depth}".split())
        if self.shape:
            size = self.size()
            return " ".join(f"{self.shape} {size} {f'marked {self.volume}' if self.volume else ''} {more}".split())
        if self.numbers:
            said_more = self.gangs or self.material or self.way or self.fan or self.said_box or self.said_marked
            if len(self.numbers) != 1 or self.volume or not said_more or not BARE_VOLUME.fullmatch(self.numbers[0]):
                return None
            self.volume = f"{self.numbers[0]} in3"
        if self.volume or self.gangs or self.material:
            return f"marked {self.volume or '? in3'} {more}".strip()
        if self.fan or self.way:
            return ""
        return "marked ? in3" if self.said_box else None

    def guess_shape(self) -> None:
        """The shape that sizes alone tell."""
        values = [number_word(number) if number != "?" else None for number in self.numbers]
        if self.shape or not values or values[0] is None:
            return
        square = Decimal("4.6875")
        if values[0] == square:
            self.shape = "square"
        elif len(values) == 3 and values[0] == values[1]:
            if values[0] >= 6:
                raise asked(
                    (
                        f"are {' x '.join(self.numbers)} inside measurements?",
                        f"write inside {' x '.join(self.numbers)} in, or the volume marked in it",
                    ),
                    self.line,
                )
            self.shape = "square"
        elif len(values) == 3 and values[0] is not None and values[0] <= 4:
            self.shape = "masonry" if values[0] == Decimal("3.75") else "device"
        elif len(values) == 2 and values[0] == 4 and values[1] is not None and values[1] >= 1:
            depth = self.numbers[1]
            raise asked(
                (f"which box is {' x '.join(self.numbers)}?", f"write square 4 x {depth}, or octagon 4 x {depth}"),
                self.line,
            )
        elif len(values) == 2 and values[0] == 4 and values[1] is not None:
            self.shape = "pancake"

    def size(self) -> str:
        """Face and depth, ``?`` for a depth that is not said."""
        numbers = list(self.numbers)
        if self.shape in ("square", "octagon"):
            if self.face and numbers and number_word(numbers[0]) == number_word(self.face):
                numbers.pop(0)
            elif not self.face and numbers:
                self.face = numbers.pop(0)
            if numbers and len(numbers) > 1 and number_word(numbers[0]) == number_word(self.face):
                numbers.pop(0)
            if not self.face:
                sizes = list(standard_sizes(self.shape))
                faces = " or ".join(dict.fromkeys(f"{self.shape} {name.rpartition(' x ')[0]} x ?" for name in sizes))
                raise asked(
                    (f"how large is the {self.shape} box?", f"write {faces}, with its depth for the ? if it is known"),
                    self.line,
                )
        elif self.shape in ("device", "masonry"):
            if self.face:
                while len(numbers) > 1:
                    numbers.pop(0)
            elif len(numbers) >= 2:
                two = [numbers.pop(0), numbers.pop(0)]
                self.face = "4 x 2-1/8" if set(two) == {"4", "2"} else " x ".join(two)
            else:
                self.face = " x ".join(numbers)
                numbers = []
        if numbers:
            self.depth = numbers.pop(0)
        is_1900 = not self.numbers and self.depth == "1-1/2" and self.face == "4"
        if self.rank and (self.depth in ("", "?") or is_1900):
            self.depth = self.depth_by_rank()
        return " x ".join(filter(None, (self.face, self.depth or "?", *numbers)))

    def depth_by_rank(self) -> str:
        if (depth := DEPTHS.get((self.shape, self.face, self.rank))) is not None:
            return depth
        depths = [
            name.rpartition(" x ")[2] for name in standard_sizes(self.shape) if name.startswith(f"{self.face} x ")
        ]
        several = depths[:2] if self.rank == "shallow" else depths[-2:]
        choices = " or ".join(f"{self.shape} {self.face} x {depth}" for depth in several)
        raise asked((f"how deep is the {self.rank} box?", f"write {choices}"), self.line)


def box(line: Line) -> list[Line] | None:
    """``1900 box``, ``4 square deep``, ``2-gang plastic 32 cu in``: what a box is, in any order of words."""
    if not line:
        return None
    found = BoxWords(line)
    return found.plain() if found.read() else None


def box_alone(line: Line) -> Iterator[list[Line]]:
    """What a box is, if the words after its name say that and no more."""
    if any(token.low in SURE_BOX or re.search(r"\d", token.low) for token in line):
        plain = conduit_body(line) if len(line) < 4 else None
        plain = plain or box(line)
        if plain is not None:
            yield plain


# ---- heads ---------------------------------------------------------------------------------------------------------

PLACE = re.compile(r"[^\W\d_][\w'’.&-]*|\d+(?:st|nd|rd|th)|@")
SURE_BOX = ("box", "gang", "handy", "pancake", "single")


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


SEPARATORS = (",", "w/", "with", "and", "&", ";")
BOX_WORDS = frozenset(word for phrase in BOXES for word in phrase.split())


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
        number = AMPERES.fullmatch(token.low) or (
            AMPERES.fullmatch(token.low + line[at + 1].low) if at + 1 < len(line) else None
        )
        if (
            number
            and not mains
            and (after := line[at + many_of(token)].low if at + many_of(token) < len(line) else "") in ("main", "bus")
        ):
            many = many_of(token) + 1
            out += put(f"{after} {number[1]} A", *line[at : at + many])
            at += many
            continue
        if number and not mains and out[-1].low not in ("main", "bus", "terminals"):
            many = many_of(token)
            out += put(f"bus {number[1]} A", *line[at : at + many])
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


# ---- runs ----------------------------------------------------------------------------------------------------------


def homerun_words(low: Sequence[str]) -> int:
    return next((len(words) for words in HOMERUNS if tuple(low[: len(words)]) == words), 0)


def is_run(low: Sequence[str]) -> bool:
    """Whether a line is a run, its first word written or not: ``A - B 12-2``."""
    if low[0] in ("run", "wires", "pull") or homerun_words(low):
        return True
    if conductors_first(low):
        return True
    arrows = "→" in low[0] or (len(low) > 1 and low[0].endswith("-") and low[1] == ">")
    return arrows or (len(low) > 2 and low[1] in TO)


def conductors_first(low: Sequence[str]) -> bool:
    """``12-2 from A to B``: the conductors stand before the places."""
    begins = (
        cable_word(low[0]) is not None
        or low[0].startswith("#")
        or low[0] in CABLE_KINDS
        or low[0].rstrip("x").isdigit()
    )
    return begins and any(word in TO for word in low[2:-1])


def places_first(line: Line, start: int) -> Line:
    """The line with its places moved to the front, where conductors stand before them."""
    low = [token.low for token in line]
    if not conductors_first(low[start:] or [""]):
        return line
    first = next(place for place in range(start + 2, len(low) - 1) if low[place] in TO) - 1
    last = first + 3
    while last + 1 < len(low) and low[last] in TO:
        last += 2
    before = line[start : first - 1] if low[first - 1] == "from" else line[start:first]
    return [*line[:start], *line[first:last], *before, *line[last:]]


class RunWords:
    """The words of a run put in the plain form, from left to right."""

    def __init__(self, line: Line) -> None:
        self.line = [piece for token in line for piece in self.parted(token)]
        self.low = [token.low for token in self.line]
        self.out: Line = []
        self.i = 0

    @staticmethod
    def parted(token: Token) -> Line:
        """``A→B``, ``3-#12``, ``12/2wg`` and ``12/2nm-b`` as several words."""
        word = token.word
        if "→" in word and len(word) > 1:
            return put(word.replace("→", " > "), token)
        word = re.sub(r"^\((\d+)\)", r"\1 ", word).strip("()") or word
        word = re.sub(r"^(\d+)\s*-?#(?=\d)", r"\1 #", word)
        if joined := re.fullmatch(r"(#?\d{1,2}[/-]\d)-?([a-zA-Z].*)", word):
            word = f"{joined[1]} {joined[2]}"
        return put(word, token)

    def peek(self, ahead: int = 0) -> str:
        return self.low[self.i + ahead] if self.i + ahead < len(self.low) else ""

    def plain(self) -> Line:
        head = homerun_words(self.low)
        is_homerun = head > 0
        if self.low[0] in ("run", "wires", "pull"):
            head = 1
            more = homerun_words(self.low[1:])
            is_homerun, head = more > 0, head + more
        self.line = places_first(self.line, head)
        self.low = [token.low for token in self.line]
        self.i = head
        self.out = put("run", self.line[0])
        if self.peek() == "from":
            self.i += 1
        self.stops(is_homerun)
        while self.i < len(self.line):
            if self.peek() == "for":
                self.out += self.line[self.i :]
                break
            self.one()
        return self.out

    def stops(self, is_homerun: bool) -> None:
        stops: Line = []
        while self.i < len(self.line):
            token = self.line[self.i]
            self.i += 1
            if token.word.endswith("-") and self.peek() == ">":
                token = token._replace(word=token.word[:-1])
            if token.low == "?" or cable_word(token.low) is None:
                stops.append(token)
            else:
                self.i -= 1
                break
            if self.peek() in TO:
                self.i += 2 if self.peek() == "-" and self.peek(1) == ">" else 1
                continue
            break
        if is_homerun and len(stops) == 1:
            stops.insert(0, Token(PANEL_END, self.line[0].first, self.line[0].last))
        for place, token in enumerate(stops):
            self.out += ([Token(">", token.first, token.first)] if place else []) + [token]

    def take(self, many: int) -> Line:
        stands = self.line[self.i : self.i + many]
        self.i += many
        return stands

    def one(self) -> None:
        """The next word or phrase."""
        word, after = self.peek(), self.peek(1)
        plain = CABLES.get(word, word)
        if plain in ("circuit", "circuits"):
            self.out += put("circuit", *self.take(1))
            self.out += [token._replace(word=token.word.lstrip("#")) for token in self.take(1)]
        elif plain in ("through", "by"):
            self.out += put(plain, *self.take(1)) + self.take(1)
        elif word in GROUNDS or (word in ("w", "w/", "with", "+", "&", "and") and after in GROUND_WORDS):
            self.ground(1 if word in GROUNDS else 2)
        elif word in ("w", "w/", "with") and size_word(after):
            self.out += put(",", *self.take(1))
        elif word in GROUND_WORDS:
            self.out += put("ground", *self.take(1))
        elif (
            self.low_voltage()
            or self.service_entrance()
            or self.old_wire()
            or self.raceway()
            or self.kind_first()
            or self.count()
        ):
            return
        elif word in ("cable", "wire") and self.out[-1].low in (*CABLE_KINDS, "old", "?"):
            self.i += 1
        elif plain != word:
            self.out += put(plain, *self.take(1))
        else:
            self.out += self.take(1)

    def ground(self, many: int) -> None:
        """``w/g`` after a cable; ``with ground #10`` says which."""
        stands = self.take(many)
        is_size = self.peek().startswith("#") or (size_word(self.peek()) not in ("",) and self.peek() != "?")
        self.out += put(", ground" if is_size else "with ground", *stands)

    def count(self) -> bool:
        """``3 #12``, ``2 12/2``, ``two cat6``: a count without its x."""
        word, after = COUNTS.get(self.peek(), self.peek()), self.peek(1)
        if not word.isdigit() or not (after.startswith("#") or cable_word(after) is not None):
            return False
        self.out += put(f"{word} x", *self.take(1))
        return True

    def number_before(self) -> tuple[int, int]:
        """A count at the cursor, and how many words it takes."""
        word = COUNTS.get(self.peek(), self.peek())
        if joined := re.fullmatch(r"(\d{1,2})x", word):
            return int(joined[1]), 1
        if word.isdigit() and len(word) < 3:
            return int(word), 2 if self.peek(1) in ("x", "×") else 1
        return 1, 0

    def low_voltage(self) -> bool:
        """``18/5 thermostat``, ``2 cat6``: class 2 conductors."""
        number, many = self.number_before()
        word, after = self.peek(many), self.peek(many + 1)
        data = DATA_CABLES.get(word.replace("-", "")) or DATA_CABLES.get((word + after).replace("-", ""))
        if data is not None:
            many += 1 if word.replace("-", "") in DATA_CABLES else 2
            count, size = int(data[0]) * number, data[1]
        else:
            cable = re.fullmatch(r"(\d\d)[/-](\d{1,2})", word)
            if cable is None or after not in CONTROL_CABLES:
                return False
            many += 2
            count, size = int(cable[2]) * number, cable[1]
        if self.peek(many) in ("cable", "wire"):
            many += 1
        self.out += put(f"{count} x #{size} class 2", *self.take(many))
        return True

    def service_entrance(self) -> bool:
        """``4/0-4/0-4/0-2/0 SER``, ``SEU 2-2-4``: cables by the size of each conductor."""
        many = 1
        word, after = self.peek(), self.peek(1)
        if word in ("ser", "seu") and "-" in after:
            kind, sizes, many = word, after, 2
        elif after in ("ser", "seu"):
            kind, sizes, many = after, word, 2
        elif word == "seu":
            kind, sizes = word, ""
        else:
            return False
        each = sizes.split("-")
        if kind == "seu":
            if len(each) != 3 or each[0] != each[1] or not all(size in RANK for size in each):
                raise asked(
                    ("which wires are in the SEU?", "write them: 2 x #6, #6"), self.line[self.i : self.i + many]
                )
            self.out += put(f"2 x #{each[0]} , #{each[2]}", *self.take(many))
            return True
        if len(each) != 4 or len({*each[:3]}) != 1 or not all(size in RANK for size in each):
            return False
        self.out += put(f"{each[0]}/3 ser , ground #{each[3]}", *self.take(many))
        return True

    def old_wire(self) -> bool:
        """``14/2 K&T``: two single conductors; ``K&T`` alone is asked back."""
        word, after = self.peek(), self.peek(1)
        cable = cable_word(word)
        if CABLES.get(after) == "knob-and-tube" and cable is not None and cable[1].isdigit():
            self.out += put(f"{cable[1]} x #{cable[0]} knob-and-tube", *self.take(2))
            return True
        if CABLES.get(word) == "knob-and-tube" and not any("#" in token.word for token in self.out):
            raise asked(
                ("how many knob-and-tube wires?", "write them: 2 x #14 knob-and-tube, or 2 x #? knob-and-tube"),
                self.line[self.i : self.i + 1],
            )
        return False

    def raceway(self) -> bool:
        """``in 3/4" EMT``, ``3/4 EMT``, ``in EMT 3/4``, ``then 3/4 EMT``: a raceway with no name."""
        start = 1 if self.peek() in ("in", "then") else 0
        joined = self.peek() if start else "in"
        one, other = self.peek(start).rstrip('"'), self.peek(start + 1).rstrip('"')
        for size, kind in ((one, other), (other, one)):
            kind = CABLES.get(kind, kind)
            if number_word(size) is None:
                continue
            if kind == "pvc":
                raise asked(
                    ("which PVC?", f"write {joined} pvc-40 {size}, or {joined} pvc-80 {size}"),
                    self.line[self.i : self.i + start + 2],
                )
            if kind in RACEWAY_KINDS:
                self.out += put(f"{joined} {kind} {size}", *self.take(start + 2))
                if self.peek() in ("conduit", "pipe"):
                    self.i += 1
                return True
        return False

    def kind_first(self) -> bool:
        """``MC 12-2``: the kind before the size."""
        if CABLE_KINDS.get(self.peek()) is None or cable_word(self.peek(1)) is None:
            return False
        kind, size = self.take(2)
        self.out += [size, kind]
        return True


def run(line: Line) -> Line:
    return RunWords(line).plain()


KNOWN = frozenset(
    word
    for table in (
        BOXES,
        PARTS,
        BOX_LINES,
        DEVICES,
        CABLES,
        HEADS,
        COUNTS,
        ASKED,
        DEVICE_WORDS,
        DEVICE_KINDS,
        TO,
        BODIES,
    )
    for phrase in table
    for word in phrase.split()
) | {"home", "homerun", "home-run", "hr", "pull", "rough", "rough-in", "final", "inspection", "stage", "nec", "?"}
"""Every word that may begin or carry a line in the trade's words."""

__all__ = [
    "Line",
    "Token",
    "box_alone",
    "may_mean_something",
    "on_its_own",
    "pieces_apart",
    "place_begins",
    "tokens_of",
    "under_a_box",
]
