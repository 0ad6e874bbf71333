"""What a box is, in the words of the trade: ``1900 box``, ``2-gang plastic 32 cu in``, ``3/4 LB``, ``1-gang mud ring
5/8``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.lines.box_base import BODIES
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.standard_boxes import SHAPES, standard_sizes
from ampleroom.job.nicknames import ASKED, BOX_WORDS_OF_NO_ROOM, BOXES, COUNTS, DEPTHS, PARTS
from ampleroom.job.trade_words.tokens import GANGS, Line, Token, asked, gangs_of, is_unit, phrase_at, put
from ampleroom.job.words import JOINED, VOLUMES, number_word, proper_fraction

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
        elif token.low in ("gang", "rise", "raised", "flat", "box") or is_face(token, following):
            continue
        elif (rise := rise_of(token.low)) is not None and not is_unit(following):
            out += put(f"{rise} in deep", token)
        else:
            out.append(token)
    return [out]


FACES = ("square", "sq", "octagon", "oct")
"""After a number, the face of the box that a ring or cover goes on; it changes nothing in the count."""


def is_face(token: Token, following: str) -> bool:
    """Whether a word, or a number with the word after it, says on which box's face a ring goes: ``4 sq``."""
    is_number = following in FACES and number_word(token.low.rstrip('"')) is not None
    return is_number or token.low in FACES or FACE_AND_SHAPE.fullmatch(token.low) is not None


def rise_of(word: str) -> str | None:
    """``5/8``, ``1-1/2"``: how far a ring or cover stands out, in inches; None for a number that may be a volume."""
    digits = word.rstrip('"')
    value = number_word(digits)
    return digits if value is not None and "/" in digits and value < 4 else None


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
"""A marking without its unit is cubic inches as long as it cannot be cubic centimeters: no box has under 100 of
those."""


