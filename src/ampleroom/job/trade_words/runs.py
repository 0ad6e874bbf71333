"""Runs in the words of the trade: ``homerun A``, ``12-2 from A to B``, ``A - B 3-#12 in 3/4 EMT``."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.runs import CABLE_KINDS, READERS, cable_word
from ampleroom.job.model import BOX_END, PANEL_END
from ampleroom.job.nicknames import (
    ABOUT_A_LENGTH,
    ARMORED,
    ASKED_RACEWAYS,
    CABLES,
    CONTROL_CABLES,
    COUNTS,
    DATA_CABLES,
    GROUND_WORDS,
    GROUNDS,
    HOMERUNS,
    OF_RUNS,
    RACEWAYS,
    RUN_LABELS,
    TO,
)
from ampleroom.job.trade import BRANCH_SIZES, CABLE_SIZES, COLORS, INSULATIONS, RANK
from ampleroom.job.trade_words.tokens import Line, Token, asked, put
from ampleroom.job.words import LENGTHS, number_word, proper_fraction, size_word


def homerun_words(low: Sequence[str]) -> int:
    """How many words at the head of a line say that it is a home run; 0 for none."""
    return next((len(words) for words in HOMERUNS if tuple(low[: len(words)]) == words), 0)


def is_run(low: Sequence[str]) -> bool:
    """Whether a line is a run, its first word written or not: ``A - B 12-2``."""
    if low[0] in ("run", "wires", "pull", "from") or homerun_words(low):
        return True
    if len(low) > 3 and low[1] in THROUGH and any(word in TO for word in low[3:]):
        return True
    if len(low) > 3 and low[1] in ("&", "and") and is_branch_cable(low[3]):
        return True
    if conductors_then_homerun(low) or (len(low) > 1 and short_names(low[0]) and re.match(r"\(?#?\d|#", low[1])):
        return True
    if conductors_first(low):
        return True
    arrows = "→" in low[0] or (len(low) > 1 and low[0].endswith("-") and low[1] == ">")
    return arrows or (len(low) > 2 and low[1] in TO)


THROUGH = ("through", "thru", "via")
SHORT_NAMES = re.compile(r"([a-z]{1,3}\d{0,3})-([a-z]{1,3}\d{0,3})")


def short_names(word: str) -> tuple[str, str] | None:
    """``P-J1``: two short names joined, such as no place is called by; None for any other word."""
    both = SHORT_NAMES.fullmatch(word.lower())
    return (
        (word[: both.end(1)], word[both.start(2) :])
        if both and word.lower() not in (*CABLE_KINDS, *INSULATIONS)
        else None
    )


def joined_conductors(word: str) -> bool:
    """Whether conductors begin with this word."""
    return cable_word(word) is not None or word.startswith("#") or word in CABLE_KINDS


def conductors_then_homerun(low: Sequence[str]) -> int:
    """``12-2 HR from A``: where the words of a home run stand after its conductors; 0 for nowhere."""
    if not low or not (conductors_begin(low) or low[0] in CABLE_KINDS):
        return 0
    return next((place for place in range(1, len(low)) if homerun_words(low[place:])), 0)


def conductors_begin(low: Sequence[str]) -> bool:
    """Whether a line begins with conductors."""
    return (
        cable_word(low[0]) is not None
        or low[0].startswith("#")
        or low[0] in CABLE_KINDS
        or low[0].rstrip("x").isdigit()
    )


def conductors_first(low: Sequence[str]) -> bool:
    """``12-2 from A to B``: the conductors stand before the places."""
    return conductors_begin(low) and any(word in TO for word in low[2:-1])


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


METALS = {"aluminum": "aluminum", "aluminium": "aluminum", "alum": "aluminum", "al": "aluminum"} | dict.fromkeys(
    ("copper", "cu"), "copper"
)
ONE_METAL = ("are all these conductors of one metal?", "write the line for most of them, and the other metal after #")


def metal_last(line: Line) -> Line:
    """``3 x 4/0 al xhhw, ground #4 bare``: the metal of the conductors behind them all. It is asked back where a line
    has two.
    """
    end = next((at for at, token in enumerate(line) if token.low == "for"), len(line))
    start = next((at for at, token in enumerate(line) if token.low[0] in "#0123456789"), end)  # a place may be named AL
    named = [token for token in line[start:end] if token.low in METALS]
    metals = {METALS[token.low] for token in named}
    if len(metals) > 1:
        raise asked(ONE_METAL, named[-1:])
    if not named:
        return line
    rest = [token for token in line[start:end] if token.low not in METALS]
    return [*line[:start], *rest, *put(metals.pop(), named[0]), *line[end:]]


PARTED = tuple(
    (re.compile(pattern, re.IGNORECASE), parts)
    for pattern, parts in (
        (r"^(\d{1,2})[x×-](?=\d\d[/-]\d)", r"\1 x "),  # 2x12/2, 2-12/2
        (r"^(1[024])-(\d)-(\d)$", r"\1/\2/\3"),  # 12-2-2
        (r"^(#?\d{1,2}[/-]\d)'?s$", r"\1"),  # 12-2's
        (r"^(#?\d{1,2}[/-]\d)\+(g|gnd|ground)$", r"\1 with ground"),  # 12/2+g
        (r"^(#?\d{1,2}[/-]\d)-?([a-z].*)$", r"\1 \2"),  # 12/2wg
        (r"^(\d{0,2} ?#\d{1,2})(g|gnd)$", r"\1 ground"),  # 1 #12G
        (r"^~(?=\d)", ""),  # ~25'
        (r"^(\d+)-(ft|foot|feet)$", r"\1 ft"),  # 20-ft
        (r"^(ckt|cir|cct|circuit)s?#?(\d+)$", r"circuit \2"),  # ckt#3
        (r"^\+(?=g)", "+ "),  # +gnd
        (r"^([\d/-]+)[\"”″](?=[a-z])", r"\1 "),  # 3/4"C
        (r"^nm-?b?-?wg$", "nm"),
    )
)
"""Words written together, taken apart."""


class RunWords:
    """The words of a run put in the plain form, from left to right."""

    def __init__(self, line: Line) -> None:
        self.line = count_first([piece for token in line for piece in self.parted(token)])
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
        if length := re.fullmatch(r"(\d+)['’′](\d{1,2})[\"”″]", word):
            word = f"{12 * int(length[1]) + int(length[2])} in"
        for pattern, parts in PARTED:
            word = pattern.sub(parts, word)
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
        if not is_homerun and (at := conductors_then_homerun(self.low[head:])):
            at += head
            many = homerun_words(self.low[at:])
            self.line = [*self.line[:head], *self.line[at + many :], *self.line[head:at]]
            self.low = [token.low for token in self.line]
            is_homerun = True
        self.line = metal_last(places_first(self.line, head))
        self.low = [token.low for token in self.line]
        self.i = head
        self.out = put("run", self.line[0])
        while self.peek() in ("from", "to"):
            self.i += 1
        self.stops(is_homerun)
        while self.i < len(self.line):
            if self.peek() == "for":
                self.out += self.line[self.i :]
                break
            self.one()
        return kind_beside(self.out)

    def stops(self, is_homerun: bool) -> None:
        """Puts the stops, joined by ``>``; a home run begins at the panel."""
        stops: Line = []
        passed: Line = []
        while self.i < len(self.line):
            token = self.line[self.i]
            self.i += 1
            if token.low in ("panel", "the"):
                if token.low == "the":
                    continue
                token = token._replace(word=PANEL_END)
            if token.word.endswith("-") and self.peek() == ">":
                token = token._replace(word=token.word[:-1])
            if token.low == "?" or cable_word(token.low) is None:
                stops.append(token)
            else:
                self.i -= 1
                break
            if self.goes_on(stops):
                choices = (
                    f"write {' > '.join(token.word for token in (*stops, self.line[self.i + 1]))}, or a line for "
                    "each run"
                )
                raise asked(("is this one run that goes on, or two runs?", choices), self.line[self.i : self.i + 2])
            while self.peek() in THROUGH and any(self.peek(ahead) in TO for ahead in (2, 4)):
                passed += put(", " if passed else "through", *self.take(1)) + self.take(1)
            if len(stops) == 1 and self.peek() in ("and", "&") and is_branch_cable(self.peek(2)):
                self.i += 1
                continue
            if self.peek() in TO:
                self.i += 2 if self.peek() == "-" and self.peek(1) == ">" else 1
                continue
            break
        if len(stops) == 1 and not is_homerun and (both := short_names(stops[0].word)):
            stops = [stops[0]._replace(word=name) for name in both]
        if is_homerun and len(stops) == 1:
            stops.insert(0, Token(PANEL_END, self.line[0].first, self.line[0].last))
        for place, token in enumerate(stops):
            self.out += ([Token(">", token.first, token.first)] if place else []) + [token]
        self.out += passed

    def goes_on(self, stops: Line) -> bool:
        """Whether a third place follows the two of a run: ``A to B and J1 12/2``."""
        name = self.peek(1)
        return (
            len(stops) == 2
            and self.peek() in (",", "and", "&")
            and re.fullmatch(r"[a-z]{1,3}\d{0,3}", name) is not None
            and name not in (*CABLE_KINDS, *INSULATIONS, *READERS, *GROUND_WORDS, *COLORS)
            and (joined_conductors(self.peek(2)) or self.peek(2).isdigit())
        )

    def take(self, many: int) -> Line:
        """The next words; the cursor goes past them."""
        stands = self.line[self.i : self.i + many]
        self.i += many
        return stands

    def one(self) -> None:
        """The next word or phrase."""
        word, after = self.peek(), self.peek(1)
        plain = CABLES.get(word, word)
        if self.says_nothing():
            self.i += 1
        elif plain in ("circuit", "circuits"):
            self.circuit()
        elif plain in ("through", "by"):
            self.out += put(plain, *self.take(1)) + self.take(1)
        elif self.any_ground() or self.label() or self.colors():
            return
        elif self.joins_conductors():
            self.out += put(",", *self.take(1))
        elif (
            self.low_voltage()
            or self.service_entrance()
            or self.old_wire()
            or self.raceway()
            or self.kind_first()
            or self.dictated()
            or self.count()
        ):
            return
        elif word in ("cable", "wire") and self.out[-1].low in (*CABLE_KINDS, "old", "?"):
            self.i += 1
        elif word in ("armored", "armoured"):
            raise asked(ARMORED, self.line[self.i : self.i + 1])
        elif word.isdigit() and not after and self.ends_in_cable():
            raise asked((f"{word} what?", f"write {word} ft if that is its length"), self.line[self.i :])
        elif plain != word:
            self.out += put(plain, *self.take(1))
        else:
            self.out += self.take(1)

    def says_nothing(self) -> bool:
        """``approx`` before a length, ``on`` before a circuit."""
        word, after = self.peek(), self.peek(1)
        if word == "on":
            return CABLES.get(after, after) in ("circuit", "circuits")
        return word in ABOUT_A_LENGTH and number_word(after.rstrip("'")) is not None

    def joins_conductors(self) -> bool:
        """``w/ #12``, ``& 1 #12``: a word that joins conductors to those before."""
        word, after = self.peek(), self.peek(1)
        if word in ("w", "w/", "with"):
            return bool(size_word(after))
        return word in ("and", "+", "&") and (joined_conductors(after) or after.rstrip("x").isdigit())

    def ends_in_cable(self) -> bool:
        """Whether a cable, its kind or its ground is what was read last."""
        last = self.out[-1].low
        return last in (*CABLE_KINDS, "ground") or cable_word(last) is not None

    def has_conductors(self) -> bool:
        """Whether the cable or the wires are read already."""
        return any(joined_conductors(token.low) for token in self.out)

    def circuit(self) -> None:
        """``ckt #3``, ``ckts 3 & 5``, ``ckt 3,5``: a circuit, or several joined by +."""
        self.out += put("circuit", *self.take(1))
        names = self.take(1)
        while self.peek() in (",", "&", "and") and self.peek(1).lstrip("#").isdigit() and self.peek(2) not in LENGTHS:
            names += self.take(2)[1:]
        if names:
            self.out += put("+".join(token.word.lstrip("#") for token in names), *names)

    def any_ground(self) -> bool:
        """``w/g``, ``with ground #10``, ``w/o ground``, ``G``: what is said of the ground."""
        word, after, before = self.peek(), self.peek(1), self.out[-1].low
        joins = ("w", "w/", "with", "+", "&", "and")
        if word in ("w/o", "without", "no") and after in GROUND_WORDS:
            self.out += put("no ground", *self.take(2))
        elif word in joins and after in ("bare", "green", "a") and self.peek(2) in GROUND_WORDS:
            self.ground(3)
        elif word in GROUNDS:
            self.ground(1)
        elif word in joins and (after in GROUND_WORDS or (after == "bare" and word != "and")):
            self.ground(2)
        elif word not in GROUND_WORDS:
            return False
        elif (before in CABLE_KINDS or cable_word(before) is not None) and not after.startswith("#"):
            self.ground(1)
        else:
            self.out += put("ground", *self.take(1))
        return True

    def label(self) -> bool:
        """``travelers``, ``- switch leg`` at the end: what the run is for."""
        start = self.i + (self.peek() in ("-", "–", "—"))
        if not self.has_conductors() or " ".join(self.low[start:]) not in RUN_LABELS:
            return False
        self.i = start
        self.out += put("for", self.line[start]) + self.line[start:]
        self.i = len(self.line)
        return True

    def colors(self) -> bool:
        """``#12 THHN black white green``, ``1 blk 1 wht 1 grn #12``: a group of conductors for each color."""
        at, end, colored = self.i, self.i, list[tuple[int, str]]()
        while at < len(self.line):
            digits = COUNTS.get(self.low[at], self.low[at])
            is_count = digits.isdigit() and len(digits) < 3 and at + 1 < len(self.line)
            color = CABLES.get(self.low[at + is_count], self.low[at + is_count])
            if color not in COLORS:
                if colored and self.low[at] in (",", "and", "&", "+"):
                    at += 1
                    continue
                break
            colored.append((int(digits) if is_count else 1, color))
            at += 1 + is_count
            end = at
        if len(colored) < 2 and not (colored and self.peek().isdigit()):
            return False
        stands = self.line[self.i : end]
        size = insulation = ""
        count = 0
        self.i = end
        if self.out[-1].low in INSULATIONS:
            insulation = self.out.pop().low
        if self.out[-1].low.startswith("#"):
            size = self.out.pop().word
            if self.out[-1].low == "x":
                count = int(self.out[-2].word) if self.out[-2].word.isdigit() else 0
                del self.out[-2:]
        while self.peek().startswith("#") or CABLES.get(self.peek(), self.peek()) in INSULATIONS:
            if size and self.peek().startswith("#"):
                break
            token = self.take(1)[0]
            if token.low.startswith("#"):
                size = token.word
            else:
                insulation = CABLES.get(token.low, token.low)
        if count not in (0, sum(times for times, _ in colored)):
            choices = "write each group with its count: 2 x #12 black, 1 x #12 white"
            raise asked(("how many of each color?", choices), stands)
        groups = [f"{times} x {size or '#?'} {color} {insulation}" for times, color in colored]
        self.out += put(" , ".join(groups), *stands)
        return True

    def dictated(self) -> bool:
        """``12 2`` as dictated to a phone, ``3 12 THHN``: a cable without its stroke, wires without their #."""
        word, after, last = self.peek(), self.peek(1), CABLES.get(self.peek(2), self.peek(2))
        if word.isdigit() and after in RANK and (last in INSULATIONS or last in COLORS):
            self.out += put(f"{word} x #{after}", *self.take(2))
        elif (
            word in CABLE_SIZES
            and after in ("2", "3", "4")
            and self.peek(2) not in ("x", "×")
            and not self.has_conductors()
        ):
            self.out += put(f"{word}/{after}", *self.take(2))
        else:
            return False
        return True

    def ground(self, many: int) -> None:
        """``w/g`` after a cable; ``with ground #10`` says which."""
        stands = self.take(many)
        is_size = self.peek().startswith("#") or (size_word(self.peek()) not in ("",) and self.peek() != "?")
        self.out += put(", ground" if is_size else "with ground", *stands)

    def count(self) -> bool:
        """``3 #12``, ``2 12/2``, ``two cat6``: a count without its x."""
        word, ahead = COUNTS.get(self.peek(), self.peek()), 1
        while self.peek(ahead) in OF_RUNS:
            ahead += 1
        after = self.peek(ahead)
        is_dictated = ahead > 1 and after in CABLE_SIZES and self.peek(ahead + 1) in ("2", "3", "4")
        if not word.isdigit() or not (after.startswith("#") or cable_word(after) is not None or is_dictated):
            return False
        self.out += put(f"{word} x", *self.take(ahead))
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
        lead = 1 if self.peek(many) in ("lv", "low-voltage") else 0
        lead = 2 if (self.peek(many), self.peek(many + 1)) == ("low", "voltage") else lead
        many += lead
        word, after = self.peek(many), self.peek(many + 1)
        data = DATA_CABLES.get(word.replace("-", "")) or DATA_CABLES.get((word + after).replace("-", ""))
        if data is not None:
            many += 1 if word.replace("-", "") in DATA_CABLES else 2
            count, size = int(data[0]) * times, data[1]
        else:
            cable = re.fullmatch(r"(\d\d)[/-](\d{1,2})", word)
            if cable is None:
                return False
            if after not in CONTROL_CABLES and not lead:
                if cable[1] not in ("22", "20", "18", "16") or after in CABLE_KINDS or after == "class":
                    return False
                choices = f"write {word} thermostat if it is low voltage, or the wires: {cable[2]} x #{cable[1]}"
                raise asked((f"which cable is {word}?", choices), self.line[self.i : self.i + many + 1])
            many += 2 if after in CONTROL_CABLES else 1
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
        elif word == "ser" and cable_word(self.out[-1].low) is None:
            choices = "write the size of each, such as 2-2-2-4 SER"
            raise asked(("which wires are in the SER?", choices), self.line[self.i : self.i + 1])
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
        """``in 3/4" EMT``, ``3/4 EMT``, ``1 1/4 in EMT``, ``then 3/4 sch 40 PVC``: a raceway with no name. Raises
        ``AskedBack``.
        """
        start = 1 if self.peek() in ("in", "then") else 0
        joined = self.peek() if start else "in"
        kind, at = self.raceway_kind(start)
        if kind:
            size, many = self.trade_size(at)
        else:
            size, at = self.trade_size(start)
            kind, many = self.raceway_kind(at) if size else ("", 0)
        if not size or not kind:
            return False
        if kind in ASKED_RACEWAYS:
            name, kinds = ASKED_RACEWAYS[kind]
            choices = ", or ".join(f"{joined} {kind_choice} {size}" for kind_choice in kinds)
            raise asked((f"which {name}?", f"write {choices}"), self.line[self.i : self.i + many])
        self.out += put(f"{joined} {kind} {size}", *self.take(many))
        if self.peek() in ("conduit", "pipe"):
            self.i += 1
        return True

    def raceway_kind(self, at: int) -> tuple[str, int]:
        """The kind of raceway so many words on, and where it ends; an empty one where none stands there."""
        for many in (3, 2, 1):
            phrase = " ".join(self.peek(at + ahead) for ahead in range(many)).strip()
            kind = RACEWAYS.get(phrase, phrase)
            if kind in RACEWAY_KINDS or kind in ASKED_RACEWAYS:
                return kind, at + many
        return "", at

    def trade_size(self, at: int) -> tuple[str, int]:
        """The trade size so many words on, and where it ends: ``1-1/4"``, ``1 1/4``, ``1/2 in``; an empty one for
        none.
        """
        word = self.peek(at).rstrip('"”″')
        if joined := re.fullmatch(r"([\d/-]+)(?:in|inch)", word):
            word = joined[1]
        if number_word(word) is None or (
            cable_word(word) is not None and proper_fraction(word) is None and "-" not in word
        ):
            return "", at
        at += 1
        second = self.peek(at).rstrip('"”″')
        if word.isdigit() and proper_fraction(second) is not None:
            word, at = f"{word}-{second}", at + 1
        if self.peek(at) in ("in", "inch") and self.raceway_kind(at + 1)[0]:
            at += 1
        return word, at

    def kind_first(self) -> bool:
        """``MC 12-2``: the kind before the size."""
        if CABLE_KINDS.get(self.peek()) is None or cable_word(self.peek(1)) is None:
            return False
        kind, size = self.take(2)
        self.out += [size, kind]
        return True


