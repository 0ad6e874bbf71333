"""What the tests of the command line share: a sheet of each exit status, and two ways to run a command."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any, NamedTuple

from ampleroom.cli import main

ROOT = Path(__file__).resolve().parent.parent.parent
CAUTION_ENDS = "with the circuit off and tested."

PASSES = """job Sail loft
edition 2020
box J1 at the winch
  square 4 x 2-1/8
  clamps inside
run J1 > ? 12/2 nm-b
"""
FAILS = """job Cider press
edition 2020
box J1 at the vat
  device 3 x 2 x 1-1/2
  clamps inside
  receptacle #12
run J1 > ? 3 x 12/2 nm-b
"""
OPEN = """job Boathouse studio
edition 2020
box J1 at ridge
  marked ? in3
  clamps tabs
run J1 > ? 12/2 nm-b
"""
FAULTY = """job Tide mill
edition 2020
box J1
  sqare 4 x 1-1/2
  switch #13
"""
NO_EDITION = PASSES.replace("edition 2020\n", "")
SHEETS = {"passes": PASSES, "fails": FAILS, "open": OPEN, "faulty": FAULTY, "no-edition": NO_EDITION}


class Ran(NamedTuple):
    status: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.out)
        return found


def inside(*words: str) -> Ran:
    """A command run in this process."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            status = main(list(words))
        except SystemExit as ended:  # the option parser's own way out
            status = int(ended.code or 0)
    return Ran(status, out.getvalue(), err.getvalue())


def outside(*words: str, typed: bytes | None = None, **environment: str) -> Ran:
    """A command run as a process of its own, its output piped."""
    ran = subprocess.run(
        [sys.executable, "-m", "ampleroom", *words],
        input=typed,
        capture_output=True,
        check=False,
        timeout=60,
        env=process_environment(**environment),
    )
    return Ran(ran.returncode, ran.stdout.decode(), ran.stderr.decode())


def process_environment(**more: str) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "NO_COLOR", "TERM")}
    return {**kept, "PYTHONPATH": str(ROOT / "src"), "PYTHONIOENCODING": "utf-8", **more}
