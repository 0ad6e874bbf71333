"""What a job holds besides its boxes, kind by kind, and which of it no rule judges.

A topic that gets its rules takes its kind out of what is not judged by ``covers`` of its ``rules.kinds.Kind``; every
answer, its verdict and the exit status follow from that.
"""

from __future__ import annotations

from collections.abc import Callable, Collection

from ampleroom.job.model import Circuit, Job, Panel, Route, Run
from ampleroom.quantities import plural
from ampleroom.record import Record, TupleRecord


class Subject(Record):
    """A kind of thing a sheet may hold that a rule of the code can pass or fail."""

    name: str
    several: str
    """The name of two or more."""
    count_in: Callable[[Job], int]
    """How many a job holds of which enough is written to be judged: a name alone is not."""


class NotJudged(TupleRecord):
    """So many things of one kind that stand in the sheet and that no rule judged."""

    kind: str
    quantity: int
    text: str
    """``2 raceways``."""


def is_rated_panel(panel: Panel) -> bool:
    """Whether a main breaker, a bus or its terminals are written; volts alone only name the supply."""
    return any(rating is not None for rating in (panel.main, panel.bus, panel.terminals))


def laid_out_panels(job: Job) -> tuple[Panel, ...]:
    """The panels of which the sheet says how many spaces they have, or where a circuit sits: these are judged."""
    in_use = {job.graph.source_of(circuit.name) for circuit in job.circuits if circuit.spaces}
    return tuple([panel for panel in job.panels if panel.spaces is not None or panel.name in in_use])


def unjudged_panels(job: Job) -> int:
    """How many panels have a rating and are not judged, as nothing is written of their spaces."""
    laid_out = {panel.name for panel in laid_out_panels(job)}
    return sum(is_rated_panel(panel) and panel.name not in laid_out for panel in job.panels)


def is_rated_circuit(circuit: Circuit) -> bool:
    """Whether a breaker, a load or a nameplate is written; a label, a panel or volts alone leave nothing to judge."""
    said = (circuit.amperes, circuit.load, circuit.mca, circuit.mocp)
    return any(each is not None for each in said) or circuit.continuous or bool(circuit.horsepower)


def is_warm(route: Route) -> bool:
    """Whether a route says anything that lowers the ampacity of what lies in it."""
    return route.in_insulation or route.sealed or route.ambient is not None or route.rooftop is not None


def is_in_a_judged_circuit(run: Run, job: Job) -> bool:
    """Whether a run belongs to a circuit that is judged, with the heat and the company along it."""
    circuits = job.graph.circuits
    names = run.circuit.casefold().split("+") if run.circuit else []
    return any(name in circuits and is_rated_circuit(circuits[name]) for name in names)


def warm_routes(job: Job) -> int:
    """How many warm routes a job has along which a run goes that is not judged, or none."""
    return sum(
        is_warm(route)
        and not (
            (runs := job.graph.runs_along.get(route.name, ())) and all(is_in_a_judged_circuit(run, job) for run in runs)
        )
        for route in job.routes
    )


def runs_in_insulation(job: Job) -> int:
    """How many runs in insulation belong to no circuit that is judged."""
    return sum(run.in_insulation and not is_in_a_judged_circuit(run, job) for run in job.runs)


def loads(job: Job) -> int:
    """How many loads a job has of the service, where no dwelling is written with which they are judged, and at the ends
    of runs whose circuit is not judged.
    """
    at_runs = sum(run.load is not None and not is_in_a_judged_circuit(run, job) for run in job.runs)
    return at_runs + (sum(load.count for load in job.loads) if job.dwelling is None else 0)


SUBJECTS: tuple[Subject, ...] = (
    Subject("box", "boxes", lambda job: len(job.boxes)),
    Subject("raceway", "raceways", lambda job: len(job.raceways)),
    Subject("wireway", "wireways", lambda job: sum(each.form == "wireway" for each in job.wireways)),
    Subject("gutter", "gutters", lambda job: sum(each.form == "gutter" for each in job.wireways)),
    Subject("circuit", "circuits", lambda job: sum(map(is_rated_circuit, job.circuits))),
    Subject("load", "loads", loads),
    Subject("dwelling", "dwellings", lambda job: 0 if job.dwelling is None else 1),
    Subject("panel", "panels", unjudged_panels),
    Subject("route", "routes", warm_routes),
    Subject("run in insulation", "runs in insulation", runs_in_insulation),
)
"""Every kind, in the order answers name them."""


def not_judged(job: Job, judged: Collection[str]) -> tuple[NotJudged, ...]:
    """What stands in the sheet and no rule judges, with the count of each kind; kinds the job has none of are left out.

    ``judged``: the names of the kinds that are judged.
    """
    counts = ((kind, kind.count_in(job)) for kind in SUBJECTS if kind.name not in judged)
    return tuple(NotJudged(kind.name, count, plural(count, kind.name, kind.several)) for kind, count in counts if count)


def not_judged_text(kinds: tuple[NotJudged, ...]) -> str:
    """``Not judged: 2 raceways, 3 circuits, 2 loads``; empty where everything was judged."""
    return f"Not judged: {', '.join(each.text for each in kinds)}" if kinds else ""
