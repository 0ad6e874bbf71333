"""What ``rule least-service`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import LEAST_SERVICE
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("minimum service", "smallest service")


def least(book: CodeBook) -> str:
    """The least rating."""
    return f"The service of a one-family dwelling is rated {count(book[LEAST_SERVICE].amperes)} A or more."


SENTENCES = (Sentence((LEAST_SERVICE,), least),)
