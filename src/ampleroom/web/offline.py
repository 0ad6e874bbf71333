"""Making the folder for use without a server: our pages, our core as a zip, and the browser's Python from npm and PyPI.

Nothing of it is kept in the repository: it is fetched and built each time.
"""

from __future__ import annotations

import base64
import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.record import Record
from ampleroom.web.guard import CSP

WHEELS = {"typst": "typst", "calamine": "python-calamine", "xlsxwriter": "xlsxwriter"}
"""What the worker calls a library, and the package that brings it."""
BROWSER_WHEELS = Path(__file__).with_name("browser.txt")
PYODIDE_HASHES = Path(__file__).with_name("pyodide.sha256")
"""The hashes of all that is fetched, written by scripts/pin.py."""
BROWSER = ["--platform", "pyemscripten_2026_0_wasm32", "--python-version", "3.14", "--implementation", "cp"]
PIP_OPTIONS = ["--no-deps", "--only-binary", ":all:", *BROWSER, "--abi", "cp314", "--abi", "abi3", "--abi", "none"]
PACKAGE = Path(__file__).resolve().parents[1]
STATIC = Path(__file__).with_name("static")
LEFT_OUT = {"static", "__pycache__", "cli", BROWSER_WHEELS.name, PYODIDE_HASHES.name}
OURS = "offline.json"
KEEPER = "sw.js"

WARMING = """
import sys

sys.path.insert(0, '/lib/ampleroom')
from ampleroom.web import engine

sheet = 'edition 2020\\nbox J1\\n  square 4 x 1-1/2\\nrun J1 > ? 12/2 nm-b\\n'
for action in ('words', 'job', 'box', 'fits', 'remedies'):
    engine.answer(action, {'sheet': sheet, 'box': 'J1'})
"""
"""Run before the picture of memory is taken, so that what it loads is in it."""

SNAPSHOT_SCRIPT = """
import { loadPyodide } from './pyodide/pyodide.mjs';
import fs from 'node:fs';
try {
  const python = await loadPyodide({ indexURL: process.argv[2], _makeSnapshot: true });
  python.unpackArchive(new Uint8Array(fs.readFileSync('core.zip')), 'zip', { extractDir: '/lib/ampleroom' });
  python.runPython(fs.readFileSync('warming.py', 'utf-8'));
  fs.writeFileSync('snapshot.bin', python.makeMemorySnapshot());
} catch (trouble) {
  console.error(String(trouble));
  process.exit(1);
}
"""


class Built(Record):
    """The folder made: how many files and bytes, and whether Python's memory snapshot is among them."""

    files: int
    bytes: int
    snapshot: bool


def build(out: Path, snapshot: bool = True, progress: Callable[[str], object] = lambda text: None) -> Built:
    """Make the folder at ``out``: how many files and bytes it has, and whether Python's memory snapshot is in it.

    It is made whole beside its place and put there last: a half-made folder is never served, and an older one is not taken
    away before the new one is there. Raises AmpleroomError where something cannot be fetched or built.
    """
    for tool in ("node", "npm"):
        if shutil.which(tool) is None:
            raise AmpleroomError(
                f"the offline folder is built with node and npm, and there is no {tool} here; install Node.js 20 or newer"
            )
    out = out.absolute()
    before = out.with_name(f".{out.name}.before")
    if before.exists() and not out.exists():
        before.replace(
            out
        )  # the last build was cut off between taking the old folder away and putting the new one there
    if out.exists() and not (out / OURS).is_file() and any(out.iterdir()):
        raise FileTrouble(f"{out} is there and was not made by this; choose another folder")
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=".offline-") as made:
        folder = Path(made) / "pages"
        shutil.copytree(STATIC, folder)
        progress("fetching the browser's Python")
        fetch_pyodide(folder / "pyodide")
        progress("fetching libraries for the packet and for workbooks")
        wheels = fetch_wheels(folder / "wheels")
        (folder / "core.zip").write_bytes(core_zip())
        (folder / "examples.json").write_text(json.dumps(examples()), "utf-8")
        has_snapshot = False
        if snapshot:
            progress("taking a picture of Python's memory")
            has_snapshot = take_snapshot(folder, progress)
        write_plan(folder, wheels, has_snapshot)
        flush(folder)
        put_in_place(folder, out, before)
    all_files = [path for path in out.rglob("*") if path.is_file()]
    return Built(len(all_files), sum(path.stat().st_size for path in all_files), has_snapshot)


def put_in_place(folder: Path, out: Path, before: Path) -> None:
    """Exchange the folder at ``out`` for a new one. The old one stands aside as ``before`` until the new one is there, so
    whatever cuts this off leaves one of them whole; ``build`` brings ``before`` back if it finds no ``out``.
    """
    if before.exists():
        shutil.rmtree(before)
    if out.exists():
        out.replace(before)
    try:
        folder.replace(out)
    except OSError:
        if before.exists():
            before.replace(out)
        raise
    flush(out.parent, deep=False)
    if before.exists():
        shutil.rmtree(before)


