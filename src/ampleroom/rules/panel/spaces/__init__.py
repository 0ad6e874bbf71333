"""The spaces of a panel: who sits where, and how many are left."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import ONE, ZERO, Figure, Line, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.quantities import count, listed
from ampleroom.rules.panel.laid_out import LaidOut, Placed, number_of, spaces_named
from ampleroom.rules.registry import remind, rule
from ampleroom.worksheet import PANEL_SPACES as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Reminder, Verdict, Worksheet

NAME = PURPOSE.name
SPACES = Table("panels.spaces", Cited, __file__)


@rule(NAME, title="Spaces of a panel", topic="finding", about="panel", tables=(SPACES,))
def panel_spaces(known: LaidOut, book: CodeBook) -> Iterator[Finding]:
    """A panel holds no more breakers than it has spaces. A breaker of two poles takes two, and the halves of a tandem
    share one. A circuit whose space is not written counts with its poles; where the panel would be full
    only then, its space is asked. Two circuits in one space are asked about.

    Why: A breaker that has no space of its own ends up under the screw of another one.
    """
    terms, panel = book[SPACES], known.panel
    cite, confidence = terms.cite, terms.confidence
    asked = [*clashes(known), *beyond(known)]
    facts: tuple[OpenFact, ...] = ()
    for question, each in asked:
        at = each.circuit.at
        facts = (OpenFact(question, ZERO, "look at the panel and correct the sheet", at),)
        message = f"{panel.name}: {question}"
        yield Finding(
            NAME, Verdict.OPEN, panel.name, message, cite, at, facts=facts, also=(panel.at,), confidence=confidence
        )
    if panel.spaces is None:
        if not asked:
            used = len(spaces_used(known))
            message = f"{panel.name}: no two circuits sit in one space; {used} are taken"
            yield Finding(NAME, Verdict.PASSES, panel.name, message, cite, panel.at, confidence=confidence)
        return
    worst, best = sheet_of(known, False, terms), sheet_of(known, True, terms)
    facts = ()
    if worst.passes:
        verdict, message = Verdict.PASSES, f"{panel.name} has {count(worst.margin)} of {panel.spaces} spaces left"
    elif best.passes:
        verdict = Verdict.OPEN
        names = listed(poles_elsewhere(known)[1])
        facts = (OpenFact(f"where {names} sit", ZERO, "write them: space 7a, or spaces 5,7", panel.at),)
        message = f"{panel.name} depends on where {names} sit: {panel.spaces} spaces, {count(worst.needed)} asked for"
    else:
        verdict = Verdict.FAILS
        message = f"{panel.name} is {count(-best.margin)} over: {panel.spaces} spaces, {count(best.needed)} asked for"
    beside = None if worst.passes or worst.needed == best.needed else best
    yield Finding(NAME, verdict, panel.name, message, cite, panel.at, worst, beside, facts=facts, confidence=confidence)


def sheet_of(known: LaidOut, in_tandems: bool, terms: Cited) -> Worksheet:
    """The spaces against those taken. ``in_tandems``: with the poles of circuits nobody placed in the halves of
    tandems.
    """
    cite, confidence = terms.cite, terms.confidence
    have = Figure(NAME, "Spaces", Decimal(known.panel.spaces or 0), Unit.COUNT)
    lines: list[Line] = []
    by_space = spaces_used(known)
    inside = [space for space in sorted(by_space) if space <= (known.panel.spaces or 0)]
    for space in inside:
        names = listed(list(dict.fromkeys(each.name for _, each in by_space[space])))
        halves = ", a tandem" if any(half != str(space) for half, _ in by_space[space]) else ""
        lines.append(Figure(NAME, f"Space {space}: {names}{halves}", ONE, Unit.COUNT, "", cite, confidence))
    poles, names_of_them = poles_elsewhere(known)
    if in_tandems:
        poles = max(poles - sum(map(is_half_free, (by_space[space] for space in inside))), 0)
        poles = (poles + 1) // 2
    if names_of_them:
        label = f"Not placed: {listed(names_of_them)}"
        why = "in the halves of tandems" if in_tandems else "a space for each pole"
        lines.append(Figure(NAME, label, Decimal(poles), Unit.COUNT, why, cite, confidence))
    return Worksheet((have,), tuple(lines), PURPOSE)


def poles_elsewhere(known: LaidOut) -> tuple[int, list[str]]:
    """The poles of circuits nobody placed, or placed where the panel has no space; and the names of the circuits."""
    most = known.panel.spaces or 0
    poles, names = 0, []
    for each in known.circuits:
        past = sum(number_of(space) > most for space in each.spaces) if each.spaces else each.poles
        if past:
            poles += past
            names.append(each.name)
    return poles, names


def is_half_free(there: list[tuple[str, Placed]]) -> bool:
    """Whether one half of a tandem in a space is free."""
    return len(there) == 1 and there[0][0].endswith(("a", "b"))


def spaces_used(known: LaidOut) -> dict[int, list[tuple[str, Placed]]]:
    """By the number of each space that is taken, who sits there, and in which half."""
    used: dict[int, list[tuple[str, Placed]]] = {}
    for each in known.placed:
        for space in each.spaces:
            used.setdefault(number_of(space), []).append((space, each))
    return used


def clashes(known: LaidOut) -> Iterator[tuple[str, Placed]]:
    """Two circuits in one space, as questions."""
    for number, there in spaces_used(known).items():
        halves = [half for half, _ in there]
        is_whole = str(number) in halves
        if len(there) > 1 and (is_whole or len(set(halves)) < len(halves)):
            names = listed([each.name for _, each in there])
            yield f"which of {names} sits in space {number} (write {number}a and {number}b for a tandem)", there[-1][1]


def beyond(known: LaidOut) -> Iterator[tuple[str, Placed]]:
    """Spaces the panel does not have, as questions."""
    most = known.panel.spaces
    for each in known.placed:
        past = tuple([space for space in each.spaces if most is not None and number_of(space) > most])
        if past:
            yield f"where {each.name} sits: {known.name} has {most} spaces, and no {spaces_named(past)}", each


def reminders(known: LaidOut, book: CodeBook) -> Iterator[Reminder]:
    """What is not written of a panel's spaces, and what to see to at a tandem."""
    terms = book[SPACES]
    if known.panel.spaces is None:
        yield remind(NAME, f"How many spaces {known.name} has is not written: '40 spaces' tells what is left.", terms)
    if known.unplaced:
        names = listed([each.name for each in known.unplaced])
        yield remind(NAME, f"Not placed in the sheet: {names}. Write 'space 5' on each.", terms)
    if any(half != str(number) for number, there in spaces_used(known).items() for half, _ in there):
        yield remind(NAME, "Tandem breakers go only where the panel's label allows them, and as many as it allows.",
                     terms)  # fmt: skip


__all__ = ["NAME", "SPACES", "panel_spaces", "reminders", "spaces_used"]
