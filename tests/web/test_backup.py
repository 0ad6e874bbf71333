"""Copies made while a server writes, the way back from a copy, damage told at the start, and rights of the files."""

import os
import signal
import sqlite3
import stat
import threading
import time

import pytest

from tests.cli.helpers import inside
from tests.web.helpers import SHEET, Running, whole
from tests.web.test_serve import refused, serve

posix = pytest.mark.skipif(os.name != "posix", reason="rights of files are those of POSIX")


def rights(path):
    return stat.S_IMODE(path.stat().st_mode)


def backup(*words):
    return inside("serve", *map(str, words))


@pytest.fixture
def closed(tmp_path):
    """A store with one job of two versions, and no server."""
    with Running(tmp_path / "home") as server:
        job = server.new()
        server.put(f"/api/jobs/{job['id']}", base=1, sheet="job Two\n")
        server.stop(signal.SIGTERM)
    return server.database


def test_a_copy_made_while_jobs_are_written_is_whole_and_of_one_moment(tmp_path):
    """Each round writes job A, then job B. In every copy B is never ahead of A, and never more than one behind."""
    with Running(tmp_path / "home") as server:
        first, second = server.new(), server.new()
        until = threading.Event()
        done = []

        def write():
            version = 1
            while not until.is_set():
                for job in (first, second):
                    sheet = f"job Round {version}\n" + "# the river\n" * 3000
                    assert server.put(f"/api/jobs/{job['id']}", base=version, sheet=sheet).status == 200
                version += 1
                done.append(version)

        writer = threading.Thread(target=write)
        writer.start()
        try:
            seen = set()
            for number in range(4):
                while len(done) < 3 * number + 2:
                    time.sleep(0.01)
                known = done[-1]
                copy = tmp_path / f"{number}.db"
                ran = backup("--store", server.database, "--backup", copy)
                assert (ran.status, ran.err) == (0, ""), ran
                assert "2 jobs with their history" in ran.out
                assert whole(copy) == ["ok"]
                with sqlite3.connect(copy) as db:
                    rows = dict(db.execute("SELECT id, version FROM jobs").fetchall())
                    assert db.execute("PRAGMA journal_mode").fetchone() == ("delete",)
                db.close()
                assert 0 <= rows[first["id"]] - rows[second["id"]] <= 1
                assert rows[second["id"]] >= known, "what was answered before is in it"
                seen.add(rows[first["id"]])
        finally:
            until.set()
            writer.join()
        assert len(seen) == 4, "jobs were written meanwhile"
        assert sorted(path.name for path in tmp_path.iterdir()) == ["0.db", "1.db", "2.db", "3.db", "home"]


def test_the_way_back_from_a_copy_as_the_readme_says_it(closed, tmp_path):
    """Stop the server, move the database and what lies beside it away, put the copy there, start."""
    home, copy = closed.parent, tmp_path / "monday.db"
    assert backup("--store", closed, "--backup", copy).status == 0
    with Running(home) as server:
        (row,) = server.get("/api/jobs").json["jobs"]
        server.put(f"/api/jobs/{row['id']}", base=2, sheet="job Spoiled\n")
        server.new()
        server.stop(signal.SIGKILL)  # killed: what was written last stands in jobs.db-wal
    aside = tmp_path / "aside"
    aside.mkdir()
    moved = [path.rename(aside / path.name) for path in home.glob("jobs.db*")]
    assert "jobs.db-wal" in [path.name for path in moved]
    copy.rename(closed)
    with Running(home) as server:
        assert server.get("/api/jobs").json["jobs"] == [row]
        assert server.whole_history(row["id"]) == [SHEET, "job Two\n"]
        assert server.post(f"/api/jobs/{row['id']}/undo", base=2).json["sheet"] == SHEET
    with Running(tmp_path / "other", "--store", str(aside / "jobs.db")) as server:
        assert len(server.get("/api/jobs").json["jobs"]) == 2, "what was moved away is whole as well"


