"""The views of a job: list, search, map, takeoff, editions, the sheet in step with the boxes, photographs, files in and
out.
"""

import io
import re

import pytest

from ampleroom import check, read_job
from tests.web.browser.helpers import wait_until
from tests.web.helpers import EXAMPLES, STUDIO

SHORT = """job Kiln yard
edition 2020
box B1 at the gate
  square 4 x 2-1/8
box B2 at the kiln
  square 4 x 1-1/4
  clamps inside
run B1 > B2 3 x 12/2 nm-b
"""


@pytest.fixture
def studio(phone, server):
    job = server.new(STUDIO)
    phone.job(job["id"])
    return job["id"]


def names(phone):
    return phone.page.locator("#boxes li strong").all_inner_texts()


def test_the_list_has_every_box_failing_ones_first(phone, studio):
    report = check(read_job(STUDIO))
    rank = {"fails": 0, "check needed": 1, "passes": 2}
    expected = [box.name for box in sorted(report.subjects, key=lambda box: rank[box.verdict.word])]
    phone.page.locator("#boxes li").first.wait_for()
    assert names(phone) == expected
    verdicts = phone.page.locator("#boxes .verdict").all_inner_texts()
    assert verdicts == [report.subject(name).verdict.word for name in expected]


def test_names_that_look_alike_are_told_with_their_line(phone, server):
    """The second A is a Cyrillic one: two boxes a reader cannot tell apart."""
    job = server.new("job Twins\nedition 2020\nbox A1\n  square 4 x 2-1/8\nbox \u04101\n  square 4 x 2-1/8\n")
    phone.job(job["id"])
    notice = phone.page.locator(".notice", has_text="looks like")
    notice.wait_for()
    assert re.match(r"Line 5: place \u04101 looks like place A1 on line 3 .*U\+0410", notice.inner_text())
    notice.get_by_role("link").click()
    phone.page.get_by_label("The sheet as text").wait_for()


def test_search(phone, studio):
    phone.page.get_by_role("searchbox").fill("glaze")
    phone.page.get_by_text("3 of 13 boxes").wait_for()
    assert names(phone) == ["G1", "G2", "circuit 7"]
    phone.page.get_by_role("searchbox").fill("fails")
    phone.page.get_by_text("2 of 13 boxes").wait_for()
    assert names(phone) == ["A1", "A2"]
    phone.page.get_by_role("searchbox").fill("nowhere")
    phone.page.get_by_text("0 of 13 boxes").wait_for()


def test_a_box_of_the_list_opens_and_back_leads_to_the_list(phone, studio):
    phone.touch(phone.page.get_by_role("link", name=re.compile("^A2")))
    phone.page.locator("#answer.fails").wait_for()
    phone.touch(phone.page.get_by_role("link", name="All boxes"))
    phone.page.locator("#boxes li").first.wait_for()
    phone.page.go_back()
    phone.page.locator("#answer.fails").wait_for()


def test_the_map_names_every_place_and_can_be_saved(phone, studio):
    phone.job(studio, "map")
    said = phone.page.get_by_role("img").first.get_attribute("alt")
    assert said
    with phone.page.expect_download() as got:
        phone.tap("Save the map")
    drawn = got.value.path().read_text("utf-8")
    for box in read_job(STUDIO).boxes:
        assert f">{box.name}<" in drawn


def test_takeoff_counts_what_the_sheet_has(phone, server):
    """Three 12/2 of 20 ft each, with the waste of the example stock: by hand 2 boxes, 60 ft and a tenth more."""
    job = server.new(SHORT.replace("3 x 12/2 nm-b", "3 x 12/2 nm-b 20 ft"))
    phone.job(job["id"], "takeoff")
    phone.page.locator("tbody tr", has_text="square 4 x 2-1/8").first.wait_for()
    rows = [row.replace("\n", " ").split("\t") for row in phone.page.locator("tbody tr").all_inner_texts()]
    found = {row[0].strip(): row[1].strip() for row in rows if len(row) == 3}
    assert found["square 4 x 2-1/8"] == "1"
    assert found["square 4 x 1-1/4"] == "1"
    assert any(name.startswith("12/2 NM-B") and "60 ft + 10 % waste = 66 ft" in name for name in found)


