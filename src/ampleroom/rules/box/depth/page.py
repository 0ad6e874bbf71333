"""What ``rule box-depth`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import inches
from ampleroom.rules.box.depth import BY_CONDUCTOR, EMPTY, LARGE, PROJECTING, REAR_ENTRY
from ampleroom.rules.page import Sentence, either

TRADE_WORDS = ("depth", "deep", "box depth", "shallow", "device depth")


def empty_depth(book: CodeBook) -> str:
    """The least depth of a box with no device, inches."""
    return f"A box with no device must be at least {inches(book[EMPTY].depth)} deep."


def projecting_depth(book: CodeBook) -> str:
    """The least depth behind a device that reaches far back, inches."""
    terms = book[PROJECTING]
    beyond, clearance = inches(terms.beyond), inches(terms.clearance)
    return f"Behind a device that reaches back more than {beyond}, the box must be that reach plus {clearance} deep."


def conductor_depth(book: CodeBook) -> str:
    """The least depth behind a device by the wires on it, inches."""
    rows = book[BY_CONDUCTOR].rows
    least = "; ".join(f"{inches(row.depth)} with {either(row.sizes)} on it" for row in rows)
    text = f"Behind a device the box must be at least this deep: {least}."
    for row in rows:
        if row.projecting_beyond is not None:
            beyond, clearance = inches(row.projecting_beyond), inches(row.clearance)
            text += (
                f" With {either(row.sizes)} and a device that reaches back more than {beyond}, it is the reach plus "
                f"{clearance}"
            )
    return text


def rear_entry_depth(book: CodeBook) -> str:
    """The clearance where wires come in behind a device, inches."""
    clearance = inches(book[REAR_ENTRY].clearance)
    return " ".join(
        f"Where {either(row.sizes)} comes in through the middle of the back wall, behind a device that reaches back "
        "more than "
        f"{inches(row.projecting_beyond)}, the clearance is {clearance}"
        for row in book[BY_CONDUCTOR].rows
        if row.projecting_beyond is not None
    )


def large_depth(book: CodeBook) -> str:
    """From which wire size a device needs a box identified for it."""
    return f"A device with wires larger than {size_text(book[LARGE].larger_than)} needs a box identified for it."


SENTENCES = (
    Sentence((EMPTY,), empty_depth),
    Sentence((PROJECTING,), projecting_depth),
    Sentence((BY_CONDUCTOR,), conductor_depth),
    Sentence((REAR_ENTRY,), rear_entry_depth),
    Sentence((LARGE,), large_depth),
)
