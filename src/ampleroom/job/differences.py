"""What differs between two texts of a sheet: by lines, each known by the box it stands under, and in a sentence.

Lines are compared with the place they belong to, so that ``clamps inside`` under J1 is never taken for that under J2.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence
from difflib import SequenceMatcher
from typing import Any, TypeVar

from ampleroom.job.again import Reading, alike, line_of, lines_alike
from ampleroom.job.model import Box, Kind, Run, SpaceShare
from ampleroom.job.sheet import without_remark, words_of
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.writer import written
from ampleroom.record import Record, TupleRecord, once
from ampleroom.words import number_word

MOST_COMPARED = 40_000_000
"""Where two stretches have more pairs of lines than this, they are taken as one change: comparing them would take
minutes."""
MOST_TOLD = 5
"""So many changes are told one by one."""


class Token(TupleRecord):
    """A line of a sheet with the place it belongs to: ``("j1", "  clamps inside")``. Heads and runs belong to none."""

    owner: str
    text: str


class Hunk(TupleRecord):
    """Lines ``start`` to ``end`` of the older text, which the lines ``new_start`` to ``new_end`` replace; from 0."""

    start: int
    end: int
    new_start: int
    new_end: int

    @property
    def is_insertion(self) -> bool:
        """Whether nothing of the older text goes."""
        return self.start == self.end


class PlacedText(Record):
    """A sheet's text as read, and where each of its lines belongs."""

    reading: Reading

    def run_on(self, number: int) -> Run | None:
        """The run on the line of this number, from 0."""
        return on_line(self.reading.job.runs, number + 1)

    def is_head(self, number: int) -> bool:
        """Whether the line of this number, from 0, ends the lines of the box above."""
        closers = self.reading.closers
        place = bisect_right(closers, number + 1)
        return place > 0 and closers[place - 1] == number + 1

    def head_name(self, line: int) -> str:
        """The name a head gives, by its line from 1: ``J1``."""
        place = self.place_on(line)
        return place.name if place else " ".join(words_of(self.reading.lines[line - 1])[:2])

    def place_on(self, line: int) -> Box | Kind | None:
        """The box or kind whose name stands on a line, from 1."""
        job = self.reading.job
        return on_line(job.boxes, line) or on_line(job.kinds, line)

    @once
    def heads(self) -> dict[int, str]:
        """Every line that ends the lines of the box above, by its number from 0, with the name it gives: ``J1``."""
        count = len(self.reading.lines)
        return {line - 1: self.head_name(line) for line in self.reading.closers if 0 < line <= count}

    @once
    def tokens(self) -> list[Token]:
        """Every line with the place it belongs to."""
        job = self.reading.job
        alone = {record.at.line - 1 for record in (*job.runs, *job.notes)}
        sides = {
            item.at.line - 1: item.name
            for place in (*job.boxes, *job.kinds)
            for item in place.items
            if isinstance(item, SpaceShare)
        }
        tokens = []
        owner = box = ""
        for number, text in enumerate(self.reading.lines):
            if number in self.heads:
                owner = box = self.heads[number].casefold()
                tokens.append(Token("", text))
            elif number in alone:
                tokens.append(Token("", text))
            else:
                if number in sides:
                    owner = f"{box}/{sides[number].casefold()}"
                tokens.append(Token(owner, text))
        return tokens

    def owner_of(self, number: int) -> str:
        """The place the line of this number, from 0, belongs to, as in its token; without making all tokens."""
        if self.is_head(number) or self.run_on(number) or on_line(self.reading.job.notes, number + 1):
            return ""
        closer = bisect_right(self.reading.closers, number + 1)
        if not closer:
            return ""
        head = self.reading.closers[closer - 1]
        box = self.head_name(head).casefold()
        place = self.place_on(head)
        items = place.items if place else ()
        side = next(
            (item.name for item in reversed(items) if isinstance(item, SpaceShare) and item.at.line - 1 <= number), ""
        )
        return f"{box}/{side.casefold()}" if side else box

    def name_of(self, owner: str) -> str:
        """A box or kind as the sheet writes it, by its name in small letters; empty where there is none."""
        box = self.reading.job.box_or_none(owner)
        return box.name if box else self.names.get(owner, "")

    @once
    def names(self) -> dict[str, str]:
        """What has lines under it, as the sheet writes it, by its name in small letters."""
        return {name.casefold(): name for name in self.heads.values()}


