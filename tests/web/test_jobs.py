"""Jobs through a server process: made, changed, undone, put away; nothing overwritten and nothing lost."""

import signal
import sqlite3
import threading

import pytest

from tests.web.helpers import SHEET, STUDIO, Running, whole


def test_a_job_is_made_and_listed_the_last_changed_first(home):
    with Running(home) as server:
        first, second = server.new(), server.new(STUDIO)
        assert first["title"] == "Kiln shed"
        assert (first["version"], first["sheet"], first["can_undo"], first["can_redo"]) == (1, SHEET, False, False)
        assert [job["id"] for job in server.get("/api/jobs").json["jobs"]] == [second["id"], first["id"]]
        server.put(f"/api/jobs/{first['id']}", base=1, sheet=SHEET + "\n")
        assert [job["id"] for job in server.get("/api/jobs").json["jobs"]] == [first["id"], second["id"]]


def test_a_written_sheet_is_kept_byte_for_byte_with_its_whole_history(server):
    job = server.new()
    texts = [
        SHEET,
        SHEET + "# \u00bd \U0001f525\n",
        "",
        "job\r\n\r\nbox J1\r\n",
        "\ufeffjob Kiln shed\n",
        "not a sheet at all \x00\x07",
    ]
    for version, text in enumerate(texts[1:], 1):
        saved = server.put(f"/api/jobs/{job['id']}", base=version, sheet=text, label=f"change {version}").json
        assert (saved["version"], saved["sheet"]) == (version + 1, text)
    assert server.whole_history(job["id"]) == texts
    labels = [row["label"] for row in server.get(f"/api/jobs/{job['id']}/history").json["versions"]]
    assert labels == [*(f"change {version}" for version in range(5, 0, -1)), "new"]


def test_the_same_text_again_is_no_new_version(server):
    job = server.new()
    assert server.put(f"/api/jobs/{job['id']}", base=1, sheet=SHEET).json["version"] == 1
    assert len(server.whole_history(job["id"])) == 1


def test_undo_and_redo_go_back_and_forth_and_history_only_grows(server):
    job = server.new("a\n")
    path = f"/api/jobs/{job['id']}"
    for base, text in enumerate(("b\n", "c\n"), 1):
        server.put(path, base=base, sheet=text)
    steps = [("undo", "b\n"), ("undo", "a\n"), ("redo", "b\n"), ("redo", "c\n"), ("undo", "b\n")]
    version = 3
    for step, text in steps:
        found = server.post(f"{path}/{step}", base=version).json
        version += 1
        assert (found["sheet"], found["version"]) == (text, version)
    assert found["can_undo"]
    assert found["can_redo"]
    changed = server.put(path, base=version, sheet="d\n").json
    assert not changed["can_redo"]
    assert server.post(f"{path}/undo", base=version + 1).json["sheet"] == "b\n"
    assert server.whole_history(job["id"]) == ["a\n", "b\n", "c\n", "b\n", "a\n", "b\n", "c\n", "b\n", "d\n", "b\n"]


def test_there_is_nothing_to_undo_in_a_new_job_and_nothing_to_redo(server):
    job = server.new()
    for step in ("undo", "redo"):
        refused = server.post(f"/api/jobs/{job['id']}/{step}", base=1)
        assert (refused.status, refused.json["error"]) == (404, f"there is nothing to {step}")


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT, signal.SIGKILL], ids=["ended", "Ctrl-C", "killed"])
def test_undo_reaches_back_across_a_restart(home, how):
    with Running(home) as server:
        job = server.new()
        server.edit(job, "set-title", title="Glaze room")
        server.edit({**job, "version": 2}, "drop-box", box="S1")
        server.post(f"/api/jobs/{job['id']}/undo", base=3)
        server.stop(how)
    assert whole(server.database) == ["ok"]
    with Running(home) as server:
        kept = server.job(job["id"])
        assert (kept["title"], kept["version"], kept["can_undo"], kept["can_redo"]) == ("Glaze room", 4, True, True)
        again = server.post(f"/api/jobs/{job['id']}/redo", base=4).json
        assert "box S1" not in again["sheet"]
        for version in (5, 6):
            found = server.post(f"/api/jobs/{job['id']}/undo", base=version).json
        assert (found["sheet"], found["can_undo"]) == (SHEET, False)
        assert len(server.whole_history(job["id"])) == 7


