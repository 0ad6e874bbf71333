"""The whole job: the least total cost that makes everything pass."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Mapping
from decimal import Decimal
from typing import Any

from ampleroom.check import book_for, check
from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.job.edit import Change, changed, edited
from ampleroom.job.model import Job
from ampleroom.quantities import plural
from ampleroom.record import Record, replace
from ampleroom.remedy.box import Nothing, Wanted, all_remedies, first_fact, not_tried, why_nothing
from ampleroom.remedy.choice import LEFT, Choice, Option, Problem, rank, reduced, search
from ampleroom.remedy.remedy import RANKED_FEET, Disturbance, Rate, Remedy
from ampleroom.remedy.solver import solve
from ampleroom.remedy.stock import Money, Stock, cents, money
from ampleroom.remedy.trial import Trial, margin_of
from ampleroom.report import Report
from ampleroom.rules.kinds import so_many
from ampleroom.worksheet import OpenFact

NOBODY_PAYS = Decimal(10**9)
NOTHING_LEFT_OUT: Mapping[str, tuple[str, ...]] = {}


class Limits(Record):
    """What a plan has to keep to."""

    no_plaster: bool = False
    only_in_stock: bool = False
    most_kinds: int | None = None
    spare: str = ""
    """Something one more of which fits in every box afterwards: ``12/2 nm-b``."""
    margin: Decimal = Decimal(0)
    """Room left in every box mended, in3."""

    @property
    def most(self) -> Disturbance:
        """What may be disturbed at most."""
        return Disturbance.COVER_OFF if self.no_plaster else Disturbance.PLASTER

    def wanted(self, stock: Stock) -> Wanted:
        """The remedies that may be part of the least cost. Where kinds are limited, none makes up for another kind."""
        return Wanted(self.most, stock.kind_charge if self.most_kinds is None else NOBODY_PAYS)


class Plan(Record):
    """What to do at each box, what it costs, how good that is, and what cannot be mended."""

    job: Job
    book: CodeBook
    stock: Stock
    remedies: tuple[Remedy, ...]
    kinds: tuple[str, ...]
    """The different boxes carried."""
    choice: Choice
    nothing: tuple[Nothing, ...]
    """Boxes nothing in the stock helps, and why."""
    facts: dict[str, OpenFact]
    """For boxes that hang on unknown facts: the one to look at first, which may make the remedy needless."""
    unseen: tuple[str, ...] = ()
    """Boxes not looked at, because the search was stopped."""
    dropped: int = 0
    subject_kinds: tuple[str, ...] = ()
    """The kind of everything the remedies fix: ``box``."""
    not_tried: Mapping[str, tuple[str, ...]] = NOTHING_LEFT_OUT
    """For boxes too large to try every move of: what was left out, in sentences."""
    rounds: int = 1
    """How often it was chosen anew for what the fixes chosen so far had left."""

    @property
    def fixed_text(self) -> str:
        """``3 boxes``, ``2 boxes, 1 conduit body``: how many are fixed, by kind."""
        counted = Counter(self.subject_kinds)
        return ", ".join(so_many(count, kind) for kind, count in counted.items())

    @property
    def summary(self) -> str:
        """``3 boxes fixed for $163.66``; for a plan with nothing in it, why."""
        if self.remedies:
            and_more = " and what is by the foot" if self.rates else ""
            return f"{self.fixed_text} fixed for {money(self.cost, self.stock.currency)}{and_more}"
        if self.nothing and all(nothing.is_open for nothing in self.nothing):
            return "Nothing to buy yet: check the facts first"
        if self.nothing:
            return "Nothing in the stock file fixes it"
        return "Not finished: the search was stopped" if self.unseen else "Every box passes. Nothing to fix"

    @property
    def proof(self) -> str:
        """How good the choice is, in a sentence."""
        choice = self.choice
        if self.rounds > 1:
            return (
                f"Found in {self.rounds} rounds: fixes that meet at one box are chosen one after the other, so a "
                "cheaper combination may exist."
            )
        bound = money(self.bound, self.stock.currency)
        if choice.is_proved and self.rates:
            return f"Lowest cost, proved, if each length that is not known is {RANKED_FEET} ft. It may not be."
        if choice.is_proved:
            return "Lowest cost, proved: no other combination of these fixes is cheaper."
        if choice.left > choice.fewest:
            left = plural(choice.left, "box is", "boxes are")
            return f"Best found: {left} left, and it is not proved that so many have to be."
        return (
            f"Best found: no combination of these fixes costs less than {bound}, so it is at most {choice.gap:.1f} "
            "% over."
        )

    @property
    def rates(self) -> tuple[Rate, ...]:
        """What comes on top of the cost by the foot, where lengths are not known."""
        return tuple([rate for remedy in self.remedies for rate in remedy.rates])

    @property
    def change(self) -> Change:
        """All steps of all remedies."""
        return tuple(step for remedy in self.remedies for step in remedy.change)

    @property
    def parts(self) -> Money:
        """What the parts cost, without labor."""
        return sum((remedy.price for remedy in self.remedies), Decimal(0))

    @property
    def minutes(self) -> Decimal:
        """Minutes of work."""
        return sum((remedy.minutes for remedy in self.remedies), Decimal(0))

    @property
    def cost(self) -> Money:
        """Parts, labor and the charge for each kind carried."""
        return sum((remedy.cost(self.stock) for remedy in self.remedies), Decimal(0)) + self.stock.kind_charge * len(
            self.kinds
        )

    @property
    def bound(self) -> Money:
        """No plan of these moves can cost less. Lengths that are not known count as ``RANKED_FEET`` in it."""
        return cents(Decimal(self.choice.bound) / 100)

    @property
    def job_after(self) -> Job:
        """The job with every remedy made."""
        return changed(self.job, self.change)

    def report_after(self) -> Report:
        """The whole job as it would be, judged by the whole rules."""
        return check(self.job_after, self.book.year)


def plan(
    job: Job,
    book: CodeBook,
    stock: Stock,
    limits: Limits | None = None,
    *,
    only: Collection[str] | None = None,
    solver: bool = True,
    seconds: float = 60.0,
    progress: Callable[[str], None] = lambda text: None,
) -> Plan:
    """The least total cost that makes every box pass; what is not known counts at its worst.

    Each box is mended by one move or two, or along with another one; a box is touched by no two of them, so that what
    was checked alone holds together. The plan is checked as a whole all the same. What is left because its fixes touch
    the same box as others, as two raceways of one pull box do, is fixed in a further round, on the job as the first
    leaves it. ``only``: boxes to mend, the others left as they are. ``solver``: prove it by HiGHS where that is
    installed.
    """
    limits = limits or Limits()
    stock = stock.only_in_stock() if limits.only_in_stock else stock
    trial = Trial(job, book, limits.spare)
    ailing = [
        subject
        for name, subject in trial.subjects.items()
        if needs_mending(trial, name) and (only is None or name in only)
    ]
    wanted = limits.wanted(stock)
    by_box: dict[str, list[Remedy]] = {}
    unseen: tuple[str, ...] = ()
    try:
        for place, box in enumerate(ailing, 1):
            progress(f"box {place} of {len(ailing)}: {box.name}")
            by_box[box.name] = all_remedies(trial, box, stock, limits.margin, wanted)
    except KeyboardInterrupt:
        unseen = tuple(box.name for box in ailing if box.name not in by_box)
    nothing = [why_nothing(trial, box, stock) for box in ailing if box.name in by_box and not by_box[box.name]]
    if limits.no_plaster:
        nothing = [
            replace(none, reasons=(*none.reasons, "fixes that open the wall are left out, as asked"))
            for none in nothing
        ]
    made = chosen(
        job,
        trial,
        stock,
        limits,
        {name: rs for name, rs in by_box.items() if rs},
        tuple(nothing),
        unseen,
        solver,
        seconds,
        progress,
    )
    left_out = {subject.name: texts for subject in ailing if (texts := not_tried(trial, subject, stock))}
    made = replace(made, not_tried=left_out) if left_out else made
    again = () if unseen or limits.most_kinds is not None else may_help_now(trial, made, ailing, by_box)
    if not again:
        return made
    more = plan(made.job_after, book, stock, limits, only=again, solver=solver, seconds=seconds, progress=progress)
    joined = in_rounds(made, more, again)
    return joined if more.remedies and can_be_written(job, joined.change) else made


def may_help_now(trial: Trial, made: Plan, ailing: list[Any], by_box: dict[str, list[Remedy]]) -> tuple[str, ...]:
    """What a plan leaves that has fixes, or that meets a place the plan changes: on the job it leaves they may do."""
    if not made.remedies:
        return ()
    fixed = {name for remedy in made.remedies for name in (remedy.box, *remedy.also_fixes)}
    touched = trial.touched(made.change)
    left = [subject for subject in ailing if subject.name not in fixed]
    return tuple(
        [
            subject.name
            for subject in left
            if by_box[subject.name] or not touched.isdisjoint((subject.name, *ends_of(subject)))
        ]
    )


def ends_of(subject: Any) -> tuple[str, ...]:
    """The places a raceway joins; none of anything else."""
    raceway = getattr(subject, "raceway", None)
    return tuple(raceway.ends) if raceway is not None else ()


def can_be_written(job: Job, change: Change) -> bool:
    """Whether the sheet's text can follow all steps, later ones on what earlier ones wrote."""
    try:
        edited(job, change)
    except (LookupError, AmpleroomError):
        return False
    return True


