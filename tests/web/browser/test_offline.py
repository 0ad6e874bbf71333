"""Without a signal: the pages kept by the service worker, the core in the browser's Python, jobs in the browser's
database.
"""

import io
import json
import re
import shutil
import signal
from contextlib import contextmanager
from pathlib import Path

import pytest

from ampleroom.web import offline
from tests.web.browser.helpers import DESK, PHONE, wait_until
from tests.web.helpers import STOCK, Running

SHEET = """job Slip at low water
edition 2020
box J1 at the winch
  square 4 x 1-1/2
  clamps inside
  receptacle #12
run J1 > ? 2 x 12/2 nm-b
"""

SLOW = """
window.__held = new Promise((done) => { window.__release = done; });
window.Worker = class extends Worker {
  set onmessage(run) { super.onmessage = (event) => (event.data.ready ? window.__held.then(() => run.call(this,
    event)) : run.call(this, event)); }
};
"""
"""Python that takes its time: its word that it is ready is held back until the test lets it through."""


@pytest.fixture
def there(window, home, pages):
    """A server with the folder for use without it, and a phone that has seen its pages and keeps them."""
    running = Running(home, "--pages", str(pages))
    found = There(window, home, pages, running)
    yield found
    found.server.stop()


class There:
    def __init__(self, window, home, pages, running):
        self.window, self.home, self.pages, self.server = window, home, pages, running
        self.port = running.port

    def phone(self, kind=PHONE, **more):
        phone = self.window(self.server, kind, **more)
        phone.open()
        phone.kept_for_later()
        phone.worker_ready()
        return phone

    def gone(self, *windows):
        """The server is killed; the windows notice."""
        self.server.stop(signal.SIGKILL)
        for each in windows:
            each.page.reload()
            each.page.wait_for_selector("html[data-ready=yes]", state="attached")
            each.offline()

    def back(self, *windows):
        self.server = Running(self.home, "--pages", str(self.pages), "--port", str(self.port))
        for each in windows:
            each.server = self.server
            each.online()

    @contextmanager
    def elsewhere(self):
        """The same jobs at another address meanwhile, where the windows do not look."""
        with Running(self.home) as other:
            yield other


def test_reloaded_edited_and_sent_when_the_server_is_back(there):
    """24.00 of 21.00 once a 14/3 came in (see test_box_by_touch), 3.00 over."""
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.box(job["id"], "J1")
    there.gone(phone)
    phone.page.get_by_text("3.00 in³ spare", exact=True).wait_for()  # after the reload, from the worker
    phone.tap("Add one 14/3")
    phone.page.get_by_text("3.00 in³ over", exact=True).wait_for()
    phone.tap("Undo")
    phone.page.get_by_text("3.00 in³ spare", exact=True).wait_for()
    phone.tap("Redo")
    phone.page.get_by_text("3.00 in³ over", exact=True).wait_for()
    phone.page.reload()  # kept in the browser, not in the page
    phone.page.get_by_text("3.00 in³ over", exact=True).wait_for()
    mine = phone.kept()
    phone.go("#/")
    phone.page.get_by_text("not sent yet").wait_for()
    phone.tap("New job")
    phone.field("Code edition adopted here").select_option("2020")
    phone.page.get_by_role("heading", name="First box").wait_for()
    phone.field("Name").fill("B1")
    phone.tap("Add it")
    phone.page.locator("#answer").wait_for()
    there.back(phone)
    wait_until(lambda: there.server.job(job["id"])["sheet"] == mine, 15)
    wait_until(lambda: len(there.server.get("/api/jobs").json["jobs"]) == 2)
    wait_until(lambda: not phone.id.startswith("here-"))  # the page goes on with the name the server gave it
    assert "box B1" in there.server.job(phone.id)["sheet"]
    phone.page.locator("#answer").wait_for()
    phone.tap("Add one 12/2")
    wait_until(lambda: "12/2 nm-b" in there.server.job(phone.id)["sheet"])
    phone.go("#/")
    assert "not sent yet" not in phone.page.locator("main").inner_text()


def test_the_signal_goes_while_the_page_is_open(there):
    """No reload: the tap that meets no server is made by the worker, and nothing of it is lost."""
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.box(job["id"], "J1")
    phone.tap("Add one 14/2")
    phone.has_cables("14/2", 1)
    there.server.stop(signal.SIGKILL)
    phone.tap("Add one 14/3")
    phone.has_cables("14/3", 1)
    phone.offline()
    for gone in ("14/3", "14/2"):  # what was done with the server is undone without it
        phone.tap("Undo")
        phone.has_cables(gone, 0)
    phone.tap("Redo")
    phone.has_cables("14/2", 1)
    there.back(phone)
    wait_until(
        lambda: (
            "14/2 nm-b" in there.server.job(job["id"])["sheet"] and phone.kept() == there.server.job(job["id"])["sheet"]
        )
    )
    assert "14/3 nm-b" not in there.server.job(job["id"])["sheet"]
    assert any("14/2 nm-b" in sheet for sheet in there.server.whole_history(job["id"]))


