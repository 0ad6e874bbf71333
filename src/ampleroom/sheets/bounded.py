"""A workbook or CSV files read in a process of their own, with a bound on its memory and its time.

A workbook of a few thousand bytes can claim to be of any size, and the library that reads it then takes the memory; a
table of nothing but commas takes fifty times its size. A damaged one may end the process that reads it.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from ampleroom.errors import AmpleroomError, FileTrouble, SheetFaults
from ampleroom.job import Fault, Job, Sheet, read_sheet
from ampleroom.job.beside import beside_in
from ampleroom.job.sheet import LARGEST
from ampleroom.sheets.reading import read_workbooks

MOST_MEMORY = 2_000_000_000
MOST_SECONDS = 30
SOURCE = Path(__file__).resolve().parents[2]
TOO_MUCH = "that file takes too much memory or time to read; is it the right one?"


class TooMuch(FileTrouble):
    """The process was stopped at its bounds, or by what it read; ``why`` is for a log."""

    def __init__(self, why: str) -> None:
        super().__init__(TOO_MUCH)
        self.why = why


def answer_of(module: str, data: dict[str, Any]) -> dict[str, Any]:
    """What a module of ours answers as a process: JSON in, JSON out. ``TooMuch`` where it gave none."""
    path = os.pathsep.join([str(SOURCE), *filter(None, [os.environ.get("PYTHONPATH")])])
    try:
        done = subprocess.run(
            [sys.executable, "-m", module],
            input=json.dumps(data).encode(),
            capture_output=True,
            check=True,
            timeout=2 * MOST_SECONDS,
            env={**os.environ, "PYTHONPATH": path},
        )
        answer: dict[str, Any] = json.loads(done.stdout)
    except (subprocess.SubprocessError, ValueError) as trouble:
        stderr = (getattr(trouble, "stderr", None) or b"").decode("utf-8", "replace")[-300:]
        raise TooMuch(f"{type(trouble).__name__} {stderr!r}") from None
    return answer


def bound_this_process() -> None:
    """From here on this process gets so much memory and time and no more; on Windows its starter bounds the time
    alone.
    """
    try:
        import resource
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))


def read_bounded(paths: list[Path], names: dict[str, str]) -> Job:
    """The job in one workbook, or in several CSV files together, as ``read_workbooks`` reads it."""
    answer = answer_of(__name__, {"paths": [str(path) for path in paths], "names": names})
    if "faults" in answer:
        faults = [Fault(**{**fault, "place": tuple(fault["place"])}) for fault in answer["faults"]]
        raise SheetFaults(answer["file"], faults)
    if "error" in answer:
        raise FileTrouble(answer["error"])
    sheet = Sheet(answer["sheet"], answer["file"])
    return read_sheet(sheet, beside_in(paths[0].parent))


def main() -> None:
    """Reads the request on standard input and writes the answer, as JSON."""
    bound_this_process()
    sys.stdout.buffer.write(json.dumps(answered(json.loads(sys.stdin.buffer.read()))).encode())


def answered(data: dict[str, Any]) -> dict[str, Any]:
    """The job's sheet, its faults or what stopped it, as plain data."""
    try:
        job = read_workbooks([Path(path) for path in data["paths"]], data["names"])
    except SheetFaults as trouble:
        fields = ("file", "line", "column", "end", "message", "hint", "source", "place")
        faults = [{name: getattr(fault, name) for name in fields} for fault in trouble.faults]
        return {"faults": [{**fault, "source": fault["source"][:400]} for fault in faults], "file": trouble.file}
    except AmpleroomError as trouble:
        return {"error": str(trouble)}
    assert job.sheet is not None  # it was made from the tables
    if len(job.sheet.text) > LARGEST:
        return {"error": TOO_MUCH}
    return {"sheet": job.sheet.text, "file": job.sheet.file}


if __name__ == "__main__":
    main()
