"""The server killed in mid-save. ``scripts/kill_server.py`` does the same hundreds of times."""

import sqlite3

import pytest
from scripts.kill_server import Job, Lost, kill, proved, serve

from tests.web.helpers import SHEET, Running


def test_nothing_answered_is_lost_however_often_it_is_killed(tmp_path):
    found = kill(8, 1, tmp_path)
    assert found["kills"] == 8
    assert found["answered"] > 8 * 6


@pytest.mark.parametrize(
    "damage",
    [
        "DELETE FROM versions WHERE version = 2",
        "DELETE FROM versions WHERE version = 3",
        "UPDATE versions SET sheet = 'another' WHERE version = 2",
        "INSERT INTO versions (job, version, label, made, sheet) SELECT id, 4, '', '', 'foreign' FROM jobs",
        "UPDATE jobs SET version = 2",
        "INSERT INTO jobs VALUES ('x', '', 1, '', '', '[]', '[]', 0)",
    ],
)
def test_the_proof_sees_what_is_lost(tmp_path, damage):
    """The same proof, on a database with something taken out or put in."""
    with Running(tmp_path) as server:
        job = server.new()
        for version, sheet in ((1, "two\n"), (2, "three\n")):
            server.put(f"/api/jobs/{job['id']}", base=version, sheet=sheet)
        known = Job(job["id"], {1: SHEET, 2: "two\n", 3: "three\n"})
        with sqlite3.connect(server.database) as db:
            db.execute(damage)
            if "INTO jobs" in damage:
                db.execute("INSERT INTO versions (job, version, label, made, sheet) VALUES ('x', 1, '', '', '')")
        db.close()
        with pytest.raises(Lost):
            proved(server.database, [known], server.port)


def test_the_proof_is_content_with_what_is_whole(tmp_path):
    with Running(tmp_path) as server:
        job = server.new()
        server.put(f"/api/jobs/{job['id']}", base=1, sheet="two\n")
        assert proved(server.database, [Job(job["id"], {1: SHEET, 2: "two\n"})], server.port) == 0
        assert proved(server.database, [Job(job["id"], {1: SHEET, 2: "two\n", 3: SHEET}, None)], server.port) == 0


def test_a_server_killed_as_it_begins_begins_again(tmp_path):
    """Killed before it ever answered, at different moments of making its database."""
    import subprocess
    import sys
    import time

    from tests.cli.helpers import process_environment

    for wait in (0.3, 0.6, 0.9):
        process = subprocess.Popen(
            [sys.executable, "-m", "ampleroom", "serve", "--port", "0"],
            env=process_environment(AMPLEROOM_HOME=str(tmp_path)),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(wait)
        process.kill()
        process.wait()
    process, port = serve(tmp_path)  # type: ignore[assignment]
    process.kill()
    process.communicate()
    assert port > 0