def flush(folder: Path, deep: bool = True) -> None:
    """Put a folder and, if ``deep``, every file under it on the disk, so that a power cut after this finds them whole."""
    for path in [*(folder.rglob("*") if deep else ()), folder]:
        if path.is_dir() and os.name != "posix":
            continue  # Windows opens no folders
        handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def pinned_pyodide() -> tuple[str, dict[str, str]]:
    """Pyodide's version, and the SHA-256 of each of its files that is used."""
    heading, *lines = PYODIDE_HASHES.read_text("utf-8").splitlines()
    return heading.split()[2].rstrip(","), {name: digest for digest, name in map(str.split, lines)}


def fetch_pyodide(folder: Path) -> None:
    """Pyodide's files, by npm. Raises AmpleroomError for one that differs from the hash kept here."""
    version, hashes = pinned_pyodide()
    folder.mkdir(parents=True)
    for name, content in pyodide_files(version).items():
        check_hash(f"{name} of pyodide {version}", content, {hashes[name]})
        (folder / name).write_bytes(content)


def pyodide_files(version: str) -> dict[str, bytes]:
    """The files of a version of Pyodide, as npm brings them: not yet checked."""
    names = pinned_pyodide()[1]
    with tempfile.TemporaryDirectory() as place:
        command = ["npm", "pack", f"pyodide@{version}", "--silent", "--ignore-scripts"]
        done = subprocess.run(command, cwd=place, capture_output=True, text=True, check=False)
        packed = list(Path(place).glob("pyodide-*.tgz"))
        if done.returncode or not packed:
            raise AmpleroomError(
                f"npm could not fetch pyodide {version}: {(done.stderr or done.stdout).strip()[-300:]}"
            )
        files = {}
        try:
            with tarfile.open(packed[0]) as archive:
                for name in names:
                    member = archive.extractfile(f"package/{name}")
                    if member is None:
                        raise KeyError(name)
                    files[name] = member.read()
        except (KeyError, tarfile.TarError, EOFError, zlib.error) as error:
            raise AmpleroomError(f"pyodide {version} came damaged: {error}") from None
    return files


def pinned_wheels() -> dict[str, set[str]]:
    """The wheels for the browser's Python, by ``name==version``, and their SHA-256."""
    pinned: dict[str, set[str]] = {}
    requirement = ""
    for line in BROWSER_WHEELS.read_text("utf-8").splitlines():
        word = line.strip().removesuffix("\\").strip()
        if word.startswith("--hash=sha256:"):
            pinned[requirement].add(word.removeprefix("--hash=sha256:"))
        elif word and not word.startswith("#"):
            requirement = word
            pinned[requirement] = set()
    return pinned


