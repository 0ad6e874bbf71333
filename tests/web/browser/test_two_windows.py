"""Two windows on one job: the second is told, both versions are shown, either can be kept, and nothing is lost."""

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
    first.tap("Add one 12/2")
    first.has_cables("12/2", 1)
    second.tap("Add one 14/3")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()


def told(window):
    """What the dialog says each side changed."""
    return window.page.locator("dl.sides dd").all_inner_texts()


def test_the_conflict_is_told_in_sentences_and_line_by_line(two, server):
    conflicting(two)
    _, second, id = two
    assert told(second) == ["one 14/3 nm-b more in J1", "one 12/2 nm-b more in J1"]
    second.touch(second.page.locator("summary", has_text="Change by change"))
    second.page.get_by_label("You: one 14/3 nm-b more in J1").wait_for()
    second.touch(second.page.locator("summary", has_text="Lines").first)
    assert "run J1 > ? 1" in second.page.get_by_role("region", name="Lines of this change").first.inner_text()
    assert "14/3" not in server.job(id)["sheet"]


def test_both_are_taken_where_they_do_not_touch_and_undo_takes_mine_back(two, server):
    conflicting(two)
    _, second, id = two
    second.tap("Take both")
    wait_until(lambda: "14/3 nm-b" in server.job(id)["sheet"])
    assert "12/2 nm-b" in server.job(id)["sheet"]
    second.page.locator("#dialog").wait_for(state="hidden")
    second.page.get_by_text("14/3").first.wait_for()
    second.tap("Undo")
    wait_until(lambda: "14/3 nm-b" not in server.job(id)["sheet"])
    assert "12/2 nm-b" in server.job(id)["sheet"]


def test_a_change_can_be_left_out(two, server):
    conflicting(two)
    _, second, id = two
    second.touch(second.page.locator("summary", has_text="Change by change"))
    second.page.get_by_label("There: one 12/2 nm-b more in J1").uncheck()
    second.tap("Take both")
    wait_until(lambda: "14/3 nm-b" in server.job(id)["sheet"])
    assert "12/2 nm-b" not in server.job(id)["sheet"]
    assert any("12/2 nm-b" in sheet for sheet in server.whole_history(id))


def test_the_same_cable_added_in_both_windows_is_one_or_two_and_somebody_says_which(two, server):
    """Lines that repeat: one cable seen by two people, or two cables."""
    first, second, id = two
    for each in (first, second):
        each.tap("Add one 12/2")
        if each is first:
            each.page.get_by_text("12/2").first.wait_for()
            wait_until(lambda: server.job(id)["sheet"].count("12/2") == 1)
    second.page.get_by_role("heading", name="Changed in another window").wait_for()
    second.tap("Save what is chosen")
    second.page.get_by_text("Choose at each line that both changed").wait_for()
    second.page.get_by_label("Take both, one after the other").check()
    second.tap("Save what is chosen")
    wait_until(lambda: server.job(id)["sheet"].count("run J1 > ? 12/2 nm-b") == 2)


def test_what_is_there_can_be_taken_or_mine_alone(two, server):
    conflicting(two)
    _, second, id = two
    before = server.job(id)
    second.tap("Only what is there")
    second.page.locator("#dialog").wait_for(state="hidden")
    assert server.job(id) == before
    second.tap("Add one 14/3")
    wait_until(lambda: "14/3 nm-b" in server.job(id)["sheet"])


def test_a_dialog_just_closed_loses_nothing(two, server):
    conflicting(two)
    _, second, id = two
    second.close_dialog()
    assert "12/2 nm-b" in server.job(id)["sheet"]
    second.tap("Add one 14/2")
    second.page.get_by_role("heading", name="Changed in another window").wait_for()
    second.tap("Take both")
    wait_until(lambda: "run J1 > ? 14/2 nm-b" in server.job(id)["sheet"])
    assert "12/2 nm-b" in server.job(id)["sheet"]


def test_undo_in_a_window_that_did_not_see_the_last_change_is_a_conflict(two, server):
    first, second, id = two
    second.tap("Add one 12/2")
    second.has_cables("12/2", 1)
    first.page.reload()
    first.has_cables("12/2", 1)
    first.tap("Add one 14/3")
    first.has_cables("14/3", 1)
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
    assert told(second) == ["note the second wrote this", "note the first wrote this"]


def test_a_sheet_typed_in_both_can_be_kept_on_top_with_the_other_in_the_history(two, server):
    typed(two, server)
    _, second, id = two
    second.tap("Only mine")
    wait_until(lambda: "note the second" in server.job(id)["sheet"])
    assert "note the first" not in server.job(id)["sheet"]
    assert any("note the first" in sheet for sheet in server.whole_history(id))
    second.page.locator("#dialog").wait_for(state="hidden")
    second.tap("Undo")
    wait_until(lambda: "note the first" in server.job(id)["sheet"])


def test_a_sheet_typed_in_both_can_be_left_to_the_other(two, server):
    typed(two, server)
    _, second, id = two
    second.tap("Only what is there")
    wait_until(lambda: "note the first" in second.page.locator("#sheet").input_value())
    assert "note the first" in server.job(id)["sheet"]


def test_a_box_taken_out_elsewhere_sends_back_to_the_job(two, server):
    first, second, id = two
    first.tap("Remove this box from the job")
    first.page.locator("html[data-shown^=job]").wait_for(state="attached")
    second.tap("Add one 14/3")
    second.page.get_by_text("These changes do not fit together").wait_for()
    second.tap("Only what is there")
    second.page.get_by_text("J1 is not in this job any more").wait_for()
    second.page.locator("html[data-shown^=job]").wait_for(state="attached")
    assert "box J1" not in server.job(id)["sheet"]
