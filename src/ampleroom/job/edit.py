"""Changes to a job: made to its records, and to the lines of its sheet and no others.

A ``Change`` is a tuple of small steps. ``changed`` gives the job with the steps taken; ``edited`` gives the sheet's
text with only the lines concerned touched, so that reading it again gives the changed job.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from ampleroom.job.model import Box, Circuit, Item, Job, Kind, Raceway, Route, Run, Wireway
from ampleroom.job.passing import with_passed_boxes
from ampleroom.job.sheet import REMARK
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.writer import write_job, written
from ampleroom.record import Record, replace
from ampleroom.where import NOWHERE


class AddItem(Record):
    """A line more under a box."""

    box: str
    new: Item


class AddFirst(Record):
    """Lines more under a box, before those it has: what its kind said, once it has no kind any more."""

    box: str
    new: tuple[Item, ...]


class AddAfter(Record):
    """Lines more under a box, right behind one of its lines."""

    box: str
    new: tuple[Item, ...]
    old: Item


class PutItem(Record):
    """A line under a box in place of another."""

    box: str
    new: Item
    old: Item


class DropItem(Record):
    """A line under a box taken out."""

    box: str
    old: Item


class SetKind(Record):
    """Another kind for a box; an empty name: none."""

    box: str
    kind: Maybe[str]


class SetPlace(Record):
    """Where a box is, in other words; none: it is not said."""

    box: str
    description: str


class AddKind(Record):
    """A kind more, unless the sheet has it already; another one of the same name is a mistake."""

    kind: Kind


class AddBox(Record):
    """A box with its lines, after another one; ``after`` empty: in a job without boxes, at the end of the sheet."""

    new: Box
    after: str


class DropBox(Record):
    """A box with all its lines; runs that end in it are to be changed by steps of their own."""

    box: str


class AddRun(Record):
    """A run more, behind the last one."""

    new: Run


class PutRun(Record):
    """A run in place of another."""

    new: Run
    old: Run


class DropRun(Record):
    """A run taken out."""

    old: Run


class AddRaceway(Record):
    """A raceway more, right behind another one; in the sheet on a line of its own."""

    new: Raceway
    after: str


class PutRaceway(Record):
    """A raceway in place of another."""

    new: Raceway
    old: Raceway


class AddWireway(Record):
    """A wireway or gutter more, right behind another one; in the sheet on a line of its own."""

    new: Wireway
    after: str


class PutWireway(Record):
    """A wireway or gutter in place of another."""

    new: Wireway
    old: Wireway


class PutCircuit(Record):
    """A circuit in place of another."""

    new: Circuit
    old: Circuit


class AddRoute(Record):
    """A route more, right behind another one; in the sheet on a line of its own."""

    new: Route
    after: str


class PutRoute(Record):
    """A route in place of another."""

    new: Route
    old: Route


Step = (
    AddItem
    | AddFirst
    | AddAfter
    | PutItem
    | DropItem
    | SetKind
    | SetPlace
    | AddKind
    | AddBox
    | DropBox
    | AddRun
    | PutRun
    | DropRun
    | AddRaceway
    | PutRaceway
    | AddWireway
    | PutWireway
    | PutCircuit
    | AddRoute
    | PutRoute
)
Change = tuple[Step, ...]


# ---- on the records ------------------------------------------------------------------------------------------------


def changed(job: Job, change: Change) -> Job:
    """The job with every step taken, in order. Its ``sheet`` is still the old text; see ``edited``."""
    for step in change:
        job = _taken(job, step)
    return job


def _taken(job: Job, step: Step) -> Job:
    match step:
        case AddItem(name, new):
            return _with_box(job, name, lambda box: replace(box, items=(*box.items, new)))
        case AddFirst(name, several):
            return _with_box(job, name, lambda box: replace(box, items=(*several, *box.items)))
        case AddAfter(name, several, old):
            return _with_box(job, name, lambda box: replace(box, items=_swapped(box.items, old, (old, *several))))
        case PutItem(name, new, old):
            return _with_box(job, name, lambda box: replace(box, items=_swapped(box.items, old, (new,))))
        case DropItem(name, old):
            return _with_box(job, name, lambda box: replace(box, items=_swapped(box.items, old, ())))
        case SetKind(name, kind):
            return _with_box(job, name, lambda box: replace(box, kind=kind))
        case SetPlace(name, description):
            return _with_box(job, name, lambda box: replace(box, description=description))
        case AddKind(added):
            return job if _is_there(job, added) else replace(job, kinds=(*job.kinds, added))
        case AddBox(box, after):
            at = next((index for index, other in enumerate(job.boxes, 1) if other.name == after), 0)
            return replace(job, boxes=(*job.boxes[:at], box, *job.boxes[at:]))
        case DropBox(name):
            return replace(job, boxes=tuple(box for box in job.boxes if box.name != name))
        case AddRun(run):
            return replace(job, runs=(*job.runs, with_passed_boxes(run, job)))
        case PutRun(run, was):
            return replace(job, runs=_swapped(job.runs, was, (with_passed_boxes(run, job),)))
        case DropRun(run):
            return replace(job, runs=_swapped(job.runs, run, ()))
        case AddRaceway(raceway, after):
            return replace(job, raceways=_behind(job.raceways, after, raceway))
        case PutRaceway(raceway, old_raceway):
            return replace(job, raceways=_swapped(job.raceways, old_raceway, (raceway,)))
        case AddWireway(wireway, after):
            return replace(job, wireways=_behind(job.wireways, after, wireway))
        case PutWireway(wireway, old_wireway):
            return replace(job, wireways=_swapped(job.wireways, old_wireway, (wireway,)))
        case PutCircuit(circuit, old_circuit):
            return replace(job, circuits=_swapped(job.circuits, old_circuit, (circuit,)))
        case AddRoute(route, after):
            return replace(job, routes=_behind(job.routes, after, route))
        case PutRoute(route, old_route):
            return replace(job, routes=_swapped(job.routes, old_route, (route,)))


def _with_box(job: Job, name: str, change: Callable[[Box], Box]) -> Job:
    return replace(job, boxes=tuple([change(box) if box.name == name else box for box in job.boxes]))


def _swapped(records: tuple[Any, ...], old: Any, new: tuple[Any, ...]) -> tuple[Any, ...]:
    at = _place(records, old)
    return (*records[:at], *new, *records[at + 1 :])


def _behind(records: tuple[Any, ...], name: str, new: Any) -> tuple[Any, ...]:
    at = next(index for index, other in enumerate(records, 1) if other.name == name)
    return (*records[:at], new, *records[at:])


def _place(records: Sequence[Any], old: Any) -> int:
    """Where a record stands among its like: the very one, or one that equals it and was written in the same place."""
    for index, record in enumerate(records):
        if record is old:
            return index
    for index, record in enumerate(records):
        if record == old and record.at == old.at:
            return index
    raise LookupError(f"{old} is not there any more")


def _is_there(job: Job, added: Kind) -> bool:
    known = next((kind for kind in job.kinds if kind.name.casefold() == added.name.casefold()), None)
    if known is not None and known.items != added.items:
        raise LookupError(f"there is another kind {added.name}")
    return known is not None


# ---- on the sheet --------------------------------------------------------------------------------------------------


class SheetLine:
    """A line of the sheet, or one put in behind it; no text: it is taken out. Without its line end."""

    __slots__ = ("after", "end", "line_number", "text")

    def __init__(self, line_number: int, text: str | None, end: str | None) -> None:
        self.line_number = line_number
        self.text = text
        self.end = end
        """The end it has in the file; None: it was put in."""
        self.after: list[SheetLine] = []
        """Lines put in behind this one. Those have none themselves."""


class SheetLines:
    """The lines of a sheet, and the line every record stands on: as many, in the same order, as the job has records.

    Lines are taken up one by one as a change touches them: of a large sheet it touches few.
    """

    def __init__(self, job: Job, text: str) -> None:
        self.job = job
        self.raw = text.split("\n")
        self.touched: dict[int, SheetLine] = {0: SheetLine(0, None, "")}
        """By number, from 1. Line 0 stands before all others and is not written."""
        first = self.raw[0]
        self.end = first[len(first.rstrip("\r")) :]
        self.boxes: dict[str, list[SheetLine]] = {}
        """For a box: the line of its name, then one for each of its items."""
        self.kinds = [self.line([kind, *kind.items][-1]) for kind in job.kinds]
        """The last line of every kind."""
        self.runs: list[SheetLine | Run] = list(job.runs)
        """The line of every run; the run itself while nobody asked for its line."""
        self.raceways: list[SheetLine | Raceway] = list(job.raceways)
        """The line of every raceway, in the same way."""
        self.wireways: list[SheetLine | Wireway] = list(job.wireways)
        """The line of every wireway and gutter, in the same way."""
        self.circuits: list[SheetLine | Circuit] = list(job.circuits)
        """The line of every circuit, in the same way."""
        self.routes: list[SheetLine | Route] = list(job.routes)
        """The line of every route, in the same way."""

    def at(self, line_number: int) -> SheetLine:
        """A line of the sheet by its number."""
        line = self.touched.get(line_number)
        if line is None:
            raw = self.raw[line_number - 1]
            text = raw.rstrip("\r")
            line = self.touched[line_number] = SheetLine(line_number, text, raw[len(text) :])
        return line

    def line(self, record: Any) -> SheetLine:
        """The line a record stands on. Raises ``LookupError`` for one that is not in the sheet."""
        line_number: int = record.at.line
        if not line_number:
            raise LookupError(f"{record} is not in the sheet: its text is older than the job")
        return self.at(line_number)

    def run(self, place: int) -> SheetLine:
        """The line of a run by its place among the job's."""
        line = self.runs[place]
        if isinstance(line, Run):
            line = self.runs[place] = self.line(line)
        return line

    def raceway(self, place: int) -> SheetLine:
        """The line of a raceway by its place among the job's."""
        line = self.raceways[place]
        if isinstance(line, Raceway):
            line = self.raceways[place] = self.line(line)
        return line

    def wireway(self, place: int) -> SheetLine:
        """The line of a wireway or gutter by its place among the job's."""
        line = self.wireways[place]
        if isinstance(line, Wireway):
            line = self.wireways[place] = self.line(line)
        return line

    def circuit(self, place: int) -> SheetLine:
        """The line of a circuit by its place among the job's."""
        line = self.circuits[place]
        if isinstance(line, Circuit):
            line = self.circuits[place] = self.line(line)
        return line

    def route(self, place: int) -> SheetLine:
        """The line of a route by its place among the job's."""
        line = self.routes[place]
        if isinstance(line, Route):
            line = self.routes[place] = self.line(line)
        return line

    def box(self, name: str) -> list[SheetLine]:
        """The line of a box's name, then one for each of its items. Raises ``NameUnknown``."""
        if name not in self.boxes:
            box = self.job.box(name)
            self.boxes[name] = [self.line(record) for record in (box, *box.items)]
        return self.boxes[name]

    def apart(self, name: str, records: Sequence[Any], place: int) -> None:
        """Gives the record at a place a line of its own where its line says several things."""
        lines = self.box(name)
        line = lines[place]
        shared = [other for other, known in enumerate(lines) if known is line]
        if len(shared) == 1:
            return
        self.put(line, written(records[shared[0]]))
        new = self.insert(line, *("  " + written(records[other]) for other in shared[1:]))
        for other, alone in zip(shared[1:], new, strict=True):
            lines[other] = alone

    def put(self, line: SheetLine, text: str) -> None:
        """The words of a line exchanged; its indentation and its remark stay."""
        old = line.text or ""
        indent = old[: len(old) - len(old.lstrip())]
        remark = REMARK.search(old)
        line.text = indent + text + ("  " + old[remark.start() :] if remark else "")

    def insert(self, behind: SheetLine, *texts: str) -> list[SheetLine]:
        """Lines put in behind another one."""
        new = [SheetLine(behind.line_number, text, None) for text in texts]
        at = self.rank(behind)
        self.at(behind.line_number).after[at:at] = new
        return new

    def rank(self, line: SheetLine) -> int:
        """0 for a line of the sheet; the first, second ... put in behind it."""
        if line.end is not None:
            return 0
        return next(place for place, other in enumerate(self.at(line.line_number).after, 1) if other is line)

    def last(self, lines: list[SheetLine]) -> SheetLine:
        """The one of them that stands lowest."""
        return max(lines, key=lambda line: (line.line_number, self.rank(line)))

    def text(self) -> str:
        """The sheet as it is now."""
        out: list[str] = []
        written = 0
        last = len(self.raw)
        for line_number in sorted(self.touched):
            out += self.raw[written : max(line_number - 1, 0)]
            line = self.touched[line_number]
            for kept in (line, *line.after):
                if kept.text is not None:
                    out.append(f"{kept.text}{self.end if kept.end is None or line_number == last else kept.end}")
            written = line_number
        out += self.raw[written:last]
        if out:
            out[-1] = out[-1].rstrip("\r") + (self.at(last).end or "")
        return "\n".join(out)


