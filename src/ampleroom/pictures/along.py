"""A circuit from its panel outward, place by place: what leads there, what it may carry, and what is lost up to there.
Its picture and its text are made of the same steps.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.voltage_drop import BRANCH_DROP, FEEDER_DROP
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph
from ampleroom.job.model import Job, Run
from ampleroom.job.trade import size_text
from ampleroom.quantities import HUNDREDTH, NOT_KNOWN, number
from ampleroom.record import TupleRecord
from ampleroom.report import decimal_json
from ampleroom.rules.circuit.drop import percent_of, where_text
from ampleroom.rules.circuit.dropped import CircuitDrop, dropped, ohms_of
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.wired import ENDS, Subject, Wiring

MOST_STEPS = 40
"""Of a circuit with more places some are left out, and their number is told."""


class Step(TupleRecord):
    """One place of a circuit, and the run that leads there."""

    before: int | None
    """The number of the step it goes on from; None: it begins at the panel."""
    skipped: int
    """How many places between the two are left out."""
    place: str
    run: Run
    wire: str
    """``12/2 nm-b``, ``3 x #6 thhn``."""
    feet: Decimal | None
    """From the step before, one way; None where any of it is not written."""
    goes_on: bool
    """Whether it is a further stop of the run that led to the step before, whose length has this part in it."""
    load: str
    """``750 VA``; empty where no load is written at the place."""
    carries: str
    """``12.50 A``: what flows in the run; empty where no load of the circuit has a place."""
    ampacity: str
    """``20 A``; ``14 to 20 A`` where facts are not known; ``not known`` where the book has no number."""
    lost: Decimal
    """Volts from the panel to here, to the nearest hundredth."""
    percent: str
    is_least: bool
    """Whether a length or a resistance on the way is not written: more is lost."""
    is_again: bool
    """Whether another run led to the same place before: a second cable, or a loop."""
    is_on_the_way: bool
    """Whether it lies on the way to the place that loses most."""
    is_farthest: bool
    """Whether it is that place."""

    @property
    def by(self) -> str:
        """``12/2 nm-b, 38 ft``."""
        if self.skipped:
            feet = "" if self.feet is None else f", {number(self.feet, 0)} ft"
            return f"past {self.skipped} more{feet}"
        if self.goes_on:
            return f"{self.wire}, goes on"
        return f"{self.wire}, {'length not written' if self.feet is None else f'{number(self.feet, 0)} ft'}"

    @property
    def lost_text(self) -> str:
        """``1.88 V, 1.6 %``, with ``or more`` where something on the way is not written."""
        return f"{self.lost} V, {self.percent} %{' or more' if self.is_least else ''}"


class Along(TupleRecord):
    """A circuit as it is drawn and told, from the panel outward: first one branch to its end, then the next."""

    name: str
    """``circuit 3``."""
    source: str
    volts: Decimal
    load: str
    """``12.50 A, 1500 VA at 120 V``; empty where no load is written."""
    steps: tuple[Step, ...]
    places: int
    """How many steps there would be if none were left out."""
    percent: Decimal
    """The most it should lose, as advice."""
    gaps: tuple[str, ...]
    """What is not written, without which the drop is not known."""

    @property
    def left_out(self) -> int:
        """How many places are left out."""
        return self.places - len(self.steps)

    @property
    def farthest(self) -> Step | None:
        """The place that loses most; None where no load is written."""
        return next((step for step in self.steps if step.is_farthest), None)

    @property
    def is_over(self) -> bool:
        """Whether more is lost than is advised."""
        return self.farthest is not None and self.farthest.lost > self.volts * self.percent / 100

    @property
    def sums(self) -> list[str]:
        """What stands under its steps, a sentence each: the farthest place, what is left out, what is not written."""
        sentences = []
        if self.farthest is not None:
            lost = f"{self.farthest.lost} V of {number(self.volts, 0)} V, {self.farthest.percent} %"
            more = " or more" if self.farthest.is_least or self.gaps else ""
            advised = f"advised: no more than {number(self.percent, 0)} %"
            sentences.append(f"{self.farthest.place} is farthest down: {lost}{more}; {advised}. {self.load}.")
        if self.left_out:
            sentences.append(
                f"{self.left_out} of {self.places} places are left out; the way to the farthest down is here."
                if self.farthest is not None
                else f"{self.left_out} of {self.places} places are left out."
            )
        if self.gaps:
            sentences.append(f"Not written: {'; '.join(self.gaps[:MOST_GAPS])}{more_text(self.gaps)}.")
        return sentences


