"""The smallest pull box for what is pulled through one, and where each raceway comes in."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.facts import Assumption
from ampleroom.job.model import Box, Job
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.report import decimal_json
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.pull_box.distances import Wall
from ampleroom.rules.box.pull_box.entering import MOST_PAIRED, Pulls, large_conductors, pulls_through
from ampleroom.rules.builder import builder_of
from ampleroom.rules.space import Space
from ampleroom.sizing.arrangement import MOST_ENTRIES, Arrangement, NotArranged, smallest_box

FROM: dict[Wall, str] = {"left": "the top", "right": "the top", "top": "the left", "bottom": "the left"}
"""Where the middle of an entry in a side wall is measured from."""


class SmallestPullBox(Record):
    """The smallest box by the code's distances: with the walls as the sheet has them, and with walls chosen."""

    names: tuple[str, ...]
    """The raceways, in the order of an arrangement's walls."""
    as_written: Arrangement
    """Walls the sheet does not have are chosen."""
    chosen: Arrangement | None
    """With every side wall chosen; None where that gives no smaller box, or there are too many raceways to try."""
    has_rows: bool = False
    """Whether the sheet writes several rows in one wall. They count row by row, and stand side by side here."""


def is_pull_box(job: Job, name: str, book: CodeBook) -> bool:
    """Whether a name is that of a box with conductors of 4 AWG and larger."""
    box = job.box_or_none(name)
    return box is not None and any(large_conductors(space, book) for space in spaces_of(box, job, book))


def spaces_of(box: Box, job: Job, book: CodeBook) -> list[Space]:
    """The spaces of one box, facts nobody knows at their worse end."""
    return builder_of(box, job.graph_at(box.name), book).spaces(Assumption(ENDS))


def pulls_of(job: Job, name: str, book: CodeBook) -> Pulls:
    """What is pulled through a box. Raises ``AmpleroomError`` for one with a barrier, and where a raceway is
    missing.
    """
    box = job.box(name)
    spaces = spaces_of(box, job, book)
    if len(spaces) > 1:
        raise AmpleroomError(
            f"{name} has a barrier: each side is a box of its own; write them as two boxes to size them"
        )
    pulled = pulls_through(spaces[0], book)
    if missing_facts := (*pulled.questions, *pulled.row_questions):
        missing = missing_facts[0]
        raise AmpleroomError(f"{name} cannot be sized yet: {missing.question} is not known; {missing.settles}")
    if pulled.too_many_stop:
        raise AmpleroomError(
            f"{name} cannot be sized yet: conductors of more than {MOST_PAIRED} raceways stop there, and the "
            "sheet does not say which are spliced to each other; write each pair as one run that goes on, "
            f"such as: wires P > {name} > Q 3 x #4 thhn in R1, R2"
        )
    if sum(wall is None for wall in pulled.walls) > MOST_ENTRIES:
        raise AmpleroomError(
            f"{name} has more than {MOST_ENTRIES} raceways without a wall: write the walls of some, such as "
            f"'entry {pulled.entries[0].name} left'"
        )
    return pulled


def smallest_pull_box(job: Job, name: str, book: CodeBook) -> SmallestPullBox:
    """The smallest box for what is pulled through one. Raises as ``pulls_of`` does, and where no place is found for the
    entries in the walls they have.
    """
    pulled = pulls_of(job, name, book)
    try:
        as_written = smallest_box(pulled.entries, pulled.pulls, pulled.walls, book)
    except NotArranged:
        raise AmpleroomError(
            f"{name} cannot be sized with the walls as they are written: no place was found for its entries that keeps "
            "their distances; leave out some of its entry lines, and their walls are chosen"
        ) from None
    free: list[Wall | None] = [wall if wall == "rear" else None for wall in pulled.walls]
    chosen = None
    if free != list(pulled.walls) and sum(wall is None for wall in free) <= MOST_ENTRIES:
        tried = smallest_box(pulled.entries, pulled.pulls, free, book)
        chosen = tried if tried.across * tried.down < as_written.across * as_written.down else None
    rows = {
        (wall, entry.row)
        for wall, entry in zip(pulled.walls, pulled.entries, strict=True)
        if wall not in (None, "rear")
    }
    has_rows = len(rows) > len({wall for wall, _ in rows})
    return SmallestPullBox(tuple([entry.name for entry in pulled.entries]), as_written, chosen, has_rows)


# ---- in words and as JSON -------------------------------------------------------------------------------------------


def arrangement_lines(box: Arrangement, names: tuple[str, ...]) -> list[tuple[str, str]]:
    """What a box measures inside and where each raceway comes in: the name of each, and its measure."""
    lines = [("from left to right", inches(box.across)), ("from top to bottom", inches(box.down))]
    if box.deep:
        lines.append(("from the back to the cover", inches(box.deep)))
    for name, wall, center in zip(names, box.walls, box.centers, strict=True):
        where = "in the back" if wall == "rear" else f"{wall} wall, its middle {inches(center)} from {FROM[wall]}"
        lines.append((name, where))
    return lines


def proved_text(box: Arrangement, has_rows: bool = False) -> str:
    """Whether a smaller one is ruled out. ``has_rows``: whether a wall has several rows, here laid side by side."""
    if has_rows:
        return "All raceways of a wall stand side by side here; rows one behind the other may need a smaller box."
    if box.is_proved:
        return "No smaller box keeps these distances."
    return "No smaller box was found that keeps these distances; one by less than half an inch may exist."


def arrangement_json(box: Arrangement, names: tuple[str, ...]) -> dict[str, object]:
    """An arrangement, as ``docs/json.md`` has it; inches."""
    return {
        "across": decimal_json(box.across),
        "down": decimal_json(box.down),
        "deep": decimal_json(box.deep) if box.deep else None,
        "proved": box.is_proved,
        "entries": [
            {"raceway": name, "wall": wall, "center": decimal_json(center) if wall != "rear" else None}
            for name, wall, center in zip(names, box.walls, box.centers, strict=True)
        ],
    }


__all__ = [
    "SmallestPullBox",
    "arrangement_json",
    "arrangement_lines",
    "is_pull_box",
    "proved_text",
    "smallest_pull_box",
]
