"""A question about pulls alone, ``3 in straight, 2 in angle``: the smallest pull box for them, as a sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import ROUND_CEILING
from itertools import product

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.errors import AmpleroomError
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.model import Apart, Base, Box, Entry, Equipment, Job, Raceway, Run, RunRaceway, Stop, Through, Wires
from ampleroom.job.trade import INSULATIONS, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import number_word, size_word
from ampleroom.quantities import inches
from ampleroom.record import TupleRecord
from ampleroom.rules.allowance import is_large
from ampleroom.rules.box.pull_box.distances import OPPOSITE, SIDES, Pull, PullEntry, Wall
from ampleroom.rules.box.pull_box.entering import trade_inches
from ampleroom.rules.raceway.sizes import bore_row
from ampleroom.sizing.arrangement import Arrangement, NotArranged, distances_apart, smallest_box
from ampleroom.sizing.pull_box import arrangement_lines

BOX = "PB1"
ENDS = ("A", "B")
USUAL_KIND = "emt"
MOST_RACEWAYS = 8
MOST_TRIED = 1024
"""So many choices of walls are tried."""
EXAMPLE = "pull box, 3 in straight, 2 in angle"
BACK_EXAMPLE = "pull box, 3 in angle from the back, 4/0"
ABOUT_PULLS = re.compile(
    r"\b(?:straight|angle|u)[ -]pulls?\b|\bpull[ -]?box\b|\b(?:back|rear) entry\b"
    r"|\bjunction box\b(?=.*\b(?:straight|angle)\b)|\bstraight[ -]through\b",
    re.IGNORECASE,
)
"""A question about pulls says so."""
IDLE = frozenset(
    (
        *("pull", "pulls", "box", "pullbox", "raceway", "raceways", "conduit", "conduits", "pipe", "pipes"),
        *("a", "an", "the", "of", "with", "in", "for", "from", "through", "one", "trade", "size", "inch", "inches"),
        *("wire", "wires", "conductor", "conductors", "awg", "entry", "wall", "wide", "long"),
        *(
            "what",
            "which",
            "do",
            "i",
            "need",
            "is",
            "needed",
            "smallest",
            "how",
            "big",
            "must",
            "be",
            "should",
            "junction",
        ),
        *("opposite", "removable", "entering", "entries", "comes", "coming", "at", "its"),
    )
)
"""Words that say nothing more of a pull."""
BACK = ("back", "rear", "cover")
"""Words of an entry in the back, which is opposite the cover."""
WAYS = {"straight": "straight", "angle": "angle", "corner": "angle", "turn": "angle", "u": "u", "u-pull": "u"}
TOKEN = re.compile(r"#?\d+/0|#\d+|\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|[a-z][a-z0-9-]*|\?")


class Asked(TupleRecord):
    """Like pulls of a question: how many, from which trade size to which, and how they go."""

    many: int
    one: str
    other: str
    way: str
    """``straight``, ``angle`` or ``u``"""
    is_back: bool
    wires: Wires | None
    kind: str


def is_about_pulls(typed: str) -> bool:
    """Whether a question is about pulls: ``straight pull``, ``pull box``."""
    return ABOUT_PULLS.search(typed) is not None


def asked_pulls(typed: str, book: CodeBook) -> list[Asked]:
    """The pulls of a question. Raises ``AmpleroomError`` with the part that cannot be read."""
    text = re.sub(r"(\d) +(\d/[248])", r"\1-\2", typed)
    parts = [part.strip() for part in re.split(r"[,;\n]|\band\b|\+", text, flags=re.IGNORECASE)]
    found: list[Asked] = []
    common: Wires | None = None
    for part in filter(None, parts):
        pull, wires = read_part(part, book)
        if pull is not None:
            found.append(pull)
        elif wires is not None:
            common = wires
    if not found:
        raise AmpleroomError(f"which pulls? Write the trade size of each and how it goes, such as: {EXAMPLE}")
    return [pull._replace(wires=pull.wires or common) for pull in found]


def read_part(part: str, book: CodeBook) -> tuple[Asked | None, Wires | None]:
    """One part between commas: a pull, or conductors alone, or words that say nothing."""
    tokens = TOKEN.findall(part.lower().replace('"', " in "))
    ways: list[str] = []
    sizes: list[str] = []
    counts: list[int] = []
    kind, is_back, is_first_back, size, insulation, many_wires = USUAL_KIND, False, False, "", "", 3
    at = 0
    while at < len(tokens):
        token = tokens[at]
        after = tokens[at + 1] if at + 1 < len(tokens) else ""
        thickness = conductor_size(token, after)
        if token in WAYS:
            ways.append(WAYS[token])
        elif token in BACK:
            is_back, is_first_back = True, len(sizes) < len(ENDS)
        elif token in RACEWAY_KINDS:
            kind = token
        elif token in INSULATIONS:
            insulation = token
        elif token.isdigit() and (after == "x" or conductor_size(after, "")):  # 3 x 4/0, 3 #4/0
            counts.append(int(token))
            at += after == "x"
        elif thickness:
            size = thickness
            many_wires = counts.pop() if counts else many_wires
        elif number_word(token) is not None:
            sizes.append(token)
        elif token in ("kcmil", "mcm", "x", "to") or token in IDLE:
            pass
        else:
            raise AmpleroomError(f"in {part!r}: unknown word {token!r}; write such as: {EXAMPLE}")
        at += 1
    wires = Wires(many_wires, size, "insulated", insulation or "thhn") if size else None
    if wires is not None and not is_large(size, book):
        from_size = size_text(book[PULL_BOX].from_size)
        raise AmpleroomError(f"in {part!r}: {size_text(size)} goes by box fill; pulls are sized from {from_size} on")
    if not ways and not sizes and not is_back:
        return None, wires
    if is_back and not set(ways) <= {"angle"}:
        raise AmpleroomError(f"{part!r}: from the back a pull turns to a side wall; write such as: {BACK_EXAMPLE}")
    if is_back:
        ways = ways or ["angle"]
        sizes = sizes[::-1] if is_first_back else sizes  # the one named first is in the back
    if len(ways) != 1:
        trouble = "says no way: write straight, angle or u" if not ways else "says two ways: put a comma between them"
        raise AmpleroomError(f"{part!r} {trouble}, such as: {EXAMPLE}")
    if not 0 < len(sizes) <= len(ENDS):
        raise AmpleroomError(f"in {part!r}: write the trade size of its raceway, such as: {EXAMPLE}")
    for each in sizes:
        if bore_row(kind, each, book) is None:
            raise AmpleroomError(f"in {part!r}: {kind} has no trade size {each}; write one such as 3 in or 1-1/4 in")
    if 0 in counts:
        raise AmpleroomError(f"in {part!r}: there is none; leave it out")
    return Asked(counts[0] if counts else 1, sizes[0], sizes[-1], ways[0], is_back, wires, kind), None


def conductor_size(token: str, after: str) -> str:
    """A conductor size as a question has it: ``4/0``, ``#2``, ``250 kcmil``; empty for any other word."""
    is_size = token.startswith("#") or token.endswith("/0") or (token.isdigit() and len(token) > len("99"))
    found = size_word(token.removeprefix("#")) if is_size or after in ("awg", "kcmil", "mcm") else ""
    return "" if found is UNKNOWN else str(found)


