"""What else fits, what would put a box or the whole job right, and what to buy for it."""

from __future__ import annotations

from typing import Any

from ampleroom.check import book_for
from ampleroom.editions import CodeBook
from ampleroom.fits import Fit, fits, how_many
from ampleroom.fits import trial as tried_with
from ampleroom.job import Job
from ampleroom.job.edit import edited
from ampleroom.job.model import Box
from ampleroom.pictures.room import before_and_after, room_outline
from ampleroom.record import Record
from ampleroom.remedy import Stock
from ampleroom.remedy.box import first_fact, is_advised, remedies, why_nothing
from ampleroom.remedy.plan import Plan, plan, reexamine
from ampleroom.remedy.present import box_json, plan_json, reexamined_json, takeoff_json
from ampleroom.remedy.remedy import Remedy
from ampleroom.remedy.takeoff import takeoff
from ampleroom.remedy.trial import Trial
from ampleroom.report import Report, edition_json
from ampleroom.web.engine.change import after_edit
from ampleroom.web.engine.request import (
    SECONDS,
    Question,
    edition_of,
    limits_of,
    offered_year,
    opened,
    solver_of,
    stock_of,
    text_of,
    with_names_of_their_own,
)
from ampleroom.web.engine.view import drawing_data
from ampleroom.words import CAUTION


def answer_fits(data: dict[str, Any]) -> dict[str, Any]:
    """How many more of each common cable, or of ``what``, would still go in; for one, the box as it would be then."""
    job, _ = opened(text_of(data))
    book = book_for(job, edition_of(job, data))
    name, *sides = text_of(data, "box").split("/")
    place = "/".join([job.box(name).name, *sides])
    addition = " ".join((data.get("what") or "").split())
    if not addition:
        several = fits(job, place, book)
        return {**fits_head(job, book, place), "more": [fit_data(fit) for fit in several], "caution": CAUTION}
    tried = tried_with(job, place, addition, book)
    return {
        **Report(job, book, (tried.report,)).to_json(),
        **fits_head(job, book, place),
        "fits": tried.verdict.word,
        "what": addition,
        "more": [fit_data(how_many(job, place, addition, book))],
    }


def fits_head(job: Job, book: CodeBook, place: str) -> dict[str, Any]:
    """What both answers about what fits begin with, as ``fits --json`` prints it."""
    return {
        "schema": "ampleroom-fits/2",
        "job": {"title": job.title, "file": job.file},
        "edition": edition_json(book),
        "box": place,
    }


def fit_data(fit: Fit) -> dict[str, Any]:
    """One line of what fits as JSON: how many more for certain, how many more at best, and both in words."""
    return {"what": fit.addition, "certain": fit.certain, "possible": fit.possible, "text": fit.text}


class RemediesOfBox(Record):
    """One box or raceway with the remedies that are offered for it, in the order of their numbers."""

    trial: Trial
    box: Any
    """The record that is judged: a box, or a raceway with what lies in it."""
    stock: Stock
    passes: bool
    offered: list[Remedy]


def remedies_of_box(data: dict[str, Any]) -> RemediesOfBox:
    """The remedies of the question's box, within its limits and stock; none where the box passes."""
    job = with_names_of_their_own(opened(text_of(data))[0])
    limits = limits_of(data)
    stock = stock_of(data)
    stock = stock.only_in_stock() if limits.only_in_stock else stock
    trial = Trial(job, book_for(job, edition_of(job, data)), limits.spare)
    box = trial.subject(text_of(data, "box"))
    passes = trial.reports[box.name].verdict.is_allowed
    wanted = not passes or is_advised(trial.reports[box.name])
    offered = remedies(trial, box, stock, limits.margin) if wanted else []
    if limits.no_plaster:
        offered = [remedy for remedy in offered if remedy.disturbance.word != "plaster"]
    return RemediesOfBox(trial, box, stock, passes, offered)


def answer_remedies(data: dict[str, Any]) -> dict[str, Any]:
    """Every remedy of one box, each with a picture of before and after, and the two by themselves for a narrow
    screen.
    """
    made = remedies_of_box(data)
    trial, box = made.trial, made.box
    nothing = None if made.passes or made.offered else why_nothing(trial, box, made.stock)
    answer = box_json(trial, box.name, made.offered, nothing, first_fact(trial, box), made.stock)
    for row, remedy in zip(answer["remedies"], made.offered, strict=True):
        if not isinstance(box, Box) or remedy.leaves:
            continue  # the picture is of the room in a box, and room was not what was short
        after = trial.after(remedy.change)[remedy.fixed_name]
        before = trial.reports[box.name]
        if before.fill_findings and after.fill_findings:
            row["picture"] = drawing_data(
                before_and_after(before.fill_findings[0], after.fill_findings[0], remedy.action)
            )
            row["narrow"] = [drawing_data(room_outline(found.fill_findings[0])) for found in (before, after)]
    return answer


def answer_apply(data: dict[str, Any]) -> dict[str, Any]:
    """The sheet with a remedy made: the one chosen for a box, or the whole plan."""
    if data.get("box"):
        made = remedies_of_box(data)
        chosen = 1 if data.get("choose") is None else data["choose"]
        if not 1 <= chosen <= len(made.offered):
            raise Question(f"there is no remedy number {chosen}; the list has {len(made.offered)}")
        chosen_one = made.offered[chosen - 1]
        answer = after_edit(text_of(data), edited(made.trial.job, chosen_one.change), made.box.name, data)
        return {**answer, "label": f"fix: {chosen_one.action}"}
    planned = plan_of(data)
    return after_edit(text_of(data), edited(planned.job, planned.change), "", data)


def plan_of(data: dict[str, Any]) -> Plan:
    """The plan for the whole job; shown and made alike, so that what is made is what was shown."""
    job = with_names_of_their_own(opened(text_of(data))[0])
    book = book_for(job, edition_of(job, data))
    return plan(job, book, stock_of(data), limits_of(data), solver=solver_of(data), seconds=SECONDS)


def answer_plan(data: dict[str, Any]) -> dict[str, Any]:
    """The cheapest fixes for the whole job, as ``remedy --json`` prints them."""
    return plan_json(plan_of(data))


def answer_takeoff(data: dict[str, Any]) -> dict[str, Any]:
    """What ``takeoff --json`` prints: parts, labor and their prices."""
    job, _ = opened(text_of(data))
    return takeoff_json(job, takeoff(job, stock_of(data)))


def answer_against(data: dict[str, Any]) -> dict[str, Any]:
    """The whole job by its own edition beside the edition ``against``, and what would fix it there."""
    job = with_names_of_their_own(opened(text_of(data))[0])
    then = offered_year(data["against"])
    now, solver = edition_of(job, data), solver_of(data)
    compared = reexamine(job, stock_of(data), now, then, limits_of(data), solver=solver, seconds=SECONDS)
    return reexamined_json(compared)