def edited(job: Job, change: Change) -> str:
    """The text of the job's sheet after a change; a job without a sheet is written anew."""
    if job.sheet is None:
        return write_job(changed(job, change))
    mark = "\ufeff" if job.sheet.text.startswith("\ufeff") else ""
    page = SheetLines(job, job.sheet.text.removeprefix("\ufeff"))
    for step in change:
        _write(page, job, step)
        job = _taken(job, step)
    return mark + page.text()


def _write(page: SheetLines, job: Job, step: Step) -> None:
    """One step on the page; ``job`` is as it was before the step."""
    if isinstance(step, AddFirst | PutItem | DropItem | SetKind | SetPlace):
        box = job.box(step.box)
        records = (box, *box.items)
        place = 1 + _place(box.items, step.old) if isinstance(step, PutItem | DropItem) else 0
        page.apart(box.name, records, place)
    match step:
        case AddItem(name, new):
            lines = page.box(name)
            lines += page.insert(page.last(lines), "  " + written(new))
        case AddFirst(name, several):
            lines = page.box(name)
            lines[1:1] = page.insert(lines[0], *("  " + written(item) for item in several))
        case AddAfter(name, several, old):
            lines = page.box(name)
            place = 1 + _place(job.box(name).items, old)
            lines[place + 1 : place + 1] = page.insert(lines[place], *("  " + written(item) for item in several))
        case PutItem(name, new, old):
            page.put(page.box(name)[1 + _place(job.box(name).items, old)], written(new))
        case DropItem(name, old):
            page.box(name).pop(1 + _place(job.box(name).items, old)).text = None
        case SetKind(name, kind):
            page.put(page.box(name)[0], written(replace(job.box(name), kind=kind)))
        case SetPlace(name, description):
            page.put(page.box(name)[0], written(replace(job.box(name), description=description)))
        case AddKind(added):
            if not _is_there(job, added):
                texts = [written(added), *("  " + written(item) for item in added.items)]
                if page.kinds:
                    page.kinds.append(page.insert(page.last(page.kinds), "", *texts)[-1])
                else:
                    first = min([box.at.line for box in page.job.boxes if box.at.line], default=1)
                    page.kinds.append(page.insert(page.at(first - 1), *texts, "")[-2])
        case AddBox(box, after):
            head = page.last(page.box(after)) if after else _last_written(page)
            new_lines = page.insert(head, "", written(box), *("  " + written(item) for item in box.items))
            page.boxes[box.name] = new_lines[1:]
        case DropBox(name):
            for line in page.box(name):
                line.text = None
        case AddRun(run):
            behind = page.run(-1) if page.runs else _last_written(page)
            page.runs += page.insert(behind, written(run))
        case PutRun(run, was):
            page.put(page.run(_place(job.runs, was)), written(run))
        case DropRun(run):
            place = _place(job.runs, run)
            page.run(place).text = None
            del page.runs[place]
        case AddRaceway(raceway, after):
            place = next(place for place, other in enumerate(job.raceways) if other.name == after)
            page.raceways[place + 1 : place + 1] = page.insert(page.raceway(place), written(raceway))
        case PutRaceway(raceway, old_raceway):
            page.put(page.raceway(_place(job.raceways, old_raceway)), written(raceway))
        case AddWireway(wireway, after):
            place = next(place for place, other in enumerate(job.wireways) if other.name == after)
            page.wireways[place + 1 : place + 1] = page.insert(page.wireway(place), written(wireway))
        case PutWireway(wireway, old_wireway):
            page.put(page.wireway(_place(job.wireways, old_wireway)), written(wireway))
        case PutCircuit(circuit, old_circuit):
            page.put(page.circuit(_place(job.circuits, old_circuit)), written(circuit))
        case AddRoute(route, after):
            place = next(place for place, other in enumerate(job.routes) if other.name == after)
            page.routes[place + 1 : place + 1] = page.insert(page.route(place), written(route))
        case PutRoute(route, old_route):
            page.put(page.route(_place(job.routes, old_route)), written(route))


