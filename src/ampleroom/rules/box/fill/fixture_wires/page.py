"""What ``rule box-fill-fixture-wires`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.rules.box.fill.fixture_wires import FIXTURE_WIRES
from ampleroom.rules.page import Sentence, words

TRADE_WORDS = ("fixture wire", "canopy", "domed canopy", "luminaire wire", "lead", "equipment lead", "box fill")


def fixture_wires(book: CodeBook) -> str:
    """How many wires of a domed canopy are left out, and how thin they must be."""
    terms = book[FIXTURE_WIRES]
    return (
        f"Up to {words(terms.relieved)} wires from a domed canopy are left out if they are smaller than "
        f"{size_text(terms.smaller_than)}. So is its ground."
    )


SENTENCES = (Sentence((FIXTURE_WIRES,), fixture_wires),)
