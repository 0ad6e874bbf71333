"""The moves of each kind of subject: functions from a subject in its place to changes that may make it pass.

To add a move, write a function like its neighbors and list it here, under the kinds it is for. It knows what it may not
do, and need not know whether its change is enough: every move is judged by all rules before it becomes a remedy. A kind
of subject whose moves are not listed here registers them by ``register_moves``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from ampleroom.record import Record
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.circuit_in_place import CircuitInPlace
from ampleroom.remedy.in_place import SubjectInPlace
from ampleroom.remedy.moves.another_box import another_box, choose_box
from ampleroom.remedy.moves.another_breaker import larger_breaker, smaller_breaker
from ampleroom.remedy.moves.another_run import another_run, runs_not_tried
from ampleroom.remedy.moves.circuits_apart import circuits_apart
from ampleroom.remedy.moves.combination import combination_device, devices_not_tried
from ampleroom.remedy.moves.connectors import connectors_outside
from ampleroom.remedy.moves.cooler_route import cooler_route
from ampleroom.remedy.moves.hotter_insulation import hotter_insulation
from ampleroom.remedy.moves.kept_apart import kept_apart
from ampleroom.remedy.moves.larger_raceway import larger_raceway
from ampleroom.remedy.moves.larger_wireway import larger_wireway
from ampleroom.remedy.moves.less_drop import less_drop
from ampleroom.remedy.moves.more_holes import more_holes
from ampleroom.remedy.moves.pull_boxes import larger_pull_box, other_walls
from ampleroom.remedy.moves.pull_point import pull_point
from ampleroom.remedy.moves.rings import rings_and_covers
from ampleroom.remedy.moves.second_box import second_box
from ampleroom.remedy.moves.second_raceway import second_raceway
from ampleroom.remedy.moves.second_wireway import second_wireway
from ampleroom.remedy.moves.thicker_wire import thicker_wire
from ampleroom.remedy.moves.thinner_insulation import thinner_insulation
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.remedy import Move
from ampleroom.remedy.wireway_in_place import WirewayInPlace

Maker = Callable[[Any], Iterator[Move]]
"""Makes the moves of one subject in its place."""


class KindMoves(Record):
    """What may be done about the subjects of one kind."""

    makers: tuple[Maker, ...]
    in_place: Callable[..., Any] = SubjectInPlace
    """What the makers are given, made of the fields of ``SubjectInPlace``."""
    not_tried: tuple[Callable[[Any], str], ...] = ()
    """Each says in a sentence what its move leaves out of a subject, or nothing where it tries all."""


OF_BOXES = KindMoves(
    (
        connectors_outside,
        rings_and_covers,
        another_box,
        combination_device,
        another_run,
        second_box,
        choose_box,
        larger_pull_box,
        other_walls,
    ),
    BoxInPlace,
    (runs_not_tried, devices_not_tried),
)
OF_RACEWAYS = KindMoves((larger_raceway, second_raceway, thinner_insulation, pull_point), RacewayInPlace)
OF_WIREWAYS = KindMoves((larger_wireway, second_wireway, thinner_insulation), WirewayInPlace)
OF_CIRCUITS = KindMoves(
    (
        smaller_breaker,
        larger_breaker,
        thicker_wire,
        hotter_insulation,
        kept_apart,
        more_holes,
        circuits_apart,
        cooler_route,
        less_drop,
    ),
    CircuitInPlace,
)
MOVES: dict[str, KindMoves] = {
    "box": OF_BOXES,
    "conduit body": OF_BOXES,
    "raceway": OF_RACEWAYS,
    "wireway": OF_WIREWAYS,
    "gutter": OF_WIREWAYS,
    "circuit": OF_CIRCUITS,
}
"""By the name of the kind of subject, as in ``SubjectReport.kind``. A kind that is not here has no remedies, and is
told so."""


def register_moves(kind: str, moves: KindMoves) -> None:
    """Have remedies tried for the subjects of a kind. Raises ``ValueError`` where the kind has moves already."""
    if kind in MOVES:
        raise ValueError(f"the kind {kind} has its moves already")
    MOVES[kind] = moves


__all__ = ["MOVES", "KindMoves", "Maker", "Move", "register_moves"]
