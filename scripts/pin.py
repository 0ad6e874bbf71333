"""Write what gets installed: every package with its version and its hashes, and no address to fetch it from.

    python3 scripts/pin.py                    # after a change to pyproject.toml: keeps the versions already pinned
    python3 scripts/pin.py --upgrade          # newest versions of everything
    python3 scripts/pin.py --upgrade ruff     # newest version of one package
    python3 scripts/pin.py --uv 0.13.9 --pyodide 314.0.7

Writes ``requirements/*.txt`` (one file per extra, ``test.txt`` with all of them, ``build.txt``, ``uv.txt``), and for
the offline folder ``src/ampleroom/web/browser.txt``, ``pyodide.sha256``, ``minifier.sha256`` and ``bundler.sha256``.
Then it checks that every set installs from wheels alone on each supported Python and system.
"""

from __future__ import annotations

import argparse
import hashlib
import re
import runpy
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PINS = ROOT / "requirements"
WEB = ROOT / "src" / "ampleroom" / "web"
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
SYSTEMS = (
    "x86_64-manylinux_2_28",
    "aarch64-manylinux_2_28",
    "x86_64-apple-darwin",
    "aarch64-apple-darwin",
    "x86_64-pc-windows-msvc",
)
HEADER = ["--no-emit-index-url", "--no-emit-find-links", "--custom-compile-command", "python3 scripts/pin.py"]
NO_HOST = ("--generate-hashes", "--no-build", "--universal", "--python-version", PYTHONS[0], *HEADER)


