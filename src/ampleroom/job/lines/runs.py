"""``run`` and ``wires``: conductors from stop to stop, entered once for both ends and all they pass."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache

from ampleroom.editions.cables import CABLES
from ampleroom.errors import nearest
from ampleroom.job.lines.circuits import RACEWAY_KINDS, read_power
from ampleroom.job.lines.statement import (
    Statement,
    maybe,
    plain,
    times,
    trade_size,
    without_colon,
    without_number_sign,
    words_joined,
)
from ampleroom.job.lines.wires import read_wires, wires_here, write_wires
from ampleroom.job.model import USUAL_KIND, Cable, Run, RunRaceway, RunRoute, Stop, Through, Wires
from ampleroom.job.passing import said_in
from ampleroom.job.trade import CABLE_SIZES, RANK
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import LENGTHS, Unreadable, Words, nearest_sizes, number_word, proper_fraction, size_word

_CABLES = CABLES.blocks[0]
CABLE_KINDS: dict[str, str] = {word: row["kind"] for row in _CABLES["kinds"] for word in (row["kind"], *row["also"])}
CABLE = re.compile(r"#?([1-4]/0|\d{1,2}|\?)[/-]([1-9](?:/[1-9])?|\?)")
"""No cable has 0 conductors: ``4/0`` is a size."""

MOST_SETS = 20
"""More conductors in parallel a phase nobody has."""
AMPERES = r"\d{1,3}-?(a|amps?)"

RUN_WORDS = (
    "through",
    "circuit",
    "load",
    "tap",
    "in",
    "by",
    "for",
    "class",
    "aluminum",
    "al",
    "copper",
    "cu",
    "existing",
    "spaced",
    "no",
    "without",
    "with",
    "w/g",
)


@lru_cache(maxsize=512)
def cable_word(word: str) -> tuple[Maybe[str], str] | None:
    """``12/2`` as a size and how many insulated conductors; None for anything else."""
    cable = CABLE.fullmatch(word)
    if not cable:
        return None
    size: Maybe[str] = UNKNOWN if cable[1] == "?" else cable[1]
    if size is not UNKNOWN and size not in RANK:
        return None
    return size, cable[2]


def is_length(words: Words) -> bool:
    """Whether ``12-1/2 ft`` or ``3/4 in`` stands at the cursor, and not a cable in a raceway: ``12/2 in R1``."""
    word, unit = words.peek(), words.peek(1)
    if unit == "in" and words.peek(2):
        return proper_fraction(word) is not None or re.fullmatch(r"\d+-\d/\d", word) is not None
    return unit in LENGTHS


class RunReader:
    """The parts of one run as they are met; they may stand in any order after the stops."""

    def __init__(self, words: Words) -> None:
        self.words = words
        self.stops: list[Stop] = []
        self.through: list[Through] = []
        self.count: Maybe[int] = 1
        self.cable: Cable | None = None
        self.wires: tuple[Wires, ...] = ()
        self.ground: Maybe[str] | None = None
        self.length: Maybe[Decimal] | None = None
        self.circuit = self.label = ""
        self.raceways: dict[object, RunRaceway] = {}
        """By name in lower case; one with no name by itself."""
        self.routes: list[RunRoute] = []
        self.in_insulation = self.low_voltage = self.existing = self.spaced = self.tap = False
        self.material = "copper"
        self.kind_assumed = self.with_ground = False
        self.width: Maybe[Decimal] | None = None
        self.sets = 1
        self.load: Decimal | None = None
        self.load_at = 0

    def read(self) -> Run:
        """The whole run. Raises ``Unreadable``."""
        words = self.words
        self.read_stops()
        while words.more:
            word = words.peek()
            if reader := READERS.get(word):
                words.i += 1
                reader(self)
            elif (cable := cable_word(word)) is not None and not is_length(words):
                self.read_cable(cable)
            elif word == ",":
                words.i += 1
            elif self.sets_here():
                self.sets = words.whole(word, words.i, MOST_SETS)
                words.i += 2
            elif (width := words.width_here()) is not None:
                self.width = width
            elif (length := words.feet_here()) is not None:
                self.length = length
            elif wires_here(words):
                self.read_wires()
            else:
                self.read_counted()
        if self.cable is None and not self.wires:
            raise words.missing("the cable such as 12/2 nm-b (or wires, such as 3 x #12 thhn)")
        if self.width is not None and self.cable is None:
            raise words.wrong(
                "only a cable has a width", "leave the width out, or write the cable before it", words.i - 1
            )
        self.refuse_odd_sets()
        self.refuse_shared_load()
        if self.cable is not None and self.ground is not None:
            self.cable = Cable(self.cable.kind, self.cable.size, self.cable.of, self.ground)
        if self.cable is None and self.with_ground and all(group.role != "ground" for group in self.wires):
            self.wires += (Wires(1, UNKNOWN, "ground"),)
        return Run(
            tuple(self.stops),
            tuple(self.through),
            self.count,
            self.cable,
            self.wires,
            self.length,
            self.circuit,
            tuple(self.raceways.values()),
            tuple(self.routes),
            self.in_insulation,
            self.low_voltage,
            self.material,  # type: ignore[arg-type]
            self.existing,
            self.label,
            self.kind_assumed,
            self.width,
            self.spaced,
            self.sets,
            self.tap,
            self.load,
            words.where(),
        )

    def refuse_shared_load(self) -> None:
        """Raises ``Unreadable`` for a load on a run of no circuit, or of several: of which it would be nobody knows."""
        if self.load is not None and (not self.circuit or "+" in self.circuit):
            trouble = "a load belongs to one circuit" if self.circuit else "a load belongs to a circuit"
            remedy = "write it in the circuit's own line" if self.circuit else "write the circuit too: circuit 3"
            raise self.words.wrong(trouble, remedy, self.load_at)

    def refuse_odd_sets(self) -> None:
        """Raises ``Unreadable`` where conductors in parallel do not make so many sets of two or more: all of them are
        written, as ``6 x #3/0 thhn 2 sets``.
        """
        if self.sets == 1:
            return
        if self.cable is not None:
            if self.count is UNKNOWN or self.count % self.sets:
                raise self.words.wrong(
                    f"{self.count} cables make no {self.sets} sets", f"write them all, such as: {self.sets} x 4/0-3 ser"
                )
            return
        counts = [wires.count for wires in self.wires if wires.role == "insulated"]
        known = [count for count in counts if count is not UNKNOWN]
        total = sum(known)
        if len(known) < len(counts) or total % self.sets or total < 2 * self.sets:
            example = f"{3 * self.sets} x #3/0 thhn {self.sets} sets"
            raise self.words.wrong(f"these conductors make no {self.sets} sets", f"write them all, such as: {example}")

    def read_stops(self) -> None:
        """Two stops or more, with ``>`` between them."""
        words = self.words
        self.stops.append(self.read_stop())
        while words.take(">"):
            self.stops.append(self.read_stop())
        if len(self.stops) == 1:
            raise words.no_other_end()

    def read_stop(self) -> Stop:
        """A place, ``PLACE/SIDE`` or ``?``."""
        words = self.words
        at = words.i
        name = without_colon(words.next("a place's name (or ?)"))
        if name == "?":
            return Stop(UNKNOWN, "", words.where(at))
        if cable_word(name) is not None:
            raise words.wrong("a place's name is missing here", "write ? if nobody found that end", at)
        if name in (">", ","):
            raise words.wrong("a place's name is missing here", "write ? if nobody found that end", at)
        place, _, space = name.partition("/")
        return Stop(place, space, words.where(at))

    def read_cable(self, cable: tuple[Maybe[str], str]) -> None:
        """The kind that follows a cable's size; where none is written, the usual one is assumed."""
        words = self.words
        at = words.i
        words.i += 1
        if self.cable is not None:
            raise words.wrong("one run line takes one cable", "write the other cable on a run line of its own", at)
        is_length = words.peek() == "?" and words.peek(1) in (
            "ft",
            "feet",
            "foot",
        )  # in ``14/2 ? ft`` it is the length nobody knows
        kind = "?" if not is_length and words.take("?") else CABLE_KINDS.get(words.peek(), "")
        if kind and kind != "?":
            words.i += 1
        if not kind:
            if (
                words.more
                and words.peek() not in RUN_WORDS
                and words.peek() not in (",", "ground", "isolated")
                and not words.is_amount(LENGTHS)
                and not self.sets_here()
            ):
                raise self.no_kind()
            kind, self.kind_assumed = USUAL_KIND, True
        self.cable = Cable(kind, *cable)
        before, self.wires = self.wires, ()
        self.beside_a_cable(before, at)

    def sets_here(self) -> bool:
        """Whether ``2 sets`` stands at the cursor: conductors in parallel."""
        return self.words.peek().isdigit() and self.words.peek(1) in ("sets", "set")

    def no_amperes(self) -> Unreadable:
        """The fault of ``20A`` on a run."""
        typed = self.words.typed[self.words.i]
        hint = "write them with its circuit, such as: circuit 3 20 A"
        return self.words.at_cursor(f"a run has no amperes: {typed}", hint)

    def no_kind(self) -> Unreadable:
        """The fault of a word after a cable's size that is neither a kind of cable nor begins another part of the
        run.
        """
        words = self.words
        trouble = words.unknown("kind of cable", {**CABLE_KINDS, "?": "?"})
        word = words.typed[words.i]
        if re.fullmatch(AMPERES, word.lower()) or (word.isdigit() and words.peek(1) in ("a", "amp", "amps")):
            return self.no_amperes()
        if number_word(word) is not None:
            return words.at_cursor(f"{word} what?", f"write {word} ft if that is its length")
        if not trouble.hint.startswith("did you mean") and words.hints and (close := nearest(word, RUN_WORDS)):
            return words.at_cursor(f"unknown word {word!r}", f"did you mean {close[0]!r}?")
        if not trouble.hint.startswith("did you mean"):
            rest = " ".join(words.typed[words.i :])
            is_label = len(rest) > 3 and rest.replace(" ", "").isalpha()
            label_hint = f", or for {rest} if that is what it serves" if is_label else ""
            trouble.hint = f"write nm-b, uf-b, mc, ac or another kind{label_hint}"
        return trouble

    def read_wires(self) -> None:
        """Wires pulled singly; beside a cable, its ground or what is added to it."""
        words = self.words
        at = words.i
        groups = read_wires(words)
        if self.cable is None:
            if self.wires:
                raise words.wrong(
                    "these wires stand apart from the others", "join them with commas: 2 x #12 thhn, ground #12", at
                )
            self.wires = groups
            return
        self.beside_a_cable(groups, at)

    def beside_a_cable(self, groups: tuple[Wires, ...], at: int) -> None:
        """Wires written beside a cable: its ground, or an isolated ground more."""
        self.wires += tuple(group for group in groups if group.role == "isolated ground")
        for group in groups:
            if group.role == "ground" and group.count == 1:
                self.ground = group.size
            elif group.role != "isolated ground":
                raise self.words.wrong(
                    "only a ground can be added to a cable",
                    "write other wires on a run line of their own",
                    at,
                )

    def read_counted(self) -> None:
        """``2 x 12/2 nm-b``: how many runs alike."""
        words = self.words
        at = words.i
        count = words.count()
        if words.i == at:
            if CABLE.fullmatch(words.peek()):
                size, conductors = re.split("[/-]", words.peek(), maxsplit=1)
                hint = " or ".join(f"{near}/{conductors}".removeprefix("#") for near in nearest_sizes(size))
                raise Unreadable(at, at, f"{words.typed[at]!r} is not a cable", f"write {hint}" if hint else "")
            if size_word(words.peek()) in RANK and not words.peek(1):
                size = words.peek().lstrip("#")
                cable = f"{size}/2 for a cable, " if size in CABLE_SIZES else ""
                raise words.at_cursor(
                    f"{words.typed[at]} what?",
                    f"write {cable}or 3 x #{size} for single wires".replace("write or", "write"),
                )
            if re.fullmatch(AMPERES, words.peek()) or (
                words.peek().isdigit() and words.peek(1) in ("a", "amp", "amps")
            ):
                raise self.no_amperes()
            raise words.unknown("word", [*RUN_WORDS, "ground", "isolated", *CABLE_KINDS])
        if cable_word(words.peek()) is None:
            words.refuse_no_size()
            raise words.unknown("cable or wire size", ["12/2", "14/2", "14/3", "#12"])
        self.count = count

    def read_through(self) -> None:
        """Places passed unbroken, each with what slack is left there."""
        words = self.words
        while True:
            at = words.i
            name = without_colon(words.next("a place's name"))
            place, _, space = name.partition("/")
            slack, loop = "straight", None
            if words.take("loop", "looped", "coil"):
                slack = "loop"
                if words.is_amount(LENGTHS) or words.peek() == "?":
                    loop = words.inches()
            elif words.take("landed"):
                slack = "landed"
            else:
                words.take("straight")
            self.through.append(Through(place, space, slack, loop, at=words.where(at)))  # type: ignore[arg-type]
            start = words.i
            if words.take(",", "and") and words.more and not self.starts_something():
                continue
            words.i = start
            return

    def starts_something(self) -> bool:
        """Whether the next word begins another part of the run, and is no name in a list."""
        words = self.words
        word = words.peek()
        return word in READERS or cable_word(word) is not None or words.is_amount(LENGTHS) or wires_here(words)

    def read_in(self) -> None:
        """``in insulation``, or the raceways the run lies in."""
        words = self.words
        if words.take("insulation"):
            self.in_insulation = True
            return
        self.read_raceway("the raceway's name (or 'insulation')")
        while self.goes_on():
            at = words.i
            if not self.read_raceway("a raceway's name"):
                raise words.wrong("this raceway is named twice", "name each raceway once, in order", at)

    def read_raceway(self, expected: str) -> bool:
        """One raceway by its name, or by its kind and trade size; whether it was not named before."""
        words = self.words
        at = words.i
        if words.peek() in RACEWAY_KINDS and (words.peek(1) == "?" or number_word(words.peek(1)) is not None):
            kind = words.next("a kind of raceway").lower()
            self.raceways[at] = RunRaceway("", kind, trade_size(words), words.where(at))
            return True
        if words.peek() in ("wireway", "gutter", "trough") and (words.peek(1) == "?" or words.peek(1)[:1].isdigit()):
            form = "gutter" if words.peek() == "gutter" else "wireway"
            sample = "G1" if form == "gutter" else "W1"
            section = "4 x 4" if words.peek(1) == "?" else "".join(words.typed[at + 1 : at + 4])
            hint = f"write a line '{form} {sample} {section.replace('x', ' x ')}', and here: in {sample}"
            raise words.at_cursor(f"a {form} has a line of its own", hint)
        name = words.next(expected)
        if name.casefold() in self.raceways:
            return False
        self.raceways[name.casefold()] = RunRaceway(name, at=words.where(at))
        return True

    def goes_on(self) -> bool:
        """Whether the list of raceways or routes goes on here: after ``then``, or after a comma with a name behind
        it.
        """
        words = self.words
        if words.take("then"):
            return True
        start = words.i
        if words.take(",", "and") and words.more and not self.starts_something():
            words.count()
            if words.i == start + 1:
                return True
        words.i = start
        return False

    def read_class(self) -> None:
        """``class 2`` or ``class 3``."""
        if not self.words.take("2", "3"):
            raise self.words.unknown("class", ["2", "3"])
        self.low_voltage = True

    def read_no(self) -> None:
        """``no ground``."""
        if not self.words.take("ground"):
            raise self.words.unknown("word after 'no'", ["ground"])
        self.ground = "none"

    def read_with(self) -> None:
        """``with ground``, which says nothing more of a cable; single wires have a ground of a size nobody wrote."""
        if not self.words.take("ground"):
            raise self.words.unknown("word after 'with'", ["ground"])
        self.with_ground = True

    def read_circuit(self) -> None:
        """``circuit 3``."""
        self.circuit = without_number_sign(self.words.next("a circuit's name"))

    def read_load(self) -> None:
        """``load 750 VA``, which stands at the end away from the panel."""
        words = self.words
        self.load_at = words.i - 1
        at = words.i
        known = read_power(words)
        if known is UNKNOWN:
            raise words.wrong("the load cannot be ? here", "leave it out, or write ? VA in the circuit's line", at)
        self.load = known

    def read_route(self) -> None:
        """The routes the run goes along."""
        words = self.words
        while True:
            at = words.i
            self.routes.append(RunRoute(words.next("a route's name"), words.where(at)))
            if not self.goes_on():
                return

    def read_label(self) -> None:
        """``for`` and all the rest of the line."""
        self.label = self.words.text_after()

    def read_aluminum(self) -> None:
        """Conductors of aluminum."""
        self.material = "aluminum"

    def read_spaced(self) -> None:
        """Kept apart from other cables all along."""
        self.spaced = True

    def read_tap(self) -> None:
        """A tap: thinner than its breaker protects elsewhere."""
        self.tap = True

    def read_existing(self) -> None:
        """It was there before."""
        self.existing = True

    def nothing(self) -> None:
        """Words people write that add nothing: ``copper``, ``w/g``."""