def test_a_job_put_away_is_brought_back_whole(home):
    with Running(home) as server:
        job = server.new()
        server.put(f"/api/jobs/{job['id']}", base=1, sheet=STUDIO)
        assert server.ask("DELETE", f"/api/jobs/{job['id']}").json == {"removed": job["id"]}
        assert server.get("/api/jobs").json["jobs"] == []
        assert [row["id"] for row in server.get("/api/jobs?removed=yes").json["jobs"]] == [job["id"]]
    with Running(home) as server:
        assert server.job(job["id"])["removed"]
        back = server.post(f"/api/jobs/{job['id']}/restore").json
        assert (back["sheet"], back["version"], back["can_undo"], back["removed"]) == (STUDIO, 2, True, False)
        assert [row["id"] for row in server.get("/api/jobs").json["jobs"]] == [job["id"]]


def test_two_windows_are_told_of_the_conflict_and_shown_both(server):
    job = server.new()
    path = f"/api/jobs/{job['id']}"
    server.put(path, base=1, sheet=SHEET + "note theirs\n")
    edit = {"do": "set-title", "title": "Ours"}
    for refused in (
        server.put(path, base=1, sheet=SHEET + "note ours\n"),
        server.post(f"{path}/edit", base=1, edit=edit),
        server.post(f"{path}/undo", base=1),
        server.post(f"{path}/redo", base=1),
        server.put(path, base=3, sheet=SHEET),
    ):
        assert refused.status == 409
        assert refused.json["kind"] == "conflict"
        assert refused.json["current"] == server.job(job["id"])
        assert refused.json["current"]["sheet"] == SHEET + "note theirs\n"
        assert refused.json["base"] in (1, 3)
    assert len(server.whole_history(job["id"])) == 2


