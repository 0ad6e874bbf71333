"""What the rules other than box fill find of a box, at its worst and, where facts are unknown, at its best."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from importlib import import_module

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption, Bounds, End, Ends, Values, bounds
from ampleroom.job.model import DistributionBlock
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.allowance import is_large
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.judge.weighing import Side
from ampleroom.rules.effects import Outcome, open_facts
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.words import TOO_MANY_FACTS, worst_case_message
from ampleroom.worksheet import Finding, Verdict, between


@cache
def finding_rules(of_bodies: bool = True, of_large: bool = True, of_blocks: bool = True) -> tuple[Rule, ...]:
    """The rules other than box fill, in the order of their findings. Each is loaded when a box is there of which it
    says anything: a conduit body, one with conductors of 4 AWG and larger, or one with a power distribution block.
    """
    bodies = ("conduit_body.splices", "conduit_body.passing") if of_bodies else ()
    large = ("box.pull_box", *(("conduit_body.large",) if of_bodies else ())) if of_large else ()
    blocks = ("box.distribution_block",) if of_blocks else ()
    names = (*bodies, "box.depth", "box.side_entry", *large, *blocks, "box.support_ratings")
    return tuple([rule_in(import_module(f"ampleroom.rules.{name}")) for name in names])


def judged(side: Side, book: CodeBook) -> Iterator[Finding]:
    """What the other rules find; a verdict that depends on unknown facts is open."""
    space = side.space
    may_be_large = bool(side.needed) or any(is_large(each.size, book) for each in space.entering)
    for rule in finding_rules(space.is_conduit_body, may_be_large, bool(space.of(DistributionBlock))):
        if not side.needed:
            yield from rule.function(space, book)
            continue
        ends = rule.ends_for(side.items, book)
        if all(ends.get(fact.field) == "neither" for fact in side.needed):
            yield from rule.function(space, book)
        else:
            yield from judged_at_both_ends(rule, side, ends)


def judged_at_both_ends(rule: Rule, side: Side, declared: Ends) -> Iterator[Finding]:
    """What one rule finds of a space on which unknown facts bear."""
    ends: dict[str, End] = {}
    for field, end in declared.items():
        if end != "neither":
            ends[field] = end
        elif field in ENDS:
            ends[field] = ENDS[field]

    def judge(assumption: Assumption) -> list[Finding]:
        return list(rule.function(side.cases.under(assumption), side.book))

    def attempt(values: Values) -> Outcome:
        tried = bounds(judge, ends, severity_first, values)
        return Outcome(verdict_of(tried), (verdicts(tried.worst), verdicts(tried.best)))

    case = bounds(judge, ends, severity_first)
    best_messages = {finding.message for finding in case.best}
    verdict = verdict_of(case)
    for finding in case.worst:
        if verdict is Verdict.OPEN and (finding.verdict is Verdict.FAILS or not case.is_complete):
            needed = [unknown for unknown in case.needed.values() if declared.get(unknown.fact.field) != "neither"]
            facts = tuple(open_facts(needed, ends, attempt))
            yield finding._replace(verdict=Verdict.OPEN, message=worst_case_message(finding.message), facts=facts)
        elif finding.message not in best_messages:
            yield finding._replace(message=worst_case_message(finding.message))
        else:
            yield finding
    if not case.worst and not case.is_complete:
        message = TOO_MANY_FACTS.format(side.space.subject)
        cite = book_cite(rule, side.book)
        yield Finding(rule.name, Verdict.OPEN, side.space.subject, message, cite, side.space.box.at)


def book_cite(rule: Rule, book: CodeBook) -> str:
    """Where the book has a rule: the section of the first table it reads."""
    return next((str(book[table].cite) for table in rule.reads), "")


def severity_first(findings: list[Finding]) -> tuple[int, Decimal]:
    """Orders what a rule finds in one case from worse to better: by the verdict, then by what is to spare."""
    severity = max((finding.verdict for finding in findings), default=Verdict.PASSES)
    margins = [finding.worst.margin for finding in findings if finding.worst is not None]
    return -severity, min(margins, default=NO_LIMIT)


def verdict_of(case: Bounds[list[Finding]]) -> Verdict:
    """What the worst and the best case make of a rule's findings."""
    if not case.is_complete:
        return Verdict.OPEN
    worst, best = (
        max((finding.verdict for finding in findings), default=Verdict.PASSES) for findings in (case.worst, case.best)
    )
    return between(worst, best)


def verdicts(findings: list[Finding]) -> tuple[tuple[Verdict, str], ...]:
    """Verdict and message of each finding: two cases that agree in these are the same to a person."""
    return tuple([(finding.verdict, finding.message) for finding in findings])
