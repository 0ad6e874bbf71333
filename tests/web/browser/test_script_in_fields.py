"""Script in every text field and in every name: on the page it is text, it runs nowhere, and the policy refuses nothing
of ours.

Every window of these tests also fails by itself when a dialog opens, a script throws, or the policy is broken (see
conftest).
"""

import re

import pytest

from tests.web.browser.helpers import DESK, wait_until
from tests.web.browser.test_box_by_touch import SHORT
from tests.web.browser.views import every_view
from tests.web.helpers import STOCK, Running
from tests.web.test_script import EVILS, sheet_full_of

RUNS = "<img/src='x'/onerror='window.__ran=1'><svg/onload='window.__ran=1'><script>window.__ran=1</script>"

FIELDS = """() => [...(document.querySelector('dialog[open]') ?? document)
    .querySelectorAll('input:not([type=file]):not([type=checkbox]), textarea:not([readonly])')]
  .filter((node) => node.checkVisibility()).map((node) => node.id || node.closest('label')?.textContent)"""

FOREIGN = """() => [...document
  .querySelectorAll('script, iframe, object, embed, style, link, [onerror], [onload], [onclick], [onmouseover]')]
  .filter((node) =>
  !(node.matches('head > script[src="app.js"], head > link') )).map((node) => node.outerHTML.slice(0, 120))
  .concat([...document.querySelectorAll('img')].filter((node) =>
    !/^(data:image.svg|blob:|http:.*api.photos)/.test(node.src)).map((node) => node.outerHTML.slice(0, 120)))
  .concat([...document.querySelectorAll('a[href]')].filter((node) => !/^#|^blob:/.test(node.getAttribute('href')))
    .map((node) => node.outerHTML.slice(0, 120)))"""


def harmless(window):
    window.page.wait_for_timeout(50)
    assert window.page.evaluate("window.__ran") is None
    assert window.page.evaluate(FOREIGN) == []


def test_what_is_looked_for_would_be_found(phone):
    """The same markup put into the page as markup is refused by the policy, and found. It is put beside what the page
    draws, which may be drawn anew.
    """
    phone.page.evaluate("(evil) => document.body.insertAdjacentHTML('beforeend', evil)", RUNS)
    assert phone.page.evaluate(FOREIGN) != []
    wait_until(lambda: phone.page.wait_for_timeout(50) is None and any("CSP" in each for each in phone.troubles))
    told = 0
    while told < len(phone.troubles):  # the browser tells of each handler, one after another
        told = len(phone.troubles)
        phone.page.wait_for_timeout(500)
    assert phone.page.evaluate("window.__ran") is None
    phone.troubles.clear()


@pytest.mark.parametrize("evil", [RUNS, EVILS[2] + EVILS[3] + EVILS[7]])
def test_a_sheet_full_of_it(desk, server, evil):
    job = server.new(sheet_full_of(evil))
    for tab in ("boxes", "map", "takeoff", "editions", "sheet", "hand-over"):
        desk.job(job["id"], tab)
        harmless(desk)
    desk.job(job["id"], "boxes")
    assert desk.page.locator("h1").inner_text().startswith("Slip")
    desk.page.locator("#boxes a", has_text="· circuit").first.click()
    desk.page.locator("h1", has_text="circuit").wait_for()
    harmless(desk)
    desk.page.go_back()
    desk.page.locator("#boxes a").first.wait_for()
    links = desk.page.locator("#boxes a").filter(has_not_text="· circuit")
    boxes = links.count()
    for place in range(boxes):
        links.nth(place).click()
        desk.page.locator("#answer").wait_for()
        harmless(desk)
        desk.tap("Worksheet")
        desk.page.locator("#dialog[open]").wait_for()
        harmless(desk)
        desk.close_dialog()
        desk.page.go_back()
        desk.page.locator("#boxes a").first.wait_for()
    assert boxes
    desk.go("#/")
    harmless(desk)


