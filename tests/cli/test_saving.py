"""Writing files: never over what nobody asked to lose, whole or not at all, and one hand at a time."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from ampleroom.cli import saving
from ampleroom.cli.saving import before_file, kept_steps, locked, save, save_with_undo, undo, undo_file
from ampleroom.errors import FileTrouble
from tests.cli.helpers import inside, outside, process_environment
from tests.cli.test_remedy import SHEET, STOCK

WRITES = {
    "convert to a sheet": ("convert", "fails.job", "--to", "out.job"),
    "convert to results": ("convert", "fails.job", "--to", "out.csv"),
    "map as SVG": ("map", "fails.job", "--to", "out.svg"),
    "map as DXF": ("map", "fails.job", "--to", "out.dxf"),
    "picture of a box": ("show", "J1", "fails.job", "--picture", "out.svg"),
    "starter": ("new", "out.job"),
    "packet": ("packet", "fails.job", "--to", "out.pdf"),
    "labels": ("packet", "fails.job", "--labels", "--to", "out.pdf"),
}
"""Every command that writes a file it is told the name of; the last word is the name."""


@pytest.mark.parametrize("words", WRITES.values(), ids=WRITES)
def test_nothing_is_written_over_without_force_and_nothing_but_a_file_with_it(folder, words):
    if words[0] == "packet":
        pytest.importorskip("typst")
    if words[-1].endswith(".dxf"):
        pytest.importorskip("ezdxf")
    path = folder / words[-1]
    path.write_bytes(b"mine")
    path.chmod(0o640)
    ran = inside(*words)
    assert (ran.status, "is there already; choose another name, or add --force" in ran.err) == (2, True)
    assert path.read_bytes() == b"mine"
    assert inside(*words, "--force").status in (0, 1)
    assert path.read_bytes() != b"mine"
    assert path.stat().st_mode & 0o777 == 0o640
    path.unlink()
    path.mkdir()
    ran = inside(*words, "--force")
    assert (ran.status, "is a folder, not a file" in ran.err) == (2, True)
    path.rmdir()
    path.symlink_to("nowhere")
    assert inside(*words, "--force").status == 2
    assert path.is_symlink()
    path.unlink()
    os.mkfifo(path)
    ran = inside(*words, "--force")
    assert (ran.status, "is a device or a pipe, not a file" in ran.err) == (2, True)
    assert path.is_fifo()
    assert not [found for found in folder.iterdir() if found.name.startswith(".ampleroom-")]


def test_the_folder_for_use_without_a_server_is_not_made_anew_without_force(folder):
    pytest.importorskip("starlette")
    (folder / "out").mkdir()
    (folder / "out" / "offline.json").write_text("{}")
    ran = inside("offline", "out")
    assert (ran.status, "out is there already" in ran.err) == (2, True)
    assert (folder / "out" / "offline.json").read_text() == "{}"


def test_a_link_is_followed_and_stays_and_the_file_it_leads_to_is_replaced_in_one_step(tmp_path):
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_bytes(b"old")
    link.symlink_to(real)
    with pytest.raises(FileTrouble, match="is there already"):
        save(link, b"new")
    save(link, b"new", force=True)
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_new_file_is_not_more_open_than_the_user_wants(tmp_path):
    before = os.umask(0o077)
    try:
        save(tmp_path / "new", b"x")
    finally:
        os.umask(before)
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o600


def test_a_file_that_cannot_be_finished_leaves_the_old_one_and_nothing_beside_it(tmp_path, monkeypatch):
    path = tmp_path / "a"
    path.write_bytes(b"old")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileTrouble, match="No space left on device; nothing was changed"):
        save(path, b"new", force=True)
    assert [found.name for found in tmp_path.iterdir()] == ["a"]
    assert path.read_bytes() == b"old"


def test_where_there_are_no_hard_links_a_new_file_is_still_never_put_over_one(tmp_path, monkeypatch):
    def none(*_):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", none)
    save(tmp_path / "a", b"one")
    assert (tmp_path / "a").read_bytes() == b"one"
    with pytest.raises(FileExistsError):
        saving.put_new(tmp_path / "a", b"two")
    assert (tmp_path / "a").read_bytes() == b"one"


@pytest.mark.parametrize("name", ["x" * 300, "x" * 250], ids=["too long", "as long as may be"])
def test_a_very_long_name_gets_a_clear_word(folder, name):
    for words in (
        ("new", name + ".job"),
        ("check", name + ".job"),
        ("remedy", name),
        ("takeoff", "fails.job", "--stock", name),
        ("convert", "fails.job", "--to", name + ".job"),
        ("convert", name + ".xlsx", "--to", "a.job"),
    ):
        ran = inside(*words)
        assert "Traceback" not in ran.err
        long = len(name) == 300
        assert ran.status == 2 if long else ran.status in (0, 2, 3)
        assert "too long" in ran.err or not long


# ---- two hands at once -----------------------------------------------------------------------------------------------

ADDS = """
import sys
from pathlib import Path
from ampleroom.cli.saving import save_with_undo
from ampleroom.errors import FileTrouble
path, who, refused = Path(sys.argv[1]), sys.argv[2], 0
for number in range(int(sys.argv[3])):
    while True:
        before = path.read_text()
        try:
            save_with_undo(path, before + f"note {who}{number}\\n", before)
            break
        except FileTrouble as trouble:
            assert "changed in the meantime" in str(trouble), trouble
            refused += 1
