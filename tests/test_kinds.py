"""A kind of subject nobody but this file knows comes through every surface: one registration a surface, and none is
needed.

A *bench* is made up: every piece of equipment of a sheet, with so many places as the digits of its name say and one pot
on it for each run that ends there.
"""

import csv
import io
import json
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from math import prod

import pytest

from ampleroom import Finding, Reminder, SubjectReport, Verdict, Worksheet, check, read_job
from ampleroom.arithmetic import Chain, Counted, Figure, Pick, Share, Total, Unit
from ampleroom.check import book_for
from ampleroom.cli.takeoff import line_text
from ampleroom.errors import NameUnknown
from ampleroom.job.edit import PutRun
from ampleroom.job.model import Stop
from ampleroom.job.unknown import UNKNOWN
from ampleroom.packet import cards
from ampleroom.packet.data import packet_data
from ampleroom.pictures import kinds as picture_kinds
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.job_map import job_map
from ampleroom.record import replace
from ampleroom.remedy import box as remedies_of
from ampleroom.remedy import moves, takeoff
from ampleroom.remedy.moves import Move
from ampleroom.remedy.plan import plan
from ampleroom.remedy.remedy import Buy, Disturbance
from ampleroom.remedy.takeoff import TakeoffLine
from ampleroom.rules.kinds import KINDS, Kind, register
from ampleroom.sheets.writing import line_rows, results_csv
from ampleroom.web import engine
from ampleroom.web.engine import view
from ampleroom.worksheet import OpenFact, Purpose, between
from tests.cli.helpers import inside
from tests.pictures.helpers import texts
from tests.remedy.helpers import LABOR, stock
from tests.test_docs_json import misfits

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
POTS = Purpose("bench-pots", Unit.COUNT, "Places there are", "Pots on it", is_drawn=True)
DROP = Purpose("bench-drop", Unit.VOLT, "Drop advised", "Drop to the bench")


def judge(bench, graph, book):
    places = Counted(
        "bench-pots", "Places", Decimal(bench.name[1:]), Decimal(1), "as its name says", "none", unit=Unit.COUNT
    )
    many = Decimal(len(graph.runs_at.get(bench.name, ())))
    pots = Counted("bench-pots", "Pots", many, Decimal(1), "one a run", "none", unit=Unit.COUNT)
    sheet = Worksheet((places,), (pots,), POTS)
    verdict = Verdict.ADVICE if bench.description == "the stair" else sheet.verdict
    finding = Finding("bench-pots", verdict, bench.name, f"{bench.name} is a bench", "none", bench.at, sheet)
    reminders = (Reminder("bench-pots", "dust"),)
    return SubjectReport("bench", bench.name, bench.description, bench.at, (finding, drop_finding(bench)), reminders)


def drop_finding(bench):
    """A made-up voltage drop whose worksheet has every kind of line, as rules of circuits will have them."""
    name = "bench-drop"
    supply = Figure(name, "Supply", Decimal(120), Unit.VOLT, "of the circuit", "A.1")
    advised = Share(name, "Part of the supply", Decimal(3), supply, "an informational note", "A.2")
    limit = Figure(name, "Limit of the kiln", Decimal("4.5"), Unit.VOLT, "on its plate", "A.3")
    have = Pick(
        name, "Advised at most", "least", (advised, limit), "the stricter counts", "A.4", readings=("flat-canopy",)
    )
    warm = Figure(name, "Warm attic", Decimal("0.91"), Unit.FACTOR, "100 degrees", "B.1", "from memory")
    bundled = Figure(name, "Bundled", Decimal("0.8"), Unit.FACTOR, "5 wires", "B.2")
    first = Figure(name, "First leg", Decimal("1.2"), Unit.VOLT, "38 ft", "B.3")
    corrected = Chain(name, "First leg, corrected", first, (warm, bundled), "by both factors", "B.4")
    second = Figure.from_float(name, "Second leg", 1.2345678, Unit.VOLT, "17 ft", "B.5")
    splices = Counted(name, "Splices", Decimal(2), Decimal("0.15"), "each", "B.6", unit=Unit.VOLT)
    need = Total(name, "Drops along the path", (corrected, second, splices), Unit.VOLT, "one after another", "B.7")
    sheet = Worksheet((have,), (need,), DROP, Verdict.ADVICE)
    return Finding(name, sheet.verdict, bench.name, f"{bench.name} is near enough", "B", bench.at, sheet)