def test_what_was_assumed_and_what_was_not_judged_is_told(phone, server):
    sheet = "edition 2020\npanel P\nbox A\n  marked 30 in3\n  clamps outside\nrun P > A 12/2\nload range 12 kW\n"
    phone.job(server.new(sheet)["id"])
    phone.page.get_by_text("Assumes NM-B").wait_for()
    phone.page.get_by_text("Not judged: 1 load").wait_for()


def test_editions_side_by_side(phone, server):
    """Six grounds of #12: one allowance until 2017, one and two quarters since 2020 (published lists of changes to
    314.16(B)(5)); 13 x 2.25 + 2.25 and 13 x 2.25 + 3.375 by hand, in the boundary box of 31.50.
    """
    sheet = (
        "job Grounds\n"
        "edition 2020\n"
        "box J1\n"
        "  marked 31.5 in3\n"
        "  clamps none\n"
        "run J1 > ? 6 x 12/2 nm-b\n"
        "run J1 > ? 12/1 nm-b\n"
    )
    job = server.new(sheet.replace("run J1 > ? 12/1 nm-b\n", "").replace("31.5", "29.25"))
    phone.job(job["id"], "editions")
    phone.page.locator("thead th", has_text="2017").wait_for()
    years = [text.split(" ")[0] for text in phone.page.locator("thead th").all_inner_texts()][1:]
    cells = [
        text.replace("\n", " ").strip() for text in phone.page.locator("tbody tr").first.locator("td").all_inner_texts()
    ]
    found = dict(zip(years, cells, strict=True))
    assert found["2017"] == "passes exactly full"
    assert found["2020"] == "fails 1.125 in³ over"


def test_remedies_for_the_whole_job_written_and_undone(phone, studio, server):
    phone.job(studio, "remedies")
    phone.tap("Work it out")
    phone.page.get_by_text("boxes fixed for").first.wait_for(timeout=30_000)
    phone.tap("Write all fixes into the sheet")
    phone.page.locator("header .verdict.passes, header .verdict.open").wait_for()
    assert check(read_job(server.job(studio)["sheet"])).counts[check(read_job(STUDIO)).verdict] == 0
    phone.tap("Undo")
    phone.page.locator("header .verdict.fails").wait_for()
    assert server.job(studio)["sheet"] == STUDIO


# ---- the sheet as text -----------------------------------------------------------------------------------------------


def test_sheet_and_boxes_stay_in_step(desk, server):
    job = server.new(SHORT)
    desk.job(job["id"], "sheet")
    sheet = desk.page.get_by_label("The sheet as text")
    sheet.fill(SHORT + "box B3 at the stair\n  marked 18 in3\n")
    desk.page.locator("#boxes li", has_text="B3").wait_for()
    desk.page.locator("#kept", has_text="saved").wait_for()
    assert "box B3" in server.job(job["id"])["sheet"]
    desk.tap("Add a box")
    desk.field("Name").fill("B4")
    desk.tap("Add it")
    desk.page.locator("#answer").wait_for()
    desk.job(job["id"], "sheet")
    assert "box B4" in desk.page.get_by_label("The sheet as text").input_value()
    desk.tap("Undo")
    wait_until(lambda: "box B4" not in desk.page.get_by_label("The sheet as text").input_value())
    desk.page.locator("#boxes li", has_text="B4").wait_for(state="detached")


