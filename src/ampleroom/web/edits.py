"""Changes made by a tap, in the words of the page, as changes of a job."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from ampleroom.editions import edition
from ampleroom.errors import AmpleroomError
from ampleroom.fits import run_into
from ampleroom.job.edit import (
    AddAfter,
    AddBox,
    AddFirst,
    AddItem,
    AddRun,
    Change,
    DropBox,
    DropItem,
    DropRun,
    PutItem,
    PutRun,
    SetKind,
    SetPlace,
    changed,
    replacing,
    written_out,
)
from ampleroom.job.model import (
    USUAL_KIND,
    Barrier,
    Base,
    Box,
    Clamps,
    Device,
    Item,
    Job,
    Mounting,
    Part,
    Room,
    Run,
    SpaceShare,
    Stop,
    Through,
)
from ampleroom.job.one_line import read_item
from ampleroom.job.settling import read_run_line
from ampleroom.job.sheet import without_remark
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import Unreadable
from ampleroom.job.writer import written
from ampleroom.record import Record, replace
from ampleroom.web.fields import checked
from ampleroom.web.question_fields import EDIT
from ampleroom.where import NOWHERE
from ampleroom.words import fewer_words, more_words

BYTE_ORDER = "\ufeff"
NAME = re.compile(r"[^\s/>,#?]{1,40}")


class Made(Record):
    """A change, or a whole new text; and the box it is about."""

    change: Change = ()
    box: str = ""
    text: str | None = None
    label: str = ""
    """What undo and the history call it: ``one 12/2 more in K1``."""


class NoEdit(AmpleroomError):
    """A tap that cannot be made into a change."""


def change_for(job: Job, edit: dict[str, Any]) -> Made:
    """The change an edit asks for. Every edit has ``do`` and what that needs."""
    checked(edit, EDIT)
    do = edit["do"]
    twice = {name.casefold() for name in job.twice()}
    if do not in WHOLE_SHEET and (edit.get("box") or "").casefold() in twice:
        raise NoEdit(f"two places are named {edit['box']}; give one of them another name in the sheet first")
    return EDITS[do](job, edit)


def word(edit: dict[str, Any], key: str) -> str:
    """A field that must be there, its spaces made single. Raises ``NoEdit`` where it is missing or blank."""
    value: str = edit.get(key) or ""
    if not value.strip():
        raise NoEdit(f"{key!r} is missing")
    return " ".join(value.split())


def one_line(edit: dict[str, Any], key: str) -> str:
    """Words somebody typed, on one line."""
    return "".join(letter for letter in " ".join((edit.get(key) or "").split()) if letter.isprintable())[:200]


def free_text(edit: dict[str, Any], key: str) -> str:
    """Words somebody typed, on one line and none of them a remark."""
    return re.sub(r"(?:^|(?<=\s))#(?![\d?])", "no.", one_line(edit, key))[:200]


def index_of(edit: dict[str, Any], count: int) -> int:
    """The index of a line, from 0 to under ``count``. Raises ``NoEdit`` where there is no such line."""
    value: int | None = edit.get("index")
    if value is None or not 0 <= value < count:
        raise NoEdit("that line is not there any more; look at the box again")
    return value


def item_line(text: str) -> Any:
    """A line under a box, read. Raises ``NoEdit`` with the fault and its remedy where it cannot be read."""
    try:
        return read_item(text)
    except Unreadable as trouble:
        raise NoEdit(trouble.message + (f"; {trouble.hint}" if trouble.hint else "")) from None


# ---- lines under a box ---------------------------------------------------------------------------------------------


def set_base(job: Job, edit: dict[str, Any]) -> Made:
    """What the box is: ``square 4 x 1-1/2``, ``marked 20.3 in3``, ``marked ? in3``; ``way``: its clamps too, where its
    sheet says nothing of them yet.
    """
    box = job.box(word(edit, "box"))
    new = item_line(word(edit, "line"))
    if not isinstance(new, Base):
        raise NoEdit(f"{edit['line']!r} does not say what the box is")
    old = next((item for item in job.items(box) if isinstance(item, Base)), None)
    steps = replacing(job, box, old, new)
    way = free_text(edit, "way")
    if way and not any(isinstance(item, Clamps | SpaceShare) for item in job.items(box)):
        steps += (AddItem(box.name, item_line(f"clamps {way}")),)
    is_unknown = UNKNOWN in (new.volume, new.size)
    return Made(steps, box.name, label=f"{box.name} box not known" if is_unknown else f"{box.name} is {written(new)}")


COMMON = Base | Part | Barrier | Mounting | Room
"""Lines that are of the whole box, wherever they stand under it."""


def shares_of(items: tuple[Item, ...]) -> list[SpaceShare]:
    """The sides of a divided box among its lines, in their order."""
    return [item for item in items if isinstance(item, SpaceShare)]


def side_of(job: Job, box: Box, edit: dict[str, Any]) -> str:
    """The side of a divided box that was chosen, as the sheet spells it; empty where no barrier divides the box."""
    shares = shares_of(job.items(box))
    wanted = free_text(edit, "space")
    matching = next((share.name for share in shares if share.name.casefold() == wanted.casefold()), "")
    if not matching and (shares or wanted):
        names = " or ".join(share.name for share in shares)
        raise NoEdit(
            f"{box.name} has a barrier: which side? 'space' is {names}"
            if shares
            else f"{box.name} has no side {wanted!r}"
        )
    return matching


def by_side(items: tuple[Item, ...]) -> dict[str, list[Item]]:
    """The lines under a box by the side they are written in, each side's own line first; ``""``: those above the
    sides.
    """
    items_by_side: dict[str, list[Item]] = {"": []}
    side = ""
    for item in items:
        if isinstance(item, SpaceShare):
            side = item.name
        items_by_side.setdefault(side, []).append(item)
    return items_by_side


def into_side(job: Job, box: Box, side: str, new: Item) -> Change:
    """A line more on one side of a box; the kind's lines stand under the box first where its barrier is the kind's."""
    if not shares_of(box.items):
        steps = written_out(job, box)
        return (*steps, *into_side(changed(job, steps), changed(job, steps).box(box.name), side, new))
    return (AddAfter(box.name, (new,), by_side(box.items)[side][-1]),)


def set_side_clamps(job: Job, box: Box, side: str, new: Clamps) -> Change:
    """The clamps of one side; a line above the sides holds for all of them, so each gets its own instead."""
    steps = () if shares_of(box.items) and not box.kind else written_out(job, box)
    box = changed(job, steps).box(box.name)
    sides = by_side(box.items)
    of_all = next((item for item in sides[""] if isinstance(item, Clamps)), None)
    if of_all is not None:
        steps += (DropItem(box.name, of_all),)
    for name, items in sides.items():
        clamps = new if name == side else of_all
        if not name or clamps is None:
            continue
        old = next((item for item in items if isinstance(item, Clamps)), None)
        clamps = replace(clamps, at=NOWHERE)
        steps += (AddAfter(box.name, (clamps,), items[-1]) if old is None else PutItem(box.name, clamps, old),)
    return steps


def divide(job: Job, edit: dict[str, Any]) -> Made:
    """A barrier in a box (``way``: metal or plastic) and its sides (``how``: ``left 1/2, right 1/2``). All that is in
    the box and comes into it is on the first side then.
    """
    box = job.box(word(edit, "box"))
    if any(isinstance(item, Barrier | SpaceShare) for item in job.items(box)):
        raise NoEdit(f"{box.name} has a barrier already")
    barrier = item_line(f"barrier {word(edit, 'way')}")
    shares = [item_line(f"space {part.strip()}") for part in word(edit, "how").split(",")]
    if len(shares) < 2 or not all(isinstance(share, SpaceShare) for share in shares):
        raise NoEdit("a barrier needs two sides or more, such as left 1/2, right 1/2")
    steps = written_out(job, box)
    items = changed(job, steps).box(box.name).items
    of_box = next((index for index, item in enumerate(items) if not isinstance(item, COMMON)), len(items))
    head = (barrier, shares[0])
    steps += (AddAfter(box.name, head, items[of_box - 1]) if of_box else AddFirst(box.name, head),)
    steps += tuple(AddItem(box.name, share) for share in shares[1:])
    side = shares[0].name
    for run in job.runs:
        stops = tuple(replace(stop, space=side) if stop.name == box.name else stop for stop in run.stops)
        through = tuple(replace(met, space=side, derived=False) if met.name == box.name else met for met in run.through)
        if stops != run.stops or through != run.through:
            steps += (PutRun(replace(run, stops=stops, through=through), run),)
    return Made(steps, box.name, label=f"barrier in {box.name}")


def remove_barrier(job: Job, edit: dict[str, Any]) -> Made:
    """A box without its barrier: all that was on its sides is in one space then. Where the clamps of the sides differ,
    the ones that take up more room stay.
    """
    box = job.box(word(edit, "box"))
    if not any(isinstance(item, Barrier | SpaceShare) for item in job.items(box)):
        raise NoEdit(f"{box.name} has no barrier")
    steps = written_out(job, box)
    items = changed(job, steps).box(box.name).items
    clamps = [item for item in items if isinstance(item, Clamps)]
    left_out: list[Item] = [item for item in items if isinstance(item, Barrier | SpaceShare)]
    left_out += [item for item in clamps if item is not most_in_the_way(clamps)]
    steps += tuple(DropItem(box.name, item) for item in left_out)
    for run in job.runs:
        stops = tuple(replace(stop, space="") if stop.name == box.name else stop for stop in run.stops)
        through = tuple(replace(met, space="", derived=False) if met.name == box.name else met for met in run.through)
        if stops != run.stops or through != run.through:
            steps += (PutRun(replace(run, stops=stops, through=through), run),)
    return Made(steps, box.name, label=f"no barrier in {box.name}")


def most_in_the_way(clamps: list[Clamps]) -> Clamps | None:
    """Of several clamp lines the one that may take an allowance: inside, else not known, else the first."""
    for way in ("inside", UNKNOWN):
        for item in clamps:
            if item.way == way:
                return item
    return next(iter(clamps), None)


def set_clamps(job: Job, edit: dict[str, Any]) -> Made:
    """The clamps of a box, or of one side of a divided one; ``way`` as in a sheet: inside, outside, tabs, none or ?."""
    box = job.box(word(edit, "box"))
    new = item_line(f"clamps {word(edit, 'way')}")
    side = side_of(job, box, edit)
    label = f"{place_words(box, side)} {clamps_words(new)}"
    if side:
        return Made(set_side_clamps(job, box, side, new), box.name, label=label)
    old = next((item for item in job.items(box) if isinstance(item, Clamps)), None)
    return Made(replacing(job, box, old, new), box.name, label=label)


def place_words(box: Box, side: str) -> str:
    """``J1``, or ``J1 left`` where it is one side of a divided box."""
    return f"{box.name} {side}" if side else box.name


def clamps_words(item: Clamps) -> str:
    """``clamps inside``, ``clamps not known``."""
    return "clamps not known" if item.way is UNKNOWN else f"clamps {item.way}"


def item_words(item: Item) -> str:
    """A line under a box in a few words: a device by its name, anything else as the sheet has it."""
    return " + ".join(item.names) if isinstance(item, Device) else written(item)


def add_item(job: Job, edit: dict[str, Any]) -> Made:
    """A line more; in a divided box on the side chosen, unless it is of the whole box."""
    box = job.box(word(edit, "box"))
    new = item_line(word(edit, "line"))
    if not isinstance(new, COMMON | SpaceShare) and (side := side_of(job, box, edit)):
        return Made(into_side(job, box, side, new), box.name, label=more_words(item_words(new), place_words(box, side)))
    return Made((AddItem(box.name, new),), box.name, label=more_words(item_words(new), box.name))


def put_item(job: Job, edit: dict[str, Any]) -> Made:
    """A line of a box, by its index, written anew."""
    box = job.box(word(edit, "box"))
    old = box.items[index_of(edit, len(box.items))]
    new = item_line(word(edit, "line"))
    return Made((PutItem(box.name, new, old),), box.name, label=f"{item_words(new)} in {box.name}")


def drop_item(job: Job, edit: dict[str, Any]) -> Made:
    """A line of a box, by its index, taken out."""
    box = job.box(word(edit, "box"))
    old = box.items[index_of(edit, len(box.items))]
    label = fewer_words(item_words(old), box.name, getattr(old, "count", 1))
    return Made((DropItem(box.name, old),), box.name, label=label)


def item_count(job: Job, edit: dict[str, Any]) -> Made:
    """So many of a line of a box, by its index; none: the line goes."""
    box = job.box(word(edit, "box"))
    old = box.items[index_of(edit, len(box.items))]
    count = edit.get("count")
    before: int | None = getattr(old, "count", None)
    if before is None or not isinstance(count, int) or not 0 <= count <= 99:
        raise NoEdit("a count is between 0 and 99, of a line that can be there several times")
    if count == 0:
        return drop_item(job, edit)
    new = replace(old, count=count)
    words_of = more_words if count > before else fewer_words
    label = words_of(item_words(new), box.name, abs(count - before))
    return Made((PutItem(box.name, new, old),), box.name, label=label)


def set_device(job: Job, edit: dict[str, Any]) -> Made:
    """A device of a box, by its index, changed: its name (``line``), the largest wire on it (``size``; ``?``: taken
    from the cables) or the side of the barrier it sits on (``space``). What is left out stays.
    """
    box = job.box(word(edit, "box"))
    old = box.items[index_of(edit, len(box.items))]
    if not isinstance(old, Device):
        raise NoEdit("that line is no device; take it out and put another in")
    new = old
    if edit.get("line"):
        read = item_line(word(edit, "line"))
        if not isinstance(read, Device):
            raise NoEdit(f"{edit['line']!r} is no device; write one such as gfci receptacle")
        new = replace(read, count=old.count, size=old.size, label=old.label)
    if edit.get("size"):
        read = item_line(f"device #{word(edit, 'size').removeprefix('#')}")
        new = replace(new, size=read.size)
    label = f"{item_words(new)} in {box.name}"
    if not edit.get("space"):
        return Made((PutItem(box.name, new, old),), box.name, label=label)
    side = side_of(job, box, edit)
    after = replace(box, items=tuple(item for item in box.items if item is not old))
    behind = by_side(after.items).get(side)
    if not behind:
        raise NoEdit(f"the barrier of {box.name} is in its box kind; change it in the sheet")
    steps = (DropItem(box.name, old), AddAfter(box.name, (replace(new, at=NOWHERE),), behind[-1]))
    return Made(steps, box.name, label=f"{item_words(new)} in {place_words(box, side)}")


# ---- runs ----------------------------------------------------------------------------------------------------------


def add_cable(job: Job, edit: dict[str, Any]) -> Made:
    """A cable more into a box, to a place or to where nobody knows."""
    box = job.box(word(edit, "box"))
    side = free_text(edit, "space")
    place = f"{box.name}/{side}" if side else box.name
    if not side and any(isinstance(item, SpaceShare) for item in job.items(box)):
        side = next(item.name for item in job.items(box) if isinstance(item, SpaceShare))
        place = f"{box.name}/{side}"
    run = run_into(job, place, word(edit, "cable"))
    to = free_text(edit, "to")
    if to and to != "?":
        far = next((other.name for other in job.places() if other.name.casefold() == to.casefold()), None)
        if far is None:
            raise NoEdit(f"there is no place {to!r}")
        if far == box.name:
            raise NoEdit("the far end must be another place")
        run = replace(run, stops=(run.stops[0], Stop(far)))
    return Made((AddRun(run),), box.name, label=more_words(run_words(run), place_words(box, side)))


def run_words(run: Run) -> str:
    """A run in a few words: ``12/2``, ``cable not known``, ``wires``."""
    if run.cable is None:
        return "wires"
    if run.cable.size is UNKNOWN and run.cable.of == "?":
        return "cable not known"
    return run.cable.name.removesuffix(f" {USUAL_KIND}")


def drop_run(job: Job, edit: dict[str, Any]) -> Made:
    """A run, by its index in the job, taken out."""
    run = job.runs[index_of(edit, len(job.runs))]
    box = free_text(edit, "box")
    number_of = 1 if run.count is UNKNOWN else run.count
    return Made((DropRun(run),), box, label=fewer_words(run_words(run), box, number_of))


def put_run(job: Job, edit: dict[str, Any]) -> Made:
    """A run written anew, as a line of the sheet."""
    old = job.runs[index_of(edit, len(job.runs))]
    run_line = word(edit, "line")
    try:
        new = read_run_line(run_line, job)
    except Unreadable as trouble:
        raise NoEdit(trouble.message + (f"; {trouble.hint}" if trouble.hint else "")) from None
    return Made((PutRun(new, old),), free_text(edit, "box"), label=f"{run_words(new)} changed")


def run_count(job: Job, edit: dict[str, Any]) -> Made:
    """So many cables alike; none: the run goes. Wires say in their own words how many they are."""
    run = job.runs[index_of(edit, len(job.runs))]
    count = edit.get("count")
    if run.cable is None and count != 0:
        raise NoEdit("wires are counted one by one; change their line in the sheet")
    box = free_text(edit, "box")
    if count == "?":
        return Made((PutRun(replace(run, count=UNKNOWN), run),), box, label=f"how many {run_words(run)} not known")
    if not isinstance(count, int) or not 0 <= count <= 99:
        raise NoEdit("a count is between 0 and 99")
    if count == 0:
        return drop_run(job, edit)
    before = 1 if run.count is UNKNOWN else run.count
    words_of = more_words if count >= before else fewer_words
    label = words_of(run_words(run), box, abs(count - before) or 1)
    return Made((PutRun(replace(run, count=count), run),), box, label=label)


def run_alone(run: Run, edit: dict[str, Any]) -> tuple[Run, Change]:
    """The run an edit is to change, and the steps before: with ``count`` only so many of several alike, set apart
    first.
    """
    count = edit.get("count")
    if not isinstance(count, int) or run.count is UNKNOWN or not 0 < count < run.count:
        return run, ()
    return replace(run, count=count, at=NOWHERE), (PutRun(replace(run, count=run.count - count), run),)


def put_alone(run: Run, steps: Change, new: Run) -> Change:
    """A run changed, or the part of it that was set apart."""
    return (*steps, AddRun(new)) if steps else (PutRun(new, run),)


def run_to(job: Job, edit: dict[str, Any]) -> Made:
    """The far end of a run: a place (``to``), ``?`` for not known, or a new box (``name``, which may be empty, and
    ``at``).
    """
    box = job.box(word(edit, "box"))
    run, steps = run_alone(job.runs[index_of(edit, len(job.runs))], edit)
    before: Change = ()
    if edit.get("name") is not None:
        far = next_name(job) if not one_line(edit, "name") else box_name(job, one_line(edit, "name"))
        before = (AddBox(Box(far, free_text(edit, "at")), job.boxes[-1].name),)
    else:
        to = word(edit, "to")
        far = to if to == "?" else next((p.name for p in job.places() if p.name.casefold() == to.casefold()), "")
    if not far:
        raise NoEdit(f"there is no place {edit['to']!r}; choose one of the list, or a new box")
    if far == box.name:
        raise NoEdit("the far end must be another place")
    others = [index for index, stop in enumerate(run.stops) if stop.name != box.name]
    if not others:
        raise NoEdit("that run ends twice in this box; change its line in the sheet")
    far_index = next((each for each in others if run.stops[each].name is UNKNOWN), others[-1])
    if len(others) > 1 and run.stops[far_index].name is not UNKNOWN:
        raise NoEdit("that run goes on to other places; change its line in the sheet")
    stop = Stop(UNKNOWN if far == "?" else far)
    new = replace(run, stops=tuple(stop if place == far_index else kept for place, kept in enumerate(run.stops)))
    words_to = "to a place not known" if far == "?" else f"to {far}"
    return Made((*before, *put_alone(run, steps, new)), box.name, label=f"{run_words(run)} from {box.name} {words_to}")


def run_detail(job: Job, edit: dict[str, Any]) -> Made:
    """A run's length in feet (``length``: ``38``, or ``?``), its circuit (``circuit``, empty for none), or the side of
    the barrier it comes in on (``space``).
    """
    box = job.box(word(edit, "box"))
    run, steps = run_alone(job.runs[index_of(edit, len(job.runs))], edit)
    new, label = run, f"{run_words(run)} in {box.name}"
    if edit.get("length") is not None:
        text = one_line(edit, "length").removesuffix("ft").strip()
        length = read_length(job, text) if text else None
        new = replace(new, length=length)
        label = f"{run_words(run)} {'length not known' if length is None or length is UNKNOWN else f'{text} ft'}"
    if edit.get("circuit") is not None:
        circuit = one_line(edit, "circuit")
        new = replace(new, circuit=read_circuit(job, circuit) if circuit else "")
        label = f"{run_words(run)} {f'circuit {circuit}' if circuit else 'without a circuit'}"
    if edit.get("space"):
        side = side_of(job, box, edit)
        stops = tuple(replace(stop, space=side) if stop.name == box.name else stop for stop in run.stops)
        through = tuple(replace(met, space=side, derived=False) if met.name == box.name else met for met in run.through)
        new = replace(new, stops=stops, through=through)
        label = f"{run_words(run)} in {place_words(box, side)}"
    return Made(put_alone(run, steps, new), box.name, label=label)


def read_length(job: Job, text: str) -> Maybe[Decimal] | None:
    """A length in feet as the sheet reads it. Raises ``NoEdit`` in the sheet's words."""
    if not re.fullmatch(r"\?|[\d.,/ -]+", text):
        raise NoEdit(f"{text!r} is no length; write feet such as 38, or ? for not known")
    return as_run(job, f"{text} ft").length