print(refused)
"""


def test_what_three_hands_write_at_once_is_all_there_and_can_all_be_undone(tmp_path):
    path, number = tmp_path / "a.job", 25
    path.write_text("box J1\n")
    hands = [
        subprocess.Popen(
            [sys.executable, "-c", ADDS, str(path), who, str(number)],
            stdout=subprocess.PIPE,
            env=process_environment(),
        )
        for who in "abc"
    ]
    refused = [int(hand.communicate(timeout=120)[0]) for hand in hands]
    assert [hand.returncode for hand in hands] == [0, 0, 0]
    assert sorted(path.read_text().split("\n")[1:-1]) == sorted(
        f"note {who}{n}" for who in "abc" for n in range(number)
    )
    assert len(kept_steps(path)) == 3 * number
    assert sum(refused) > 0, "no two of them met: the test says nothing"
    for _ in range(3 * number):
        undo(path)
    assert path.read_text() == "box J1\n"
    assert [found.name for found in tmp_path.iterdir()] == ["a.job"]


@pytest.mark.parametrize("round_", range(4))
def test_two_remedies_applied_at_once_are_both_there_and_both_undone(tmp_path, round_):
    sheet = tmp_path / "loft.job"
    sheet.write_text(SHEET, "utf-8")
    (tmp_path / "stock.toml").write_text(STOCK, "utf-8")
    with ThreadPoolExecutor(2) as pool:
        ran = list(pool.map(lambda box: outside("remedy", box, str(sheet), "--apply", "--yes"), ("S1", "R1")))
    assert [one.status for one in ran] == [0, 0], ran
    assert "box R1 ? at the bench" not in sheet.read_text("utf-8")
    assert len(kept_steps(sheet)) == 2
    assert [inside("remedy", str(sheet), "--undo").status for _ in range(3)] == [0, 0, 2]
    assert sheet.read_bytes() == SHEET.encode()


def test_a_file_somebody_holds_is_waited_for_and_then_told(tmp_path, monkeypatch):
    path = tmp_path / "a.job"
    path.write_text("old\n")
    monkeypatch.setattr(saving, "PATIENCE", 0.05)
    with (
        locked(path),
        pytest.raises(FileTrouble, match=r"a\.job is being changed by another command; nothing was written"),
    ):
        save_with_undo(path, "new\n")
    save_with_undo(path, "new\n")
    assert path.read_text() == "new\n"


def test_what_changes_between_comparing_and_replacing_is_kept_and_so_is_the_undo_file(tmp_path, monkeypatch):
    path = tmp_path / "a.job"
    path.write_text("one\n")
    save_with_undo(path, "two\n")
    kept = undo_file(path).read_bytes()
    usual = saving.keep_permissions

    def edited_by_hand(handle, temporary, like):
        usual(handle, temporary, like)
        if like == path:
            path.write_text("mine\n")

    monkeypatch.setattr(saving, "keep_permissions", edited_by_hand)
    with pytest.raises(FileTrouble, match="was changed in the meantime"):
        save_with_undo(path, "three\n", "two\n")
    assert path.read_text() == "mine\n"
    assert undo_file(path).read_bytes() == kept


def test_a_stale_undo_keeps_the_sheet_and_puts_what_it_was_beside_it(tmp_path):
    path = tmp_path / "a.job"
    path.write_text("one\n")
    save_with_undo(path, "two\n")
    path.write_text("mine\n")
    for _ in range(2):
        with pytest.raises(FileTrouble, match=r"was changed since.*is now in .*a\.job\.before: compare the two"):
            undo(path)
    assert (path.read_text(), before_file(path).read_text()) == ("mine\n", "one\n")
    assert len(kept_steps(path)) == 1


def test_the_undo_file_is_as_private_as_the_sheet(tmp_path):
    path = tmp_path / "a.job"
    path.write_text("one\n")
    path.chmod(0o600)
    save_with_undo(path, "two\n")
    assert undo_file(path).stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    "words", [("--margin", "nan"), ("--margin", "inf"), ("--margin", "sNaN"), ("--seconds", "nan")]
)
def test_a_limit_that_is_no_number_is_told(folder, words):
    (folder / "stock.toml").write_text(STOCK, "utf-8")
    ran = inside("remedy", "fails.job", *words)
    assert (ran.status, ran.out) == (2, "")
    assert words[0] in ran.err


# ---- names that would write to a terminal ----------------------------------------------------------------------------

EVIL = "a\x1b[31m\x07\u202e\x9b2Jb"


def test_no_name_of_a_file_writes_to_the_terminal(folder):
    sheet = f"{EVIL}.job"
    Path(sheet).write_text(SHEET, "utf-8")
    Path("stock.toml").write_text(STOCK, "utf-8")
    said = [
        inside(*words)
        for words in (
            ("check", sheet), ("check", EVIL), ("new", sheet), ("new", EVIL + "2"),
            ("show", "J1", sheet, "--picture", EVIL + ".svg"), ("map", sheet, "--to", EVIL + "m.svg"),
            ("convert", sheet, "--to", EVIL + ".csv"), ("convert", sheet, "--to", EVIL),
            ("remedy", sheet, "--apply", "--yes"), ("remedy", sheet, "--undo"), ("remedy", sheet, "--undo"),
            ("remedy", EVIL, EVIL), ("takeoff", sheet, "--stock", EVIL), ("check", "--" + EVIL), ("check", sheet, EVIL),
            (EVIL,), ("serve", "--pages", EVIL), ("check", sheet, "--edition", EVIL),
            ("remedy", sheet, "--margin", EVIL), ("show", "J1", sheet, "--theme", EVIL), ("offline", sheet),
            ("check", sheet, "--json"),
        )
    ]  # fmt: skip
    for ran in said:
        for text in (ran.out, ran.err):
            assert not [letter for letter in text if not letter.isprintable() and letter != "\n"], repr(text)