def test_changed_on_both_sides_both_are_shown_and_any_can_be_kept(there):
    jobs = {
        how: there.server.new(SHEET.replace("low water", how))["id"] for how in ("both", "mine", "theirs", "together")
    }
    phone = there.phone()
    for id in jobs.values():
        phone.box(id, "J1")
    there.gone(phone)
    phone.worker_ready()
    for id in jobs.values():
        phone.box(id, "J1")
        phone.tap("Add one 14/3")
        phone.has_cables("14/3", 1)
    with there.elsewhere() as other:
        for id in jobs.values():
            other.put(f"/api/jobs/{id}", base=1, sheet=other.job(id)["sheet"] + "note from the office\n")
    phone.go("#/")
    there.back(phone)
    phone.page.get_by_text("changed here and on the server").nth(3).wait_for()

    buttons = {
        "both": "Keep both, mine as a second job",
        "mine": "Use mine",
        "theirs": "Use the server’s",
        "together": "Take both",
    }
    for how, id in jobs.items():
        before = there.server.job(id)["sheet"]
        assert "office" in before
        assert "14/3" not in before
        phone.go(f"#/j/{id}/boxes")
        phone.page.get_by_role("heading", name="Changed here and on the server").wait_for()
        sides = phone.page.locator("dl.sides dd").all_inner_texts()
        assert sides == ["one 14/3 nm-b more in J1", "note from the office"]
        phone.tap(buttons[how])
        phone.page.locator("#dialog").wait_for(state="hidden")
        phone.page.locator("#status", has_text=re.compile("kept|used|Both are in")).wait_for()
        sheet = there.server.job(id)["sheet"]
        assert ("14/3" in sheet, "office" in sheet) == {
            "both": (False, True),
            "mine": (True, False),
            "theirs": (False, True),
            "together": (True, True),
        }[how]
        assert any("office" in version for version in there.server.whole_history(id))
    titles = [row["title"] for row in there.server.get("/api/jobs").json["jobs"]]
    assert "Slip at both (mine)" in titles
    (beside,) = [
        row["id"] for row in there.server.get("/api/jobs").json["jobs"] if row["title"] == "Slip at both (mine)"
    ]
    assert "14/3" in there.server.job(beside)["sheet"]


def test_the_page_is_of_use_before_python_is_ready_and_shows_how_far_it_is(there):
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.job(job["id"], "sheet")
    there.server.stop(signal.SIGKILL)
    phone.page.context.add_init_script(SLOW)
    phone.page.goto("about:blank")
    phone.page.goto(phone.address)
    phone.page.get_by_role("progressbar", name="Getting ready to count").wait_for()
    assert re.search(r"No signal\. This browser does the count: \S.* …", phone.page.locator("main").inner_text())
    phone.touch(phone.page.get_by_role("link", name="Slip at low water"))  # jobs are listed and open meanwhile
    sheet = phone.page.get_by_label("The sheet as text")
    sheet.wait_for()
    phone.page.get_by_role("progressbar").wait_for()
    assert sheet.input_value() == SHEET
    sheet.fill(SHEET + "run J1 > ? 14/3 nm-b\n")
    phone.page.locator("#kept", has_text=re.compile("^saved")).wait_for()
    assert phone.page.locator("[data-worker=starting]").count() == 1
    phone.page.evaluate("window.__release()")
    phone.page.get_by_text(re.compile(r"3\.00( in³)? over")).first.wait_for()
    assert phone.page.get_by_role("progressbar").count() == 0
    phone.page.reload()
    phone.page.evaluate("window.__release()")
    phone.page.get_by_text(re.compile(r"3\.00( in³)? over")).first.wait_for()


def test_a_browser_that_cannot_open_python_says_so_and_still_keeps_what_is_typed(there):
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.job(job["id"], "sheet")
    there.server.stop(signal.SIGKILL)
    phone.page.context.add_init_script(
        "window.Worker = class { constructor() { setTimeout(() => this.onmessage({ data: { failed: 'no room "
        "left' } }), 50); } postMessage() {} terminate() {} };"
    )
    phone.page.goto("about:blank")
    phone.page.goto(phone.address)
    phone.page.get_by_text("This browser cannot do the count: no room left").first.wait_for()
    assert phone.page.get_by_role("link", name="Slip at low water").count() == 1