def test_faults_stand_at_their_places(desk, server):
    job = server.new(SHORT)
    desk.job(job["id"], "sheet")
    wrong = SHORT.replace("  clamps inside", "  clamps insde")
    desk.page.get_by_label("The sheet as text").fill(wrong)
    told = desk.page.get_by_role("button", name=re.compile("^Line 7: "))
    told.wait_for()
    assert "inside" in told.inner_text()  # the nearest known word
    assert desk.page.locator(".paper mark").inner_text() == "insde"
    over = desk.page.evaluate("""() => {
        const mark = document.querySelector('.paper mark').getBoundingClientRect(),
          field = document.querySelector('#sheet').getBoundingClientRect();
        return mark.top > field.top && mark.bottom < field.bottom && mark.width > 10;
    }""")
    assert over
    told.click()
    chosen = desk.page.evaluate(
        "(() => { const field = document.getElementById('sheet'); return [document.activeElement === field, "
        "field.value.slice(field.selectionStart, field.selectionEnd)]; })()"
    )
    assert chosen == [True, "insde"]
    desk.job(job["id"], "boxes")
    desk.page.get_by_text("One line of the sheet cannot be read").wait_for()
    desk.page.get_by_text("passes so far").first.wait_for()
    desk.job(job["id"], "sheet")
    desk.page.get_by_label("The sheet as text").fill(SHORT)
    desk.page.locator(".paper mark").wait_for(state="detached")


def test_what_is_typed_last_is_kept_when_one_leaves_at_once(desk, server):
    job = server.new(SHORT)
    desk.job(job["id"], "sheet")
    desk.page.get_by_label("The sheet as text").fill(SHORT + "note typed in haste\n")
    desk.go("#/")
    wait_until(lambda: "typed in haste" in server.job(job["id"])["sheet"])


def test_history_brings_back_any_version(phone, server):
    job = server.new(SHORT)
    server.put(f"/api/jobs/{job['id']}", base=1, sheet=SHORT + "note later\n")
    phone.job(job["id"], "hand-over")
    phone.tap("Bring back version 1")
    phone.page.locator("#status", has_text="Version 1 is back").wait_for()
    assert server.job(job["id"])["sheet"] == SHORT
    phone.tap("Undo")
    wait_until(lambda: "note later" in server.job(job["id"])["sheet"])


# ---- photographs and files -------------------------------------------------------------------------------------------


def test_a_photograph_is_kept_with_the_box_small_and_without_its_place(phone, server, photograph):
    from PIL import Image

    job = server.new(SHORT)
    phone.box(job["id"], "B1")
    phone.page.locator("#photo").set_input_files(photograph)
    shown = phone.page.get_by_role("img", name="Photo 1 of B1")
    shown.wait_for()
    wait_until(lambda: shown.evaluate("(node) => node.complete && node.naturalWidth > 0"))
    (row,) = server.get(f"/api/jobs/{job['id']}/photos").json["photos"]
    kept = Image.open(io.BytesIO(server.get(f"/api/photos/{row['id']}").body))
    assert kept.size == (1200, 1600)  # upright
    assert not kept.getexif()
    phone.job(job["id"], "hand-over")
    with phone.page.expect_download(timeout=30_000) as got:
        phone.tap("Packet, US letter")
    pypdf = pytest.importorskip("pypdf")
    pdf = pypdf.PdfReader(got.value.path())
    assert any(image.image.size == (1200, 1600) for page in pdf.pages for image in page.images)
    phone.box(job["id"], "B1")
    phone.tap("Remove photo 1")
    shown.wait_for(state="detached")
    assert server.get(f"/api/jobs/{job['id']}/photos").json["photos"] == []


def test_a_file_that_is_no_photograph_is_refused_in_plain_words(phone, server, tmp_path):
    job = server.new(SHORT)
    phone.box(job["id"], "B1")
    (tmp_path / "not.jpg").write_bytes(b"not at all")
    phone.page.locator("#photo").set_input_files(tmp_path / "not.jpg")
    phone.page.locator("#status", has_text="cannot read that photo").wait_for()


@pytest.mark.parametrize("paper", ["Packet, US letter", "Packet, A4", "Failing boxes only"])
def test_the_packet(phone, studio, paper):
    phone.job(studio, "hand-over")
    with phone.page.expect_download(timeout=30_000) as got:
        phone.tap(paper)
    assert got.value.suggested_filename == "Boathouse studio.pdf"
    pypdf = pytest.importorskip("pypdf")
    pdf = pypdf.PdfReader(got.value.path())
    words = "".join(page.extract_text() for page in pdf.pages)
    assert "Boathouse studio" in words
    assert "A2" in words
    assert round(float(pdf.pages[0].mediabox.width)) == (595 if paper == "Packet, A4" else 612)
    phone.page.locator("#status", has_text="fingerprint").wait_for()


