"""A kind of subject nobody but this file knows comes through every surface: one registration a surface, and none is needed.

A *bench* is made up: every piece of equipment of a sheet, with so many places as the digits of its name say and one pot on it
for each run that ends there.
"""

import csv
import io
import json
from decimal import Decimal

import pytest

from ampleroom import Finding, Reminder, SubjectReport, Verdict, Worksheet, check, read_job
from ampleroom.arithmetic import Counted, Unit
from ampleroom.cli import kinds as cli_kinds
from ampleroom.errors import NameUnknown
from ampleroom.packet import cards
from ampleroom.packet.data import packet_data
from ampleroom.pictures import kinds as picture_kinds
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.job_map import job_map
from ampleroom.rules.kinds import KINDS, Kind, register
from ampleroom.sheets.writing import results_csv
from ampleroom.web import engine
from ampleroom.web.engine import view
from ampleroom.worksheet import OpenFact, Purpose, between
from tests.cli.helpers import inside
from tests.pictures.helpers import texts

SHEET = """edition 2020
job Pottery
box J1 at the door
  square 4 x 2-1/8
  clamps inside
equipment K1 at the window
equipment K2 at the stair
equipment K0 at the yard
run J1 > K1 12/2 nm-b
run J1 > K2 12/2 nm-b
run J1 > K0 12/2 nm-b
"""
BODY = "box C1\n  conduit body lb 1/2 on emt\nwires ? > ? 3 x #12 thhn through C1\n"
POTS = Purpose("bench-pots", Unit.COUNT, "Places there are", "Pots on it")


def judge(bench, index, book):
    places = Counted(
        "bench-pots", "Places", Decimal(bench.name[1:]), Decimal(1), "as its name says", "none", unit=Unit.COUNT
    )
    pots = Counted(
        "bench-pots",
        "Pots",
        Decimal(len(index.runs.get(bench.name, ()))),
        Decimal(1),
        "one a run",
        "none",
        unit=Unit.COUNT,
    )
    sheet = Worksheet((places,), (pots,), POTS)
    verdict = Verdict.ADVICE if bench.description == "the stair" else sheet.verdict
    finding = Finding("bench-pots", verdict, bench.name, f"{bench.name} is a bench", "none", bench.at, sheet)
    return SubjectReport(
        "bench", bench.name, bench.description, bench.at, (finding,), (Reminder("bench-pots", "dust"),)
    )


BENCH = Kind("bench", "benches", lambda job: job.equipment, judge, ("load",), POTS)


@pytest.fixture
def benches():
    """The kind as it is registered by whoever makes one; taken out again afterwards."""
    register(BENCH)
    yield
    del KINDS["bench"]


def test_two_kinds_of_one_name_are_refused(benches):
    with pytest.raises(ValueError, match="bench"):
        register(BENCH)


def test_without_the_kind_there_are_boxes_only():
    report = check(read_job(SHEET))
    assert list(report.by_kind) == ["box"]


def test_the_report_has_the_kind_by_name_and_counts_it(benches):
    report = check(read_job(SHEET))
    assert [subject.name for subject in report.of("bench")] == ["K1", "K2", "K0"]
    assert report.subject("k2").kind == "bench"
    assert report.counts == {Verdict.FAILS: 1, Verdict.OPEN: 0, Verdict.ADVICE: 1, Verdict.PASSES: 2}
    assert report.counts_by_kind["bench"][Verdict.FAILS] == 1
    assert report.subjects_text == "1 box, 3 benches"
    assert report.verdict is Verdict.FAILS
    with pytest.raises(NameUnknown, match="subject"):
        report.subject("K9")


def test_what_it_covers_is_no_longer_told_as_not_judged(benches):
    assert check(read_job(SHEET + "load range 12 kW\n")).not_judged == ()
    del KINDS["bench"]
    assert check(read_job(SHEET + "load range 12 kW\n")).not_judged_text == "Not judged: 1 load"
    register(BENCH)


