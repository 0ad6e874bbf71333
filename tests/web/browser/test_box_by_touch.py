"""A box entered by touch on a phone of 360 pixels, from an empty job to its verdict; all that is one tap away from there."""

import json
import re
import signal
import subprocess
import sys
from decimal import Decimal

import pytest

from tests.web.browser.helpers import wait_until
from tests.web.helpers import ROOT, Running

SHORT = """job Glaze shed
edition 2020
box J1 at the ladder
  square 4 x 1-1/2
  clamps inside
  receptacle #12
run J1 > ? 2 x 12/2 nm-b
run J1 > ? 14/3 nm-b
"""


def checked(sheet, tmp_path):
    """What the command line says of a sheet: ``ampleroom check --json``."""
    path = tmp_path / "as-kept.job"
    path.write_text(sheet, "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "ampleroom", "check", str(path), "--json"],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(ROOT / "src"), "PATH": ""},
    )
    assert done.returncode in (0, 1, 3), done.stderr
    return json.loads(done.stdout)


def first_box(phone, name="J1", at="the ladder"):
    phone.tap("New job")
    phone.field("Code edition adopted here").select_option("2020")
    phone.page.get_by_text("Job name and code edition: 2020 edition").wait_for()
    phone.field("Name").fill(name)
    phone.field("Where it is").fill(at)
    phone.tap("Add it")
    phone.page.locator("#answer").wait_for()


def opened(phone, server, sheet=SHORT, box="J1"):
    job = server.new(sheet)
    phone.box(job["id"], box)
    return job


def test_from_an_empty_job_to_a_verdict(phone, tmp_path):
    """4 x 2.25 for 12/2 twice, 3 x 2.00 for 14/3, 2 x 2.25 for the receptacle, 2.25 for the clamps, 2.25 for three grounds:
    24.00 in a box of 21.00. Sizes from the reprints named in docs/sources.toml for 314.16(A) and (B); the sum by hand."""
    first_box(phone)
    assert "Choose the box" in phone.answer
    phone.tap("Square 4 x 1-1/2 · 21.00 in³")
    phone.page.get_by_text("J1 has nothing in it yet; box volume 21.00 in³").wait_for()
    for _ in range(2):
        phone.tap("Add one 12/2 nm-b")
    phone.tap("Add one 14/3 nm-b")
    phone.touch(phone.page.get_by_role("group", name="Largest wire on the device").get_by_text("#12"))
    phone.tap("Add a receptacle #12")
    phone.touch(phone.page.get_by_role("group", name="Cable clamps").get_by_text("Inside"))
    phone.page.get_by_text("3.00 in³ over", exact=True).wait_for()
    assert re.search(r"fails\s+3.00 in³ over\s+J1 is 3.00 in³ over: box fill 24.00", phone.answer), phone.answer

    sheet = phone.kept()
    report = checked(sheet, tmp_path)
    (box,) = report["subjects"]
    (fill,) = [finding for finding in box["findings"] if finding["worksheet"]]
    assert (box["name"], box["at"], box["verdict"]) == ("J1", "the ladder", "fails")
    found = [Decimal(text) for text in (fill["worksheet"]["needed"], fill["worksheet"]["there"], fill["margin"])]
    assert found == [Decimal(24), Decimal(21), Decimal(-3)]
    assert fill["message"].replace("in3", "in³") in phone.answer
    assert phone.page.locator(".picture:visible").first.get_attribute("alt")


def test_taps_faster_than_answers_are_all_counted(phone, server):
    job = opened(phone, server, "job Fast\nedition 2020\nbox J1\n  square 4-11/16 x 2-1/8\n")
    phone.page.evaluate("""() => {
        const button = [...document.querySelectorAll('main button')].find((each) => each.getAttribute('aria-label') === 'Add one 12/2 nm-b');
        for (let n = 0; n < 9; n += 1) button.click();
    }""")
    wait_until(lambda: phone.page.locator("li.run").count() == 9)
    assert server.job(job["id"])["sheet"].count("12/2 nm-b") == 9
    phone.page.evaluate("""() => {
        const less = (n) => document.querySelectorAll('li.run .stepper button:first-child')[n];
        for (let n = 8; n > 0; n -= 1) less(n).click();
    }""")
    wait_until(lambda: phone.page.locator("li.run").count() == 1)
    assert server.job(job["id"])["sheet"].count("12/2 nm-b") == 1


