"""What comes into a box by its runs: how many conductors, of what size, and what becomes of them there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_counts import CONDUCTORS
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.job.cables import conductors_of, makeup, sizes_of
from ampleroom.job.graph import RunAtBox
from ampleroom.job.model import Base, Item, Part, Run, Stop, Through, Wires
from ampleroom.job.trade import RANK, THINNEST_GROUND, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.record import replace
from ampleroom.rules.builder.ask import Asker, sizes_between
from ampleroom.rules.reminders.free_conductor import FREE_CONDUCTOR
from ampleroom.rules.runs_at_box import run_name
from ampleroom.rules.space import Count, Entering, How, depth_of, exactly, is_unmeasured

NONE, ONE = exactly(0), exactly(1)


def entering(runs: Iterable[RunAtBox], asker: Asker) -> Iterator[Entering]:
    """Every group of like conductors that comes into one side of a box."""
    arrived: set[int] = set()
    for run, met in runs:
        if met.space != asker.side:
            continue
        onward = id(met) in arrived
        arrived.add(id(met))
        how, readings = becomes(met, asker)
        lands = isinstance(met, Stop) or met.slack != "straight"
        times = alike(run, asker)
        confidence = "two sources"
        if run.cable is not None and (inside := makeup(run.cable)) is not None:
            confidence = inside.confidence
        for part, wires in enumerate(conductors(run, asker)):
            size, leaned = (
                (wires.size, readings) if wires.size is not UNKNOWN else unknown_size(run, part, wires, asker)
            )
            if wires.size is UNKNOWN:
                leaned = (*readings, *leaned)
            elif wires.count is UNKNOWN and run.cable is not None and run.cable.ground is UNKNOWN:
                size, leaned = ground_size(run, str(part), size, size, asker), (*readings, "unknown-ground")
            count = exactly(wires.count) if wires.count is not UNKNOWN else count_in(run, part, wires, asker)
            if count:
                yield Entering(
                    count if times is ONE else times and count * times,  # none of any number is none
                    size,
                    wires.role,
                    how,
                    run,
                    run.low_voltage,
                    leaned,
                    confidence,
                    lands,
                    insulation(wires, part, run, asker) if asker.is_body else wires.insulation,
                    met,
                    onward,
                )


def alike(run: Run, asker: Asker) -> Count:
    """How many such runs there are."""
    if run.count is not UNKNOWN:
        return exactly(run.count)
    name = run.cable.name if run.cable else "wires"
    return asker.ask_count(run, "run count", f"how many {name} there are alike", ONE)


def count_in(run: Run, part: int, wires: Wires, asker: Asker) -> Count:
    """How many of some wires come in, which the sheet does not say; of a cable's ground, whether there is one."""
    if wires.role == "ground" and run.cable is not None:
        text = f"whether {run_name(run, asker.box.name)} has a ground, and its size"
        return asker.ask(run, "ground", text, (NONE, ONE), str(part), names=("no ground", "a ground"))
    return asker.ask_count(run, "wires count", f"how many {size_text(wires.size)} come in", NONE, str(part))


def conductors(run: Run, asker: Asker) -> tuple[Wires, ...]:
    """Every conductor of one run; of a cable of unknown size, what is in one of the size it is taken for."""
    if run.cable is not None and run.cable.size is UNKNOWN:
        taken = run.cable._replace(size=cable_size(run, asker))
        if makeup(taken) is not None:
            return conductors_of(replace(run, cable=taken))
    return conductors_of(run)


def unknown_size(run: Run, part: int, wires: Wires, asker: Asker) -> tuple[str, tuple[str, ...]]:
    """The size of some conductors of a run, which the sheet does not say, and the reading that bounds it."""
    if wires.role != "insulated" and not run.low_voltage and (thickest := thickest_in(run)):
        return ground_size(run, str(part), THINNEST_GROUND, thickest, asker), ("unknown-ground",)
    if run.cable is not None and run.cable.size is UNKNOWN:
        return cable_size(run, asker), ()
    return asker.ask_size(run, "wire size", size_question(run, part, asker), asker.any_size, str(part)), ()


def size_question(run: Run, part: int, asker: Asker) -> str:
    """Which size to find out; of several groups on one line, of which."""
    name = run_name(run, asker.box.name)
    unknown = [index for index, wires in enumerate(conductors_of(run)) if wires.size is UNKNOWN]
    which = f" (group {unknown.index(part) + 1} of {len(unknown)})" if len(unknown) > 1 and part in unknown else ""
    return f"the size of {name}{which}: taken up to #6, as #4 and larger go by pull-box distances"


def cable_size(run: Run, asker: Asker) -> str:
    """The size of a cable, which the sheet does not say: one of those its kind may have, up to the largest that
    counts.
    """
    assert run.cable is not None
    possible = sizes_of(run.cable)
    counted = [size for size in possible if size in asker.book[CONDUCTOR_ROOM].rows] or possible
    sizes = possible[: possible.index(counted[-1]) + 1]
    text = f"the size of {run_name(run, asker.box.name)}: taken up to #6, as #4 and larger go by pull-box distances"
    return asker.ask_size(run, "cable size", text, sizes)