MOST_GAPS = 3


def more_text(gaps: Sequence[str]) -> str:
    """``; 2 more`` of what is not written."""
    return f"; {len(gaps) - MOST_GAPS} more" if len(gaps) > MOST_GAPS else ""


def path_of(job: Job, name: str, book: CodeBook) -> Along | None:
    """The circuit of a name such as ``circuit 3``, place by place; None where no run leads from a panel."""
    key = name.casefold().removeprefix("circuit ")
    circuit = job.graph.circuits.get(key)
    return along(Subject(circuit, job.graph.runs_of.get(key, ())), job.graph, book) if circuit is not None else None


def along(subject: Subject, graph: Graph, book: CodeBook, most: int = MOST_STEPS) -> Along | None:
    """A circuit place by place, facts nobody knows at their worst; None where no run of it leads from a panel.

    ``most``: so many places at most; then those on the way to the farthest are kept, and of the others those nearest
    to the panel.
    """
    drop = dropped(Wiring(subject, graph, book, Assumption(ENDS)))
    source = graph.source_of(subject.circuit.name)
    if source is None or not drop.spans:
        return None
    lost, carried = drop.at_ends(book), drop.carried
    farthest = drop.farthest(book) if drop.amperes else -1
    way = set(drop.way_to(farthest)) if farthest >= 0 else set()
    kept = kept_of(drop, way, most)
    steps: list[Step] = []
    numbers: dict[int, int] = {}
    ampacities: dict[int, str] = {}
    again, least = again_of(drop, source), unsure_of(drop, book)
    for index in in_order(drop):
        span = drop.spans[index]
        if index not in kept:
            continue
        before, skipped, feet = back_to_kept(drop, index, kept)
        if id(span.run) not in ampacities:
            ampacities[id(span.run)] = ampacity_text(subject, graph, book, span.run)
        here = lost[index].quantize(HUNDREDTH, ROUND_HALF_UP)
        numbers[index] = len(steps)
        steps.append(
            Step(
                None if before is None else numbers[before],
                skipped,
                span.end,
                span.run,
                wire_text(span.run),
                feet,
                span.before is not None and drop.spans[span.before].run is span.run,
                load_text(drop, index),
                flow_text(drop, carried[index]),
                ampacities[id(span.run)],
                here,
                percent_of(here, drop),
                index in least,
                index in again,
                index in way,
                index == farthest,
            )
        )
    load = ""
    if drop.amperes:
        load = f"{number(drop.amperes)} A, {drop.load_why}, {where_text(drop, drop.spans[farthest].end)}"
    terms = book[FEEDER_DROP if drop.feeds else BRANCH_DROP]
    name = subject.name
    return Along(name, source, drop.volts, load, tuple(steps), len(drop.spans), terms.percent, drop.gaps)


def unsure_of(drop: CircuitDrop, book: CodeBook) -> set[int]:
    """The numbers of the spans on whose way a length or a resistance is not known."""
    unsure: set[int] = set()
    for index, span in enumerate(drop.spans):
        is_known = isinstance(span.run.length, Decimal) and ohms_of(span.wire, book) is not None
        if not is_known or span.before in unsure:
            unsure.add(index)
    return unsure


def again_of(drop: CircuitDrop, source: str) -> set[int]:
    """The numbers of the spans that lead to a place another one led to before. Ends nobody found are places apart."""
    reached, again = {source}, set()
    for index, span in enumerate(drop.spans):
        if span.end in reached and span.end != "?":
            again.add(index)
        reached.add(span.end)
    return again


def in_order(drop: CircuitDrop) -> list[int]:
    """The numbers of the spans, each branch to its end before the next one."""
    after: dict[int | None, list[int]] = {}
    for index, span in enumerate(drop.spans):
        after.setdefault(span.before, []).append(index)
    order: list[int] = []
    waiting = after.get(None, [])[::-1]
    while waiting:
        index = waiting.pop()
        order.append(index)
        waiting += after.get(index, [])[::-1]
    return order


