"""What one circuit is wired with, with every fact settled one way or another: the rules weigh a ``Leg`` of it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_UP, Decimal
from typing import TypeVar

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import ADJUSTMENT, AMPACITY, BUNDLE, COLUMNS, USUAL_AMBIENT, AmpacityRow
from ampleroom.editions.cable_ampacity import ARMORED, CABLES_HEAT, CableHeat
from ampleroom.editions.protection import NEXT_SIZE, STANDARD, TERMINALS
from ampleroom.editions.raceways import INSULATIONS, Insulation
from ampleroom.facts import Assumption, Ends, Fact, Unknown, fact_of
from ampleroom.job.cables import conductors_of, sizes_of
from ampleroom.job.carrying import idle_neutrals, is_split_phase
from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Panel, Route, Run, RunRaceway, Wires, Wireway
from ampleroom.job.trade import NEUTRAL_COLORS, RANK, THINNEST_IN_PARALLEL, THREE_PHASE, USUAL_VOLTS, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import HUNDREDTH, INCHES_PER_FOOT, NO_LIMIT, ROOT_3, inches, number
from ampleroom.record import TupleRecord
from ampleroom.rules.circuit.grounds import OF_GROUNDS, Ground, ground_of
from ampleroom.rules.circuit.motors import Motor, motor_of
from ampleroom.rules.raceway.filled import shared_by
from ampleroom.rules.runs_at_box import stops_text
from ampleroom.rules.wireway import conductors as wireway_conductors

T = TypeVar("T")
ZERO, ONE = Decimal(0), Decimal(1)
ENDS: Ends = {
    **dict.fromkeys(("cable size", "wire size", "neutral", "insulation rating", "terminals"), "small"),
    **dict.fromkeys(("company", "spacing", "wires count", "run count", "raceway length", "wet place"), "large"),
    **dict.fromkeys(("breaker", "load", "receptacles", "jacket"), "large"),
    **dict.fromkeys(("motor phases", "motor start"), "neither"),
    **OF_GROUNDS,
}
"""A thicker wire never carries less, and more company never lets it carry more. What only some rules ask for is neither
here; they say so themselves.
"""
ARMORED_CABLES = ("ac", "mc", "mc-ap")


class Piece(TupleRecord):
    """A part of a run along which nothing changes: what shares it, and how warm it is there."""

    place: str
    """``in R1``, ``by attic``; empty for what no line describes."""
    length: Decimal | None
    """Feet; None where the sheet does not say."""
    carrying: Decimal
    """The conductors that carry current side by side there."""
    is_adjusted: bool
    """Whether so many need an adjustment there: not in a nipple, and not in a wireway with few."""
    ambient: Decimal = USUAL_AMBIENT
    """Degrees C around it, without what the sun adds."""
    above_roof: Decimal | None = None
    """Inches above a roof in the sun; None: not on a roof."""
    in_raceway: bool = False
    underground: bool = False
    """Whether it is a raceway in the earth, and so wet inside."""
    no_relief: bool = False
    """Whether the higher ampacity of the rest may not be used here, however short it is."""


class Leg(TupleRecord):
    """One run of a circuit, or several alike, with all that bears on what it may carry."""

    circuit: Circuit
    name: str
    """``circuit 3``."""
    runs: tuple[Run, ...]
    size: str
    """Of its thinnest hot conductors; empty where it has none."""
    starts: Decimal
    """The column of its own insulation, degrees C."""
    cable: CableHeat | None
    """Of a cable, what its own article says."""
    insulation: str
    in_insulation: bool
    """Whether it lies in thermal insulation anywhere."""
    bare_armor: bool
    """Whether it is small armored or metal-clad cable without a jacket, of which more may lie together."""
    pieces: tuple[Piece, ...]
    length: Decimal | None
    """Feet; None where the sheet does not say."""
    sets: Decimal
    """So many conductors in parallel a phase."""
    terminals: Decimal
    """The column its terminals allow, degrees C."""
    terminals_why: str
    breaker: Decimal
    many_receptacles: bool
    """Whether its circuit feeds more than one receptacle for what people plug in."""
    load: Decimal | None
    """Amperes; None where the sheet does not say."""
    load_why: str
    volt_amperes: Decimal | None
    """The same as its nameplate has it, VA; None where the sheet does not say."""
    divisor: Decimal
    """By how much the VA are more than the amperes."""
    motor: Motor | None
    """Of a circuit for a motor, what it draws."""
    ground: Ground
    single_phase: bool = False
    """Whether it is known to be single-phase."""

    @property
    def by_nameplate(self) -> bool:
        """Whether the nameplate of cooling or heating equipment decides on its wire and breaker. Of an appliance of
        another kind only its largest breaker may be marked.
        """
        marked = self.circuit.mocp is not None and self.circuit.serves in ("", "heat") and not self.circuit.horsepower
        return self.circuit.mca is not None or marked

    @property
    def run(self) -> Run:
        """The first of its runs: they are alike."""
        return self.runs[0]

    @property
    def wires(self) -> str:
        """``12/2 nm-b, P > J1``; of several runs alike the first and how many more."""
        more = f" and {len(self.runs) - 1} more" if len(self.runs) > 1 else ""
        return f"{run_text(self.run)}{more}"

    @property
    def title(self) -> str:
        """``circuit 3 (12/2 nm-b, P > J1)``."""
        return f"{self.name} ({self.wires})"


class Subject(TupleRecord):
    """A circuit to judge, and the runs that belong to it."""

    circuit: Circuit
    runs: tuple[Run, ...]

    @property
    def name(self) -> str:
        """``circuit 3``."""
        return f"circuit {self.circuit.name}"

    @property
    def placed(self) -> Decimal | None:
        """The sum of the loads written at its places, VA; None where none is written."""
        loads = [run.load for run in self.runs if run.load is not None]
        return sum(loads, ZERO) if loads else None

    @property
    def disagree(self) -> bool:
        """Whether its own line has another load than its places together."""
        own, placed = self.circuit.load, self.placed
        return own is not None and own is not UNKNOWN and placed is not None and own != placed


def run_text(run: Run) -> str:
    """A run by what it is and where it goes: ``12/2 nm-b, P > J1``; ``#6 thhn, P > K1``."""
    if run.cable is not None:
        return f"{run.cable.name}, {stops_text(run.stops)}"
    wires = next((group for group in run.wires if group.role == "insulated"), run.wires[0])
    return f"{size_text(wires.size)} {wires.insulation}".rstrip() + f", {stops_text(run.stops)}"