def read_circuit(job: Job, text: str) -> str:
    """A circuit's name as the sheet reads it. Raises ``NoEdit`` in the sheet's words."""
    run = as_run(job, f"circuit {text}")
    if replace(run, circuit="") != as_run(job, ""):
        raise NoEdit(f"{text!r} is more than a circuit; write its number or name, such as 7")
    return run.circuit


def as_run(job: Job, words_after: str) -> Run:
    """A run with some words behind it, read as the sheet reads it. Raises ``NoEdit`` in the sheet's words."""
    try:
        return read_run_line(f"run ? > ? 12/2 nm-b {words_after}", job)
    except Unreadable as trouble:
        raise NoEdit(trouble.message + (f"; {trouble.hint}" if trouble.hint else "")) from None


def run_here(job: Job, edit: dict[str, Any]) -> Made:
    """What becomes of a run in a box: it ends, passes straight, is looped, or lands on a terminal on the way."""
    box = job.box(word(edit, "box"))
    run = job.runs[index_of(edit, len(job.runs))]
    how = word(edit, "how")
    slacks = {"passes": "straight", "looped": "loop", "landed": "landed"}
    if how != "ends" and how not in slacks:
        raise NoEdit("'how' must be ends, passes, looped or landed")
    meetings: tuple[Stop | Through, ...] = (*run.stops, *run.through)
    if all(met.name != box.name for met in meetings):
        raise NoEdit(f"that run does not come to {box.name}")
    space = next((met.space for met in meetings if met.name == box.name), "")
    others = tuple(stop for stop in run.stops if stop.name != box.name)
    through = tuple(passed for passed in run.through if passed.name != box.name)
    if how == "ends":
        if any(stop.name == box.name for stop in run.stops):
            return Made((), box.name, label=f"{run_words(run)} ends in {box.name}")
        kept = others if len(others) < 2 or others[-1].name is not UNKNOWN else others[:-1]
        new = replace(run, stops=(*kept, Stop(box.name, space)), through=through)
        return Made((PutRun(new, run),), box.name, label=f"{run_words(run)} ends in {box.name}")
    met = Through(box.name, space, slacks[how])  # type: ignore[arg-type]
    while len(others) < 2:
        others = (*others, Stop(UNKNOWN))
    new = replace(run, stops=others, through=(*through, met))
    return Made((PutRun(new, run),), box.name, label=f"{run_words(run)} passes through {box.name}")