def test_a_tap_that_cannot_be_kept_is_taken_off_the_screen_again(there):
    """The verdict is shown before the change is kept. Without room for it, nothing shown stays unkept."""
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.box(job["id"], "J1")
    there.gone(phone)
    phone.worker_ready()
    phone.box(job["id"], "J1")
    before = phone.answer
    phone.page.evaluate(
        "() => { window.__put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = () => { throw new "
        "DOMException('this browser has no room left', 'QuotaExceededError'); }; }"
    )
    phone.tap("One more 12/2")
    phone.page.locator("#status", has_text="This browser has no room left").wait_for()
    wait_until(lambda: phone.answer == before)
    phone.has_cables("12/2", 2)
    assert phone.kept() == SHEET
    phone.page.evaluate("() => { IDBObjectStore.prototype.put = window.__put; }")
    phone.tap("One more 12/2")
    phone.has_cables("12/2", 3)
    wait_until(lambda: phone.kept() != SHEET)


def test_a_picture_of_memory_that_is_cut_short_opens_the_plain_way(there):
    phone = there.phone()
    assert phone.page.evaluate("import('./app.js').then((page) => page.state.readyFrom)") == "picture"
    phone.page.evaluate("""async () => {
        const cache = await caches.open((await caches.keys())[0]);
        const { url } = (await cache.keys()).find((request) => request.url.endsWith('/snapshot.bin'));
        const whole = await (await cache.match(url)).arrayBuffer();
        await cache.put(url, new Response(whole.slice(0, whole.byteLength / 2)));
    }""")
    there.gone(phone)
    phone.worker_ready()
    assert phone.page.evaluate("import('./app.js').then((page) => page.state.readyFrom)") == "files"
    assert phone.page.get_by_role("progressbar").count() == 0  # the list of jobs does not go on saying that it opens


def test_all_of_the_job_without_a_server(there, tmp_path):
    """Map, remedies, takeoff, editions, sheet; the packet and a workbook made in the browser, and a workbook brought
    in.
    """
    job = there.server.new(SHEET + "run J1 > ? 14/3 nm-b\n")
    there.server.put("/api/stock", stock=STOCK)
    phone = there.phone(DESK)
    phone.job(job["id"], "boxes")
    phone.page.evaluate("import('./app.js').then((page) => page.stock())")
    there.gone(phone)
    phone.worker_ready()
    phone.page.get_by_text(re.compile(r"3\.00( in³)? over")).first.wait_for()
    phone.job(job["id"], "map")
    phone.page.get_by_role("img").first.wait_for()
    phone.job(job["id"], "takeoff")
    phone.page.get_by_text("square 4 x 1-1/2").first.wait_for()
    phone.job(job["id"], "editions")
    assert phone.page.locator("tbody tr", has_text="J1").locator("td").count() == 7
    phone.job(job["id"], "remedies")
    phone.tap("Work it out")
    phone.page.get_by_text("1 box fixed for").first.wait_for(timeout=60_000)
    phone.tap("Write all fixes into the sheet")
    phone.page.locator("header .verdict.passes").wait_for()
    phone.tap("Undo")
    phone.page.locator("header .verdict.fails").wait_for()

    phone.job(job["id"], "hand-over")
    with phone.page.expect_download(timeout=120_000) as got:
        phone.tap("Packet, US letter")
    pdf = got.value.path().read_bytes()
    assert got.value.suggested_filename == "Slip at low water.pdf"
    assert pdf.startswith(b"%PDF")
    pypdf = pytest.importorskip("pypdf")
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    words = "".join(page.extract_text() for page in reader.pages)
    assert reader.metadata.title == "Slip at low water" or "Slip at low water" in words
    assert "24.00" in words
    with phone.page.expect_download(timeout=60_000) as got:
        phone.tap("Workbook")
    book = tmp_path / "back.xlsx"
    got.value.save_as(book)
    phone.go("#/")
    phone.page.locator("#file").set_input_files(book)
    phone.page.get_by_role("heading", name="Slip at low water").wait_for(timeout=60_000)
    phone.page.get_by_text(re.compile(r"3\.00( in³)? over")).first.wait_for()
    assert phone.id.startswith("here-")


def test_photographs_taken_without_a_signal_are_sent(there, photograph):
    job = there.server.new(SHEET)
    phone = there.phone()
    phone.box(job["id"], "J1")
    there.gone(phone)
    phone.page.locator("#answer").wait_for(timeout=60_000)
    phone.page.locator("#photo").set_input_files(photograph)
    phone.page.get_by_role("img", name="Photo 1 of J1").wait_for()
    phone.page.reload()
    phone.page.get_by_role("img", name="Photo 1 of J1").wait_for(timeout=60_000)
    there.back(phone)
    wait_until(lambda: len(there.server.get(f"/api/jobs/{job['id']}/photos").json["photos"]) == 1)
    (row,) = there.server.get(f"/api/jobs/{job['id']}/photos").json["photos"]
    assert row["box"] == "J1"
    assert there.server.get(f"/api/photos/{row['id']}").body.startswith(b"\xff\xd8")