def _last_written(page: SheetLines) -> SheetLine:
    """The last line that says anything, of those the sheet has."""
    for line_number in range(len(page.raw), 0, -1):
        touched = page.touched.get(line_number)
        if touched is not None:
            if touched.after:
                return touched.after[-1]
            if (touched.text or "").strip():
                return touched
        elif page.raw[line_number - 1].strip():
            return page.at(line_number)
    first = page.at(0)
    return first.after[-1] if first.after else first


def written_out(job: Job, box: Box, *swaps: tuple[Item, Item]) -> Change:
    """A box with the lines of its kind under it instead of the kind's name, some of them (old, new) swapped for
    others.
    """
    if not box.kind or box.kind is UNKNOWN:
        return ()
    kind = next((kind for kind in job.kinds if kind.name == box.kind), None)
    if kind is None:  # a sheet half written: its kind is not in it yet
        return ()
    items = tuple(next((new for old, new in swaps if old is item), item) for item in kind.items)
    return (SetKind(box.name, ""), AddFirst(box.name, tuple(replace(item, at=NOWHERE) for item in items)))


def replacing(job: Job, box: Box, old: Item | None, new: Item) -> Change:
    """One line of a box exchanged for another, for this box alone, or added where there is none."""
    if old is None:
        return (AddItem(box.name, new),)
    if any(item is old for item in box.items):
        return (PutItem(box.name, new, old),)
    return written_out(job, box, (old, new))