def in_rounds(made: Plan, more: Plan, again: tuple[str, ...]) -> Plan:
    """Two plans as one: the second is for what the first has left, on the job as it leaves it."""
    cost = made.choice.cost + more.choice.cost
    return replace(
        made,
        remedies=(*made.remedies, *more.remedies),
        kinds=tuple(dict.fromkeys((*made.kinds, *more.kinds))),
        choice=Choice(more.choice.picked, cost, 0, made.choice.found_by, more.choice.fewest),
        nothing=(*(none for none in made.nothing if none.box not in again), *more.nothing),
        facts={**made.facts, **more.facts},
        dropped=made.dropped + more.dropped,
        subject_kinds=(*made.subject_kinds, *more.subject_kinds),
        not_tried={**made.not_tried, **more.not_tried},
        rounds=made.rounds + more.rounds,
    )


def needs_mending(trial: Trial, name: str) -> bool:
    """Whether a subject fails or needs a check."""
    return not trial.reports[name].verdict.is_allowed


def chosen(
    job: Job,
    trial: Trial,
    stock: Stock,
    limits: Limits,
    by_box: dict[str, list[Remedy]],
    nothing: tuple[Nothing, ...],
    unseen: tuple[str, ...],
    solver: bool,
    seconds: float,
    progress: Callable[[str], None],
) -> Plan:
    """The least choice, checked together; an option that does not hold together with the others is left out and it is
    chosen anew.
    """
    dropped = 0
    while True:
        problem, names = problem_of(by_box, stock, limits)
        choice = least(problem, solver, seconds, progress)
        remedies = tuple(
            by_box[box][problem.options[row][option].remedy]
            for row, (box, option) in enumerate(zip(problem.boxes, choice.picked, strict=True))
            if option >= 0
        )
        left = [box for box, option in zip(problem.boxes, choice.picked, strict=True) if option == LEFT]
        worse = spoiled(trial, remedies)
        if not worse:
            break
        for remedy in worse:
            by_box[remedy.box].remove(remedy)
            dropped += 1
        emptied = tuple(
            Nothing(box, ("its fixes do not work together with those of the other boxes",))
            for box in by_box
            if not by_box[box]
        )
        nothing += emptied
        by_box = {box: remedies for box, remedies in by_box.items() if remedies}
    kinds = tuple(
        names[kind]
        for kind in sorted({k for n, o in enumerate(choice.picked) if o >= 0 for k in problem.options[n][o].kinds})
    )
    along = {name for remedy in remedies for name in remedy.also_fixes}
    nothing = tuple([none for none in nothing if none.box not in along])
    stuck = tuple(Nothing(box, (stuck_reason(by_box[box], limits, choice),)) for box in left)
    facts = {
        remedy.box: fact for remedy in remedies if (fact := first_fact(trial, trial.subjects[remedy.box])) is not None
    }
    of_kind = tuple(trial.reports[name].kind for remedy in remedies for name in (remedy.box, *remedy.also_fixes))
    return Plan(job, trial.book, stock, remedies, kinds, choice, (*nothing, *stuck), facts, unseen, dropped, of_kind)


