"""What the tests of the sheet share: one line in, its record or its faults out."""

from __future__ import annotations

from typing import Any

from ampleroom.job import Fault, Job, Sheet, read_with_faults, write_job
from ampleroom.job.lines import UNDER_A_BOX

UNDER = {word for statement in UNDER_A_BOX for word in statement.words}
AMENDMENTS = 'place = "Cold Harbor"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n'
AROUND = """
panel P
box J1
box J9
circuit 3
circuit 5
route attic
raceway R1 P > J9 emt 1
"""


def job_and_faults(text: str) -> tuple[Job, list[Fault]]:
    return read_with_faults(Sheet(text), beside=lambda name: AMENDMENTS)


def faults(text: str) -> list[str]:
    """What is told of a sheet: message, and the hint after a semicolon."""
    return [fault.message + (f"; {fault.hint}" if fault.hint else "") for fault in job_and_faults(text)[1]]


def job(text: str) -> Job:
    """The job in a sheet that has no fault."""
    found, told = job_and_faults(text)
    assert told == []
    return found


def item(line: str) -> Any:
    """The record of one line under a box. It is the same after it was written and read again."""
    found = job(f"box J1\n  {line}\n")
    assert job(write_job(found)) == found, write_job(found)
    (only,) = found.boxes[0].items
    return only


def run(line: str) -> Any:
    """The record of one run between places that are there. It is the same after it was written and read again."""
    found = job(AROUND + line + "\n")
    assert job(write_job(found)) == found, write_job(found)
    (only,) = found.runs
    return only


def fault(line: str) -> str:
    """The only fault of one line; a line that belongs there stands under a box."""
    words = line.split()
    under = words and words[0].lower() in UNDER
    (only,) = faults(f"box X1\n{line}\n" if under else f"{AROUND}{line}\n")
    return only
