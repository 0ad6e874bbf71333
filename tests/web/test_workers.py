"""Heavy questions do not hold up others: they are worked on beside the event loop, for so long and no longer."""

import asyncio
import json
import signal
import threading
import time
from pathlib import Path

import pytest

from ampleroom.web.work import BadRequest
from ampleroom.web.workers import LARGE, SMALL, TAP, Failure, TooBusy, Workers
from tests.web.helpers import SHEET, STOCK, Application, Running

BOX = "box B{n}\n  marked 20.3 in3 plastic\n  receptacle #12\nrun B{n} > ? 12/2 nm-b\n"
PART = '[[device]]\nname = "part {n}"\nis = "switch"\nprice = 1.00\n\n'


def sheet_of(boxes, more=""):
    """A job of so many boxes; a 40,000-box one is about as long as the page takes."""
    return f"job Harbor\nedition 2020\n{more}" + "".join(BOX.format(n=n) for n in range(boxes))


def together(app, *asked):
    """The answers to questions asked at once, each with the seconds it took, and the longest the loop itself was busy.

    Busy is processor time of this thread between two turns of the loop: what else the machine does is not in it.
    """

    async def one(method, path, data):
        began = time.monotonic()
        body = b"" if data is None else json.dumps(data).encode()
        headers = {"content-type": "application/json"}
        return await app.asked(method, path, body, headers), time.monotonic() - began

    async def watched():
        longest = 0.0

        async def tick():
            nonlocal longest
            while True:
                before = time.thread_time()
                await asyncio.sleep(0.001)
                longest = max(longest, time.thread_time() - before)

        ticking = asyncio.create_task(tick())
        tasks = [asyncio.create_task(one(*each)) for each in asked]
        got = await asyncio.gather(*tasks)
        ticking.cancel()
        return got, longest

    return app.runner.run(watched())


def question(action, **data):
    return ("POST", f"/api/answer/{action}", data)


# ---- the loop stays free -------------------------------------------------------------------------------------------

HEAVY = {
    "stock of 2,000 parts": ("PUT", "/api/stock", {"stock": "".join(PART.format(n=n) for n in range(2000))}),
    "stock with 2,000 faults": ("PUT", "/api/stock", {"stock": "".join(f"k{n} = 1\n" for n in range(2000))}),
    "map": question("map", sheet=sheet_of(2000)),
    "check": question("check", sheet=sheet_of(1000)),
    "remedies": question("remedies", sheet=sheet_of(1000), box="B7", stock=STOCK),
    "box of a usual sheet": question("box", sheet=sheet_of(500), box="B7"),
}


@pytest.mark.parametrize("name", HEAVY)
def test_the_loop_is_never_busy_for_long(app, name):
    app.answer("words")
    ((answer, _),), longest = together(app, HEAVY[name])
    assert answer.status in (200, 422), answer
    assert longest < 0.025, f"busy for {longest * 1000:.0f} ms"


def test_a_tap_on_a_job_of_a_usual_size_is_worked_on_beside_the_loop(app):
    job = app.new(sheet_of(500))
    data = {"base": 1, "edit": {"do": "add-cable", "box": "B7", "cable": "12/2 nm-b"}, "box": "B7"}
    ((answer, _),), longest = together(app, ("POST", f"/api/jobs/{job['id']}/edit", data))
    assert answer.json["version"] == 2
    assert answer.json["view"]["verdict"]
    assert longest < 0.025, f"busy for {longest * 1000:.0f} ms"


# ---- bounds --------------------------------------------------------------------------------------------------------


@pytest.fixture
def hasty(tmp_path):
    """An application whose workers, once they are there, have two seconds."""
    with Application(tmp_path / "jobs.db", seconds=120) as found:
        large = [worker for worker in found.workers.all if worker.rank == LARGE]
        for worker in large:
            worker.asked({"task": "answer", "action": "words"}, b"{}")
        found.workers.seconds = 2.0
        yield found


HARBOR = sheet_of(40_000, "amendments cold_harbor.toml\n")


@pytest.mark.parametrize("action", ["check", "map", "remedies", "plan", "editions"])
def test_what_takes_too_long_is_stopped_and_told(hasty, action, caplog):
    began = time.monotonic()
    answer = hasty.answer(action, sheet=HARBOR, box="B7", stock=STOCK)
    assert (answer.status, answer.json["kind"]) == (503, "busy")
    assert "takes more than 2 seconds, so it was stopped; nothing was changed" in answer.json["error"]
    assert "command line" in answer.json["error"]
    assert time.monotonic() - began < 20
    assert "gave up POST" in caplog.text
    ended = [worker.process is None for worker in hasty.workers.all if worker.rank == LARGE]
    assert sorted(ended) == [False, True], "the one that worked on it is gone"


def test_a_tap_that_takes_too_long_changes_nothing(hasty):
    job = hasty.new(HARBOR)
    answer = hasty.edit(job, "set-title", title="Kiln")
    assert (answer.status, answer.json["kind"]) == (503, "busy")
    assert hasty.job(job["id"]) == job


