"""Box fill: conductors that come in from outside, and those that never leave."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_counts import CONDUCTORS
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.model import Pigtails
from ampleroom.job.trade import RANK, size_text
from ampleroom.rules.allowance import allowance, is_large, times_counted
from ampleroom.rules.box.fill.low_voltage import LOW_VOLTAGE
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, How, Space, exactly

NAME = "box-fill-conductors"

ORDER = {"ends": 0, "passes": 1, "looped": 2}
SAYS = {
    "ends": "Spliced or terminated here",
    "passes": "Passing through unbroken",
    "looped": "Passing through with a long loop",
}


@rule(
    NAME,
    title="Conductors",
    topic="fill",
    drawn_as="conductors",
    counts=(Pigtails,),
    tables=(CONDUCTORS, CONDUCTOR_ROOM),
    readings=("unmeasured-loop", "loop-threshold", "neutral-bundle", "spare-conductors", "crossing-conductor"),
)
def conductors_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Count every insulated conductor that comes into the box, each by its own size. It counts once if it is spliced,
    terminated or passes straight through. It counts twice if it passes through unbroken with a loop or coil at least
    twice as long as the free conductor the code asks for. A pigtail or jumper that never leaves the box counts
    nothing.

    Grounds, fixture wires and low-voltage wires are counted under their own rules. #4 and larger has no allowance:
    pull-box distances size that box.

    Why: Conductors need room to bend without being nicked, and air to carry off their heat. A long loop may be cut and
    spliced later, and then it takes the room of two.
    """
    terms = book[CONDUCTORS]
    groups: dict[tuple[How, str], list[Entering]] = {}
    for entering in space.entering:
        if entering.role == "insulated" and not entering.low_voltage:
            groups.setdefault((entering.how, entering.size), []).append(entering)

    for (how, size), members in sorted(groups.items(), key=lambda group: (ORDER[group[0][0]], -RANK[group[0][1]])):
        conductors = sum([member.count for member in members], Decimal(0))
        why = "; ".join(alike_together([member.own_name(space.box.name) for member in members]))
        each = allowance(size, book)
        if each is None and is_large(size, book):
            pull = book[PULL_BOX]
            why = f"no allowance; pull-box distances apply: {why}"
            label = f"{SAYS[how]}, {size_text(size)}"
            yield Counted(NAME, label, conductors, Decimal(0), why, pull.cite, pull.confidence)
            continue
        if each is None:
            each = book[CONDUCTOR_ROOM].rows[book[LOW_VOLTAGE].count_as]
            why += f"; the table begins at {size_text(book[LOW_VOLTAGE].count_as)}"
        if how == "looped":
            why += f"; each counts {terms.looped} times"
        times = times_counted(how, book)
        readings = tuple(dict.fromkeys([reading for member in members for reading in member.readings]))
        if "unmeasured-loop" in readings:
            why += "; slack that was not measured, or lands on a terminal"
        yield Counted(
            NAME,
            f"{SAYS[how]}, {size_text(size)}",
            conductors * times,
            each,
            why,
            terms.cite,
            terms.confidence,
            readings,
        )

    yield from pigtail_lines(space, book)


def pigtail_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Pigtails and jumpers inside: nothing, and said so."""
    terms = book[CONDUCTORS]
    for pigtails in space.of(Pigtails):
        if not pigtails.ground:
            each = allowance(pigtails.size, book) or Decimal(0)
            label = f"Pigtails that never leave the box, {size_text(pigtails.size)}"
            why = f"{pigtails.count} in all; no part of them comes from outside"
            yield Counted(
                NAME,
                label,
                exactly(pigtails.count) * terms.inside,
                each,
                why,
                terms.cite,
                terms.confidence,
            )


def alike_together(names: Sequence[str]) -> list[str]:
    """``1 x #12 passing on P > J2`` told three times as ``3 x #12 passing on P > J2``."""
    together: dict[str, int] = {}
    for name in names:
        many, _, what = name.partition(" ")
        is_counted = many.isdigit() and what.startswith("x ")
        rest = what if is_counted else name
        together[rest] = together.get(rest, 0) + (int(many) if is_counted else 0)
    return [f"{number} {rest}" if number else rest for rest, number in together.items()]