# ---- places and the whole sheet ------------------------------------------------------------------------------------


def add_box(job: Job, edit: dict[str, Any]) -> Made:
    """A new box after the last one, named on from it where no name is given. Raises ``NoEdit`` where its name is taken
    or not one word.
    """
    name = box_name(job, one_line(edit, "name")) if one_line(edit, "name") else next_name(job)
    box = Box(name, free_text(edit, "at"))
    if job.boxes:
        return Made((AddBox(box, job.boxes[-1].name),), name, label=f"new box {name}")
    text = job.sheet.text if job.sheet else ""
    text += "" if not text or text.endswith("\n") else "\n"
    return Made((), name, f"{text}\n{written(box)}\n", f"new box {name}")


def box_name(job: Job, name: str) -> str:
    """The same name, for a new box. Raises ``NoEdit`` where it is taken or not one word."""
    if not NAME.fullmatch(name) or name.lower() in ("at", "for", "x"):
        raise NoEdit("a box's name is one word without / > , # or ?, such as J1")
    if any(place.name.casefold() == name.casefold() for place in job.places()):
        raise NoEdit(f"there is a place {name} already")
    return name


def next_name(job: Job) -> str:
    """A free name that goes on from the last box's: ``J2`` after ``J1``, ``K10`` after ``K9``; ``J1`` for the first
    box.
    """
    last = job.boxes[-1].name if job.boxes else "J0"
    numbered = re.fullmatch(r"(.*?)(\d{1,6})", last)
    stem, suffix, width = (numbered[1], int(numbered[2]), len(numbered[2])) if numbered else (last, 1, 1)
    taken = {place.name.casefold() for place in job.places()}
    while True:
        suffix += 1
        name = f"{stem[: 40 - width]}{suffix:0{width}d}"
        if name.casefold() not in taken:
            return name


