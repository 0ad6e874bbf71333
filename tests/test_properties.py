"""What always holds, whatever the job: tried on random ones, most of them with facts that nobody knows.

``AMPLEROOM_LONG=3000 pytest tests/test_properties.py`` tries 3,000 jobs a test. What did not hold at first stands at
the end, each in the smallest sheet.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import Any, TypeVar

import pytest
from hypothesis import assume, given, note
from hypothesis import strategies as st

from ampleroom import Finding, Job, Report, Verdict, Worksheet, check, read_job, write_job
from ampleroom.check import book_for, check_box
from ampleroom.fits import MOST, fits, run_into
from ampleroom.job.cables import makeup, sizes_of
from ampleroom.job.model import (
    Base,
    BondingJumper,
    Box,
    Clamps,
    Device,
    Fitting,
    FixtureWires,
    Item,
    Leads,
    Module,
    Part,
    Pigtails,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
    Wires,
    is_blank_plate,
)
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from tests.strategies import (
    COUNTED,
    EDITIONS,
    LOOPS,
    STANDARD,
    Dice,
    examples,
    jobs,
    length,
    part,
    places_of,
)

T = TypeVar("T")


def box_fill(report: Report) -> dict[str, Finding]:
    """The findings that weigh room against fill, by box or box/space."""
    return {finding.subject: finding for finding in report.findings if finding.rule == "box-fill"}


def at_worst(finding: Finding) -> Worksheet:
    assert finding.worst is not None
    return finding.worst


def at_best(finding: Finding) -> Worksheet:
    return finding.best if finding.best is not None else at_worst(finding)


def in_both(before: Report, after: Report) -> Iterator[tuple[Finding, Finding]]:
    afterwards = box_fill(after)
    for subject, finding in box_fill(before).items():
        if subject in afterwards:
            yield finding, afterwards[subject]


def answers(report: Report) -> dict[str, Any]:
    """All verdicts, and the totals at the worst and at the best, of every box and space.

    A raceway without a line of its own is called by the line of its run; here by its kind and size.
    """
    found: dict[str, Any] = {}
    for box in report.subjects:
        found.setdefault(box.name.partition(", line ")[0], []).append(box.verdict)
    for subject, finding in box_fill(report).items():
        worst, best = at_worst(finding), at_best(finding)
        found[f"{subject} fill"] = (finding.verdict, worst.needed, worst.there, best.needed, best.there)
    for finding in report.findings:
        found.setdefault(f"{finding.subject.partition(', line ')[0]} {finding.rule}", []).append(finding.verdict)
    return {name: sorted(value) if isinstance(value, list) else value for name, value in found.items()}


def with_items(job: Job, changed: Callable[[Item], Item]) -> Job:
    """Every line under every box and kind, changed."""
    kinds = tuple(replace(kind, items=tuple(map(changed, kind.items))) for kind in job.kinds)
    return replace(
        job, kinds=kinds, boxes=tuple(replace(box, items=tuple(map(changed, box.items))) for box in job.boxes)
    )


def with_item(job: Job, item: Item) -> Job:
    """One more line under the first box."""
    first, *others = job.boxes
    return replace(job, boxes=(replace(first, items=(*first.items, item)), *others))


# ---- more never takes less -----------------------------------------------------------------------------------------

SIZE = st.sampled_from(COUNTED)
COUNT = st.integers(1, 6)
ONE_MORE: dict[str, st.SearchStrategy[Any]] = {
    "fitting": st.builds(Fitting, st.sampled_from(("stud", "hickey"))),
    "device": st.builds(Device, st.just(("switch",)), SIZE, COUNT, st.integers(1, 3)),
    "module": st.builds(Module, SIZE, st.none() | st.just(Decimal(7))),
    "block": st.builds(TerminalBlock, SIZE, COUNT),
    "fixture wires": st.builds(
        FixtureWires, st.tuples(st.builds(Wires, COUNT, SIZE)), st.sampled_from(("", "domed", "flat"))
    ),
    "leads": st.builds(Leads, st.tuples(st.builds(Wires, COUNT, SIZE))),
    "pigtail": st.builds(Pigtails, COUNT, SIZE, st.booleans()),
    "jumper": st.builds(BondingJumper, SIZE, COUNT),
}


@pytest.mark.parametrize("thing", ONE_MORE)
@examples(25)
@given(st.data())
def test_one_more_of_anything_in_a_box_never_takes_less_fill(thing, data):
    job = data.draw(jobs())
    more = with_item(job, data.draw(ONE_MORE[thing]))
    for before, after in in_both(check(job), check(more)):
        assert at_worst(after).needed >= at_worst(before).needed


ENTERS: dict[str, tuple[Wires, ...]] = {
    "conductor": (Wires(1, "12"),),
    "thick conductor": (Wires(1, "6"),),
    "ground": (Wires(1, "10", "ground"),),
    "isolated ground": (Wires(1, "14", "isolated ground"),),
    "everything": (Wires(3, "18"), Wires(2, "10", "ground"), Wires(1, "8", "isolated ground")),
}


@pytest.mark.parametrize("what", ENTERS)
@examples(25)
@given(jobs(), st.booleans())
def test_one_more_run_never_takes_less_fill(what, job, low_voltage):
    name, space = places_of(job)[0]
    more = Run((Stop(name, space), Stop(UNKNOWN)), wires=ENTERS[what], low_voltage=low_voltage)
    for before, after in in_both(check(job), check(replace(job, runs=(*job.runs, more)))):
        assert at_worst(after).needed >= at_worst(before).needed


@examples(40)
@given(jobs(), st.sampled_from(("inside", "tabs", "push-in")))
def test_clamps_inside_never_take_less_fill_than_none(job, way):
    def clamped(way: str) -> Job:
        return with_items(job, lambda item: Clamps(way) if isinstance(item, Clamps) else item)

    for before, after in in_both(check(clamped("none")), check(clamped(way))):
        assert at_worst(after).needed >= at_worst(before).needed
        assert at_worst(after).there == at_worst(before).there


@examples(60)
@given(st.data())
def test_one_more_part_never_takes_room(data):
    job = data.draw(jobs(unknowns=True))
    more = part(Dice(data.draw, unknowns=True))
    assume(all(isinstance(item, Base) is False or item.form != "conduit body" for item in job.items(job.boxes[0])))
    for before, after in in_both(check(job), check(with_item(job, more))):
        assert at_worst(after).there >= at_worst(before).there
        assert at_best(after).there >= at_best(before).there


# ---- order, and other jobs, never matter ---------------------------------------------------------------------------


def shuffled(data: st.DataObject, things: Sequence[T]) -> tuple[T, ...]:
    return tuple(data.draw(st.permutations(things)))


def in_other_order(data: st.DataObject, items: Sequence[Item], spaces_too: bool) -> tuple[Item, ...]:
    """The lines of a box otherwise: each side's among themselves, and the sides too."""
    sides: list[list[Item]] = [[]]
    for item in items:
        if isinstance(item, SpaceShare):
            sides.append([])
        sides[-1].append(item)
    common, *others = sides
    if spaces_too:
        others = list(shuffled(data, others))
    mixed = [item for space, *inside in others for item in (space, *shuffled(data, inside))]
    return (*shuffled(data, common), *mixed)


