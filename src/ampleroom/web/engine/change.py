"""Changes by a tap: the sheet as it is then, and the box as it is then."""

from __future__ import annotations

from typing import Any

from ampleroom.check import book_for, check_box
from ampleroom.editions import CodeBook
from ampleroom.job import Fault, Job
from ampleroom.job.again import lines_alike
from ampleroom.job.differences import PlacedText, difference_text, stretch_between
from ampleroom.job.edit import AddRun, Change, DropRun, PutRun, Step, edited
from ampleroom.job.model import Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.kinds import KINDS, Kind, headline_of
from ampleroom.rules.raceway.judge import KIND as RACEWAY_KIND
from ampleroom.web.edits import change_for
from ampleroom.web.engine.request import Question, edition_of, opened, opened_after, reading_of, text_of
from ampleroom.web.engine.view import PAGES, box_view, fault_data, subject_row
from ampleroom.words import big_word, headline_text, lowered, neighbor_text

BY_RUNS = (RACEWAY_KIND, "wireway", "gutter")
"""The kinds of subject beside boxes that a changed run bears on only where it names them, or a raceway that ends
there."""
MOST_ROWS = 40
"""A change that bears on more boxes than this has the whole list asked for."""


def answer_edit(data: dict[str, Any]) -> dict[str, Any]:
    """A change made by a tap: the sheet's text as it is then, and the box as it is then."""
    text = text_of(data)
    job, faults = opened(text)
    edit = data.get("edit")
    if edit is None:
        raise Question("'edit' is missing")
    made = change_for(job, edit)
    after = made.text if made.text is not None else edited(job, made.change)
    changed_job, changed_faults = opened_after(text, after)
    if edit["do"] != "set-text":
        refuse_new_faults(faults, changed_job, changed_faults)
    book = book_in_force(changed_job, data)
    answer = after_edit(text, after, made.box or data.get("box") or "", data, made.label, book)
    if made.change and book is not None:
        answer["also"] = neighbors(job, changed_job, made.change, edit.get("box") or made.box, book)
    return answer


MOST_NEIGHBORS = 4
"""So many other boxes are said to have changed by one tap."""


def neighbors(before: Job, after: Job, change: Change, name: str, book: CodeBook) -> list[dict[str, str]]:
    """The other boxes a change touched by a run, where their verdict or what they have left is not what it was."""
    touched = [run for step in change for run in runs_of(step)]
    names = dict.fromkeys(str(place) for run in touched for place in run.place_names if place is not UNKNOWN)
    changed_boxes = []
    for other in [each for each in names if each != name][:MOST_NEIGHBORS]:
        box, was = after.box_or_none(other), before.box_or_none(other)
        if box is None or was is None:
            continue
        report, report_before = check_box(after, box, book), check_box(before, was, book)
        headline = headline_of(report.kind)
        result = headline_text(report, headline) or lowered(big_word(report))
        if (report.verdict, result) != (report_before.verdict, headline_text(report_before, headline)):
            changed_boxes.append(
                {"box": box.name, "verdict": report.verdict.word, "says": neighbor_text(box.name, result)}
            )
    return changed_boxes


def runs_of(step: Step) -> tuple[Run, ...]:
    """The runs one step puts in, changes or takes out."""
    match step:
        case AddRun(run) | DropRun(run):
            return (run,)
        case PutRun(run, was):
            return (run, was)
    return ()


def refuse_new_faults(before: tuple[Fault, ...], job: Job, faults: tuple[Fault, ...]) -> None:
    """A tap never leaves a line that cannot be read; what somebody types may."""
    known = {fault.message for fault in before}
    new = next((fault for fault in faults if fault.message not in known), None)
    if new is not None and job.boxes:
        hint = f"; {new.hint}" if new.hint else ""
        raise Question(f"line {new.line} could not be read any more: {new.message}{hint}")


def book_in_force(job: Job, data: dict[str, Any]) -> CodeBook | None:
    """The book a job is judged by; None where no edition is known, so that nothing can be judged, only kept."""
    if job.edition is None and data.get("edition") is None:
        return None
    return book_for(job, edition_of(job, data))


