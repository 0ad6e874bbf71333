"""A workbook or another table brought in through the page, read in a process of its own: ``sheets/bounded.py`` says
why.

The process that does so must not be the one that keeps the jobs.
"""

from __future__ import annotations

import json
import logging
import sys
from typing import Any

from ampleroom.sheets.bounded import TooMuch, answer_of, bound_this_process
from ampleroom.web import engine

log = logging.getLogger("ampleroom.web")


def imported(data: dict[str, Any]) -> dict[str, Any]:
    """The answer to ``import``; a table that is too much for its process is refused."""
    if not str(data.get("name")).lower().endswith(engine.TABLES):
        return engine.answer("import", data)
    try:
        return answer_of(__name__, data)
    except TooMuch as trouble:
        log.warning("refused a workbook: %s", trouble.why)
        return {"error": str(trouble), "kind": "question"}


def main() -> None:
    """The process: the question as JSON on standard input, its answer on standard output."""
    bound_this_process()
    answer = engine.answer("import", json.loads(sys.stdin.buffer.read()))
    sys.stdout.buffer.write(json.dumps(answer).encode())


if __name__ == "__main__":
    main()
