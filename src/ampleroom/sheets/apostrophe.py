"""Text in comma-separated values that a spreadsheet would take for a formula stands behind an apostrophe, and comes
back without it.
"""

from __future__ import annotations

import re
import unicodedata

FORMULA = tuple("=+-@")
FILLERS = "\u115f\u1160\u3164\uffa0"
"""Letters that are drawn as nothing."""
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")


def guarded(text: str) -> str:
    """A cell that no spreadsheet runs; a plain number stays one."""
    return "'" + text if is_risky(text.lstrip("'")) else text


def unguarded(text: str) -> str:
    """What was guarded: ``unguarded(guarded(text)) == text`` for every text."""
    return text[1:] if text.startswith("'") and is_risky(text[1:].lstrip("'")) else text


def is_risky(text: str) -> bool:
    """Whether it begins like a formula, behind what a spreadsheet passes over and in letters of any width."""
    if NUMBER.fullmatch(text):
        return False
    if text.startswith(("\t", "\r", "\n")):
        return True
    first = next((letter for letter in text if not is_passed_over(letter)), "")
    return unicodedata.normalize("NFKC", first).startswith(FORMULA)


def is_passed_over(letter: str) -> bool:
    """Whether a letter has no width of its own or is a space: what follows may be taken for the first of the cell."""
    return unicodedata.category(letter) in ("Cc", "Cf", "Mn", "Me", "Zs", "Zl", "Zp") or letter in FILLERS
