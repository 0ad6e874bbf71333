"""The folder for use without a server: what belongs to it, its mark, and plain words where it cannot be built. No
browser needed.
"""

import ast
import base64
import io
import json
import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.rules.all_rules import RULES
from ampleroom.web import offline
from ampleroom.web.compressed import COMPRESSED, copy_to_send
from ampleroom.web.guard import CSP

CODE = Path(offline.__file__).parents[1]


def folder(place, name, more=""):
    made = place / name
    shutil.copytree(offline.STATIC, made)
    (made / "core.zip").write_bytes(offline.core_zip())
    (made / "style.css").write_text((made / "style.css").read_text("utf-8") + more, "utf-8")
    offline.write_plan(made, offline.stamp(made), {"typst": "wheels/typst.whl"}, False)
    return made, json.loads((made / "offline.json").read_text("utf-8"))


def hash_of(path):
    """As browsers write it, worked out without the code under test."""
    done = subprocess.run(["openssl", "dgst", "-sha256", "-binary", path], capture_output=True, check=True)
    return "sha256-" + base64.b64encode(done.stdout).decode()


def test_every_script_and_the_page_carry_the_mark_of_the_build(tmp_path):
    made, plan = folder(tmp_path, "pages")
    assert plan["mark"]
    for name in ("sw.js", "worker.mjs", "ask.js"):
        assert f"const BUILD = '{plan['mark']}';" in (made / name).read_text("utf-8")
    assert f'data-build="{plan["mark"]}"' in (made / "index.html").read_text("utf-8")


def test_the_mark_changes_with_any_file_and_with_nothing_else(tmp_path):
    _, one = folder(tmp_path, "one")
    _, same = folder(tmp_path, "same")
    _, other = folder(tmp_path, "other", "/* darker */")
    assert one == same
    assert other["mark"] != one["mark"]


def test_every_file_is_listed_with_its_hash_and_the_keeper_has_that_of_the_list(tmp_path):
    made, plan = folder(tmp_path, "pages")
    there = {path.relative_to(made).as_posix(): path for path in made.rglob("*") if path.is_file()}
    assert set(plan["files"]) == set(there) - {"sw.js", "offline.json"}
    assert plan["files"] == {name: hash_of(there[name]) for name in plan["files"]}
    assert f"const LIST = '{hash_of(made / 'offline.json')}';" in (made / "sw.js").read_text("utf-8")


def test_the_page_has_the_policy_of_the_server_in_itself(tmp_path):
    """But for frame-ancestors, which browsers take from a header only (the policy's standard, section 3.3)."""
    made, plan = folder(tmp_path, "pages")
    page = (made / "index.html").read_text("utf-8")
    (policy,) = re.findall(r'<meta http-equiv="content-security-policy" content="([^"]+)">', page)
    assert policy + "; frame-ancestors 'none'" == CSP == plan["policy"]
    assert page.index("http-equiv") < page.index("<script")
    assert page.index("http-equiv") < page.index("<link")


def test_a_changed_file_of_pyodide_is_refused(tmp_path, monkeypatch):
    _, hashes = offline.pinned_pyodide()
    assert set(hashes) == {
        "pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json"
    }  # fmt: skip
    assert all(re.fullmatch("[0-9a-f]{64}", digest) for digest in hashes.values())
    monkeypatch.setattr(offline, "pyodide_files", lambda version: dict.fromkeys(hashes, b"something else"))
    with pytest.raises(AmpleroomError, match=r"pyodide\.mjs of pyodide .* is not the file this was made with"):
        offline.fetch_pyodide(tmp_path / "pyodide")
    assert not list((tmp_path / "pyodide").iterdir())


