"""Runs in the words of the trade: ``homerun A``, ``12-2 from A to B``, ``A - B 3-#12 in 3/4 EMT``."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.runs import CABLE_KINDS, cable_word
from ampleroom.job.model import PANEL_END
from ampleroom.job.nicknames import CABLES, CONTROL_CABLES, COUNTS, DATA_CABLES, GROUND_WORDS, GROUNDS, HOMERUNS, TO
from ampleroom.job.trade import RANK
from ampleroom.job.trade_words.tokens import Line, Token, asked, put
from ampleroom.job.words import number_word, size_word


def homerun_words(low: Sequence[str]) -> int:
    """How many words at the head of a line say that it is a home run; 0 for none."""
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
        """The word at the cursor, or so many further on, in lower case; empty past the end."""
        return self.low[self.i + ahead] if self.i + ahead < len(self.low) else ""

    def plain(self) -> Line:
        """The whole line in the plain form."""
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
        """Puts the stops, joined by ``>``; a home run begins at the panel."""
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
        """The next words; the cursor goes past them."""
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
        times, many = self.number_before()
        word, after = self.peek(many), self.peek(many + 1)
        data = DATA_CABLES.get(word.replace("-", "")) or DATA_CABLES.get((word + after).replace("-", ""))
        if data is not None:
            many += 1 if word.replace("-", "") in DATA_CABLES else 2
            count, size = int(data[0]) * times, data[1]
        else:
            cable = re.fullmatch(r"(\d\d)[/-](\d{1,2})", word)
            if cable is None or after not in CONTROL_CABLES:
                return False
            many += 2
            count, size = int(cable[2]) * times, cable[1]
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
        first, second = self.peek(start).rstrip('"'), self.peek(start + 1).rstrip('"')
        for size, kind in ((first, second), (second, first)):
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
    """A run in the plain form."""
    return RunWords(line).plain()