def copy_box(job: Job, edit: dict[str, Any]) -> Made:
    """What another box (``name``) has, into one with nothing in it: its lines, and as many cables of each kind. Where
    those come from, how long they are and on which circuit is not known.
    """
    box, other = job.box(word(edit, "box")), job.box(word(edit, "name"))
    if box.items or box.kind or any(box.name in run.place_names for run in job.runs):
        raise NoEdit(f"{box.name} has something in it already; only an empty box can be made like another")
    if other.name == box.name:
        raise NoEdit("that is the same box; choose another")
    steps: Change = (SetKind(box.name, other.kind),) if other.kind else ()
    steps += tuple(AddItem(box.name, replace(item, at=NOWHERE)) for item in other.items)
    runs = [run for run in job.runs if other.name in run.place_names]
    steps += tuple(AddRun(run_like(run, other.name, box.name)) for run in runs)
    return Made(steps, box.name, label=f"{box.name} like {other.name}")


def run_like(run: Run, other: str, name: str) -> Run:
    """A run into a box as one is into another; all else of it is not known."""
    at = next((index for index, stop in enumerate(run.stops) if stop.name == other), None)
    if at is None:
        met = next(passed for passed in run.through if passed.name == other)
        stops: tuple[Stop, ...] = (Stop(UNKNOWN), Stop(UNKNOWN))
        through: tuple[Through, ...] = (replace(met, name=name, at=NOWHERE),)
    else:
        here = Stop(name, run.stops[at].space)
        stops = (Stop(UNKNOWN), here, Stop(UNKNOWN)) if 0 < at < len(run.stops) - 1 else (here, Stop(UNKNOWN))
        through = ()
    bare = {"raceways": (), "routes": (), "length": None, "circuit": "", "label": "", "existing": False}
    return replace(run, stops=stops, through=through, at=NOWHERE, **bare)


