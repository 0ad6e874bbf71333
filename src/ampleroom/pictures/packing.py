"""Circles packed into a wall, round or square: where each of some conductors lies in a raceway or a wireway, no two
overlapping.

Every circle is laid where it touches two others, or one other and the wall, as low as it goes: a heap, as wires lie.
Lengths in any one unit; the middle of the wall is 0, 0, and y points down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import hypot, sqrt
from typing import Protocol

from ampleroom.record import TupleRecord

CLEAR = 1e-9
"""So much of the wall's radius two circles may seem to overlap by, as floats round."""
Spot = tuple[float, float]


class Wall(Protocol):
    """What circles are packed into."""

    @property
    def radius(self) -> float:
        """From its middle to the farthest it reaches sideways or down."""
        ...

    def alone(self, radius: float) -> list[Spot]:
        """Where a circle of a radius may start: it rests on the wall and touches no other; none where it is too
        large.
        """
        ...

    def beside(self, radius: float, x: float, y: float, apart: float) -> list[Spot]:
        """Where a circle of a radius touches the wall and its middle is ``apart`` from ``x, y``."""
        ...

    def within(self, radius: float, spots: Iterable[Spot]) -> list[Spot]:
        """Those of some places at which a circle of a radius is inside."""
        ...


class RoundWall(TupleRecord):
    """The bore of a raceway."""

    radius: float

    def alone(self, radius: float) -> list[Spot]:
        """The lowest place."""
        reach = self.radius - radius
        return [(0.0, max(reach, 0.0))] if reach >= -CLEAR * self.radius else []

    def beside(self, radius: float, x: float, y: float, apart: float) -> list[Spot]:
        """Two places at most."""
        reach = self.radius - radius
        return crossings(0.0, 0.0, reach, x, y, apart) if reach > 0 else [(0.0, 0.0)]

    def within(self, radius: float, spots: Iterable[Spot]) -> list[Spot]:
        """Those no farther from the middle than the wall lets them."""
        most = (self.radius - radius + CLEAR * self.radius) ** 2
        return [(x, y) for x, y in spots if x * x + y * y <= most]


class SquareWall(TupleRecord):
    """The section of a wireway, by half its width and half its height."""

    wide: float
    high: float

    @property
    def radius(self) -> float:
        """The longer of the two."""
        return max(self.wide, self.high)

    def alone(self, radius: float) -> list[Spot]:
        """The four corners, the lower ones first."""
        across, down = self.wide - radius, self.high - radius
        if min(across, down) < -CLEAR * self.radius:
            return []
        across, down = max(across, 0.0), max(down, 0.0)
        return [(-across, down), (across, down), (-across, -down), (across, -down)]

    def beside(self, radius: float, x: float, y: float, apart: float) -> list[Spot]:
        """Two places at each of its four sides at most."""
        across, down = self.wide - radius, self.high - radius
        spots: list[Spot] = []
        for side in (-across, across):
            rest = apart * apart - (side - x) ** 2
            if rest >= 0:
                step = sqrt(rest)
                spots += [(side, y - step), (side, y + step)]
        for side in (-down, down):
            rest = apart * apart - (side - y) ** 2
            if rest >= 0:
                step = sqrt(rest)
                spots += [(x - step, side), (x + step, side)]
        return spots

    def within(self, radius: float, spots: Iterable[Spot]) -> list[Spot]:
        """Those as far from every side as the radius."""
        slack = CLEAR * self.radius
        across, down = self.wide - radius + slack, self.high - radius + slack
        return [(x, y) for x, y in spots if abs(x) <= across and abs(y) <= down]


class Circle(TupleRecord):
    """A circle that has its place."""

    x: float
    y: float
    radius: float
    place: int
    """Which of the circles to pack it is, from 0."""


class Packed(TupleRecord):
    """What found room, and the numbers of those that did not."""

    inside: tuple[Circle, ...]
    outside: tuple[int, ...]


def lowest(x: float, y: float, radius: float) -> tuple[float, float]:
    """Ranks places: the lowest first, and of two as low the one nearer the middle."""
    return (-round(y + radius, 9), abs(x))


def outermost(x: float, y: float, radius: float) -> tuple[float, float]:
    """Ranks places: nearest the wall first, and of those the lowest. It leaves the middle free for large circles."""
    return (-round(x * x + y * y, 9), -y)


