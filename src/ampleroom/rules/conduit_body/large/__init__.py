"""Conduit bodies with conductors of 4 AWG and larger."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.editions.raceways import (
    BARE_WIRES,
    BORES,
    CABLE_IN_RACEWAY,
    COMPACT_WIRES,
    INSULATED_WIRES,
    RACEWAY_FILL,
)
from ampleroom.facts import Ends
from ampleroom.job.model import Apart, Base
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, inches, listed
from ampleroom.record import replace
from ampleroom.rules.box.pull_box import SAID, by_distances, spacing_finding, way_findings
from ampleroom.rules.box.pull_box.distances import (
    ANGLE,
    OPPOSITE_COVER,
    SPACING,
    STRAIGHT,
    WAYS,
    Distance,
    Pull,
    PullEntry,
    Spacing,
    Wall,
    Way,
    distances,
    spacings,
)
from ampleroom.rules.box.pull_box.entering import Pulls, large_conductors, trade_inches, unread_sizes
from ampleroom.rules.box.pull_box.marking import INSULATION_READING, MARKING, Coverage, coverage
from ampleroom.rules.fields import LEANS_ON_NONE, SIZES
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, Space, exactly
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "conduit-body-large"
FEW = tuple(map(exactly, (0, 1, 2, 2 + 1)))
ENDS: Ends = {
    **LEANS_ON_NONE,
    **dict.fromkeys((*SIZES, "insulation"), "large"),
    "wires count": (*FEW, NO_LIMIT),
    "run count": (*FEW[1:], NO_LIMIT),
}
"""A marking holds only below the fill of the raceway, and two conductors may fill less of that than three."""
HUBS: dict[str, tuple[Wall, ...]] = {
    "c": ("left", "right"),
    "e": ("left",),
    "lb": ("left", "rear"),
    "ll": ("left", "top"),
    "lr": ("left", "bottom"),
}
"""By which walls the raceways of a body come in, its length lying from left to right. Of another type that is not
told by its name, or several ways lead through it; then its raceways have ``entry`` lines, as those of a pull box."""
HUB_NAMES: dict[Wall, str] = {
    "left": "the end hub",
    "right": "the other end hub",
    "rear": "the back hub",
    "top": "the side hub",
    "bottom": "the side hub",
}


@rule(
    NAME,
    title="Conduit bodies, 4 AWG and larger",
    topic="finding",
    tables=(
        *(PULL_BOX, MARKING, STRAIGHT, ANGLE, SPACING, OPPOSITE_COVER),
        *(RACEWAY_FILL, BORES, INSULATED_WIRES, COMPACT_WIRES, BARE_WIRES, CABLE_IN_RACEWAY),
    ),
    readings=(
        *(INSULATION_READING, "straight-splice", "entry-distance"),
        *("spacing-across-splice", "back-entry-spacing", "fill-column", "small-in-row"),
    ),
    ends=ENDS,
    of_bodies=True,
)
def large_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """A conduit body for #4 and larger is listed and marked with the most conductors it may hold and their largest
    size: `marked for 3 x #4/0 xhhw`. Every conductor counts, a ground too. Since 2017 other conductors may go in if all
    together take no more than the marked ones; before, only the number and size that are marked. The conductors must
    stay below the fill of the raceway.

    Without such a marking it is a pull box: 8 times its trade size long if the conductors go straight through, 6 times
    for a turn or a splice, and as deep behind the back hub of an LB as the thickest conductor bends. Write its length,
    width and depth: `inside 16 x 4 x 4 in`. Of a T, TB, X, LF or an elbow write also by which hub each raceway comes
    in: `entry R1 left`, its length lying from left to right and its cover opposite `rear`.

    Why: A thick conductor pulled around a short corner presses on its insulation, and the cover no longer goes on.
    """
    base = space.base
    if base is None or not space.is_conduit_body:
        return
    large = large_conductors(space, book)
    unread = tuple(unread_facts(space, book))
    if not large:
        if any(unread_sizes(space, book)):
            message = f"{space.subject} may hold conductors of {size_text(book[PULL_BOX].from_size)} or larger: "
            yield finding(space, Verdict.OPEN, f"{message}their size is not known", PULL_BOX.name, book, unread)
        return
    thickest = size_text(max((each.size for each in large), key=RANK.__getitem__))
    marked = coverage(space, book)
    if marked.is_covered and not unread:
        terms = book[MARKING]
        message = f"{space.subject} {marked.text}"
        yield Finding(
            NAME,
            Verdict.PASSES,
            space.subject,
            message,
            terms.cite,
            base.at,
            worst=marked.sheet,
            readings=marked.readings,
            confidence=terms.confidence,
        )
        return
    by_distance = tuple([each._replace(rule=NAME) for each in distance_findings(space, base, large, book)])
    if not unread and all(each.verdict is Verdict.PASSES for each in by_distance):
        yield from by_distance
    elif marked.is_covered is False and not unread:
        for each in by_distance:
            said = f"{space.subject} {marked.text}. By its distances {each.message}"
            readings = tuple(dict.fromkeys((*each.readings, *marked.readings)))
            yield each._replace(message=said, readings=readings) if each is by_distance[0] else each
    else:
        yield open_finding(space, f"holds conductors up to {thickest}", unread, marked, by_distance, book)


def open_finding(
    space: Space,
    holds: str,
    unread: tuple[OpenFact, ...],
    marked: Coverage,
    by_distance: tuple[Finding, ...],
    book: CodeBook,
) -> Finding:
    """A body whose marking decides and is not known, or that holds what nobody read: its distances do not pass it."""
    of_distance = [fact for each in by_distance for fact in each.facts if each.verdict is Verdict.OPEN]
    message = f"{space.subject} {holds} and {marked.text}"
    if any(each.verdict is Verdict.FAILS for each in by_distance):
        message += "; by its inside measures alone it would fail"
        of_distance = []
    facts = tuple(dict.fromkeys((*unread, *marked.facts, *of_distance)))
    readings = tuple(dict.fromkeys((*marked.readings, *(name for each in by_distance for name in each.readings))))
    return finding(space, Verdict.OPEN, message, MARKING.name, book, facts, readings)


def finding(
    space: Space,
    verdict: Verdict,
    message: str,
    table: str,
    book: CodeBook,
    facts: tuple[OpenFact, ...],
    readings: tuple[str, ...] = (),
) -> Finding:
    """A finding of this rule, by the section of its marking or of the size from which on it is asked."""
    terms = book[MARKING] if table == MARKING.name else book[PULL_BOX]
    return Finding(
        NAME,
        verdict,
        space.subject,
        message,
        terms.cite,
        space.box.at,
        facts=facts,
        readings=readings,
        confidence=terms.confidence,
    )


def unread_facts(space: Space, book: CodeBook) -> Iterator[OpenFact]:
    """The sizes nobody read, of wires and of cables. Elsewhere they are taken up to those that have an allowance. A
    ground is taken up to the thickest conductor it runs with.
    """
    yield from unread_sizes(space, book)
    seen: set[int] = set()
    for each in space.entering:
        run = each.run
        if id(run) in seen or run.low_voltage:
            continue
        seen.add(id(run))
        if run.cable is not None:
            is_unread = run.cable.size is UNKNOWN
        else:
            unread = [wires for wires in run.wires if wires.size is UNKNOWN and wires.count != 0]
            is_unread = not run.raceways and any(wires.role == "insulated" for wires in unread)
            is_unread = is_unread or len(unread) == len(run.wires)
        if is_unread:
            settles = "a marking and the fill of the raceway go by it"
            yield OpenFact(f"the size of {each.run_name(space.box.name)}", Decimal(0), settles, run.at)


# ---- by the distances of a pull box ---------------------------------------------------------------------------------


def distance_findings(space: Space, base: Base, large: list[Entering], book: CodeBook) -> Iterator[Finding]:
    """A body as a pull box: its inside measures, and the distance between its hubs. One whose type does not say where
    they are goes by the ``entry`` lines of its raceways.
    """
    pulled = pulls_of(space, base, large)
    if pulled is None:
        yield from by_distances(space, large, (), book)
        return
    needed = distances(pulled.entries, pulled.pulls, book)
    if not base.inside:
        yield unmeasured_finding(space, pulled, needed, book)
        return
    for way in WAYS:
        of_way: tuple[Distance, ...] = tuple([distance for distance in needed if distance.way == way])
        if of_way:
            yield from way_findings(way, of_way, pulled, space, book)
    named = with_raceway_names(pulled, space)
    for spacing in spacings_between(named, book):
        each = spacing_finding(spacing, named, space, book)
        if each.verdict is Verdict.OPEN and named is pulled:  # an apart line needs the names of its raceways
            settles = f"passes with {inches(spacing.inches)} or more; name its raceways and write: apart R1 R2 ... in"
            each = each._replace(facts=tuple([replace(fact, settles=settles) for fact in each.facts]))
        yield each


def spacings_between(pulled: Pulls, book: CodeBook) -> Iterable[Spacing]:
    """The distance between the hubs, once."""
    apart = {(spacing.one, spacing.other): spacing for spacing in spacings(pulled.entries, pulled.pulls, book)}
    return apart.values()


def unmeasured_finding(space: Space, pulled: Pulls, needed: tuple[Distance, ...], book: CodeBook) -> Finding:
    """A body nobody measured: all that it would need inside, in one sentence."""
    least = {way: max(each.inches for each in needed if each.way == way) for way in WAYS if has_way(needed, way)}
    wanted = [f"{inches(length)} {SAID[way]}" for way, length in least.items()]
    wanted += [f"{inches(each.inches)} between its hubs" for each in spacings_between(pulled, book)]
    text = listed(wanted)
    fact = OpenFact(
        f"how long, wide and deep {space.subject} is inside",
        Decimal(0),
        f"passes with {text}; write after its size: inside 16 x 4 x 4 in",
        space.box.at,
    )
    readings = tuple(dict.fromkeys(name for each in needed for name in each.readings))
    message = f"{space.subject} needs {text}, and is not measured"
    return finding(space, Verdict.OPEN, message, PULL_BOX.name, book, (fact,), readings)


def has_way(needed: tuple[Distance, ...], way: Way) -> bool:
    """Whether a distance goes by that dimension."""
    return any(each.way == way for each in needed)


def pulls_of(space: Space, base: Base, large: list[Entering]) -> Pulls | None:
    """The hubs of a body with the trade size of the body, and the pull between them; None for a type whose hubs the
    name does not tell.
    """
    walls = HUBS.get(base.shape)
    if walls is None:
        return None
    thickest = max((each.size for each in large), key=RANK.__getitem__)
    size = trade_inches(base.trade_size)
    entries = tuple([PullEntry(HUB_NAMES[wall], size, wall, 1, thickest) for wall in walls])
    ways = {each.how == "ends" for each in large}
    last = len(walls) - 1
    pulls = tuple([Pull(0, last, is_spliced or not last) for is_spliced in sorted(ways)])
    return Pulls(entries, walls, pulls, (), (), (), (), False)


def with_raceway_names(pulled: Pulls, space: Space) -> Pulls:
    """The same with the names of the raceways, where an ``apart`` line has them or just as many come in as there are
    hubs. Which of them comes in by which hub makes no difference between them.
    """
    names = [(line.one, line.other) for line in space.of(Apart)]
    ending = tuple([raceway.name for raceway in space.raceways if space.box.name in raceway.ends])
    chosen = names[0] if names else ending
    if len(chosen) != len(pulled.entries):
        return pulled
    named = [entry._replace(name=name) for entry, name in zip(pulled.entries, chosen, strict=True)]
    return pulled._replace(entries=tuple(named))