def set_at(job: Job, edit: dict[str, Any]) -> Made:
    """Where a box is, in words: ``kitchen, north``; empty takes it out."""
    box = job.box(word(edit, "box"))
    return Made((SetPlace(box.name, free_text(edit, "at")),), box.name, label=f"where {box.name} is")


def drop_box(job: Job, edit: dict[str, Any]) -> Made:
    """A box with its lines; the ends its runs had in it are then not known, and a run with no end left goes."""
    box = job.box(word(edit, "box"))
    steps: Change = ()
    for run in job.runs:
        stops = tuple(Stop(UNKNOWN) if stop.name == box.name else stop for stop in run.stops)
        through = tuple(passed for passed in run.through if passed.name != box.name)
        if all(stop.name is UNKNOWN for stop in stops) and not through:
            steps += (DropRun(run),)
        elif stops != run.stops or through != run.through:
            steps += (PutRun(replace(run, stops=stops, through=through), run),)
    return Made((*steps, DropBox(box.name)), label=f"{box.name} taken out")


def set_title(job: Job, edit: dict[str, Any]) -> Made:
    """The job's name; an empty one takes the line away."""
    return replace(head_line(job, "job", free_text(edit, "title")), label="the job's name")


def set_edition(job: Job, edit: dict[str, Any]) -> Made:
    """The job's code edition. Raises ``AmpleroomError`` for a year that is not offered."""
    year = edit.get("edition")
    if year is None:
        raise NoEdit("'edition' is missing: a year")
    chosen = edition(year).year
    return replace(head_line(job, "edition", str(chosen)), label=f"{chosen} edition")