READERS = {
    "through": RunReader.read_through,
    "circuit": RunReader.read_circuit,
    "load": RunReader.read_load,
    "tap": RunReader.read_tap,
    "in": RunReader.read_in,
    "by": RunReader.read_route,
    "for": RunReader.read_label,
    "class": RunReader.read_class,
    "no": RunReader.read_no,
    "without": RunReader.read_no,
    "with": RunReader.read_with,
    "w/g": RunReader.nothing,
    "copper": RunReader.nothing,
    "cu": RunReader.nothing,
    "existing": RunReader.read_existing,
    "spaced": RunReader.read_spaced,
    "aluminum": RunReader.read_aluminum,
    "al": RunReader.read_aluminum,
}


def read_run(words: Words, word: str) -> Run:
    """A run from the words after its first one. Raises ``Unreadable``."""
    return RunReader(words).read()


def write_run(run: Run) -> str:
    """A run in the plain form."""
    return words_joined(
        "run" if run.cable else "wires",
        " > ".join(_end(stop.name, stop.space) for stop in run.stops),
        _conductors(run),
        "aluminum" if run.material == "aluminum" else "",
        "class 2" if run.low_voltage else "",
        f"{maybe(run.width, 'in')} wide" if run.width is not None else "",
        maybe(run.length, "ft") if run.length is not None else "",
        "through " + ", ".join(map(through_text, said)) if (said := said_in(run)) else "",
        f"in {raceways_text(run)}" if run.raceways else "",
        f"circuit {run.circuit}" if run.circuit else "",
        "tap" if run.tap else "",
        f"load {plain(run.load)} VA" if run.load is not None else "",
        f"by {routes_text(run)}" if run.routes else "",
        "in insulation" if run.in_insulation else "",
        "spaced" if run.spaced else "",
        f"{run.sets} sets" if run.sets > 1 else "",
        "existing" if run.existing else "",
        f"for {run.label}" if run.label else "",
    )


