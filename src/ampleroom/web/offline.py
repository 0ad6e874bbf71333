"""Making the folder for use without a server: our pages, our core as a zip, and the browser's Python from npm and PyPI.

Nothing of it is kept in the repository: it is fetched and built each time.
"""

from __future__ import annotations

import ast
import base64
import contextlib
import hashlib
import io
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
import zlib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.record import Record
from ampleroom.web.compressed import COMPRESSED
from ampleroom.web.guard import CSP

WHEELS = {"typst": "typst", "calamine": "python-calamine", "xlsxwriter": "xlsxwriter"}
"""What the worker calls a library, and the package that brings it."""
BROWSER_WHEELS = Path(__file__).with_name("browser.txt")
PYODIDE_HASHES = Path(__file__).with_name("pyodide.sha256")
"""The hashes of all that is fetched, written by scripts/pin.py."""
BROWSER = ["--platform", "pyemscripten_2026_0_wasm32", "--python-version", "3.14", "--implementation", "cp"]
PIP_OPTIONS = ["--no-deps", "--only-binary", ":all:", *BROWSER, "--abi", "cp314", "--abi", "abi3", "--abi", "none"]
PACKAGE = Path(__file__).resolve().parents[1]
FONTS = PACKAGE / "packet" / "fonts"
FONTS_ZIP = "wheels/fonts.zip"
"""Only the packet is set with fonts, so they are fetched with what sets it."""
STATIC = Path(__file__).with_name("static")
LEFT_OUT = {"static", "__pycache__", "cli", BROWSER_WHEELS.name, PYODIDE_HASHES.name}
LEFT_OUT |= {"minifier.sha256", "bundler.sha256"}
OF_THE_SERVER = tuple(
    Path(__file__).with_name(name)
    for name in (
        *("bounded_log.py", "compressed.py", "connection.py", "forms.py", "guard.py", "importing.py", "offline.py"),
        *("openapi.py", "photos.py", "question_types.py", "serve.py", "server.py", "store", "work.py", "workers.py"),
    )
)
"""What answers on a server alone; nothing in a browser asks for it."""
OURS = "offline.json"
KEEPER = "sw.js"
CORE = "core.zip"
SNAPSHOT = "snapshot.bin"
MINIFIER = Path(__file__).with_name("minifier.sha256")
MINIFIED = "dist/bundle.min.js"
BUNDLER = Path(__file__).with_name("bundler.sha256")
BUNDLING = ("esm/browser.min.js", "esbuild.wasm")
"""The bundler as WebAssembly, the same file for every machine; where its script and its code lie in its package."""
DOORWAY = "app.js"
"""The script that brings in all others of the page."""

WARMING = """
import sys

sys.path.insert(0, '/lib/ampleroom')
from ampleroom.web.engine.in_worker import answer

sheet = 'edition 2020\\nbox J1\\n  square 4 x 1-1/2\\nrun J1 > ? 12/2 nm-b\\n'
for action in ('words', 'job', 'box', 'fits', 'remedies'):
    answer(action, {'sheet': sheet, 'box': 'J1'})
"""
"""Run before the picture of memory is taken, so that what it loads is in it."""

TIDYING = """
import gc

gc.collect()
blocks = [bytes(size) for size in (65536, 16384, 4096, 1024) for _ in range(AMOUNT // size)]
del blocks
"""
"""Run after it: what was let go of still lies in memory and would be sent with it. Zeros compress better. AMOUNT is
written over by blocks of each size.
"""

