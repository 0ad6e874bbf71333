"""``serve`` as a process of its own: how it begins, what it says when it cannot, and how it ends."""

import asyncio
import os
import re
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys

import pytest

from tests.cli.helpers import outside, process_environment
from tests.web.helpers import SHEET, Running, whole

AS_NOBODY_IN_PARTICULAR = ["setpriv", "--inh-caps=-dac_override", "--bounding-set=-dac_override"]
"""The system's manager may write to any file; without that right it is like everybody else."""


def serve(*words, before=(), **environment):
    """A server that is expected not to begin."""
    return subprocess.run(
        [*before, sys.executable, "-m", "ampleroom", "serve", "--port", "0", *words],
        env=process_environment(**environment),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def refused(ran, *words):
    """It ended with one clear line and no traceback, and never said that it serves."""
    assert (ran.returncode, ran.stdout) == (2, ""), ran
    assert ran.stderr.startswith("ampleroom serve: ")
    assert len(ran.stderr.splitlines()) == 1, ran.stderr
    for word in words:
        assert word in ran.stderr


# ---- it begins -----------------------------------------------------------------------------------------------------


def test_it_says_where_it_is_and_keeps_jobs_in_the_data_folder_of_whoever_starts_it(tmp_path):
    """A home with nothing in it, and nothing said of where to keep jobs."""
    environment = process_environment(HOME=str(tmp_path))
    for name in ("AMPLEROOM_HOME", "XDG_DATA_HOME"):
        environment.pop(name, None)
    process = subprocess.Popen(
        [sys.executable, "-m", "ampleroom", "serve", "--port", "0"], env=environment, stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        said = process.stdout.readline()
        found = re.fullmatch(
            r"Ampleroom: (http://127\.0\.0\.1:\d+/)   \(jobs are kept in (.*); stop with Ctrl-C\)\n", said
        )
        assert found
        kept = tmp_path / ".local" / "share" / "ampleroom" / "jobs.db"
        if sys.platform.startswith("linux"):
            assert found[2] == str(kept)
            assert kept.is_file()
    finally:
        process.kill()
        process.communicate()


def test_the_page_opens_at_the_list_of_jobs_with_the_examples_ready(server):
    page = server.get("/")
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    names = [
        *re.findall(r'src="([\w.]+)"', page.body.decode()),
        *re.findall(r'rel="stylesheet" href="([\w.]+)"', page.body.decode()),
    ]
    assert {name.rpartition(".")[2] for name in names} == {"js", "css"}
    assert all(server.get("/" + name).status == 200 for name in names)
    assert server.get("/api/jobs").json == {"jobs": []}
    for example in server.get("/api/examples").json["examples"]:
        made = server.new(example["sheet"])
        assert server.answer("job", sheet=made["sheet"]).json["subjects"]
    assert len(server.get("/api/jobs").json["jobs"]) >= 2


@pytest.mark.parametrize("host", ["localhost", "::1"])
def test_any_name_of_this_machine_will_do(tmp_path, host):
    if host == "::1" and not has_six():
        pytest.skip("this machine has no address ::1")
    process = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "ampleroom",
            "serve",
            "--port",
            "0",
            "--host",
            host,
            "--store",
            str(tmp_path / "jobs.db"),
        ],
        env=process_environment(),
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert process.stdout is not None
        shown = f"[{host}]" if ":" in host else host
        found = re.search(rf"http://{re.escape(shown)}:(\d+)/", process.stdout.readline())
        assert found
        port = int(found[1])
        with socket.create_connection((host, port), timeout=30) as link:
            link.sendall(f"GET /api/hello HTTP/1.1\r\nhost: {shown}:{port}\r\nconnection: close\r\n\r\n".encode())
            assert link.recv(65536).startswith(b"HTTP/1.1 200")
    finally:
        process.kill()
        process.communicate()


def has_six():
    try:
        with socket.socket(socket.AF_INET6, socket.SOCK_STREAM) as link:
            link.bind(("::1", 0))
    except OSError:
        return False
    return True


def test_answers_are_sent_at_once():
    """asyncio turns the waiting of small packets off only on sockets that are named TCP; a first page took 0.7 s for
    it.
    """
    from ampleroom.web.serve import listening_at

    async def asked():
        seen = []
        listening = listening_at("127.0.0.1", 0)

        def made(_, writer):
            seen.append(writer.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        async with await asyncio.start_server(made, sock=listening):
            reader, writer = await asyncio.open_connection(*listening.getsockname())
            await reader.read()
            writer.close()
        return seen

    assert asyncio.run(asked()) != [0]


# ---- it does not begin ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.7", "::", "example.org"])
def test_it_listens_on_this_machine_only(tmp_path, host):
    refused(serve("--host", host, "--store", str(tmp_path / "jobs.db")), "this machine only (127.0.0.1)", "no accounts")


def test_a_port_that_is_taken_is_told_with_what_to_do(server, tmp_path):
    store = tmp_path / "jobs.db"
    refused(serve("--port", str(server.port), "--store", str(store)), f"port {server.port} cannot be used", "--port")
    assert not store.exists()
    assert server.get("/api/hello").status == 200


def damaged(path, how):
    """A store that was one once."""
    with Running(path.parent) as server:
        job = server.new(SHEET + "# the river\n" * 3000)
        server.put(f"/api/jobs/{job['id']}", base=1, sheet=SHEET)
        server.stop(signal.SIGTERM)
    data = bytearray(path.read_bytes())
    match how:
        case "its head is gone":
            data[:100] = b"\x00" * 100
        case "it is cut short":
            del data[4096:]
        case "its pages are rubbish":
            data[4096:] = b"\xa5" * (len(data) - 4096)
    path.write_bytes(data)
    return bytes(data)


@pytest.mark.parametrize("how", ["its head is gone", "it is cut short", "its pages are rubbish"])
def test_a_damaged_store_is_told_and_left_as_it_is(tmp_path, how):
    store = tmp_path / "jobs.db"
    data = damaged(store, how)
    ran = serve("--store", str(store))
    refused(ran, f"jobs cannot be kept in {store}", "Move that file aside, or name another with --store")
    assert store.read_bytes() == data
    assert outside("serve", "--help").status == 0


@pytest.mark.parametrize("store", ["a folder", "a file/jobs.db", "letter.txt"])
def test_a_store_that_can_be_none_is_told(tmp_path, store):
    (tmp_path / "a folder").mkdir()
    (tmp_path / "a file").write_text("x")
    (tmp_path / "letter.txt").write_text("Dear inspector, " * 100)
    refused(serve("--store", str(tmp_path / store)), "jobs cannot be kept in", "--store")
    assert (tmp_path / "letter.txt").read_text() == "Dear inspector, " * 100


@pytest.mark.parametrize("what", ["file", "folder"])
def test_a_store_that_may_only_be_read_is_told(tmp_path, what):
    before = []
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        if shutil.which("setpriv") is None:
            pytest.skip("the system's manager may write everywhere, and there is no setpriv to take that from it")
        before = AS_NOBODY_IN_PARTICULAR
    folder = tmp_path / "kept"
    with Running(folder) as server:
        job = server.new()
        server.stop(signal.SIGTERM)
    store = folder / "jobs.db"
    if what == "file":
        store.chmod(0o444)
    else:
        folder.chmod(0o555)
    try:
        new = folder / "new.db"
        refused(serve("--store", str(store if what == "file" else new), before=before), "jobs cannot be kept in")
    finally:
        folder.chmod(0o755)
        store.chmod(0o644)
    with Running(folder) as server:
        assert server.job(job["id"]) == job


def test_a_store_that_fails_while_it_serves_is_told_in_words_and_logged(tmp_path):
    """What was answered before stays; what comes after is not said to be kept."""
    with Running(tmp_path) as server:
        job = server.new()
        with sqlite3.connect(server.database) as db:
            db.execute("ALTER TABLE versions RENAME TO elsewhere")
        db.close()
        failed = server.put(f"/api/jobs/{job['id']}", base=1, sheet="x\n")
        assert (failed.status, failed.json["kind"]) == (500, "server")
        assert "the file the jobs are kept in cannot be read or written" in failed.json["error"]
        assert "the file of jobs" in server.logged
        assert "Traceback" not in server.logged
        assert server.get("/").status == server.get("/api/hello").status == 200
        with sqlite3.connect(server.database) as db:
            db.execute("ALTER TABLE elsewhere RENAME TO versions")
        db.close()
        assert server.job(job["id"]) == job
    assert whole(server.database) == ["ok"]


# ---- it ends -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "ended"])
def test_it_ends_cleanly_and_leaves_one_whole_file(tmp_path, how):
    with Running(tmp_path) as server:
        job = server.new()
        server.put(f"/api/jobs/{job['id']}", base=1, sheet="x\n")
        code = server.stop(how)
        assert code in (0, 130, -how)
        assert server.logged in ("", "stopped\n")
    assert [path.name for path in tmp_path.glob("jobs.db*")] == ["jobs.db"]
    assert whole(server.database) == ["ok"]