class BoxWords:
    """What the words of one line say of a box, collected in any order."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.shape = self.face = self.depth = self.rank = self.gangs = self.material = self.way = ""
        self.numbers: list[str] = []
        self.volume = ""
        self.fan = self.said_box = self.said_marked = self.existing = False
        self.unknown: Token | None = None
        """The first word that is none about a box."""

    def read(self) -> bool:
        """Whether every word is one about a box."""
        line, at = pieces_of(self.line), 0
        if line[-1].word in ("x", "×", "by"):
            return False
        while at < len(line):
            step = (
                self.nothing_at(line, at)
                or self.volume_at(line, at)
                or self.gangs_at(line, at)
                or self.nickname_at(line, at)
                or self.size_at(line, at)
            )
            if not step:
                self.unknown = line[at]
                return False
            at += step
        return True

    @staticmethod
    def nothing_at(line: Line, at: int) -> int:
        """``1/2" KOs``, ``w/ bracket``: how many words stand here that say nothing of a box's room, 0 for none."""
        for lead in (0, 1, 2):
            if at + lead < len(line) and line[at + lead].low in BOX_WORDS_OF_NO_ROOM:
                before = [token.low for token in line[at : at + lead]]
                if all(word in ("w/", "with") or NUMBER_IN_A_SIZE.fullmatch(word) for word in before):
                    return lead + 1
        return 0

    def volume_at(self, line: Line, at: int) -> int:
        """Takes a volume with its unit; how many words it has, 0 for none."""
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
        """Takes a number of gangs; how many words it has, 0 for none."""
        gangs = gangs_of(line, at)
        if gangs:
            self.gangs = gangs
            return 1 if GANGS.fullmatch(line[at].low) else 2
        return 0

    def nickname_at(self, line: Line, at: int) -> int:
        """Takes a nickname of a box, such as ``1900``; how many words it has, 0 for none. Raises ``AskedBack``."""
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
            elif fact == "existing":
                self.existing = True
            elif fact == "rated fan":
                self.fan = True
            elif fact == "any":
                self.said_box = self.said_box or phrase == "box"
                self.said_marked = self.said_marked or phrase in ("marked", "volume", "vol")
            elif not self.shape:
                self.shape = words[0]
                sizes = fact.removeprefix(words[0]).strip().split(" x ")
                if words[0] == "device" and len(sizes) == 2:
                    self.face = " x ".join(sizes)
                else:
                    self.face, self.depth = (*sizes, "", "")[:2]
        return many

    def size_at(self, line: Line, at: int) -> int:
        """Takes a number of a size, or a word between two; how many words it has, 0 for none."""
        word = line[at].low
        if word in ("x", "×", "by", "in", "in.", '"', "inch", ",", "a", "the"):
            return 1
        if word in COUNTS and at + 1 < len(line) and line[at + 1].low in ("in", "inch", "square", "sq"):
            word = COUNTS[word]
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
        """The plain lines for all that was collected; None where it says no box."""
        base = self.base()
        if base is None:
            return None
        texts = [base] if base else []
        if self.way or self.existing:
            texts.append(" ".join(filter(None, ("mounted", self.way, "existing" if self.existing else ""))))
        if self.fan:
            texts.append("rated fan")
        return [put(text, self.line[0], self.line[-1]) for text in texts] or None

    def base(self) -> str | None:
        """The plain line for the box itself; an empty one where no more is said than what it carries or how it sits."""
        self.guess_shape()
        more = " ".join(filter(None, (self.material, f"{self.gangs}-gang" if self.gangs else "")))
        if self.shape == "pancake":
            sizes = [dimension for dimension in self.numbers if dimension != "?" and (number_word(dimension) or 9) < 2]
            depth = f"{sizes[0]} in deep" if sizes else ""
            return " ".join(f"marked {self.volume or '? in3'} {more} {depth}".split())
        if self.shape:
            size = self.size()
            return " ".join(f"{self.shape} {size} {f'marked {self.volume}' if self.volume else ''} {more}".split())
        if self.numbers:
            said_more = self.gangs or self.material or self.way or self.fan or self.said_box or self.said_marked
            if (
                len(self.numbers) == 1
                and not said_more
                and BARE_VOLUME.fullmatch(self.numbers[0])
                and "." in self.numbers[0]
            ):
                digits = self.numbers[0]
                raise asked((f"what is {digits}?", f"write marked {digits} in3 if it is the box's marking"), self.line)
            if len(self.numbers) != 1 or self.volume or not said_more or not BARE_VOLUME.fullmatch(self.numbers[0]):
                return None
            self.volume = f"{self.numbers[0]} in3"
        if self.volume or self.gangs or self.material:
            return f"marked {self.volume or '? in3'} {more}".strip()
        if self.fan or self.way or self.existing:
            return ""
        return "marked ? in3" if self.said_box else None

    def guess_shape(self) -> None:
        """The shape that sizes alone tell."""
        values = [number_word(dimension) if dimension != "?" else None for dimension in self.numbers]
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
        """The depth that ``deep`` or ``shallow`` means for this face. Raises ``AskedBack`` where it means several."""
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
    words = BoxWords(line)
    if words.read():
        return words.plain()
    is_plain = line[0].low in SHAPES  # then the plain reading has the better fault
    if words.unknown is not None and words.shape and not is_plain and words.unknown.low not in ("+", "&", "w/", "with"):
        from ampleroom.job.words import Unreadable

        word = words.unknown
        message = f"unknown word {word.word!r} about the box"
        hint = "take it out, or write it as a remark after #" if word.word[0].isalpha() else "take it out"
        raise Unreadable(word.first, word.last, message, hint)
    return None


def box_alone(line: Line) -> Iterator[list[Line]]:
    """What a box is, if the words after its name say that and no more."""
    if any(token.low in SURE_BOX or re.search(r"\d", token.low) for token in line):
        plain = conduit_body(line) if len(line) < 4 else None
        words = BoxWords(line)
        plain = plain or (words.plain() if words.read() else None)
        if plain is not None:
            yield plain


SURE_BOX = (
    "box",
    "gang",
    "handy",
    "pancake",
    "single",
    "octagon",
    "oct",
    "nail-on",
    "existing",
    "old-work",
    "new-work",
    "cut-in",
)
"""Words that stand for a box by themselves."""