def test_a_sheet_goes_out_and_comes_in_again(phone, studio, server, tmp_path):
    phone.job(studio, "hand-over")
    with phone.page.expect_download() as got:
        phone.tap("Sheet")
    path = tmp_path / got.value.suggested_filename
    got.value.save_as(path)
    assert path.read_text("utf-8") == STUDIO
    phone.go("#/")
    phone.page.locator("#file").set_input_files(path)
    phone.page.get_by_role("heading", name="Boathouse studio").wait_for()
    wait_until(lambda: phone.id != studio)
    assert server.job(phone.id)["sheet"] == STUDIO


def test_a_workbook_goes_out_and_comes_in_again(phone, studio, server, tmp_path):
    phone.job(studio, "hand-over")
    with phone.page.expect_download() as got:
        phone.tap("Workbook")
    path = tmp_path / got.value.suggested_filename
    got.value.save_as(path)
    phone.go("#/")
    phone.page.locator("#file").set_input_files(path)
    phone.page.get_by_role("heading", name="Boathouse studio").wait_for()
    wait_until(lambda: phone.id != studio)
    before, after = check(read_job(STUDIO)), check(read_job(server.job(phone.id)["sheet"]))
    assert [(box.name, box.verdict) for box in after.subjects] == [(box.name, box.verdict) for box in before.subjects]


def test_a_workbook_with_faults_tells_them_by_tab_and_cell(phone, tmp_path):
    openpyxl = pytest.importorskip("openpyxl")
    from ampleroom.sheets.writing import workbook

    job = read_job(SHORT)
    book = openpyxl.load_workbook(io.BytesIO(workbook(job, check(job))))
    page = book["Boxes"]
    column = next(cell.column for cell in page[1] if "clamps" in str(cell.value).lower())
    row = next(cell.row for cell in page["A"] if cell.value == "B2")
    page.cell(row, column).value = "insde"
    path = tmp_path / "wrong.xlsx"
    book.save(path)
    phone.page.locator("#file").set_input_files(path)
    phone.page.get_by_role("heading", name="wrong.xlsx cannot be read").wait_for()
    assert re.search(rf"Boxes.*{page.cell(row, column).coordinate}", phone.dialog_text)


def test_examples_open_as_copies_and_jobs_are_put_away_and_come_back(phone, server):
    phone.tap("Open a copy of Boathouse studio")
    phone.page.locator("#boxes li").first.wait_for()
    assert server.job(phone.id)["sheet"] == (EXAMPLES / "studio.job").read_text("utf-8")
    id = phone.id
    phone.page.evaluate(
        (
            "async (id) => { const store = await import('./app.js'); const job = await store.get(id); await "
            "store.save(job, job.sheet.replace('Boathouse studio', 'To be put away'), 'name'); }"
        ),
        id,
    )
    phone.go("#/")
    phone.tap("Put To be put away away")
    phone.page.get_by_role("link", name=re.compile("^To be put away")).wait_for(state="detached")
    phone.touch(phone.page.locator("summary", has_text="Put away"))
    phone.tap("Bring To be put away back")
    phone.page.get_by_role("link", name=re.compile("^To be put away")).wait_for()


def test_parts_and_prices_are_kept_and_faults_told_at_their_line(phone, server):
    before = server.get("/api/stock").json["stock"]
    phone.tap("Parts and prices")
    field = phone.field("Your list")
    assert field.input_value() == before
    field.fill(before.replace("per_hour = 92.00", 'per_hour = "much"'))
    phone.tap("Save")
    phone.page.get_by_role("alert").get_by_text(re.compile(r"Line \d+: ")).wait_for()
    assert server.get("/api/stock").json["stock"] == before
    field.fill(before.replace("per_hour = 92.00", "per_hour = 95.00"))
    phone.tap("Save")
    phone.page.locator("#dialog").wait_for(state="hidden")
    assert "per_hour = 95.00" in server.get("/api/stock").json["stock"]
    server.put("/api/stock", stock=before)
