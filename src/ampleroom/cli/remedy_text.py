"""Remedies as text and as JSON."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ampleroom.cli.paper import Paper
from ampleroom.cli.text import description_text, write_caution
from ampleroom.quantities import plural
from ampleroom.remedy.box import Nothing
from ampleroom.remedy.plan import Plan, Reexamined
from ampleroom.remedy.present import rate_texts
from ampleroom.remedy.remedy import CIRCUIT, Remedy
from ampleroom.remedy.stock import Stock, money
from ampleroom.remedy.takeoff import plain
from ampleroom.remedy.trial import Trial
from ampleroom.worksheet import OpenFact, Verdict


def minutes_text(minutes: Decimal) -> str:
    """``45 min``, ``1 h 35 min``."""
    whole = int(minutes.to_integral_value())
    return f"{whole // 60} h {whole % 60:02} min" if whole >= 60 else f"{whole} min"


def first_upper(text: str) -> str:
    """The text with its first letter a capital, the others as they are."""
    return text[:1].upper() + text[1:]


# ---- one box -------------------------------------------------------------------------------------------------------


EACH_CHECKED = (
    "Each fix is checked against every rule, with open facts at their worst. Cheapest first. A fix is left "
    "out where another is at least as good in price, time, damage and room."
)


EACH_OF_CIRCUIT = "Each fix is checked against every rule, with open facts at their worst. Cheapest first."


def write_box_remedies(
    trial: Trial,
    name: str,
    offered: list[Remedy],
    nothing: Nothing | None,
    fact: OpenFact | None,
    left_out: tuple[str, ...],
    stock: Stock,
    paper: Paper,
) -> None:
    """Every fix for one box, or why there is none."""
    report = trial.reports[name]
    paper.ends(name + description_text(report), trial.book.title, style="bold")
    for finding in report.findings:
        if not finding.verdict.is_allowed:
            paper.line(f"{finding.verdict.shape} {finding.message}", indent=2, hang=4, style=finding.verdict.word)
    if report.verdict.is_allowed and offered:
        for finding in report.findings:
            if finding.verdict is Verdict.ADVICE:
                paper.line(f"{finding.verdict.shape} {finding.message}", indent=2, hang=4, style=finding.verdict.word)
        paper.line("o Passes as it is. What follows is advice.", indent=2, style="passes")
    elif report.verdict.is_allowed:
        paper.line("o Passes as it is. Nothing to fix.", indent=2, style="passes")
    if fact is not None and not (nothing is not None and nothing.is_open):
        paper.line()
        paper.line(f"Check first: {fact.question}", indent=2, hang=4, style="bold")
        paper.line(fact.settles, indent=4)
    if nothing is not None:
        paper.line()
        write_nothing(nothing, paper)
    for rank, remedy in enumerate(offered, 1):
        paper.line()
        write_remedy(rank, remedy, stock, paper)
    for text in left_out:
        paper.line()
        paper.line(f"{text} Other fixes may exist.", indent=2, hang=4)
    if offered:
        paper.line()
        paper.line(EACH_OF_CIRCUIT if report.kind == CIRCUIT else EACH_CHECKED, indent=2, style="dim")
    write_caution(paper)


def write_remedy(rank: int, remedy: Remedy, stock: Stock, paper: Paper) -> None:
    """One fix of a list: what to do, what it costs, what to buy, what it assumes."""
    currency = stock.currency
    paper.line(f"{rank}. {first_upper(remedy.action)}", indent=2, hang=5, style="bold")
    paper.line(f"{cost_text(remedy, stock)}; {remedy.room_text}", indent=5)
    write_rates(remedy, stock, paper, indent=5)
    for buy in remedy.buys:
        each = f" at {money(buy.each, currency)}"
        paper.line(f"{plain(buy.quantity)} x {buy.item}{each}", indent=7, hang=9, style="dim")
    for detail in remedy.details:
        paper.line(detail, indent=7, hang=9)
    for note in remedy.notes:
        paper.line(f"assumes {note}", indent=7, hang=9, style="dim")


def write_rates(remedy: Remedy, stock: Stock, paper: Paper, indent: int) -> None:
    """What is on top of the price by the foot, for lengths nobody wrote."""
    for text in rate_texts(remedy.rates, stock):
        paper.line(text, indent=indent, hang=indent + 2, style="bold")


def cost_text(remedy: Remedy, stock: Stock) -> str:
    """``$21.60: parts $3.20, 12 min; no wall damage``."""
    parts = f"parts {money(remedy.price, stock.currency)}, {minutes_text(remedy.minutes)}"
    return f"{money(remedy.cost(stock), stock.currency)}: {parts}; {remedy.disturbance.text}"


def write_nothing(nothing: Nothing, paper: Paper) -> None:
    """A box that cannot be fixed from the stock file, and why."""
    shape, style = ("?", "check needed") if nothing.is_open else ("X", "fails")
    paper.line(f"{shape} {nothing.box}: {nothing.headline}", indent=2, hang=4, style=style)
    for reason in nothing.reasons:
        paper.line(f"- {reason}", indent=4, hang=6)


# ---- the whole job -------------------------------------------------------------------------------------------------


def write_plan(plan: Plan, paper: Paper) -> None:
    """The lowest cost that makes every box pass: what to do at each."""
    stock = plan.stock
    paper.ends(plan.job.title or plan.job.file, plan.book.title, style="bold")
    if not plan.remedies and not plan.nothing and not plan.unseen:
        paper.line(f"o {plan.summary}.", style="passes")
        write_caution(paper)
        return
    if plan.remedies:
        write_costs(plan, paper)
    for name, fact in plan.facts.items():
        paper.line(f"Before you buy for {name}, check {fact.question}: {fact.settles}.", indent=2, hang=4)
    for action, remedies in alike(plan.remedies).items():
        paper.line()
        first = remedies[0]
        paper.line(action, indent=2, hang=4, style="bold")
        each = "each " if len(remedies) > 1 else ""
        paper.line(f"{each}{cost_text(first, stock)}", indent=4)
        paper.line(f"at {places_text(remedies)}", indent=4, hang=7)
        write_rates(first, stock, paper, indent=4)
        for detail in first.details:
            paper.line(detail, indent=4, hang=6)
        for note in first.notes:
            paper.line(f"assumes {note}", indent=4, hang=6, style="dim")
    for nothing in plan.nothing:
        paper.line()
        write_nothing(nothing, paper)
    for name, texts in plan.not_tried.items():
        paper.line()
        paper.line(f"{name}: {' '.join(texts)} Other fixes may exist.", indent=2, hang=4)
    if plan.unseen:
        paper.line()
        paper.line(f"Not checked, because the search was stopped: {', '.join(plan.unseen)}", indent=2, hang=4)
    if plan.remedies:
        paper.line()
        paper.line(
            "'--apply' writes this into the sheet. 'remedy NAME' lists every fix for one of them.",
            indent=2,
            style="dim",
        )
    write_caution(paper)


def places_text(remedies: list[Remedy]) -> str:
    """``A1 (2.50 in3 spare), A2 (exactly full)``; boxes left with the same room together."""
    by_room: dict[str, list[str]] = {}
    for remedy in remedies:
        by_room.setdefault(remedy.room_text, []).append(remedy.box)
    return "; ".join(f"{', '.join(names)} ({room})" for room, names in by_room.items())


def write_costs(plan: Plan, paper: Paper) -> None:
    """What the plan costs, of what, and how good that is."""
    stock, currency = plan.stock, plan.stock.currency
    labor = f"labor {money(stock.labor(plan.minutes), currency)} ({minutes_text(plan.minutes)})"
    kinds = f", {money(stock.kind_charge * len(plan.kinds), currency)} for carrying boxes" if plan.kinds else ""
    paper.line(f"{plan.summary}: parts {money(plan.parts, currency)}, {labor}{kinds}", hang=2)
    if plan.kinds:
        carried = plural(len(plan.kinds), "kind of box", "kinds of box")
        paper.line(f"{carried} to carry: {', '.join(plan.kinds)}", indent=2, hang=4)
    paper.line(plan.proof, indent=2, hang=4)


def alike(remedies: tuple[Remedy, ...]) -> dict[str, list[Remedy]]:
    """Remedies that are the same thing at several boxes, together."""
    groups: dict[tuple[Any, ...], list[Remedy]] = {}
    for remedy in remedies:
        key = (remedy.action, remedy.buys, remedy.minutes, remedy.disturbance, remedy.notes)
        groups.setdefault((*key, remedy.rates, remedy.details), []).append(remedy)
    texts: dict[str, list[Remedy]] = {}
    for (action, *_), group in groups.items():
        text = first_upper(action)
        while text in texts:
            text += " "
        texts[text] = group
    return texts


def write_reexamined(reexamined: Reexamined, paper: Paper) -> None:
    """Print what newly fails under the other edition, and what would fix it."""
    before, after = reexamined.before.book, reexamined.after.book
    paper.ends(
        reexamined.plan.job.title or reexamined.before.job.title or reexamined.before.job.file,
        f"{before.title} against {after.title}",
        style="bold",
    )
    for note in (after.edition.note,):
        if note:
            paper.line(f"Provisional: {note}.", indent=2)
    if not reexamined.newly_failing:
        paper.line(
            f"o Every box that passes under the {before.title} also passes under the {after.title}.",
            style="passes",
            hang=2,
        )
        write_caution(paper)
        return
    boxes = plural(len(reexamined.newly_failing), "box", "boxes")
    passes = "passes" if len(reexamined.newly_failing) == 1 else "pass"
    paper.line(
        f"X {boxes} that {passes} under the {before.title} would not under the {after.title}:", style="fails", hang=2
    )
    for name in reexamined.newly_failing:
        for finding in reexamined.after.subject(name).findings:
            if not finding.verdict.is_allowed:
                paper.line(finding.message, indent=4, hang=6)
    paper.line()
    write_plan(reexamined.plan, paper)
