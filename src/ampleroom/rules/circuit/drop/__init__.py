"""Voltage drop along a circuit, as advice."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from ampleroom.arithmetic import Figure, Line, Share, Total, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.resistance import TEMPERATURE
from ampleroom.editions.voltage_drop import BRANCH_DROP, FEEDER_DROP, DropAdvice
from ampleroom.job.trade import RANK, THREE_PHASE, size_text
from ampleroom.quantities import HUNDREDTH, number
from ampleroom.rules.circuit.dropped import ENDS, OF_RESISTANCE, READING, CircuitDrop, drops, ohms_of, resistances
from ampleroom.rules.circuit.wired import ZERO, run_text
from ampleroom.rules.registry import rule
from ampleroom.words import DROP_UNKNOWN, DROP_WITH_FEEDER_UNKNOWN, DROP_WITHOUT, weighed_message
from ampleroom.worksheet import VOLTAGE_DROP as PURPOSE
from ampleroom.worksheet import Finding, Reminder, Verdict, Worksheet

NAME = PURPOSE.name
HUNDRED, TENTH = Decimal(100), Decimal("0.1")
MOST_GAPS = 3


@rule(
    NAME,
    title="Voltage drop",
    topic="finding",
    about="drop",
    tables=(BRANCH_DROP, FEEDER_DROP, *OF_RESISTANCE),
    readings=(READING,),
    ends=ENDS,
)
def voltage_drop(drop: CircuitDrop, book: CodeBook) -> Iterator[Finding]:
    """A circuit should lose no more than 3 % of its volts in its wires on the way to its farthest outlet. That is
    advice, not a rule. The drop is the load in amperes times the ohms of the wires out and back; of three phases, times
    the root of 3 and the ohms of one wire.

    Each load counts where it is, if the runs say so (``load 750 VA``). What has no place in the sheet is taken to be at
    the outlet where it loses most. Current goes out in one wire and back in another: a line wire and its neutral or, in
    a balanced circuit, two line wires.

    Why: Motors run hot and lamps dim on low volts, and what is lost heats the wall.
    """
    farthest = drop.farthest(book)
    if farthest < 0 or not drop.amperes:
        return
    terms = book[FEEDER_DROP if drop.feeds else BRANCH_DROP]
    have = allowed(NAME, drop, terms.percent, terms)
    sheet = Worksheet((have,), (lost(NAME, drop, farthest, book),), PURPOSE, Verdict.ADVICE)
    if sheet.passes and drop.gaps:
        return  # what is not written may add to it
    size = "" if sheet.passes else thick_enough(drop, sheet.there, book)
    yield found(NAME, drop, farthest, sheet, size, terms)


def found(rule: str, drop: CircuitDrop, farthest: int, sheet: Worksheet, size: str, terms: DropAdvice) -> Finding:
    """The finding of a worksheet of volts, up to the end of a span; ``size``: of wire that would do, empty where none
    would.
    """
    runs = [drop.spans[index].run.at for index in drop.way_to(farthest)]
    message = f"{weighed_message(drop.name, sheet.verdict, sheet)}; {percent_of(sheet.needed, drop)} %"
    if not sheet.passes:
        would_do = f"; {size_text(size)} all the way would do" if size else "; no thicker wire alone would do"
        message += DROP_WITHOUT if drop.gaps else would_do
    return Finding(
        rule,
        sheet.verdict,
        drop.name,
        message,
        terms.cite,
        drop.circuit.at,
        worst=sheet,
        also=tuple(dict.fromkeys(runs)),
        confidence=terms.confidence,
        readings=(READING,),
    )


def percent_of(volts: Decimal, drop: CircuitDrop) -> str:
    """``5.3``: volts as a percentage of the circuit's, to the nearest tenth."""
    return number((volts * HUNDRED / drop.volts).quantize(TENTH, ROUND_HALF_UP), 1)


def allowed(rule: str, drop: CircuitDrop, percent: Decimal, terms: DropAdvice, label: str = "Advised limit") -> Line:
    """So many percent of a circuit's volts."""
    volts = Figure(rule, "Volts", drop.volts, Unit.VOLT, drop.volts_why)
    return Share(rule, label, percent, volts, "advice, not a rule", terms.cite, terms.confidence)


