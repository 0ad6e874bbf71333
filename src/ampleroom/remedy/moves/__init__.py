"""The moves: each a function from a box to changes that may make it pass, knowing what it may not do.

To add one, write a function like its neighbors and list it here. It need not know whether its change is enough: every
move is judged by the whole rules before it becomes a remedy.
"""

from collections.abc import Callable, Iterator

from ampleroom.remedy.moves.another_box import another_box, choose_box
from ampleroom.remedy.moves.another_run import another_run
from ampleroom.remedy.moves.combination import combination_device
from ampleroom.remedy.moves.connectors import connectors_outside
from ampleroom.remedy.moves.rings import rings_and_covers
from ampleroom.remedy.moves.second_box import second_box
from ampleroom.remedy.remedy import Move
from ampleroom.remedy.spot import Spot

Maker = Callable[[Spot], Iterator[Move]]

MOVES: tuple[Maker, ...] = (
    connectors_outside,
    rings_and_covers,
    another_box,
    combination_device,
    another_run,
    second_box,
    choose_box,
)

__all__ = ["MOVES", "Maker", "Move"]