def after_edit(
    before: str, after: str, name: str, data: dict[str, Any], label: str = "", book: CodeBook | None = None
) -> dict[str, Any]:
    """The answer to a change of a sheet's text: the text after it, its faults, and the box of that name as it is
    then. ``book``: the one in force after it, where it is known already.
    """
    job, faults = opened_after(before, after)
    texts = PlacedText(reading_of(before)), PlacedText(reading_of(after))
    answer: dict[str, Any] = {
        "sheet": after,
        "title": job.title,
        "label": label or difference_text(*texts),
        "faults": [fault_data(fault) for fault in faults],
        "view": None,
        "also": [],
        "changed_rows": None,
    }
    book = book or book_in_force(job, data)
    box = job.box_or_none(name) if name else None
    if box is not None and book is not None:
        answer["view"] = box_view(job, box, book, len(faults))
    if book is not None and data.get("edition") is None:
        answer["changed_rows"] = changed_rows(*texts, book)
    return answer


def patch_of(before: str, after: str) -> dict[str, Any]:
    """How to make one text of another: from line ``start``, counted from 0, ``drop`` lines go and ``put`` come;
    ``lines``: how many there are then.
    """
    first, last = lines_alike(before, after)
    new = after.split("\n")
    return {
        "start": first,
        "drop": before.count("\n") + 1 - first - last,
        "put": new[first : len(new) - last],
        "lines": len(new),
    }


def names_of(kind: Kind, job: Job) -> list[str]:
    """The names of all subjects of a kind in a job, in order."""
    return [subject.name for subject in kind.subjects(job)]


def changed_rows(before: PlacedText, after: PlacedText, book: CodeBook) -> list[dict[str, Any]] | None:
    """The rows of the list that a change may have altered, by the book in force; None where that may be any of them.

    Lines under a box bear on that box, a run on the places it meets, the raceways it lies in and the wireways those end
    at. Any other line may bear on all.
    """
    if before.reading.faults or after.reading.faults:
        return None
    job = after.reading.job
    others = [kind for kind in KINDS.values() if kind.name not in PAGES and tuple(kind.subjects(job))]
    far = [kind for kind in others if kind.name not in BY_RUNS]  # may depend on any run: all of them are sent
    if any(names_of(kind, before.reading.job) != names_of(kind, job) for kind in far):
        return None
    if sum(len(names_of(kind, job)) for kind in far) > MOST_ROWS:
        return None
    concerned: set[str] = set()
    raceways: set[str] = set()
    met: set[str] = set()
    for hunk in stretch_between(before, after):
        for text, numbers in (
            (before, range(hunk.start, hunk.end)),
            (after, range(hunk.new_start, hunk.new_end)),
        ):
            for number in numbers:
                if text.is_head(number):
                    return None
                if run := text.run_on(number):
                    met |= {str(name).casefold() for name in run.place_names}
                    concerned |= met
                    raceways |= {raceway.name.casefold() for raceway in run.raceways}
                elif owner := text.owner_of(number):
                    concerned.add(owner.partition("/")[0])
                if len(concerned) > MOST_ROWS:
                    return None
    if concerned & {kind.name.casefold() for kind in job.kinds}:
        return None
    boxes = [box for box in map(job.box_or_none, sorted(concerned)) if box is not None]
    rows = [subject_row(check_box(job, box, book)) for box in boxes]
    if "" in raceways:
        return None  # one known by its kind and size alone, which other runs may lie in too
    ended_at = {end.casefold() for each in job.raceways if each.name.casefold() in raceways for end in each.ends}
    for kind in others:
        names = raceways if kind.name == RACEWAY_KIND else raceways | met | ended_at
        near = [each for each in kind.subjects(job) if kind in far or each.name.casefold() in names]
        rows += [subject_row(kind.judge(subject, job.graph, book)) for subject in near]
    return rows