def walls_for(pull: Asked, is_first: bool) -> list[tuple[Wall, Wall]]:
    """The walls by which it may come in and leave. The first pull is turned and mirrored at will."""
    if pull.is_back:
        choices: list[tuple[Wall, Wall]] = [(wall, "rear") for wall in SIDES]
    elif pull.way == "straight":
        choices = [("left", "right"), ("top", "bottom")]
    elif pull.way == "u":
        choices = [(wall, wall) for wall in SIDES]
    else:
        choices = [(one, other) for one in SIDES for other in SIDES if other not in (one, OPPOSITE[one])]
    return choices[:1] if is_first else choices


def smallest_for(pulls: Sequence[Asked], book: CodeBook) -> tuple[Arrangement, tuple[PullEntry, ...], tuple[Pull, ...]]:
    """The smallest box for some pulls, every choice of walls tried. Raises ``AmpleroomError`` for too many."""
    total = len(ENDS) * sum(pull.many for pull in pulls)
    if total > MOST_RACEWAYS:
        raise AmpleroomError(f"a question has up to {MOST_RACEWAYS} raceways; write a sheet for more")
    single = [pull._replace(many=1) for pull in pulls for _ in range(pull.many)]
    entries: list[PullEntry] = []
    for number, pull in enumerate(single):
        thickest = str(pull.wires.size) if pull.wires else book[PULL_BOX].from_size
        for size, name in ((pull.one, f"R{2 * number + 1}"), (pull.other, f"R{2 * number + 2}")):
            entries.append(PullEntry(name, trade_inches(size), "left", 1, thickest))
    between = tuple([Pull(2 * number, 2 * number + 1) for number in range(len(single))])
    choices = [walls_for(pull, number == 0) for number, pull in enumerate(single)]
    best: Arrangement | None = None
    for chosen in every_choice(choices):
        try:
            tried = smallest_box(entries, between, chosen, book)
        except NotArranged:
            continue
        if best is None or (tried.across * tried.down, tried.across + tried.down) < (
            best.across * best.down,
            best.across + best.down,
        ):
            best = tried
    if best is None:
        raise AmpleroomError("no box was found for these pulls: write a sheet, and use size")
    placed = tuple([entry._replace(wall=wall) for entry, wall in zip(entries, best.walls, strict=True)])
    return best, placed, between


