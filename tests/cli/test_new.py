"""A starter sheet."""

from ampleroom.job import read_job, starter_sheet
from tests.cli.helpers import inside


def test_new_writes_a_sheet_that_can_be_checked(folder):
    ran = inside("new", "mill.job")
    assert ran == (0, "mill.job is written. Change it to your job, then: ampleroom check mill.job\n", "")
    assert (folder / "mill.job").read_text("utf-8") == starter_sheet()
    assert inside("check", "mill.job").status == 3


def test_new_gives_a_name_its_ending(folder):
    inside("new", "mill")
    assert (folder / "mill.job").exists()
    inside("new", "mill.txt")
    assert (folder / "mill.txt").exists()


def test_new_without_a_name_prints_it(folder):
    ran = inside("new")
    assert (ran.status, ran.out) == (0, starter_sheet())
    assert read_job(ran.out).title


def test_new_never_overwrites(folder):
    (folder / "mill.job").write_text("mine")
    ran = inside("new", "mill.job")
    assert ran == (2, "", "ampleroom new: mill.job is there already; choose another name, or add --force\n")
    assert (folder / "mill.job").read_text() == "mine"
    assert inside("new", "mill").status == 2


def test_new_never_overwrites_through_a_link_or_a_folder(folder):
    (folder / "own.txt").write_text("mine")
    (folder / "link.job").symlink_to(folder / "own.txt")
    (folder / "dir.job").mkdir()
    (folder / "dangling.job").symlink_to(folder / "nowhere.txt")
    assert {inside("new", name).status for name in ("link.job", "dir.job", "dangling.job")} == {2}
    assert (folder / "own.txt").read_text() == "mine"
    assert not (folder / "nowhere.txt").exists()


def test_new_in_a_folder_that_is_not_there_says_so(folder):
    ran = inside("new", "nowhere/mill.job")
    assert (ran.status, ran.out) == (2, "")
    assert (
        ran.err == "ampleroom new: nowhere/mill.job cannot be written: No such file or directory; nothing was changed\n"
    )
