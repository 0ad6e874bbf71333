"""The directory of a panel: what stands on the label inside its door, space by space."""

from __future__ import annotations

from collections.abc import Iterable

from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Job, Panel, Run
from ampleroom.job.poles import leg_of, legs_of, number_of, poles_of
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord
from ampleroom.rules.panel.laid_out import in_order, is_supply


class Entry(TupleRecord):
    """One circuit in one space."""

    space: str
    """``5``; ``7a`` of half a tandem; empty where nobody placed it."""
    leg: str
    """``A``; empty where it is not known."""
    circuit: str
    """``3``."""
    serves: str
    """``wheel bench``; empty where nobody wrote it."""
    breaker: str
    """``20 A``, ``30 A 2-pole``; ``? A`` where it is not known."""
    wire: str
    """``12/2 nm-b``: the wire that leaves the panel; empty where none is in the sheet."""
    is_first: bool
    """Whether it is the first space of its breaker."""

    @property
    def text(self) -> str:
        """``circuit 3  wheel bench, 20 A, 12/2 nm-b``; of the further poles of a breaker the name alone."""
        if not self.is_first:
            return f"circuit {self.circuit}, same breaker"
        parts = (self.serves, self.breaker, self.wire)
        return f"circuit {self.circuit}  {', '.join(part for part in parts if part)}".rstrip()


class Directory(TupleRecord):
    """A panel's directory."""

    panel: Panel
    rows: tuple[tuple[int, tuple[Entry, ...], tuple[Entry, ...]], ...]
    """Of each row the number of its left space, and who is in the left and in the right one."""
    unplaced: tuple[Entry, ...]
    """Circuits of which no space is written."""


def directory_of(job: Job, name: str) -> Directory | None:
    """The directory of a panel by its name; None where the job has no such panel."""
    graph = job.graph
    panel = graph.panels.get(name)
    if panel is None:
        return None
    own = [circuit for circuit in in_order(graph) if graph.source_of(circuit.name) == name]
    entries: list[Entry] = []
    unplaced: list[Entry] = []
    for circuit in own:
        if circuit.spaces and circuit.spaces is not UNKNOWN:
            entries += entries_of(circuit, circuit.spaces, panel, graph)
        elif not is_supply(circuit):
            unplaced += entries_of(circuit, ("",), panel, graph)
    last = max([panel.spaces or 0, *(number_of(each.space) for each in entries)])
    there: dict[int, list[Entry]] = {}
    for each in sorted(entries, key=lambda entry: entry.space[-1:]):
        there.setdefault(number_of(each.space), []).append(each)
    rows = [
        (left, tuple(there.get(left, ())), tuple(there.get(left + 1, ())))
        for left in range(1, last + 1, 2)
    ]  # fmt: skip
    return Directory(panel, tuple(rows), tuple(unplaced))


def entries_of(circuit: Circuit, spaces: Iterable[str], panel: Panel, graph: Graph) -> list[Entry]:
    """A circuit in each of its spaces."""
    poles, legs = poles_of(circuit, graph), legs_of(panel)
    amperes = "? A" if circuit.amperes in (None, UNKNOWN) else f"{circuit.amperes} A"
    breaker = f"{amperes} {poles}-pole" if poles > 1 else amperes
    serves = circuit.label or circuit.serves
    wire = wire_from(circuit, panel, graph)
    return [
        Entry(space, leg_of(space, legs) if space and legs else "", circuit.name, serves, breaker, wire, not index)
        for index, space in enumerate(spaces)
    ]


def wire_from(circuit: Circuit, panel: Panel, graph: Graph) -> str:
    """The wire of a circuit at the panel; empty where none of its runs comes there."""
    runs = graph.runs_of.get(circuit.name.casefold(), ())
    here = [run for run in runs if panel.name in run.place_names]
    return ", ".join(dict.fromkeys(map(wire_text, here)))


def wire_text(run: Run) -> str:
    """``12/2 nm-b``; ``3 x #6 thhn aluminum``."""
    if run.cable is not None:
        text = run.cable.name
    else:
        wires = next((group for group in run.wires if group.role == "insulated"), run.wires[0])
        text = f"{wires.count} x {size_text(wires.size)} {wires.insulation}".rstrip()
    return text + (" aluminum" if run.material == "aluminum" else "")


__all__ = ["Directory", "Entry", "directory_of", "wire_text"]
