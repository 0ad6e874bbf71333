"""The page's questions get what ``--json`` prints: each is asked both ways, of a server process and of the command
line.
"""

import functools

import pytest

from ampleroom.web.engine import on_page
from tests.cli.helpers import FAILS, FAULTY, OPEN, PASSES, inside
from tests.web.helpers import EXAMPLES, ROOT, STOCK, STUDIO

GOOD = ROOT / "tests" / "jobs" / "good"
SHEETS = {
    "studio": STUDIO,
    "passes": PASSES,
    "fails": FAILS,
    "open": OPEN,
    **{path.stem: path.read_text("utf-8") for path in sorted(GOOD.glob("*.job"))},
}


@pytest.fixture
def printed(tmp_path, monkeypatch):
    """What a command prints of a sheet, as JSON; the sheet has the name that the page gives every sheet."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stock.toml").write_text(STOCK, "utf-8")

    def run(sheet, *words):
        (tmp_path / "sheet.job").write_text(sheet, "utf-8", newline="")
        ran = inside(*words, "--json")
        assert ran.out, ran.err
        return ran.json

    return run


def first_box(sheet):
    from ampleroom.job import Sheet, read_with_faults

    return read_with_faults(Sheet(sheet))[0].boxes[0].name


def same(answer, printed):
    """All that is printed is in the answer, and is the same there."""
    if printed["schema"] == "ampleroom-faults/1":
        assert answer.status == 422
        told = [{key: fault[key] for key in fault if key != "source"} for fault in printed["faults"]]
        assert [{key: fault[key] for key in told[0]} for fault in answer.json["faults"]] == told
        return
    assert answer.status == 200, answer
    assert without_more({key: answer.json.get(key) for key in printed}) in (printed, on_page(printed))


def without_more(value):
    """An answer without what the page gets besides: a remedy's pictures, how many more in words, and a box's
    headings.
    """
    if isinstance(value, list):
        return [without_more(each) for each in value]
    if isinstance(value, dict):
        more = (
            {"picture", "narrow"}
            if "disturbs" in value
            else {"text"}
            if "certain" in value and "shape" not in value
            else {"says"}
            if "headline" in value
            else set()
        )
        return {key: without_more(each) for key, each in value.items() if key not in more}
    return value


@pytest.mark.parametrize("name", SHEETS)
def test_check_and_show_are_the_very_same(server, printed, name):
    sheet = SHEETS[name]
    box = first_box(sheet)
    for edition in (None, 2011, 2026):
        words = ["--edition", str(edition)] if edition else []
        for answer, known in (
            (server.answer("check", sheet=sheet, edition=edition), printed(sheet, "check", "sheet.job", *words)),
            (
                server.answer("show", sheet=sheet, box=box, edition=edition),
                printed(sheet, "show", box, "sheet.job", *words),
            ),
        ):
            same(answer, known)
            if answer.status == 200:
                assert answer.json == known


@pytest.mark.parametrize("name", ["studio", "passes", "fails", "open"])
def test_the_box_of_the_page_is_the_box_of_show(server, printed, name):
    sheet = SHEETS[name]
    box = first_box(sheet)
    known = printed(sheet, "show", box, "sheet.job")
    view = server.answer("box", sheet=sheet, box=box.lower()).json
    known = on_page(known)
    assert {key: view[key] for key in known["subjects"][0]} == known["subjects"][0]
    assert view["readings_used"] == known["readings"]
    assert view["edition"] == known["edition"]
    row = next(row for row in server.answer("job", sheet=sheet).json["subjects"] if row["name"] == box)
    assert row["verdict"] == known["verdict"]


@pytest.mark.parametrize("name", ["studio", "passes", "fails", "open"])
def test_what_fits_is_the_same(server, printed, name):
    sheet = SHEETS[name]
    box = first_box(sheet)
    same(server.answer("fits", sheet=sheet, box=box), printed(sheet, "fits", box, "sheet.job"))
    tried = printed(sheet, "fits", box, "sheet.job", "--cable", "14/2", "nm-b")
    same(server.answer("fits", sheet=sheet, box=box, what="14/2  nm-b"), tried)


@pytest.mark.parametrize("name", ["studio", "fails", "open"])
def test_remedies_plan_and_takeoff_are_the_same(server, printed, name):
    sheet = SHEETS[name]
    box = first_box(sheet)
    ask = functools.partial(server.answer, sheet=sheet, stock=STOCK)
    same(ask("remedies", box=box), printed(sheet, "remedy", box, "sheet.job"))
    same(ask("plan"), printed(sheet, "remedy", "sheet.job"))
    same(ask("plan", solver=False), printed(sheet, "remedy", "sheet.job", "--no-solver"))
    limits = {"no_plaster": True, "only_in_stock": True, "most_kinds": 1, "spare": "12/2 nm-b", "margin": "1.5"}
    words = ["--no-plaster", "--in-stock", "--kinds", "1", "--spare", "12/2", "nm-b", "--margin", "1.5"]
    same(ask("plan", limits=limits), printed(sheet, "remedy", "sheet.job", *words))
    same(ask("remedies", box=box, limits=limits), printed(sheet, "remedy", box, "sheet.job", *words))
    same(ask("against", against=2023), printed(sheet, "remedy", "sheet.job", "--against", "2023"))
    same(ask("takeoff"), printed(sheet, "takeoff", "sheet.job"))


def test_rules_and_disputed_points_are_the_same(server, printed):
    listed = printed(PASSES, "rule")
    same(server.answer("rules"), listed)
    for row in [*listed["rules"], *listed["readings"]]:
        same(server.answer("rule", name=row["name"]), printed(PASSES, "rule", row["name"]))
    rule = listed["rules"][0]["name"]
    same(server.answer("rule", name=rule, edition=2017), printed(PASSES, "rule", rule, "--edition", "2017"))
    for asked in ("pigtails", "314.16(B)(5)", "box", "disputed", "Clamps"):
        same(server.answer("rule", name=asked, edition=2017), printed(PASSES, "rule", asked, "--edition", "2017"))


@pytest.mark.parametrize(
    "question",
    ["square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12", "3 x 12/2 nm-b", "sqare 4 x 1-1/2, 12/2 nmx"],
)
def test_a_question_without_a_sheet_is_answered_alike(server, printed, question):
    same(server.answer("ask", question=question, edition=2017), printed(PASSES, "ask", question, "--edition", "2017"))
    same(server.answer("ask", question=question, adopted="CO"), printed(PASSES, "ask", question, "--adopted", "CO"))
    for refused in (server.answer("ask", question=question, adopted="Ohio"), server.answer("ask", question="")):
        assert refused.status == 422
        assert refused.json["kind"] == "question"


def test_the_map_is_described_alike(server, printed, tmp_path):
    known = printed(STUDIO, "map", "sheet.job", "--to", "map.svg")
    found = server.answer("map", sheet=STUDIO).json
    assert (found["title"], found["alt"]) == (known["title"], known["description"])
    assert "<svg" in found["svg"]


@pytest.mark.parametrize("action", ["check", "show", "packet", "workbook"])
def test_what_is_handed_on_leaves_no_line_out(server, printed, action):
    """As on the command line: a sheet with a line nobody could read is refused, with all its faults."""
    same(server.answer(action, sheet=FAULTY, box="J1"), printed(FAULTY, "check", "sheet.job"))


@pytest.mark.parametrize("action", ["check", "box", "job", "fits", "map", "plan", "packet", "workbook", "rule"])
@pytest.mark.parametrize("edition", [1999, 0, -1, 2**70, "2020", True, 2020.5, [2020]])
def test_an_edition_nobody_offers_is_refused_not_passed_over(server, action, edition):
    refused = server.answer(action, sheet=PASSES, box="J1", edition=edition, stock=STOCK, name="box-fill-grounds")
    assert refused.status == 422
    assert "edition" in refused.json["error"]


def test_a_packet_is_that_of_the_command_line(server, printed, tmp_path):
    import base64

    pytest.importorskip("typst")
    found = server.answer("packet", sheet=PASSES, stock=STOCK).json
    known = printed(PASSES, "packet", "sheet.job", "--to", "known.pdf")
    assert found["fingerprint"] == known["fingerprint"]
    assert found["name"] == "Sail loft.pdf"
    pdf = base64.b64decode(found["pdf"])
    assert pdf == (tmp_path / "known.pdf").read_bytes()
    assert server.answer("packet", sheet=PASSES, paper="a4").json["pdf"] != found["pdf"]


def test_a_workbook_goes_out_and_comes_back_as_the_same_job(server, tmp_path):
    import base64

    from ampleroom import read_job

    pytest.importorskip("xlsxwriter")
    pytest.importorskip("python_calamine")
    for sheet in (STUDIO, PASSES):
        out = server.answer("workbook", sheet=sheet).json
        back = server.answer("import", name="back.xlsx", content=out["xlsx"])
        assert back.status == 200, back
        assert without_places(read_job(back.json["sheet"])) == without_places(read_job(sheet))
        assert base64.b64decode(out["xlsx"])[:2] == b"PK"


def test_the_remarks_of_a_sheet_come_back_from_its_workbook(server):
    pytest.importorskip("xlsxwriter")
    pytest.importorskip("python_calamine")
    out = server.answer("workbook", sheet=PASSES.rstrip("\n") + "   # ask the owner\n").json
    assert "# ask the owner" in server.answer("import", name="back.xlsx", content=out["xlsx"]).json["sheet"]


def without_places(job):
    from ampleroom.job import write_job
    from ampleroom.record import replace

    return write_job(replace(job, sheet=None))


IMPORTED = {
    "as it is": (STUDIO.encode(), STUDIO),
    "with a mark of its order of bytes": (b"\xef\xbb\xbf" + PASSES.encode(), PASSES),
    "with line ends of another system": (PASSES.replace("\n", "\r\n").encode(), PASSES),
    "with faults, to be put right in the page": (FAULTY.encode(), FAULTY),
}


@pytest.mark.parametrize("name", IMPORTED)
def test_a_sheet_comes_in_as_it_is(server, name):
    import base64

    data, text = IMPORTED[name]
    assert server.answer("import", name="a.job", content=base64.b64encode(data).decode()).json == {"sheet": text}


@pytest.mark.parametrize("name", ["a.job", "a.xlsx", "a.xls", "a.ods", "a.csv", "../../a.xlsx", "a"])
@pytest.mark.parametrize(
    "data", [b"", b"\x00" * 100, b"PK\x03\x04....", b"%PDF-1.7", "box J1\n".encode("utf-16"), b"\xff\xfe\xfd"]
)
def test_what_is_no_sheet_and_no_workbook_is_refused_in_words(app, name, data):
    import base64

    answer = app.answer("import", name=name, content=base64.b64encode(data).decode())
    assert answer.status == 422 or (data == b"" and answer.status == 200)
    assert answer.status == 200 or "Traceback" not in answer.json["error"]


def test_both_ways_know_the_same_examples():
    assert {path.name for path in EXAMPLES.glob("*.job")} == {"studio.job", "rowhouse.job"}
