"""The script that changes rules to see whether the tests notice: what it needs of the test runner."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TESTS = """
import pytest

@pytest.fixture(scope="module")
def kept():
    return 1

def test_that_fails(kept):
    assert kept == 2

def test_after_it(kept):
    assert kept == 1
"""
RUN = """
import sys, pytest
from scripts.mutate import run_item

class Plugin:
    def pytest_runtestloop(self, session):
        print([run_item(item) for item in session.items])
        return True

pytest.main(["-q", "-s", "-p", "no:cacheprovider", sys.argv[1]], plugins=[Plugin()])
"""


def test_a_failing_test_leaves_nothing_behind_that_fails_the_next(tmp_path: Path) -> None:
    file = tmp_path / "test_two.py"
    file.write_text(TESTS, "utf-8")
    command = [sys.executable, "-c", RUN, str(file)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert "[False, True]" in done.stdout