class Wiring:
    """One circuit under one assumption: puts its legs together, asking for each fact nobody knows."""

    def __init__(self, subject: Subject, graph: Graph, book: CodeBook, assumption: Assumption) -> None:
        self.circuit = subject.circuit
        self.subject = subject
        self.graph = graph
        self.book = book
        self.assumption = assumption
        source = graph.source_of(self.circuit.name)
        self.panel: Panel | None = graph.panels.get(source) if source else None

    def choose(self, fact: Fact, text: str, choices: tuple[T, ...], names: tuple[str, ...]) -> T:
        """What is assumed for a fact that has so many values, from small to large; of one possible value nothing is
        asked.
        """
        return choices[0] if len(choices) == 1 else self.assumption.take(Unknown(fact, text, choices, names))

    def count(self, fact: Fact, text: str, least: Decimal, most: Decimal = NO_LIMIT) -> Decimal:
        """How many, between two ends."""
        return self.assumption.take(Unknown(fact, text, (least, most), is_range=True))

    # ---- the circuit -----------------------------------------------------------------------------------------------

    def leg(self, runs: tuple[Run, ...]) -> Leg:
        """The leg of some runs alike."""
        run = runs[0]
        size = self.size(run)
        cable = self.cable(run)
        insulation = self.insulation(run)
        starts = cable.starts if cable is not None else self.column(run, insulation)
        breaker = self.breaker()
        load, load_why = self.load()
        pieces = tuple(self.pieces(run))
        return Leg(
            self.circuit,
            self.subject.name,
            runs,
            size,
            starts,
            cable,
            insulation,
            run.in_insulation or any(self.graph.routes[each.name].in_insulation for each in run.routes),
            self.bare_armor(run, size, pieces),
            pieces,
            None if run.length is UNKNOWN else run.length,
            self.sets(run, size),
            *self.terminals(breaker),
            breaker,
            self.many_receptacles(),
            load,
            load_why,
            self.volt_amperes(),
            self.divisor,
            motor_of(self, breaker),
            ground_of(run, size, self),
            self.circuit.phases == 1 or (self.circuit.phases is None and is_split_phase(self.panel)),
        )

    def breaker(self) -> Decimal:
        """The rating of its breaker, amperes."""
        amperes = self.circuit.amperes
        if amperes is not None and amperes is not UNKNOWN:
            return Decimal(amperes)
        ratings = tuple([Decimal(each) for each in self.book[STANDARD].ratings if each <= self.book[NEXT_SIZE].up_to])
        names = tuple([f"{rating} A" for rating in ratings])
        return self.choose(fact_of(self.circuit, "breaker"), f"the breaker of {self.subject.name}", ratings, names)

    def terminals(self, breaker: Decimal) -> tuple[Decimal, str]:
        """The column that the terminals at both ends allow, and why."""
        terms = self.book[TERMINALS]
        marked = self.circuit.terminals
        if marked is not None:
            return Decimal(marked), f"terminals marked {marked} C"
        if breaker > terms.small_amperes:
            return terms.large, f"a circuit over {terms.small_amperes} A"
        if self.panel is not None and self.panel.terminals == terms.small:
            return terms.small, f"{self.panel.name} is marked {terms.small} C"
        text = f"what the terminals at both ends of {self.subject.name} are marked for"
        choices, fact = (terms.small, terms.large), fact_of(self.circuit, "terminals")
        taken = self.choose(fact, text, choices, tuple([f"{degrees} C" for degrees in choices]))
        return taken, "terminals not marked" if taken == terms.small else f"terminals marked {taken} C"

    @property
    def volts(self) -> tuple[int, str]:
        """Its volts, and where they come from."""
        if self.circuit.volts is not None:
            return self.circuit.volts, ""
        if self.panel is not None and len(self.panel.volts) == 1:
            return self.panel.volts[0], f", of {self.panel.name}"
        return USUAL_VOLTS, ", assumed"

    def load(self) -> tuple[Decimal | None, str]:
        """What it is asked to carry, amperes, rounded up to a hundredth, and how that comes about."""
        load = self.volt_amperes()
        if load is None or not load.is_finite():
            return load, ""
        volts, whence = self.volts
        how = f"{number(load, 0)} VA{' at its places,' if load == self.placed else ''} at {volts} V{whence}"
        how += ", 3-phase" if self.circuit.phases == THREE_PHASE else ""
        return (load / self.divisor).quantize(HUNDREDTH, ROUND_UP), how

    @property
    def placed(self) -> Decimal | None:
        """The sum of the loads written at its places, VA; None where none is written."""
        return self.graph.loads_placed.get(self.circuit.name.casefold())

    def volt_amperes(self) -> Decimal | None:
        """Its load in VA: that of its line or the sum of those at its places, the larger where both are written."""
        written, placed = self.circuit.load, self.placed
        if written is UNKNOWN:
            return self.unknown_load(placed or ZERO)
        known = [each for each in (written, placed) if each is not None]
        return max(known, default=None)

    @property
    def divisor(self) -> Decimal:
        """By how much its VA are more than its amperes."""
        return Decimal(self.volts[0]) * (ROOT_3 if self.circuit.phases == THREE_PHASE else ONE)

    def unknown_load(self, least: Decimal) -> Decimal:
        """Its load in VA, which nobody knows: no less than what is written at its places."""
        text = f"the load of {self.subject.name}"
        ends = (least, NO_LIMIT)
        return self.assumption.take(Unknown(fact_of(self.circuit, "load"), text, ends, is_range=True, unit="VA"))

    def many_receptacles(self) -> bool:
        """Whether it feeds more than one receptacle. Where the sheet shows fewer, that is asked if an end of it is not
        known or any of it ends in a box; what ends at equipment alone feeds none.
        """
        fed = self.graph.receptacles_fed.get(self.circuit.name.casefold())
        if fed is None:
            return False
        if fed > 1:
            return True
        text = f"whether {self.subject.name} feeds more than one receptacle"
        return self.choose(fact_of(self.circuit, "receptacles"), text, (False, True), ("no", "yes"))

    # ---- a run -----------------------------------------------------------------------------------------------------

    def size(self, run: Run) -> str:
        """The size of its thinnest hot conductors; empty where it has none."""
        if run.cable is not None:
            if run.cable.size is not UNKNOWN:
                return run.cable.size
            sizes = sizes_of(run.cable)
            return self.choose(
                fact_of(run, "cable size"), f"the size of {run_text(run)}", sizes, tuple(map(size_text, sizes))
            )
        groups = [
            (wires, wires.size if wires.size is not UNKNOWN else self.wire_size(run, part))
            for part, wires in enumerate(run.wires)
            if wires.role == "insulated"
        ]
        groups.sort(key=lambda group: RANK[group[1]])
        if self.begins_with_neutral(run, groups):
            del groups[0]
        return groups[0][1] if groups else ""

    def begins_with_neutral(self, run: Run, groups: list[tuple[Wires, str]]) -> bool:
        """Whether the thinnest of some groups of wires, which come with their sizes from thin to thick, is a neutral of
        two hots or more, and not a hot. It may be thinner than they are: what it carries is their difference.
        """
        if len(groups) < 2 or groups[0][1] == groups[1][1] or self.circuit.volts == USUAL_VOLTS:
            return False
        thin, size = groups[0]
        hots = [wires.count for wires, _ in groups[1:]]
        if UNKNOWN in hots or thin.count != run.sets or sum(hots) < 2 * run.sets:  # type: ignore[arg-type]
            return False
        if thin.color:
            return thin.color in NEUTRAL_COLORS
        text = f"whether the {size_text(size)} of {run_text(run)} is its neutral"
        return self.choose(fact_of(run, "neutral"), text, (False, True), ("no", "yes"))

    def wire_size(self, run: Run, part: int) -> str:
        """The size of a group of wires, which the sheet does not say."""
        every = tuple(sorted({row.size for row in self.book[AMPACITY].rows}, key=RANK.__getitem__))
        fact = fact_of(run, "wire size", str(part))
        return self.choose(fact, f"the size of {run_text(run)}", every, tuple(map(size_text, every)))

    def cable(self, run: Run) -> CableHeat | None:
        """What the article of its cable says; None for wires, and for a cable without a row."""
        return self.book.once(heat_by_kind).get(run.cable.kind) if run.cable is not None else None

    def insulation(self, run: Run) -> str:
        """The insulation of its wires, the coolest of several; empty where it is not written or not in the table, and
        for a cable.
        """
        if run.cable is not None:
            return ""
        rated = self.book.once(insulations)
        names = [wires.insulation.removeprefix("compact ") for wires in run.wires if wires.role == "insulated"]
        if not names or not all(name in rated for name in names):
            return ""
        return min(names, key=lambda name: (rated[name].wet or rated[name].dry, rated[name].dry))

    def column(self, run: Run, insulation: str) -> Decimal:
        """The column of a run's insulation, degrees C; of old cable nobody knows the coolest."""
        if run.cable is not None:
            return COLUMNS[0]
        if not insulation:
            text = f"what the insulation of {run_text(run)} is rated for"
            names = tuple([f"{column} C" for column in COLUMNS])
            return self.choose(fact_of(run, "insulation rating"), text, COLUMNS, names)
        row = self.book.once(insulations)[insulation]
        if not row.wet or row.wet == row.dry:  # one that is not for wet places is told where it lies in one
            return row.dry
        raceways = [self.graph.raceways[each.name] for each in run.raceways if each.name in self.graph.raceways]
        text = f"whether {run_text(run)} lies in a wet place: outdoors, or underground"
        is_wet = any(raceway.underground for raceway in raceways) or self.choose(
            fact_of(run, "wet place"), text, (False, True), ("dry", "wet")
        )
        return row.wet if is_wet else row.dry

    def bare_armor(self, run: Run, size: str, pieces: tuple[Piece, ...]) -> bool:
        """Whether it is armored or metal-clad cable without a jacket, as small and with as few conductors as more of
        them may lie together; whether there is a jacket is asked where there is company.
        """
        terms = self.book[ARMORED]
        if run.cable is None or run.cable.kind not in ARMORED_CABLES or run.material != "copper" or size != terms.size:
            return False
        each = self.each(run)
        is_crowded = any(each.is_adjusted and each.carrying > self.book[ADJUSTMENT].free for each in pieces)
        if each > terms.conductors or not is_crowded:
            return False
        text = f"whether {run_text(run)} has a jacket over its armor"
        return not self.choose(fact_of(run, "jacket"), text, (False, True), ("no", "yes"))

    def sets(self, run: Run, size: str) -> Decimal:
        """How many conductors a phase are in parallel: as written, or several runs alike on one line, of #1/0 and
        larger. Thinner ones are not run in parallel.
        """
        if size and run.sets > 1 and RANK[size] >= RANK[THINNEST_IN_PARALLEL]:
            return Decimal(run.sets)
        if run.count is UNKNOWN or run.count == 1 or not size or RANK[size] < RANK[THINNEST_IN_PARALLEL]:
            return ONE
        return Decimal(run.count)

    # ---- where it lies ---------------------------------------------------------------------------------------------

    def pieces(self, run: Run) -> Iterator[Piece]:
        """The parts of a run, each with its company and its heat."""
        routes = [self.graph.routes[name] for name in dict.fromkeys(route.name for route in run.routes)]
        warm = [route for route in routes if route.ambient is not None or route.rooftop is not None]
        is_all_there = any(is_as_long(route, run) for route in warm)
        for lain_in in run.raceways:
            place = f"in {lain_in.name or lain_in.kind}"
            carrying, is_adjusted, length = self.in_raceway(run, lain_in)
            described = self.graph.raceways.get(lain_in.name)
            wet = described is not None and described.underground
            for route in warm:  # which of its raceways lies there the sheet does not say: each of them may
                ambient = USUAL_AMBIENT if route.ambient is None else route.ambient
                where = f"{place}, by {route.name}"
                yield Piece(where, route.length, carrying, is_adjusted, ambient, route.rooftop, True, wet)
            if not is_all_there:
                yield Piece(place, length, carrying, is_adjusted, in_raceway=True, underground=wet)
        if run.cable is None and run.raceways:
            return
        for route in routes:
            yield self.along(run, route.name)
        if not routes and not run.raceways:
            yield self.alone(run)
        elif not self.is_all_described(run):
            yield Piece("", None, self.each(run), True)

    def is_all_described(self, run: Run) -> bool:
        """Whether its raceways and routes are as long as it is; one without a length may be all of it."""
        lengths: list[Decimal] = []
        for described in (
            *[self.graph.raceways.get(lain_in.name) for lain_in in run.raceways],
            *[self.graph.routes[route.name] for route in run.routes],
        ):
            if described is None or described.length is None or described.length is UNKNOWN:
                return True
            lengths.append(described.length)
        return run.length is not None and run.length is not UNKNOWN and sum(lengths, ZERO) >= run.length

    def in_raceway(self, run: Run, lain_in: RunRaceway) -> tuple[Decimal, bool, Decimal | None]:
        """The current-carrying conductors in a raceway, whether so many need an adjustment, and its length in feet."""
        wireway = self.graph.wireways.get(lain_in.name)
        if wireway is not None:
            return self.in_wireway(wireway)
        runs: tuple[Run, ...] = (run,)
        if lain_in.name:
            runs = self.graph.runs_in[lain_in.name]
        else:
            key = shared_by(run, lain_in)
            runs = self.graph.runs_in_unnamed(key, shared_by)
        carrying, _ = self.together_in(runs)
        raceway = self.graph.raceways.get(lain_in.name)
        if raceway is None:
            return carrying, True, None
        longest = self.book[BUNDLE].longest_nipple
        if raceway.length is not None and raceway.length is not UNKNOWN:
            return carrying, raceway.length * INCHES_PER_FOOT > longest, raceway.length
        text, names = f"how long {raceway.name} is", (f"{inches(longest)} or less", "longer")
        is_nipple = self.choose(fact_of(raceway, "raceway length"), text, (True, False), names)
        return carrying, not is_nipple, None

    def in_wireway(self, wireway: Wireway) -> tuple[Decimal, bool, Decimal | None]:
        """The same of a wireway or gutter, which takes more before anything is adjusted."""
        lying = self.graph.runs_in_wireways[wireway.name]
        carrying = sum((self.carrying(run) * lengths for run, lengths in lying), ZERO)
        terms = wireway_conductors.GUTTER if wireway.form == "gutter" else wireway_conductors.WIREWAY
        return carrying, carrying > self.book[terms].conductors, None

    def along(self, run: Run, name: str) -> Piece:
        """A route, and who goes along it."""
        route, cable = self.graph.routes[name], self.cable(run)
        own = self.each(run)
        carrying, cables = self.together_in(self.graph.runs_along[name])
        in_insulation = route.in_insulation or run.in_insulation
        most = None if cable is None else cable.bundled_over
        is_many = most is not None and cables > most
        in_opening = route.sealed and cable is not None and cable.in_openings
        is_short = route.length is not None and route.length * INCHES_PER_FOOT <= self.book[BUNDLE].longest_bundle
        is_adjusted = is_many and in_opening
        may_touch = carrying > own and not (run.spaced or route.spaced)
        if not is_adjusted and may_touch and ((is_many and in_insulation) or not is_short):
            is_adjusted = self.is_bundled(route)
        barred = cable is not None and (
            (in_opening and cable.no_relief_in_openings) or (in_insulation and cable.no_relief_in_insulation)
        )
        ambient = USUAL_AMBIENT if route.ambient is None else route.ambient
        together = carrying if is_adjusted else own
        return Piece(f"by {name}", route.length, together, True, ambient, route.rooftop, no_relief=barred)

    def is_bundled(self, route: Route) -> bool:
        """Whether the cables along a route lie bundled; asked where no word says so."""
        if route.spaced is not None:
            return not route.spaced
        text, names = f"whether the cables by {route.name} are kept apart", ("kept apart", "bundled")
        return self.choose(fact_of(route, "spacing"), text, (False, True), names)

    def alone(self, run: Run) -> Piece:
        """A run of which no line says where it lies: with as many cables as lie bundled at most, which is asked for
        where the sheet does not say it.
        """
        carrying = self.each(run)
        if not run.spaced and not run.low_voltage:
            carrying += self.companions(carrying, self.together())
        cable = self.cable(run)
        barred = cable is not None and run.in_insulation and cable.no_relief_in_insulation
        return Piece("", None, carrying, True, no_relief=barred)

    def together(self) -> Decimal:
        """How many of the cables without a route lie bundled at most."""
        most = Decimal(len(self.graph.loose_carrying)) if self.graph.is_loose_known else NO_LIMIT
        if self.graph.cables_together is not None:
            return min(Decimal(self.graph.cables_together), most)
        if most <= ONE:
            return ONE
        text = "how many cables lie bundled at most, for over 24 in. or through one sealed hole"
        return self.count(fact_of(self.graph.loose_cables[0], "company"), text, ONE, most)

    def companions(self, own: Decimal, together: Decimal) -> Decimal:
        """The most conductors that carry current in the cables beside one with ``own`` of them, so many in all."""
        if together <= ONE:
            return ZERO
        if not self.graph.is_loose_known or not (together.is_finite() and own.is_finite()):
            return NO_LIMIT
        sums = self.graph.loose_sums
        many = min(int(together), len(sums) - 1)
        is_among_them = own >= sums[many] - sums[many - 1]
        return Decimal(sums[many]) - own if is_among_them else Decimal(sums[many - 1])

    def together_in(self, runs: tuple[Run, ...]) -> tuple[Decimal, Decimal]:
        """The conductors that carry current in all runs of a raceway or route, and the cables among them."""
        known = self.graph.carried_by(runs)
        carrying = sum(map(self.carrying, known.uncounted), Decimal(known.conductors))
        return carrying, sum(map(self.cables, known.uncounted), Decimal(known.cables))

    def carrying(self, run: Run) -> Decimal:
        """How many of its conductors carry current, of all the runs alike a line stands for."""
        each = self.each(run)
        return each * self.times(run) if each else ZERO

    def each(self, run: Run) -> Decimal:
        """How many conductors carry current in one cable, or in one set of wires."""
        if run.low_voltage:
            return ZERO
        total = ZERO
        for part, group in enumerate(conductors_of(run)):
            if group.role == "insulated":
                total += self.group_count(run, part, group)
        return total - idle_neutrals(run, self.graph)

    def group_count(self, run: Run, part: int, wires: Wires) -> Decimal:
        """How many wires a group has."""
        if wires.count is not UNKNOWN:
            return Decimal(wires.count)
        text = f"how many {size_text(wires.size)} come in ({stops_text(run.stops)})"
        return self.count(fact_of(run, "wires count", str(part)), text, ZERO)

    def times(self, run: Run) -> Decimal:
        """How many runs alike a line stands for."""
        if run.count is not UNKNOWN:
            return Decimal(run.count)
        text = f"how many {run.cable.name if run.cable else 'such wires'} there are alike"
        return self.count(fact_of(run, "run count"), text, ONE)

    def cables(self, run: Run) -> Decimal:
        """How many cables it is, of two or more conductors that carry current each."""
        if run.cable is None or self.each(run) < ONE + ONE:
            return ZERO
        return self.times(run)


def is_as_long(route: Route, run: Run) -> bool:
    """Whether a route is known to be at least as long as a run: all of the run lies there."""
    if route.length is None or run.length is None or run.length is UNKNOWN:
        return False
    return route.length >= run.length


def heat_by_kind(book: CodeBook) -> dict[str, CableHeat]:
    """What the article of each kind of cable says, by kind."""
    return {row.kind: row for row in book[CABLES_HEAT].rows}


def insulations(book: CodeBook) -> dict[str, Insulation]:
    """What each insulation is rated for, by its name."""
    return {row.kind: row for row in book[INSULATIONS].rows}


def ampacities(book: CodeBook) -> dict[tuple[str, str], AmpacityRow]:
    """The rows of the table of ampacities, by material and size."""
    return {(row.material, row.size): row for row in book[AMPACITY].rows}
