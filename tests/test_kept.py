"""What ``run`` keeps compiled: the same answers, and never code whose source has changed since."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SHEET = "edition 2020\nbox J1 at the gangway\n  square 4 x 1-1/2\n  clamps inside\nrun J1 > ? 3 x 12/2 nm-b\n"
VOLUMES = "editions/standard_boxes/table.toml"


@pytest.fixture
def tree(tmp_path):
    """A copy of the checkout without bytecode."""
    place = tmp_path / "tree"
    bytecode = shutil.ignore_patterns("__pycache__", "static", "fonts")
    shutil.copytree(ROOT / "src", place / "src", ignore=bytecode)
    shutil.copytree(ROOT / "scripts", place / "scripts", ignore=bytecode)
    shutil.copy(ROOT / "run", place / "run")
    (place / "gangway.job").write_text(SHEET, "utf-8")
    return place


def ran(tree, *words, options=(), **environment):
    """A command as a process of its own, ``check`` of the sheet if no other is named."""
    command = [sys.executable, *options, "run", *(words or ("check", "gangway.job"))]
    env = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")} | environment
    return subprocess.run(command, cwd=tree, env=env, capture_output=True, text=True, check=False)


def answered(tree, *words, **environment):
    done = ran(tree, *words, **environment)
    assert "Traceback" not in done.stderr
    return done.stdout + done.stderr


def kept_file(tree):
    (file,) = (tree / "src" / "ampleroom" / "__pycache__").glob("check.*.kept")
    return file


def loaded(tree):
    """The bytecode files of the package that a check opens, as Python tells with ``-v``."""
    lines = ran(tree, options=("-v",)).stderr.splitlines()
    return [line for line in lines if "code object from" in line and str(tree / "src") in line]


def test_a_command_answers_the_same_from_what_it_kept_and_opens_no_other_bytecode(tree):
    first = answered(tree)
    assert "J1" in first
    written = kept_file(tree).read_bytes()
    assert answered(tree) == first
    assert loaded(tree) == []
    assert kept_file(tree).read_bytes() == written
    assert "in3" in answered(tree, "show", "J1", "gangway.job")  # another command has a file of its own
    assert kept_file(tree).read_bytes() == written


def test_a_module_that_changed_is_compiled_again(tree):
    answered(tree)
    module = tree / "src" / "ampleroom" / "cli" / "check.py"
    module.write_text(module.read_text("utf-8").replace("report = check(", 'print("mended"); report = check('), "utf-8")
    assert answered(tree).startswith("mended\n")
    assert answered(tree).startswith("mended\n")
    module.unlink()
    assert "No module named 'ampleroom.cli.check'" in ran(tree).stderr


def test_a_change_of_the_same_size_is_seen_by_its_time(tree):
    before = answered(tree)
    module = tree / "src" / "ampleroom" / "cli" / "check.py"
    was = module.stat()
    module.write_text(module.read_text("utf-8").replace("STATUS[report.verdict]", "len('seven!!') #rdict]"), "utf-8")
    assert module.stat().st_size == was.st_size
    assert answered(tree) == before
    assert ran(tree).returncode == 7


def test_a_number_that_changed_in_a_table_is_read_again(tree):
    before = answered(tree)
    table = tree / "src" / "ampleroom" / VOLUMES
    text = table.read_text("utf-8")
    assert "21.0" in text
    table.write_text(text.replace("21.0", "17.5"), "utf-8")
    after = answered(tree)
    assert after != before
    assert answered(tree) == after


@pytest.mark.parametrize("damage", [b"", b"rubbish", None], ids=["empty", "rubbish", "cut"])
def test_a_damaged_file_is_made_anew(tree, damage):
    before = answered(tree)
    file = kept_file(tree)
    whole = file.read_bytes()
    file.write_bytes(whole[: len(whole) // 2] if damage is None else damage)
    assert answered(tree) == before
    assert len(kept_file(tree).read_bytes()) > len(whole) // 2
    assert loaded(tree) == []


def test_a_copied_tree_loads_its_own_modules(tree, tmp_path):
    answered(tree)
    copy = tmp_path / "copy"
    shutil.copytree(tree, copy)  # with the bytecode, and the times of the files
    module = tree / "src" / "ampleroom" / "cli" / "check.py"
    module.write_text('raise RuntimeError("of the other tree")\n', "utf-8")
    assert "J1" in answered(copy)


def test_nothing_is_written_where_python_may_not_write_bytecode(tree):
    assert "J1" in answered(tree, PYTHONDONTWRITEBYTECODE="1")
    assert not list((tree / "src").rglob("*.kept"))


def test_a_word_that_is_no_command_writes_nothing(tree):
    assert "no command" in answered(tree, "../../chek")
    assert "no command" in answered(tree, "chek")
    assert not list(tree.rglob("*.kept"))
