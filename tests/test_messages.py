"""Every text a person may meet stands in one list, so that none changes without notice; and all keep the ten rules."""

from __future__ import annotations

import difflib
import hashlib
import re
import sys

import pytest

from tests import messages

STIFF = {
    r"\bhangs? on (?:it|this|what|whether|how)\b": "depends on",
    r"\bput right\b|\bputs? (?:it|them|all|everything|a job|\w+) right\b": "fix",
    r"\bat the (?:worst|best)\b": "worst case, best case",
    r"\bto spare\b": "spare",
    r"\btaken for granted\b": "assumes",
    r"\bnobody has\b|\bno one has\b": "not known, not checked yet",
    r"\bwhatever else\b": "any other",
    r"\bof which\b": "say it in two sentences",
    r"\bconductors that end here\b": "spliced or terminated here",
    r"\broom there is\b|\bfill needed\b": "box volume, box fill",
    r"\bnot settled\b": "check needed",
    r"\bdisturbs:": "wall damage",
    r"\bthe book's\b": "the code's",
    r"\bout of reach\b": "out of range",
    r"\bis no (?:cable|trade size|number|whole number|conductor size)\b": "is not a ...",
}
"""What our texts used to say, and what they say instead (docs/voice.md)."""
ALLOWED = frozenset({"not settled"})
"""Messages that hold such words for a reason: form 1 of the JSON keeps its word."""


def test_no_message_changes_without_notice():
    kept = messages.LIST.read_text("utf-8").splitlines()
    changes = [
        line
        for line in difflib.unified_diff(kept, messages.messages(), lineterm="", n=0)
        if not line.startswith(("---", "+++", "@@"))
    ]
    assert not changes, "read each aloud, then: python -m tests.messages --write\n" + "\n".join(changes[:80])


@pytest.mark.parametrize("stiff", STIFF)
def test_no_message_speaks_stiffly(stiff: str):
    pattern = re.compile(stiff, re.IGNORECASE)
    found = [text for text in messages.messages() if pattern.search(text) and text not in ALLOWED]
    assert not found, f"say instead: {STIFF[stiff]}\n" + "\n".join(found)


BRANDS = frozenset(
    {
        "15a9b873e5e57488",
        "94db1320ba7c7e11",
        "a33b7db992dbbfbd",
        "a5089291e1f81d82",
        "a60087b935a3d6bb",
        "f9bc2b8faf09d32e",
    }
)
"""Words that are brands, which the trade uses as if they were not; as hashes, for no file here holds one. Common
practice, no source. To add a word: the first 16 digits of the SHA-256 of it in small letters."""


def hashed(word: str) -> str:
    """How a word stands in ``BRANDS``."""
    return hashlib.sha256(word.lower().encode()).hexdigest()[:16]


def brands_in(text: str) -> list[str]:
    """The brand words of a text, also where they stand in the plural."""
    return [word for word in re.findall(r"[A-Za-z]+", text) if {hashed(word), hashed(word.removesuffix("s"))} & BRANDS]


def test_no_brand_of_the_trade_is_named():
    assert not [text for text in messages.messages() if brands_in(text)]


def test_a_brand_would_be_noticed(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys.modules[__name__], "BRANDS", frozenset({hashed("acmeduct")}))
    assert brands_in("three AcmeDucts and a box") == ["AcmeDucts"]


def test_the_list_sees_texts_of_every_kind():
    texts = set(messages.in_python('x = f"{a} needs {b.c}"\n"""not this"""\ny: "nor this" = "but this one"'))
    assert texts == {"{a} needs {c}", "but this one"}
    script = "// not 'this one'\nel('p', 'but this one', `and ${job.name} ${many ? 'or that one' : `${n} more`} too`)"
    assert list(messages.in_script(script)) == ["p", "but this one", "and {name} {many} too", "or that one", "{n} more"]
    assert len(messages.messages()) > 1000
