"""The worst and best case of each finding on random jobs, against a loop over every value that knows no direction."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import cache
from itertools import islice
from random import Random
from typing import Any, NamedTuple

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.check import book_for
from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption, End, Ends, Fact, Undeclared, Unknown, bounds, cases
from ampleroom.job.model import Job
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.judge.other_findings import finding_rules, severity_first
from ampleroom.rules.box.judge.weighing import Side, margin_first
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.fields import FIELDS
from ampleroom.rules.registry import Rule
from ampleroom.where import Where
from tests.strategies import Dice, job_of

MOST_TRIED = 600
"""A finding with more combinations of values is left to another random job."""
JOBS = 400


class Weighing(NamedTuple):
    """One finding of one space of a random job, to be weighed under any assumption."""

    name: str
    weigh: Callable[[Assumption], Any]
    rank: Callable[[Any], Any]
    ends: Ends


@cache
def random_job(seed: int) -> Job:
    """A random job with unknown facts; the same for the same seed."""
    random = Random(seed)
    return job_of(Dice(lambda _: random.randbytes(48), unknowns=True), False, 1, 2)


@cache
def weighings(seed: int) -> list[Weighing]:
    """Every finding of a random job on which unknown facts bear."""
    job = random_job(seed)
    return list(weighings_of(job, book_for(job)))


def weighings_of(job: Job, book: CodeBook) -> Iterator[Weighing]:
    runs = job.graph.runs_at
    for box in job.boxes:
        items = job.items(box)
        builder = SpaceBuilder(box, items, runs.get(box.name, ()), book)
        for number in range(len(builder.sides)):
            side = Side(builder, number)
            if side.needed:
                yield Weighing("box-fill", side.weigh, margin_first, side.ends)
                yield from (by_rule(rule, side) for rule in finding_rules() if is_about(rule, side))


def is_about(rule: Rule, side: Side) -> bool:
    return side.space.is_conduit_body or not rule.of_bodies


def by_rule(rule: Rule, side: Side) -> Weighing:
    def weigh(assumption: Assumption) -> Any:
        return list(rule.function(side.cases.under(assumption), side.book))

    return Weighing(rule.name, weigh, severity_first, rule.ends_for(side.items, side.book))


TURNS: Mapping[str, End] = {
    "wires count": (*map(Decimal, (0, 1, 2, 3, 4)), NO_LIMIT),
    "box wires count": (*map(Decimal, (0, 1, 4, 5)), NO_LIMIT),
    "run count": (*map(Decimal, (1, 2, 3, 4)), NO_LIMIT),
    "volume": (*map(Decimal, (0, 10, 30)), NO_LIMIT),
    "ring volume": (*map(Decimal, (0, 3)), NO_LIMIT),
}
"""Of a range some values between its ends too."""


def extremes(weighing: Weighing) -> tuple[Any, Any] | None:
    """The least and the greatest rank over the values of every fact; None where there are too many to try."""
    tried = list(islice(cases(weighing.weigh, TURNS, True, {}), MOST_TRIED + 1))
    ranks = [weighing.rank(outcome) for outcome, _ in tried]
    return (min(ranks)[0], max(ranks)[0]) if len(ranks) <= MOST_TRIED else None


def ranked(weighing: Weighing, ends: Ends) -> tuple[Any, Any]:
    case = bounds(weighing.weigh, ends, weighing.rank)
    return weighing.rank(case.worst)[0], weighing.rank(case.best)[0]


@cache
def tried_everything(seed: int) -> list[tuple[Weighing, tuple[Any, Any]]]:
    both = ((weighing, extremes(weighing)) for weighing in weighings(seed))
    return [(weighing, found) for weighing, found in both if found is not None]


@pytest.mark.parametrize("seed", range(JOBS))
def test_declared_ends_give_the_worst_and_the_best_that_trying_everything_gives(seed: int):
    for weighing, everything in tried_everything(seed):
        if bounds(weighing.weigh, weighing.ends, weighing.rank).is_complete:  # else it is open, whatever it is
            assert ranked(weighing, weighing.ends) == everything, weighing.name


def turned(end: End) -> End:
    """The declaration the other way round."""
    return "small" if end == "large" else "large"


FILL_DECLARED = [("box-fill", field) for field, end in ENDS.items() if end != "neither"]


def declared(name: str, field: str) -> Iterator[tuple[Weighing, tuple[Any, Any]]]:
    """Findings of random jobs that lean on a field, tried at every value."""
    for seed in range(JOBS):
        for weighing, everything in tried_everything(seed):
            if weighing.name == name and isinstance(weighing.ends.get(field), str):
                yield weighing, everything


@pytest.mark.parametrize(("name", "field"), FILL_DECLARED)
def test_each_declaration_turned_round_would_be_noticed(name: str, field: str):
    noticed = any(
        ranked(weighing, {**weighing.ends, field: turned(weighing.ends[field])}) != everything
        for weighing, everything in declared(name, field)
    )
    assert noticed, f"no random job tells which end of {field} is worse for {name}"


LOWERED = 'place = "Cold Harbor"\n[[reminders.pull_box]]\nfrom = 2008\nfrom_size = "10"\n'
TELLING = {
    ("conduit-body-splices", "wires count"): "box A\n  conduit body lb 3/4 on emt\nwires A > ? ? x #12 thhn\n",
    (
        "conduit-body-large",
        "cable size",
    ): "box A\n  conduit body c 2 on emt\n  marked for 3 x #10 thhn\nrun ? > ? ?/2 nm-b through A\n",
    (
        "conduit-body-large",
        "wire size",
    ): "box A\n  conduit body c 2 on emt\n  marked for 3 x #10 thhn\nwires ? > ? 2 x ? thhn through A\n",
    (
        "conduit-body-large",
        "ground size",
    ): "box A\n  conduit body c 2 on emt\n  marked for 3 x #8 thhn\n"
    "wires ? > ? 2 x #8 thhn, 1 x #10 thhn, ground ? thhn through A\n",
    (
        "conduit-body-large",
        "insulation",
    ): "box A\n  conduit body c 2 on emt\n  marked for 3 x #10 thhn\nwires ? > ? 2 x #10 thhn, ground #10 through A\n",
    ("pull-box", "wires count"): "box A\n  marked 90 in3\nwires A > ? ? x #4 thhn\n",
    ("pull-box", "cable size"): "box A\n  marked 90 in3\nrun A > ? ?/2 nm-b\n",
    ("pull-box", "wire size"): "box A\n  marked 90 in3\nwires A > ? 2 x ? thhn\n",
    ("box-depth", "box size"): "box A\n  square 4 x ?\n  switch #8\nrun A > ? 8/2 nm-b\n",
    ("box-depth", "cable size"): "box A\n  square 4 x 1-1/2\n  switch\nrun A > ? ?/2 nm-b\n",
    ("box-depth", "wire size"): "box A\n  square 4 x 1-1/2\n  switch\nwires A > ? 2 x ? thhn\n",
    (
        "box-depth",
        "ground size",
    ): "reading unknown-ground any-size\nbox A\n  square 4 x 1-1/2\n  switch\nwires A > ? 1 x #14 thhn, ground ?\n",
    ("box-depth", "connected size"): "box A\n  square 4 x 1-1/2\n  switch\nrun A > ? 14/2 nm-b\nrun A > ? 8/2 nm-b\n",
    ("distribution-block", "volume"): "box A\n  marked ? in3\n  power distribution block\n",
    (
        "distribution-block",
        "ring volume",
    ): "box A\n  marked 99 in3\n  plaster ring ? in3\n  power distribution block\n",
    (
        "distribution-block",
        "wires count",
    ): "box A\n  inside 14 x 14 x 8 in\n  power distribution block smallest 10 x 10 x 4 in terminals 2 in\n"
    "wires A > ? ? x #1 thhn\n",
}
"""For each worse end that a finding beside box fill declares, a sheet whose answer changes with that fact, in a place
that counts #10 as large. Random jobs seldom hold one."""
OF_A_BLOCK = ("box size", "cable size", "wire size", "ground size", "run count", "ground")
SAME_EITHER_WAY = {("box-depth", "ground"), *(("distribution-block", field) for field in OF_A_BLOCK)}
"""A ground that comes in with a cable is no thicker than its conductors, so whether it is there says nothing of
depth. No box of the table is as large as a power distribution block wants; a size nobody knows is taken as one that
needs no bending space, and a ground needs none."""


