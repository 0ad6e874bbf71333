"""``remedy`` as somebody types it: text, JSON, limits, writing into the sheet and bringing it back, stopping."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import pty
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from threading import Thread

import pytest

from ampleroom import check, read_job
from ampleroom.cli.saving import save_with_undo, undo, undo_file
from ampleroom.errors import FileTrouble
from ampleroom.remedy.solver import is_installed
from ampleroom.worksheet import Verdict
from tests.cli.helpers import CAUTION_ENDS, ROOT, inside, outside, process_environment
from tests.remedy.helpers import CONNECTOR, LABOR, box_entry, part_entry

SHEET = """job Net loft, two floors
edition 2020
panel P
box J1 at the hoist              # rusty
  square 4 x 1-1/2
  clamps inside                  # four of them

box S1 at the door
  marked ? in3 plastic 1-gang
  clamps none
  switch #14
box R1 ? at the bench
  receptacle #12

run P  > J1 12/2 nm-b 30 ft circuit 1
run J1 > R1 12/2 nm-b 9 ft circuit 1
run J1 > ?  3 x 12/2 nm-b
run P  > S1 14/2 nm-b 12 ft
"""
"""J1: 10 x 2.25, five grounds 2.8125, clamps 2.25: 27.5625 in 21. S1: nobody read it. R1: still to be chosen."""
STOCK = "".join([
    LABOR, "[charges]\nkind = 3\n", CONNECTOR,
    box_entry("square 4 x 2-1/8", 3, uses='"junction"'),
    box_entry("marked 20 in3 plastic 1-gang", 1, name="one-gang 20", uses='"device"'),
    part_entry("plaster ring 7.5 in3", "square 4", 2, more='mounting = ["new-work"]'),
])  # fmt: skip


@pytest.fixture
def sheet(tmp_path, monkeypatch):
    """A sheet beside its stock, in the working folder."""
    (tmp_path / "stock.toml").write_text(STOCK, "utf-8")
    path = tmp_path / "loft.job"
    path.write_bytes(SHEET.encode())
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "60")
    return path


def passes(path: Path) -> bool:
    return all(box.verdict is Verdict.PASSES for box in check(read_job(path)).subjects)


# ---- the answers ---------------------------------------------------------------------------------------------------


def test_the_job_in_text_says_the_cost_how_good_it_is_and_what_to_do_at_60_columns(sheet):
    """The ring: 2 + 12. The one-gang box: 1 + 20 in place of S1, 1 + 10 at R1; its kind once, 3."""
    ran = inside("remedy", "loft.job")
    assert (ran.status, ran.err) == (0, "")
    assert max(len(line) for line in ran.out.splitlines()) <= 60
    text = " ".join(ran.out.split())
    assert "3 boxes fixed for $49.00: parts $4.00, labor $42.00 (42 min)" in text
    assert "1 kind of box to carry: one-gang 20" in text
    assert (
        "Lowest cost, proved: no other combination of these fixes is cheaper." if is_installed() else "Best found"
    ) in text
    assert "Before you buy for S1, check the volume marked in S1" in text
    assert "Add plaster ring 7.5 in3" in text
    assert text.endswith(CAUTION_ENDS)


def test_the_job_as_json_has_the_same(sheet):
    found = inside("remedy", "loft.job", "--json").json
    assert (found["schema"], found["cost"], found["kinds"]) == ("ampleroom-plan/1", "49.00", ["one-gang 20"])
    assert {remedy["box"] for remedy in found["remedies"]} == {"J1", "S1", "R1"}
    assert float(found["bound"]) <= 49
    assert list(found["first_find_out"]) == ["S1"]
    assert found["proved"] is (found["cost"] == found["bound"])


def test_one_box_has_all_its_remedies_cheapest_first(sheet):
    """The ring 14; the deep box 3 + 20 and connectors for five cables, 5 + 25; connectors alone and the ring: 5 + 25 +
    14.
    """
    ran = inside("remedy", "J1", "loft.job")
    found = inside("remedy", "J1", "loft.job", "--json").json
    costs = [float(remedy["cost"]) for remedy in found["remedies"]]
    assert costs == sorted(costs)
    assert found["remedies"][0]["what"] == "add plaster ring 7.5 in3"
    assert found["remedies"][0]["margin"] == "0.9375"
    assert [f"{n}. {remedy['what']}"[:40] in ran.out for n, remedy in enumerate(found["remedies"], 1)]
    assert max(len(line) for line in ran.out.splitlines()) <= 60
    assert (ran.status, found["nothing_helps"]) == (0, None)


def test_one_box_with_unknown_facts_says_which_to_find_out_first(sheet):
    ran = inside("remedy", "S1", "loft.job")
    assert "Check first: the volume marked in S1" in " ".join(ran.out.split())


def test_a_box_nothing_helps_says_why_and_the_status_is_1(sheet):
    sheet.write_text(SHEET.replace("3 x 12/2", "9 x 12/2"), "utf-8")
    ran = inside("remedy", "J1", "loft.job", "--in-stock", "--no-plaster")
    assert ran.status == 1
    assert "X J1: nothing in the stock file fixes it" in ran.out
    assert "the largest box in the stock file that may go here holds 30.30 in3" in " ".join(ran.out.split())
    assert inside("remedy", "loft.job").status == 1


def test_a_box_that_passes_says_so(sheet):
    sheet.write_text(SHEET.replace("run J1 > ?  3 x 12/2 nm-b\n", ""), "utf-8")
    ran = inside("remedy", "J1", "loft.job")
    assert (ran.status, "o Passes as it is. Nothing to fix." in ran.out) == (0, True)


def test_against_another_edition(sheet):
    sheet.write_text("edition 2017\nbox J1\n  marked 48 in3\n  clamps none\nrun J1 > ? 10 x 12/2 nm-b\n", "utf-8")
    ran = inside("remedy", "loft.job", "--against", "2020")
    assert ran.status == 1
    assert "X 1 box that passes under the 2017 edition would not under the 2020 edition:" in " ".join(ran.out.split())
    found = inside("remedy", "loft.job", "--against", "2020", "--json").json
    assert (found["newly_failing"], found["after"]["year"]) == (["J1"], 2020)
    assert inside("remedy", "loft.job", "--against", "2014").status == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--margin", "much"], "--margin 'much' is not a number"),
        (["--margin", "-1"], "--margin -1 is too large or below 0"),
        (["--kinds", "-1"], "--kinds is the most kinds of box to carry"),
        (["--stock", "nowhere.toml"], "there is no stock file nowhere.toml"),
        (["J7"], "J7"),
        (["J1", "S1"], "name one box and one sheet at most"),
        (["J1", "--apply", "--yes", "--choose", "99"], "--choose 99: the list goes from 1 to"),
        (["--spare", "12/2", "nonsense"], "nonsense"),
        (["--against", "1899"], "1899"),
        (["--undo"], "there is nothing to undo for"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_line(sheet, words, said):
    ran = inside("remedy", *words, "loft.job")
    assert ran.status == 2
    assert said in " ".join(ran.err.split())
    assert sheet.read_bytes() == SHEET.encode()


def test_the_sheet_may_stand_before_or_after_any_option(sheet):
    said = inside("remedy", "loft.job", "J1", "--spare", "12/2", "nm-b", "--json").json
    assert said["remedies"]
    assert inside("remedy", "J1", "--json", "--spare", "12/2", "nm-b", "loft.job").json == said
    assert inside("remedy", "--json", "J1", "loft.job", "--spare", "12/2", "nm-b").json == said


def test_without_a_stock_file_it_is_said_where_to_get_one(sheet):
    Path("stock.toml").unlink()
    assert "examples/stock.toml" in inside("remedy", "loft.job").err


def test_faults_of_a_stock_file_are_told_with_their_place(sheet):
    Path("stock.toml").write_text(STOCK + "[[box]]\nname = 3\n", "utf-8")
    ran = inside("remedy", "loft.job")
    assert (ran.status, "stock.toml:" in ran.err) == (2, True)


# ---- written into the sheet, and brought back ----------------------------------------------------------------------

MARK = "\ufeff".encode()
WAYS = {
    "plain": SHEET.encode(),
    "windows": SHEET.replace("\n", "\r\n").encode(),
    "marked": MARK + SHEET.encode(),
    "windows, marked": MARK + SHEET.replace("\n", "\r\n").encode(),
    "mixed ends": SHEET.replace("\n", "\r\n", 5).encode(),
    "no last line end": SHEET.rstrip("\n").encode(),
    "tabs and other letters": SHEET.replace("  square", "\tsquare").replace("Net loft", "Räucherei").encode(),
}


@pytest.mark.parametrize("run", [inside, outside], ids=["inside", "process"])
@pytest.mark.parametrize("way", WAYS)
def test_applied_the_job_passes_and_undone_the_file_is_what_it_was_byte_for_byte(sheet, way, run):
    before = WAYS[way]
    sheet.write_bytes(before)
    applied = run("remedy", str(sheet), "--apply", "--yes")
    assert applied.status == 0, applied.err
    after = sheet.read_bytes()
    assert passes(sheet)
    assert after.startswith(MARK) is before.startswith(MARK)
    if "windows" in way:
        assert after.count(b"\n") == after.count(b"\r\n")
    assert run("remedy", str(sheet), "--undo").status == 0
    assert sheet.read_bytes() == before
    assert not undo_file(sheet).exists()


def test_only_the_lines_concerned_are_touched_and_remarks_stay(sheet):
    ran = inside("remedy", "loft.job", "--apply", "--yes")
    kept = [line for line in SHEET.splitlines() if line not in sheet.read_text("utf-8").splitlines()]
    assert kept == ["  marked ? in3 plastic 1-gang", "box R1 ? at the bench"]
    assert "-box R1 ? at the bench" in ran.out
    assert [line for line in ran.out.splitlines() if line.startswith("@@") and "box J1 at the hoist" in line]
    assert "+  plaster ring 7.5 in3" in ran.out


def test_several_changes_are_undone_one_after_the_other(sheet):
    seen = [sheet.read_bytes()]
    for box in ("J1", "S1", "R1"):
        assert inside("remedy", box, "loft.job", "--apply", "--yes").status == 0
        seen.append(sheet.read_bytes())
    assert len(set(seen)) == 4
    said = []
    for before in reversed(seen[:-1]):
        ran = inside("remedy", "loft.job", "--undo")
        said.append(ran.out.strip())
        assert sheet.read_bytes() == before
    assert said[0].endswith("2 more can be undone.")
    assert said[2].endswith("is as it was before.")
    assert inside("remedy", "loft.job", "--undo").status == 2


def test_a_remedy_may_be_chosen_from_the_list(sheet):
    second = inside("remedy", "J1", "loft.job", "--json").json["remedies"][1]
    assert inside("remedy", "J1", "loft.job", "--apply", "--yes", "--choose", "2").status == 0
    margin = check(read_job(sheet)).worksheets["J1"].margin
    assert str(margin) == second["margin"]


def test_a_file_changed_since_is_not_brought_back(sheet):
    inside("remedy", "loft.job", "--apply", "--yes")
    mine = sheet.read_bytes() + b"note mine\n"
    sheet.write_bytes(mine)
    ran = inside("remedy", "loft.job", "--undo")
    assert (ran.status, "was changed since" in ran.err) == (2, True)
    assert sheet.read_bytes() == mine
    sheet.write_bytes(mine.removesuffix(b"note mine\n"))
    assert inside("remedy", "loft.job", "--undo").status == 0
    assert sheet.read_bytes() == SHEET.encode()


@pytest.mark.parametrize(
    "damage",
    [b"", b"{", b"[]", b"\xff\xfe", b'{"steps": [{}]}', b'{"steps": [{"before_hex": "zz", "after_sha256": ""}]}'],
)
def test_a_damaged_undo_file_is_told_and_nothing_is_changed(sheet, damage):
    inside("remedy", "loft.job", "--apply", "--yes")
    after = sheet.read_bytes()
    undo_file(sheet).write_bytes(damage)
    for words in (["--undo"], ["R1", "--apply", "--yes"]):
        ran = inside("remedy", "loft.job", *words)
        assert ran.status in (0, 2)  # R1 passes by now: nothing to write
        assert sheet.read_bytes() == after
    ran = inside("remedy", "loft.job", "--undo")
    assert (ran.status, "cannot be read" in ran.err) == (2, True)


def test_a_sheet_lost_since_comes_back(sheet):
    inside("remedy", "loft.job", "--apply", "--yes")
    sheet.unlink()
    assert inside("remedy", "loft.job", "--undo").status == 0
    assert sheet.read_bytes() == SHEET.encode()


def test_without_yes_and_with_nobody_to_ask_nothing_is_written(sheet):
    ran = outside("remedy", str(sheet), "--apply", typed=b"")
    assert (ran.status, "add --yes" in ran.err) == (2, True)
    assert "+  plaster ring 7.5 in3" in ran.out  # the difference is shown first
    assert sheet.read_bytes() == SHEET.encode()
    assert not undo_file(sheet).exists()


def test_a_text_made_from_another_file_is_not_written(tmp_path):
    path = tmp_path / "a.job"
    path.write_bytes(b"now\n")
    with pytest.raises(FileTrouble, match="was changed in the meantime"):
        save_with_undo(path, "new\n", was="then\n")
    assert path.read_bytes() == b"now\n"


def test_an_undo_that_was_cut_off_before_the_sheet_was_written_changes_nothing(tmp_path):
    """The undo file is written first; if power fails between the two, the sheet still is what it was."""
    path = tmp_path / "a.job"
    path.write_bytes(b"old\n")
    step = {"after_sha256": hashlib.sha256(b"new\n").hexdigest(), "before_hex": b"old\n".hex()}
    undo_file(path).write_text(json.dumps({"sheet": "a.job", "steps": [step]}), "utf-8")
    undo(path)
    assert path.read_bytes() == b"old\n"


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="this system has no links")
def test_a_link_stays_a_link_and_permissions_stay(tmp_path):
    real, link = tmp_path / "real.job", tmp_path / "link.job"
    real.write_bytes(b"old\n")
    real.chmod(0o640)
    link.symlink_to(real)
    save_with_undo(link, "new\n")
    assert link.is_symlink()
    assert real.read_bytes() == b"new\n"
    assert real.stat().st_mode & 0o777 == 0o640


# ---- progress, and a clean stop ------------------------------------------------------------------------------------


def crowd(folder: Path, boxes: int) -> Path:
    """A job that takes a while: every box fails, and the stock has many kinds."""
    lines = ["edition 2020"]
    for number in range(boxes):
        lines += [f"box B{number}", "  square 4 x 1-1/4", "  clamps inside"]
        lines += [f"run B{number} > ? {cable} circuit {at}" for at, cable in enumerate(("12/2 nm-b", "14/3 nm-b") * 3)]
    path = folder / "crowd.job"
    path.write_text("\n".join([*lines, ""]), "utf-8")
    shutil.copy(ROOT / "examples" / "stock.toml", folder / "stock.toml")
    return path


HEARS_CTRL_C = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
from ampleroom.cli import main
raise SystemExit(main())
"""
"""The command as it is at a terminal: tests that a shell runs in the background hand it down to ignore Ctrl-C."""


