"""Which equipment ground goes with a run: a wire of its own or beside it, its metal raceway, its armor, or none."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from ampleroom.editions.grounding import PATH
from ampleroom.facts import Ends, fact_of
from ampleroom.job.cables import conductors_of, makeup
from ampleroom.job.model import Run, RunRaceway
from ampleroom.job.trade import RANK, SIZES, THINNEST_OLD_GROUND, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord, replace
from ampleroom.rules.runs_at_box import stops_text

if TYPE_CHECKING:
    from ampleroom.rules.circuit.wired import Wiring

METALS = ("aluminum", "copper")
NONE, ONE = Decimal(0), Decimal(1)
OF_GROUNDS: Ends = dict.fromkeys(("ground", "ground size", "ground metal"), "neither")
"""On what a wire may carry no ground bears."""


class Ground(TupleRecord):
    """The equipment ground of a run."""

    kind: Literal["wire", "raceway", "armor", "flexible", "none", "unwritten"]
    """``flexible``: in flexible raceway, which may be a ground or not; ``unwritten``: no line says what it is."""
    size: str = ""
    """Of a wire."""
    metal: str = "copper"
    """Of a wire."""
    where: str = ""
    """``with circuit 5 in R1``, of one wire that serves several circuits; ``R1``: the raceway."""


def is_old(run: Run) -> bool:
    """Whether a run was there before the work at hand."""
    return run.existing or (run.cable is not None and run.cable.kind == "old")


def ground_of(run: Run, size: str, wiring: Wiring) -> Ground:
    """The ground of a run whose insulated conductors are of ``size``, asking for what nobody knows."""
    if run.cable is not None and run.cable.ground == "none":
        return Ground("none")
    path = wiring.book[PATH]
    if run.cable is not None and run.cable.ground is None and run.cable.kind in path.armor:
        return Ground("armor")
    own = own_ground(run, size, wiring)
    if own is not None:
        return own
    if run.cable is not None:
        return Ground("none")
    return shared_ground(run, wiring) or raceway_ground(run, wiring)


def own_ground(run: Run, size: str, wiring: Wiring) -> Ground | None:
    """The ground wire on its line, the thickest of several; None where it has none."""
    if run.cable is not None and run.cable.size is UNKNOWN and size:
        run = replace(run, cable=run.cable._replace(size=size))
    if run.cable is not None and makeup(run.cable) is None:
        return Ground("wire", ask_size(run, "", size, wiring), metal_of(run, wiring))
    sizes: list[str] = []
    for part, group in enumerate(conductors_of(run)):
        if group.role != "ground":
            continue
        if group.count is UNKNOWN and run.cable is not None:
            text = f"whether {run.cable.name} ({stops_text(run.stops)}) has a ground, and its size"
            fact = fact_of(run, "ground", str(part))
            if not wiring.choose(fact, text, (NONE, ONE), ("no ground", "a ground")):
                continue
        is_known = group.size is not UNKNOWN and group.count is not UNKNOWN
        sizes.append(str(group.size) if is_known else ask_size(run, str(part), size, wiring))
    if not sizes:
        return None
    return Ground("wire", max(sizes, key=RANK.__getitem__), metal_of(run, wiring))


def ask_size(run: Run, part: str, size: str, wiring: Wiring) -> str:
    """The size of a ground nobody knows: none thicker than the conductors beside it."""
    name = run.cable.name if run.cable is not None else "the wires"
    text = f"the size of the ground of {name} ({stops_text(run.stops)})"
    sizes = (
        SIZES[RANK[THINNEST_OLD_GROUND] : RANK[size] + 1]
        if size and RANK[size] >= RANK[THINNEST_OLD_GROUND]
        else (THINNEST_OLD_GROUND,)
    )
    return wiring.choose(fact_of(run, "ground size", part), text, sizes, tuple(map(size_text, sizes)))


def metal_of(run: Run, wiring: Wiring) -> str:
    """The metal of a ground. A line names one metal; beside aluminum conductors pulled singly it may be copper."""
    if run.material == "copper" or run.cable is not None:
        return run.material
    text = f"the metal of the ground ({stops_text(run.stops)})"
    return wiring.choose(fact_of(run, "ground metal"), text, METALS, METALS)


def shared_ground(run: Run, wiring: Wiring) -> Ground | None:
    """The thickest ground that lies all along beside a run in the raceways it has no ground of its own in: one serves
    several circuits.
    """
    names = {each.name for each in run.raceways}
    if not names or "" in names:
        return None
    found: list[Ground] = []
    for other in wiring.graph.runs_in[run.raceways[0].name]:
        if other is run or other.cable is not None or not names <= {each.name for each in other.raceways}:
            continue
        ground = own_ground(other, wiring.size(other), wiring)
        if ground is not None:
            whose = f"circuit {other.circuit}" if other.circuit else f"line {other.at.line}"
            found.append(ground._replace(where=f"with {whose} in {run.raceways[0].name}"))
    return max(found, key=lambda ground: RANK[ground.size], default=None)


def raceway_ground(run: Run, wiring: Wiring) -> Ground:
    """What the raceways of a run without a ground wire are worth as its ground."""
    path = wiring.book[PATH]
    kinds = [kind_of(each, wiring) for each in run.raceways]
    named = ", ".join(each.name or each.kind for each in run.raceways)
    if kinds and all(kind in path.raceways for kind in kinds):
        return Ground("raceway", where=named)
    if kinds and all(kind in (*path.raceways, *path.flexible) for kind in kinds):
        return Ground("flexible", where=named)
    return Ground("none" if is_old(run) else "unwritten")


def kind_of(lain_in: RunRaceway, wiring: Wiring) -> str:
    """The kind of a raceway a run lies in; empty for one that is no complete raceway or whose kind is not written."""
    if lain_in.kind:
        return lain_in.kind
    raceway = wiring.graph.raceways.get(lain_in.name)
    return raceway.kind if raceway is not None and not raceway.sleeve else ""
