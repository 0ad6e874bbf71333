"""What each value of an unknown fact would settle in one finding, in words."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from decimal import ROUND_CEILING, Decimal
from typing import Any

from ampleroom.facts import End, Ends, Unknown, Values, to_try
from ampleroom.quantities import NO_LIMIT, number, volume
from ampleroom.record import TupleRecord
from ampleroom.rules.space import Space
from ampleroom.words import NOT_ENOUGH, by_value_text, worth_text
from ampleroom.worksheet import OpenFact, Verdict, Worksheet

MOST_WEIGHED = 40
"""So many facts of one finding are tried value by value; the rest are listed alone."""
MOST_COUNTED = 1 << 10
MOST_THOUSANDTHS = 1 << 13
"""Wider than this many thousandths of an inch is no cable."""
MOST_HUNDREDTHS = 1 << 20
"""More hundredths of an inch, or of a square inch, has no wireway."""
MOST_VA = 1 << 24
"""No circuit has more volt-amperes."""
HUNDRED, HUNDREDTH = Decimal(100), Decimal("0.01")
NOT_WEIGHED = f"not weighed: more than {MOST_WEIGHED} facts are unknown here"


class Outcome(TupleRecord):
    """What a finding would be with some facts set."""

    verdict: Verdict
    tells: Hashable
    """What differs where the facts move the finding, in its worst case or in its best."""
    worst: Worksheet | None = None
    best: Worksheet | None = None


Try = Callable[[Values], Outcome]
Swing = Callable[[Outcome, Outcome], Decimal]
"""How much a fact is worth, in3, by what the finding is with it at its better and at its worse value."""


def open_facts(
    needed: Iterable[Unknown[Any]], ends: Ends, attempt: Try, swing: Swing | None = None
) -> Iterator[OpenFact]:
    """Each unknown fact that moves a finding, the one easiest to find out and most worth it first.

    ``needed``: the facts the finding leans on. Where each moves it only together with others, all of them are told.
    """
    all_facts = list(needed)
    weighed: list[tuple[int, Decimal, OpenFact]] = []
    for unknown in all_facts[:MOST_WEIGHED]:
        end = ends.get(unknown.fact.field)
        outcomes = {value: attempt({unknown.fact: value}) for value in to_try(unknown, end)}
        if len({outcome.tells for outcome in outcomes.values()}) > 1:
            worth = swing(*by_ends(outcomes, end)) if swing else Decimal(0)
            weighed.append((unknown.effort, -worth, outcome_texts(unknown, end, attempt, outcomes, worth)))
    weighed.sort(key=lambda entry: entry[:2])
    yield from (fact for _, _, fact in weighed)
    if not weighed:
        for unknown in all_facts[:MOST_WEIGHED]:
            yield OpenFact(unknown.text, Decimal(0), NOT_ENOUGH, unknown.fact.at, unknown.fact, unknown.effort)
    for unknown in all_facts[MOST_WEIGHED:]:
        yield OpenFact(unknown.text, NO_LIMIT, NOT_WEIGHED, unknown.fact.at, unknown.fact, unknown.effort)


def by_ends(outcomes: dict[Any, Outcome], end: End | None) -> tuple[Outcome, Outcome]:
    """What the finding is with a fact at its better and at its worse value."""
    in_order = list(outcomes.values())
    if end == "small":
        return in_order[-1], in_order[0]
    if end == "large":
        return in_order[0], in_order[-1]
    margin = [outcome.worst.margin if outcome.worst else Decimal(0) for outcome in in_order]
    return in_order[margin.index(max(margin))], in_order[margin.index(min(margin))]


def outcome_texts(
    unknown: Unknown[Any], end: End | None, attempt: Try, outcomes: dict[Any, Outcome], worth: Decimal
) -> OpenFact:
    """One fact, with what its values settle."""
    by_value: tuple[tuple[str, Verdict], ...] = ()
    if not unknown.is_range:
        by_value = tuple([(unknown.name_of(value), outcome.verdict) for value, outcome in outcomes.items()])
        settles = values_text(by_value, worth)
    elif unknown.unit == "in" and end != "small":
        settles = width_text(unknown, attempt)
    elif unknown.unit in ("in", "in2"):
        settles = inside_text(unknown, end, attempt)
    elif unknown.unit == "VA":
        settles = load_text(unknown, attempt)
    elif unknown.unit:
        settles = volume_text(unknown, attempt, outcomes)
    else:
        settles = count_text(unknown, end, attempt)
    return OpenFact(unknown.text, worth, settles, unknown.fact.at, unknown.fact, unknown.effort, by_value)


def values_text(by_value: tuple[tuple[str, Verdict], ...], worth: Decimal) -> str:
    """``#14: passes; #12, #10: fails``; where no value settles anything, how much it is worth."""
    if all(verdict is Verdict.OPEN for _, verdict in by_value):
        return worth_text(worth)
    return by_value_text(by_value)