@examples(60)
@given(st.data())
def test_the_order_of_lines_and_runs_and_boxes_changes_no_total_and_no_verdict(data):
    job = data.draw(jobs(unknowns=True))
    other = replace(
        job,
        readings=shuffled(data, job.readings),
        kinds=tuple(replace(kind, items=in_other_order(data, kind.items, False)) for kind in job.kinds),
        boxes=shuffled(
            data, [replace(box, items=in_other_order(data, box.items, box.kind != "usual")) for box in job.boxes]
        ),
        runs=shuffled(data, [replace(run, wires=shuffled(data, run.wires)) for run in job.runs]),
    )
    assert answers(check(other)) == answers(check(job))


@examples(40)
@given(jobs(unknowns=True))
def test_a_run_walked_the_other_way_changes_nothing(job):
    other = replace(job, runs=tuple(replace(run, stops=run.stops[::-1]) for run in job.runs))
    assert answers(check(other)) == answers(check(job))


def places_on(run: Run) -> set[str]:
    return {str(stop.name) for stop in run.stops} | {passed.name for passed in run.through}


def boxes_joined_with(job: Job, name: str) -> set[str]:
    """A box, and all that some chain of runs joins it with."""
    found = {name}
    for _ in job.runs:
        for run in job.runs:
            touched = places_on(run) & {box.name for box in job.boxes}
            if touched & found:
                found |= touched
    return found


