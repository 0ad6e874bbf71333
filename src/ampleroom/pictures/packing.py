"""Circles packed into a circle: where each of some conductors lies in a raceway, no two overlapping.

Every circle is laid where it touches two others, or one other and the wall, as low as it goes: a heap, as wires lie.
Lengths in any one unit; the middle of the wall is 0, 0, and y points down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import hypot, sqrt

from ampleroom.record import TupleRecord

CLEAR = 1e-9
"""So much of the wall's radius two circles may seem to overlap by, as floats round."""
Spot = tuple[float, float]


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


def packed(wall: float, radii: Sequence[float]) -> Packed:
    """Circles of these radii in a wall of that radius. What does not go in one way is tried another; the way that
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


def laid(wall: float, radii: Sequence[float], order: Sequence[int], rank: Rank) -> Packed:
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
        apart = (2 * radius - CLEAR * wall) ** 2
        free = [(px, py) for px, py in free if (px - x) ** 2 + (py - y) ** 2 >= apart]
        inside.append(new)
        free += touching(radius, new, inside, wall)
    return Packed(tuple(inside), tuple(outside))


def places_for(radius: float, inside: Sequence[Circle], wall: float) -> list[Spot]:
    """Every place where a circle of this radius touches two others, or one and the wall, and overlaps nothing."""
    reach = wall - radius
    if reach < -CLEAR * wall:
        return []
    if not inside:
        return [(0.0, max(reach, 0.0))]
    found: list[Spot] = []
    for number, circle in enumerate(inside):
        found += touching(radius, circle, inside[: number + 1], wall, inside)
    return found


def touching(
    radius: float, new: Circle, beside: Sequence[Circle], wall: float, everything: Sequence[Circle] = ()
) -> list[Spot]:
    """Places where a circle touches ``new`` and one of ``beside``, or ``new`` and the wall, and overlaps none of
    ``everything``, by default ``beside``."""
    reach = wall - radius
    near_new = new.radius + radius
    spots = crossings(0.0, 0.0, reach, new.x, new.y, near_new) if reach > 0 else [(0.0, 0.0)]
    for other in beside:
        if other is not new and hypot(other.x - new.x, other.y - new.y) <= near_new + other.radius + radius:
            spots += crossings(other.x, other.y, other.radius + radius, new.x, new.y, near_new)
    slack = CLEAR * wall
    most = (reach + slack) ** 2
    near = [
        (circle.x, circle.y, (circle.radius + radius - slack) ** 2)
        for circle in everything or beside
        if hypot(circle.x - new.x, circle.y - new.y) < circle.radius + radius + near_new
    ]
    return [
        (x, y)
        for x, y in spots
        if x * x + y * y <= most and all((x - cx) ** 2 + (y - cy) ** 2 >= apart for cx, cy, apart in near)
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