def declared_beside_fill() -> set[tuple[str, str]]:
    """Each finding and field that has a declared end for some box: with a device of unknown size, or without one."""
    book = CodeBook(2023)
    boxes = [read_job(sheet) for sheet in TELLING.values()]
    return {
        (rule.name, field)
        for rule in finding_rules()
        for job in boxes
        for field, end in rule.ends_for(job.items(job.boxes[0]), book).items()
        if end in ("large", "small")
    }


def test_each_worse_end_that_a_finding_declares_has_a_sheet_that_tells():
    assert declared_beside_fill() == {*TELLING} | SAME_EITHER_WAY


@pytest.mark.parametrize(("name", "field"), TELLING)
def test_each_worse_end_that_a_finding_declares_turned_round_would_be_noticed(name: str, field: str):
    job = read_job("edition 2023\namendments place.toml\n" + TELLING[name, field], beside=lambda _: LOWERED)
    (weighing,) = [found for found in weighings_of(job, book_for(job)) if found.name == name]
    everything = extremes(weighing)
    assert everything is not None
    assert ranked(weighing, weighing.ends) == everything
    assert ranked(weighing, {**weighing.ends, field: turned(weighing.ends[field])}) != everything


# ---- what a single worst case gets wrong -----------------------------------------------------------------------------