def on_a_terminal(path: Path, *words: str) -> tuple[subprocess.Popen[bytes], int]:
    """The command with its progress on a terminal of its own, its answer in a pipe."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", HEARS_CTRL_C, "remedy", str(path), *words]
    env = process_environment(TERM="dumb")
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=theirs, env=env)
    os.close(theirs)
    return process, ours


CROWD = 3000
"""So many that their progress is more than a terminal holds unread: the command waits, however late it is stopped."""


def read_to_its_end(terminal: int) -> None:
    with contextlib.suppress(OSError):  # a terminal whose other side is closed
        while os.read(terminal, 4096):
            pass
    os.close(terminal)


def seen_until(terminal: int, word: bytes) -> bytes:
    seen = b""
    ends = time.monotonic() + 60
    while word not in seen and time.monotonic() < ends:
        seen += os.read(terminal, 4096)
    return seen


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no SIGINT of its own")
def test_stopped_by_ctrl_c_it_says_what_it_found_and_what_it_did_not_look_at(tmp_path):
    path = crowd(tmp_path, CROWD)
    process, terminal = on_a_terminal(path, "--json")
    assert b"of %d" % CROWD in seen_until(terminal, b"box 20 of %d" % CROWD)  # progress is shown
    process.send_signal(signal.SIGINT)
    Thread(target=read_to_its_end, args=(terminal,), daemon=True).start()
    out, _ = process.communicate(timeout=60)
    found = json.loads(out)
    looked_at = {remedy["box"] for remedy in found["remedies"]} | {none["box"] for none in found["nothing_helps"]}
    assert process.returncode == 1
    assert len(looked_at) >= 19
    assert len(found["not_looked_at"]) > 0
    assert len(looked_at) + len(found["not_looked_at"]) == CROWD


def test_no_progress_is_written_where_nobody_looks(sheet):
    assert outside("remedy", str(sheet)).err == ""


MANY = "edition 2020\nbox J1 at the hoist\n  square 4 x 1-1/2\n  clamps outside\n" + "".join(
    f"box B{number}\n  square 4 x 2-1/8\n  clamps outside\nrun J1 > B{number} 12/2 nm-b 9 ft circuit 1\n"
    for number in range(30)
)


def test_a_box_too_large_to_try_every_route_of_is_told_so_in_text_json_and_plan(tmp_path, monkeypatch):
    """30 cables: 24 are tried for another route, and the answer says so everywhere; a box of three says nothing."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "many.job").write_text(MANY, "utf-8")
    (tmp_path / "stock.toml").write_text("", "utf-8")
    said = "Only the first 24 of 30 cables were tried for another route."
    assert said in " ".join(inside("remedy", "J1", "many.job").out.split())
    assert inside("remedy", "J1", "many.job", "--json").json["not_tried"] == [said]
    assert f"J1: {said} Other fixes may exist." in " ".join(inside("remedy", "many.job").out.split())
    assert inside("remedy", "many.job", "--json").json["not_tried"] == {"J1": [said]}
    few = MANY.replace("box J1", "box J2").replace("run J1", "run J2").split("box B3\n")[0]
    (tmp_path / "many.job").write_text(few.replace("4 x 1-1/2", "4 x 1-1/4"), "utf-8")
    assert inside("remedy", "J2", "many.job", "--json").json["not_tried"] == []