def head_line(job: Job, key: str, value: str) -> Made:
    """The one line of its kind at the head of the sheet, put in or with its words exchanged; a remark on it stays."""
    text = job.sheet.text if job.sheet else ""
    lines = text.split("\n")
    for index, line in enumerate(lines):
        statement = without_remark(line)
        words = statement.removeprefix(BYTE_ORDER).split(None, 1)
        if words and words[0].lower() == key:
            if not value:
                del lines[index]
            elif len(words) == 2:
                lines[index] = statement[: statement.rindex(words[1])] + value + line[len(statement.rstrip()) :]
            else:
                lines[index] = f"{statement.rstrip()} {value}{line[len(statement.rstrip()) :]}"
            return Made((), "", "\n".join(lines))
    if not value:
        return Made((), "", text)
    mark = BYTE_ORDER if text.startswith(BYTE_ORDER) else ""
    return Made((), "", f"{mark}{key} {value}\n{text.removeprefix(BYTE_ORDER)}")


def set_text(job: Job, edit: dict[str, Any]) -> Made:
    """The whole sheet, as somebody typed it."""
    value = edit.get("text")
    if value is None:
        raise NoEdit("'text' is missing")
    return Made((), free_text(edit, "box"), value.replace("\r\n", "\n"), "the sheet as text")


EDITS: dict[str, Callable[[Job, dict[str, Any]], Made]] = {
    "set-base": set_base,
    "set-clamps": set_clamps,
    "add-item": add_item,
    "divide": divide,
    "remove-barrier": remove_barrier,
    "put-item": put_item,
    "drop-item": drop_item,
    "item-count": item_count,
    "set-device": set_device,
    "add-cable": add_cable,
    "drop-run": drop_run,
    "put-run": put_run,
    "run-count": run_count,
    "run-here": run_here,
    "run-to": run_to,
    "run-detail": run_detail,
    "add-box": add_box,
    "drop-box": drop_box,
    "copy-box": copy_box,
    "set-at": set_at,
    "set-title": set_title,
    "set-edition": set_edition,
    "set-text": set_text,
}

WHOLE_SHEET = {"set-title", "set-edition", "set-text"}
"""Changes that are not of one box, even where they say from which box they were made."""

__all__ = ["EDITS", "Made", "NoEdit", "change_for"]