Rank = Callable[[float, float, float], tuple[float, float]]
RANKS: tuple[Rank, ...] = (lowest, outermost)


def packed(wall: Wall, radii: Sequence[float]) -> Packed:
    """Circles of these radii in a wall. What does not go in one way is tried another; the way that
    leaves the fewest outside is taken.
    """
    tried: list[Packed] = []
    for rank in RANKS:
        for order in orders(radii):
            found = laid(wall, radii, order, rank)
            if not found.outside:
                return found
            tried.append(found)
    return min(tried, key=lambda found: len(found.outside)) if tried else Packed((), ())


def orders(radii: Sequence[float]) -> Iterable[list[int]]:
    """In which order circles are laid: the large first, then the small first, where they differ."""
    large_first = sorted(range(len(radii)), key=lambda place: -radii[place])
    yield large_first
    if len(set(radii)) > 1:
        yield large_first[::-1]


def laid(wall: Wall, radii: Sequence[float], order: Sequence[int], rank: Rank) -> Packed:
    """The circles laid one after another, each at the best ranked of the places left for its size."""
    inside: list[Circle] = []
    outside: list[int] = []
    free: list[Spot] = []
    size = -1.0
    for place in order:
        radius = radii[place]
        if radius != size:
            size = radius
            free = places_for(radius, inside, wall)
        if not free:
            outside.append(place)
            continue
        x, y = min(free, key=lambda spot: rank(spot[0], spot[1], size))
        new = Circle(x, y, radius, place)
        apart = (2 * radius - CLEAR * wall.radius) ** 2
        free = [(px, py) for px, py in free if (px - x) ** 2 + (py - y) ** 2 >= apart]
        inside.append(new)
        free += touching(radius, new, inside, wall)
    return Packed(tuple(inside), tuple(outside))


def places_for(radius: float, inside: Sequence[Circle], wall: Wall) -> list[Spot]:
    """Every place where a circle of this radius touches two others, or one and the wall, or rests on the wall, and
    overlaps nothing.
    """
    found = wall.alone(radius)
    if not found:
        return []
    slack = CLEAR * wall.radius
    for circle in inside:
        apart = (circle.radius + radius - slack) ** 2
        found = [(x, y) for x, y in found if (x - circle.x) ** 2 + (y - circle.y) ** 2 >= apart]
    for number, circle in enumerate(inside):
        found += touching(radius, circle, inside[: number + 1], wall, inside)
    return found


def touching(
    radius: float, new: Circle, beside: Sequence[Circle], wall: Wall, everything: Sequence[Circle] = ()
) -> list[Spot]:
    """Places where a circle touches ``new`` and one of ``beside``, or ``new`` and the wall, and overlaps none of
    ``everything``, by default ``beside``."""
    near_new = new.radius + radius
    spots = wall.beside(radius, new.x, new.y, near_new)
    for other in beside:
        if other is not new and hypot(other.x - new.x, other.y - new.y) <= near_new + other.radius + radius:
            spots += crossings(other.x, other.y, other.radius + radius, new.x, new.y, near_new)
    slack = CLEAR * wall.radius
    near = [
        (circle.x, circle.y, (circle.radius + radius - slack) ** 2)
        for circle in everything or beside
        if hypot(circle.x - new.x, circle.y - new.y) < circle.radius + radius + near_new
    ]
    return [
        (x, y)
        for x, y in wall.within(radius, spots)
        if all((x - cx) ** 2 + (y - cy) ** 2 >= apart for cx, cy, apart in near)
    ]


def crossings(x1: float, y1: float, r1: float, x2: float, y2: float, r2: float) -> list[Spot]:
    """The two points that lie ``r1`` from one middle and ``r2`` from another; none where there are no such points."""
    across, down = x2 - x1, y2 - y1
    apart = hypot(across, down)
    if not apart or apart > r1 + r2 or apart < abs(r1 - r2):
        return []
    along = (apart * apart + r1 * r1 - r2 * r2) / (2 * apart)
    aside = sqrt(max(r1 * r1 - along * along, 0.0))
    x, y = x1 + along * across / apart, y1 + along * down / apart
    return [
        (x - aside * down / apart, y + aside * across / apart),
        (x + aside * down / apart, y - aside * across / apart),
    ]
