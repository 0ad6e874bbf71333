"""The frame of a job: its four places, the list that is drawn where it is seen, any subject, the map, keys, a desk's
layout.
"""

import re
from functools import partial

import pytest

from tests.web.browser.helpers import DESK, wait_until
from tests.web.helpers import STUDIO

RACEWAY = STUDIO + "raceway R7 J1 > S1 emt 1/2 20 ft\nrun J1 > S1 10 #12 thhn in R7\n"


def large(count):
    boxes = "".join(f"box B{n} at room {n}\n  square 4 x 2-1/8\n  clamps inside\n" for n in range(count))
    return f"job Large\nedition 2020\n{boxes}" + "".join(f"run B{n} > B{n + 1} 12/2 nm-b\n" for n in range(count - 1))


def rows(window):
    return window.page.locator("#boxes li:not(.gap)")


def are_shown(phone, parts: list[str]) -> bool:
    """Whether these parts of a place are offered, and no others."""
    shown: list[str] = phone.page.get_by_role("navigation", name="Parts").get_by_role("link").all_inner_texts()
    return shown == parts


def test_four_places_lead_to_every_part_by_touch(phone, server):
    phone.job(server.new(STUDIO)["id"])
    places = phone.page.get_by_role("navigation", name="Places of this job").get_by_role("link")
    assert places.all_inner_texts() == ["Job", "Map", "Fixes", "Hand over"]
    for place, parts in (
        ("Fixes", ["Fixes", "What to buy"]),
        ("Hand over", ["Papers", "By edition"]),
        ("Job", ["List", "Sheet"]),
    ):
        phone.touch(phone.page.get_by_role("link", name=place, exact=True).last)
        wait_until(partial(are_shown, phone, parts))


def test_the_list_of_jobs_says_how_each_stands(phone, server):
    server.new(STUDIO.replace("Boathouse studio", "Standing told"))
    server.new("job Standing unknown\n\n")
    phone.page.reload()
    for title, words in (("Standing told", "2 fail"), ("Standing unknown", "code edition not set yet")):
        row = phone.page.locator("#jobs li", has_text=title).first
        row.get_by_text(words).wait_for()


def test_any_subject_has_its_card_its_worksheet_and_its_line_in_the_sheet(phone, server):
    phone.job(server.new(RACEWAY)["id"])
    phone.touch(phone.page.get_by_role("link", name=re.compile("^R7 · raceway")))
    phone.page.locator("#answer.fails").wait_for()
    phone.page.locator("td", has_text="#12 thhn").first.wait_for()
    phone.touch(phone.page.get_by_role("link", name="Its line in the sheet"))
    chosen = (
        "(() => { const field = document.getElementById('sheet'); return field.value.slice(field.selectionStart, "
        "field.selectionEnd); })()"
    )
    phone.page.locator("#sheet").wait_for()
    wait_until(lambda: phone.page.evaluate(chosen).startswith("raceway R7"))


def test_counts_show_their_own_rows_and_nothing_found_says_the_next_step(phone, server):
    phone.job(server.new(RACEWAY)["id"])
    phone.tap(re.compile("fails$"))
    wait_until(lambda: set(rows(phone).locator(".verdict").all_inner_texts()) == {"fails"})
    phone.page.get_by_role("searchbox").fill("nowhere")
    phone.tap("Show all")
    wait_until(lambda: rows(phone).count() > 10)


def test_a_card_s_code_opens_its_box(phone, server):
    id = server.new(STUDIO)["id"]
    phone.page.evaluate("place => { location.hash = place; }", f"#/j/{id}/c/b002")
    phone.page.locator("#answer").wait_for()
    assert phone.page.evaluate("location.hash") == f"#/j/{id}/b/J2"


def test_a_link_with_a_card_s_code_opens_its_box_in_a_page_not_open_yet(window, server):
    """As a phone's camera opens what a label says, in capitals or not. A code of no card leads to the list."""
    id = server.new(STUDIO)["id"]
    phone = window(server)
    phone.open(f"#/j/{id}/c/B001")
    phone.page.locator("#answer").wait_for()
    assert phone.page.evaluate("location.hash") == f"#/j/{id}/b/J1"
    phone.open("#/")
    phone.page.goto("about:blank")
    phone.open(f"#/j/{id}/c/B999")
    rows(phone).first.wait_for()