@pytest.mark.parametrize("place", ["b/J1", "boxes", "map", "hand-over"])
def test_without_an_edition_nothing_is_judged_and_it_is_asked_for(phone, server, place):
    """As on the command line: there is no default."""
    job = server.new(SHORT.replace("edition 2020\n", ""))
    phone.go(f"#/j/{job['id']}/{place}")
    phone.page.get_by_text("Which code edition is adopted there?").wait_for()
    assert phone.page.locator(".verdict").count() == 0
    phone.field("Code edition adopted here").select_option("2020")
    phone.page.get_by_text("Job name and code edition: 2020 edition").or_(
        phone.page.locator("header .verdict")
    ).first.wait_for()
    assert server.job(job["id"])["sheet"] == SHORT.replace(
        "job Glaze shed\nedition 2020", "edition 2020\njob Glaze shed"
    )


DIVIDED = """job Sides
edition 2020
box J1
  marked 60 in3 plastic 2-gang
  barrier plastic
  space left 1 gang
  receptacle #12
  space right 1 gang
  receptacle #12
run J1/left > ? 12/2 nm-b
run J1/right > ? 12/2 nm-b
"""


def needed(sheet, tmp_path):
    """What each side needs, by the command line."""
    findings = checked(sheet, tmp_path)["subjects"][0]["findings"]
    return {
        found["subject"]: Decimal(found["worst_case"]["needed"] if found["worst_case"] else found["needed"])
        for found in findings
        if found["rule"] == "box-fill"
    }


@pytest.mark.parametrize(("side", "other"), [("left", "right"), ("right", "left")])
def test_what_is_tapped_goes_to_the_side_that_is_chosen(phone, server, tmp_path, side, other):
    """A switch on #12 takes 2 x 2.25 on its own side (314.16(B)(4)), and nothing on the other."""
    job = opened(phone, server, DIVIDED)
    kept = lambda: server.job(job["id"])["sheet"]  # noqa: E731
    phone.touch(phone.page.get_by_role("group", name="Side of the barrier").get_by_text(side))
    for name in ("left", "right"):
        pressed = phone.button(name).first.get_attribute("aria-pressed")
        assert pressed == ("true" if name == side else "false")
    before = needed(kept(), tmp_path)
    phone.touch(phone.page.get_by_role("group", name="Largest wire on the device").get_by_text("#12"))
    phone.tap("Add a switch #12")
    phone.page.get_by_text(f"{side}: switch #12").wait_for()
    after = needed(kept(), tmp_path)
    assert after[f"J1/{side}"] - before[f"J1/{side}"] == Decimal("4.50")
    assert after[f"J1/{other}"] == before[f"J1/{other}"]
    phone.tap("Add one 14/2 nm-b")
    wait_until(lambda: f"run J1/{side} > ? 14/2 nm-b" in kept())
    phone.touch(phone.page.get_by_role("group", name="Cable clamps").get_by_text("None"))
    wait_until(lambda: "clamps none" in kept())
    half = kept().split("space right")[side == "right"]
    assert "clamps none" in half
    phone.tap(f"Remove {other}: receptacle #12")
    wait_until(lambda: kept().count("receptacle") == 1)
    half = kept().split("space right")[other == "right"]
    assert "receptacle" not in half