def no_box(job: Job, run: Run) -> bool:
    """Whether a run meets no box of the job; the raceway it lies in is judged all the same."""
    return not places_on(run) & {box.name for box in job.boxes}


@examples(60)
@given(jobs(unknowns=True, most_boxes=5, most_runs=4))
def test_splitting_a_job_into_two_sheets_changes_no_verdict(job):
    here = boxes_joined_with(job, job.boxes[0].name)
    parted: list[Report] = []
    for names in (here, {box.name for box in job.boxes} - here):
        boxes = tuple(box for box in job.boxes if box.name in names)
        runs = tuple(run for run in job.runs if names & places_on(run) or (names != here and no_box(job, run)))
        parted.append(check(read_job(write_job(replace(job, boxes=boxes, runs=runs)))))
    assert answers(parted[0]) | answers(parted[1]) == answers(check(job))


@examples(40)
@given(jobs(unknowns=True), st.permutations(EDITIONS))
def test_no_edition_leaves_a_trace_in_another(job, years):
    before = check(job, 2017).to_json()
    for year in years:
        check(job, year)
    assert check(job, 2017).to_json() == before


# ---- facts nobody knows --------------------------------------------------------------------------------------------


@examples(80)
@given(jobs(unknowns=True))
def test_the_best_case_never_needs_more_nor_has_less_room_than_the_worst(job):
    for finding in box_fill(check(job)).values():
        assert at_best(finding).needed <= at_worst(finding).needed
        assert at_best(finding).there >= at_worst(finding).there


@st.composite
def jobs_and_settled(draw: Callable[[st.SearchStrategy[Any]], Any]) -> tuple[Job, Job]:
    job = draw(jobs(unknowns=True))
    return job, settled(Dice(draw), job)


@examples(60)
@given(jobs_and_settled())
def test_a_fact_settled_to_any_value_it_may_have_stays_between_best_and_worst(pair):
    job, known = pair
    note(write_job(job))
    note(write_job(known))
    for before, after in in_both(check(job), check(known)):
        assert at_worst(after).needed <= at_worst(before).needed
        assert at_best(after).needed >= at_best(before).needed
        assert at_worst(after).there >= at_worst(before).there
        assert at_best(after).there <= at_best(before).there
        if before.verdict is not Verdict.OPEN:
            assert after.verdict is before.verdict


def settled(dice: Dice, job: Job) -> Job:
    """The same job after somebody looked: about half of its unknown facts now have a value."""
    sizes_given = not any(says_nothing_of_a_device(job, box) for box in job.boxes)
    runs = tuple(settled_run(dice.line(), run, sizes_given) for run in job.runs)
    boxes = tuple(settled_box(dice.line(), box, job) for box in job.boxes)
    kinds = tuple(replace(kind, items=settled_items(dice.line(), kind.items, ())) for kind in job.kinds)
    return replace(job, kinds=kinds, boxes=boxes, runs=runs)