SUMS = {
    "Advised at most": "least of 3.60, 4.50 = 3.60",
    "Part of the supply": "3 % of 120.00 = 3.60",
    "Supply": "120.00",
    "Limit of the kiln": "4.50",
    "Drops along the path": "0.8736 + 1.23 + 0.30 = about 2.4036",
    "First leg, corrected": "1.20 x 0.91 x 0.8 = 0.8736",
    "First leg": "1.20",
    "Warm attic": "0.91",
    "Bundled": "0.8",
    "Second leg": "about 1.23",
    "Splices": "2 x 0.15 = 0.30",
}
"""Every line of that worksheet with its sum, worked out by hand, in the order it is shown."""
FACTORS = {"Warm attic", "Bundled"}


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
    with pytest.raises(NameUnknown, match="there is no box or bench 'K9'"):
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
    assert "o PASSES  1 bench, in all spare:" in said
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
        whole = of_now[box["name"]]
        assert before_of(whole, box) == box


def before_of(now, before):
    """What form 2 says of a subject in the fields of form 1, with its lines as counts."""
    findings = []
    for finding in now["findings"]:
        sheets = {key: sheet_before(finding[key]) for key in ("worksheet", "best_case", "worst_case")}
        findings.append({**finding, **sheets})
    return {**{key: now[key] for key in before}, "findings": findings}


def sheet_before(sheet):
    if sheet is None:
        return None
    found = {key: sheet[key] for key in ("purpose", "unit", "there", "needed", "margin", "passes")}
    names = {"have": "room", "need": "fill"}
    for now, then in names.items():
        found[f"{then}_title"] = sheet[f"{now}_title"]
        found[then] = [line_before(line) for line in sheet[now]]
    return found


def line_before(line):
    found = {key: line[key] for key in ("rule", "amount", "why", "cite", "confidence", "readings")}
    count, each = line["count"], line["each"]
    if line["kind"] == "share":
        count, each = str(Decimal(line["percent"]) / 100), line["parts"][0]["amount"]
    return {**found, "what": line["label"], "count": count, "each": each}


def test_a_conduit_body_is_a_kind_of_its_own_and_stands_in_the_order_of_the_sheet():
    report = check(read_job("edition 2020\n" + BODY + "box J1\n  square 4 x 2-1/8\n  switch #12\n"))
    assert [(subject.kind, subject.name) for subject in report.subjects] == [("conduit body", "C1"), ("box", "J1")]
    assert report.subjects_text == "1 box, 1 conduit body"


def test_the_page_lists_it_finds_it_and_opens_its_worksheet(benches, monkeypatch):
    rows = {row["name"]: row for row in engine.answer("job", {"sheet": SHEET})["subjects"]}
    assert (rows["K1"]["kind"], rows["K1"]["page"], rows["J1"]["page"]) == ("bench", "worksheet", "box")
    assert rows["K0"]["margin"] == "-1"
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
    assert kinds_of_block == ["pictures", "finding", "lines", "finding", "lines", "list", "list"]
    assert data["summary"] == "1 bench fails and 1 bench with advice; 2 of 4 pass."
    monkeypatch.setitem(cards.LETTERS, "bench", "N")
    monkeypatch.setitem(cards.BLOCKS, "bench", lambda subject, report: iter([{"kind": "text", "text": "of wood"}]))
    data = packet_data(check(read_job(SHEET)))
    assert data["cards"][1]["code"] == "N001"
    assert {"kind": "text", "text": "of wood"} in data["cards"][1]["blocks"]


def test_the_workbook_has_a_row_for_it_in_its_unit(benches):
    rows = list(csv.DictReader(io.StringIO(results_csv(check(read_job(SHEET))))))
    (row,) = [row for row in rows if row["Name"] == "K0" and row["Unit"] == "in all"]
    assert (row["Kind"], row["Verdict"], row["Spare"], row["Unit"]) == ("bench", "fails", "-1", "in all")


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


def take_off(bench):
    """A move of the made-up kind: one pot fewer, the run's end left open."""
    run = next(run for run in bench.runs if run.stops[-1].name == bench.subject.name)
    change = (PutRun(replace(run, stops=(run.stops[0], Stop(UNKNOWN))), run),)
    buys = (Buy("hook", Decimal(1), Decimal(2)),)
    yield Move(bench.subject.name, "one pot taken off", change, buys, Decimal(6), Disturbance.NOTHING)