def test_a_barrier_is_made_by_touch(phone, server):
    sheet = "job B\nedition 2020\nbox J1\n  marked 60 in3 plastic 3-gang\n  clamps tabs\n  switch #12\nrun J1 > ? 12/2 nm-b\n"
    job = opened(phone, server, sheet)
    phone.tap("Add a barrier")
    phone.tap("Left 2 gangs, right 1 gang")
    phone.page.get_by_role("heading", name="Side of the barrier").wait_for()
    kept = server.job(job["id"])["sheet"]
    assert (
        "  barrier plastic\n  space left 2 gangs\n  clamps tabs\n  switch #12\n  space right 1 gangs\nrun J1/left > ? 12/2 nm-b\n"
        in kept
    )
    phone.page.get_by_text("left: switch #12").wait_for()
    assert phone.page.get_by_role("button", name="Add a barrier").count() == 0
    phone.tap("Remove the barrier")
    phone.button("Add a barrier").wait_for()
    assert server.job(job["id"])["sheet"] == sheet


def test_the_number_in_the_head_is_that_of_the_card(phone, server):
    """Two sides that fail: the number, in the head and on the card, is that of the sentence. One that depends has none."""
    crowded = DIVIDED.replace("60 in3", "20 in3").replace("run J1/right > ? 12/2", "run J1/right > ? 3 x 12/2")
    opened(phone, server, crowded)
    head = phone.page.locator("header .short").inner_text()
    (number,) = re.findall(r"\d+\.\d+ over", head)
    assert number.replace(" over", " in³ over") in phone.answer
    assert f"{number.removesuffix(' over')} in³ over, best case: box fill" in phone.answer
    opened(phone, server, "job D\nedition 2020\nbox J1\n  square 4 x ?\n  clamps inside\nrun J1 > ? 4 x 12/2 nm-b\n")
    phone.page.get_by_text("Depends on facts not checked yet", exact=True).wait_for()
    assert phone.page.locator("header .short").inner_text().strip() == "check needed"
    opened(phone, server, "job E\nedition 2020\nbox J1\n  square 4 x 1-1/2\n")
    phone.page.locator("#answer .big", has_text="Nothing in it yet").wait_for()
    assert phone.page.locator("header .short").inner_text().strip() == "check needed"


def test_what_was_not_judged_stands_on_every_view_of_the_job(phone, server):
    sheet = (
        "job N\nedition 2020\npanel P main 100 A\nbox J1\n  square 4 x 2-1/8\n  switch #12\nraceway R1 P > J1 emt 1\n"
    )
    job = server.new(sheet)
    for tab in ("boxes", "map", "hand-over"):
        phone.go(f"#/j/{job['id']}/{tab}")
        phone.page.get_by_text("Not judged: 1 raceway, 1 panel").first.wait_for()
        assert phone.page.locator("header .verdict").inner_text().strip() == "check needed"


def test_which_end_here_and_which_pass_through(phone, server):
    """Two conductors and a ground, #12, in 21.00: 2 x 2.25 + 2.25 whether they end or pass unbroken, and 4 x 2.25 + 2.25 where they
    pass in a loop of twice the free length or more (the allowances of 314.16(B)(1), by hand)."""
    opened(
        phone,
        server,
        "job Pass\nedition 2020\npanel P\nbox J1\n  square 4 x 1-1/2\n  clamps outside\nrun P > J1 12/2 nm-b\n",
    )
    becomes = phone.page.get_by_label(re.compile("In this box 12/2 nm-b"))
    phone.page.get_by_text("14.25 in³ spare", exact=True).wait_for()
    becomes.select_option(label="passes through")
    phone.page.get_by_text("passing on P > ?").wait_for()
    phone.page.get_by_text("14.25 in³ spare", exact=True).wait_for()
    becomes.select_option(label="loops through, uncut")
    phone.page.get_by_text("9.75 in³ spare", exact=True).wait_for()
    assert "run P > ? 12/2 nm-b through J1 loop" in phone.kept()
    for _ in range(2):
        phone.tap("Undo")
        phone.page.locator("#status", has_text="Undone").wait_for()
    wait_until(lambda: "run P > J1 12/2 nm-b" in phone.kept())
    phone.page.get_by_text("14.25 in³ spare", exact=True).wait_for()


def test_a_marked_volume_typed(phone):
    first_box(phone)
    phone.field("Volume in in³").fill("20,3")
    phone.field("Gangs").select_option("1")
    phone.tap("Use it")
    phone.page.get_by_text("J1 has nothing in it yet; box volume 20.30 in³").wait_for()
    assert "marked 20.3 in3 plastic 1-gang" in phone.kept()