def verdict_of(sheet: str, rule: str, edition: int = 2023) -> Verdict:
    return max(finding.verdict for finding in check(read_job(sheet), edition).findings if finding.rule == rule)


def test_one_more_wire_can_let_a_box_pass_as_it_tells_what_is_on_a_switch():
    """2 x 2.00 for the switch by a #14, and 2.00 for that wire, are 6.00; by a #6 alone the switch takes 2 x 5.00
    in3.
    """
    sheet = "box A\n  marked 12 in3\n  clamps none\n  switch\nwires A > ? 1 x #6\nwires A > ? {} x #14\n"
    assert verdict_of(sheet.format("?"), "box-fill") is Verdict.OPEN
    verdicts = [verdict_of(sheet.format(number).replace("wires A > ? 0 x #14\n", ""), "box-fill") for number in (0, 1)]
    assert verdicts[0] is Verdict.FAILS


DEEP = "box A\n  square 4 x 2-1/8 marked 40 in3\n  clamps none\n  entry rear center\n  switch{} projects 1.85 in\n"


def test_a_thinner_wire_can_need_the_deeper_box():
    """2023: 1.85 + 0.50 in. behind a switch with a #12 through the back; 2-1/16 in. with a #6 (314.24(B)(3) and
    (4)).
    """
    assert verdict_of(DEEP.format(" #6"), "box-depth") is Verdict.PASSES
    assert verdict_of(DEEP.format(" #12"), "box-depth") is Verdict.FAILS
    assert verdict_of(DEEP.format("") + "run A > ? ?/2 nm-b\n", "box-depth") is Verdict.OPEN