def test_remedies_try_its_moves_and_without_any_it_is_said_and_not_passed_over(benches, tmp_path, monkeypatch):
    job = read_job(SHEET)
    left = plan(job, book_for(job), stock())
    assert [(nothing.box, nothing.reasons) for nothing in left.nothing] == [
        ("K0", ("no fixes are offered for a bench: 'show K0' says what it needs",))
    ]
    monkeypatch.setattr(moves, "MOVES", dict(moves.MOVES))
    monkeypatch.setattr(remedies_of, "MOVES", moves.MOVES)
    moves.register_moves("bench", moves.KindMoves((take_off,)))
    with pytest.raises(ValueError, match="bench"):
        moves.register_moves("bench", moves.KindMoves(()))
    fixed = plan(job, book_for(job), stock())
    assert (fixed.nothing, [remedy.box for remedy in fixed.remedies], fixed.cost) == ((), ["K0"], Decimal(8))
    assert fixed.report_after().subject("K0").verdict is Verdict.PASSES
    (tmp_path / "pots.job").write_text(SHEET, "utf-8")
    (tmp_path / "stock.toml").write_text(LABOR, "utf-8")
    shown = inside("remedy", "k0", str(tmp_path / "pots.job")).out
    assert "1. One pot taken off" in shown
    assert "1 bench fixed for" in inside("remedy", str(tmp_path / "pots.job")).out


def test_the_takeoff_counts_it_in_a_group_of_its_own(monkeypatch):
    def bench_lines(count):
        count.minutes += 30
        yield TakeoffLine("benches", "bench", Decimal(len(count.job.equipment)), "", None, None)

    monkeypatch.setattr(takeoff, "COUNTED", dict(takeoff.COUNTED))
    monkeypatch.setattr(takeoff, "GROUPS", list(takeoff.GROUPS))
    takeoff.register_count("bench", "benches", bench_lines)
    with pytest.raises(ValueError, match="bench"):
        takeoff.register_count("bench", "benches", bench_lines)
    counted = takeoff.takeoff(read_job(SHEET), stock())
    assert [line.group for line in counted.lines][-2:] == ["benches", "labor"]
    assert "3 x bench" in line_text(counted.lines[-2])


def test_a_subject_no_rule_says_anything_of_is_open_and_told(benches, monkeypatch, tmp_path):
    def silent(bench, index, book):
        return SubjectReport("bench", bench.name, bench.description, bench.at, ())

    monkeypatch.setitem(KINDS, "bench", Kind("bench", "benches", lambda job: job.equipment[:1], silent))
    (tmp_path / "pots.job").write_text(SHEET, "utf-8")
    ran = inside("check", str(tmp_path / "pots.job"))
    assert ran.status == 3
    assert "? CHECK NEEDED  K1" in ran.out


# ---- a worksheet with every kind of line, on every surface ---------------------------------------------------------


def k1(report):
    return report.subject("K1").findings[1]


def test_its_lines_work_out_as_by_hand(benches):
    sheet = k1(check(read_job(SHEET))).worksheet
    assert {line.label: line.sum_text for line in sheet.all_lines} == SUMS
    assert (sheet.there, sheet.needed, sheet.margin) == (Decimal("3.6"), Decimal("2.4036"), Decimal("1.1964"))
    assert (sheet.there_printed, sheet.needed_printed, sheet.margin_printed) == ("3.60", "about 2.4036", "about 1.1964")


def test_the_terminal_shows_every_line_of_it(benches, tmp_path):
    (tmp_path / "pots.job").write_text(SHEET, "utf-8")
    shown = inside("show", "K1", str(tmp_path / "pots.job")).out
    lines = [line.strip() for line in shown.split("Drop advised")[1].split("\n")]
    at = 0
    for label, told in SUMS.items():
        at = lines.index(label, at) + 1
        assert lines[at].split("  ")[0] == (told if label in FACTORS else f"{told} V")
    assert "total 3.60 V" in shown
    assert "total about 2.4036 V" in shown
    assert "Drop advised 3.60 - drop to the bench about 2.4036 = about 1.1964 V spare" in shown
    assert "(from memory)" in shown


def test_the_json_and_the_page_say_every_line_of_it(benches):
    printed = check(read_job(SHEET)).to_json()["subjects"][1]["findings"][1]["worksheet"]
    shown = engine.answer("box", {"sheet": SHEET, "box": "K1", "kind": "bench"})["findings"][1]["worksheet"]
    assert printed == shown
    lines = list(lines_of_json([*printed["have"], *printed["need"]]))
    told = {line["label"]: " = ".join(part for part in (line["steps"], line["printed"]) if part) for line in lines}
    assert told == SUMS
    assert {line["kind"] for line in lines} == {"figure", "counted", "chain", "share", "total", "pick"}
    assert [misfit for line in lines for misfit in misfits(line, "line", "line", set())] == []
    assert misfits(printed, "worksheet", "worksheet", set()) == []
    for line in lines:
        assert recomputed(line) == Fraction(line["amount"])
    assert sum(Fraction(line["amount"]) for line in printed["need"]) == Fraction(printed["needed"])


