"""Conductors written one kind after another: ``3 x #6 thhn, 1 x #10 white, ground #10 bare, isolated ground #12``."""

from __future__ import annotations

from ampleroom.job.lines.statement import maybe, times, words_joined
from ampleroom.job.model import Wires
from ampleroom.job.trade import COLORS, GROUND_COLORS, INSULATIONS
from ampleroom.job.words import Words


def wires_here(words: Words) -> bool:
    """Whether a group of conductors stands at the cursor."""
    return words.peek() in ("ground", "grounds", "isolated") or _is_group(words)


def _is_group(words: Words) -> bool:
    start = words.i
    try:
        words.count()
        return words.is_size() or (words.i > start and _bare_size(words))
    finally:
        words.i = start


def _bare_size(words: Words) -> bool:
    """``3 x 12 thhn``: a size without its # after a count."""
    from ampleroom.job.words import size_word

    return size_word(words.peek()) != "" and "/" not in words.peek().removesuffix("/0")


def read_wires(words: Words) -> tuple[Wires, ...]:
    """All the groups from the cursor on; a comma may stand between them."""
    groups = [read_group(words)]
    while True:
        start = words.i
        words.take(",", "and", "+")
        if not wires_here(words):
            words.i = start
            return tuple(groups)
        groups.append(read_group(words))


def read_group(words: Words) -> Wires:
    """One group of like conductors. Raises ``Unreadable``."""
    role = "insulated"
    if words.take("isolated"):
        if not words.take("ground", "grounds"):
            raise words.unknown("word after 'isolated'", ["ground"])
        role = "isolated ground"
    elif words.take("ground", "grounds"):
        role = "ground"
    count = words.count()
    size = words.size()
    if role == "insulated" and words.take("ground", "grounds"):
        role = "ground"
    insulation = color = ""
    while words.more:
        if named := words.take(*INSULATIONS):
            insulation = named
        elif color and words.peek() in COLORS:
            raise words.at_cursor(
                "a group of wires has one color", "write each color with its count: 1 x #12 black, 1 x #12 white"
            )
        elif words.peek() == "compact" and words.peek(1) in INSULATIONS:
            words.i += 1
            insulation = f"compact {words.take(*INSULATIONS)}"
        elif named := words.take(*COLORS):
            color = named
        elif words.peek() == "grey":
            words.i += 1
            color = "gray"
        elif role == "insulated" and is_ground_before(words):
            words.i += 1
            role = "ground"
        else:
            break
    if role == "insulated" and color in GROUND_COLORS:
        role = "ground"
    return Wires(count, size, role, insulation, color)  # type: ignore[arg-type]


def is_ground_before(words: Words) -> bool:
    """Whether the word ground at the cursor is of the group before it, as in ``1 x #6 bare ground``, and not the first
    of the next.
    """
    if words.peek() not in ("ground", "grounds"):
        return False
    start = words.i
    words.i += 1
    of_next = _is_group(words)
    words.i = start
    return not of_next


def write_wires(groups: tuple[Wires, ...]) -> str:
    """All groups, in the plain form."""
    return ", ".join(write_group(group) for group in groups)


def write_group(group: Wires) -> str:
    """One group of like conductors, in the plain form."""
    role = "" if group.role == "insulated" else group.role
    count = times(group.count) if role else f"{maybe(group.count)} x "
    return words_joined(role, f"{count}#{maybe(group.size)}", group.color, group.insulation)