def least(problem: Problem, solver: bool, seconds: float, progress: Callable[[str], None]) -> Choice:
    """What HiGHS proves to be least; where it is not there, or was stopped or out of time before, the better of what it
    and the search found.
    """
    proved = solve(problem, seconds, progress) if solver and problem.boxes else None
    if proved is not None and proved.is_proved:
        return proved
    searched = search(problem, progress)
    return searched if proved is None or rank(problem, searched.picked) < rank(problem, proved.picked) else proved


def stuck_reason(remedies: list[Remedy], limits: Limits, choice: Choice) -> str:
    """Why a box is left that has remedies."""
    if limits.most_kinds is not None and all(remedy.kinds for remedy in remedies):
        reason = f"each of its fixes needs more than {plural(limits.most_kinds, 'kind')} of box to be carried"
    else:
        reason = "its fixes do not go with those of the other boxes: apply those, then ask again"
    return reason + ("; no choice of fixes leaves fewer boxes" if choice.left == choice.fewest else "")


def problem_of(by_box: dict[str, list[Remedy]], stock: Stock, limits: Limits) -> tuple[Problem, list[str]]:
    """The boxes and their options in cents, and the kinds by number."""
    numbers: dict[str, int] = {}
    rows = []
    for box, remedies in by_box.items():
        options = [
            Option(
                int(remedy.ranked_cost(stock) * 100),
                frozenset(numbers.setdefault(kind.name, len(numbers)) for kind in remedy.kinds),
                remedy.touches | {box},
                index,
                remedy.also_fixes & by_box.keys(),
            )
            for index, remedy in enumerate(remedies)
        ]
        rows.append(tuple(reduced(options, box)))
    charge = int(stock.kind_charge * 100)
    return Problem(tuple(by_box), tuple(rows), charge, len(numbers), limits.most_kinds), list(numbers)


