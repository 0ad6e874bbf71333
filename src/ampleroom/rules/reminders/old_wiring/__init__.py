"""Cautions for wiring that was there before."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.cables import conductors_of
from ampleroom.job.model import Carries
from ampleroom.job.trade import BRANCH_SIZES, RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.runs_at_box import run_name
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "old-wiring"


class NmTemperature(Record):
    """Since which year sheathed cable is marked for higher temperatures."""

    cite: str
    confidence: str
    marked_since: Decimal


class ReducedGround(Record):
    """When a ground thinner than its conductors was usual."""

    cite: str
    confidence: str
    usual_era: str


NM_TEMPERATURE = Table("reminders.nm_temperature", NmTemperature, __file__)
REDUCED_GROUND = Table("reminders.reduced_ground", ReducedGround, __file__)


@rule(
    NAME,
    title="Old wiring",
    topic="reminder",
    tables=(REDUCED_GROUND, NM_TEMPERATURE),
)
def old_wiring(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Old cable often has a ground thinner than its conductors, or no ground. Do not extend a circuit from it as if the
    ground were good. Cable made before about 1985 has insulation for lower temperatures than most new luminaires
    call for. Aluminum branch wiring fails at its terminations.

    Why: A box that passes on paper can still burn here.
    """
    here = space.box.name
    runs = {id(entering.run): entering.run for entering in space.entering}.values()
    for run in runs:
        if run.material == "copper" and run.cable is not None and run.cable.ground is None and run.cable.kind != "old":
            continue
        insulated = [
            wires.size for wires in conductors_of(run) if wires.role == "insulated" and wires.size is not UNKNOWN
        ]
        grounds = [wires.size for wires in conductors_of(run) if wires.role == "ground" and wires.size is not UNKNOWN]
        terms = book[REDUCED_GROUND]
        if run.cable is not None and run.cable.ground == "none":
            text = f"{run_name(run, here)} has no ground: do not extend it as if it had"
            yield remind(NAME, text, terms, caution=True)
        elif (
            run.cable is not None
            and insulated
            and grounds
            and insulated[0] in BRANCH_SIZES
            and RANK[grounds[0]] < RANK[insulated[0]]
        ):
            text = (
                f"{run_name(run, here)} has a {size_text(grounds[0])} ground, thinner than its conductors (usual "
                f"{terms.usual_era}): it does not serve new work"
            )
            yield remind(NAME, text, terms, caution=True)
        if (
            run.cable is not None
            and run.cable.kind == "old"
            and any(carried.kind == "luminaire" for carried in space.of(Carries))
        ):
            heat = book[NM_TEMPERATURE]
            text = (
                f"{run_name(run, here)} may be 60 C cable (before about {heat.marked_since}): most new luminaires "
                "want 90 C supply wires"
            )
            yield remind(NAME, text, heat, caution=True)
        if run.material == "aluminum" and insulated and insulated[0] in BRANCH_SIZES:
            text = (
                f"{run_name(run, here)} is aluminum branch wiring: its terminations need a repair meant for "
                "aluminum, and repair connectors take room"
            )
            yield Reminder(NAME, text, "", True)