def lines_of_json(lines):
    for line in lines:
        yield line
        yield from lines_of_json(line["parts"])


def recomputed(line):
    """The amount of a line by what docs/json.md says of its kind, in fractions."""
    parts = [Fraction(part["amount"]) for part in line["parts"]]
    match line["kind"]:
        case "figure":
            return Fraction(line["amount"])
        case "counted":
            return Fraction(line["count"]) * Fraction(line["each"])
        case "chain":
            return prod(parts)
        case "share":
            return Fraction(line["percent"]) * parts[0] / 100
        case "total":
            return sum(parts)
        case "pick":
            return parts[line["picked"]]


def test_the_packet_has_every_line_of_it(benches):
    blocks = packet_data(check(read_job(SHEET)))["cards"][1]["blocks"]
    table = [block for block in blocks if block["kind"] == "lines"][1]
    rows = [*table["have"], *table["need"]]
    assert {row[0].removeprefix("1  "): row[2] for row in rows} == SUMS
    assert [row[4] for row in rows] == [0, 1, 2, 1, 0, 1, 2, 2, 2, 1, 1]
    assert (table["have_title"], table["there"]) == ("Drop advised", "3.60")
    assert (table["need_title"], table["needed"]) == ("Drop to the bench", "about 2.4036")
    assert table["result"] == "Drop advised 3.60 − drop to the bench about 2.4036 = about 1.1964 V spare"
    assert any("from memory" in row for row in packet_data(check(read_job(SHEET)))["memory"])


def test_the_workbook_has_every_line_of_it_and_its_halves_add_up(benches):
    rows = [row for row in line_rows(check(read_job(SHEET))) if row[0] == "K1"]
    drops = [row for row in rows if row[7] != "in all"]
    assert [row[2] for row in drops] == list(SUMS)
    assert sum(row[6] for row in drops if row[1] == "Drop to the bench") == pytest.approx(2.4036)
    assert [row[1] for row in drops if row[2] == "Splices"] == ["part of Drops along the path"]


def test_amounts_that_take_up_no_room_have_no_tiles(benches):
    shown = engine.answer("box", {"sheet": SHEET, "box": "K1", "kind": "bench"})
    assert [picture["what"] for picture in shown["pictures"]] == ["room", "bar"]  # of the pots, none of the drop


def test_a_disputed_point_of_a_line_within_a_line_is_told(benches):
    assert k1(check(read_job(SHEET))).all_readings == ("flat-canopy",)


# ---- what a check loads ---------------------------------------------------------------------------------------------

BOXES_ONLY = "edition 2020\npanel P\nbox J1\n  square 4 x 2-1/8\n  clamps inside\nrun P > J1 12/2 nm-b\n"
OF_RACEWAYS = ("ampleroom.rules.raceway", "ampleroom.rules.all_rules", "ampleroom.sizing")


def loaded_by_check(path):
    """The modules a ``check`` in a process of its own has loaded when it is done."""
    program = (
        "import sys; from ampleroom.cli import main; main(sys.argv[1:]); print(*sys.modules, sep=chr(10), "
        "file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", program, "check", path], capture_output=True, text=True, check=True)
    assert "J1" in ran.stdout
    return set(ran.stderr.split())


def test_a_check_of_boxes_loads_no_rule_of_another_kind(tmp_path):
    (tmp_path / "boxes.job").write_text(BOXES_ONLY, "utf-8")
    loaded = loaded_by_check(tmp_path / "boxes.job")
    assert "ampleroom.rules.box.judge" in loaded
    assert [name for name in sorted(loaded) if name.startswith(OF_RACEWAYS)] == []


@pytest.mark.parametrize(
    "lines",
    [
        "raceway R1 P > J1 emt 1/2\n",
        "wires P > J1 2 x #12 thhn in R1\nraceway R1 P > J1 emt 1/2\n",
        "wires P > J1 2 x #12 thhn in emt 1/2\n",
    ],
    ids=["a line of its own", "with wires", "named by a run only"],
)
def test_a_check_of_raceways_loads_their_rules(tmp_path, lines):
    (tmp_path / "raceways.job").write_text(BOXES_ONLY + lines, "utf-8")
    loaded = loaded_by_check(tmp_path / "raceways.job")
    assert "ampleroom.rules.raceway.judge" in loaded
    assert "ampleroom.rules.all_rules" not in loaded