def settled_run(dice: Dice, run: Run, counts_too: bool) -> Run:
    cable = run.cable
    if cable is not None and cable.size is UNKNOWN and dice.chance(2):
        cable = cable._replace(
            size=dice.pick([size for size in sizes_of(cable) if size in COUNTED and makeup(cable._replace(size=size))])
        )
    if cable is not None and cable.size is not UNKNOWN and dice.chance(2):
        thinner = [size for size in COUNTED if RANK[size] < RANK[cable.size]]
        if cable.ground is UNKNOWN or (cable.ground is None and cable.kind in ("old", "?")):
            cable = cable._replace(ground=dice.pick(["none", cable.size, *thinner]))
    through = tuple(
        replace(met, loop=dice.pick(LOOPS)) if met.loop is UNKNOWN and dice.chance(2) else met for met in run.through
    )
    count = dice.whole(1, 6) if run.count is UNKNOWN and dice.chance(2) else run.count
    return replace(run, cable=cable, count=count, through=through, wires=settled_wires(dice, run.wires, counts_too))


def settled_wires(dice: Dice, groups: tuple[Wires, ...], counts_too: bool = True) -> tuple[Wires, ...]:
    """``counts_too`` is False where a device has no size: none at all at best, they do not tell it then, and do
    later.
    """
    found = []
    for group in groups:
        if group.count is UNKNOWN and counts_too and dice.chance(2):
            group = group._replace(count=dice.whole(1, 6))
        if group.size is UNKNOWN and dice.chance(2):
            group = group._replace(size=dice.pick(COUNTED))
        found.append(group)
    return tuple(found)


def settled_box(dice: Dice, box: Box, job: Job) -> Box:
    items = settled_items(dice, box.items, landing_sizes(job, box))
    kind = "" if box.kind is UNKNOWN else box.kind
    written = job.items(box)
    base = next((item for item in written if isinstance(item, Base)), None)
    if base is None and dice.chance(2):
        return replace(box, kind=kind, items=(Base("marked", volume=dice.volume()), *items))
    clamps_are_asked = base is not None and base.form != "conduit body" and comes_by_cable(job, box)
    if clamps_are_asked and not any(isinstance(item, Clamps | SpaceShare) for item in written) and dice.chance(2):
        return replace(box, items=(*items, Clamps(dice.pick(SEEN))))
    return replace(box, items=items)


def comes_by_cable(job: Job, box: Box) -> bool:
    return any(run.cable is not None and box.name in places_on(run) for run in job.runs)


SEEN = ("inside", "outside", "none", "tabs", "push-in")
"""What somebody who looks may see of clamps."""


def landing_sizes(job: Job, box: Box) -> Sequence[str]:
    """What may be connected to a device here: the sizes that end here; none, if that is not clear."""
    if any(met.name == box.name for run in job.runs for met in run.through):
        return ()
    ending = [run for run in job.runs if any(stop.name == box.name for stop in run.stops)]
    found: set[str] = set()
    for run in ending:
        if run.low_voltage or run.cable is None or run.cable.size is UNKNOWN or run.wires:
            return ()
        found.add(run.cable.size)
    return sorted(found)


def settled_items(dice: Dice, items: Sequence[Item], landing: Sequence[str]) -> tuple[Item, ...]:
    divided = any(isinstance(item, SpaceShare) for item in items)
    return tuple(settled_item(dice.line(), item, () if divided else landing) for item in items)


