"""Move: thicker wire up to the far end of a circuit that passes and loses more volts than is advised."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.check import circuits
from ampleroom.job.edit import PutRun, changed
from ampleroom.job.model import Run
from ampleroom.job.trade import RANK
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, is_replaceable
from ampleroom.remedy.moves.thicker_wire import Pair, grounded, insulated_sizes, rewired, wires_text
from ampleroom.remedy.remedy import Move
from ampleroom.rules.circuit import drop
from ampleroom.rules.circuit.judge import circuit_report
from ampleroom.sizing.circuit import resized, sizes_to_try
from ampleroom.worksheet import Finding, SubjectReport, Verdict


def less_drop(placed: CircuitInPlace) -> Iterator[Move]:
    """The thinnest size that brings the drop under the advised limit where no run on the way to the far end is thinner,
    each with a ground that has grown as much. The drop is advice: nothing has to be done.
    """
    advice = drop_advice(placed.report)
    if advice is None or not placed.report.verdict.is_allowed:
        return
    runs = [run for run in placed.runs if run.at in advice.also and is_replaceable(run)]
    for size in sizes_to_try(runs[0], placed.book) if runs else ():
        pairs: list[Pair] = []
        for run in runs:
            if is_thinner(run, size):
                new = replace(resized(run, size), existing=False)
                pairs += grounded(placed.subject, placed.job, [(new, run)], placed)
        after = report_after(placed, pairs) if pairs else None
        if after is None or drop_advice(after) is not None or not after.verdict.is_allowed:
            continue
        leaves = next((drop_text(each) for each in after.findings if each.rule == drop.NAME), "passes")
        yield replace(rewired(placed, pairs, f"use {wires_text(pairs)}"), leaves=leaves)
        return


def drop_advice(report: SubjectReport) -> Finding | None:
    """The finding that a circuit loses more volts than is advised; None where it does not."""
    return next((each for each in report.findings if each.rule == drop.NAME and each.verdict is Verdict.ADVICE), None)


def is_thinner(run: Run, size: str) -> bool:
    """Whether some insulated conductor of a run is thinner than a size."""
    return any(RANK[each] < RANK[size] for each in insulated_sizes(run))


def report_after(placed: CircuitInPlace, pairs: list[Pair]) -> SubjectReport | None:
    """What would be found of the circuit with new runs."""
    job = changed(placed.job, tuple([PutRun(new, old) for new, old in pairs]))
    subject = next((each for each in circuits(job) if each.name == placed.name), None)
    return circuit_report(subject, job.graph, placed.book) if subject is not None else None


def drop_text(finding: Finding) -> str:
    """``voltage drop 2.50 V of 3.60 V advised``."""
    sheet = finding.worst
    if sheet is None:
        return "passes"
    unit = sheet.purpose.unit
    return f"voltage drop {unit.amount(sheet.needed)} of {unit.amount(sheet.there)} advised"


__all__ = ["drop_advice", "less_drop"]
