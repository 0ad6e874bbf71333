"""The arithmetic of choosing: one option for each box, a charge for each kind of box carried, least in sum. Cents
throughout.

least  sum of the chosen options' costs + charge for every kind that any of them uses
so that every box has one option or is fixed along with another one's, and no box is touched by two of them

Where that cannot be, as few boxes as possible are left without an option, and then the sum is least.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

from ampleroom.record import Record

NEVER = 10**12
"""A cost nobody would pay: no option."""
LEFT, ALONG = -1, -2
"""In place of an option: the box is left as it is; it is fixed along with another one."""


class Option(Record):
    """One way to mend one box."""

    cost: int
    kinds: frozenset[int]
    touches: frozenset[str]
    remedy: int
    """Which remedy of its box it is."""
    fixes: frozenset[str] = frozenset()
    """Other boxes it mends besides its own: they need no option then. It touches them too."""


class Problem(Record):
    """Boxes with their options, and what each kind costs to carry."""

    boxes: tuple[str, ...]
    options: tuple[tuple[Option, ...], ...]
    charge: int
    kinds: int
    most_kinds: int | None = None


class Choice(Record):
    """An option for every box (``LEFT``: none; ``ALONG``: fixed by another one's), what they cost together, and how
    good that is.
    """

    picked: tuple[int, ...]
    cost: int
    bound: int
    """No choice that leaves as few boxes can cost less than this."""
    found_by: str
    fewest: int = 0
    """No choice leaves fewer boxes than this."""

    @property
    def left(self) -> int:
        """Boxes left without an option."""
        return self.picked.count(LEFT)

    @property
    def is_proved(self) -> bool:
        """Whether nothing leaves fewer boxes and nothing costs less."""
        return self.left <= self.fewest and self.cost <= self.bound

    @property
    def gap(self) -> float:
        """How far above the bound at most, in percent."""
        return 0.0 if self.cost <= self.bound else 100 * (self.cost - self.bound) / self.cost


def reduced(options: list[Option], own: str) -> list[Option]:
    """The options that may ever be chosen: none that another of the same box makes needless."""
    kept: list[Option] = []
    for option in sorted(options, key=lambda option: (option.cost, len(option.kinds), len(option.touches))):
        if not any(
            better.kinds <= option.kinds and better.touches <= option.touches and better.fixes >= option.fixes
            for better in kept
        ):
            kept.append(option)
    return kept


def with_fixed_along(problem: Problem, picked: list[int]) -> tuple[int, ...]:
    """A choice with every box marked that another one's option fixes."""
    along = {name for box, option in enumerate(picked) if option >= 0 for name in problem.options[box][option].fixes}
    return tuple(
        [ALONG if option < 0 and name in along else option for name, option in zip(problem.boxes, picked, strict=True)]
    )


def cost_of(problem: Problem, picked: tuple[int, ...]) -> int:
    """What a choice costs, charges included."""
    chosen = [problem.options[box][option] for box, option in enumerate(picked) if option >= 0]
    kinds = {kind for option in chosen for kind in option.kinds}
    return sum(option.cost for option in chosen) + problem.charge * len(kinds)


def rank(problem: Problem, picked: tuple[int, ...]) -> tuple[int, int]:
    """The less, the better: first the boxes left, then the cost."""
    return picked.count(LEFT), cost_of(problem, picked)


def is_allowed(problem: Problem, picked: tuple[int, ...]) -> bool:
    """Whether no box is touched twice and no more kinds are carried than allowed; boxes may be left."""
    touched: set[str] = set()
    kinds: set[int] = set()
    for box, option_index in enumerate(picked):
        if option_index < 0:
            continue
        option = problem.options[box][option_index]
        if touched & option.touches:
            return False
        touched |= option.touches
        kinds |= option.kinds
    return problem.most_kinds is None or len(kinds) <= problem.most_kinds


# ---- a bound that needs no solver ----------------------------------------------------------------------------------


def lower_bound(problem: Problem) -> int:
    """No choice costs less: what every box must pay at least, raised as long as no kind's charge is paid for twice.

    The dual ascent for choosing which places to open; touching boxes and the most kinds are left out, which keeps it a
    bound.
    """
    slack = [problem.charge] * problem.kinds
    total = 0
    ladders = []
    for options in with_options_of_others(problem):
        by_kind: dict[int, int] = {}
        free = NEVER
        for option in options:
            cost = option.cost // (1 + len(option.fixes))  # each of those it fixes pays its part
            if len(option.kinds) == 0:
                free = min(free, cost)
            else:
                for kind in option.kinds:  # two kinds: as if either were enough, which can only lower the bound
                    by_kind[kind] = min(by_kind.get(kind, NEVER), cost)
        ladders.append((free, sorted((cost, kind) for kind, cost in by_kind.items())))
    value = [min(free, ladder[0][0] if ladder else NEVER) for free, ladder in ladders]
    active = set(range(len(ladders)))
    while active:
        for box in sorted(active):
            free, ladder = ladders[box]
            paying = [kind for cost, kind in ladder if cost <= value[box]]
            steps = [cost for cost, _ in ladder if cost > value[box]]
            target = min([free, *steps[:1]])
            room = min((slack[kind] for kind in paying), default=NEVER)
            rise = min(target - value[box], room)
            if rise > 0 and target < NEVER:
                value[box] += rise
                for kind in paying:
                    slack[kind] -= rise
            elif rise > 0 and room < NEVER:
                value[box] += room
                for kind in paying:
                    slack[kind] -= room
            if value[box] >= free or rise <= 0 or (target >= NEVER):
                active.discard(box)
    for worth in value:
        total += worth if worth < NEVER else 0
    return total


def with_options_of_others(problem: Problem) -> list[list[Option]]:
    """For each box its own options, and those of others that fix it along with theirs."""
    options = {name: list(own) for name, own in zip(problem.boxes, problem.options, strict=True)}
    for own in problem.options:
        for option in own:
            for name in option.fixes:
                if name in options:
                    options[name].append(option)
    return list(options.values())


# ---- a search that needs nothing installed -------------------------------------------------------------------------


def search(
    problem: Problem, progress: Callable[[str], None] = lambda text: None, tries: int = 6, seed: int = 1
) -> Choice:
    """A good choice by adding, dropping and exchanging kinds until nothing gets better, from several beginnings.

    Stopped from outside (Ctrl-C), it answers with the best it has.
    """
    best = picked_with(problem, set(range(problem.kinds)))
    if not is_allowed(problem, best):
        best = (LEFT,) * len(problem.boxes)
    random = Random(seed)
    try:
        for attempt in range(tries):
            opened = improved(problem, beginning(problem, attempt, random))
            picked = picked_with(problem, completed(problem, opened))
            if rank(problem, picked) < rank(problem, best):
                best = picked
                progress(f"search {attempt + 1} of {tries}: {cost_of(problem, picked) / 100:.2f}")
    except KeyboardInterrupt:
        progress("stopped; the best found so far stands")
    cost = cost_of(problem, best)
    bound = 0 if LEFT in best else min(lower_bound(problem), cost)
    return Choice(best, cost, bound, "search", with_options_of_others(problem).count([]))


def beginning(problem: Problem, attempt: int, random: Random) -> set[int]:
    """All kinds, none, or some."""
    if attempt == 0:
        return set(range(problem.kinds))
    if attempt == 1:
        return set()
    return {kind for kind in range(problem.kinds) if random.random() < 0.5}


def table_of(problem: Problem) -> tuple[list[int], list[list[int]]]:
    """What each box costs without any kind, and with each kind alone."""
    free = []
    costs = []
    for options in problem.options:
        row = [NEVER] * problem.kinds
        without = NEVER
        for option in options:
            if not option.kinds:
                without = min(without, option.cost)
            elif len(option.kinds) == 1:
                (kind,) = option.kinds
                row[kind] = min(row[kind], option.cost)
        free.append(without)
        costs.append(row)
    return free, costs


def improved(problem: Problem, opened: set[int]) -> set[int]:
    """Kinds to carry such that adding, dropping or exchanging one makes nothing better."""
    free, costs = table_of(problem)
    limit = problem.most_kinds if problem.most_kinds is not None else problem.kinds
    boxes = range(len(problem.boxes))
    while True:
        first, second, owner = [], [], []
        for box in boxes:
            row = costs[box]
            ranked = sorted((row[kind], kind) for kind in opened if row[kind] < free[box])[:2]
            first.append(ranked[0][0] if ranked else free[box])
            owner.append(ranked[0][1] if ranked else -1)
            second.append(min(free[box], ranked[1][0]) if len(ranked) > 1 else free[box])
        loss = dict.fromkeys(opened, -problem.charge)
        for box in boxes:
            if owner[box] >= 0:
                loss[owner[box]] += second[box] - first[box]
        over = len(opened) > limit
        best_gain = 0
        step: tuple[int | None, int | None] | None = None
        if opened:
            dropped = min(opened, key=lambda kind: (loss[kind], kind))
            if loss[dropped] < 0 or over:
                best_gain, step = (NEVER * 10 if over else -loss[dropped]), (None, dropped)
        for kind in range(problem.kinds):
            if kind in opened or over:
                continue
            gain = -problem.charge
            change = dict.fromkeys(opened, -problem.charge)
            for box in boxes:
                with_it = costs[box][kind]
                if with_it < first[box]:
                    gain += first[box] - with_it
                elif owner[box] >= 0:
                    change[owner[box]] += min(second[box], with_it) - first[box]
            if len(opened) < limit and gain > best_gain:
                best_gain, step = gain, (kind, None)
            if opened:
                dropped = min(opened, key=lambda other: (change[other], other))
                if gain - change[dropped] > best_gain:
                    best_gain, step = gain - change[dropped], (kind, dropped)
        if step is None:
            return opened
        added, dropped_kind = step
        opened = (opened | {added} if added is not None else set(opened)) - (
            {dropped_kind} if dropped_kind is not None else set()
        )


def completed(problem: Problem, opened: set[int]) -> set[int]:
    """With the kinds of the cheapest option of every box that has none with those carried, as far as more may be
    carried.
    """
    limit = problem.most_kinds if problem.most_kinds is not None else problem.kinds
    for options in problem.options:
        if any(option.kinds <= opened for option in options):
            continue
        fitting = [option for option in options if len(option.kinds | opened) <= limit]
        cheapest = min(fitting, key=lambda o: o.cost + problem.charge * len(o.kinds - opened), default=None)
        opened = opened | cheapest.kinds if cheapest is not None else opened
    return opened


def picked_with(problem: Problem, opened: set[int]) -> tuple[int, ...]:
    """The cheapest option of each box with only these kinds, no box touched twice; -1 where a box has none. Boxes with
    few options choose first; if any are left, those do.
    """
    order = sorted(range(len(problem.boxes)), key=lambda box: len(problem.options[box]))
    best = picked_in(problem, opened, order)
    shared = shared_first(problem, opened)
    if shared and rank(problem, with_shared := picked_in(problem, opened, order, shared)) < rank(problem, best):
        best = with_shared
    while LEFT in best:
        order.sort(key=lambda box: best[box] >= 0)
        again = picked_in(problem, opened, order)
        if again.count(LEFT) >= best.count(LEFT):
            break
        best = again
    return best


def shared_first(problem: Problem, opened: set[int]) -> list[tuple[int, int]]:
    """Options that fix several boxes for less than the cheapest of their own would, as box and option, those that fix
    most first.
    """
    alone = {
        name: min((option.cost for option in options if not option.fixes and option.kinds <= opened), default=NEVER)
        for name, options in zip(problem.boxes, problem.options, strict=True)
    }
    return sorted(
        (
            (box, index)
            for box, options in enumerate(problem.options)
            for index, option in enumerate(options)
            if option.fixes
            and option.kinds <= opened
            and option.cost < sum(alone.get(name, 0) for name in option.fixes | {problem.boxes[box]})
        ),
        key=lambda place: (-len(problem.options[place[0]][place[1]].fixes), place),
    )


def picked_in(
    problem: Problem, opened: set[int], order: list[int], shared: Sequence[tuple[int, int]] = ()
) -> tuple[int, ...]:
    """Box after box the cheapest option that touches none already touched: first none that has to be mended itself,
    then, for boxes that have no other, such as are left anyway. ``shared``: options that are taken before, where they
    go together.
    """
    touched: set[str] = set()
    picked = [LEFT] * len(problem.boxes)
    own = set(problem.boxes)
    along: set[str] = set()
    for box, option_index in shared:
        option = problem.options[box][option_index]
        if not option.touches & touched:
            picked[box] = option_index
            touched |= option.touches
            along |= option.fixes
    for spared in (own, set[str]()):
        for box in order:
            if picked[box] >= 0 or problem.boxes[box] in along:
                continue
            others = spared - {problem.boxes[box]}
            for option_index, option in sorted(
                enumerate(problem.options[box]), key=lambda item: (item[1].cost, item[0])
            ):
                if option.kinds <= opened and not option.touches & touched and not option.touches & others:
                    picked[box] = option_index
                    touched |= option.touches
                    along |= option.fixes
                    break
    return with_fixed_along(problem, picked)