def test_no_module_of_the_core_imports_what_is_left_out_of_pythons_library(tmp_path):
    """What the libraries for packets and workbooks import is tried by making and reading some, in test_offline.py."""
    imported = set()
    for path in CODE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                imported |= {each.name.split(".")[0] for each in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                imported.add(node.module.split(".")[0])
    assert {"json", "zipfile"} <= imported
    assert not imported & offline.UNUSED
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as made:
        for name in ("json/__init__.py", "pdb.py", "unittest/mock.py", "unittesting.py", "encodings/utf_16_le.py",
                     "encodings/cp865.py"):  # fmt: skip
            made.writestr(name, '"""What it is."""\nx = 1\n')
        made.writestr("newer.py", "a language this Python does not know\n")
    with zipfile.ZipFile(io.BytesIO(offline.stored(archive.getvalue()))) as left:
        assert left.namelist() == ["json/__init__.py", "unittesting.py", "encodings/utf_16_le.py", "newer.py"]
        assert left.read("unittesting.py") == b'""\nx = 1\n'
        assert left.read("newer.py") == b"a language this Python does not know\n"


def test_a_changed_wheel_for_the_browser_is_refused(tmp_path, monkeypatch):
    """Even where pip lets it through."""

    def brings(command, **options):
        if "--dest" not in command:
            return subprocess.CompletedProcess(command, 0, "", "")
        place = Path(command[command.index("--dest") + 1])
        for requirement in offline.pinned_wheels():
            name, version = requirement.replace("-", "_").split("==")
            (place / f"{name}-{version}-py3-none-any.whl").write_bytes(b"something else")
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(subprocess, "run", brings)
    with pytest.raises(AmpleroomError, match="is not the file this was made with"):
        offline.fetch_wheels(tmp_path / "wheels")


def test_the_core_is_whole_without_the_command_line_and_the_pages(tmp_path):
    (tmp_path / "core.zip").write_bytes(offline.core_zip())
    with zipfile.ZipFile(tmp_path / "core.zip") as archive:
        names = archive.namelist()
    assert any(name.startswith("ampleroom/web/engine") for name in names)
    tables = {path.relative_to(CODE.parent).as_posix() for path in CODE.rglob("*.toml")}
    assert tables <= {*names}, "every table of the code and every rule's cases"
    assert not [name for name in names if re.search(r"/cli/|/static/|/fonts/|\.pyc$", name)]


def test_the_core_there_says_the_same_without_docstrings_but_those_of_rules():
    """Of every module only the docstrings are gone; all else stands on the same line. Rule pages are made of theirs."""
    taken = 0
    of_rules = {Path(found.function.__code__.co_filename).resolve() for found in RULES.values()}
    with zipfile.ZipFile(io.BytesIO(offline.core_zip())) as archive:
        for name in (name for name in archive.namelist() if name.endswith(".py")):
            source, kept = (CODE.parent / name).read_bytes(), archive.read(name)
            if (CODE.parent / name).resolve() in of_rules:
                assert kept == source
                continue
            trees = [ast.parse(text) for text in (source, kept)]
            for tree in trees:
                for node in ast.walk(tree):
                    if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
                        if tree is trees[1]:
                            assert not ast.get_docstring(node), name
                        elif ast.get_docstring(node):
                            taken += 1
                            first = node.body[0]
                            assert isinstance(first, ast.Expr)
                            first.value = ast.Constant("", lineno=first.lineno, col_offset=0)
            lines = [
                [(type(node).__name__, node.lineno) for node in ast.walk(tree) if hasattr(node, "lineno")]
                for tree in trees
            ]
            assert ast.dump(trees[0]) == ast.dump(trees[1]), name
            assert lines[0] == lines[1], name
    assert taken > 1000


def test_the_list_goes_from_the_page_to_what_counts_and_ends_with_what_sets_the_packet(tmp_path):
    made, _ = folder(tmp_path, "pages")
    for name in (
        "pyodide/pyodide.mjs",
        "snapshot.bin",
        "wheels/calamine.whl",
        "wheels/typst.whl",
        "wheels/xlsxwriter.whl",
    ):
        (made / name).parent.mkdir(exist_ok=True)
        (made / name).write_text("words " * 999, "utf-8")
    (made / "snapshot.bin.br").write_bytes(b"short")
    page, counts, rest = offline.stages(made, {"typst": "wheels/typst.whl"})
    assert {"index.html", "app.js", "worker.mjs", "style.css"} <= {*page}
    assert counts == ["core.zip", "pyodide/pyodide.mjs", "snapshot.bin"]
    assert rest == ["wheels/calamine.whl", "wheels/xlsxwriter.whl", "wheels/typst.whl"]
    assert offline.sizes_of(made / "snapshot.bin") == {"plain": 5994, "br": 5}


def test_a_changed_minifier_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(offline, "npm_files", lambda package, version, names: dict.fromkeys(names, b"something else"))
    with pytest.raises(AmpleroomError, match=r"dist/bundle\.min\.js of terser .* is not the file this was made with"):
        offline.minify(tmp_path)


def test_a_changed_bundler_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(offline, "npm_files", lambda package, version, names: dict.fromkeys(names, b"something else"))
    with pytest.raises(AmpleroomError, match=r"browser\.min\.js of esbuild-wasm .* is not the file this was made with"):
        offline.bundle(tmp_path)


def test_the_page_has_one_script_and_every_part_is_in_it(pages):
    """What each part writes on the screen is found in the one script; the folder has no part by itself."""
    assert sorted(path.name for path in pages.glob("*.js")) == ["app.js", "sw.js"]
    assert "modulepreload" not in (pages / "index.html").read_text("utf-8")
    made = (pages / "app.js").read_text("utf-8")
    for path in sorted(offline.STATIC.glob("*.js")):
        if path.name == "sw.js":
            continue
        code = re.sub(r"//[^\n]*|/\*.*?\*/", "", path.read_text("utf-8"), flags=re.S)
        texts = re.findall(r"'([A-Za-z][A-Za-z /.-]{5,})'", code)
        assert texts or path.name in ("lines.js", "patch.js", "usual.js", "whole.js"), (
            f"{path.name} has nothing to look for"
        )
        assert max(texts, key=len, default="") in made, path.name


@pytest.mark.parametrize(
    ("accepted", "sent"),
    [
        ("gzip, deflate, br, zstd", "br"), ("gzip", "gzip"), ("br;q=0, gzip;q=0.5", "gzip"), ("GZIP ; q=1.0", "gzip"),
        ("", ""), ("identity", ""), ("br;q=0.0", ""), ("zstd, xbr", ""),
    ],
)  # fmt: skip
def test_the_copy_sent_is_one_the_browser_takes(tmp_path, accepted, sent):
    path = tmp_path / "core.zip"
    for name in ("core.zip", "core.zip.br", "core.zip.gz"):
        (tmp_path / name).write_text(name, "utf-8")
    assert copy_to_send(path, accepted) == (tmp_path / f"core.zip{COMPRESSED.get(sent, '')}", sent)
    assert copy_to_send(tmp_path / "core.zip.gz", accepted)[1] == ""


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


@pytest.fixture
def building(tmp_path, monkeypatch):
    """A build that fetches nothing; ``building(words)`` makes a folder with these words in it."""
    monkeypatch.setattr(shutil, "which", lambda name: f"/bin/{name}")
    monkeypatch.setattr(offline, "fetch_pyodide", lambda folder: folder.mkdir())
    monkeypatch.setattr(offline, "fetch_wheels", lambda folder: folder.mkdir() or {})
    monkeypatch.setattr(offline, "bundle", lambda folder: None)
    monkeypatch.setattr(offline, "minify", lambda folder: None)
    monkeypatch.setattr(offline, "compress", lambda folder: None)

    def build(words):
        monkeypatch.setattr(offline, "examples", lambda: {"words": words})
        offline.build(tmp_path / "out", snapshot=False)

    return build


def words_of(out):
    assert (out / "offline.json").is_file()
    return json.loads((out / "examples.json").read_text("utf-8"))["words"]


def test_a_folder_is_made_anew_and_nothing_is_left_beside_it(building, tmp_path):
    for words in ("one", "two"):
        building(words)
        assert words_of(tmp_path / "out") == words
        assert [path.name for path in tmp_path.iterdir()] == ["out"]


class Cut(BaseException):
    """The power goes: nothing that would tidy up runs any more."""


@pytest.mark.parametrize("step", range(4))
def test_a_power_cut_at_any_step_of_the_exchange_loses_neither_folder(building, tmp_path, monkeypatch, step):
    """Before each step: old folder aside, new folder in its place, and the old one removed."""
    out, aside = tmp_path / "out", tmp_path / ".out.before"
    building("old")
    made = tmp_path / "made"
    shutil.copytree(out, made)
    (made / "examples.json").write_text('{"words": "new"}', "utf-8")
    steps = iter(range(9))
    for kind, name in ((Path, "replace"), (shutil, "rmtree")):
        real = getattr(kind, name)

        def counted(*given, real=real, **more):
            if next(steps) == step:
                raise Cut
            return real(*given, **more)

        monkeypatch.setattr(kind, name, counted)
    if step < 3:
        with pytest.raises(Cut):
            offline.put_in_place(made, out, aside)
    else:
        offline.put_in_place(made, out, aside)
    monkeypatch.undo()
    whole = {words_of(path) for path in (out, aside, made) if path.exists()}
    assert whole >= ({"old", "new"} if step < 3 else {"new"})


def test_the_next_build_brings_back_what_a_cut_exchange_left_aside(building, tmp_path, monkeypatch):
    building("old")
    (tmp_path / "out").replace(tmp_path / ".out.before")

    def no_node(folder):
        raise AmpleroomError("npm could not fetch it")

    monkeypatch.setattr(offline, "fetch_pyodide", no_node)
    with pytest.raises(AmpleroomError, match="could not fetch"):
        building("new")
    assert words_of(tmp_path / "out") == "old"
    assert not (tmp_path / ".out.before").exists()
