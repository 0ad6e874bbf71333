"""Move: pull points where a raceway bends too often between two of them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from ampleroom.editions.raceways import NIPPLE
from ampleroom.job.edit import AddBox, AddRaceway, Change, PutItem, PutRaceway, PutRun
from ampleroom.job.model import Apart, Box, Clamps, Entry, Raceway, Run, RunRaceway, Through
from ampleroom.job.trade import METAL_RACEWAYS
from ampleroom.quantities import INCHES_PER_FOOT, plural
from ampleroom.record import replace
from ampleroom.remedy.box_in_place import may_be_nonmetallic
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.raceway_parts import plain_feet
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.remedy.stock import StockBox
from ampleroom.rules.raceway.bends import BENDS
from ampleroom.where import NOWHERE

MOST_POINTS = 4
"""More pull points than this nobody puts into one raceway: it is laid another way."""


def pull_point(placed: RacewayInPlace) -> Iterator[Move]:
    """A box wherever the bends so far are as many as may be: the wires pass straight through it. The raceway becomes
    one raceway more for every box. Lengths are shared alike, as nobody has said where along it the bends are; where a
    part would be as short as a nipple none is written.
    """
    if not placed.bends_fail or not placed.is_named:
        return
    most = placed.book[BENDS].most
    stretches = bends_between(placed.raceway.bends, most)
    if not stretches or len(stretches) > MOST_POINTS + 1:
        return
    metal = placed.raceway.kind in METAL_RACEWAYS
    for stocked in placed.stock.boxes:
        if not {"junction", "pull"} & set(stocked.uses) or stocked.mounting == ("old-work",):
            continue
        if not (metal and may_be_nonmetallic(stocked)):
            move = with_boxes(placed, stretches, stocked)
            if move is not None:
                yield move


def bends_between(bends: tuple[int, ...], most: Decimal) -> list[tuple[int, ...]]:
    """The bends of each stretch, as many in one as may be; empty where one bend alone is too much."""
    stretches: list[tuple[int, ...]] = [()]
    for bend in bends:
        if bend > most:
            return []
        if sum(stretches[-1]) + bend > most:
            stretches.append(())
        stretches[-1] += (bend,)
    return stretches


def names_for(placed: RacewayInPlace, number: int) -> tuple[list[str], list[str]] | None:
    """Names no place has for so many boxes, and names for as many raceways more; None where they run out. Boxes are
    named for the raceway, so that the fixes of two raceways go together.
    """
    taken = placed.job.place_names | {raceway.name.casefold() for raceway in placed.job.raceways}
    boxes = [
        name
        for name in (f"{placed.raceway.name}-PB{place}" for place in range(1, 1000))
        if name.casefold() not in taken
    ]
    letters = (placed.raceway.name + letter for letter in "bcdefghijklmnopqrstuvwxyz")
    raceways = [name for name in letters if name.casefold() not in taken]
    return (boxes[:number], raceways[:number]) if min(len(boxes), len(raceways)) >= number else None


def with_boxes(placed: RacewayInPlace, stretches: list[tuple[int, ...]], stocked: StockBox) -> Move | None:
    """The move with one kind of box at every pull point; None where names run out."""
    raceway, number = placed.raceway, len(stretches) - 1
    names = names_for(placed, number)
    if names is None:
        return None
    boxes, more = names
    lengths = shared_length(placed, len(stretches))
    ends = [raceway.ends[0], *boxes, raceway.ends[1]]
    parts = [
        replace(
            raceway,
            name=([raceway.name, *more])[place],
            ends=(ends[place], ends[place + 1]),
            bends=stretch,
            length=lengths[place],
            at=raceway.at if place == 0 else NOWHERE,
        )
        for place, stretch in enumerate(stretches)
    ]
    change: Change = ()
    after = next((box.name for box in placed.job.boxes if box.name in raceway.ends), "")
    after = after or (placed.job.boxes[-1].name if placed.job.boxes else "")
    for place, name in enumerate(boxes):
        change += (AddBox(new_box(name, raceway, stocked, parts[place], parts[place + 1]), after),)
        after = name
    change += (PutRaceway(parts[0], raceway),)
    for before, part in pairwise(parts):
        change += (AddRaceway(part, before.name),)
    change += tuple([PutRun(passing(run, parts, boxes, placed), run) for run in placed.subject.runs])
    change += entry_moved(placed, parts[-1])
    buys = [Buy(stocked.name, Decimal(number), stocked.price)]
    if stocked.cover_price:
        buys.append(Buy(f"blank cover for {stocked.name}", Decimal(number), stocked.cover_price))
    unpriced = ""
    fitting = placed.stock.fitting(raceway.kind, str(raceway.size), "connector")
    if fitting is not None:
        buys.append(Buy(fitting.name, Decimal(2 * number), fitting.price))
    else:
        unpriced = f"{2 * number} {raceway.kind.upper()} {raceway.size} connectors on hand: no price in the stock file"
    total = 0
    details = []
    for name, stretch in zip(boxes, stretches, strict=False):
        total += len(stretch)
        details.append(f"{name} stands after bend {total}, counted from {raceway.ends[0]}.")
    if lengths[0] is not None:
        details.append(f"{plural(len(parts), 'part')} of {plain_feet(lengths[0])} ft each are written: correct them.")
    where = f"after bend {len(stretches[0])}" if number == 1 else f"at {number} places"
    notes = ["a box can be reached there when it is finished"]
    return Move(
        raceway.name,
        f"put {stocked.name} in it {where} as a pull point",
        change,
        tuple(buys),
        number * placed.stock.minutes.pull_box,
        Disturbance.NOTHING,
        (stocked,),
        (*notes, unpriced) if unpriced else tuple(notes),
        details=tuple(details),
    )


def shared_length(placed: RacewayInPlace, number: int) -> list[Decimal | None]:
    """The length of each of so many parts, feet: alike, and together what there is. None where that is not known, or
    where the parts would be so short that they could be filled as nipples.
    """
    length = placed.length
    if length is None:
        return [None] * number
    each = (length / number).quantize(Decimal("0.01"))
    parts = [each] * (number - 1) + [length - each * (number - 1)]
    if min(parts) * INCHES_PER_FOOT <= placed.book[NIPPLE].longest:
        return [None] * number
    return list(parts)


def new_box(name: str, raceway: Raceway, stocked: StockBox, before: Raceway, after: Raceway) -> Box:
    """A box at a pull point, with the raceways in opposite walls where distances are judged."""
    entries = (Entry("left", before.name), Entry("right", after.name)) if "pull" in stocked.uses else ()
    return Box(name, f"pull point in {raceway.name}", items=(stocked.base, Clamps("outside"), *entries))


def passing(run: Run, parts: list[Raceway], boxes: list[str], placed: RacewayInPlace) -> Run:
    """A run of the raceway that passes the new boxes, through one part after another."""
    raceway = placed.raceway
    turned = is_backward(run, raceway, parts[-1].ends[1], placed)
    in_order = list(reversed(parts)) if turned else parts
    passed = list(reversed(boxes)) if turned else boxes
    raceways: list[RunRaceway] = []
    for each in run.raceways:
        if each.name == raceway.name:
            raceways += [RunRaceway(part.name, at=each.at) for part in in_order]
        else:
            raceways.append(each)
    through = (*run.through, *(Through(name) for name in passed))
    return replace(run, raceways=tuple(raceways), through=through)


def is_backward(run: Run, raceway: Raceway, far: str, placed: RacewayInPlace) -> bool:
    """Whether a run comes into the raceway by the end its line names last: after another raceway, or at its first
    stop.
    """
    place = next(index for index, each in enumerate(run.raceways) if each.name == raceway.name)
    before = placed.job.graph.raceways.get(run.raceways[place - 1].name) if place else None
    comes_from = before.ends if before is not None else (run.stops[0].name,)
    return far in comes_from and raceway.ends[0] not in comes_from


def entry_moved(placed: RacewayInPlace, last: Raceway) -> Change:
    """The entry and apart lines of the box at the raceway's far end name the part that comes in there now."""
    steps: Change = ()
    old = placed.raceway.name
    for box in placed.job.boxes:
        if box.name != last.ends[1]:
            continue
        for item in box.items:
            if isinstance(item, Entry) and item.raceway == old:
                steps += (PutItem(box.name, replace(item, raceway=last.name), item),)
            elif isinstance(item, Apart) and old in (item.one, item.other):
                one, other = (last.name if name == old else name for name in (item.one, item.other))
                steps += (PutItem(box.name, replace(item, one=one, other=other), item),)
    return steps