def fetch_wheels(folder: Path) -> dict[str, str]:
    """The wheels for the browser, by pip; where each is in the folder. Raises AmpleroomError for one with another hash."""
    folder.mkdir()
    command = [*pip(), "download", "--quiet", "--require-hashes", *PIP_OPTIONS]
    command += ["--dest", str(folder), "--requirement", str(BROWSER_WHEELS)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise AmpleroomError(f"pip could not fetch the libraries for the browser: {done.stderr.strip()[-600:]}")
    brought = {path.name.split("-")[0].replace("_", "-").lower(): path for path in folder.glob("*.whl")}
    for requirement, hashes in pinned_wheels().items():
        name = requirement.split("==")[0]
        if name not in brought:
            raise AmpleroomError(f"pip brought no {requirement} for the browser")
        check_hash(f"{requirement} for the browser", brought[name].read_bytes(), hashes)
    return {name: f"wheels/{brought[package].name}" for name, package in WHEELS.items()}


def check_hash(label: str, content: bytes, hashes: set[str]) -> None:
    """Raise ``AmpleroomError`` unless the content has one of those SHA-256 hashes; ``label`` names it in the refusal."""
    digest = hashlib.sha256(content).hexdigest()
    if digest not in hashes:
        raise AmpleroomError(
            f"{label} is not the file this was made with: its SHA-256 is {digest}, not {' or '.join(sorted(hashes))}. "
            "It may have been changed on the way; nothing of it is used"
        )


def pip() -> list[str]:
    """A pip that works here: this Python's own, or that of another on the path."""
    for python in (sys.executable, shutil.which("python3") or "python3"):
        if subprocess.run([python, "-m", "pip", "--version"], capture_output=True, check=False).returncode == 0:
            return [python, "-m", "pip"]
    raise AmpleroomError("there is no pip here to fetch libraries for the browser with; install ampleroom[offline]")


def core_zip() -> bytes:
    """The package without the command line and these pages, always the same bytes for the same code."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(PACKAGE.rglob("*")):
            inside = path.relative_to(PACKAGE.parent)
            if path.is_file() and not LEFT_OUT & set(inside.parts) and path.suffix != ".pyc":
                info = zipfile.ZipInfo(inside.as_posix(), (2026, 1, 1, 0, 0, 0))
                info.compress_type = zipfile.ZIP_DEFLATED
                archive.writestr(info, path.read_bytes())
    return out.getvalue()


def examples() -> dict[str, object]:
    """What ``/api/examples`` answers on the server: jobs to try, a starter sheet, a stock file."""
    from ampleroom.job import starter_sheet
    from ampleroom.web.serve import examples_folder

    folder = examples_folder()
    rows = []
    for path in sorted(folder.glob("*.job")) if folder else []:
        sheet = path.read_text("utf-8")
        title = next(
            (line.split(None, 1)[1].strip() for line in sheet.split("\n") if line.split(None, 1)[:1] == ["job"]),
            path.stem,
        )
        rows.append({"name": path.name, "title": title, "sheet": sheet})
    stock = folder / "stock.toml" if folder else None
    return {
        "examples": rows,
        "starter": starter_sheet(),
        "stock": stock.read_text("utf-8") if stock and stock.is_file() else "",
    }


def take_snapshot(folder: Path, progress: Callable[[str], object]) -> bool:
    """Python's memory with the core already imported; without it the page opens the plain way."""
    script, warming = folder / "snapshot.mjs", folder / "warming.py"
    script.write_text(SNAPSHOT_SCRIPT, "utf-8")
    warming.write_text(WARMING, "utf-8")
    done = subprocess.run(
        ["node", "snapshot.mjs", str(folder / "pyodide") + os.sep],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    script.unlink()
    warming.unlink()
    if done.returncode or not (folder / "snapshot.bin").is_file():
        progress(f"no picture of memory could be taken ({done.stderr.strip()[-200:]}); the page opens without it")
        return False
    return True


STAMPED = "const BUILD = '';"
"""The place in a script for the mark of the build it belongs to."""


def write_plan(folder: Path, wheels: dict[str, str], snapshot: bool) -> None:
    """Mark every script and the page with this build, and list a hash for every file, so that no two builds are mixed.

    The chain: the service worker carries the hash of the list, the list those of all files. Until the service worker has taken
    over, each script that runs tells the mark it carries, and the page compares them.
    """
    mark = mark_of(folder)
    for path in (*sorted(folder.glob("*.js")), folder / "worker.mjs"):
        script = path.read_text("utf-8")
        if STAMPED in script:
            script = script.replace(STAMPED, f"const BUILD = '{mark}';")
        elif path.name in (KEEPER, "worker.mjs", "app.js"):
            raise AmpleroomError(f"{path.name} has no place for the mark of the build")
        if path.name != KEEPER:
            script += f"(self.ampleroomBuilds ??= {{}})['{path.name}'] = '{mark}';\n"
        path.write_text(script, "utf-8", newline="\n")
    page, style = folder / "index.html", '<link rel="stylesheet" href="style.css"'
    text = page.read_text("utf-8")
    if "<html " not in text or style not in text:
        raise AmpleroomError("index.html has no place for the mark of the build")
    text = text.replace("<html ", f'<html data-build="{mark}" ', 1)
    text = text.replace(style, f'{style} integrity="{integrity(folder / "style.css")}"')
    page.write_text(text, "utf-8", newline="\n")
    files = {
        path.relative_to(folder).as_posix(): integrity(path)
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name not in (KEEPER, OURS)
    }
    plan = {
        "mark": mark,
        "core": "core.zip",
        "snapshot": "snapshot.bin" if snapshot else None,
        "wheels": wheels,
        "policy": CSP,
        "files": files,
    }
    (folder / OURS).write_text(json.dumps(plan, indent=1), "utf-8", newline="\n")
    keeper = folder / KEEPER
    script = keeper.read_text("utf-8")
    if "const LIST = '';" not in script:
        raise AmpleroomError(f"{KEEPER} has no place for the hash of {OURS}")
    script = script.replace("const LIST = '';", f"const LIST = '{integrity(folder / OURS)}';")
    keeper.write_text(script, "utf-8", newline="\n")


def mark_of(folder: Path) -> str:
    """A name for what is in a folder: another as soon as any file differs."""
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            name = path.relative_to(folder).as_posix()
            digest.update(f"{name}\0{path.stat().st_size}\0".encode() + path.read_bytes())
    return digest.hexdigest()[:12]


def integrity(path: Path) -> str:
    """The SHA-256 of a file as browsers write it."""
    return "sha256-" + base64.b64encode(hashlib.sha256(path.read_bytes()).digest()).decode()