def settled_item(dice: Dice, item: Item, landing: Sequence[str]) -> Item:
    if dice.chance(2):
        return item
    match item:
        case Base(volume=volume) if volume is UNKNOWN:
            return replace(item, volume=dice.volume())
        case Base(size=size) if size is UNKNOWN:
            sizes = [size for size in STANDARD[item.shape] if not item.face or size.rpartition(" x ")[0] == item.face]
            return replace(item, size=dice.pick(sizes), face="")
        case Base(depth=depth) if depth is UNKNOWN:
            return replace(item, depth=length(dice))
        case Part():
            volume = dice.volume() if item.volume is UNKNOWN else item.volume
            depth = length(dice) if item.depth is UNKNOWN or (item.depth is None and not item.size) else item.depth
            return replace(item, volume=volume, depth=depth)
        case Clamps(way=way) if way is UNKNOWN:
            return Clamps(dice.pick(SEEN))
        case Device() if not is_blank_plate(item):
            size = dice.pick(landing) if item.size is UNKNOWN and landing else item.size
            if size is not UNKNOWN and item.pigtail and RANK[item.pigtail] > RANK[size]:
                size = item.size
            gangs = dice.whole(1, 2) if item.gangs is UNKNOWN else item.gangs
            width = dice.pick((Decimal("1.5"), Decimal(2), Decimal("2.5"))) if item.width is UNKNOWN else item.width
            return replace(item, size=size, gangs=gangs, width=width)
        case Module(size=size) | TerminalBlock(size=size) if size is UNKNOWN and landing:
            return replace(item, size=dice.pick(landing))
        case BondingJumper(size=size) if size is UNKNOWN:
            return replace(item, size=dice.pick(COUNTED))
        case Leads():
            return replace(item, wires=settled_wires(dice, item.wires))
        case FixtureWires():
            canopy: Any = dice.pick(("domed", "flat")) if item.canopy is UNKNOWN else item.canopy
            return replace(item, wires=settled_wires(dice, item.wires), canopy=canopy)
        case _:
            return item


# ---- the arithmetic is the answer ----------------------------------------------------------------------------------


@examples(80)
@given(jobs(unknowns=True))
def test_what_is_needed_and_what_is_there_are_the_sums_of_the_lines_printed(job):
    for finding in check(job).findings:
        for sheet in (finding.worst, finding.best):
            if sheet is not None:
                assert sum((line.amount for line in sheet.need), Decimal(0)) == sheet.needed
                assert sum((line.amount for line in sheet.have), Decimal(0)) == sheet.there


@examples(80)
@given(jobs(unknowns=True))
def test_a_box_passes_if_and_only_if_its_worst_fill_goes_into_its_worst_room(job):
    """But never one in which nothing is written, or whose volume nobody knows."""
    report = check(job)
    empty = {finding.subject for box in report.subjects if box.is_empty for finding in box.findings}
    for subject, finding in box_fill(report).items():
        worst, best = at_worst(finding), at_best(finding)
        if finding.verdict is Verdict.OPEN and worst.needed <= worst.there:
            assert subject in empty or best.there > worst.there
            continue
        assert subject not in empty or not finding.verdict.is_allowed  # a barrier may leave less than no room
        assert (finding.verdict is Verdict.PASSES) == (worst.needed <= worst.there)
        assert (finding.verdict is Verdict.FAILS) == (best.needed > best.there)


@examples(60)
@given(jobs(most_boxes=1))
def test_a_box_marked_with_just_what_it_needs_is_exactly_full_and_passes(job):
    assume(not any(isinstance(item, SpaceShare | Part) for item in job.items(job.boxes[0])))
    assume(not any(isinstance(item, Clamps) and item.way == "assembly" for item in job.items(job.boxes[0])))
    finding = box_fill(check(marked(job, Decimal(1000))))["J1"]
    needed = at_worst(finding).needed
    assume(needed > 0)
    full = box_fill(check(marked(job, needed)))["J1"]
    assert at_worst(full).needed == at_worst(full).there == needed
    assert full.verdict is Verdict.PASSES
    assert " is exactly full: " in full.message
    short = box_fill(check(marked(job, needed - Decimal("0.0001"))))["J1"]
    assert short.verdict is Verdict.FAILS
    assert " is 0.0001 in3 over: " in short.message


def marked(job: Job, volume: Decimal) -> Job:
    return with_items(job, lambda item: Base("marked", volume=volume) if isinstance(item, Base) else item)


@examples(40)
@given(jobs(unknowns=True))
def test_json_comes_back_whole_and_holds_every_number_as_an_exact_string(job):
    report = check(job)
    tree = report.to_json()
    assert json.loads(json.dumps(tree, allow_nan=False)) == tree
    assert not [leaf for leaf in leaves(tree) if isinstance(leaf, float)]
    for told, box in zip(tree["subjects"], report.subjects, strict=True):
        for told_finding, finding in zip(told["findings"], box.findings, strict=True):
            for key in ("needed", "there", "margin"):
                if told_finding[key] is not None:
                    assert Decimal(told_finding[key]) == getattr(finding.worksheet, key)


