"""What is installed: every package pinned with hashes and without an address, and ``run`` that never takes half for
whole.
"""

import json
import os
import re
import runpy
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
PINS = ROOT / "requirements"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
EXTRAS = PROJECT["project"]["optional-dependencies"]
LISTED = {
    **EXTRAS,
    "test": [*(word for words in EXTRAS.values() for word in words), *PROJECT["dependency-groups"]["dev"]],
    "build": PROJECT["build-system"]["requires"],
    "uv": ["uv"],
}
"""The requirement files, and what pyproject.toml asks for in each."""
FILES = sorted([*PINS.glob("*.txt"), ROOT / "src" / "ampleroom" / "web" / "browser.txt"])


def pins(path):
    """Each pinned line with its hashes: (requirement, [hash, ...])."""
    text = re.sub(r"^ *#.*\n", "", path.read_text("utf-8"), flags=re.M).replace("\\\n", " ")
    return [
        (line.split(" --hash=")[0], re.findall(r"--hash=(\S+)", line)) for line in text.splitlines() if line.strip()
    ]


def pinned(path):
    """Each pinned package and version with the marker it holds under."""
    found = [Requirement(line) for line, _ in pins(path)]
    return {(canonicalize_name(each.name), str(each.specifier), str(each.marker)) for each in found}


def test_there_is_a_file_for_each_extra_and_no_other():
    assert {path.stem for path in PINS.iterdir()} == set(LISTED)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_package_has_one_version_and_its_hashes(path):
    assert pins(path)
    for line, hashes in pins(path):
        assert [each.operator for each in Requirement(line).specifier] == ["=="], line
        assert hashes, line
        assert all(re.fullmatch("sha256:[0-9a-f]{64}", each) for each in hashes), line


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_no_address_and_no_folder_is_named(path):
    text = path.read_text("utf-8")
    assert "://" not in text
    assert not re.search(r"^ *(-[a-zA-Z]|--(?!hash=))", text, re.M)
    assert not re.search(r"(^|\s)/\w|\b[a-z0-9-]+\.(com|org|net|io|dev|internal|local)\b|\blocalhost\b", text)


@pytest.mark.parametrize("name", LISTED)
def test_what_pyproject_asks_for_is_pinned_as_it_asks(name):
    for word in LISTED[name]:
        asked = Requirement(word)
        versions = [
            version for package, version, _ in pinned(PINS / f"{name}.txt") if package == canonicalize_name(asked.name)
        ]
        assert versions, f"{name}.txt lacks {word}: python3 scripts/pin.py"
        assert all(asked.specifier.contains(version.removeprefix("==")) for version in versions), word


@pytest.mark.parametrize("name", EXTRAS)
def test_each_extra_has_the_versions_and_hashes_of_the_whole(name):
    whole = {line.split(";")[0].strip(): set(hashes) for line, hashes in pins(PINS / "test.txt")}
    for line, hashes in pins(PINS / f"{name}.txt"):
        assert whole[line.split(";")[0].strip()] == set(hashes)


def test_the_wheels_of_the_browser_are_those_of_the_whole():
    whole = {line: set(hashes) for line, hashes in pins(PINS / "test.txt")}
    for line, hashes in pins(ROOT / "src" / "ampleroom" / "web" / "browser.txt"):
        assert set(hashes) <= whole[line]


# ---- run -------------------------------------------------------------------------------------------------------------

UV = """#!{python}
import json, os, sys, time
from pathlib import Path
here = Path(__file__).parent
words = sys.argv[1:]
if words == ["--version"]:
    print("uv {version}")
    raise SystemExit
with open(here / "log", "a") as log:
    log.write(json.dumps(words) + "\\n")
at_work = here / "at-work"
if at_work.exists():
    (here / "collided").touch()
at_work.touch()
time.sleep(0.2)
if (here / "breaks").exists() and "pip" in words:
    at_work.unlink()
    raise SystemExit(1)
if "venv" in words:
    scripts = Path(words[-1]) / "bin"
    scripts.mkdir(parents=True, exist_ok=True)
    for old in scripts.parent.glob("ampleroom.json"):
        old.unlink()
    program = scripts / "pytest"
    program.write_text("#!/bin/sh\\nsleep ${{PLAY:-0}}; echo ran \\"$@\\"\\n")
    program.chmod(0o755)
    (scripts / "python").unlink(missing_ok=True)
    (scripts / "python").symlink_to(program)
at_work.unlink()
"""
"""Stands where uv would: writes down what it is asked, and notices if it is asked twice at once."""


