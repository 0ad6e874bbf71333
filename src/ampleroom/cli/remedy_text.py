"""Remedies as text and as JSON."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_caution
from ampleroom.quantities import number, plural, volume
from ampleroom.remedy.box import Nothing
from ampleroom.remedy.plan import Plan, Reexamined
from ampleroom.remedy.remedy import Remedy
from ampleroom.remedy.stock import Stock
from ampleroom.remedy.trial import Trial
from ampleroom.worksheet import OpenFact


def money(amount: Decimal, stock: Stock) -> str:
    return f"{amount:.2f} {stock.currency}"


def minutes_text(minutes: Decimal) -> str:
    whole = int(minutes.to_integral_value())
    return f"{whole // 60} h {whole % 60:02} min" if whole >= 60 else f"{whole} min"


# ---- one box -------------------------------------------------------------------------------------------------------


def write_box_remedies(
    trial: Trial,
    name: str,
    found: list[Remedy],
    nothing: Nothing | None,
    fact: OpenFact | None,
    stock: Stock,
    paper: Paper,
) -> None:
    report = trial.reports[name]
    paper.ends(name + (f"  at {report.description}" if report.description else ""), trial.book.title, style="bold")
    for finding in report.findings:
        if not finding.verdict.is_allowed:
            paper.line(f"{finding.verdict.shape} {finding.message}", indent=2, hang=4, style=finding.verdict.word)
    if report.verdict.is_allowed:
        paper.line("o It passes as it is.", indent=2, style="passes")
    if fact is not None:
        paper.line()
        paper.line(f"First go and find out: {fact.question}", indent=2, hang=4, style="bold")
        paper.line(fact.settles, indent=4)
    if nothing is not None:
        paper.line()
        write_nothing(nothing, paper)
    for rank, remedy in enumerate(found, 1):
        paper.line()
        write_remedy(rank, remedy, stock, paper)
    if found:
        paper.line()
        paper.line(
            "Each was checked by the whole rules, with what is not known at its worst. Cheapest first; none beats another in everything.",
            indent=2,
            style="dim",
        )
    write_caution(paper)


def write_remedy(rank: int, remedy: Remedy, stock: Stock, paper: Paper) -> None:
    paper.line(f"{rank}. {remedy.what}", indent=2, hang=5, style="bold")
    head = f"{money(remedy.cost(stock), stock)}: parts {remedy.price:.2f}, {minutes_text(remedy.minutes)}"
    paper.line(f"{head}; disturbs: {remedy.disturbance.word}; {room_text(remedy.margin)}", indent=5)
    for buy in remedy.buys:
        paper.line(
            f"{number(buy.number).rstrip('0').rstrip('.')} x {buy.what} at {buy.each:.2f}",
            indent=7,
            hang=9,
            style="dim",
        )
    for note in remedy.notes:
        paper.line(f"taken for granted: {note}", indent=7, hang=9, style="dim")


def room_text(margin: Decimal) -> str:
    return "exactly full" if margin == 0 else f"leaves {volume(margin)}"


def write_nothing(nothing: Nothing, paper: Paper) -> None:
    paper.line(f"X {nothing.box}: nothing in the stock helps", indent=2, hang=4, style="fails")
    for reason in nothing.reasons:
        paper.line(f"- {reason}", indent=4, hang=6)


# ---- the whole job -------------------------------------------------------------------------------------------------


def write_plan(plan: Plan, paper: Paper) -> None:
    stock = plan.stock
    paper.ends(plan.job.title or plan.job.file, plan.book.title, style="bold")
    if not plan.remedies and not plan.nothing and not plan.unseen:
        paper.line("o Every box passes; there is nothing to put right.", style="passes")
        write_caution(paper)
        return
    write_costs(plan, paper)
    for name, fact in plan.facts.items():
        paper.line(f"Before you buy for {name}: {fact.question}; {fact.settles}.", indent=2, hang=4)
    for what, remedies in alike(plan.remedies).items():
        paper.line()
        one = remedies[0]
        paper.line(what, indent=2, hang=4, style="bold")
        each = "each " if len(remedies) > 1 else ""
        paper.line(
            f"{each}{money(one.cost(stock), stock)}: parts {one.price:.2f}, {minutes_text(one.minutes)}; disturbs: {one.disturbance.word}",
            indent=4,
        )
        paper.line(
            "at " + ", ".join(f"{remedy.box} ({room_text(remedy.margin)})" for remedy in remedies), indent=4, hang=7
        )
        for note in one.notes:
            paper.line(f"taken for granted: {note}", indent=4, hang=6, style="dim")
    for nothing in plan.nothing:
        paper.line()
        write_nothing(nothing, paper)
    if plan.unseen:
        paper.line()
        paper.line(f"Not looked at, as the search was stopped: {', '.join(plan.unseen)}", indent=2, hang=4)
    paper.line()
    paper.line(
        "'--apply' writes this into the sheet; 'remedy BOX' shows every way to mend one box.", indent=2, style="dim"
    )
    write_caution(paper)


def write_costs(plan: Plan, paper: Paper) -> None:
    stock = plan.stock
    labor = f"labor {money(stock.labor(plan.minutes), stock)} ({minutes_text(plan.minutes)})"
    fixed = plan.fixed_text or "Nothing"
    paper.line(f"{fixed} fixed for {money(plan.cost, stock)}: parts {money(plan.parts, stock)}, {labor}")
    if plan.kinds:
        charge = stock.kind_charge * len(plan.kinds)
        paper.line(
            f"{plural(len(plan.kinds), 'kind')} of box carried, {charge:.2f} in all: {', '.join(plan.kinds)}",
            indent=2,
            hang=4,
        )
    paper.line(proof_text(plan), indent=2, hang=4)


def proof_text(plan: Plan) -> str:
    """Cost, bound and gap, and who found it."""
    choice = plan.choice
    if choice.is_proved:
        must = f"{plural(choice.left, 'box', 'boxes')} must be left, and " if choice.left else ""
        return f"Proved least by {choice.found_by}: {must}no choice of these moves costs less than {plan.bound:.2f}."
    if choice.left > choice.fewest:
        boxes = plural(choice.left, "box is", "boxes are")
        return f"Found by {choice.found_by}; {boxes} left, and that fewer could not be left is not proved."
    return f"Found by {choice.found_by}; no choice of these moves can cost less than {plan.bound:.2f}, so at most {choice.gap:.1f} % too much."


def alike(remedies: tuple[Remedy, ...]) -> dict[str, list[Remedy]]:
    """Remedies that are the same thing at several boxes, together."""
    found: dict[tuple[Any, ...], list[Remedy]] = {}
    for remedy in remedies:
        found.setdefault((remedy.what, remedy.buys, remedy.minutes, remedy.disturbance, remedy.notes), []).append(
            remedy
        )
    texts: dict[str, list[Remedy]] = {}
    for (what, *_), group in found.items():
        key = what[0].upper() + what[1:]
        while key in texts:
            key += " "
        texts[key] = group
    return texts


def write_reexamined(found: Reexamined, paper: Paper) -> None:
    before, after = found.before.book, found.after.book
    paper.ends(
        found.plan.job.title or found.before.job.title or found.before.job.file,
        f"{before.title} against {after.title}",
        style="bold",
    )
    for note in (after.edition.note,):
        if note:
            paper.line(f"Provisional: {note}.", indent=2)
    if not found.newly_failing:
        paper.line(
            f"o Every box that passes by the {before.title} passes by the {after.title} too.", style="passes", hang=2
        )
        write_caution(paper)
        return
    boxes = plural(len(found.newly_failing), "box", "boxes")
    passes = "passes" if len(found.newly_failing) == 1 else "pass"
    paper.line(f"X {boxes} that {passes} by the {before.title} would not by the {after.title}:", style="fails", hang=2)
    for name in found.newly_failing:
        for finding in found.after.subject(name).findings:
            if not finding.verdict.is_allowed:
                paper.line(finding.message, indent=4, hang=6)
    paper.line()
    write_plan(found.plan, paper)