def test_of_two_writers_at_once_one_is_kept_and_the_other_told(server):
    """Both start from the same version, again and again; every answer is either kept or refused, and the chain is
    whole.
    """
    job = server.new("start\n")
    path = f"/api/jobs/{job['id']}"
    kept, refused = [], []

    def write(name):
        for number in range(25):
            base = server.job(job["id"])["version"]
            text = f"{name} {number}\n"
            answer = server.put(path, base=base, sheet=text)
            if answer.status == 200:
                kept.append((answer.json["version"], text))
            else:
                assert answer.status == 409
                refused.append(text)

    writers = [threading.Thread(target=write, args=(name,)) for name in ("one", "two", "three")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert len(kept) + len(refused) == 75
    assert ["start\n", *(text for _, text in sorted(kept))] == server.whole_history(job["id"])
    assert [version for version, _ in sorted(kept)] == list(range(2, len(kept) + 2))


def test_two_servers_on_one_store_do_not_overwrite_each_other(home):
    with Running(home) as one, Running(home) as two:
        job = one.new()
        path = f"/api/jobs/{job['id']}"
        assert two.put(path, base=1, sheet="two\n").json["version"] == 2
        assert one.put(path, base=1, sheet="one\n").status == 409
        assert one.put(path, base=2, sheet="one\n").json["version"] == 3
        assert two.whole_history(job["id"]) == [SHEET, "two\n", "one\n"]


def test_a_store_held_by_somebody_else_is_waited_for_and_reading_goes_on(home):
    with Running(home) as server:
        job = server.new()
        other = sqlite3.connect(server.database, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        answers = []
        writer = threading.Thread(
            target=lambda: answers.append(server.put(f"/api/jobs/{job['id']}", base=1, sheet="late\n").status)
        )
        writer.start()
        assert server.job(job["id"])["version"] == 1
        assert answers == []
        other.execute("COMMIT")
        other.close()
        writer.join()
        assert answers == [200]


def test_history_of_thousands_of_versions_is_there_to_its_first(app):
    job = app.new("0\n")
    for version in range(1, 1502):
        saved = app.put(f"/api/jobs/{job['id']}", base=version, sheet=f"{version}\n")
    assert saved.json["version"] == 1502
    first = app.get(f"/api/jobs/{job['id']}/history").json
    assert (len(first["versions"]), first["more"]) == (1000, True)
    rest = app.get(f"/api/jobs/{job['id']}/history?before={first['versions'][-1]['version']}").json
    assert ([row["version"] for row in rest["versions"]], rest["more"]) == (list(range(502, 0, -1)), False)
    assert app.get(f"/api/jobs/{job['id']}/history/1").json == {"version": 1, "sheet": "0\n"}
    for version in range(1502, 2002):
        assert app.post(f"/api/jobs/{job['id']}/undo", base=version).status == 200
    assert app.post(f"/api/jobs/{job['id']}/undo", base=2002).status == 404  # five hundred steps are kept
    assert app.job(job["id"])["sheet"] == "1001\n"


@pytest.mark.parametrize("version", ["0", "-1", "2", "1e3", "9" * 25, "one", "%00"])
def test_a_version_that_is_not_there_is_not_found(app, version):
    job = app.new()
    assert app.get(f"/api/jobs/{job['id']}/history/{version}").status == 404


@pytest.mark.parametrize("before", ["", "-1", "x", "9" * 30, "1.5"])
def test_history_before_no_number_is_refused(app, before):
    assert app.get(f"/api/jobs/{app.new()['id']}/history?before={before}").status == 400


NOT_THERE = [
    "nobody",
    "..",
    "%2e%2e",
    "..%2f..%2fetc",
    "%00",
    "a" * 5000,
    "'; DROP TABLE jobs; --",
    "%27%20OR%201=1",
    "\u00e9",
]


@pytest.mark.parametrize("id", NOT_THERE)
def test_a_job_nobody_has_is_not_found_by_any_way(app, id):
    from urllib.parse import quote

    name = id if "%" in id else quote(id, safe="")
    app.new()
    body = {"base": 1, "sheet": "x", "edit": {"do": "set-title", "title": "x"}}
    asked = [app.get(f"/api/jobs/{name}"), app.put(f"/api/jobs/{name}", **body), app.ask("DELETE", f"/api/jobs/{name}")]
    asked += [app.post(f"/api/jobs/{name}/{what}", **body) for what in ("edit", "undo", "redo", "restore")]
    asked += [app.get(f"/api/jobs/{name}/{what}") for what in ("history", "history/1", "photos")]
    asked += [app.get(f"/api/photos/{name}"), app.ask("DELETE", f"/api/photos/{name}")]
    assert all(answer.status in (404, 405) for answer in asked), asked
    assert all(b"root:" not in answer.body for answer in asked)
    assert len(app.get("/api/jobs").json["jobs"]) == 1


BODIES = {
    "no JSON": (b"{", "application/json"),
    "a list": (b"[]", "application/json"),
    "a number": (b"1", "application/json"),
    "nothing": (b"", "application/json"),
    "a form": (b"sheet=x", "application/x-www-form-urlencoded"),
    "plain text, as a foreign page may send": (b'{"sheet": "x", "base": 1, "edit": {}}', "text/plain"),
    "not UTF-8": (b'{"sheet": "\xff"}', "application/json"),
    "half a letter": (b'{"sheet": "\\ud800", "base": 1}', "application/json"),
    "very deep": (b'{"sheet":' + b"[" * 100_000 + b"]" * 100_000 + b"}", "application/json"),
    "a sheet that is none": (b'{"sheet": 1, "base": 1}', "application/json"),
    "base true": (b'{"sheet": "x", "base": true}', "application/json"),
    "base 1.0": (b'{"sheet": "x", "base": 1.5}', "application/json"),
    "base 0": (b'{"sheet": "x", "base": 0}', "application/json"),
    "base beyond": (b'{"sheet": "x", "base": 99999999999999999999}', "application/json"),
    "base text": (b'{"sheet": "x", "base": "1"}', "application/json"),
    "no base": (b'{"sheet": "x"}', "application/json"),
}


@pytest.mark.parametrize("body", BODIES)
def test_a_body_that_is_none_is_refused_and_changes_nothing(app, body):
    job = app.new()
    data, kind = BODIES[body]
    for path in ("", "/edit", "/undo", "/redo"):
        method = "PUT" if path == "" else "POST"
        refused = app.ask(method, f"/api/jobs/{job['id']}{path}", data, {"content-type": kind})
        assert (refused.status, refused.json["kind"]) == (400, "request") or (path and "sheet that is" in body)
    assert app.job(job["id"]) == job


def test_a_sheet_too_long_for_the_page_is_refused_in_words(app):
    refused = app.post("/api/jobs", sheet="#" * 4_000_001)
    assert refused.status == 400
    assert "at most 4000000" in refused.json["error"]


def test_labels_and_titles_are_kept_short(app):
    job = app.post("/api/jobs", sheet="job " + "x" * 5000 + "\n", label="y" * 5000).json
    assert len(job["title"]) == 120
    assert len(app.get(f"/api/jobs/{job['id']}/history").json["versions"][0]["label"]) == 120


@pytest.mark.parametrize(
    ("sheet", "title"),
    [
        ("job  Kiln  shed   # remark\n", "Kiln  shed"),
        ("  JOB Kiln\n", "Kiln"),
        ("box J1\n", "Job without a name"),
        ("job\n", "Job without a name"),
        ("", "Job without a name"),
        ("# job Nothing\njob #12 kiln\n", "#12 kiln"),
        ("\ufeffjob Kiln\n", "Kiln"),
        ("job Kiln > shed, upper\n", "Kiln > shed, upper"),
        ("job Kiln\t# remark\n", "Kiln"),
    ],
)
def test_a_job_is_called_what_its_sheet_says(app, sheet, title):
    from ampleroom.job import Sheet, read_with_faults

    job = app.new(sheet)
    assert job["title"] == title
    read = read_with_faults(Sheet(sheet))[0].title
    assert title in (read, "Job without a name")


def test_examples_are_ready_to_try(app):
    found = app.get("/api/examples").json
    assert [example["title"] for example in found["examples"]] == ["Ropewalk Row, houses 1 to 4", "Boathouse studio"]
    assert all("job " in example["sheet"] for example in found["examples"])
    assert "box" in found["starter"]
    assert app.get("/api/stock").json["stock"] == found["stock"]


def test_stock_is_kept_and_faults_in_it_are_told(app):
    assert app.put("/api/stock", stock="currency = 'USD'\n").json == {"stock": "currency = 'USD'\n"}
    assert app.get("/api/stock").json == {"stock": "currency = 'USD'\n"}
    for wrong in ("[[[", "[[box]]\nname = 3\n", "x = " + "[" * 20_000, "currency = " + "{a=" * 5000):
        refused = app.put("/api/stock", stock=wrong)
        assert refused.status == 422, refused
    assert app.get("/api/stock").json == {"stock": "currency = 'USD'\n"}
    app.put("/api/stock", stock="")
    assert app.get("/api/stock").json == {"stock": ""}


def test_a_database_of_a_later_form_or_of_no_form_is_left_alone(tmp_path):
    from ampleroom.errors import AmpleroomError
    from ampleroom.web.store import Store

    later = tmp_path / "later.db"
    with sqlite3.connect(later) as db:
        db.execute("PRAGMA user_version = 2")
    db.close()
    with pytest.raises(AmpleroomError, match="later Ampleroom"):
        Store(later)
    none = tmp_path / "none.db"
    none.write_text("no database " * 100)
    with pytest.raises(sqlite3.DatabaseError):
        Store(none)
    assert none.read_text() == "no database " * 100