def test_the_map_is_searched_and_zoomed_by_keys_and_leads_to_a_box(phone, server):
    phone.job(server.new(STUDIO)["id"], "map")
    phone.page.locator("#find-place").fill("w2")
    phone.page.locator(".map .ring").wait_for()
    wide = "document.querySelector('.map img').getBoundingClientRect().width"
    before = phone.page.evaluate(wide)
    phone.page.locator(".map").focus()
    phone.page.keyboard.press("+")
    assert phone.page.evaluate(wide) > before * 1.2
    phone.page.keyboard.press("0")
    assert phone.page.evaluate(wide) <= 360
    phone.touch(phone.page.get_by_role("link", name="Open W2"))
    phone.page.locator("#answer").wait_for()


def test_a_large_list_is_drawn_where_it_is_seen(phone, server):
    phone.job(server.new(large(400))["id"])
    rows(phone).first.wait_for()
    assert rows(phone).count() <= 80
    phone.page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    phone.page.get_by_role("link", name=re.compile("^B398 ")).wait_for()
    assert rows(phone).count() <= 80
    phone.page.get_by_role("searchbox").fill("room 7")
    phone.page.get_by_role("link", name=re.compile("^B7 ")).wait_for()


@pytest.fixture
def wide(window, server):
    found = window(server, DESK)
    found.open(f"#/j/{server.new(STUDIO)['id']}/b/A2")
    found.page.locator("#answer").wait_for()
    return found


def test_on_a_desk_the_list_stands_beside_and_follows_a_tap(wide):
    row = rows(wide).filter(has_text="A2")
    row.get_by_text("1.75 in³ over").wait_for()
    wide.tap("Add one 14/2")
    row.get_by_text(
        "6.00 in³ over"
    ).wait_for()  # by hand: two #14 more, 2.00 each; the largest ground is #14 now, 2.00 and not 1.75
    left, right = (wide.page.locator(each).bounding_box() for each in (".flank", "#answer"))
    assert left["x"] + left["width"] <= right["x"]
    assert right["x"] + right["width"] == 1280, "the band of the verdict takes all the width there is"


def test_keys_go_along_the_list_and_are_shown_on_a_question_mark(wide):
    page = wide.page
    page.locator("h1").focus()
    page.keyboard.press("j")
    wait_until(lambda: "/b/A2" not in page.evaluate("location.hash"))
    page.locator("#answer").wait_for()
    page.keyboard.press("m")
    page.locator(".map").wait_for()
    page.keyboard.press("/")
    page.keyboard.type("?m")  # letters that are typed are letters
    assert page.evaluate("document.activeElement.value") == "?m"
    page.locator("h1").focus()
    page.keyboard.press("?")
    page.get_by_role("heading", name="Keys").wait_for()


def test_two_fingers_zoom_the_map_and_one_moves_it(phone, server):
    """By touches as the screen reports them. Apart from 80 to 200 pixels, twice and a half as large; what lies between
    the fingers stays there.
    """
    phone.job(server.new(STUDIO)["id"], "map")
    image = phone.page.locator(".map img")
    image.wait_for()
    phone.tap("Show all of the map")
    phone.page.evaluate("document.querySelector('.map').scrollIntoView({ block: 'center' })")
    box = phone.page.locator(".map").bounding_box()
    x, y = box["x"] + 130, box["y"] + 60
    session = phone.page.context.new_cdp_session(phone.page)

    def touch(kind, *places):
        points = [{"x": place, "y": y, "id": number} for number, place in enumerate(places)]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def wide():
        return image.bounding_box()["width"]

    def under_fingers():
        return (x - image.bounding_box()["x"]) / wide()

    before, point = wide(), under_fingers()
    touch("touchStart", x - 40, x + 40)
    for step in range(1, 7):
        touch("touchMove", x - 40 - 10 * step, x + 40 + 10 * step)
    touch("touchEnd")
    wait_until(lambda: wide() > 1.5 * before, what=f"{wide()} of {before}")
    assert abs(wide() / before - 2.5) < 0.4
    assert abs(under_fingers() - point) * wide() < 12, "what is between the fingers moved away"
    zoomed = wide()
    touch("touchStart", x)
    touch("touchMove", x - 60)
    touch("touchEnd")
    assert wide() == zoomed, "one finger does not zoom"
    assert not phone.page.get_by_role("link", name=re.compile("^Open ")).count(), "a pinch is not a tap"
    touch("touchStart", x - 100, x + 100)
    for step in range(1, 7):
        touch("touchMove", x - 100 + 10 * step, x + 100 - 10 * step)
    touch("touchEnd")
    wait_until(lambda: wide() < 0.6 * zoomed)
