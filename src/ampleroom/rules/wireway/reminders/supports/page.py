"""What ``rule wireway-supports`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence
from ampleroom.rules.wireway.reminders.supports import GUTTER, WIREWAY

TRADE_WORDS = ("wireway supports", "gutter supports", "hanging a wireway")


def wireway(book: CodeBook) -> str:
    """How far apart a wireway is supported, in feet."""
    terms = book[WIREWAY]
    return (
        f"A level wireway is supported at its ends and every {count(terms.level)} ft, in longer lengths up to every "
        f"{count(terms.longer)} ft; an upright one every {count(terms.upright)} ft."
    )


def gutter(book: CodeBook) -> str:
    """How far apart a gutter is supported, in feet."""
    return f"A gutter is supported every {count(book[GUTTER].level)} ft."


SENTENCES = (Sentence((WIREWAY,), wireway), Sentence((GUTTER,), gutter))
