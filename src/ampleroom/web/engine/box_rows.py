"""A box as rows that are form, legend and worksheet in one: each kind of cable and device with its count and what it
takes.

The amounts are those of the worksheet, shared out by what each row brings in, so that they add up to the box fill.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from ampleroom.arithmetic import Line
from ampleroom.editions import CodeBook
from ampleroom.job.graph import RunAtBox
from ampleroom.job.model import Box, Clamps, Device, Item, Job, Run
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import count as count_text
from ampleroom.record import replace
from ampleroom.rules.allowance import times_counted
from ampleroom.rules.box.fill.clamps import NAME as CLAMPS
from ampleroom.rules.box.fill.conductors import NAME as CONDUCTORS
from ampleroom.rules.box.fill.conductors import SAYS as HOW_WORDS
from ampleroom.rules.box.fill.devices import NAME as DEVICES
from ampleroom.rules.box.fill.grounds import NAME as GROUNDS
from ampleroom.rules.box.judge.weighing import Side, Weighed
from ampleroom.rules.builder import SpaceBuilder, builder_of
from ampleroom.rules.space import Entering
from ampleroom.web.edits import item_words, run_words
from ampleroom.where import NOWHERE
from ampleroom.words import (
    CABLE_UNKNOWN,
    DEVICE_UNKNOWN,
    FROM_CABLES,
    GROUNDS_TITLE,
    amount_between,
    capital,
    grounds_words,
    wires_words,
)
from ampleroom.worksheet import Worksheet

Row = dict[str, Any]


def box_sides(job: Job, box: Box, book: CodeBook) -> list[dict[str, Any]]:
    """A box, or each side of its barrier: its name, its volume and fill as printed, and its rows."""
    graph = job.graph_at(box.name)
    runs = graph.runs_at.get(box.name, [])
    builder = builder_of(box, graph, book)
    return [side_data(box, builder, index, runs) for index in range(len(builder.sides))]


def side_data(box: Box, builder: SpaceBuilder, side_index: int, runs: Iterable[RunAtBox]) -> dict[str, Any]:
    """One side by its number; the whole box where no barrier divides it."""
    share, items = builder.sides[side_index]
    case = Side(builder, side_index).case
    worst, best = case.worst, case.best
    here = [(run, met) for run, met in runs if share is None or met.space == share.name]
    taken = {CONDUCTORS, DEVICES, CLAMPS, GROUNDS}
    return {
        "side": share.name if share else "",
        "volume": amount_between(worst.sheet.there, best.sheet.there),
        "fill": amount_between(worst.sheet.needed, best.sheet.needed),
        "cables": cable_rows(here, worst, best, builder.book),
        "devices": device_rows(box, items, worst, best),
        "clamps": clamps_row(items, here, worst, best),
        "grounds": grounds_row(worst, best),
        "others": [
            {"title": line.label, "rule": line.rule, "amount": amount_between(line.amount, line.amount)}
            for line in worst.sheet.need
            if line.rule not in taken or (line.rule == CONDUCTORS and not line.label.startswith(ENTERING_WORDS))
        ],
    }


ENTERING_WORDS = tuple(HOW_WORDS.values())
"""How the lines of conductors that come in from outside begin; pigtails have a line of their own."""


def of_rule(worst: Weighed, best: Weighed, rule: str) -> str:
    """What all lines of a rule take together."""
    amounts = [sum((line.amount for line in lines_of(case.sheet, rule)), Decimal(0)) for case in (worst, best)]
    return amount_between(*amounts)


def lines_of(sheet: Worksheet, rule: str) -> list[Line]:
    """The lines of the fill a rule made, in order."""
    return [line for line in sheet.need if line.rule == rule]


# ---- cables --------------------------------------------------------------------------------------------------------


def cable_rows(here: list[RunAtBox], worst: Weighed, best: Weighed, book: CodeBook) -> list[Row]:
    """One row for each kind of cable, with the runs it stands for by their places among those of the box; wires pulled
    singly have one row a run.
    """
    kinds: dict[Any, list[Run]] = {}
    for run, _ in here:
        mine = kinds.setdefault(run.cable if run.cable is not None else id(run), [])
        if not any(run is known for known in mine):
            mine.append(run)
    return [cable_row(runs, worst, best, book) for runs in kinds.values()]


def cable_row(runs: list[Run], worst: Weighed, best: Weighed, book: CodeBook) -> Row:
    """The row of some runs alike in their cable."""
    ours = {id(run) for run in runs}
    counts = [run.count for run in runs]
    entering = [each for each in worst.space.entering if id(each.run) in ours and each.role == "insulated"]
    amounts = [taken_by(case, ours, book) for case in (worst, best)]
    cable = runs[0].cable
    is_unknown = cable is not None and cable.size is UNKNOWN and cable.of == "?"
    return {
        "title": CABLE_UNKNOWN
        if is_unknown
        else run_words(runs[0])
        if cable is not None
        else capital(wire_names(runs)),
        "name": cable.name if cable is not None else "wires",
        "count": "?" if UNKNOWN in counts else sum(each for each in counts if each is not UNKNOWN),
        "detail": "" if is_unknown else wires_words(sizes_in(entering)),
        "amount": amount_between(*amounts),
        "lines": sorted({run.at.line for run in runs}),
    }


def wire_names(runs: list[Run]) -> str:
    """Wires pulled singly: ``wires 3 x #12``."""
    return "wires " + ", ".join(
        f"{'?' if each.count is UNKNOWN else each.count} x {size_text(each.size)}" for each in runs[0].wires[:4]
    )


