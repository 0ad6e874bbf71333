"""Findings on a leg, or on its whole circuit: a worksheet in words, and a question where the book or the sheet has no
number.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.arithmetic import Line
from ampleroom.rules.circuit.wired import Leg
from ampleroom.words import weighed_message
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet


def weighed(
    purpose: Purpose,
    leg: Leg,
    have: Line,
    need: tuple[Line, ...],
    cite: str,
    confidence: str,
    of_wire: bool = True,
    otherwise: Verdict = Verdict.FAILS,
    facts: tuple[OpenFact, ...] = (),
) -> Finding:
    """What there is against what is needed. ``of_wire``: it is about these runs, not about the circuit as a whole.
    ``otherwise``: the verdict where it is too little; ``facts``: what is asked where that leaves it open.
    """
    sheet = Worksheet((have,), need, purpose, otherwise)
    verdict = sheet.verdict
    return Finding(
        purpose.name,
        verdict,
        leg.name,
        weighed_message(leg.title if of_wire else leg.name, verdict, sheet),
        cite,
        leg.circuit.at,
        worst=sheet,
        facts=facts if verdict is Verdict.OPEN else (),
        also=tuple([run.at for run in leg.runs]) if of_wire else (),
        confidence=confidence,
    )


def asked(rule: str, leg: Leg, question: str, remedy: str, cite: str) -> Finding:
    """A finding that is open until somebody answers; ``remedy`` is what to write then."""
    fact = OpenFact(question, Decimal(0), remedy, leg.circuit.at)
    return Finding(rule, Verdict.OPEN, leg.name, f"{leg.name}: {question}", cite, leg.circuit.at, facts=(fact,))


__all__ = ["asked", "weighed"]