SNAPSHOT_SCRIPT = """
import { loadPyodide } from './pyodide/pyodide.mjs';
import make from './pyodide/pyodide.asm.mjs';
import fs from 'node:fs';
const options = { indexURL: process.argv[2] };
async function picture(tidying) {
  const python = await loadPyodide({ ...options, _makeSnapshot: true });
  python.unpackArchive(new Uint8Array(fs.readFileSync('core.zip')), 'zip', { extractDir: '/lib/ampleroom' });
  python.runPython(fs.readFileSync('warming.py', 'utf-8'));
  if (tidying) python.runPython(tidying);
  return python.makeMemorySnapshot();
}
async function opened(taken) { // as worker.mjs does it: in as much memory as the picture has
  const createPyodideModule = async (settings) => {
    const made = await make(settings);
    if (made.HEAP8.length < taken.length) made.growMemory(taken.length);
    return made;
  };
  return loadPyodide({ ...options, _loadSnapshot: taken.slice().buffer, createPyodideModule });
}
try {
  // Tidying takes memory itself. Where it took a further step of it, a picture with less of it is the smaller one.
  const tidying = fs.readFileSync('tidying.py', 'utf-8');
  let taken = await picture('');
  for (const amount of [100000, 1000000]) {
    const tidied = await picture(`AMOUNT = ${amount}\n${tidying}`);
    if (tidied.length > taken.length) break;
    taken = tidied;
  }
  const python = await opened(taken);
  const importing = 'from ampleroom.web.engine.in_worker import answer_by_number as answer';
  python.runPython(`${importing}; answer('words', '{}', 0, '', 0)`);
  fs.writeFileSync('snapshot.bin', taken);
  process.exit(0);
} catch (trouble) {
  console.error(String(trouble));
  process.exit(1);
}
"""


COMPRESSING_SCRIPT = """
import fs from 'node:fs';
import { promisify } from 'node:util';
import zlib from 'node:zlib';
const { BROTLI_PARAM_QUALITY: QUALITY, BROTLI_PARAM_LGWIN: WINDOW, BROTLI_PARAM_SIZE_HINT: SIZE } = zlib.constants;
const [brotli, gzip] = [promisify(zlib.brotliCompress), promisify(zlib.gzip)];
await Promise.all(JSON.parse(fs.readFileSync(0, 'utf-8')).map(async (name) => {
  const bytes = fs.readFileSync(name);
  const large = bytes.length > 4e6; // past that the last hundredths take minutes
  const smaller = [
    ['.br', await brotli(bytes, { params: { [QUALITY]: large ? 5 : 9, [WINDOW]: 24, [SIZE]: bytes.length } })],
    ['.gz', await gzip(bytes, { level: 9 })],
  ];
  for (const [end, copy] of smaller) if (copy.length < 0.97 * bytes.length) fs.writeFileSync(name + end, copy);
}));
"""

BUNDLING_SCRIPT = """
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
globalThis.self = globalThis; // the library is made for browsers
const [library, code] = process.argv.slice(2);
const { build, initialize } = await import(pathToFileURL(library));
await initialize({ wasmModule: await WebAssembly.compile(fs.readFileSync(code)), worker: false });
const files = { name: 'files', setup(asked) { // in a browser it can read none by itself
  const resolved = (name, importer) => ({ path: path.resolve(path.dirname(importer), name), namespace: 'here' });
  asked.onResolve({ filter: /./ }, ({ path: name, importer }) => resolved(name, importer));
  asked.onLoad({ filter: /./, namespace: 'here' }, ({ path: name }) => ({ contents: fs.readFileSync(name, 'utf-8') }));
} };
for (const name of JSON.parse(fs.readFileSync(0, 'utf-8'))) {
  const small = { minifySyntax: true, charset: 'utf8' };
  const how = { bundle: true, format: 'esm', target: 'es2022', ...small, write: false, plugins: [files] };
  const { outputFiles: [{ text }] } = await build({ entryPoints: [name], ...how });
  fs.writeFileSync(name, text);
}
process.exit(0); // the library waits for more
"""

MINIFYING_SCRIPT = """
import fs from 'node:fs';
import vm from 'node:vm';
globalThis.sourceMap = {}; // the library asks for it, and uses it only for maps, which are not made
vm.runInThisContext(fs.readFileSync(process.argv[2], 'utf-8'));
for (const name of JSON.parse(fs.readFileSync(0, 'utf-8'))) {
  // Nothing is worked out beforehand in the service worker: the hash of the list is still to be written into it.
  const keeper = { compress: false, mangle: { toplevel: true, reserved: ['LIST'] } };
  const all = { passes: 3, inline: 1, unsafe_arrows: true, keep_fargs: false };
  const how = name.endsWith('sw.js') ? keeper : { module: true, compress: all };
  const { code } = await globalThis.Terser.minify(fs.readFileSync(name, 'utf-8'), { ecma: 2022, ...how });
  fs.writeFileSync(name, code + '\\n');
}
"""