def kept_of(drop: CircuitDrop, way: set[int], most: int) -> set[int]:
    """The numbers of the spans that are shown: the way to the farthest, of a longer one its two ends, then those
    nearest to the panel.
    """
    on_way = sorted(way)
    if len(on_way) > most:
        half = most // 2
        on_way = [*on_way[: most - half], *on_way[-half:]] if half else on_way[-most:]
    kept = set(on_way)
    for index in range(len(drop.spans)):  # those near the panel come first
        if len(kept) >= most:
            break
        kept.add(index)
    return kept


def back_to_kept(drop: CircuitDrop, index: int, kept: set[int]) -> tuple[int | None, int, Decimal | None]:
    """From a span back to the one before it that is shown: its number, how many are left out between, and the feet from
    there, None where any of them is not written.
    """
    feet: Decimal | None = Decimal(0)
    skipped = 0
    at: int | None = index
    while at is not None and (at == index or at not in kept):
        span = drop.spans[at]
        skipped += at != index
        goes_on = span.before is not None and drop.spans[span.before].run is span.run
        is_written = isinstance(span.run.length, Decimal)
        feet = feet + span.feet if feet is not None and (goes_on or is_written) else None
        at = span.before
    return at, skipped, feet


def load_text(drop: CircuitDrop, index: int) -> str:
    """``750 VA``: the load at the end of a span; empty where none is written there."""
    is_there = drop.placed and drop.placed[index]
    return f"{number(drop.spans[index].run.load or Decimal(0), 0)} VA" if is_there else ""


def flow_text(drop: CircuitDrop, carried: Decimal) -> str:
    """``12.50 A``: what flows in a span; empty where no load of the circuit has a place."""
    return f"{carried.quantize(HUNDREDTH, ROUND_HALF_UP)} A" if drop.placed else ""


def wire_text(run: Run) -> str:
    """``12/2 nm-b``; ``3 x #6 thhn``; of several alike ``2 x 12/2 nm-b``."""
    tap = " tap" if run.tap else ""
    if run.cable is not None:
        return (run.cable.name if run.count == 1 else f"{run.count} x {run.cable.name}") + tap
    wires = next((group for group in run.wires if group.role == "insulated"), run.wires[0])
    metal = " aluminum" if run.material == "aluminum" else ""
    return f"{wires.count} x {size_text(wires.size)} {wires.insulation}".rstrip() + metal + tap


def ampacity_text(subject: Subject, graph: Graph, book: CodeBook, run: Run) -> str:
    """What a run may carry where it lies: ``20 A``; between its worst and its best where facts are not known."""
    amounts = []
    for at_worst in (True, False):
        assumption = Assumption(ENDS, at_worst)
        leg = Wiring(subject, graph, book, assumption).leg((run,))
        try:
            amounts.append(ampacity("", leg, book).amount)
        except NoAmpacity:
            return NOT_KNOWN
        if not assumption.needed:
            break
    least, most = amounts[0], amounts[-1]
    worst = number(least, 0)
    return f"{worst} A" if least == most else f"{worst} to {number(most, 0)} A"


def path_json(path: Along) -> dict[str, object]:
    """A circuit from its panel outward, as ``path`` of ``docs/json.md``: feet, volts and percent are texts."""
    return {
        "source": path.source,
        "volts": decimal_json(path.volts),
        "load": path.load,
        "advised_percent": decimal_json(path.percent),
        "places": path.places,
        "steps": [
            {
                "before": step.before,
                "skipped": step.skipped,
                "place": step.place,
                "wire": step.wire,
                "feet": None if step.feet is None else decimal_json(step.feet),
                "goes_on": step.goes_on,
                "load": step.load,
                "carries": step.carries,
                "ampacity": step.ampacity,
                "lost": decimal_json(step.lost) if path.load else None,
                "percent": step.percent if path.load else None,
                "at_least": step.is_least,
                "again": step.is_again,
                "on_the_way": step.is_on_the_way,
                "farthest": step.is_farthest,
            }
            for step in path.steps
        ],
        "sums": path.sums,
        "not_written": list(path.gaps),
    }


__all__ = ["MOST_STEPS", "Along", "Step", "along", "path_json", "path_of"]