def test_typed_into_every_field(window, home):
    """Whatever is typed is taken as words or refused with words."""
    with Running(home) as server:
        found = window(server, DESK)
        found.open()
        typed = set()
        for view in every_view(found, server.new):
            fields = found.page.evaluate(FIELDS)
            for name in fields if view != "job-sheet-faulty" else []:
                field = found.page.locator(f"[id='{name}']")
                if name in typed or not field.is_visible():
                    continue
                typed.add(name)
                if name in ("sheet", "stock"):
                    field.fill(f"job {RUNS}\nbox B1 at {RUNS}\n")
                else:
                    field.fill(RUNS)
                    field.press("Enter")
                found.page.wait_for_timeout(150)
                harmless(found)
                if name == "sheet":
                    found.page.locator("#kept", has_text=re.compile("^saved")).wait_for()
                    found.tap("Undo")
                    found.page.locator("#status", has_text="Undone").wait_for()
                elif name in ("search", "most_kinds", "spare", "margin"):
                    field.fill("")
                if view == "job-empty" and "/b/" in found.page.url:
                    found.page.go_back()
        assert typed >= {
            "search",
            "title",
            "stock",
            "sheet",
            "volume",
            "cable",
            "line",
            "ring-volume",
            "most_kinds",
            "spare",
            "margin",
        }


def test_a_box_of_a_bad_name_is_refused_with_words(phone):
    phone.tap("New job")
    phone.field("Code edition adopted here").select_option("2020")
    phone.field("Name").fill(RUNS)
    phone.field("Where it is").fill(RUNS)
    phone.tap("Add it")
    phone.page.locator("#status", has_text="a box's name is one word").wait_for()
    harmless(phone)
    phone.field("Name").fill("B1")
    phone.tap("Add it")
    phone.page.locator("#answer").wait_for()
    assert "<img/src='x'" in phone.page.locator("header").inner_text()
    harmless(phone)


def test_names_of_files_and_photographs(phone, server, photograph, tmp_path):
    name = "<img src=x onerror=window.__ran=1>.jpg"
    evil = tmp_path / name
    evil.write_bytes(photograph.read_bytes())
    (tmp_path / f"no{name}").write_bytes(b"no picture")
    job = server.new(SHORT)
    phone.box(job["id"], "J1")
    phone.page.locator("#photo").set_input_files(evil)
    phone.page.get_by_role("img", name="Photo 1 of J1").wait_for()
    phone.page.locator("#photo").set_input_files(tmp_path / f"no{name}")
    phone.page.locator("#status", has_text="<img src=x").wait_for()
    harmless(phone)
    phone.go("#/")
    bad = tmp_path / f"{name}.xlsx"
    bad.write_bytes(b"no workbook")
    phone.page.locator("#file").set_input_files(bad)
    phone.page.get_by_role("heading", name=re.compile("cannot be read")).wait_for()
    harmless(phone)


def test_a_conflict_and_a_stock_file_full_of_it(phone, server):
    job = server.new(SHORT)
    phone.box(job["id"], "J1")
    server.put(f"/api/jobs/{job['id']}", base=1, sheet=SHORT + f"note {RUNS}\n")
    phone.tap("Add one 12/2")
    phone.page.get_by_role("heading", name="Changed in another window").wait_for()
    assert "<img/src='x'" in phone.dialog_text
    harmless(phone)
    phone.tap("Only what is there")
    phone.page.locator("#dialog").wait_for(state="hidden")
    server.put(
        "/api/stock", stock=STOCK.replace('name     = "', "name     = \"<img/src='x'/onerror='window.__ran=1'> ")
    )
    phone.tap("Fixes")
    phone.page.get_by_role("button", name=re.compile("^Do this")).first.wait_for()
    assert "<img/src='x'" in phone.dialog_text
    harmless(phone)
    server.put("/api/stock", stock=STOCK)