def lost(rule: str, drop: CircuitDrop, farthest: int, book: CodeBook, label: str = "Voltage drop") -> Line:
    """What is lost up to the end of a span, run by run. Each run's part is taken from the volts lost so far, rounded to
    the nearest hundredth, so that the parts add up to the whole, rounded.
    """
    lost_at, carried = drop.at_ends(book), drop.carried
    parts: list[Line] = []
    so_far = ZERO
    way = drop.way_to(farthest)
    for index, after in zip(way, [*way[1:], None], strict=True):
        span = drop.spans[index]
        if after is not None and drop.spans[after].run is span.run:
            continue  # the run goes on
        here = lost_at[index].quantize(HUNDREDTH, ROUND_HALF_UP)
        ohms = ohms_of(span.wire, book)
        told, cite, sure = (ohms.text, ohms.cite, ohms.confidence) if ohms else ("", "", "computed")
        flows = [f"{number(carried[index].quantize(HUNDREDTH, ROUND_HALF_UP))} A"] if drop.placed else []
        why = ", ".join([*flows, length_text(drop, index), told, *sets_text(span.wire.sets)])
        parts.append(
            Figure(rule, run_text(span.run), here - so_far, Unit.VOLT, why, cite, sure, (READING,), is_rounded=True)
        )
        so_far = here
    base = number(book[TEMPERATURE].base, 0)
    why = f"{number(drop.amperes)} A, {drop.load_why}, {where_text(drop, drop.spans[farthest].end)}; wires at {base} C"
    return Total(rule, label, tuple(parts), Unit.VOLT, why, parts[-1].cite, parts[-1].confidence, (READING,))


def where_text(drop: CircuitDrop, farthest: str) -> str:
    """Where the load is taken to be: ``each load where it is``, and what has no place where it loses most."""
    if not drop.placed:
        return f"as if all of it were at {farthest}, where it loses most"
    if not drop.rest:
        return "each load where it is"
    rest = number(drop.rest.quantize(HUNDREDTH, ROUND_HALF_UP))
    return f"each load where it is, {rest} A without a place as if at {farthest}, where it loses most"


def length_text(drop: CircuitDrop, index: int) -> str:
    """``38 ft out and back``, ``70 ft x 1.732``; ``length not written``; of a run with stops between, that its whole
    length is taken.
    """
    run = drop.spans[index].run
    if not isinstance(run.length, Decimal):
        return "length not written, taken as 0"
    feet = f"{number(run.length, 0)} ft"
    if len(run.stops) > 2:
        feet += ", its whole length,"
    return f"{feet} x 1.732" if drop.circuit.phases == THREE_PHASE else f"{feet} out and back"


def sets_text(sets: Decimal) -> list[str]:
    """``2 in parallel``; nothing for one."""
    return [f"{number(sets, 0)} in parallel"] if sets > 1 else []


def thick_enough(drop: CircuitDrop, limit: Decimal, book: CodeBook) -> str:
    """The thinnest size that keeps the drop within so many volts, if no wire of the circuit were thinner; empty where
    none does. A thicker wire never loses more, so the sizes are halved.
    """
    sizes = sorted(book.once(resistances), key=RANK.__getitem__)
    before, flows = drop.before, drop.flows
    low, high = 0, len(sizes)
    while low < high:
        middle = (low + high) // 2
        most = max(drops(before, flows, drop.ohms(book, sizes[middle])), default=ZERO)
        if most.quantize(HUNDREDTH, ROUND_HALF_UP) <= limit:
            high = middle
        else:
            low = middle + 1
    return sizes[low] if low < len(sizes) else ""


def reminders(drop: CircuitDrop, book: CodeBook) -> Iterator[Reminder]:
    """What keeps the drop of a circuit, alone or with the feeders before it, from being worked out."""
    each: CircuitDrop | None = drop
    while each is not None and not each.gaps:
        each = each.feeder
    if each is None:
        return
    gaps = [*each.gaps[:MOST_GAPS]]
    if len(each.gaps) > MOST_GAPS:
        gaps.append(f"{len(each.gaps) - MOST_GAPS} more")
    terms = book[FEEDER_DROP if drop.feeds else BRANCH_DROP]
    sentence = DROP_UNKNOWN if each is drop else DROP_WITH_FEEDER_UNKNOWN
    text = sentence.format("; ".join(gaps), "is" if len(gaps) == 1 else "are")
    yield Reminder(NAME, text, terms.cite, confidence=terms.confidence)