class Built(Record):
    """The folder made: how many files and bytes, how many bytes of it a phone fetches, and whether Python's memory
    snapshot is among them.
    """

    files: int
    bytes: int
    fetched: int
    snapshot: bool


def build(out: Path, snapshot: bool = True, progress: Callable[[str], object] = lambda text: None) -> Built:
    """Make the folder at ``out``: how many files and bytes it has, and whether Python's memory snapshot is in it.

    It is made whole beside its place and put there last: a half-made folder is never served, and an older one is not
    taken away before the new one is there. Raises AmpleroomError where something cannot be fetched or built.
    """
    for tool in ("node", "npm"):
        if shutil.which(tool) is None:
            raise AmpleroomError(
                f"the offline folder is built with node and npm, and there is no {tool} here; install Node.js "
                "20 or newer"
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
        wheels = {**fetch_wheels(folder / "wheels"), "fonts": FONTS_ZIP}
        (folder / FONTS_ZIP).write_bytes(zip_of(FONTS.rglob("*")))
        (folder / CORE).write_bytes(core_zip())
        (folder / "examples.json").write_text(json.dumps(examples()), "utf-8")
        has_snapshot = False
        if snapshot:
            progress("taking a picture of Python's memory")
            has_snapshot = take_snapshot(folder, progress)
        mark = stamp(folder)
        bundle(folder)
        minify(folder)
        progress("compressing")
        compress(folder)
        plan = write_plan(folder, mark, wheels, has_snapshot)
        flush(folder)
        put_in_place(folder, out, before)
    all_files = [path for path in out.rglob("*") if path.is_file()]
    fetched = sum(size.get("br", size["plain"]) for size in plan["sizes"].values())
    return Built(len(all_files), sum(path.stat().st_size for path in all_files), fetched, has_snapshot)


def put_in_place(folder: Path, out: Path, before: Path) -> None:
    """Exchange the folder at ``out`` for a new one. The old one stands aside as ``before`` until the new one is there,
    so whatever cuts this off leaves one of them whole; ``build`` brings ``before`` back if it finds no ``out``.
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
    """Put a folder and, if ``deep``, every file under it on the disk, so that a power cut after this finds them
    whole.
    """
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
    return pinned(PYODIDE_HASHES)


def pinned(hashes: Path) -> tuple[str, dict[str, str]]:
    """The version of a package fetched with npm, and the SHA-256 of each of its files that is used."""
    heading, *lines = hashes.read_text("utf-8").splitlines()
    return heading.split()[2].rstrip(","), {name: digest for digest, name in map(str.split, lines)}


def fetch_pyodide(folder: Path) -> None:
    """Pyodide's files, by npm. Raises AmpleroomError for one that differs from the hash kept here."""
    version, hashes = pinned_pyodide()
    folder.mkdir(parents=True)
    for name, content in pyodide_files(version).items():
        check_hash(f"{name} of pyodide {version}", content, {hashes[name]})
        (folder / name).write_bytes(stored(content) if name.endswith(".zip") else content)


UNUSED = {
    "_pydatetime", "_pyio", "_pyrepl", "antigravity", "bdb", "cProfile", "compileall", "configparser", "doctest",
    "fileinput", "ftplib", "imaplib", "mailbox", "modulefinder", "multiprocessing", "netrc", "optparse", "pdb",
    "pickletools", "poplib", "profile", "pstats", "pyclbr", "pydoc", "sched", "shelve", "smtplib", "statistics",
    "symtable", "tabnanny", "this", "timeit", "trace", "turtle", "unittest", "wave", "webbrowser", "wsgiref", "xmlrpc",
    "zipapp",
}  # fmt: skip
"""Parts of Python's library that neither the core nor the libraries of the packet and of workbooks use."""


ENCODINGS = {
    "__init__", "aliases", "ascii", "charmap", "cp437", "cp1252", "idna", "latin_1", "punycode", "raw_unicode_escape",
    "unicode_escape", "utf_16", "utf_16_be", "utf_16_le", "utf_32", "utf_32_be", "utf_32_le", "utf_8", "utf_8_sig",
}  # fmt: skip
"""Of the ways to write letters as bytes: those of Unicode (workbooks count letters by UTF-16), what archives name their
files in, and what the interpreter asks for. A hundred others take as much of the signal as half of the core.
"""


def is_unused(name: str) -> bool:
    """Whether a file of Python's library is left out of the folder."""
    part, _, rest = name.partition("/")
    return re.split(r"[/.]", name)[0] in UNUSED or (part == "encodings" and rest.removesuffix(".py") not in ENCODINGS)


def stored(archive: bytes) -> bytes:
    """Python's library without what is not used here and without its docstrings, and with nothing compressed inside:
    whole, it becomes smaller than file by file.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(archive)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            if is_unused(name):
                continue
            content = old.read(name)
            if name.endswith(".py"):
                with contextlib.suppress(SyntaxError):  # the browser's Python may be newer than this one
                    content = without_docstrings(content)
            new.writestr(zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0)), content)
    return out.getvalue()


def pyodide_files(version: str) -> dict[str, bytes]:
    """The files of a version of Pyodide, as npm brings them: not yet checked."""
    return npm_files("pyodide", version, pinned_pyodide()[1])


def npm_files(package: str, version: str, names: Iterable[str]) -> dict[str, bytes]:
    """Files of a version of a package, as npm brings them: not yet checked. AmpleroomError where it cannot be had."""
    with tempfile.TemporaryDirectory() as place:
        command = ["npm", "pack", f"{package}@{version}", "--silent", "--ignore-scripts"]
        done = subprocess.run(command, cwd=place, capture_output=True, text=True, check=False)
        packed = list(Path(place).glob(f"{package}-*.tgz"))
        if done.returncode or not packed:
            raise AmpleroomError(
                f"npm could not fetch {package} {version}: {(done.stderr or done.stdout).strip()[-300:]}"
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
            raise AmpleroomError(f"{package} {version} came damaged: {error}") from None
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
    """The wheels for the browser, by pip; where each is in the folder. Raises AmpleroomError for one with another
    hash.
    """
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
    """Raise ``AmpleroomError`` unless the content has one of those SHA-256 hashes; ``label`` names it in the
    refusal.
    """
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
    """The package without the command line, these pages and the packet's fonts, always the same bytes for the same
    code.
    """
    paths = [path for path in PACKAGE.rglob("*") if not LEFT_OUT & {*path.relative_to(PACKAGE.parent).parts}]
    apart = {FONTS, *OF_THE_SERVER}
    return zip_of(path for path in paths if path.suffix != ".pyc" and not apart & {path, *path.parents})


def zip_of(paths: Iterable[Path]) -> bytes:
    """Files of the package as an archive. They are not compressed inside: whole, it becomes smaller than file by
    file.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for path in sorted(path for path in paths if path.is_file()):
            name = path.relative_to(PACKAGE.parent).as_posix()
            archive.writestr(zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0)), content_of(path))
    return out.getvalue()