def every_choice(choices: list[list[tuple[Wall, Wall]]]) -> Iterator[tuple[Wall, ...]]:
    """The walls of all raceways, in every way. Raises ``AmpleroomError`` where there are too many."""
    total = 1
    for each in choices:
        total *= len(each)
    if total > MOST_TRIED:
        raise AmpleroomError("these pulls can go in too many ways to try in a question: write a sheet, and use size")
    for chosen in product(*choices):
        yield tuple([wall for pair in chosen for wall in pair])


def pull_job(typed: str, edition: int) -> tuple[Job, str, tuple[str, ...]]:
    """The job with the smallest pull box that a question asks for, the box in a sentence, and what was assumed. Raises
    ``AmpleroomError`` for what cannot be read or placed.
    """
    book = CodeBook(edition)
    asked = asked_pulls(typed, book)
    if any(pull.is_back and pull.wires is None for pull in asked):
        raise AmpleroomError(
            "how thick are the conductors? From a back entry to the cover it goes by that: write it too, such as: "
            + BACK_EXAMPLE
        )
    box, entries, pulls = smallest_for(asked, book)
    names = tuple([entry.name for entry in entries])
    single = [pull for pull in asked for _ in range(pull.many)]
    largest = max(entry.size for entry in entries)
    deep = box.deep or (largest + 1).to_integral_value(ROUND_CEILING)
    base = Base("measured", inside=(box.across, box.down, deep), depth=deep)
    lines: tuple[Entry | Apart, ...] = tuple([Entry(entry.wall, entry.name) for entry in entries])
    lines += tuple([Apart(*apart) for apart in distances_apart(entries, pulls, box, book)])
    raceways: list[Raceway] = []
    runs: list[Run] = []
    for number, pull in enumerate(single):
        one, other = names[2 * number], names[2 * number + 1]
        raceways.append(Raceway(one, (ENDS[0], BOX), pull.kind, pull.one))
        raceways.append(Raceway(other, (BOX, ENDS[1]), pull.kind, pull.other))
        wires = pull.wires or Wires(1, book[PULL_BOX].from_size, "insulated", "thhn")
        stops, lies_in = (Stop(ENDS[0]), Stop(ENDS[1])), (RunRaceway(one), RunRaceway(other))
        runs.append(Run(stops, (Through(BOX),), 1, None, (wires,), raceways=lies_in))
    job = Job(
        edition=edition,
        equipment=tuple(map(Equipment, ENDS)),
        boxes=(Box(BOX, items=(base, *lines)),),
        raceways=tuple(raceways),
        runs=tuple(runs),
    )
    told = [f"{label} {measure}" for label, measure in arrangement_lines(box, names)]
    if not box.is_proved:
        told.append("one smaller by less than half an inch may exist")
    assumes = ["without room for locknuts and bushings, which the distances leave out"]
    if not box.deep:
        assumes.append(f"as {inches(deep)} deep, for which there is no code number")
    if any(pull.wires is None for pull in asked):
        size = size_text(book[PULL_BOX].from_size)
        assumes.append(f"for {size} and larger alike: the sheet says one {size}")
    return job, "; ".join(told), tuple(assumes)


__all__ = ["EXAMPLE", "Asked", "asked_pulls", "is_about_pulls", "pull_job", "smallest_for"]