class Checkout:
    """A copy of ``run`` and what it reads, with a uv that only writes down."""

    def __init__(self, place):
        self.place, self.tools = place / "checkout", place / "tools"
        self.tools.mkdir()
        (self.place / "requirements").mkdir(parents=True)
        (self.place / "scripts").mkdir()
        scripts = [ROOT / "scripts" / name for name in ("start.py", "kept.py", "environment.py")]
        for path in (ROOT / "run", *scripts, ROOT / "pyproject.toml", *PINS.glob("*.txt")):
            to = self.place / path.relative_to(ROOT)
            to.write_text(path.read_text("utf-8"), "utf-8")
        (version,) = [each.removeprefix("==") for _, each, _ in pinned(PINS / "uv.txt")]
        program = self.tools / "uv"
        program.write_text(UV.format(python=sys.executable, version=version), "utf-8")
        program.chmod(0o755)

    def start(self, *words, play="0"):
        env = {**os.environ, "PATH": f"{self.tools}:{os.environ['PATH']}", "PLAY": play}
        command = [sys.executable, str(self.place / "run"), *words]
        return subprocess.Popen(command, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)

    def run(self, *words):
        process = self.start(*words)
        out, err = process.communicate(timeout=60)
        return process.returncode, out, err

    def asked(self):
        log = self.tools / "log"
        return [json.loads(line) for line in log.read_text("utf-8").splitlines()] if log.exists() else []

    def installs(self):
        return [words for words in self.asked() if "--require-hashes" in words]


@pytest.fixture
def checkout(tmp_path):
    if os.name == "nt":
        pytest.skip("the stand-in for uv is a script with a first line that names its program")
    return Checkout(tmp_path)


def test_only_wheels_with_a_known_hash_are_installed_and_only_once(checkout):
    assert checkout.run("test")[:2] == (0, "ran -q -n auto\n")
    (words,) = checkout.installs()
    assert "--no-build" in words
    files = [Path(words[at + 1]).name for at, word in enumerate(words) if word == "-r"]
    assert files == ["build.txt", "test.txt"]
    before = len(checkout.asked())
    assert checkout.run("test")[0] == checkout.run("packet", "x.job")[0] == 0
    assert len(checkout.asked()) == before


def test_a_changed_pin_is_installed(checkout):
    checkout.run("packet")
    pin = checkout.place / "requirements" / "packet.txt"
    pin.write_text(pin.read_text("utf-8") + "# changed\n", "utf-8")
    checkout.run("packet")
    assert len(checkout.installs()) == 2


def test_an_install_that_broke_off_is_not_taken_for_whole(checkout):
    (checkout.tools / "breaks").touch()
    status, out, err = checkout.run("test")
    assert (status, out) == (2, "")
    assert "run the same command again" in err
    assert "Traceback" not in err
    (checkout.tools / "breaks").unlink()
    assert checkout.run("test")[:2] == (0, "ran -q -n auto\n")
    assert sum("venv" in words and "--clear" in words for words in checkout.asked()) == 2


def test_a_killed_install_is_not_taken_for_whole(checkout):
    process = checkout.start("test")
    while not checkout.installs():
        assert process.poll() is None
    process.kill()
    process.communicate()
    assert checkout.run("test")[:2] == (0, "ran -q -n auto\n")
    assert len(checkout.installs()) == 2
    assert not (checkout.tools / "collided").exists()  # the killed one's uv was still at work


def test_two_at_once_install_one_after_the_other(checkout):
    at_once = [checkout.start("test"), checkout.start("packet", "x.job"), checkout.start("test")]
    for process in at_once:
        process.communicate(timeout=60)
    assert [process.returncode for process in at_once] == [0, 0, 0]
    assert not (checkout.tools / "collided").exists()


def test_what_is_in_use_is_not_replaced(checkout):
    checkout.run("test")
    running = checkout.start("test", play="3")
    while not (checkout.place / ".uv" / "in-use.lock").exists():
        pass
    pin = checkout.place / "requirements" / "test.txt"
    import time

    time.sleep(0.7)
    pin.write_text(pin.read_text("utf-8") + "# changed\n", "utf-8")
    before = len(checkout.asked())
    status, _, err = checkout.run("test")
    assert status == 2
    assert "still uses .venv" in err
    assert len(checkout.asked()) == before
    running.communicate()
    assert checkout.run("test")[0] == 0


def test_remedy_goes_on_without_its_library(checkout):
    (checkout.tools / "breaks").touch()
    _, _, err = checkout.run("remedy", "--version")
    assert "Going on without optimize." in err


def test_a_uv_of_another_version_is_not_used(tmp_path, monkeypatch):
    """The pinned one is fetched instead, with its hash required."""
    other = tmp_path / "uv"
    other.write_text("#!/bin/sh\necho uv 0.0.1\n", "utf-8")
    other.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:{os.environ['PATH']}")
    run = runpy.run_path(str(ROOT / "scripts" / "environment.py"))
    calls = []
    real = subprocess.run

    def notes(command, **options):
        if "pip" in command:
            calls.append(command)
            return subprocess.CompletedProcess(command, 0)
        return real(command, **options)

    monkeypatch.setattr(subprocess, "run", notes)
    monkeypatch.setattr("venv.create", lambda folder, **options: Path(folder).mkdir(parents=True))
    run["uv"].__globals__["TOOLS"] = tmp_path / "tools"
    assert Path(run["uv"]()).is_relative_to(tmp_path / "tools")
    (command,) = calls
    assert {"--require-hashes", "--no-deps", str(PINS / "uv.txt")} <= set(command)