def leaves(tree: Any) -> Iterator[Any]:
    if isinstance(tree, dict):
        tree = list(tree.values())
    if not isinstance(tree, list):
        yield tree
        return
    for branch in tree:
        yield from leaves(branch)


# ---- what else fits ------------------------------------------------------------------------------------------------

TRIED = ("14/2 nm-b", "12/3 nm-b", "1 x #10 thhn", "2 x #12, ground #12", "18/2 nm-b, no ground class 2")


@examples(40)
@given(jobs(unknowns=True, most_runs=2), st.sampled_from(TRIED))
def test_what_fits_for_certain_passes_and_one_more_does_not(job, what):
    name, space = places_of(job)[0]
    place = f"{name}/{space}" if space else name
    book = book_for(job)
    assume(not says_nothing_of_a_device(job, job.boxes[0]))
    (fit,) = fits(job, place, book, (what,))
    more = run_into(job, place, what)

    def verdict(number: int) -> Verdict:
        fuller = replace(job, runs=(*job.runs, *[more] * number))
        return check_box(fuller, job.boxes[0], book).verdict

    assert 0 <= fit.certain <= fit.possible <= MOST
    if fit.certain:
        assert verdict(fit.certain) is Verdict.PASSES
    if fit.possible:
        assert verdict(fit.possible) is not Verdict.FAILS
    if fit.certain < MOST:
        assert verdict(fit.certain + 1) is not Verdict.PASSES
    if fit.possible < MOST:
        assert verdict(fit.possible + 1) is Verdict.FAILS


def says_nothing_of_a_device(job: Job, box: Box) -> bool:
    """A device of unknown size takes its size from what ends there, so one more run tells something of it."""
    return any(isinstance(item, Device | Module | TerminalBlock) and item.size is UNKNOWN for item in job.items(box))


# ---- the sheet -----------------------------------------------------------------------------------------------------


@examples(150)
@given(jobs(unknowns=True, extras=True))
def test_a_job_written_and_read_again_is_the_same(job):
    assert read_job(write_job(job)) == job


@examples(60)
@given(jobs(unknowns=True, extras=True), st.integers(0, 1000))
def test_remarks_and_spaces_change_nothing_and_are_kept(job, seed):
    lines = write_job(job).split("\n")
    added = ("  # as found", "   ", "\t# 12 of them", "")
    remarked = [line + added[(seed + number) % len(added)] for number, line in enumerate(lines)]
    text = "# a sail loft\n\n" + "\n".join(remarked)
    again = read_job(text)
    assert again == job
    assert again.sheet is not None
    assert again.sheet.text == text


@examples(40)
@given(jobs(unknowns=True))
def test_a_job_says_the_same_from_its_records_and_from_its_sheet(job):
    assert answers(check(read_job(write_job(job)))) == answers(check(job))


# ---- what did not hold at first --------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["nm-b", "?"])
def test_a_cable_of_unknown_size_is_at_its_worst_by_its_thickest_counted_size(kind):
    sheet = f"box J1\n  marked 10 in3\n  clamps outside\nrun J1 > ? ?/3 {kind}, ground #14\n"
    finding = box_fill(check(read_job(sheet), 2020))["J1"]
    assert at_worst(finding).needed == Decimal("17.00")  # 3 x 5.00 as a 6/3, and its ground
    assert finding.verdict is Verdict.OPEN


def test_a_standard_box_whose_marking_is_unread_has_no_more_room_at_its_worst_than_once_it_is_read():
    sheet = "box J1\n  square 4 x 1-1/2 marked ? in3\n  clamps none\nwires J1 > ? 10 x #14 thhn\n"
    unread = box_fill(check(read_job(sheet), 2020))["J1"]
    read = box_fill(check(read_job(sheet.replace("?", "19", 1)), 2020))["J1"]
    assert at_worst(unread).there <= at_worst(read).there
    assert (unread.verdict, read.verdict) == (Verdict.OPEN, Verdict.FAILS)


