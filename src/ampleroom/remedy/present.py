"""Remedies, plans and takeoffs as JSON: the same on the command line, on the server and in the page."""

from __future__ import annotations

from typing import Any

from ampleroom.job.model import Job
from ampleroom.remedy.box import Nothing, not_tried
from ampleroom.remedy.plan import Plan, Reexamined
from ampleroom.remedy.remedy import Rate, Remedy
from ampleroom.remedy.stock import Stock, money
from ampleroom.remedy.takeoff import Takeoff, TakeoffLine
from ampleroom.remedy.trial import Trial
from ampleroom.report import decimal_json, edition_json
from ampleroom.words import CAUTION
from ampleroom.worksheet import OpenFact


def remedy_json(remedy: Remedy, stock: Stock) -> dict[str, Any]:
    """One remedy: amounts as text with two decimals, minutes and in3 as text."""
    return {
        "box": remedy.box,
        "kind": remedy.kind,
        "what": remedy.action,
        "cost": str(remedy.cost(stock)),
        "price": str(remedy.price),
        "minutes": str(remedy.minutes),
        "disturbs": remedy.disturbance.word,
        "damage": remedy.disturbance.text,
        "margin": decimal_json(remedy.margin),
        "unit": remedy.unit.plain,
        "leaves": remedy.room_text,
        "buys": [
            {"what": buy.item, "number": decimal_json(buy.quantity), "each": str(buy.each)} for buy in remedy.buys
        ],
        "per_foot": [rate_json(rate, stock) for rate in remedy.rates],
        "per_foot_text": rate_texts(remedy.rates, stock),
        "details": list(remedy.details),
        "kinds": [kind.name for kind in remedy.kinds],
        "touches": sorted(remedy.touches),
        "also_fixes": sorted(remedy.also_fixes),
        "taken_for_granted": list(remedy.notes),
    }


def rate_json(rate: Rate, stock: Stock) -> dict[str, Any]:
    """What one foot costs of something whose length is not known, with its labor."""
    return {
        "what": rate.item,
        "each": str(rate.each),
        "minutes": str(rate.minutes),
        "cost": str(rate.cost(stock)),
        "length_of": rate.length_of,
    }


def rate_texts(rates: tuple[Rate, ...], stock: Stock) -> list[str]:
    """``plus $5.44 for each foot of EMT 1-1/4, with labor: the length of R1 is not known``."""
    return [
        f"plus {money(rate.cost(stock), stock.currency)} for each foot of {rate.item}, with labor: the length of "
        f"{rate.length_of} is not known"
        for rate in rates
    ]


def nothing_json(nothing: Nothing) -> dict[str, Any]:
    """Why nothing helps a box."""
    return {
        "box": nothing.box,
        "headline": nothing.headline,
        "check_first": nothing.is_open,
        "reasons": list(nothing.reasons),
    }


def fact_json(fact: OpenFact | None) -> dict[str, Any] | None:
    """The fact to check first; None where there is none."""
    return None if fact is None else {"question": fact.question, "settles": fact.settles}


def box_json(
    trial: Trial,
    name: str,
    offered: list[Remedy],
    nothing: Nothing | None,
    fact: OpenFact | None,
    stock: Stock,
) -> dict[str, Any]:
    """The answer for one box: its remedies, or why there are none, and what to check first."""
    return {
        "schema": "ampleroom-remedies/1",
        "job": {"title": trial.job.title, "file": trial.job.file},
        "edition": edition_json(trial.book),
        "box": name,
        "verdict": trial.reports[name].verdict.word,
        "currency": stock.currency,
        "remedies": [remedy_json(remedy, stock) for remedy in offered],
        "nothing_helps": nothing_json(nothing) if nothing else None,
        "first_find_out": fact_json(fact),
        "not_tried": list(not_tried(trial, trial.subjects[name], stock)) if offered or nothing else [],
        "caution": CAUTION,
    }


def plan_json(plan: Plan) -> dict[str, Any]:
    """A plan for the whole job, as schema ``ampleroom-plan/1``."""
    return {
        "schema": "ampleroom-plan/1",
        "job": {"title": plan.job.title, "file": plan.job.file},
        "edition": edition_json(plan.book),
        "currency": plan.stock.currency,
        "cost": str(plan.cost),
        "bound": str(plan.bound),
        "gap_percent": round(plan.choice.gap, 3),
        "proved": plan.choice.is_proved,
        "summary": plan.summary,
        "proof": plan.proof,
        "found_by": plan.choice.found_by,
        "rounds": plan.rounds,
        "parts": str(plan.parts),
        "minutes": str(plan.minutes),
        "labor": str(plan.stock.labor(plan.minutes)),
        "kinds": list(plan.kinds),
        "kind_charge": str(plan.stock.kind_charge),
        "per_foot": rate_texts(plan.rates, plan.stock),
        "remedies": [remedy_json(remedy, plan.stock) for remedy in plan.remedies],
        "nothing_helps": [nothing_json(nothing) for nothing in plan.nothing],
        "first_find_out": {name: fact_json(fact) for name, fact in plan.facts.items()},
        "not_looked_at": list(plan.unseen),
        "not_tried": {name: list(texts) for name, texts in plan.not_tried.items()},
        "caution": CAUTION,
    }


def reexamined_json(reexamined: Reexamined) -> dict[str, Any]:
    """What fails under another edition, as schema ``ampleroom-reexamined/1``."""
    return {
        "schema": "ampleroom-reexamined/1",
        "before": edition_json(reexamined.before.book, reexamined.before.not_compared),
        "after": edition_json(reexamined.after.book, reexamined.after.not_compared),
        "newly_failing": list(reexamined.newly_failing),
        "plan": plan_json(reexamined.plan),
        "caution": CAUTION,
    }


def takeoff_json(job: Job, counted: Takeoff) -> dict[str, Any]:
    """A takeoff, as schema ``ampleroom-takeoff/1``."""
    return {
        "schema": "ampleroom-takeoff/1",
        "job": {"title": job.title, "file": job.file},
        "currency": counted.currency,
        "waste_percent": str(counted.waste_percent),
        "lines": [takeoff_line_json(line) for line in counted.lines],
        "total": str(counted.total),
        "lines_without_price": counted.unpriced,
        "minutes": str(counted.minutes),
        "not_known": list(counted.missing),
        "caution": CAUTION,
    }


def takeoff_line_json(line: TakeoffLine) -> dict[str, Any]:
    """One line of a takeoff; price None where the stock file has none."""
    return {
        "group": line.group,
        "what": line.item,
        "number": str(line.quantity),
        "unit": line.unit,
        "each": None if line.each is None else str(line.each),
        "price": None if line.price is None else f"{line.price:.2f}",
        "note": line.note,
    }
