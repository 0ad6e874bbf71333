"""Two people changed one job: what each changed, in sentences and lines, and the sheet with both."""

from __future__ import annotations

from typing import Any

from ampleroom.job.differences import PlacedText, difference_text
from ampleroom.job.merging import Merge, Part, Way
from ampleroom.web.engine.request import reading_of, text_of

UNDECIDED = "Choose at each line that both changed"
MISPLACED = "These changes do not fit together: a line would come under another box. Use one side whole"
UNREADABLE = "These changes do not fit together: line {line} could not be read: {message}. Use one side whole"
MOST_LINES = 40
"""So many lines of a change are shown."""


def answer_merge(data: dict[str, Any]) -> dict[str, Any]:
    """What two people made of one sheet, part by part, and the sheet with both.

    ``choose``: ``mine``, ``theirs``, ``both`` or ``neither`` for each part, in order, with commas between; empty where
    nothing is chosen yet.
    """
    texts = [PlacedText(reading_of(text_of(data, key))) for key in ("base", "mine", "theirs")]
    merge = Merge(*texts)
    chosen: dict[int, Way] = {
        number: way
        for number, way in enumerate((data.get("choose") or "").split(","))
        if way in ("mine", "theirs", "both", "neither")
    }
    sheet = merge.together(chosen, reading_of)
    trouble = ""
    if sheet is None:
        undecided = any(
            number not in chosen and part.mine and part.theirs and not merge.is_agreed(part)
            for number, part in enumerate(merge.parts)
        )
        trouble = UNDECIDED if undecided else MISPLACED
    else:
        known = {fault.message for text in texts for fault in text.reading.faults}
        fresh = next((fault for fault in reading_of(sheet).faults if fault.message not in known), None)
        if fresh is not None:
            sheet, trouble = None, UNREADABLE.format(line=fresh.line, message=fresh.message)
    base, mine, theirs = texts
    return {
        "yours": difference_text(base, mine),
        "there": difference_text(base, theirs),
        "parts": [part_data(merge, part) for part in merge.parts],
        "sheet": sheet,
        "trouble": trouble,
    }


def part_data(merge: Merge, part: Part) -> dict[str, Any]:
    """One part: what each side changed in it, its lines on each side, and how it can be decided."""
    yours, there = merge.told(part)
    lines = {
        "before": [token.text for token in merge.base.tokens[part.start : part.end]],
        "mine": [token.text for token in merge.lines(part, "mine")] if part.mine else [],
        "theirs": [token.text for token in merge.lines(part, "theirs")] if part.theirs else [],
    }
    return {
        "yours": yours,
        "there": there,
        "agreed": merge.is_agreed(part),
        "ways": list(merge.ways(part)),
        **{side: shortened(each) for side, each in lines.items()},
    }


def shortened(lines: list[str]) -> list[str]:
    """The first of many lines, and how many more there are."""
    more = len(lines) - MOST_LINES
    return lines if more <= 0 else [*lines[:MOST_LINES], f"… and {more} more lines"]