def spoiled(trial: Trial, remedies: tuple[Remedy, ...]) -> list[Remedy]:
    """The remedies that do not hold once all are made: none, as no box is touched twice; looked at all the same. Of a
    circuit that several together make worse, the last of them.
    """
    change = tuple(step for remedy in remedies for step in remedy.change)
    touches = trial.touched(change)
    after = trial.judged_after(touches, change, touches)
    failing = [
        remedy
        for remedy in remedies
        if not all(after[name].verdict.is_allowed for name in (remedy.fixed_name, *remedy.also_fixes))
    ]
    if failing:
        return failing
    worse = {
        name for name in touches if trial.is_circuit(name) and trial.is_worse(name, after[name], trial.reports[name])
    }
    return [remedy for remedy in remedies if worse & trial.touched(remedy.change)][-1:]


# ---- another edition -----------------------------------------------------------------------------------------------


class Reexamined(Record):
    """What would fail under another edition that passes under this one, and what it costs to put right."""

    before: Report
    after: Report
    newly_failing: tuple[str, ...]
    plan: Plan


def reexamine(job: Job, stock: Stock, now: int, then: int, limits: Limits | None = None, **how: object) -> Reexamined:
    """Boxes that pass by edition ``now`` and not by ``then``, with the least cost of mending those alone."""
    before, after = check(job, now), check(job, then)
    newly = tuple(
        box.name for box in after.subjects if not box.verdict.is_allowed and before.subject(box.name).verdict.is_allowed
    )
    planned = plan(job, book_for(job, then), stock, limits, only=newly, **how)  # type: ignore[arg-type]
    return Reexamined(before, after, newly, planned)


__all__ = ["Limits", "Plan", "Reexamined", "margin_of", "plan", "reexamine"]