def ground_size(run: Run, part: str, thinnest: str, thickest: str, asker: Asker) -> str:
    """The size of a ground nobody knows, beside conductors of known sizes: what such a circuit can have."""
    is_any = asker.book.reading("unknown-ground") == "any-size"
    sizes = asker.any_size if is_any else sizes_between(thinnest, thickest)
    text = f"the size of the ground of {run_name(run, asker.box.name)}"
    return asker.ask_size(run, "ground size", text, sizes, part)


def insulation(wires: Wires, part: int, run: Run, asker: Asker) -> str:
    """How a conductor in a conduit body is insulated, where its thickness counts: a ground may be bare or not."""
    if wires.role != "ground" or wires.insulation or run.cable is not None:
        return wires.insulation  # a cable counts as one conductor, by its outside
    if wires.color == "bare":
        return "bare"
    text = f"whether the ground of {run_name(run, asker.box.name)} is bare, or its insulation"
    return asker.ask(run, "insulation", text, ("bare", "thickest"), str(part), names=("bare", "the thickest"))


def becomes(met: Stop | Through, asker: Asker) -> tuple[How, tuple[str, ...]]:
    """Whether conductors end here, pass, or loop long enough to count twice; and the readings that decided it."""
    book = asker.book
    if isinstance(met, Stop):
        return "ends", ()
    if met.slack == "straight":
        return "passes", ()
    if met.loop is None:  # nobody measured it, or it lands on a terminal
        return ("looped" if book.reading("unmeasured-loop") == "twice" else "passes"), ("unmeasured-loop",)
    twelve, by_depth = long_loops(asker.items, book)
    least = by_depth if book.reading("loop-threshold") == "by-depth" else twelve
    if met.loop is UNKNOWN:
        text = f"how long the loop is that passes {asker.box.name}"
        names = (f"under {inches(least)}", f"{inches(least)} or more")
        choices: tuple[How, ...] = ("passes", "looped")
        return asker.ask(met, "loop", text, choices, names=names), ()
    goes_by_depth = book.reading("loop-threshold") == "by-depth"
    if goes_by_depth and met.loop >= least and (unmeasured := unmeasured_depth(asker)) is not None:
        record, name = unmeasured
        names = (f"more than {inches(met.loop)} calls for", f"{inches(met.loop)} is enough for")
        by_unknown: tuple[How, ...] = ("passes", "looped")
        return asker.ask(record, "depth", f"how deep {name} is", by_unknown, names=names), ("loop-threshold",)
    disputed = twelve <= met.loop < by_depth
    return ("looped" if met.loop >= least else "passes"), (("loop-threshold",) if disputed else ())


def long_loops(items: tuple[Item, ...], book: CodeBook) -> tuple[Decimal, Decimal]:
    """From how many inches on a loop counts twice: by the free length alone, and where the depth is reckoned in."""
    least = book[FREE_CONDUCTOR]
    times = int(book[CONDUCTORS].loop_times)
    length = Decimal(least.length)
    depth = depth_under_a_small_opening(items, book)
    deep = length if depth is None else max(length, depth + least.outside)
    return length * times, deep * times


def unmeasured_depth(asker: Asker) -> tuple[Base | Part, str] | None:
    """The ring or cover, or the box itself by a ``?``, that may be deeper than is known; and its name."""
    base = next((item for item in asker.items if isinstance(item, Base)), None)
    if base is None or (depth_under_a_small_opening(asker.items, asker.book) is None and base.depth is not UNKNOWN):
        return None
    for part in asker.items:
        if isinstance(part, Part) and is_unmeasured(part):
            return part, f"the {part.kind} of {asker.box.name}"
    return (base, asker.box.name) if base.depth is UNKNOWN else None


def depth_under_a_small_opening(items: tuple[Item, ...], book: CodeBook) -> Decimal | None:
    """Inside depth, inches; None where it is not known, or where the opening is so large that a hand goes in."""
    base = next((item for item in items if isinstance(item, Base)), None)
    under = book[FREE_CONDUCTOR].opening_under
    if base is not None and base.inside and min(base.inside[:2]) >= under:
        return None
    return depth_of(base, str(base.size) if base else "", [item for item in items if isinstance(item, Part)], book)


def thickest_in(run: Run) -> str:
    """The thickest insulated conductor pulled in a run; none where one of them is not known."""
    sizes = [wires.size for wires in conductors_of(run) if wires.role == "insulated"]
    known = [size for size in sizes if size is not UNKNOWN]
    return max(known, key=RANK.__getitem__) if known and len(known) == len(sizes) else ""


def landing_sizes(entering: tuple[Entering, ...]) -> tuple[str, ...]:
    """The sizes the largest conductor on a device may have, thin to thick. A ground thinner than all that is insulated
    is never it.
    """
    landing = [met for met in entering if met.lands and not met.low_voltage]
    insulated = {met.size for met in landing if met.role == "insulated"}
    thinnest = min((RANK[size] for size in insulated), default=-1)
    sizes = insulated | {met.size for met in landing if RANK[met.size] > thinnest}
    return tuple(sorted(sizes, key=RANK.__getitem__))
