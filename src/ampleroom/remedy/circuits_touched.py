"""Which circuits a change bears on: those it alters, and those that lie beside what it alters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampleroom.job.edit import (
    AddRoute,
    AddRun,
    Change,
    DropRun,
    PutCircuit,
    PutRaceway,
    PutRoute,
    PutRun,
    PutWireway,
)
from ampleroom.job.model import Job, Run


def circuits_altered(change: Change, job: Job) -> set[str]:
    """The names, in lower case, of the circuits a change alters: by their own line, a run, or a route they go along."""
    names: set[str] = set()
    for step in change:
        match step:
            case PutCircuit(new, old):
                names |= {new.name.casefold(), old.name.casefold()}
            case AddRun(run) | DropRun(run):
                names |= circuits_of((run,))
            case PutRun(run, was):
                names |= circuits_of((run, was))
            case PutRoute(_, old_route):
                names |= circuits_of(job.graph.runs_along.get(old_route.name, ()))
            case AddRoute(_, after):
                names |= circuits_of(job.graph.runs_along.get(after, ()))
    return names


def circuits_beside(change: Change, job: Job) -> set[str]:
    """The names, in lower case, of all circuits with a run beside what a change alters: in a raceway or wireway, along
    a route, or among the cables of which the sheet does not say where they lie.
    """
    graph = job.graph
    beside: dict[int, Run] = {}
    for step in change:
        match step:
            case AddRun(run) | DropRun(run):
                near: Iterable[Run] = neighbors(run, job, is_loose(run))
            case PutRun(run, was):
                is_other = lies(run) != lies(was) or carries(run) != carries(was)
                loose = is_other and (is_loose(run) or is_loose(was))
                in_company = (*neighbors(run, job, loose), *neighbors(was, job, False))
                near = in_company if is_other or run.cable is None else ()  # of wires the ground may serve others
            case PutRoute(_, old_route):
                near = graph.runs_along.get(old_route.name, ())
            case PutRaceway(_, old_raceway):
                near = graph.runs_in.get(old_raceway.name, ())
            case PutWireway(_, old_wireway):
                near = tuple([run for run, _ in graph.runs_in_wireways.get(old_wireway.name, ())])
            case _:
                near = ()
        beside.update((id(run), run) for run in near)
    return circuits_of(beside.values())


def circuits_of(runs: Iterable[Run]) -> set[str]:
    """The circuits some runs belong to, in lower case."""
    return {name.casefold() for run in runs if run.circuit for name in run.circuit.split("+")}


def neighbors(run: Run, job: Job, loose: bool) -> Iterator[Run]:
    """The runs that share a raceway, wireway or route with one; ``loose``: and those of which no line says where they
    lie.
    """
    graph = job.graph
    for lain_in in run.raceways:
        if lain_in.name in graph.wireways:
            yield from (other for other, _ in graph.runs_in_wireways[lain_in.name])
        elif lain_in.name:
            yield from graph.runs_in.get(lain_in.name, ())
        else:
            yield from (other for other in job.runs if any(not each.name for each in other.raceways))
    for route in run.routes:
        yield from graph.runs_along.get(route.name, ())
    if loose:
        yield from graph.loose_cables


def is_loose(run: Run) -> bool:
    """Whether no line says where a run lies, so that it may lie bundled with any other such run."""
    return not (run.raceways or run.routes or run.spaced or run.low_voltage)


def lies(run: Run) -> object:
    """Where a run lies, and whether apart."""
    return [each.name for each in run.routes], [(each.name, each.kind) for each in run.raceways], run.spaced


def carries(run: Run) -> object:
    """What decides how many of its conductors carry current."""
    wires = [(wires.count, wires.role) for wires in run.wires]
    return run.count, run.circuit, run.cable.of if run.cable else "", wires


__all__ = ["circuits_altered", "circuits_beside", "circuits_of"]