def test_it_can_be_installed(there):
    """What a browser asks of a page before it offers to install it: name, start, display and an icon, and that it opens
    offline.
    """
    manifest = json.loads(there.server.get("/manifest.webmanifest").body)
    assert {"name", "start_url", "display", "icons"} <= set(manifest)
    phone = there.phone()
    session = phone.page.context.new_cdp_session(phone.page)
    found = session.send("Page.getAppManifest")
    assert found["errors"] == []
    assert json.loads(found["data"]) == manifest
    faults = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert [fault["errorId"] for fault in faults if fault["errorId"] != "in-incognito"] == []


@pytest.fixture
def copy(pages, tmp_path):
    """The folder, to be changed: without compressed copies, so that what is changed is what is sent."""
    return Path(shutil.copytree(pages, tmp_path / "pages", ignore=shutil.ignore_patterns("*.br", "*.gz")))


def test_a_folder_with_one_file_of_another_build_is_not_kept(window, home, copy):
    """The service worker is not installed, so the page needs its server; nothing half is left to open from."""
    (copy / "app.js").write_text((copy / "app.js").read_text("utf-8") + "// newer\n", "utf-8")
    with Running(home, "--pages", str(copy)) as running:
        phone = window(running)
        phone.open()
        refused = phone.page.evaluate(
            "navigator.serviceWorker.register('sw.js').then((found) => new Promise((done) => {"
            " const one = found.installing ?? found.waiting ?? found.active;"
            " one.onstatechange = () => done(one.state); }), () => 'redundant')"
        )
        assert refused == "redundant"
        phone.troubles.clear()  # the browser writes down that a file differs from its hash


def test_a_picture_larger_than_the_memory_python_starts_with_opens(window, home, copy, monkeypatch):
    """Python starts with 30 MiB. What the core grows by does not bring back the slow way of opening."""
    more = "\nimport sys\nsys.more = [str(n % 10) * 100_000 for n in range(200)]\n"
    monkeypatch.setattr(offline, "WARMING", offline.WARMING + more)
    assert offline.take_snapshot(copy, print)
    assert (copy / "snapshot.bin").stat().st_size > 45_000_000
    plan = json.loads((copy / "offline.json").read_text("utf-8"))
    keeper = copy / "sw.js"
    keeper.write_text(re.sub(r"\bLIST ?= ?'[^']*'", "LIST=''", keeper.read_text("utf-8")), "utf-8")
    offline.write_plan(copy, plan["mark"], plan["wheels"], True)
    with Running(home, "--pages", str(copy)) as running:
        phone = There(window, home, copy, running).phone()
        assert phone.page.evaluate("import('./app.js').then((page) => page.state.readyFrom)") == "picture"


@pytest.mark.parametrize("name", ["core.zip", "pyodide/python_stdlib.zip", "pyodide/pyodide.mjs", "offline.json"])
def test_python_does_not_start_with_a_file_of_another_build(window, home, copy, name):
    (copy / "sw.js").unlink()
    plan = json.loads((copy / "offline.json").read_text("utf-8"))
    if name == "offline.json":
        plan["mark"] = "of another"
    plan["snapshot"] = None
    (copy / "offline.json").write_text(json.dumps(plan), "utf-8")
    if name != "offline.json":
        (copy / name).write_bytes((copy / name).read_bytes() + b"\n")
    with Running(home, "--pages", str(copy)) as running:
        phone = window(running)
        phone.open()
        why = phone.page.evaluate(
            "import('./app.js').then((page) => page.startWorker()).then(() => '', (trouble) => trouble.message)"
        )
        assert ("two builds" if name == "offline.json" else name) in why
        phone.troubles.clear()


def test_a_page_with_a_script_of_another_build_does_not_start(window, home, copy):
    mark = json.loads((copy / "offline.json").read_text("utf-8"))["mark"]
    script = (copy / "app.js").read_text("utf-8")
    assert script.count(mark) == 1
    (copy / "app.js").write_text(script.replace(mark, "000000000000"), "utf-8")
    with Running(home, "--pages", str(copy)) as running:
        phone = window(running)
        phone.page.goto(phone.address)
        phone.page.get_by_role("heading", name="Page updated while it loaded").wait_for()
        assert "Nothing is counted with mixed files" in phone.page.locator("main").inner_text()
        assert phone.page.get_by_role("button", name="New job").count() == 0
        (copy / "app.js").write_text(script, "utf-8")
        phone.page.get_by_role("button", name="Reload").click()
        phone.page.get_by_role("button", name="New job").wait_for()
        phone.troubles.clear()