def compiled(uv: str, out: Path, arguments: Iterable[str], asked: str = "") -> None:
    """One requirement file. ``asked`` is text for standard input, where the arguments name no file."""
    command = [uv, "pip", "compile", "--quiet", *NO_HOST, *arguments, "--output-file", str(out)]
    subprocess.run(command, input=asked, text=True, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
    text = out.read_text("utf-8").replace("-r -", "scripts/pin.py")
    out.write_text(re.sub(r"-c \S*test\.txt", "test.txt", text), "utf-8", newline="\n")
    print(f"{out.relative_to(ROOT)}: {len(versions(out))} packages")


def versions(path: Path) -> dict[str, str]:
    """Package name to version. A package pinned twice, by Python version, gives its last line."""
    return dict(re.findall(r"^([a-z0-9][a-z0-9._-]*)==([^ ]+)", path.read_text("utf-8"), re.M))


def write_requirements(uv: str, uv_version: str, upgrade: list[str] | None) -> None:
    """Every file of ``requirements/``. All are cut from one resolution, ``test.txt``, so their versions agree."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    extras = project["project"]["optional-dependencies"]
    PINS.mkdir(exist_ok=True)
    newer = [] if upgrade is None else [word for name in upgrade for word in ("-P", name)] if upgrade else ["--upgrade"]
    whole = PINS / "test.txt"
    compiled(uv, whole, ["pyproject.toml", "--all-extras", "--group", "dev", *newer])
    for extra in extras:
        (PINS / f"{extra}.txt").unlink(missing_ok=True)
        compiled(uv, PINS / f"{extra}.txt", ["pyproject.toml", "--extra", extra, "-c", "requirements/test.txt"])
    compiled(uv, PINS / "build.txt", ["-", *newer], "\n".join(project["build-system"]["requires"]))
    compiled(uv, PINS / "uv.txt", ["-"], f"uv=={uv_version}\n")


def write_browser(pyodide: str) -> None:
    """The wheels that the browser's Python loads, at the versions of ``test.txt``, and Pyodide's own files."""
    from ampleroom.web import offline

    pinned = versions(PINS / "test.txt")
    lines = ["# Written by scripts/pin.py: the wheels for the browser's Python."]
    with tempfile.TemporaryDirectory() as place:
        for name in sorted(offline.WHEELS.values()):
            requirement = f"{name}=={pinned[name]}"
            folder = Path(place, name)
            command = [*offline.pip(), "download", "--quiet", *offline.PIP_OPTIONS, "--dest", str(folder), requirement]
            subprocess.run(command, check=True, stderr=subprocess.DEVNULL)
            (wheel,) = folder.glob("*.whl")
            digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
            if digest not in (PINS / "test.txt").read_text("utf-8"):
                raise SystemExit(f"{wheel.name} has a hash that test.txt does not list; was it changed on the way?")
            lines += [f"{requirement} \\", f"    --hash=sha256:{digest}"]
        offline.BROWSER_WHEELS.write_text("\n".join(lines) + "\n", "utf-8", newline="\n")
        files = offline.pyodide_files(pyodide)
    lines = [f"# pyodide {pyodide}, as npm has it. Written by scripts/pin.py; sha256sum -c reads it."]
    lines += [f"{hashlib.sha256(content).hexdigest()}  {name}" for name, content in files.items()]
    offline.PYODIDE_HASHES.write_text("\n".join(lines) + "\n", "utf-8", newline="\n")
    print(f"{offline.BROWSER_WHEELS.relative_to(ROOT)}, {offline.PYODIDE_HASHES.relative_to(ROOT)}")


def write_library(package: str, version: str, names: Iterable[str], out: Path) -> None:
    """What makes the offline folder's scripts one, and smaller: the hash of each of its files that is used."""
    from ampleroom.web import offline

    lines = [f"# {package} {version}, as npm has it. Written by scripts/pin.py; sha256sum -c reads it."]
    for name, content in offline.npm_files(package, version, names).items():
        lines += [f"{hashlib.sha256(content).hexdigest()}  {name}"]
    out.write_text("\n".join(lines) + "\n", "utf-8", newline="\n")
    print(out.relative_to(ROOT))


def check_systems(uv: str) -> int:
    """How many of the supported Pythons and systems lack a wheel."""
    lacking = 0
    with tempfile.TemporaryDirectory() as place:
        for python in PYTHONS:
            for system in SYSTEMS:
                command = [uv, "pip", "install", "--dry-run", "--require-hashes", "--no-build", "--target", place]
                command += ["--python-version", python, "--python-platform", system]
                command += ["-r", str(PINS / "test.txt"), "-r", str(PINS / "build.txt")]
                done = subprocess.run(command, capture_output=True, text=True, cwd=place, check=False)
                lacking += done.returncode != 0
                if done.returncode:
                    print(f"Python {python} on {system}: {done.stderr.strip()[-600:]}", file=sys.stderr)
    print(f"wheels: {len(PYTHONS) * len(SYSTEMS) - lacking} of {len(PYTHONS) * len(SYSTEMS)} systems have all")
    return lacking


def main() -> int:
    sys.path.insert(0, str(ROOT / "src"))
    from ampleroom.web import offline

    uv_now = versions(PINS / "uv.txt")["uv"]
    parser = argparse.ArgumentParser(description="Write the pinned requirement files.")
    parser.add_argument("--upgrade", nargs="*", metavar="NAME", help="newest versions, of these or of everything")
    parser.add_argument("--uv", default=uv_now, metavar="VERSION")
    parser.add_argument("--pyodide", default=offline.pinned_pyodide()[0], metavar="VERSION")
    parser.add_argument("--terser", default=offline.pinned(offline.MINIFIER)[0], metavar="VERSION")
    parser.add_argument("--esbuild", default=offline.pinned(offline.BUNDLER)[0], metavar="VERSION")
    options = parser.parse_args()
    uv = str(runpy.run_path(str(ROOT / "scripts" / "environment.py"))["uv"]())
    write_requirements(uv, options.uv, options.upgrade)
    write_browser(options.pyodide)
    write_library("terser", options.terser, [offline.MINIFIED], offline.MINIFIER)
    write_library("esbuild-wasm", options.esbuild, offline.BUNDLING, offline.BUNDLER)
    return 1 if check_systems(uv) else 0


if __name__ == "__main__":
    raise SystemExit(main())