def volume_text(unknown: Unknown[Any], attempt: Try, outcomes: dict[Any, Outcome]) -> str:
    """``passes if 21.00 in3 or more; fails if under 18.00 in3``."""
    none, no_limit = outcomes[Decimal(0)], outcomes[NO_LIMIT]
    if no_limit.verdict is not Verdict.PASSES:
        return "not enough by itself: the count must be known too"
    at_hundred = attempt({unknown.fact: HUNDRED})
    enough = smallest(none.worst, at_hundred.worst)
    if not enough or attempt({unknown.fact: enough}).verdict is not Verdict.PASSES:
        return "the volume and the count must both be known"
    text = f"passes if {volume(enough)} or more"
    least = smallest(none.best, at_hundred.best)
    if least is not None and 0 < least < enough:
        text += f"; fails if under {volume(least)}"
    return text


def width_text(unknown: Unknown[Any], attempt: Try) -> str:
    """``passes if 0.422 in. or less``: found by halving, to a thousandth of an inch."""
    if attempt({unknown.fact: unknown.choices[0]}).verdict is not Verdict.PASSES:
        return f"measure it; {NOT_ENOUGH}"
    low, high = 0, MOST_THOUSANDTHS
    while high - low > 1:
        middle = (low + high) // 2
        if attempt({unknown.fact: Decimal(middle).scaleb(-3)}).verdict is Verdict.PASSES:
            low = middle
        else:
            high = middle
    return f"passes if {Decimal(low).scaleb(-3)} in. or less"


def load_text(unknown: Unknown[Any], attempt: Try) -> str:
    """``passes if 2880 VA or less``: found by halving, to a whole volt-ampere."""
    low, high = int(unknown.choices[0]), MOST_VA
    if not attempt({unknown.fact: unknown.choices[0]}).verdict.is_allowed:
        return f"add it up; {NOT_ENOUGH}"
    while high - low > 1:
        middle = (low + high) // 2
        if attempt({unknown.fact: Decimal(middle)}).verdict.is_allowed:
            low = middle
        else:
            high = middle
    return f"passes if {low} VA or less"


def inside_text(unknown: Unknown[Any], end: End | None, attempt: Try) -> str:
    """``passes if 3.48 in2 or more``, ``or less`` where more is worse: found by halving, to a hundredth."""
    unit = "in." if unknown.unit == "in" else unknown.unit
    is_room = end == "small"

    def passes(hundredths: int) -> bool:
        return attempt({unknown.fact: Decimal(hundredths).scaleb(-2)}).verdict.is_allowed

    good, bad = (MOST_HUNDREDTHS, 0) if is_room else (0, MOST_HUNDREDTHS)
    if not passes(good):
        return f"measure it; {NOT_ENOUGH}"
    while abs(good - bad) > 1:
        middle = (good + bad) // 2
        if passes(middle):
            good = middle
        else:
            bad = middle
    return f"passes if {number(Decimal(good).scaleb(-2))} {unit} or {'more' if is_room else 'less'}"


def smallest(at_none: Worksheet | None, at_hundred: Worksheet | None) -> Decimal | None:
    """The least volume, in3, at which nothing is short, where the room grows evenly with the volume; else None."""
    if at_none is None or at_hundred is None or not (at_none.margin.is_finite() and at_hundred.margin.is_finite()):
        return None
    grown = at_hundred.margin - at_none.margin
    if grown <= 0:
        return None
    if grown == HUNDRED:
        return max(-at_none.margin, Decimal(0))
    return max((-at_none.margin * HUNDRED / grown).quantize(HUNDREDTH, ROUND_CEILING), Decimal(0))


def count_text(unknown: Unknown[Any], end: End | None, attempt: Try) -> str:
    """``passes with 4 or fewer``; where one more can help, ``passes with 1 to 4``."""

    def passes(count: int) -> bool:
        return attempt({unknown.fact: Decimal(count)}).verdict is Verdict.PASSES

    least = int(unknown.choices[0])
    turning = [int(value) for value in end if value.is_finite()] if isinstance(end, tuple) else [least]
    few = [count for count in range(least, max(turning) + 1) if passes(count)]
    last = max(turning)
    if not few or few[-1] != last:
        return f"passes with {' or '.join(map(str, few))}" if few else f"count them; {NOT_ENOUGH}"
    step = 1
    while step and last < MOST_COUNTED:  # from the last turning point on, more is worse
        if passes(last + step):
            last, step = last + step, step * 2
        else:
            break
    while step > 1:
        step //= 2
        if passes(last + step):
            last += step
    first = few[-1]  # of the counts that pass in a row, up to the last
    while first - 1 in few:
        first -= 1
    if first == least:
        return f"passes with {last} or fewer" if last > least else f"passes with {last}"
    in_a_row = f"{first} to {last}" if last > first else str(last)
    return f"passes with {' or '.join([*(str(count) for count in few if count < first), in_a_row])}"


def empty_facts(space: Space) -> tuple[OpenFact, ...]:
    """The one fact to find out about a box with nothing written in it: what it holds."""
    return (OpenFact(f"what comes into {space.subject} and what sits in it", Decimal(0), at=space.box.at),)
