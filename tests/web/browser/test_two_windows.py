"""Two windows on one job: the second is told, both versions are shown, either can be kept, and nothing is lost."""

import re

import pytest

from tests.web.browser.helpers import DESK, PHONE, wait_until

SHEET = """job Slip rails
edition 2020
box J1
  square 4 x 2-1/8
  clamps inside
box J2
  marked 34 in3 plastic 2-gang
run J1 > J2 14/2 nm-b
"""


@pytest.fixture(params=["of one browser", "of two browsers"])
def two(request, window, server):
    """Two windows on one box of one job, both showing the same version."""
    job = server.new(SHEET)
    first = window(server)
    second = window(server, DESK, beside=first) if request.param == "of one browser" else window(server, PHONE)
    for each in (first, second):
        each.open(f"#/j/{job['id']}/b/J1")
        each.page.locator("#answer").wait_for()
    return first, second, job["id"]


def conflicting(two):
    """The first brings in a 12/2; the second, which did not see it, a 14/3."""
    first, second, _ = two
    first.tap("Add one 12/2 nm-b")
    first.page.locator("li.run", has_text="12/2 nm-b").wait_for()
    second.tap("Add one 14/3 nm-b")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()


def test_the_conflict_is_told_and_both_versions_are_shown(two, server):
    conflicting(two)
    _, second, id = two
    assert re.search(r"your change was not made. Nothing was lost", second.dialog_text)
    seen, now = (
        second.page.get_by_role("region", name=name).inner_text() for name in ("As you saw it", "As it is now")
    )
    assert "12/2" not in seen
    assert re.search(r"→ run J1 > \? 12/2 nm-b", now)
    assert "14/3" not in server.job(id)["sheet"]


def test_the_later_change_can_be_made_on_top(two, server):
    conflicting(two)
    _, second, id = two
    second.tap("Make my change anyway")
    wait_until(lambda: second.page.locator("li.run").count() == 3)
    sheet = server.job(id)["sheet"]
    assert "12/2 nm-b" in sheet
    assert "14/3 nm-b" in sheet


def test_what_is_there_can_be_taken(two, server):
    conflicting(two)
    _, second, id = two
    before = server.job(id)
    second.tap("Leave it as it is now")
    second.page.locator("li.run", has_text="12/2 nm-b").wait_for()
    assert server.job(id) == before
    second.tap("Add one 14/3 nm-b")
    wait_until(lambda: "14/3 nm-b" in server.job(id)["sheet"])


def test_a_dialog_just_closed_loses_nothing(two, server):
    conflicting(two)
    _, second, id = two
    second.close_dialog()
    assert "12/2 nm-b" in server.job(id)["sheet"]
    second.tap("Add one 10/2 nm-b")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()
    second.tap("Make my change anyway")
    wait_until(lambda: "10/2 nm-b" in server.job(id)["sheet"])


def test_undo_in_a_window_that_did_not_see_the_last_change_is_a_conflict(two, server):
    first, second, id = two
    second.tap("Add one 12/2 nm-b")
    second.page.locator("li.run", has_text="12/2 nm-b").wait_for()
    first.page.reload()
    first.page.locator("li.run", has_text="12/2 nm-b").wait_for()
    first.tap("Add one 14/3 nm-b")
    first.page.locator("li.run", has_text="14/3 nm-b").wait_for()
    second.tap("Undo")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()
    assert "14/3 nm-b" in server.job(id)["sheet"]


def typed(two, server):
    """Both write in the sheet as text, each something else."""
    first, second, id = two
    for each in (first, second):
        each.job(id, "sheet")
    first.page.locator("#sheet").fill(SHEET + "note the first wrote this\n")
    first.page.get_by_text("saved", exact=True).wait_for()
    second.page.locator("#sheet").fill(SHEET + "note the second wrote this\n")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()
    mine, theirs = (second.page.get_by_role("region", name=name).inner_text() for name in ("Yours", "As it is now"))
    assert "→ note the second wrote this" in mine
    assert "→ note the first wrote this" in theirs


def test_a_sheet_typed_in_both_can_be_kept_on_top_with_the_other_in_the_history(two, server):
    typed(two, server)
    _, second, id = two
    second.tap("Make my change anyway")
    wait_until(lambda: "note the second" in server.job(id)["sheet"])
    assert any("note the first" in sheet for sheet in server.whole_history(id))
    second.tap("Undo")
    wait_until(lambda: "note the first" in server.job(id)["sheet"])


def test_a_sheet_typed_in_both_can_be_left_to_the_other(two, server):
    typed(two, server)
    _, second, id = two
    second.tap("Leave it as it is now")
    wait_until(lambda: "note the first" in second.page.locator("#sheet").input_value())
    assert "note the first" in server.job(id)["sheet"]


def test_a_box_taken_out_elsewhere_sends_back_to_the_job(two, server):
    first, second, id = two
    first.tap("Remove this box from the job")
    first.page.get_by_role("navigation").wait_for()
    second.tap("Add one 14/3 nm-b")
    second.tap("Make my change anyway")
    second.page.get_by_text("J1 is not in this job any more").wait_for()
    second.page.get_by_role("navigation").wait_for()
    assert "box J1" not in server.job(id)["sheet"]
