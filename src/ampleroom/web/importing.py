"""A workbook or another table read in a process of its own, with a bound on its memory and its time.

A workbook of a few thousand bytes can claim to be of any size, and the library that reads it then takes the memory; a table
of nothing but commas takes fifty times its size. The process that does so must not be the one that keeps the jobs.
"""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from ampleroom.web import engine

log = logging.getLogger("ampleroom.web")

MOST_MEMORY = 2_000_000_000
MOST_SECONDS = 30
SOURCE = Path(__file__).resolve().parents[2]


def imported(data: dict[str, Any]) -> dict[str, Any]:
    """The answer to ``import``; a table that is too much for its process is refused."""
    if not str(data.get("name")).lower().endswith(engine.TABLES):
        return engine.answer("import", data)
    path = os.pathsep.join([str(SOURCE), *filter(None, [os.environ.get("PYTHONPATH")])])
    try:
        done = subprocess.run(
            [sys.executable, "-m", "ampleroom.web.importing"],
            input=json.dumps(data).encode(),
            capture_output=True,
            check=True,
            timeout=2 * MOST_SECONDS,
            env={**os.environ, "PYTHONPATH": path},
        )
        answer: dict[str, Any] = json.loads(done.stdout)
    except subprocess.SubprocessError as trouble:
        said = (getattr(trouble, "stderr", None) or b"").decode("utf-8", "replace")[-300:]
        log.warning("refused a workbook: %s %r", type(trouble).__name__, said)
        return {
            "error": "that file takes too much memory or time to read; is it the right one?",
            "kind": "question",
        }
    return answer


def main() -> None:
    try:
        import resource
    except ImportError:
        pass  # Windows: the time is bounded all the same
    else:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    answer = engine.answer("import", json.loads(sys.stdin.buffer.read()))
    sys.stdout.buffer.write(json.dumps(answer).encode())


if __name__ == "__main__":
    main()
