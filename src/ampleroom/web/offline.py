"""Making the folder for use without a server: our pages, our core as a zip, and the browser's Python from npm and PyPI.

Nothing of it is kept in the repository: it is fetched and built each time.
"""

from __future__ import annotations

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
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ampleroom.errors import AmpleroomError, FileTrouble

PYODIDE = "314.0.7"
PYODIDE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")
WASM = ("--platform", "pyemscripten_2026_0_wasm32", "--python-version", "3.14", "--implementation", "cp")
WHEELS = {
    "typst": ("typst==0.15.2", (*WASM, "--abi", "abi3")),
    "calamine": ("python-calamine==0.9.1", WASM),
    "xlsxwriter": ("xlsxwriter==3.3.1", ()),
}
PACKAGE = Path(__file__).resolve().parents[1]
STATIC = Path(__file__).with_name("static")
LEFT_OUT = {"static", "__pycache__", "cli"}
OURS = "offline.json"

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


@dataclass(frozen=True, slots=True)
class Built:
    files: int
    bytes: int
    snapshot: bool


def build(out: Path, snapshot: bool = True, tell: Callable[[str], object] = lambda text: None) -> Built:
    """Make the folder. It is made beside its place and put there last, so that a half-made one is never served."""
    for tool in ("node", "npm"):
        if shutil.which(tool) is None:
            raise AmpleroomError(
                f"the offline folder is built with node and npm, and there is no {tool} here; install Node.js 20 or newer"
            )
    out = out.absolute()
    if out.exists() and not (out / OURS).is_file() and any(out.iterdir()):
        raise FileTrouble(f"{out} is there and was not made by this; choose another folder")
    out.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=".offline-") as made:
        folder = Path(made) / "pages"
        shutil.copytree(STATIC, folder)
        tell("fetching the browser's Python")
        fetch_pyodide(folder / "pyodide")
        tell("fetching libraries for the packet and for workbooks")
        wheels = {
            name: fetch_wheel(requirement, options, folder / "wheels")
            for name, (requirement, options) in WHEELS.items()
        }
        (folder / "core.zip").write_bytes(core_zip())
        (folder / "examples.json").write_text(json.dumps(examples()), "utf-8")
        has_snapshot = False
        if snapshot:
            tell("taking a picture of Python's memory")
            has_snapshot = take_snapshot(folder, tell)
        write_plan(folder, wheels, has_snapshot)
        if out.exists():
            shutil.rmtree(out)
        folder.replace(out)
    found = [path for path in out.rglob("*") if path.is_file()]
    return Built(len(found), sum(path.stat().st_size for path in found), has_snapshot)


def fetch_pyodide(folder: Path) -> None:
    folder.mkdir(parents=True)
    with tempfile.TemporaryDirectory() as place:
        done = subprocess.run(
            ["npm", "pack", f"pyodide@{PYODIDE}", "--silent"], cwd=place, capture_output=True, text=True, check=False
        )
        found = list(Path(place).glob("pyodide-*.tgz"))
        if done.returncode or not found:
            raise AmpleroomError(
                f"npm could not fetch pyodide {PYODIDE}: {(done.stderr or done.stdout).strip()[-300:]}"
            )
        with tarfile.open(found[0]) as archive:
            for name in PYODIDE_FILES:
                member = archive.extractfile(f"package/{name}")
                if member is None:
                    raise AmpleroomError(f"pyodide {PYODIDE} has no {name}")
                (folder / name).write_bytes(member.read())


def fetch_wheel(requirement: str, options: tuple[str, ...], folder: Path) -> str:
    """A wheel by pip; its place in the folder."""
    folder.mkdir(exist_ok=True)
    before = set(folder.glob("*.whl"))
    command = [
        *pip(),
        "download",
        "--quiet",
        "--no-deps",
        "--only-binary",
        ":all:",
        *options,
        "--dest",
        str(folder),
        requirement,
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    found = set(folder.glob("*.whl")) - before
    if done.returncode or not found:
        raise AmpleroomError(f"pip could not fetch {requirement} for the browser: {done.stderr.strip()[-300:]}")
    return f"wheels/{found.pop().name}"


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


def take_snapshot(folder: Path, tell: Callable[[str], object]) -> bool:
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
        tell(f"no picture of memory could be taken ({done.stderr.strip()[-200:]}); the page opens without it")
        return False
    return True


def write_plan(folder: Path, wheels: dict[str, str], snapshot: bool) -> None:
    """What belongs to the folder, and a mark that changes with any of it; the script that keeps the pages carries it too."""
    files = sorted(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file() and path.name != "sw.js"
    )
    digest = hashlib.sha256()
    for name in files:
        digest.update(name.encode() + b"\0" + (folder / name).read_bytes())
    plan = {
        "mark": digest.hexdigest()[:12],
        "core": "core.zip",
        "snapshot": "snapshot.bin" if snapshot else None,
        "wheels": wheels,
        "files": ["./", *files, OURS],
    }
    (folder / OURS).write_text(json.dumps(plan, indent=1), "utf-8")
    keeper = folder / "sw.js"
    unmarked, script = "const MARK = '';", keeper.read_text("utf-8")
    if unmarked not in script:
        raise AmpleroomError(f"{keeper.name} has no place for the folder's mark")
    keeper.write_text(script.replace(unmarked, f"const MARK = '{plan['mark']}';"), "utf-8")
