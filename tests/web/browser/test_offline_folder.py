"""The folder for use without a server: what belongs to it, its mark, and plain words where it cannot be built. No browser needed."""

import json
import shutil
import zipfile

import pytest

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.web import offline


def folder(place, name, more=""):
    made = place / name
    shutil.copytree(offline.STATIC, made)
    (made / "core.zip").write_bytes(offline.core_zip())
    (made / "style.css").write_text((made / "style.css").read_text("utf-8") + more, "utf-8")
    offline.write_plan(made, {"typst": "wheels/typst.whl"}, False)
    return made, json.loads((made / "offline.json").read_text("utf-8"))


def test_the_script_that_keeps_the_pages_carries_the_mark_of_the_folder(tmp_path):
    """Without it nothing is kept, and the page does not open without a signal."""
    made, plan = folder(tmp_path, "pages")
    assert f"const MARK = '{plan['mark']}';" in (made / "sw.js").read_text("utf-8")


def test_the_mark_changes_with_any_file_and_with_nothing_else(tmp_path):
    _, one = folder(tmp_path, "one")
    _, same = folder(tmp_path, "same")
    _, other = folder(tmp_path, "other", "/* darker */")
    assert one == same
    assert other["mark"] != one["mark"]


def test_every_file_is_kept_but_the_keeper(tmp_path):
    made, plan = folder(tmp_path, "pages")
    there = {path.relative_to(made).as_posix() for path in made.rglob("*") if path.is_file()}
    assert set(plan["files"]) == there - {"sw.js"} | {"./"}


def test_the_core_is_whole_without_the_command_line_and_the_pages(tmp_path):
    (tmp_path / "core.zip").write_bytes(offline.core_zip())
    with zipfile.ZipFile(tmp_path / "core.zip") as archive:
        names = archive.namelist()
    assert any(name.startswith("ampleroom/web/engine") for name in names)
    assert any(name.startswith("ampleroom/editions/tables/") for name in names)
    assert not [name for name in names if "/cli/" in name or "/static/" in name or name.endswith(".pyc")]


@pytest.mark.parametrize("tool", ["node", "npm"])
def test_without_node_or_npm_it_says_so(tmp_path, monkeypatch, tool):
    monkeypatch.setattr(shutil, "which", lambda name: None if name == tool else f"/bin/{name}")
    with pytest.raises(AmpleroomError, match=f"there is no {tool} here"):
        offline.build(tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_folder_of_somebody_else_is_left_alone(tmp_path, monkeypatch):
    monkeypatch.setattr(shutil, "which", lambda name: f"/bin/{name}")
    (tmp_path / "letters.txt").write_text("dear all", "utf-8")
    with pytest.raises(FileTrouble, match="was not made by this"):
        offline.build(tmp_path)
    assert (tmp_path / "letters.txt").read_text("utf-8") == "dear all"
