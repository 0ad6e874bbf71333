"""Changes to a job: made to its records, and to the lines of its sheet and no others.

A ``Change`` is a tuple of small steps. ``changed`` gives the job with the steps taken; ``edited`` gives the sheet's text with
only the lines concerned touched, so that reading it again gives the changed job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from ampleroom.job.model import Box, Item, Job, Kind, Run
from ampleroom.job.sheet import REMARK
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.writer import write_job, written
from ampleroom.where import NOWHERE


@dataclass(frozen=True, slots=True)
class AddItem:
    """A line more under a box."""

    box: str
    new: Item


@dataclass(frozen=True, slots=True)
class PutItem:
    """A line under a box in place of another."""

    box: str
    new: Item
    old: Item


@dataclass(frozen=True, slots=True)
class DropItem:
    box: str
    old: Item


@dataclass(frozen=True, slots=True)
class SetKind:
    """Another kind for a box; an empty name: none."""

    box: str
    kind: Maybe[str]


@dataclass(frozen=True, slots=True)
class AddKind:
    """A kind the sheet does not have yet."""

    kind: Kind


@dataclass(frozen=True, slots=True)
class AddBox:
    """A box with its lines, after another one."""

    new: Box
    after: str


@dataclass(frozen=True, slots=True)
class AddRun:
    new: Run


@dataclass(frozen=True, slots=True)
class PutRun:
    """A run in place of another."""

    new: Run
    old: Run


@dataclass(frozen=True, slots=True)
class DropRun:
    old: Run


Step = AddItem | PutItem | DropItem | SetKind | AddKind | AddBox | AddRun | PutRun | DropRun
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
        case PutItem(name, new, old):
            return _with_box(job, name, lambda box: replace(box, items=_swapped(box.items, old, (new,))))
        case DropItem(name, old):
            return _with_box(job, name, lambda box: replace(box, items=_swapped(box.items, old, ())))
        case SetKind(name, kind):
            return _with_box(job, name, lambda box: replace(box, kind=kind))
        case AddKind(added):
            known = any(kind.name == added.name for kind in job.kinds)
            return job if known else replace(job, kinds=(*job.kinds, added))
        case AddBox(box, after):
            at = next(number for number, other in enumerate(job.boxes) if other.name == after) + 1
            return replace(job, boxes=(*job.boxes[:at], box, *job.boxes[at:]))
        case AddRun(run):
            return replace(job, runs=(*job.runs, run))
        case PutRun(run, was):
            return replace(job, runs=_swapped(job.runs, was, (run,)))
        case DropRun(run):
            return replace(job, runs=_swapped(job.runs, run, ()))


def _with_box(job: Job, name: str, change: Callable[[Box], Box]) -> Job:
    return replace(job, boxes=tuple([change(box) if box.name == name else box for box in job.boxes]))


def _swapped(records: tuple[Any, ...], old: Any, new: tuple[Any, ...]) -> tuple[Any, ...]:
    """The records with one of them (the very one, not one that looks like it) replaced."""
    for number, record in enumerate(records):
        if record is old or (record == old and record.at == old.at):
            return (*records[:number], *new, *records[number + 1 :])
    raise LookupError(f"{old} is not there any more")


# ---- on the sheet --------------------------------------------------------------------------------------------------


@dataclass(slots=True)
class _Page:
    """Lines of a sheet by number, and what becomes of each."""

    lines: list[str]
    instead: dict[int, str | None] = field(default_factory=dict)
    after: dict[int, list[str]] = field(default_factory=dict)

    def put(self, line: int, text: str, was: str) -> None:
        """The words of a line exchanged; its indentation and its remark stay. Line 0: a line put in by an earlier step."""
        if not line:
            self.put_inserted(was, text)
            return
        old = self.instead.get(line) or self.lines[line - 1]
        body = old.rstrip("\r")
        indent = body[: len(body) - len(body.lstrip())]
        remark = REMARK.search(body)
        kept = "  " + body[remark.start() :] if remark else ""
        self.instead[line] = indent + text + kept + old[len(body) :]

    def drop(self, line: int, was: str) -> None:
        if line:
            self.instead[line] = None
        else:
            self.put_inserted(was, None)

    def put_inserted(self, was: str, text: str | None) -> None:
        for texts in self.after.values():
            for number, inserted in enumerate(texts):
                if inserted.strip() == was:
                    texts[number : number + 1] = [] if text is None else [inserted.replace(was, text)]
                    return
        raise LookupError(f"{was!r} is not there any more")

    def insert(self, line: int, texts: Iterable[str]) -> None:
        end = "\r" if any(text.endswith("\r") for text in self.lines[:3]) else ""
        self.after.setdefault(line, []).extend(text + end for text in texts)

    def text(self) -> str:
        out = list(self.after.get(0, ()))
        for number, line in enumerate(self.lines, 1):
            now = self.instead.get(number, line)
            if now is not None:
                out.append(now)
            out += self.after.get(number, ())
        return "\n".join(out)


def edited(job: Job, change: Change) -> str:
    """The text of the job's sheet after a change; a job without a sheet is written anew."""
    if job.sheet is None:
        return write_job(changed(job, change))
    mark = "\ufeff" if job.sheet.text.startswith("\ufeff") else ""
    page = _Page(job.sheet.text.removeprefix("\ufeff").split("\n"))
    was = job
    for step in change:
        _write(page, was, step)
        was = _taken(was, step)
    return mark + page.text()


