"""What one wireway or gutter holds, with every fact settled one way or another: the rules weigh a ``FilledWireway``."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption, Ends, Unknown, fact_of
from ampleroom.job.cables import makeup
from ampleroom.job.lines.wireways import section_text
from ampleroom.job.model import Job, Raceway, Run, Wireway
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, inches
from ampleroom.rules.raceway.filled import Asker, Lying, of_run
from ampleroom.rules.raceway.limit import area_in
from ampleroom.rules.runs_at_box import stops_text
from ampleroom.rules.space import exactly
from ampleroom.where import Where

ENDS: Ends = {
    **dict.fromkeys(
        (
            *("wires count", "run count", "cable width", "wire width", "wire size", "cable size", "ground size"),
            *("insulation", "cable conductors", "splice area"),
        ),
        "large",
    ),
    **dict.fromkeys(("wireway side", "wireway area"), "small"),
}
"""One percentage holds for any number of conductors, so more and thicker ones are worse; so is less room."""


class Subject(NamedTuple):
    """A wireway or gutter to judge, the runs that come into it and the raceways that end at it."""

    wireway: Wireway
    runs: tuple[Run, ...]
    lengths: tuple[int, ...]
    """Of each run, how many lengths of it lie there."""
    raceways: tuple[Raceway, ...] = ()

    @property
    def name(self) -> str:
        """Its name: ``W1``."""
        return self.wireway.name

    @property
    def at(self) -> Where:
        """Where its line stands."""
        return self.wireway.at

    @property
    def has_ends(self) -> bool:
        """Whether some run ends in it: it is spliced or tapped there."""
        return any(stop.name == self.name for run in self.runs for stop in run.stops)


class FilledWireway(NamedTuple):
    """A wireway or gutter with all that comes into it."""

    subject: Subject
    area: Decimal
    """Of its section inside, in2."""
    lying: tuple[Lying, ...]
    carrying: Decimal
    """Conductors in it that may carry current: all but grounds; neutrals are not told apart."""
    splices: Decimal | None
    """What splices and taps take of its section, in2; None: the sheet does not say, and no run ends in it."""

    @property
    def wireway(self) -> Wireway:
        """Its line in the sheet."""
        return self.subject.wireway

    @property
    def name(self) -> str:
        """Its name: ``W1``."""
        return self.subject.name

    @property
    def is_gutter(self) -> bool:
        """Whether it is an auxiliary gutter, which has sections of the code of its own."""
        return self.wireway.form == "gutter"

    @property
    def is_judged(self) -> bool:
        """Whether rules apply: it is metal, and something lies in it."""
        return bool(self.lying) and not self.wireway.nonmetallic

    @property
    def conductors_area(self) -> Decimal:
        """What all conductors in it take, in2; ``NO_LIMIT`` where nobody knows."""
        return area_in(each.piece for each in self.lying)

    @property
    def section(self) -> str:
        """Its two sides: ``4 x 4 in.``."""
        return f"{section_text(self.wireway)} in."


def wireways_of(job: Job, form: str) -> Iterator[Subject]:
    """The wireways of a job, or its gutters, in the order of the sheet."""
    graph = job.graph
    for wireway in job.wireways:
        if wireway.form == form:
            name = wireway.name.casefold()
            ending = tuple([each for each in job.raceways if name in map(str.casefold, each.ends)])
            lying = graph.runs_in_wireways[wireway.name]
            yield Subject(wireway, tuple([run for run, _ in lying]), tuple([lengths for _, lengths in lying]), ending)


def filled(subject: Subject, book: CodeBook, assumption: Assumption) -> FilledWireway:
    """A wireway or gutter put together, an assumption asked for every fact nobody knows."""
    asker = Asker(subject.name, book, assumption)
    lying: list[Lying] = []
    carrying = Decimal(0)
    for run, lengths in zip(subject.runs, subject.lengths, strict=True):
        for each in of_run(run, asker):
            count = each.count * lengths
            lying.append(each._replace(count=count, why=why_of(each, lengths, subject.name)))
            if each.is_cable:
                of_one = cable_conductors(run, each, asker)
                carrying += count * of_one if count and of_one else Decimal(0)
            elif not each.is_ground:
                carrying += count
    return FilledWireway(subject, area_of(subject.wireway, asker), tuple(lying), carrying, splices_of(subject, asker))


def why_of(each: Lying, lengths: int, name: str) -> str:
    """Where like conductors go, and why they count more than once."""
    why = each.why
    if each.is_cable:
        why = stops_text(each.run.stops)
        if 0 < each.diameter < NO_LIMIT:
            why += f"; a circle on its wider side, {inches(each.diameter)}"
    return f"{why}; in {name} {lengths} times: what comes in and what leaves" if lengths > 1 else why


def cable_conductors(run: Run, each: Lying, asker: Asker) -> Decimal:
    """How many insulated conductors one cable has."""
    assert run.cable is not None
    inside = makeup(run.cable._replace(size=each.size))
    counts = [wires.count for wires in inside.wires if wires.role == "insulated"] if inside else [UNKNOWN]
    if UNKNOWN in counts:
        return asker.count(run, "cable conductors", f"how many conductors {run.cable.name} has", exactly(1))
    return exactly(sum(count for count in counts if count is not UNKNOWN))


def area_of(wireway: Wireway, asker: Asker) -> Decimal:
    """Its section inside, in2. A side nobody measured is asked for; of both, the area."""
    known = [side for side in wireway.inside if side is not UNKNOWN]
    if len(known) == len(wireway.inside):
        return known[0] * known[1]
    if known:
        text = f"the other inside measure of {wireway.name}, beside {inches(known[0])}"
        side = asker.width(wireway, "wireway side", text)
        return known[0] * side if side else Decimal(0)
    return asked_area(wireway, "wireway area", f"how large {wireway.name} is inside", asker)


def splices_of(subject: Subject, asker: Asker) -> Decimal | None:
    """What splices and taps take where they take most, in2; asked for where runs end there and nobody wrote it."""
    written = subject.wireway.splices
    if written is None and not subject.has_ends:
        return None
    if written is None or written is UNKNOWN:
        text = f"how much of its section the splices and taps in {subject.name} take, where they take most"
        return asked_area(subject.wireway, "splice area", text, asker)
    return written


def asked_area(wireway: Wireway, field: str, text: str, asker: Asker) -> Decimal:
    """An area in in2, from nothing up."""
    ends = (Decimal(0), NO_LIMIT)
    return asker.assumption.take(Unknown(fact_of(wireway, field), text, ends, is_range=True, unit="in2"))