R = TypeVar("R", bound=Record)


def on_line(records: Sequence[R], line: int) -> R | None:
    """Of records in the order of the sheet the one on a line, from 1; the last, where several are."""
    place = bisect_right(records, line, key=line_of)
    return records[place - 1] if place and line_of(records[place - 1]) == line else None


def hunks_between(old: Sequence[Token], new: Sequence[Token]) -> list[Hunk]:
    """What was changed from one list of lines to another, in order."""
    first, last = alike_ends(old, new)
    middle, new_middle = old[first : len(old) - last], new[first : len(new) - last]
    if not middle and not new_middle:
        return []
    if len(middle) * len(new_middle) > MOST_COMPARED:
        return [Hunk(first, len(old) - last, first, len(new) - last)]
    matcher = SequenceMatcher(None, middle, new_middle, autojunk=False)
    return [
        Hunk(start + first, end + first, new_start + first, new_end + first)
        for kind, start, end, new_start, new_end in matcher.get_opcodes()
        if kind != "equal"
    ]


def stretch_between(old: PlacedText, new: PlacedText) -> list[Hunk]:
    """The one stretch in which two texts differ, from the first line to the last; none where they are the same."""
    first, last = lines_alike(old.reading.text, new.reading.text)
    hunk = Hunk(first, len(old.reading.lines) - last, first, len(new.reading.lines) - last)
    return [] if hunk.is_insertion and hunk.new_start == hunk.new_end else [hunk]


def alike_ends(old: Sequence[Any], new: Sequence[Any]) -> tuple[int, int]:
    """How many are the same at the start of two lists, and how many of the rest at their end."""
    first = alike(old, new)
    return first, min(alike(old[::-1], new[::-1]), min(len(old), len(new)) - first)


