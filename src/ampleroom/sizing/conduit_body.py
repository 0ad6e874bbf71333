"""What a conduit body must be: its trade size, or for 4 AWG and larger its marking and its inside measures."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.check import check_box
from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.facts import Assumption
from ampleroom.job.model import Base, Box, Job
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import inches
from ampleroom.record import Record, replace
from ampleroom.report import decimal_json
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.pull_box import SAID
from ampleroom.rules.box.pull_box.distances import WAYS, Way, distances, least
from ampleroom.rules.box.pull_box.entering import Pulls, large_conductors, pulls_through
from ampleroom.rules.box.pull_box.marking import MARKING, held_in, least_text
from ampleroom.rules.builder import builder_of
from ampleroom.rules.conduit_body.large import pulls_of, spacings_between
from ampleroom.rules.conduit_body.passing import NAME as PASSING
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.raceway.sizes import bore_rows
from ampleroom.rules.space import Space
from ampleroom.sizing.raceway import SizeOfKind
from ampleroom.worksheet import Verdict

KINDS = ("emt", "imc", "rmc", "pvc-40", "pvc-80")
"""The kinds of raceway that conduit bodies are tried on, besides the one the sheet has."""


class NeededBody(Record):
    """What a conduit body with 4 AWG and larger has to be, by its marking or by its inside measures."""

    conductors: int | None
    """The number a marking has to name at least; None where nobody counted them."""
    size: str
    """The size it has to name at least."""
    area: Decimal | None
    """In2 that the marked conductors take at least where it names others; None before 2017, and where it is not
    known."""
    text: str
    """``3 conductors up to #4/0``"""
    inside: dict[Way, Decimal] | None
    """Inches by which a body without a marking passes; None where neither its type nor an ``entry``
    line tells its hubs."""
    apart: Decimal | None
    """Inches between its hubs; None where nothing turns in it."""


def base_of(job: Job, box: Box) -> Base | None:
    """The line that says what a box is, where that is a conduit body."""
    base = next((item for item in job.items(box) if isinstance(item, Base)), None)
    return base if base is not None and base.form == "conduit body" else None


def is_conduit_body(job: Job, name: str) -> bool:
    """Whether a name is that of a conduit body."""
    box = job.box_or_none(name)
    return box is not None and base_of(job, box) is not None


def space_of(job: Job, name: str, book: CodeBook) -> Space:
    """What a conduit body holds, facts nobody knows at their worse end."""
    box = job.box(name)
    return builder_of(box, job.graph_at(box.name), book).spaces(Assumption(ENDS))[0]


def is_large(job: Job, name: str, book: CodeBook) -> bool:
    """Whether a conduit body has conductors of 4 AWG and larger."""
    return bool(large_conductors(space_of(job, name, book), book))


def needed_body(job: Job, name: str, book: CodeBook) -> NeededBody:
    """What the marking of a body with 4 AWG and larger has to name, and what it measures inside without one."""
    space = space_of(job, name, book)
    held = held_in(space, book)
    total = sum((each.count for each in held), Decimal(0))
    largest = max((each.size for each in held), key=RANK.__getitem__)
    areas = [each.area * each.count for each in held if each.area is not None]
    is_known = len(areas) == len(held) and total.is_finite() and book[MARKING].by_area
    assert space.base is not None
    pulled = pulls_of(space, space.base, large_conductors(space, book)) or pulls_as_written(space, book)
    inside = apart = None
    if pulled is not None:
        needed = distances(pulled.entries, pulled.pulls, book)
        inside = {way: length for way in WAYS if (length := least(needed, way))}
        apart = max((each.inches for each in spacings_between(pulled, book)), default=None)
    return NeededBody(
        int(total) if total.is_finite() else None,
        largest,
        sum(areas, Decimal(0)) if is_known else None,
        least_text(held),
        inside,
        apart,
    )


def pulls_as_written(space: Space, book: CodeBook) -> Pulls | None:
    """The pulls of a body whose type does not say where its hubs are, by its ``entry`` lines; None where one is
    missing.
    """
    pulled = pulls_through(space, book)
    missing = (*pulled.questions, *pulled.wall_questions, *pulled.row_questions, *pulled.row_wall_questions)
    return None if missing or not pulled.entries or pulled.too_many_stop else pulled


def sizes(job: Job, name: str, book: CodeBook) -> list[SizeOfKind]:
    """The smallest trade size for what passes a conduit body, on its own kind of raceway and on others. Raises
    ``AmpleroomError`` for one with splices, which goes by its volume, and for one that is empty.
    """
    box = job.box(name)
    base = base_of(job, box)
    assert base is not None
    space = space_of(job, name, book)
    if not space.entering or holds_splices(space):
        raise AmpleroomError(
            f"{box.name} is not sized by its raceway: nothing passes it, or it holds splices and goes by the "
            "volume marked in it"
        )
    kinds = dict.fromkeys((*([base.raceway] if base.raceway else []), *KINDS))
    return [size_of_kind(job, box, base, kind, book) for kind in kinds if bore_rows(kind, book)]


def size_of_kind(job: Job, box: Box, base: Base, kind: str, book: CodeBook) -> SizeOfKind:
    """The smallest of one kind, each trade size judged as if it were written in the sheet."""
    certain = possible = next_up = ""
    spare = next_spare = None
    others = tuple([item for item in job.items(box) if not isinstance(item, Base)])
    for row in bore_rows(kind, book):
        tried = replace(box, kind="", items=(replace(base, raceway=kind, trade_size=row.size, area=None), *others))
        boxes = tuple([tried if each.name == box.name else each for each in job.boxes])
        findings = check_box(replace(job, boxes=boxes), tried, book).findings
        found = next(each for each in findings if each.rule == PASSING)
        margin = found.worst.margin if found.worst is not None else None
        if certain:
            next_up, next_spare = row.size, margin
            break
        if found.verdict is not Verdict.FAILS and not possible:
            possible = row.size
        if found.verdict is Verdict.PASSES:
            certain, spare = row.size, margin
    return SizeOfKind(kind, certain, possible, next_up, spare, next_spare, False)


# ---- in words and as JSON -------------------------------------------------------------------------------------------


def needed_lines(needed: NeededBody) -> list[tuple[str, str]]:
    """What a body has to be: a label and its measure each."""
    lines = [("listed and marked for", f"{needed.text}, or more")]
    if needed.area is not None:
        lines.append(("or for conductors that take", f"{needed.area} in2, or more"))
    if needed.inside is None:
        return lines
    lines += [(f"or, without a marking, {SAID[way]}", inches(length)) for way, length in needed.inside.items()]
    if needed.apart is not None:
        lines.append(("and between its hubs", inches(needed.apart)))
    return lines


def needed_json(needed: NeededBody) -> dict[str, object]:
    """The same, as ``docs/json.md`` has it."""
    inside: dict[str, object] | None = None
    if needed.inside is not None:
        apart = decimal_json(needed.apart) if needed.apart is not None else None
        inside = {way: decimal_json(needed.inside[way]) if way in needed.inside else None for way in WAYS}
        inside["apart"] = apart
    return {
        "marking": {
            "conductors": needed.conductors,
            "size": size_text(needed.size),
            "area": decimal_json(needed.area) if needed.area is not None else None,
        },
        "inside": inside,
    }
