"""Move: thicker wire for the runs of a circuit that carry too little, each with a ground that fits."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.cables import sizes_of
from ampleroom.job.edit import PutRun, changed
from ampleroom.job.model import Job, Run
from ampleroom.job.trade import RANK, SIZES, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, is_replaceable, ways
from ampleroom.remedy.remedy import Move
from ampleroom.rules.circuit import ground
from ampleroom.rules.circuit.wired import Subject
from ampleroom.rules.registry import rule_in
from ampleroom.sizing.circuit import resized, thinnest, worst

Pair = tuple[Run, Run]
"""A new run, and the one it takes the place of."""


def thicker_wire(placed: CircuitInPlace) -> Iterator[Move]:
    """The thinnest wire that does for certain in each part of the circuit that carries too little, with its ground."""
    if not placed.fails or not placed.failing_legs:
        return
    pairs = thicker(placed, placed.subject, placed.job, placed.failing_legs)
    if pairs:
        yield rewired(placed, pairs, f"use {wires_text(pairs)}")


def thicker(placed: CircuitInPlace, subject: Subject, job: Job, legs: tuple[tuple[Run, ...], ...]) -> list[Pair] | None:
    """New runs for some legs of a circuit; None where none is thick enough for certain or can be bought, and where a
    thicker wire changes nothing.
    """
    pairs: list[Pair] = []
    for runs in legs:
        if not all(map(is_replaceable, runs)):
            return None
        size = thinnest(subject, runs, job, placed.book).certain
        if not size:
            return None
        new = [replace(resized(run, size), existing=False) for run in runs]
        pairs += grounded(subject, job, list(zip(new, runs, strict=True)), placed)
    same = all(is_same(new, old) for new, old in pairs)
    return None if same else pairs


def is_same(new: Run, old: Run) -> bool:
    """Whether a run has the wires it had."""
    return new.cable == old.cable and new.wires == old.wires


def grounded(subject: Subject, job: Job, pairs: list[Pair], placed: CircuitInPlace) -> list[Pair]:
    """Runs alike with the thinnest ground that does, no thinner than they have; as they are where none does or they
    have none of their own.
    """
    rule = [rule_in(ground)]
    for size in (None, *SIZES):
        tried = [(with_ground(new, size), old) for new, old in pairs]
        if size is not None and all(is_same(one, other) for (one, _), (other, _) in zip(tried, pairs, strict=True)):
            continue
        after = changed(job, tuple([PutRun(new, old) for new, old in tried]))
        new_of = {id(old): new for new, old in tried}
        runs = tuple([new_of.get(id(run), run) for run in subject.runs])
        now = subject._replace(runs=runs)
        if worst(rule, now, tuple([new for new, _ in tried]), after, placed.book).is_allowed:
            return tried
    return pairs


def with_ground(run: Run, size: str | None) -> Run:
    """A run whose grounds are at least so thick; None: as it is."""
    if size is None:
        return run
    if run.cable is not None:
        own = run.cable.ground
        is_thinner = own is not None and own is not UNKNOWN and own != "none" and RANK[own] < RANK[size]
        return replace(run, cable=run.cable._replace(ground=size)) if is_thinner else run
    wires = tuple(
        [
            group._replace(size=size)
            if group.role == "ground" and group.size is not UNKNOWN and RANK[group.size] < RANK[size]
            else group
            for group in run.wires
        ]
    )
    return replace(run, wires=wires)


def wires_text(pairs: list[Pair]) -> str:
    """``12/2 nm-b instead of 14/2 nm-b for P > A1``; ``#8 thhn and a #10 ground instead of #10 thhn for P > K1``."""
    alike: dict[tuple[str, str], list[Run]] = {}
    for new, old in pairs:
        if not is_same(new, old):
            alike.setdefault((wire_text(new, old), wire_text(old, new)), []).append(new)
    return "; ".join(f"{new} instead of {old} for {ways(runs)}" for (new, old), runs in alike.items())


def wire_text(run: Run, other: Run) -> str:
    """What a run has that the other has not: its cable, or its wires."""
    metal = "aluminum " if run.material == "aluminum" else ""
    if run.cable is not None:
        own = f" with a {size_text(run.cable.ground)} ground" if run.cable.ground not in (None, UNKNOWN, "none") else ""
        return f"{metal}{run.cable.name}{own}"
    names = []
    for place, wires in enumerate(run.wires):
        if place < len(other.wires) and other.wires[place] == wires:
            continue
        kind = f"{metal}{wires.insulation}".strip()
        names.append(
            f"a {size_text(wires.size)} ground" if wires.role == "ground" else f"{size_text(wires.size)} {kind}".strip()
        )
    return " and ".join(dict.fromkeys(names))


def rewired(placed: CircuitInPlace, pairs: list[Pair], action: str) -> Move:
    """The move that has new wire in some runs."""
    new_pairs = [(new, old) for new, old in pairs if not is_same(new, old)]
    takes = placed.wiring(new_pairs)
    thickest = max((size for new, _ in new_pairs for size in insulated_sizes(new)), key=RANK.__getitem__, default="")
    notes = (f"the terminals at both ends take {size_text(thickest)}", *takes.notes)
    if any(run.raceways for run, _ in new_pairs):
        notes = ("the old wires can be pulled out and the new ones in", *notes)
    return Move(
        placed.name,
        action,
        tuple([PutRun(new, old) for new, old in new_pairs]),
        takes.buys,
        takes.minutes,
        takes.disturbance,
        notes=notes,
        rates=takes.rates,
        leaves="passes",
        unpriced=takes.unpriced,
    )


def insulated_sizes(run: Run) -> list[str]:
    """The sizes of a run's insulated conductors."""
    if run.cable is not None:
        return [sizes_of(run.cable)[-1] if run.cable.size is UNKNOWN else run.cable.size]
    return [wires.size for wires in run.wires if wires.role == "insulated" and wires.size is not UNKNOWN]


__all__ = ["Pair", "grounded", "insulated_sizes", "is_same", "rewired", "thicker", "thicker_wire", "wires_text"]