def test_a_third_conductor_can_let_a_conduit_body_pass():
    """Chapter 9, tables 1, 4 and 5: two conductors may fill 31 % of 0.304 in2, three 40 %. Two #6 THHN of 0.0507 in2
    are 0.1014 of 0.0942; with one #12 of 0.0133 they are 0.1147 of 0.1216, with two 0.1280.
    """
    sheet = "box A\n  conduit body c 1/2 on emt\nwires ? > ? 2 x #6 thhn{} through A\n"
    verdicts = [
        verdict_of(sheet.format(more), "conduit-body-passing")
        for more in ("", ", 1 x #12 thhn", ", 2 x #12 thhn", ", ? x #12 thhn")
    ]
    assert verdicts == [Verdict.FAILS, Verdict.PASSES, Verdict.FAILS, Verdict.OPEN]


# ---- the search for bounds itself ------------------------------------------------------------------------------------


def unknown(field: str, *choices: int, is_range: bool = False) -> Unknown[int]:
    return Unknown(Fact(Where(1), 0, "", field), field, choices, is_range=is_range)


def less_is_better(amount: int) -> int:
    return -amount


def test_a_fact_needed_only_with_one_value_of_another_is_tried_there():
    kind, size = unknown("kind", 0, 1), unknown("size", 3, 9)
    case = bounds(lambda assume: assume.take(size) if assume.take(kind) else 1, {}, less_is_better)
    assert (case.worst, case.best) == (9, 1)


def test_no_combination_is_tried_twice():
    tried: list[tuple[int, ...]] = []

    def three_facts(assume: Assumption) -> int:
        tried.append(tuple(assume.take(unknown(field, 1, 2, 3)) for field in "abc"))
        return 1

    assert len(list(cases(three_facts, {}, True, {}))) == len(set(tried)) == 27


def test_two_weighings_bound_any_number_of_declared_facts():
    weighed: list[int] = []

    def many(assume: Assumption) -> int:
        weighed.append(sum(assume.take(unknown(str(number), 1, 2, 3)) for number in range(50)))
        return weighed[-1]

    case = bounds(many, {str(number): "large" for number in range(50)}, less_is_better)
    assert (case.worst, case.best, len(weighed)) == (150, 50, 2)


def test_a_range_without_a_declared_end_is_our_mistake():
    with pytest.raises(Undeclared, match="which end of length is worse"):
        bounds(lambda assume: assume.take(unknown("length", 0, 90, is_range=True)), {}, less_is_better)


def test_more_cases_than_anyone_waits_for_are_not_complete():
    case = bounds(lambda assume: sum(assume.take(unknown(str(n), 0, 1)) for n in range(11)), {}, less_is_better)
    assert not case.is_complete


def test_past_the_most_cases_a_finding_is_open_though_every_case_tried_passes():
    runs = "".join(f"run A > ? ?/{number} nm-b\n" for number in (2, 3, 2, 3, 2, 3))
    sheet = f"box A\n  square 4 x 2-1/8 marked 900 in3\n  clamps none\n  switch projects 1-7/8 in\n{runs}"
    found = [finding for finding in check(read_job(sheet), 2023).findings if finding.rule == "box-depth"]
    assert [finding.verdict for finding in found] == [Verdict.OPEN]


def test_every_rule_that_finds_declares_known_fields_only():
    fields = {*FIELDS}
    assert {*ENDS} == fields - {"depth"}  # of two values both are tried
    for rule in finding_rules():
        assert {*rule.ends_for((), CodeBook(2023))} <= fields, rule.name


def test_where_a_place_gives_a_thicker_wire_the_smaller_allowance_sizes_are_tried():
    amended = """
place = "Cold Harbor"

[[box_fill.conductor_room]]
from = 2008
cite = "Cold Harbor 12-3"
rows = { 18 = 1.5, 16 = 1.75, 14 = 2, 12 = 9, 10 = 2.5, 8 = 3, 6 = 5 }
"""
    sheet = "amendments place.toml\nbox A\n  marked 20 in3\n  clamps none\nrun A > ? ?/2 nm-b\n"
    job = read_job(sheet, beside=lambda name: amended)
    (finding,) = [finding for finding in check(job, 2023).findings if finding.rule == "box-fill"]
    assert finding.worst is not None
    assert finding.worst.needed == 27