def difference_text(old: PlacedText, new: PlacedText, hunks: Iterable[Hunk] | None = None) -> str:
    """What was changed, as one sentence: ``one 12/2 nm-b more in K1; J1 clamps inside``. Of all hunks, or of these.

    Empty where nothing was.
    """
    found = stretch_between(old, new) if hunks is None else list(hunks)
    if not found:
        return ""
    told = differences(old, new, found) or ["empty lines or remarks"]
    more = len(told) - MOST_TOLD
    return "; ".join(told[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")


def differences(old: PlacedText, new: PlacedText, hunks: Iterable[Hunk]) -> list[str]:
    """Each change in a few words; nothing for empty lines and remarks."""
    gone = [number for hunk in hunks for number in range(hunk.start, hunk.end)]
    come = [number for hunk in hunks for number in range(hunk.new_start, hunk.new_end)]
    told = heads_told(old, new, gone, come)
    told += runs_told(runs_on(old, gone), runs_on(new, come))
    return told + lines_told(old, new, gone, come)


def runs_on(text: PlacedText, numbers: Iterable[int]) -> list[Run]:
    """The runs on lines of these numbers."""
    return [run for run in map(text.run_on, numbers) if run is not None]


def heads_told(old: PlacedText, new: PlacedText, gone: list[int], come: list[int]) -> list[str]:
    """Boxes and kinds that came, went, or were described otherwise."""
    was, now = (
        {box.name: number for number in numbers if (box := on_line(text.reading.job.boxes, number + 1))}
        for text, numbers in ((old, gone), (new, come))
    )
    told = [f"box {name} taken out" for name in was if name not in now]
    for name, number in now.items():
        if name not in was:
            told.append(f"box {name} added")
        elif old.reading.lines[was[name]].split() != new.reading.lines[number].split():
            told.append(plain(new.reading.lines[number]))
    return told


def runs_told(gone: Sequence[Run], come: Sequence[Run]) -> list[str]:
    """Cables and pulls of wires that came, went, or are described otherwise."""
    gone, come = without_common(gone, come)
    if len(gone) == len(come) == 1 and gone[0].count == come[0].count and cable_of(gone[0]) == cable_of(come[0]):
        return [f"{cable_of(gone[0])} {where(gone[0])}: now {written(come[0]).removeprefix('run ')}"]
    net: Counter[tuple[str, str]] = Counter()
    for sign, runs in ((-1, gone), (1, come)):
        for run in runs:
            net[cable_of(run), where(run)] += sign * (1 if run.count is UNKNOWN else run.count)
    told = [
        f"{number_word(abs(number))} {cable} {'more' if number > 0 else 'fewer'} {place}"
        for (cable, place), number in net.items()
        if number
    ]
    return told or [f"now {written(run)}" for run in come]


def without_common(gone: Sequence[Run], come: Sequence[Run]) -> tuple[list[Run], list[Run]]:
    """The runs of both that the other does not have, told by what is written of them."""
    common = Counter(map(written, gone)) & Counter(map(written, come))
    kept = []
    for runs in (gone, come):
        still = Counter(common)
        rest = []
        for run in runs:
            text = written(run)
            if still[text]:
                still[text] -= 1
            else:
                rest.append(run)
        kept.append(rest)
    return kept[0], kept[1]


def cable_of(run: Run) -> str:
    """The cable of a run by its name; ``pull of wires`` where there is none."""
    return run.cable.name if run.cable else "pull of wires"


def where(run: Run) -> str:
    """``in K1``, or ``from K1 to J2``; the places as the sheet writes them."""
    known = [str(stop.name) for stop in run.stops if stop.name is not UNKNOWN]
    return (
        f"from {known[0]} to {' and '.join(known[1:])}"
        if len(known) > 1
        else f"in {known[0]}"
        if known
        else "somewhere"
    )


def lines_told(old: PlacedText, new: PlacedText, gone: Iterable[int], come: Iterable[int]) -> list[str]:
    """Lines under a box, and all other lines but heads of boxes and runs, that came, went or were written anew."""
    was, now = lines_by_owner(old, gone), lines_by_owner(new, come)
    told = []
    for owner in dict.fromkeys((*was, *now)):
        if owner and not (old.name_of(owner.partition("/")[0]) and new.name_of(owner.partition("/")[0])):
            continue  # with a box that came or went
        left, right = Counter(was.get(owner, ())), Counter(now.get(owner, ()))
        taken, added = list((left - right).elements()), list((right - left).elements())
        box, _, side = owner.partition("/")
        place = f"{new.name_of(box) or box}{f' {side}' if side else ''}"
        for text, fresh in pairs_by_statement(taken, added):
            if fresh and (text or not owner):
                told.append(f"{place} {fresh}" if owner else fresh)
            elif fresh:
                told.append(f"{fresh} added in {place}")
            else:
                told.append(f"{text} taken out of {place}" if owner else f"'{text}' taken out")
    return told


def lines_by_owner(text: PlacedText, numbers: Iterable[int]) -> dict[str, list[str]]:
    """Of these lines those that say something and are neither runs nor heads of boxes, by the place they belong to."""
    boxes = text.reading.job.boxes
    found: dict[str, list[str]] = {}
    for number in numbers:
        said = plain(text.reading.lines[number])
        if said and text.run_on(number) is None and on_line(boxes, number + 1) is None:
            found.setdefault(text.owner_of(number), []).append(said)
    return found


def pairs_by_statement(gone: list[str], come: list[str]) -> list[tuple[str, str]]:
    """What went with what came in its place: lines of one first word, and the only two that are left."""
    pairs = []
    rest = list(come)
    for text in gone:
        match = next((fresh for fresh in rest if fresh.split()[0] == text.split()[0]), "")
        if match:
            rest.remove(match)
        pairs.append((text, match))
    if len(rest) == 1 and [fresh for _, fresh in pairs].count("") == 1:
        pairs = [(text, fresh or rest[0]) for text, fresh in pairs]
        rest = []
    return pairs + [("", fresh) for fresh in rest]


def plain(raw: str) -> str:
    """A line without its remark and with single spaces."""
    return " ".join(without_remark(raw).split())