def test_a_volume_that_is_no_number_says_what_to_type(phone):
    first_box(phone)
    phone.field("Volume in in³").fill("twenty")
    phone.tap("Use it")
    phone.page.get_by_text("Type the volume in in³, such as 20.3").wait_for()
    assert "marked" not in phone.kept()


def test_not_known_is_a_button(phone, server):
    job = opened(phone, server)
    phone.tap("Box: not known")
    phone.page.get_by_text("Depends on facts not checked yet", exact=True).wait_for()
    assert "marked ? in3" in server.job(job["id"])["sheet"]
    assert phone.button("Box: not known").get_attribute("aria-pressed") == "true"
    phone.page.get_by_role("heading", name="Check this", exact=True).wait_for()
    phone.touch(phone.page.get_by_role("group", name="Cable clamps").get_by_text("Not known"))
    wait_until(lambda: "clamps ?" in server.job(job["id"])["sheet"])
    phone.tap("Add a ring or cover")
    phone.tap("plaster ring, not known")
    wait_until(lambda: "plaster ring ?" in server.job(job["id"])["sheet"])


def test_rings_covers_and_other_lines(phone, server):
    job = opened(phone, server, "job Ring\nedition 2020\nbox J1\n  square 4 x 1-1/2\nrun J1 > ? 12/2 nm-b\n")
    phone.tap("Add a ring or cover")
    phone.field("Volume marked on it, in³").fill("3.5")
    phone.tap("plaster ring, marked")
    phone.page.get_by_text("plaster ring 3.5 in3").wait_for()
    phone.tap("Other contents")
    phone.field("Anything else, as a line of the sheet").fill("stud")
    phone.tap("Add this line")
    phone.tap("Other cables")
    phone.field("Any other cable, as in a sheet").fill("14/2 old, ground #16")
    phone.tap("Add this cable")
    wait_until(lambda: "14/2 old" in server.job(job["id"])["sheet"])
    sheet = server.job(job["id"])["sheet"]
    assert "plaster ring 3.5 in3" in sheet
    assert "\n  stud" in sheet
    phone.tap("Remove stud")
    wait_until(lambda: "stud" not in server.job(job["id"])["sheet"])
    phone.tap("Other contents")
    phone.field("Anything else, as a line of the sheet").fill("no such thing")
    phone.tap("Add this line")
    wait_until(lambda: "no such thing" in phone.status or "not" in phone.status)
    assert "no such thing" not in server.job(job["id"])["sheet"]


def test_what_else_fits(phone, server):
    """3.00 spare takes one more #12 or #14 wire, and no further cable (2.25, 2.00; two conductors of 2.00 are 4.00)."""
    opened(phone, server, SHORT.replace("run J1 > ? 14/3 nm-b\n", ""))
    phone.page.get_by_text("3.00 in³ spare", exact=True).wait_for()
    phone.tap("What else fits")
    phone.page.locator("#dialog tbody tr").first.wait_for()
    rows = {row.split("\t")[0]: row.split("\t")[1] for row in phone.page.locator("#dialog tbody tr").all_inner_texts()}
    assert rows["14/2 nm-b"] == "0 more"
    assert rows["1 x #12 thhn"] == "1 more"
    assert rows["1 x #14 thhn"] == "1 more"
    phone.page.keyboard.press("Escape")
    phone.page.locator("#dialog").wait_for(state="hidden")


def test_a_worksheet_line_opens_its_rule_and_leads_back(phone, server):
    opened(phone, server)
    phone.tap("Worksheet")
    sums = phone.page.locator("#dialog tr.sum").all_inner_texts()
    assert [line.split("\t") for line in sums] == [["Box volume", "21.00"], ["Box fill", "24.00"]]
    phone.tap("Equipment grounds: the rule in plain words")
    phone.page.get_by_role("heading", name="By edition").wait_for()
    assert "From 2020" in phone.dialog_text
    phone.tap("Back")
    phone.page.get_by_role("heading", name="Worksheet of J1").wait_for()
    assert (
        phone.page.evaluate("document.activeElement.getAttribute('aria-label')")
        == "Equipment grounds: the rule in plain words"
    )
    phone.close_dialog()
    assert phone.page.evaluate("document.activeElement.textContent") == "Worksheet"