def test_a_loop_that_turns_out_short_needs_no_more_than_the_worst():
    sheet = (
        "panel P\n"
        "box J1\n"
        "  marked 60 in3\n"
        "  clamps none\n"
        "  switch\n"
        "run P > ? 14/2 nm-b no ground through J1 loop {} in\n"
    )
    unknown = box_fill(check(read_job(sheet.format("?")), 2020))["J1"]
    short = box_fill(check(read_job(sheet.format("8")), 2020))["J1"]
    assert at_worst(short).needed <= at_worst(unknown).needed


def test_a_thin_ground_is_never_the_largest_conductor_on_a_device():
    sheet = "panel P\nbox J1\n  marked 60 in3\n  clamps none\n  switch\nrun P > J1 14/2 old, ground #16\n"
    finding = box_fill(check(read_job(sheet), 2020))["J1"]
    assert at_best(finding).needed == Decimal("9.75")  # 2 x 2.00, 1.75 and a yoke by the #14


@pytest.mark.parametrize(
    "sheet",
    [
        "  marked ? in3\nrun J1 > ? ? x 12/2 nm-b",
        "  unmarked\nwires J1 > ? ? x #12 thhn",
        "  marked 20 in3\nrun J1 > ? ? x 12/2 nm-b",  # whether there are clamps is unknown too
        "  marked 20 in3\n  clamps none\nrun J1 > ? ? x 12/2 nm-b\nrun J1 > P ? x 14/2 nm-b\npanel P",
        "  marked 20 in3\n  clamps none\n  leads ? x #18, ? x #16",
        "  marked 20 in3\n  clamps none\nwires J1 > ? ? x #4 thhn, 2 x #14",
    ],
)
def test_an_unknown_count_beside_another_unknown_fact_is_judged(sheet):
    assert check(read_job(f"box J1\n{sheet}\n"), 2020).verdict is Verdict.OPEN


def test_what_fits_on_one_side_of_a_barrier_that_the_kind_has_is_told():
    kind = "kind split\n  marked 40 in3\n  clamps none\n  barrier metal\n  space a 1/2\n  space b 1/2\n"
    job = read_job(f"{kind}box J1 split\n")
    (fit,) = fits(job, "J1/a", book_for(job, 2014), ("14/2 nm-b",))
    assert fit.certain == 4  # 20 in3 a side: four take 16 and their grounds 2


def test_the_length_of_a_run_with_an_unmeasured_loop_is_kept():
    run = "run P > J1 12/2 nm-b through S1 loop"
    sheet = f"panel P\nbox J1\nbox S1\n{run.replace(' through', ' 60 ft through')}\n"
    job = read_job(sheet)
    assert read_job(write_job(job)) == job


def test_the_order_of_bends_is_kept():
    job = read_job("panel P\nbox J1\nraceway R1 P > J1 emt 1 1 bend 90 1 bend 45 1 bend 90\n")
    assert read_job(write_job(job)) == job


@pytest.mark.parametrize("more", ["marked 90 in3", "4 in deep"])
def test_what_is_said_beside_inside_measurements_is_kept(more):
    job = read_job(f"box J1\n  inside 5 x 5 x 5 in {more}\n")
    assert read_job(write_job(job)) == job


@pytest.mark.parametrize("what", ["switch", "module #?", "terminal block #?"])
@pytest.mark.parametrize("also", ["clamps inside", "stud"])
def test_a_device_whose_size_nobody_gave_sizes_the_clamps_and_studs_too_at_the_worst(what, also):
    sheet = f"box J1\n  marked 60 in3\n  {also}\n  {what}\n"
    given = what.replace(" #?", "") + " #6"
    unknown = box_fill(check(read_job(sheet), 2023))["J1"]
    known = box_fill(check(read_job(sheet.replace(f"  {what}", f"  {given}")), 2023))["J1"]
    assert at_worst(known).needed <= at_worst(unknown).needed
