"""All remedies for one subject, most often a box: every move, two together where one is not enough, each checked by the
whole rules.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from decimal import Decimal
from operator import itemgetter
from typing import Any

from ampleroom.arithmetic import Unit
from ampleroom.job.edit import AddBox, AddRaceway, AddWireway, Change, changed
from ampleroom.job.model import Box, Job
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import volume
from ampleroom.record import Record, TupleRecord, replace
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, is_replaceable
from ampleroom.remedy.in_place import SubjectInPlace
from ampleroom.remedy.moves import MOVES, KindMoves, Maker
from ampleroom.remedy.moves.another_box import TOO_DEEP, fits_place, room_of, stocked_depth
from ampleroom.remedy.moves.larger_raceway import smallest_that_passes
from ampleroom.remedy.moves.larger_wireway import passes_with
from ampleroom.remedy.moves.less_drop import drop_advice
from ampleroom.remedy.moves.pull_boxes import pull_box_reasons
from ampleroom.remedy.moves.second_raceway import has_shared_ground
from ampleroom.remedy.moves.thicker_wire import thicker_wire
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.raceway_parts import plain_feet
from ampleroom.remedy.remedy import CIRCUIT, MEASURED_BY_AREA, Buy, Disturbance, Move, Remedy, not_dominated
from ampleroom.remedy.stock import Money, Stock, StockBox
from ampleroom.remedy.trial import Judgement, Trial, judged_in, judgement_of, margin_of, runs_in
from ampleroom.remedy.wireway_in_place import WirewayInPlace
from ampleroom.rules.box.pull_box import NAME as PULL_BOX
from ampleroom.rules.kinds import headline_of
from ampleroom.rules.wireway.entries import NAME as ENTRIES
from ampleroom.sizing.circuit import resized, thinnest
from ampleroom.worksheet import OpenFact, SubjectReport, Verdict

NO_MARGIN = Decimal(0)
SECOND_MOVES = 12
"""How many moves at most are tried together with each other one: those that gain the most room."""


class Nothing(Record):
    """Why nothing in the stock helps a box."""

    box: str
    reasons: tuple[str, ...]
    is_open: bool = False
    """Whether it may pass as it is: facts are to be checked, and till then nothing is offered."""

    @property
    def headline(self) -> str:
        """What a list says of it before its reasons."""
        if self.is_open:
            return "no fix is offered before its facts are checked: it may pass as it is"
        return "nothing in the stock file fixes it"


class Wanted(Record):
    """Which remedies are asked for: those that disturb no more than ``most`` and may be needed for the least cost,
    where a kind of box costs ``charge`` to carry; with no charge given, all of them.
    """

    most: Disturbance = Disturbance.PLASTER
    charge: Money | None = None

    def lets(self, move: Move) -> bool:
        """Whether a move disturbs no more than asked."""
        return move.disturbance <= self.most

    def is_needless(
        self, cost: Money, kinds: Collection[StockBox], touches: Collection[str], kept_so_far: Iterable[Priced]
    ) -> bool:
        """Whether one that was found does for it: it changes no box that this one would not, and costs no more even if
        its own kinds of box have to be carried for it.
        """
        if self.charge is None:
            return False
        for kept in kept_so_far:
            own = sum(kind not in kinds for kind in kept.remedy.kinds)
            if kept.cost + self.charge * own <= cost and kept.remedy.touches.issubset(touches):
                return True
        return False


EVERY = Wanted()


class Priced(TupleRecord):
    """A remedy and what it costs."""

    remedy: Remedy
    cost: Money


class Tried(Record):
    """A move with what came of it."""

    move: Move
    passes: bool
    margin: Decimal
    touches: frozenset[str]
    maker: Maker | None = None
    """What made the move."""
    unsettled: int = 0
    """How many findings of what it fixes fail or need a check then."""
    also_fixes: frozenset[str] = frozenset()
    """Other circuits that fail now and pass then."""


NO_MOVES = KindMoves(())


def moves_of(trial: Trial, name: str) -> KindMoves:
    """What may be done about a subject, by its kind; nothing where its kind has no moves."""
    return MOVES.get(trial.reports[name].kind, NO_MOVES)


def in_place(trial: Trial, subject: Any, stock: Stock) -> Any:
    """A subject as its moves see it: a ``BoxInPlace`` for a box or conduit body, else a ``SubjectInPlace``."""
    runs = trial.runs_at.get(subject.name, ())
    view = moves_of(trial, subject.name).in_place
    return view(trial.job, subject, stock, trial.book, trial.reports[subject.name], runs)


def not_tried(trial: Trial, subject: Any, stock: Stock) -> tuple[str, ...]:
    """What the last search left out of a subject because it is unusually large, in sentences; none where it tried
    all.
    """
    placed = in_place(trial, subject, stock)
    texts = [text for not_tried_of in moves_of(trial, subject.name).not_tried if (text := not_tried_of(placed))]
    if count := trial.second_moves.get(subject.name):
        texts.append(f"Only {SECOND_MOVES} of {count} fixes were tried as the second of a pair.")
    return tuple(texts)


def remedies(
    trial: Trial, subject: Any, stock: Stock, margin: Decimal = NO_MARGIN, most: Disturbance = Disturbance.PLASTER
) -> list[Remedy]:
    """Every remedy no other one beats, cheapest first; none if nothing helps. ``margin``: room to be left, in3."""
    return not_dominated(all_remedies(trial, subject, stock, margin, Wanted(most)), stock)


def all_remedies(
    trial: Trial, subject: Any, stock: Stock, margin: Decimal = NO_MARGIN, wanted: Wanted = EVERY
) -> list[Remedy]:
    """Every move wanted that is enough alone, and pairs of moves of which neither is; the cheapest are tried first."""
    name = subject.name
    if trial.reports[name].is_empty:
        return []
    if trial.is_circuit(name):
        return remedies_of_circuit(trial, subject, stock, wanted)
    if unit_of(trial, name) is not Unit.IN3:
        margin = NO_MARGIN  # it is given in in3
    placed, now = in_place(trial, subject, stock), margin_of(trial.reports[name])
    makers = moves_of(trial, name).makers
    made = [(move.cost(stock), move, make) for make in makers for move in make(placed) if wanted.lets(move)]
    made.sort(key=itemgetter(0))
    priced: list[Priced] = []
    short: list[Tried] = []
    left_but_room: dict[str, Decimal] = {}
    touches_of_alike: dict[str, frozenset[str]] = {}
    for cost, move, make in made:
        touches = touches_of_alike.get(move.alike) or trial.touched(move.change)
        if move.alike:
            touches_of_alike[move.alike] = touches
        if wanted.is_needless(cost, move.kinds, touches, priced):
            continue
        if move.family in left_but_room and (left := left_but_room[move.family] + move.room) < margin:
            short.append(
                Tried(move, False, left, touches, make)
            )  # too small, as one may tell from another of its family
            continue
        attempt = try_move(trial, move, margin, touches, make)
        if move.family:
            left_but_room[move.family] = attempt.margin - move.room
        if attempt.passes:
            priced.append(Priced(remedy_of(trial, attempt), cost))
        else:
            short.append(attempt)
    if count := second_moves_cut(now, short, margin):
        trial.second_moves[name] = count
    unsettled = judgement_of(trial.reports[name]).unsettled if trial.reports[name].kind in MEASURED_BY_AREA else 0
    joint = [(both(first.move, second.move), first, second) for first, second in pairs(now, short, margin, unsettled)]
    for cost, (move, first, second) in sorted(((pair[0].cost(stock), pair) for pair in joint), key=itemgetter(0)):
        touches = first.touches | second.touches
        if not wanted.is_needless(cost, move.kinds, touches, priced):
            joined = together(trial, name, stock, first, second)
            if joined is not None and (attempt := try_move(trial, joined, margin, touches)).passes:
                priced.append(Priced(remedy_of(trial, attempt), cost))
    return [kept.remedy for kept in priced]


def remedies_of_circuit(trial: Trial, subject: Any, stock: Stock, wanted: Wanted) -> list[Remedy]:
    """Every move wanted for a circuit that is enough alone, with what has to be done at boxes and raceways that it
    overfills. None makes up for another one, so all that pass are offered; the cheapest are tried first. For the least
    cost one without a price is wanted only where none has one.
    """
    placed = in_place(trial, subject, stock)
    moves = [move for make in moves_of(trial, subject.name).makers for move in make(placed)]
    moves.sort(key=lambda move: move.cost(stock))
    offered: list[Remedy] = []
    for move in moves:
        touches = trial.touched(move.change)
        attempt = try_move(trial, move, NO_MARGIN, touches)
        if not attempt.passes:
            fitted = with_room(trial, move, touches, stock)
            if fitted is None:
                continue
            attempt = try_move(trial, fitted, NO_MARGIN, trial.touched(fitted.change))
        if attempt.passes and wanted.lets(attempt.move):
            offered.append(remedy_of(trial, attempt))
    priced = [remedy for remedy in offered if not remedy.unpriced]
    return priced if priced and wanted.charge is not None else offered


def is_advised(report: SubjectReport) -> bool:
    """Whether a circuit passes and something is advised against that a fix may better: who asks for it gets it."""
    return report.kind == CIRCUIT and report.verdict.is_allowed and drop_advice(report) is not None


def with_room(trial: Trial, move: Move, touches: frozenset[str], stock: Stock) -> Move | None:
    """A move on a circuit together with the cheapest fix of every box and raceway that would be worse for it; None
    where the circuit does not pass with it, or something worse has no fix.
    """
    here = frozenset((move.fixed_name,))
    after = trial.judged_after(touches, move.change, touches)
    if not after[move.fixed_name].verdict.is_allowed:
        return None
    worse = [
        name
        for name, judgement in sorted(after.items())
        if name not in here and (known := trial.reports.get(name)) and trial.is_worse(name, judgement, known)
    ]
    if not worse or any(trial.is_circuit(name) for name in worse):
        return None
    for name in worse:
        small = Trial(trial.part(trial.touched(move.change), move.change), trial.book)
        fixes = [
            fix
            for fix in all_remedies(small, small.subject(name), stock)
            if not adds_name(fix.change, trial.job) and not any(small.is_circuit(each) for each in fix.touches)
        ]
        if not fixes:
            return None
        fix = min(fixes, key=lambda fix: (fix.ranked_cost(stock), fix.disturbance))
        move = and_fix(move, fix)
    return move


def and_fix(move: Move, fix: Remedy) -> Move:
    """A move with the fix of a box or raceway that it would overfill."""
    return replace(
        move,
        action=f"{move.action}, and at {fix.box} {fix.action}",
        change=move.change + fix.change,
        buys=joined_buys(move.buys + fix.buys),
        minutes=move.minutes + fix.minutes,
        disturbance=max(move.disturbance, fix.disturbance),
        kinds=move.kinds + fix.kinds,
        notes=tuple(dict.fromkeys(move.notes + fix.notes)),
        rates=move.rates + fix.rates,
        alike="",
        unpriced=move.unpriced or fix.unpriced,
        details=(*move.details, f"The thicker wire would overfill {fix.box}, so both go together.", *fix.details),
    )


def try_move(trial: Trial, move: Move, margin: Decimal, touches: frozenset[str], maker: Maker | None = None) -> Tried:
    """A move judged: the box it mends passes with the room asked for, and no other one is worse."""
    here = frozenset((move.fixed_name,))
    after = trial.judged_after(here, move.change, touches, move.alike)
    judged = after[move.fixed_name]
    passes = judged.verdict.is_allowed and judged.margin >= margin
    if passes:
        after |= trial.judged_after(touches - here, move.change, touches, move.alike)
        passes = trial.is_no_worse(after, move.fixed_name)
    fixed = frozenset(name for name in touches - here if trial.is_circuit(name) and is_fixed(trial, name, after))
    return Tried(move, passes, judged.margin, touches, maker, judged.unsettled, fixed if passes else frozenset())


def is_fixed(trial: Trial, name: str, after: dict[str, Judgement]) -> bool:
    """Whether a subject fails now and passes afterwards."""
    return name in after and trial.reports[name].verdict is Verdict.FAILS and after[name].verdict.is_allowed


def pairs(now: Decimal, short: list[Tried], margin: Decimal, unsettled: int = 0) -> Iterator[tuple[Tried, Tried]]:
    """Two moves together, where each alone falls short and both may gain enough. ``unsettled``: of a raceway, how many
    findings do not pass now; a move that leaves fewer gains by that too, as a pull point does.
    """
    if not now.is_finite():
        return
    gaining = gaining_moves(now, short, unsettled)
    second_moves = [attempt for attempt in gaining if unsettled or not attempt.move.kinds][:SECOND_MOVES]
    places = {id(attempt): place for place, attempt in enumerate(gaining)}
    for first in gaining:
        for second in second_moves:
            if second is first or (not first.move.kinds and places[id(second)] < places[id(first)]):
                continue
            if (first.margin - now) + (second.margin - now) >= margin - now:
                yield first, second


def gaining_moves(now: Decimal, short: list[Tried], unsettled: int = 0) -> list[Tried]:
    """The moves that leave more room than there is now, or fewer findings than ``unsettled``; most room first."""
    gaining = (attempt for attempt in short if attempt.margin > now or attempt.unsettled < unsettled)
    return sorted(gaining, key=lambda attempt: -attempt.margin)


def second_moves_cut(now: Decimal, short: list[Tried], margin: Decimal) -> int:
    """How many moves might be the second of a pair, where ``SECOND_MOVES`` leaves out one that may be enough with
    another; else 0.
    """
    if not now.is_finite():
        return 0
    gaining = gaining_moves(now, short)
    seconds = [attempt for attempt in gaining if not attempt.move.kinds]
    if len(seconds) <= SECOND_MOVES:
        return 0
    cut = seconds[SECOND_MOVES]
    return len(seconds) if gaining[0].margin - now + cut.margin - now >= margin - now else 0


def together(trial: Trial, name: str, stock: Stock, tried: Tried, other: Tried) -> Move | None:
    """Two moves as one: the second is made on the job the first leaves, so that both go together or not at all."""
    first, second, make = tried.move, other.move, other.maker
    assert make is not None  # it is known of every move tried alone

    def made_in(job: Job) -> Move | None:
        subject = next(subject for subject, _ in judged_in(job, frozenset((name,))))
        runs = tuple(run for run in job.runs if any(stop.name == name for stop in run.stops)) or runs_in(subject)
        after = moves_of(trial, name).in_place(job, subject, stock, trial.book, trial.reports[name], runs)
        return next((both(first, move) for move in make(after) if move.action == second.action), None)

    joined = made_in(trial.part(tried.touches | other.touches, first.change))
    if joined is not None and adds_name_of(joined, trial.job):  # free among these places, and not in the whole job
        joined = made_in(changed(trial.job, first.change))
    return joined


def adds_name_of(move: Move, job: Job) -> bool:
    """Whether a move adds a box or a raceway under a name the job has already."""
    return adds_name(move.change, job)


def adds_name(change: Change, job: Job) -> bool:
    """Whether a change adds a box or a raceway under a name the job has already."""
    added = {step.new.name.casefold() for step in change if isinstance(step, AddBox | AddRaceway | AddWireway)}
    return not added.isdisjoint(job.place_names | {raceway.name.casefold() for raceway in job.raceways})


def both(first: Move, second: Move) -> Move:
    """What two moves take together."""
    return Move(
        first.box,
        f"{first.action}, and {second.action}",
        first.change + second.change,
        joined_buys(first.buys + second.buys),
        first.minutes + second.minutes,
        max(first.disturbance, second.disturbance),
        first.kinds + second.kinds,
        tuple(dict.fromkeys(first.notes + second.notes)),
        rates=first.rates + second.rates,
        details=first.details + second.details,
        becomes=second.becomes or first.becomes,
        leaves=first.leaves or second.leaves,
    )


def joined_buys(buys: tuple[Buy, ...]) -> tuple[Buy, ...]:
    """Buys of the same thing at the same price as one."""
    joined: dict[tuple[str, Money], Buy] = {}
    for buy in buys:
        key = (buy.item, buy.each)
        joined[key] = buy._replace(quantity=joined[key].quantity + buy.quantity) if key in joined else buy
    return tuple(joined.values())


def unit_of(trial: Trial, name: str) -> Unit:
    """What the margin of a subject is measured in."""
    headline = headline_of(trial.reports[name].kind)
    return headline.unit if headline is not None else Unit.IN3


def remedy_of(trial: Trial, attempt: Tried) -> Remedy:
    """The remedy a move is that passed."""
    move = attempt.move
    return Remedy(
        move.box,
        move.action,
        move.change,
        move.buys,
        move.minutes,
        move.disturbance,
        attempt.margin,
        trial.held(move.box, move.change, attempt.touches) | attempt.also_fixes,
        move.kinds,
        move.notes,
        move.rates,
        (*move.details, *also_text(attempt.also_fixes)),
        move.becomes,
        unit_of(trial, move.box),
        trial.reports[move.box].kind,
        move.leaves,
        attempt.also_fixes,
        move.unpriced,
    )


def also_text(also_fixes: frozenset[str]) -> tuple[str, ...]:
    """``It also fixes circuits 7, 9 and 12.``; nothing where it fixes no other."""
    names = sorted((name.removeprefix(f"{CIRCUIT} ") for name in also_fixes), key=lambda name: (len(name), name))
    if not names:
        return ()
    *first, last = names
    text = f"circuits {', '.join(first)} and {last}" if first else f"circuit {last}"
    return (f"It also fixes {text}.",)


# ---- when nothing helps, and what to look at first -----------------------------------------------------------------


def why_nothing(trial: Trial, subject: Any, stock: Stock) -> Nothing:
    """Why nothing helps: what stands in the way of each kind of move."""
    name = subject.name
    report = trial.reports[name]
    if report.is_empty and report.kind == CIRCUIT:
        return Nothing(name, (f"it has no wires in the sheet: write {name} after its runs",))
    if report.is_empty:
        return Nothing(name, ("nothing is in it yet: write its cables and devices first",))
    if not moves_of(trial, name).makers:
        return Nothing(name, (f"no fixes are offered for a {report.kind}: 'show {name}' says what it needs",))
    reasons = REASONS.get(report.kind, no_reasons)
    return Nothing(name, tuple(reasons(in_place(trial, subject, stock))), waits_for_facts(report))


def waits_for_facts(report: SubjectReport) -> bool:
    """Whether nothing is offered while facts are to be checked: for a raceway or wireway, and for what only distances
    hold up.
    """
    if report.verdict is not Verdict.OPEN:
        return False
    by_distance = any(finding.rule == PULL_BOX and not finding.verdict.is_allowed for finding in report.findings)
    return by_distance or report.kind in (*MEASURED_BY_AREA, CIRCUIT)


def raceway_reasons(placed: RacewayInPlace) -> Iterator[str]:
    """Why nothing helps a raceway: what has to be known, what size it takes, and what the stock file lacks."""
    if not placed.fails:
        yield from facts_to_check(placed.report)
        return
    kind = placed.raceway.kind
    if placed.fill_fails:
        sized = smallest_that_passes(placed)
        if placed.bodies:
            yield f"it ends at the conduit body {' and '.join(placed.bodies)}, which is made for its trade size"
        elif sized is None:
            yield f"no {kind} holds it for certain"
        elif not any(stocked.item.startswith(f"{kind} ") for stocked in placed.stock.lengths):
            yield f"the smallest {kind} that passes is {sized.certain}; the stock file has no {kind}"
        else:
            yield f"the smallest {kind} that passes is {sized.certain}; the stock file has none so large that helps"
        if len(placed.subject.runs) < len(("one", "other")):
            yield "all in it is one run: write each circuit as a run of its own to have a second raceway tried"
        elif has_shared_ground(placed.subject.runs):
            yield "its circuits share a ground, so none can move to a second raceway without it"
    if placed.bends_fail:
        yield "no box of the stock file goes in between as a pull point"


def wireway_reasons(placed: WirewayInPlace) -> Iterator[str]:
    """Why nothing helps a wireway or gutter: what has to be known, and what the stock file lacks."""
    if not placed.fails:
        yield from facts_to_check(placed.report)
        return
    if placed.section_fails:
        form = placed.wireway.form
        if not placed.sections:
            yield f'the stock file has no {form}: write a [[length]] with is = "{form} 6 x 6"'
        elif not any(passes_with(placed, inside) for _, inside in placed.sections):
            largest = " x ".join(map(plain_feet, placed.sections[-1][1]))
            yield f"no {form} of the stock file is large enough, up to {largest} in."
        if len(placed.subject.runs) < len(("one", "other")):
            yield f"all in it is one run: write each circuit as a run of its own to have a second {form} tried"
        elif has_shared_ground(placed.subject.runs):
            yield f"its circuits share a ground, so none can move to a second {form} without it"
    for finding in placed.report.findings:
        if finding.verdict is Verdict.FAILS and finding.rule == ENTRIES:
            yield "raceways enter it too near each other: bring one in farther along"


def facts_to_check(report: SubjectReport) -> Iterator[str]:
    """The facts that hold a subject open, three for each finding, as things to do."""
    for finding in report.findings:
        if finding.verdict is Verdict.OPEN:
            for fact in finding.facts[:3]:
                yield f"check {fact.question}" + (f" ({fact.settles})" if fact.settles else "")


def no_reasons(placed: SubjectInPlace) -> Iterator[str]:
    """Why nothing helps a kind of subject without reasons of its own."""
    yield f"no fix that was tried makes this {placed.report.kind} pass"


def body_reasons(placed: BoxInPlace) -> Iterator[str]:
    """Why nothing helps a conduit body."""
    if any(
        finding.rule == "conduit-body-large" and not finding.verdict.is_allowed for finding in placed.report.findings
    ):
        yield "use a body marked for these conductors, or a pull box: the stock file has no conduit bodies"
        return
    yield "a conduit body takes no ring and no larger body is tried: pull the splices back to a box"


def box_reasons(placed: BoxInPlace) -> Iterator[str]:
    """How much room is needed and how much the largest box has that may go there, and what turned the others away."""
    if any(finding.rule == PULL_BOX and not finding.verdict.is_allowed for finding in placed.report.findings):
        yield from pull_box_reasons(placed)
        return
    stock = placed.stock
    turned_away: dict[str, int] = {}
    largest = None
    for stocked in stock.boxes:
        reason = fits_place(stocked, placed)
        if reason is not None:
            turned_away[reason] = turned_away.get(reason, 0) + 1
        else:
            room = room_of(stocked, placed.book)
            largest = room if largest is None or room > largest else largest
    needed = max((finding.worst.needed for finding in placed.report.drawn_findings if finding.worst), default=NO_MARGIN)
    if largest is not None:
        yield (
            f"it needs up to {volume(needed)}; the largest box in the stock file that may go here holds "
            f"{volume(largest)}"
        )
    elif not stock.boxes:
        yield "the stock file has no boxes"
    else:
        yield "no box in the stock file may go here"
    cavity = placed.mounting.cavity
    for reason, count in sorted(turned_away.items(), key=lambda item: -item[1])[:4]:
        deeper = ""
        if reason == TOO_DEEP and cavity is not None:
            depths = [depth for each in stock.boxes if (depth := stocked_depth(each)) is not None and depth > cavity]
            deeper = f" (the wall is {cavity} in. deep, they are {min(depths)} in. or more)" if depths else ""
        yield f"{count} of {len(stock.boxes)} boxes in the stock file: {reason}{deeper}"
    if placed.is_metal is False:
        yield "a nonmetallic box takes no metal ring, and no connectors instead of its tabs"
    elif placed.divided:
        yield "a divided box takes no ring here, and its barrier stays"


NO_ROOM = "What it lies in or ends in has no room for that for certain, and the stock file has nothing larger"

NOT_ENOUGH = "That alone is not enough: something else of the circuit still fails"


def circuit_reasons(placed: CircuitInPlace) -> Iterator[str]:
    """Why nothing helps a circuit: what has to be known first, and the wire or breaker that would do."""
    if not placed.fails:
        yield from facts_to_check(placed.report)
        return
    if any(not is_replaceable(run) for run in placed.failing_runs):
        yield "nobody knows what some of its wire is: write its cable, size and number first"
    for runs in placed.failing_legs:
        sized = thinnest(placed.subject, runs, placed.job, placed.book)
        if not sized.certain:
            yield f"wire for {sized.wires}: {sized.text}"
        elif any(resized(run, sized.certain) != run for run in runs):
            fixed = any(placed.is_fixed_by(move.change) for move in thicker_wire(placed))
            yield f"wire for {sized.wires}: {sized.text}. {NO_ROOM if fixed else NOT_ENOUGH}"
    facts = list(facts_to_check(placed.report))
    if facts:
        yield from facts
    else:
        yield f"no fix that was tried makes it pass: 'show {placed.name}' says what it needs"


REASONS: dict[str, Callable[[Any], Iterator[str]]] = {
    "box": box_reasons,
    "conduit body": body_reasons,
    "raceway": raceway_reasons,
    "wireway": wireway_reasons,
    "gutter": wireway_reasons,
    "circuit": circuit_reasons,
}
"""Why nothing helps a subject, by its kind."""


def first_fact(trial: Trial, subject: Any) -> OpenFact | None:
    """The one fact to go and look at first, where the box hangs on what nobody knows; of one still to be chosen,
    none.
    """
    if isinstance(subject, Box) and subject.kind is UNKNOWN:
        return None
    for finding in trial.reports[subject.name].findings:
        if finding.verdict is Verdict.OPEN and finding.facts:
            return finding.facts[0]
    return None


__all__ = [
    "Nothing",
    "Wanted",
    "all_remedies",
    "first_fact",
    "in_place",
    "is_advised",
    "not_tried",
    "remedies",
    "why_nothing",
]
