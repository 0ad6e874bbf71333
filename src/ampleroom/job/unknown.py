"""``?``: a fact nobody knows. It is an answer of its own, never a zero and never a guess."""

from __future__ import annotations

from enum import Enum
from typing import Final, Literal, TypeAlias, TypeVar


class UnknownType(Enum):
    """The type of ``UNKNOWN``, which is its only value."""

    UNKNOWN = "?"

    def __repr__(self) -> str:
        return "UNKNOWN"

    def __str__(self) -> str:
        return "?"


UNKNOWN: Final = UnknownType.UNKNOWN

NotKnown = Literal[UnknownType.UNKNOWN]
T = TypeVar("T")
Maybe: TypeAlias = T | NotKnown
"""A fact, or ``UNKNOWN``."""