def content_of(path: Path) -> bytes:
    """A file as it goes into an archive: a module without its docstrings, but for a rule's, whose page is made of it.

    Docstrings take a megabyte of Python's memory, and the picture of memory would be larger by that.
    """
    content = path.read_bytes()
    if path.suffix != ".py" or b"\n@rule(" in content:
        return content
    return without_docstrings(content)


def without_docstrings(source: bytes) -> bytes:
    """A module with an empty text for every docstring; every line keeps its number."""
    lines = source.splitlines(keepends=True)
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        first = node.body[0] if node.body else None
        if not (isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)):
            continue
        if isinstance(first.value.value, str) and first.end_lineno and first.end_col_offset:
            start, end = first.lineno - 1, first.end_lineno - 1
            rest = lines[end][first.end_col_offset :]
            lines[start] = lines[start][: first.col_offset] + b'""' + rest
            lines[start + 1 : end + 1] = [b"\n"] * (end - start)
    return b"".join(lines)


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
    script, warming, tidying = folder / "snapshot.mjs", folder / "warming.py", folder / "tidying.py"
    script.write_text(SNAPSHOT_SCRIPT, "utf-8")
    warming.write_text(WARMING, "utf-8")
    tidying.write_text(TIDYING, "utf-8")
    done = subprocess.run(
        ["node", "snapshot.mjs", str(folder / "pyodide") + os.sep],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    script.unlink()
    warming.unlink()
    tidying.unlink()
    if done.returncode or not (folder / "snapshot.bin").is_file():
        progress(f"no picture of memory could be taken ({done.stderr.strip()[-200:]}); the page opens without it")
        return False
    return True


STAMPED = "const BUILD = '';"
"""The place in a script for the mark of the build it belongs to."""
LIST = re.compile(r"""(\bLIST ?= ?)(?:''|"")""")
"""The place in the service worker for the hash of the list."""


def stamp(folder: Path) -> str:
    """Mark every script and the page with this build, so that no two builds are mixed; the mark.

    The chain: the service worker carries the hash of the list, the list those of all files. Until the service worker
    has taken over, the page compares its own mark with its script's, and a worker with the name it is given.
    """
    mark = mark_of(folder)
    for path in scripts_in(folder):
        script = path.read_text("utf-8")
        if STAMPED in script:
            script = script.replace(STAMPED, f"const BUILD = '{mark}';")
        elif path.name in (KEEPER, "worker.mjs", "ask.js"):
            raise AmpleroomError(f"{path.name} has no place for the mark of the build")
        path.write_text(script, "utf-8", newline="\n")
    page, style = folder / "index.html", '<link rel="stylesheet" href="style.css"'
    text = page.read_text("utf-8")
    if "<html " not in text or style not in text:
        raise AmpleroomError("index.html has no place for the mark of the build")
    text = text.replace("<html ", f'<html data-build="{mark}" ', 1)
    text = text.replace(style, f'{style} integrity="{integrity(folder / "style.css")}"')
    page.write_text(text, "utf-8", newline="\n")
    return mark


def scripts_in(folder: Path) -> list[Path]:
    """The page's own scripts in a folder, and its worker."""
    return [*sorted(folder.glob("*.js")), folder / "worker.mjs"]


PRELOAD = re.compile(r'<link rel="modulepreload" href="([^"]+)">\n')
"""A line of the page that has a script fetched at once which another one imports."""


def bundle(folder: Path) -> None:
    """Make the page's script and all it imports into one file, with a library from npm. AmpleroomError where it cannot
    be had or fails.

    One script is fetched sooner than forty, and its names can be made shorter.
    """
    with tempfile.TemporaryDirectory() as place:
        library, code = npm_library("esbuild-wasm", BUNDLER, BUNDLING, Path(place))
        script = Path(place, "bundle.mjs")
        run_node(script, BUNDLING_SCRIPT, [str((folder / DOORWAY).resolve())], str(library), str(code))
    page = folder / "index.html"
    text = page.read_text("utf-8")
    for name in PRELOAD.findall(text):
        (folder / name).unlink()
    page.write_text(PRELOAD.sub("", text), "utf-8", newline="\n")


def minify(folder: Path) -> None:
    """Take comments and spaces out of the page's scripts, with a library from npm. AmpleroomError where it cannot be
    had or fails.
    """
    with tempfile.TemporaryDirectory() as place:
        (library,) = npm_library("terser", MINIFIER, [MINIFIED], Path(place))
        script = Path(place, "minify.mjs")
        run_node(script, MINIFYING_SCRIPT, [str(path) for path in scripts_in(folder)], str(library))


def npm_library(package: str, hashes: Path, names: Iterable[str], place: Path) -> list[Path]:
    """Files of a package from npm, put into a folder. ``hashes``: the file that says which version, and what each file
    must be. Raises AmpleroomError where it cannot be had or is another one.
    """
    version, known = pinned(hashes)
    contents = npm_files(package, version, known)
    brought = []
    for name in names:
        check_hash(f"{name} of {package} {version}", contents[name], {known[name]})
        file = place / re.sub(r"\.js$", ".mjs", Path(name).name)  # node takes .js for the older kind of module
        file.write_bytes(contents[name])
        brought.append(file)
    return brought


def compress(folder: Path) -> None:
    """Write a copy of every file that becomes smaller by it in each of ``COMPRESSED``, beside the file: NAME.br,
    NAME.gz.

    A host that knows such copies sends them in place of the file. Raises AmpleroomError where node fails.
    """
    names = [str(path) for path in sorted(folder.rglob("*")) if path.is_file() and path.name not in (KEEPER, OURS)]
    with tempfile.TemporaryDirectory() as place:
        run_node(Path(place, "compress.mjs"), COMPRESSING_SCRIPT, names)


def run_node(script: Path, text: str, names: list[str], *arguments: str) -> None:
    """Run a script of ours in node with a list of file names as its input; AmpleroomError with its last words if it
    fails.
    """
    script.write_text(text, "utf-8")
    command = ["node", str(script), *arguments]
    done = subprocess.run(command, input=json.dumps(names), capture_output=True, text=True, check=False)
    if done.returncode:
        raise AmpleroomError(f"node could not {script.stem} the pages: {done.stderr.strip()[-300:]}")


def stages(folder: Path, wheels: dict[str, str]) -> list[list[str]]:
    """The files of the folder in the order a phone needs them: the page; what counts; the rest, with what sets the
    packet last.

    Leaves out the list and the service worker, which are fetched first, and the compressed copies.
    """
    copies = tuple(COMPRESSED.values())
    names = [
        path.relative_to(folder).as_posix()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name not in (KEEPER, OURS) and path.suffix not in copies
    ]
    counts = {name for name in names if name.startswith("pyodide/")} | {CORE, SNAPSHOT}
    last = {name for name in names if name.startswith("wheels/")}
    page = [name for name in names if name not in counts | last]
    rest = sorted(last, key=lambda name: (name == wheels.get("typst"), name))
    return [page, sorted(counts & {*names}), rest]


def write_plan(folder: Path, mark: str, wheels: dict[str, str], snapshot: bool) -> dict[str, Any]:
    """List every file of a folder that is stamped, with its hash and sizes, and give the service worker the list's
    hash.
    """
    order = stages(folder, wheels)
    names = [name for stage in order for name in stage]
    plan = {
        "mark": mark,
        "core": CORE,
        "snapshot": SNAPSHOT if snapshot else None,
        "wheels": wheels,
        "policy": CSP,
        "stages": order,
        "sizes": {name: sizes_of(folder / name) for name in names},
        "files": {name: integrity(folder / name) for name in names},
    }
    (folder / OURS).write_text(json.dumps(plan, indent=1), "utf-8", newline="\n")
    keeper = folder / KEEPER
    script = keeper.read_text("utf-8")
    if len(LIST.findall(script)) != 1:
        raise AmpleroomError(f"{KEEPER} has no place for the hash of {OURS}")
    script = LIST.sub(rf"\g<1>'{integrity(folder / OURS)}'", script)
    keeper.write_text(script, "utf-8", newline="\n")
    return plan


def sizes_of(path: Path) -> dict[str, int]:
    """The bytes of a file as it is (``plain``), and in each coding it is also there in."""
    copies = {coding: path.with_name(path.name + end) for coding, end in COMPRESSED.items()}
    return {
        "plain": path.stat().st_size,
        **{coding: copy.stat().st_size for coding, copy in copies.items() if copy.is_file()},
    }


def mark_of(folder: Path) -> str:
    """A name for what is in a folder: another as soon as any file differs, or what makes the scripts smaller."""
    digest = hashlib.sha256(BUNDLER.read_bytes() + MINIFIER.read_bytes())
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            name = path.relative_to(folder).as_posix()
            digest.update(f"{name}\0{path.stat().st_size}\0".encode() + path.read_bytes())
    return digest.hexdigest()[:12]


def integrity(path: Path) -> str:
    """The SHA-256 of a file as browsers write it."""
    return "sha256-" + base64.b64encode(hashlib.sha256(path.read_bytes()).digest()).decode()