def kind_beside(line: Line) -> Line:
    """The line with the kind of cable right after its size, where other words stand between: ``12/2 with ground
    nm``.
    """
    end = next((place for place, token in enumerate(line) if token.low == "for"), len(line))
    at = next((place for place in range(1, end) if is_branch_cable(line[place].low)), None)
    if at is None or (at + 1 < end and line[at + 1].low in CABLE_KINDS):
        return line
    for place in range(at + 2, end):
        if line[place].low in CABLE_KINDS:
            return [*line[: at + 1], line[place], *line[at + 1 : place], *line[place + 1 :]]
    return line


def count_first(line: Line) -> Line:
    """The line with ``x2`` after a cable as ``2 x`` before it."""
    low = [token.low for token in line]
    for place in range(1, len(line)):
        joined = re.fullmatch(r"[x×](\d{1,2})", low[place])
        apart = low[place] in ("x", "×") and place + 1 < len(line) and low[place + 1].isdigit()
        if not joined and (not apart or low[place - 1].isdigit()):
            continue
        digits = joined[1] if joined else low[place + 1]
        conductors = (
            index for index in range(place) if is_branch_cable(low[index]) or low[index].replace("-", "") in DATA_CABLES
        )
        at = next(conductors, None)
        if at is not None and (not at or low[at - 1] not in ("x", "×")):
            rest = line[at:place] + line[place + (1 if joined else 2) :]
            return [*line[:at], *put(f"{digits} x", line[place]), *rest]
    return line