def test_others_are_answered_while_every_large_worker_is_taken(tmp_path):
    """Four large questions for two workers: two wait. Small ones and taps are answered long before."""
    with Application(tmp_path / "jobs.db", seconds=9) as app:
        app.answer("box", sheet=SHEET, box="J1")
        harbor = sheet_of(40_000)  # without amendments, which are not here and would end the check at once
        large = [question(action, sheet=harbor, box="B7") for action in ("check", "map", "remedies", "check")]
        light = [question("box", sheet=SHEET, box="J1"), question("check", sheet=SHEET), ("GET", "/api/hello", None)]
        got, _ = together(app, *large, *light)
        slow, quick = [took for _, took in got[:4]], [took for _, took in got[4:]]
        assert [answer.status for answer, _ in got[4:]] == [200] * 3
        assert max(quick) < min(slow), (quick, slow)
        assert {answer.status for answer, _ in got[:4]} <= {200, 503}
        assert app.answer("words").status == 200


def test_what_takes_too_much_memory_is_stopped_and_told(tmp_path):
    with Application(tmp_path / "jobs.db", memory=220_000_000) as app:
        answer = app.answer("map", sheet=HARBOR)
        assert (answer.status, answer.json["kind"]) == (503, "busy")
        assert "memory" in answer.json["error"]
        assert app.answer("box", sheet=SHEET, box="J1").status == 200


# ---- the workers themselves ----------------------------------------------------------------------------------------


@pytest.fixture
def workers():
    found = Workers(seconds=30)
    yield found
    found.close()


def test_a_worker_that_died_is_replaced(workers):
    async def asked():
        head = {"task": "answer", "action": "words"}
        first, _ = await workers.do(TAP, head, b"{}")
        workers.all[0].process.kill()
        workers.all[0].process.wait()
        second, _ = await workers.do(TAP, head, b"{}")
        return first, second

    assert asyncio.run(asked()) == ({"status": 200}, {"status": 200})


def test_a_worker_that_dies_at_its_work_is_told_and_replaced(workers):
    async def asked():
        head = {"task": "answer", "action": "check"}
        body = json.dumps({"sheet": HARBOR}).encode()
        task = asyncio.create_task(workers.do(LARGE, head, body))
        while workers.all[2].process is None:
            await asyncio.sleep(0.05)
        await asyncio.sleep(0.5)
        workers.all[2].process.kill()
        with pytest.raises(TooBusy, match="stopped before it was done"):
            await task
        return await workers.do(LARGE, {"task": "answer", "action": "words"}, b"{}")

    assert asyncio.run(asked())[0] == {"status": 200}
    assert len(workers.idle) == len(workers.all)


def test_a_defect_in_a_worker_comes_with_its_traceback_and_bad_questions_with_their_words(workers):
    async def asked():
        with pytest.raises(Failure, match="KeyError"):
            await workers.do(TAP, {"task": "nothing"})
        with pytest.raises(BadRequest, match="not JSON"):
            await workers.do(TAP, {"task": "answer", "action": "words"}, b"{")
        assert (await workers.do(TAP, {"task": "answer", "action": "words"}, b"{}"))[0] == {"status": 200}

    asyncio.run(asked())


def test_whoever_gives_up_waiting_takes_no_worker_with_them(workers):
    """All workers are handed out; of those who wait the lightest comes first, and one that is gone is passed over."""

    async def asked():
        taken = [await workers.free(TAP, "") for _ in workers.all]
        assert sorted(worker.rank for worker in taken) == [TAP, SMALL, LARGE, LARGE]
        large, gone, tap = [asyncio.create_task(workers.free(rank, "")) for rank in (LARGE, TAP, TAP)]
        await asyncio.sleep(0)
        gone.cancel()
        await asyncio.sleep(0)
        workers.release(taken[-1])
        assert await tap is taken[-1]
        workers.release(taken[0])
        assert not large.done(), "the worker for taps takes nothing large"
        workers.release(taken[2])
        assert await large is taken[2]
        assert workers.idle == [taken[0]]

    asyncio.run(asked())


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="the children of a process are read from /proc")
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_workers_end_with_their_server(tmp_path, how):
    with Running(tmp_path) as server:
        server.answer("words")
        children = [int(word) for word in children_of(server.process.pid)]
        assert children
        server.stop(how)
        until = time.monotonic() + 30
        while any(alive(child) for child in children) and time.monotonic() < until:
            time.sleep(0.05)
        assert not [child for child in children if alive(child)]


def children_of(pid):
    return [word for path in Path(f"/proc/{pid}/task").glob("*/children") for word in path.read_text().split()]


def alive(pid):
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_a_server_that_is_stopped_at_its_work_tells_those_who_wait_and_ends_at_once(tmp_path):
    """Six large questions, of which four wait for a worker: nobody is cut off, and no traceback stands in the log."""
    with Running(tmp_path) as server:
        answers = []

        def ask():
            answers.append(server.answer("map", sheet=HARBOR))

        asking = [threading.Thread(target=ask) for _ in range(6)]
        for each in asking:
            each.start()
        time.sleep(4)
        began = time.monotonic()
        server.stop(signal.SIGTERM)
        assert time.monotonic() - began < 5
        for each in asking:
            each.join()
        assert [(answer.status, "is being stopped" in answer.json["error"]) for answer in answers] == [(503, True)] * 6
        assert "Traceback" not in server.logged
