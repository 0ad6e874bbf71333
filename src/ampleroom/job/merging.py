"""Two changes of one sheet put together: by its lines, against the text both began from.

What only one side changed is taken. What both changed, and where they add the like of one another, is for a person to
choose. A line never comes under another box than it stood under on its own side.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from ampleroom.job.again import Reading
from ampleroom.job.differences import Hunk, PlacedText, Token, cable_of, difference_text, hunks_between, plain
from ampleroom.record import Record, once

Way = Literal["mine", "theirs", "both", "neither"]


class Part(Record):
    """One place where the sides differ from the text both began from: a stretch of its lines, and each side's changes
    in it.
    """

    start: int
    end: int
    mine: tuple[Hunk, ...] = ()
    theirs: tuple[Hunk, ...] = ()


class Merge(Record):
    """A text and what two people made of it; ``base``, ``mine``, ``theirs`` as they were read."""

    base: PlacedText
    mine: PlacedText
    theirs: PlacedText

    @once
    def parts(self) -> tuple[Part, ...]:
        """Where they differ from the base, in its order; changes that touch are one part."""
        parts: list[Part] = []
        for part in sorted(self._single_parts(), key=lambda each: (each.start, each.end, self._begins_with_head(each))):
            while parts and self._touch(parts[-1], part):
                last = parts.pop()
                start, end = min(last.start, part.start), max(last.end, part.end)
                part = Part(start, end, last.mine + part.mine, last.theirs + part.theirs)
            parts.append(part)
        return tuple(parts)

    def _single_parts(self) -> list[Part]:
        """Every change of either side by itself."""
        mine = [Part(hunk.start, hunk.end, mine=(hunk,)) for hunk in hunks_between(self.base.tokens, self.mine.tokens)]
        theirs = hunks_between(self.base.tokens, self.theirs.tokens)
        return mine + [Part(hunk.start, hunk.end, theirs=(hunk,)) for hunk in theirs]

    def _begins_with_head(self, part: Part) -> bool:
        """Whether what comes in begins with the head of a box: what comes under the box before stands before it."""
        text, hunks = (self.mine, part.mine) if part.mine else (self.theirs, part.theirs)
        said = [n for hunk in hunks for n in range(hunk.new_start, hunk.new_end) if plain(text.tokens[n].text)]
        return bool(said) and said[0] in text.heads

    def _touch(self, one: Part, other: Part) -> bool:
        """Whether two parts, the second not before the first, are to be decided together."""
        if one.end > other.start:
            return True
        if one.end < other.start:
            return False
        if one.start < one.end and other.start < other.end:
            return False  # neighboring lines, each replaced: every line is a fact of its own
        if one.start == one.end and other.start == other.end:
            return not self._apart(one, other)
        if one.start == one.end:
            return False  # lines added before some that the other side replaced
        # Lines added right behind some that the other side replaced: a head among those may leave them under another
        # box.
        return any(self.base.is_head(number) for number in range(one.start, one.end))

    def _apart(self, one: Part, other: Part) -> bool:
        """Whether what both sides add at one place is not the like of one another, and can stand there in some
        order.
        """
        mine, theirs = one.mine + other.mine, one.theirs + other.theirs
        if not mine or not theirs:
            return False  # of one side
        added = [
            [(text, number) for hunk in hunks for number in range(hunk.new_start, hunk.new_end)]
            for text, hunks in ((self.mine, mine), (self.theirs, theirs))
        ]
        marks = [{mark for text, number in lines for mark in marks_of(text, number)} for lines in added]
        return not marks[0] & marks[1]

    def ways(self, part: Part) -> tuple[Way, ...]:
        """How a part can be decided."""
        if not part.theirs:
            return ("mine", "neither")
        if not part.mine:
            return ("theirs", "neither")
        if self.is_agreed(part):
            return ("mine",)
        return ("mine", "theirs", "both") if part.start == part.end else ("mine", "theirs")

    def is_agreed(self, part: Part) -> bool:
        """Whether both sides made the same of it; two that only add the same lines may mean two things."""
        if not part.mine or not part.theirs or part.start == part.end:
            return False
        return self.lines(part, "mine") == self.lines(part, "theirs")

    def lines(self, part: Part, way: Way) -> list[Token]:
        """What stands there when it is decided so."""
        if way == "neither":
            return self.base.tokens[part.start : part.end]
        if way == "both":
            return [*self.lines(part, "theirs"), *self.lines(part, "mine")]
        text, hunks = (self.mine, part.mine) if way == "mine" else (self.theirs, part.theirs)
        lines: list[Token] = []
        at = part.start
        for hunk in hunks:
            lines += self.base.tokens[at : hunk.start]
            lines += text.tokens[hunk.new_start : hunk.new_end]
            at = hunk.end
        return lines + self.base.tokens[at : part.end]

    def told(self, part: Part) -> tuple[str, str]:
        """What you changed there, and what was changed there by the other, each as a sentence; empty where nothing
        was.
        """
        return difference_text(self.base, self.mine, part.mine), difference_text(self.base, self.theirs, part.theirs)

    def together(self, chosen: Mapping[int, Way], read: Callable[[str], Reading]) -> str | None:
        """The text with every part decided: as chosen by its number, else what only one side changed taken.

        None while a part that needs a choice has none, or where a line would come under another box than it stood
        under.
        """
        lines: list[Token] = []
        at = 0
        for number, part in enumerate(self.parts):
            ways = self.ways(part)
            way = chosen.get(number) or (ways[0] if not (part.mine and part.theirs) or self.is_agreed(part) else None)
            if way is None or way not in ways:
                return None
            lines += [*self.base.tokens[at : part.start], *self.lines(part, way)]
            at = part.end
        lines += self.base.tokens[at:]
        text = "\n".join(line.text for line in lines)
        return text if PlacedText(read(text)).tokens == lines else None


def marks_of(text: PlacedText, number: int) -> list[tuple[str, ...]]:
    """What a line added by both sides is known by as the same fact: a run by its cable and places, a head by its name,
    a line under a box by that box and its first word. Nothing for empty lines and remarks.
    """
    said = plain(text.tokens[number].text)
    if not said:
        return []
    if run := text.run_on(number):
        return [("run", cable_of(run), *sorted(str(name) for name in run.place_names))]
    if text.is_head(number):
        return [("head", text.head_name(number + 1).casefold())]
    return [(text.tokens[number].owner, said.split()[0])]