def sizes_in(entering: list[Entering]) -> list[tuple[str, str]]:
    """How many conductors of each size, thickest first as they come."""
    numbers: dict[str, Decimal] = {}
    for each in entering:
        numbers[each.size] = numbers.get(each.size, Decimal(0)) + each.count
    return [(count_text(count) if count.is_finite() else "?", size_text(size)) for size, count in numbers.items()]


def taken_by(case: Weighed, runs: set[int], book: CodeBook) -> Decimal:
    """What the conductors of some runs take, in in3, each by the allowance the worksheet took for its size."""
    each_of = {line.label: getattr(line, "each", Decimal(0)) for line in lines_of(case.sheet, CONDUCTORS)}
    total = Decimal(0)
    for entering in case.space.entering:
        if id(entering.run) in runs and entering.role == "insulated" and not entering.low_voltage:
            each = each_of.get(f"{HOW_WORDS[entering.how]}, {size_text(entering.size)}", Decimal(0))
            total += entering.count * times_counted(entering.how, book) * each if each else Decimal(0)
    return total


# ---- the rest ------------------------------------------------------------------------------------------------------


def device_rows(box: Box, items: tuple[Item, ...], worst: Weighed, best: Weighed) -> list[Row]:
    """One row for each kind of device, with the indexes of its lines under the box; none of those its kind brings."""
    amounts: dict[int, list[Line]] = {}
    for case in (worst, best):
        for settled, line in zip(case.space.devices, lines_of(case.sheet, DEVICES), strict=False):
            amounts.setdefault(id(settled.device), []).append(line)
    sizes = {id(settled.device): settled.size for settled in worst.space.devices}
    index_of = {id(item): index for index, item in enumerate(box.items)}
    kinds: dict[Device, list[Device]] = {}
    for item in items:
        if isinstance(item, Device):
            kinds.setdefault(replace(item, count=1, at=NOWHERE), []).append(item)
    rows: list[Row] = []
    for device, alike in kinds.items():
        lines = [amounts[id(item)] for item in alike if id(item) in amounts]
        taken = [sum((pair[end].amount for pair in lines), Decimal(0)) for end in (0, -1)]
        counted = sum((getattr(pair[0], "count", Decimal(0)) for pair in lines), Decimal(0))
        size = sizes.get(id(alike[0]), "")
        rows.append(
            {
                "title": DEVICE_UNKNOWN if device.names == ("device",) else capital(item_words(device)),
                "name": item_words(device),
                "size": "?" if device.size is UNKNOWN else device.size,
                "count": sum(item.count for item in alike),
                "detail": device_detail(device, counted, size, has_cables=bool(worst.space.entering)),
                "amount": amount_between(*taken),
                "indexes": [index_of[id(item)] for item in alike if id(item) in index_of],
            }
        )
    return rows


def device_detail(device: Device, counted: Decimal, size: str, has_cables: bool) -> str:
    """``2 × #12, from the cables``: the wires a device counts as, and where their size comes from."""
    if not counted or not size:
        return device.label
    words = wires_words([(count_text(counted), size_text(size))])
    if device.size is UNKNOWN:
        words = f"{words}, {FROM_CABLES}" if has_cables else ""
    return ", ".join(filter(None, (words, device.label)))


def clamps_row(items: tuple[Item, ...], here: list[RunAtBox], worst: Weighed, best: Weighed) -> Row | None:
    """Where the clamps are; None where nothing is said of them and all that comes in are wires in raceways, which need
    none.
    """
    is_written = any(isinstance(item, Clamps) for item in items)
    if here and not is_written and all(run.cable is None for run, _ in here):
        return None
    return {"way": clamps_way(items), "amount": of_rule(worst, best, CLAMPS)}


def clamps_way(items: tuple[Item, ...]) -> str:
    """Where the clamps are, as the sheet says it; ``?`` for not known, empty where it says nothing."""
    written = next((item for item in items if isinstance(item, Clamps)), None)
    if written is None:
        return ""
    return "?" if written.way is UNKNOWN else str(written.way)


def grounds_row(worst: Weighed, best: Weighed) -> Row:
    """All grounds together: they come with the cables."""
    grounds = [each.count for each in worst.space.entering if each.role != "insulated"]
    counted = sum(grounds, Decimal(0))
    detail = grounds_words(count_text(counted) if counted.is_finite() else "?") if counted else ""
    return {"title": GROUNDS_TITLE, "detail": detail, "amount": of_rule(worst, best, GROUNDS)}