def test_advice_alone_is_said_and_ends_with_status_0(benches, tmp_path):
    lines = [line for line in SHEET.split("\n") if "K1" not in line and "K0" not in line]
    (tmp_path / "pots.job").write_text("\n".join(lines), "utf-8")
    ran = inside("check", str(tmp_path / "pots.job"))
    assert ran.status == 0
    assert "i ADVICE  K2" in ran.out
    assert "1 box, 1 bench: 1 passes with advice, 1 passes" in ran.out


def test_the_text_tells_it_and_show_shows_it(benches, tmp_path, monkeypatch):
    (tmp_path / "pots.job").write_text(SHEET, "utf-8")
    said = inside("check", str(tmp_path / "pots.job")).out
    assert "1 box, 3 benches: 1 fails, 1 passes with advice, 2 pass" in said
    assert "X FAILS  K0" in said
    assert "o PASSES  1 bench, to spare in in all:" in said
    monkeypatch.setitem(cli_kinds.PASSING, "bench", "places left")
    assert "o PASSES  1 bench, places left:" in inside("check", str(tmp_path / "pots.job")).out
    shown = inside("show", "K1", str(tmp_path / "pots.job"), "--picture", str(tmp_path / "K1.svg")).out
    assert "Places there are" in shown
    assert "Pots on it" in shown
    assert "Bench K1" in (tmp_path / "K1.svg").read_text("utf-8")


def test_the_json_says_its_kind_its_purpose_and_its_unit(benches, tmp_path):
    report = check(read_job(SHEET))
    answer = report.to_json()
    assert answer["schema"] == "ampleroom-report/2"
    assert [subject["kind"] for subject in answer["subjects"]] == ["box", "bench", "bench", "bench"]
    finding = answer["subjects"][1]["findings"][0]
    assert (finding["purpose"], finding["unit"]) == ("bench-pots", "in all")
    assert answer["subjects"][1]["headline"] == "bench-pots"
    assert answer["counts_by_kind"]["bench"] == {"fails": 1, "check needed": 0, "advice": 1, "passes": 1}
    assert report.subject_alone_json(report.subject("K2"))["verdict"] == "advice"


def test_the_form_of_the_release_before_has_boxes_and_conduit_bodies_alone(benches, tmp_path):
    (tmp_path / "pots.job").write_text(SHEET + BODY, "utf-8")
    before = json.loads(inside("check", str(tmp_path / "pots.job"), "--json", "--form", "1").out)
    assert before["schema"] == "ampleroom-report/1"
    assert [box["name"] for box in before["boxes"]] == ["J1", "C1"]
    assert not {"subjects", "counts_by_kind"} & set(before)
    now = json.loads(inside("check", str(tmp_path / "pots.job"), "--json").out)
    of_now = {subject["name"]: subject for subject in now["subjects"]}
    for box in before["boxes"]:
        assert box == {key: of_now[box["name"]][key] for key in box}


def test_a_conduit_body_is_a_kind_of_its_own_and_stands_in_the_order_of_the_sheet():
    report = check(read_job("edition 2020\n" + BODY + "box J1\n  square 4 x 2-1/8\n  switch #12\n"))
    assert [(subject.kind, subject.name) for subject in report.subjects] == [("conduit body", "C1"), ("box", "J1")]
    assert report.subjects_text == "1 box, 1 conduit body"


def test_the_page_lists_it_finds_it_and_opens_its_worksheet(benches, monkeypatch):
    rows = {row["name"]: row for row in engine.answer("job", {"sheet": SHEET})["subjects"]}
    assert (rows["K1"]["kind"], rows["K1"]["page"], rows["J1"]["page"]) == ("bench", "worksheet", "box")
    assert rows["K0"]["margin"] == "-1.00"
    shown = engine.answer("box", {"sheet": SHEET, "box": "K1", "kind": "bench"})
    assert (shown["kind"], shown["verdict"], shown["items"]) == ("bench", "passes", [])
    assert shown["pictures"][0]["what"] == "room"
    assert "error" in engine.answer("box", {"sheet": SHEET, "box": "J1", "kind": "bench"})
    by_edition = engine.answer("editions", {"sheet": SHEET})["subjects"]
    assert [row["name"] for row in by_edition] == ["J1", "K1", "K2", "K0"]
    assert by_edition[3]["by_edition"]["2008"]["verdict"] == "fails"
    monkeypatch.setitem(view.PAGES, "bench", "bench")
    assert engine.answer("job", {"sheet": SHEET})["subjects"][1]["page"] == "bench"