def test_nothing_is_written_over_without_force(closed, tmp_path):
    copy = tmp_path / "monday.db"
    copy.write_text("my letter")
    ran = backup("--store", closed, "--backup", copy)
    assert (ran.status, ran.out) == (2, "")
    assert f"{copy} is there already; --force writes over it" in ran.err
    assert copy.read_text() == "my letter"
    assert backup("--store", closed, "--backup", copy, "--force").status == 0
    assert whole(copy) == ["ok"]
    link = tmp_path / "link.db"
    link.symlink_to(tmp_path / "nowhere")
    assert backup("--store", closed, "--backup", link).status == 2
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize("force", [[], ["--force"]])
def test_what_can_be_no_copy_is_told_and_nothing_is_touched(closed, tmp_path, force):
    (tmp_path / "folder").mkdir()
    (tmp_path / "in use.db-wal").write_text("x")
    os.link(closed, tmp_path / "same.db")
    before = closed.read_bytes()
    targets = ["folder", "no folder/copy.db", "in use.db", "same.db", "home/jobs.db"]
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        targets.append("pipe")
    there = sorted(tmp_path.rglob("*"))
    for target in targets:
        ran = backup("--store", closed, "--backup", tmp_path / target, *force)
        assert (ran.status, ran.out) == (2, ""), (target, ran)
        assert "Traceback" not in ran.err
    assert sorted(tmp_path.rglob("*")) == there
    assert closed.read_bytes() == before
    assert backup("--force").status == 2


def test_a_store_that_is_none_or_damaged_gives_no_copy(closed, tmp_path):
    copy = tmp_path / "copy.db"
    copy.write_text("the last good copy")
    (tmp_path / "letter").write_text("Dear inspector, " * 200)
    sqlite3.connect(tmp_path / "empty.db").close()
    lose_a_version(closed)
    for store in (closed, tmp_path / "letter", tmp_path / "empty.db", tmp_path / "nothing", tmp_path):
        ran = backup("--store", store, "--backup", copy, "--force")
        assert (ran.status, ran.out) == (2, ""), (store, ran)
    assert copy.read_text() == "the last good copy"
    assert not list(tmp_path.glob(".copy*"))


def lose_a_version(store):
    with sqlite3.connect(store) as db:
        db.execute("DELETE FROM versions WHERE version = 2")
    db.close()


def break_the_list(store):
    with sqlite3.connect(store) as db:
        db.execute("UPDATE jobs SET undo = '[1, '")
    db.close()


def take_the_job(store):
    with sqlite3.connect(store) as db:
        db.execute("DELETE FROM jobs")
    db.close()


def spoil_an_index(store):
    """An index that no longer says what its table says: SQLite's short look at a database does not see it."""
    with sqlite3.connect(store) as db:
        row = db.execute("SELECT id FROM jobs").fetchone()[0]
    db.close()
    data = store.read_bytes()
    at = data.rfind(row.encode())
    assert data.count(row.encode()) > 2
    store.write_bytes(data[:at] + b"?" + data[at + 1 :])


@pytest.mark.parametrize("damage", [lose_a_version, break_the_list, take_the_job, spoil_an_index])
def test_damage_is_told_at_the_start_and_not_served(closed, damage):
    damage(closed)
    before = closed.read_bytes()
    refused(serve("--store", str(closed)), "jobs cannot be kept in", "it is damaged (", "Move that file aside")
    assert closed.read_bytes() == before


# ---- who may read it -----------------------------------------------------------------------------------------------


@posix
def test_only_its_user_can_read_the_jobs(tmp_path):
    with Running(tmp_path / "home" / "new") as server:
        server.new()
        files = [server.database, *(server.database.with_name("jobs.db" + end) for end in ("-wal", "-shm"))]
        assert [rights(path) for path in files] == [0o600] * 3
        copy = tmp_path / "copy.db"
        copy.touch(0o644)
        assert backup("--store", server.database, "--backup", copy, "--force").status == 0
        assert rights(copy) == 0o600
        server.stop(signal.SIGKILL)
    for path in files:
        path.chmod(0o664)
    with Running(server.home) as server:
        server.new()
        assert [rights(path) for path in files] == [0o600] * 3


@posix
def test_a_data_folder_that_is_made_is_for_its_user_only(tmp_path):
    from ampleroom.web.store import Store

    Store(tmp_path / "data" / "jobs.db").close()
    assert rights(tmp_path / "data") == 0o700


@posix
def test_a_store_that_is_no_regular_file_is_left_as_it_is(tmp_path):
    os.mkfifo(tmp_path / "pipe", 0o644)
    refused(serve("--store", str(tmp_path / "pipe")), "it is no regular file")
    assert rights(tmp_path / "pipe") == 0o644
