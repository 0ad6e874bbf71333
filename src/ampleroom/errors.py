"""What Ampleroom raises. A box that is too small is never an error; it is a finding.

AmpleroomError
├── SheetFaults       a job sheet, or a file beside it, has lines that cannot be read: all of them, with their places
├── EditionUnknown    an edition that is not offered
│   └── EditionMissing    a sheet that does not say which edition is adopted there
├── NameUnknown       a box, rule or reading that is not there, with the nearest names
└── FileTrouble       a file that cannot be opened, is no text, or is too large
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ampleroom.job.faults import Fault


class AmpleroomError(Exception):
    """Anything a person can put right; its text says what is so and what to do."""


class SheetFaults(AmpleroomError):
    """The faults of one sheet, in the order of its lines."""

    unit = "line"
    """What one fault stands in."""

    def __init__(self, file: str, faults: Iterable[Fault]) -> None:
        self.file = file
        self.faults = tuple(sorted(faults, key=lambda fault: (fault.place, fault.file, fault.line, fault.column)))
        super().__init__("\n".join(fault.first_line for fault in self.faults))


class EditionUnknown(AmpleroomError):
    """An edition nobody can answer for."""


class EditionMissing(EditionUnknown):
    """A sheet that does not say which edition is adopted there; no default would be right everywhere."""


class NameUnknown(AmpleroomError):
    """A name that is not there; the nearest ones are said."""

    def __init__(self, noun: str, name: str, known: Iterable[str]) -> None:
        known = list(known)
        self.name = name
        self.nearest = nearest(name, known)
        sentence = f"there is no {noun} {name!r}"
        if self.nearest:
            sentence += f"; the nearest {'is' if len(self.nearest) == 1 else 'are'} " + " and ".join(self.nearest)
        elif known:
            sentence += f"; there {'is' if len(known) == 1 else 'are'} " + ", ".join(known[:12])
            sentence += " ..." if len(known) > 12 else ""
        super().__init__(sentence)


class FileTrouble(AmpleroomError):
    """A file that cannot be used, and what to do about it."""


def nearest(word: str, known: Iterable[str], most: int = 2) -> list[str]:
    """The known words most like this one, by spelling, upper and lower case alike. Where one is plainly meant
    (``plater`` is ``plaster``), one much less like it (``heater``) is left out.
    """
    if len(word) > 40:
        return []
    from difflib import SequenceMatcher, get_close_matches  # loaded only when somebody mistyped

    by_lower = {name.lower(): name for name in known}
    close = get_close_matches(word.lower(), by_lower, most, LIKE)
    if len(close) > 1:
        likeness = [SequenceMatcher(None, match, word.lower()).ratio() for match in close]
        close = [match for match, ratio in zip(close, likeness, strict=True) if ratio > likeness[0] - MUCH_LESS]
    return [by_lower[match] for match in close]


LIKE = 0.65
"""How much alike two words are, from 0 to 1, before one is suggested for the other: ``sqaure`` and ``square`` are 0.83,
``customer`` and ``timer`` 0.62."""
MUCH_LESS = 0.2
"""Two words are not offered together if their likeness to the typed one, from 0 to 1, differs by so much."""