def test_the_packet_has_its_card_and_counts_it(benches, monkeypatch):
    data = packet_data(check(read_job(SHEET)))
    assert [card["code"] for card in data["cards"]] == ["B001", "S001", "S002", "S003"]
    assert data["cards"][1]["subject_kind"] == "bench"
    kinds_of_block = [block["kind"] for block in data["cards"][1]["blocks"]]
    assert kinds_of_block == ["pictures", "finding", "lines", "list"]
    assert data["summary"] == "1 bench fails and 1 bench with advice; 2 of 4 pass."
    monkeypatch.setitem(cards.LETTERS, "bench", "N")
    monkeypatch.setitem(cards.BLOCKS, "bench", lambda subject, report: iter([{"kind": "text", "text": "of wood"}]))
    data = packet_data(check(read_job(SHEET)))
    assert data["cards"][1]["code"] == "N001"
    assert {"kind": "text", "text": "of wood"} in data["cards"][1]["blocks"]


def test_the_workbook_has_a_row_for_it_in_its_unit(benches):
    rows = list(csv.DictReader(io.StringIO(results_csv(check(read_job(SHEET))))))
    (row,) = [row for row in rows if row["Name"] == "K0"]
    assert (row["Kind"], row["Verdict"], row["To spare"], row["Unit"]) == ("bench", "fails", "-1.00", "in all")


def test_the_map_gives_its_place_its_verdict(benches):
    drawing = job_map(check(read_job(SHEET)))
    assert "Failing: K0." in drawing.description
    assert "advice" in texts(drawing)


def test_a_picture_maker_of_its_kind_is_used_everywhere(benches, monkeypatch):
    def top(report, subject, title):
        return Drawing(10, 10, "top", f"the top of {subject.name}")

    monkeypatch.setitem(picture_kinds.BESIDE, "bench", (top,))
    shown = engine.answer("box", {"sheet": SHEET, "box": "K1", "kind": "bench"})
    assert [each["alt"] for each in shown["pictures"] if each["what"] == "entering"] == ["the top of K1"]
    block = packet_data(check(read_job(SHEET)))["cards"][1]["blocks"][0]
    assert next(picture["alt"] for row in block["rows"] for picture in row) == "the top of K1"


def test_what_nobody_knows_of_it_is_asked_in_the_packet_where_it_is_open(benches, monkeypatch):
    def unsure(bench, index, book):
        known = judge(bench, index, book)
        fact = OpenFact("how many pots there are", Decimal(1), "it decides")
        finding = known.findings[0]._replace(verdict=between(Verdict.FAILS, Verdict.PASSES), facts=(fact,))
        return SubjectReport("bench", bench.name, "", bench.at, (finding,))

    monkeypatch.setitem(KINDS, "bench", Kind("bench", "benches", lambda job: job.equipment[:1], unsure))
    report = check(read_job(SHEET))
    assert report.verdict is Verdict.OPEN
    assert packet_data(report)["unknown"] == [["K1", "how many pots there are", "it decides"]]


def test_a_subject_no_rule_says_anything_of_is_open_and_told(benches, monkeypatch, tmp_path):
    def silent(bench, index, book):
        return SubjectReport("bench", bench.name, bench.description, bench.at, ())

    monkeypatch.setitem(KINDS, "bench", Kind("bench", "benches", lambda job: job.equipment[:1], silent))
    (tmp_path / "pots.job").write_text(SHEET, "utf-8")
    ran = inside("check", str(tmp_path / "pots.job"))
    assert ran.status == 3
    assert "? CHECK NEEDED  K1" in ran.out
