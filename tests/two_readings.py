"""The core and the naive second readings of raceways, pull boxes, wireways and circuits on random sheets, side by side.

Used by ``tests/test_raceways_against_naive.py`` and by the long run, ``scripts/read_twice.py``.
"""

from __future__ import annotations

import re
from fractions import Fraction
from random import Random

from ampleroom import Verdict, check, read_job
from tests.naive_circuits import Circuit
from tests.naive_conduit_bodies import naive_conduit_body
from tests.naive_pull_boxes import naive_pull_box, needed_at
from tests.naive_raceways import BORE, naive_raceway
from tests.naive_wireways import naive_wireway
from tests.random_raceways import random_conduit_body, random_pull_box, random_raceway
from tests.random_wireways import random_wireway

OF_CIRCUITS = (
    *("wire-protection", "conductor-ampacity", "continuous-load", "breaker-load", "range-circuit", "appliance-breaker"),
    *("nameplate-wire", "nameplate-breaker", "motor-wire", "motor-breaker"),
)
SIZES: dict[str, list[str]] = {}
for kind, size in BORE:
    SIZES.setdefault(kind, []).append(size)
WAY = {"from left to right": "across", "from top to bottom": "down", "from the back to the cover": "deep"}
MEASURED = re.compile(rf"is \S+(?: \S+)? in\. (?P<way>{'|'.join(WAY)}) and needs")


def raceways(seed: str, *, unknowns: bool) -> tuple[str, str, str, str]:
    """A random raceway: its sheet, the verdict of the core, that of the naive reading, and what else differs."""
    sheet = random_raceway(Random(seed), unknowns=unknowns)
    job = read_job(sheet)
    findings = [each for each in check(job).subject("R1").findings if each.rule == "raceway-fill"]
    core = max(each.verdict for each in findings).word
    readings = {reading.name: reading.choice for reading in job.readings}
    return sheet, core.replace("check needed", "open"), naive_raceway(job, job.raceways[0], readings), ""


def pull_boxes(seed: str, *, unknowns: bool) -> tuple[str, str, str, str]:
    """The same of a random pull box; of one with all facts known its least measures too."""
    sheet = random_pull_box(Random(seed), unknowns=unknowns)
    job = read_job(sheet)
    box = job.box("PB")
    findings = [each for each in check(job).subject("PB").findings if each.rule == "pull-box"]
    core = max(each.verdict for each in findings).word if findings else "nothing"
    readings = {reading.name: reading.choice for reading in job.readings}
    naive = naive_pull_box(job, box, readings, SIZES)
    differs = ""
    if findings and not unknowns and "straight-splice" not in readings:  # by it, a distance may hold or not
        wanted = {way: inches for way, inches in needed_at(job, box, readings, SIZES).items() if inches}
        there = {}
        for each in findings:
            told = MEASURED.search(each.message)
            if told and each.worst:
                there[WAY[told["way"]]] = Fraction(each.worst.needed)
        if there != wanted:
            differs = f"needs {there}, by the naive reading {wanted}"
    return sheet, core.replace("check needed", "open"), naive, differs


def conduit_bodies(seed: str, *, unknowns: bool) -> tuple[str, str, str, str]:
    """The same of a random conduit body."""
    sheet = random_conduit_body(Random(seed), unknowns=unknowns)
    job = read_job(sheet)
    findings = [each for each in check(job).subject("LB").findings if each.rule == "conduit-body-large"]
    core = max(each.verdict for each in findings).word if findings else "nothing"
    readings = {reading.name: reading.choice for reading in job.readings}
    assert job.edition is not None
    naive = naive_conduit_body(job, job.box("LB"), job.edition, readings)
    return sheet, core.replace("check needed", "open"), naive, ""


def wireways(seed: str, *, unknowns: bool) -> tuple[str, str, str, str]:
    """The same of a random wireway or gutter, by each of its rules."""
    sheet = random_wireway(Random(seed), unknowns=unknowns)
    job = read_job(sheet)
    core: dict[str, Verdict] = {}
    for each in check(job).subject("W1").findings:
        core[each.rule] = max(each.verdict, core.get(each.rule, Verdict.PASSES))
    told = {rule: verdict.word.replace("check needed", "open") for rule, verdict in core.items()}
    naive = {rule: word for rule, word in naive_wireway(job, job.wireways[0]).items() if word != "nothing"}
    differing = [
        f"{rule}: {told.get(rule, 'nothing')}, by the naive reading {naive.get(rule, 'nothing')}"
        for rule in sorted({*told, *naive})
        if told.get(rule) != naive.get(rule) and not (unknowns and told.get(rule) == "open")
    ]
    order = ("passes", "advice", "open", "fails")
    worst, by_naive = (max(each.values(), key=order.index, default="nothing") for each in (told, naive))
    return sheet, worst, by_naive, "; ".join(differing)


def circuits(seed: str, *, unknowns: bool) -> tuple[str, str, str, str]:
    """The same of a random circuit, whose every fact is known: the verdict of each rule."""
    circuit = Circuit(seed)
    worst: dict[str, Verdict] = {}
    for finding in check(read_job(circuit.sheet)).subject("circuit 1").findings:
        is_advice = finding.rule == "breaker-load" and (circuit.horsepower or circuit.by_nameplate)
        if finding.rule in OF_CIRCUITS and not is_advice:  # that a breaker trips under its motor is left out here
            worst[finding.rule] = max(worst.get(finding.rule, finding.verdict), finding.verdict)
    core = ", ".join(f"{rule} {worst[rule].word}" for rule in OF_CIRCUITS if rule in worst)
    found = circuit.found()
    return circuit.sheet, core, ", ".join(f"{rule} {found[rule]}" for rule in OF_CIRCUITS if rule in found), ""


OF = {
    "raceways": raceways,
    "pull-boxes": pull_boxes,
    "conduit-bodies": conduit_bodies,
    "wireways": wireways,
    "circuits": circuits,
}


def disagreement(seed: str, *, of: str, unknowns: bool) -> tuple[str, str]:
    """What the two readings disagree on, with the sheet, or nothing; and the core's verdict with the naive one.

    With unknown facts the core may leave open what the naive reading settles by trying everything; it may never settle
    what is open.
    """
    sheet, core, naive, differs = OF[of](seed, unknowns=unknowns)
    agreed = core == naive or (unknowns and core == "open")
    told = differs if agreed else f"{core}, by the naive reading {naive}; {differs}"
    return (f"{sheet}\n{told}" if told else ""), f"{core} / {naive}"
