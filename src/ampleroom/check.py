"""A whole job judged: every subject of every kind, under the edition of the code adopted there."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING

from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.errors import EditionMissing
from ampleroom.job.model import Job
from ampleroom.job.subjects import is_rated_circuit, not_judged
from ampleroom.report import Report
from ampleroom.rules.box.judge import BODY_KIND, check_box, place_report
from ampleroom.rules.box.judge.weighing import worksheet
from ampleroom.rules.kinds import KINDS, Kind, judged_names, register
from ampleroom.worksheet import BOX_FILL, PANEL_SPACES, RACEWAY_FILL, WIRE_PROTECTION, WIREWAY_FILL, SubjectReport

if TYPE_CHECKING:
    from ampleroom.job.graph import Graph
    from ampleroom.rules.circuit.wired import Subject as CircuitSubject
    from ampleroom.rules.load.carried import Subject as DwellingSubject
    from ampleroom.rules.panel.laid_out import Subject as PanelSubject
    from ampleroom.rules.raceway.filled import Subject
    from ampleroom.rules.wireway.filled import Subject as WirewaySubject


def raceways(job: Job) -> Iterable[Subject]:
    """The raceways of a job. Their rules are imported here and in ``raceway_report``: a job without raceways loads
    none.
    """
    if not job.raceways and not any(run.raceways for run in job.runs):
        return ()
    from ampleroom.rules.raceway.filled import raceways_of

    return raceways_of(job)


def raceway_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one raceway."""
    from ampleroom.rules.raceway import judge

    return judge.raceway_report(subject, graph, book)


def wireways(job: Job, form: str) -> Iterable[WirewaySubject]:
    """The wireways of a job, or its gutters. A job without any loads none of their rules."""
    if not job.wireways:
        return ()
    from ampleroom.rules.wireway.filled import wireways_of

    return wireways_of(job, form)


def wireway_report(subject: WirewaySubject, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one wireway or gutter."""
    from ampleroom.rules.wireway import judge

    return judge.wireway_report(subject, graph, book)


def circuits(job: Job) -> Iterable[CircuitSubject]:
    """The circuits of a job of which enough is written to be judged. A job without any loads none of their rules."""
    rated = [circuit for circuit in job.circuits if is_rated_circuit(circuit)]
    if not rated:
        return ()
    from ampleroom.rules.circuit.wired import Subject

    runs_of = job.graph.runs_of
    return [Subject(circuit, runs_of.get(circuit.name.casefold(), ())) for circuit in rated]


def circuit_report(subject: CircuitSubject, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one circuit."""
    from ampleroom.rules.circuit import judge

    return judge.circuit_report(subject, graph, book)


def dwellings(job: Job) -> Iterable[DwellingSubject]:
    """The dwelling of a job, for the load of its service. A job without one loads none of their rules."""
    if job.dwelling is None:
        return ()
    from ampleroom.rules.load.carried import subjects_of

    return subjects_of(job)


def load_report(subject: DwellingSubject, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of the service of a dwelling."""
    from ampleroom.rules.load import judge

    return judge.load_report(subject, graph, book)


def panels(job: Job) -> Iterable[PanelSubject]:
    """The panels of a job of which a space is written. A job without any loads none of their rules."""
    if not any(panel.spaces for panel in job.panels) and not any(circuit.spaces for circuit in job.circuits):
        return ()
    from ampleroom.rules.panel.laid_out import panels_of

    return panels_of(job)


def panel_report(subject: PanelSubject, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one panel."""
    from ampleroom.rules.panel import judge

    return judge.panel_report(subject, graph, book)


register(Kind("box", "boxes", lambda job: job.boxes, place_report, ("box",), BOX_FILL))
# Conduit bodies are judged with the boxes, so that both stand in the order of the sheet.
register(Kind(BODY_KIND, "conduit bodies", lambda job: (), place_report, (), BOX_FILL))
register(Kind("raceway", "raceways", raceways, raceway_report, ("raceway",), RACEWAY_FILL))
for form in ("wireway", "gutter"):
    register(Kind(form, f"{form}s", partial(wireways, form=form), wireway_report, (form,), WIREWAY_FILL))
register(Kind("circuit", "circuits", circuits, circuit_report, ("circuit",), WIRE_PROTECTION))
register(Kind("dwelling", "dwellings", dwellings, load_report, ("dwelling",)))
register(Kind("panel", "panels", panels, panel_report, (), PANEL_SPACES))


def edition_for(job: Job, edition: int | None = None) -> int:
    """The year of the edition to judge by: ``edition`` for a what-if, else the sheet's. There is no default.

    Raises ``EditionMissing`` where neither is given.
    """
    year = edition if edition is not None else job.edition
    if year is None:
        raise EditionMissing(
            "the sheet does not say which edition of the code is adopted there; write a line such as "
            f"'edition {NEWEST_COMPARED}' (one of {', '.join(map(str, OFFERED))}), or ask your authority"
        )
    return year


def book_for(job: Job, edition: int | None = None) -> CodeBook:
    """The code book in force at a job; ``edition`` overrides the sheet's for a what-if."""
    year = edition_for(job, edition)
    readings = {reading.name: reading.choice for reading in job.readings}
    return CodeBook(year, job.amendments, readings) if job.amendments else CodeBook(year, readings=readings)


def check(job: Job, edition: int | None = None) -> Report:
    """Everything that is found of a job. Nothing is printed, and nothing raised for a box that is too small."""
    book = book_for(job, edition)
    return Report(job, book, subject_reports(job, book), not_judged(job, judged_names()))


def subject_reports(job: Job, book: CodeBook) -> tuple[SubjectReport, ...]:
    """What is found of every subject of every kind."""
    graph = job.graph
    return tuple([kind.judge(subject, graph, book) for kind in KINDS.values() for subject in kind.subjects(job)])


def box_reports(job: Job, book: CodeBook) -> tuple[SubjectReport, ...]:
    """What is found of every box and conduit body of a job."""
    graph = job.graph
    return tuple([place_report(box, graph, book) for box in job.boxes])


__all__ = ["BOX_FILL", "book_for", "box_reports", "check", "check_box", "edition_for", "worksheet"]
