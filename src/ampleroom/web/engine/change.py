"""Changes by a tap: the sheet as it is then, and the box as it is then."""

from __future__ import annotations

from typing import Any

from ampleroom.check import book_for
from ampleroom.job import Fault, Job
from ampleroom.job.edit import edited
from ampleroom.web.edits import change_for
from ampleroom.web.engine.request import Question, edition_of, opened, opened_after, text_of
from ampleroom.web.engine.view import box_view, fault_data


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
    return after_edit(text, after, made.box or data.get("box") or "", data)


def refuse_new_faults(before: tuple[Fault, ...], job: Job, faults: tuple[Fault, ...]) -> None:
    """A tap never leaves a line that cannot be read; what somebody types may."""
    known = {fault.message for fault in before}
    new = next((fault for fault in faults if fault.message not in known), None)
    if new is not None and job.boxes:
        hint = f"; {new.hint}" if new.hint else ""
        raise Question(f"line {new.line} could not be read any more: {new.message}{hint}")


def after_edit(before: str, after: str, name: str, data: dict[str, Any]) -> dict[str, Any]:
    """The answer to a change of a sheet's text: the text after it, its faults, and the box of that name as it is then."""
    job, faults = opened_after(before, after)
    answer: dict[str, Any] = {
        "sheet": after,
        "title": job.title,
        "faults": [fault_data(fault) for fault in faults],
        "view": None,
    }
    if name and (job.edition is not None or data.get("edition") is not None):  # else nothing can be judged, only kept
        box = job.box_or_none(name)
        if box is not None:
            answer["view"] = box_view(job, box, book_for(job, edition_of(job, data)), len(faults))
    return answer