def raceways_text(run: Run) -> str:
    """The raceways a run lies in, as a sheet names them: ``R1 then emt 3/4``; empty for none."""
    return " then ".join(
        [words_joined(each.kind, maybe(each.size)) if each.kind else each.name for each in run.raceways]
    )


def routes_text(run: Run) -> str:
    """The routes a run goes along, as a sheet names them: ``crawlspace then attic``; empty for none."""
    return " then ".join([route.name for route in run.routes])


def _conductors(run: Run) -> str:
    if run.cable is None:
        return write_wires(run.wires)
    ground = ""
    if run.cable.ground == "none":
        ground = "no ground"
    elif run.cable.ground is not None:
        ground = f", ground #{maybe(run.cable.ground)}"
    extra = ", " + write_wires(run.wires) if run.wires else ""
    cable = f"{maybe(run.cable.size)}/{run.cable.of}" + ("" if run.kind_assumed else f" {run.cable.kind}")
    return words_joined(times(run.count) + cable, ground).replace(" ,", ",") + extra


def _end(name: Maybe[str], space: str) -> str:
    return f"{maybe(name)}/{space}" if space else maybe(name)


def through_text(passed: Through) -> str:
    """``J1 loop 14 in``: a place passed, as a sheet writes it."""
    place = _end(passed.name, passed.space)
    match passed.slack:
        case "loop":
            return words_joined(place, "loop", "" if passed.loop is None else f"{maybe(passed.loop, 'in')}")
        case "landed":
            return f"{place} landed"
    return place


__all__ = ["CABLE_KINDS", "STATEMENTS", "cable_word", "plain"]

STATEMENTS = (
    Statement(
        ("run", "wires"),
        Run,
        read_run,
        write_run,
        "run P > J1 12/2 nm-b 38 ft circuit 3",
        "a cable, or wires pulled in a raceway, from stop to stop",
    ),
)