def run(line: Line) -> Line:
    """A run in the plain form."""
    return RunWords(line).plain()


def is_branch_cable(word: str) -> bool:
    """``12/2``, ``14-3``: a cable by its size alone; ``2-1/8`` is a depth."""
    cable = cable_word(word)
    if cable is None:
        return False
    size, of = cable
    is_branch = size in (*CABLE_SIZES, "22", "18", "16") and ("/" not in of or size in BRANCH_SIZES)
    return is_branch or word[0] == "?"


def comes_in(line: Line) -> Line | None:
    """``2 12/2 nm`` under a box, ``14/3 to J4``, ``12/2 from P``: a run of that box in the plain form; None where no
    conductors come first.
    """
    if line[0].low in ("to", "from") and len(line) > 2:
        line = [*line[2:], *line[:2]]
    if line[0].low == "a":
        return None  # it may be a place
    words = RunWords(line)
    at = words.number_before()[1]
    low = [token.low for token in words.line]
    rest = low[at:]
    if any("way" in word for word in low) or {"pigtail", "pigtails", "jack", "jacks"} & {*low}:
        return None
    begins = bool(rest) and (
        is_branch_cable(rest[0])
        or (len(rest) > 1 and rest[1] in CABLE_KINDS and cable_word(rest[0]) is not None)
        or (rest[0].startswith("#") and size_word(rest[0]) != "")
        or rest[0].replace("-", "") in DATA_CABLES
        or (rest[0] in CABLE_KINDS and len(rest) > 1 and cable_word(rest[1]) is not None)
    )
    if not begins:
        return None
    line, end = words.line, Token("?", words.line[0].first, words.line[0].first)
    for place in range(len(line) - 1):
        if low[place] in ("to", "from", ">") and place:
            end = line[place + 1]
            line = line[:place] + line[place + 2 :]
            break
    if line[-1].low in ("in", "out"):
        line = line[:-1]
    head = put(f"run {BOX_END} >", line[0])
    return run([*head, end, *line])