def _write(page: _Page, job: Job, step: Step) -> None:
    match step:
        case AddItem(name, new):
            page.insert(_last_line(job.box(name)), ["  " + written(new)])
        case PutItem(_, new, old):
            page.put(old.at.line, written(new), written(old))
        case DropItem(_, old):
            page.drop(old.at.line, written(old))
        case SetKind(name, kind):
            box = job.box(name)
            page.put(box.at.line, written(replace(box, kind=kind)), written(box))
        case AddKind(added):
            if not any(known.name == added.name for known in job.kinds):
                page.insert(_before_boxes(job), [written(added), *("  " + written(item) for item in added.items), ""])
        case AddBox(new_box, after):
            lines = ["", written(new_box), *("  " + written(item) for item in new_box.items)]
            page.insert(_last_line(job.box(after)), lines)
        case AddRun(run):
            page.insert(_run_line(page, job), [written(run)])
        case PutRun(run, was):
            page.put(was.at.line, written(run), written(was))
        case DropRun(run):
            page.drop(run.at.line, written(run))


def _last_line(box: Box) -> int:
    """The last line that describes a box."""
    return max([box.at.line, *(item.at.line for item in box.items)])


def _before_boxes(job: Job) -> int:
    """The line before the first box or kind."""
    places: tuple[Kind | Box, ...] = (*job.kinds, *job.boxes)
    heads = [place.at.line for place in places if place.at.line]
    return max(0, min(heads, default=1) - 1)


def _run_line(page: _Page, job: Job) -> int:
    """The line of the last run, or the last line that says anything."""
    runs = [run.at.line for run in job.runs if run.at.line]
    if runs:
        return max(runs)
    return max((number for number, line in enumerate(page.lines, 1) if line.strip()), default=0)


def written_out(job: Job, box: Box, swap: dict[Item, Item] | None = None) -> Change:
    """A box with the lines of its kind under it instead of the kind's name, some of them swapped for others."""
    if not box.kind or box.kind is UNKNOWN:
        return ()
    kind = next(kind for kind in job.kinds if kind.name == box.kind)
    items = [(swap or {}).get(item, item) for item in kind.items]
    return (SetKind(box.name, ""), *(AddItem(box.name, replace(item, at=NOWHERE)) for item in items))


def replacing(job: Job, box: Box, old: Item | None, new: Item) -> Change:
    """One line of a box exchanged for another, for this box alone, or added where there is none."""
    if old is None:
        return (AddItem(box.name, new),)
    if any(item is old for item in box.items):
        return (PutItem(box.name, new, old),)
    return written_out(job, box, {old: new})