def test_a_row_of_the_picture_opens_its_rule(phone, server):
    opened(phone, server)
    phone.touch(phone.page.locator(".rooms.narrow button", has_text="Clamps inside"))
    phone.page.get_by_role("heading", name="By edition").wait_for()


def test_a_remedy_made_and_undone(phone, server, tmp_path):
    job = opened(phone, server)
    phone.tap("Fixes")
    first = phone.page.locator("#dialog section").first
    promised = re.search(r"Leaves (\d+(?:\.\d+)?) in³", first.inner_text())
    assert promised
    phone.touch(first.get_by_role("button", name="Do this"))
    phone.page.locator("#dialog").wait_for(state="hidden")
    phone.page.locator("#answer.passes").wait_for()
    mended = server.job(job["id"])["sheet"]
    report = checked(mended, tmp_path)
    assert report["verdict"] == "passes"
    (fill,) = [finding for finding in report["subjects"][0]["findings"] if finding["worksheet"]]
    assert Decimal(fill["margin"]) == Decimal(promised[1])
    phone.tap("Undo")
    phone.page.locator("#answer.fails").wait_for()
    assert server.job(job["id"])["sheet"] == SHORT
    phone.tap("Redo")
    phone.page.locator("#answer.passes").wait_for()
    assert server.job(job["id"])["sheet"] == mended


@pytest.mark.parametrize("tab", ["b/J1", "boxes", "map", "remedies", "takeoff", "editions", "sheet", "hand-over"])
def test_undo_is_in_sight_wherever_one_is(phone, server, tab):
    job = server.new(SHORT)
    phone.go(f"#/j/{job['id']}/{tab}")
    for place in ("0", "document.body.scrollHeight / 2", "document.body.scrollHeight"):
        phone.page.evaluate(f"window.scrollTo(0, {place})")
        for name in ("Undo", "Redo"):
            seen = phone.button(name).evaluate("""(node) => {
                const { left, right, top, bottom } = node.getBoundingClientRect();
                const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
                return left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight && (over === node || node.contains(over));
            }""")
            assert seen, f"{name} is not to be seen at {tab}"


def newer(server, id, version):
    return lambda: server.job(id)["version"] > version


def test_undo_reaches_back_after_the_server_was_killed_and_started_again(window, home):
    with Running(home) as server:
        phone = window(server)
        phone.open()
        first_box(phone)
        phone.tap("Square 4 x 1-1/2 · 21.00 in³")
        phone.page.get_by_text("J1 has nothing in it yet; box volume 21.00 in³").wait_for()
        phone.tap("Add one 12/2 nm-b")
        phone.tap("Add one 14/2 nm-b")
        wait_until(lambda: "14/2 nm-b" in phone.kept())
        id, port, last = phone.id, server.port, phone.kept()
        server.stop(signal.SIGKILL)
    with Running(home, "--port", str(port)) as server:
        phone.page.reload()
        phone.page.locator("#answer").wait_for()
        assert phone.kept() == last
        taken: list[str] = []
        while phone.button("Undo").get_attribute("aria-disabled") is None and len(taken) < 9:
            before = server.job(id)["version"]
            phone.tap("Undo")
            wait_until(newer(server, id, before))
            taken.append(server.job(id)["sheet"])
            if "box J1" not in taken[-1]:
                break
            phone.page.locator("#status", has_text="Undone").wait_for()
        assert [sheet.count("12/2") + sheet.count("14/2") + sheet.count("square") for sheet in taken] == [2, 1, 0, 0]
        assert "box" not in taken[-1]
        phone.page.get_by_role("heading", name="First box").wait_for()
        for _ in taken:
            before = server.job(id)["version"]
            phone.tap("Redo")
            wait_until(newer(server, id, before))
        assert server.job(id)["sheet"] == last
