"""The project's own environment, .venv: made on first use of a command that needs more than Python, and kept whole.

Only the packages listed in requirements/ are installed, and only if their hashes match. uv is fetched the same way into
.uv, unless that very version is on the machine. Loaded by ``run`` only when a command needs it.
"""

import hashlib
import json
import os
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parents[1]
PINS = HERE / "requirements"
VENV = HERE / ".venv"
TOOLS = HERE / ".uv"
WINDOWS = os.name == "nt"
SCRIPTS = "Scripts" if WINDOWS else "bin"
EXE = ".exe" if WINDOWS else ""
IN_USE = "Another ./run still uses .venv, which has to be made anew. End that one, then try again."


class SetupError(Exception):
    """The libraries a command needs could not be installed; the message says why and what to do."""


def in_venv(sets: list[str], command: list[str]) -> int:
    """Run a program of .venv with these requirement files installed; 2 if they cannot be."""
    try:
        set_up(sets)
    except SetupError as error:
        print(error, file=sys.stderr)
        return 2
    return start(command)


def start(command: list[str]) -> int:
    """Run a program of .venv. Where the system can, it takes this process's place, and keeps .venv marked in use."""
    program = str(VENV / SCRIPTS / (command[0] + EXE))
    if WINDOWS:
        import subprocess

        return subprocess.call([program, *command[1:]])
    sys.stdout.flush()
    sys.stderr.flush()
    os.execv(program, [program, *command[1:]])
    raise AssertionError  # never reached: another program took this one's place


# ---- what is installed -----------------------------------------------------------------------------------------------


def set_up(sets: list[str]) -> None:
    """Install these requirement files into .venv, unless its stamp says they are there. Raises SetupError.

    The stamp is written last and taken away first, so an environment without one is never used: it is made anew. One
    process at a time installs; one that only lacks a set adds it. No environment is replaced while it is in use.
    """
    try:
        set_up_locked(sets, {name: digest(PINS / f"{name}.txt") for name in ["build", *sets]})
    except OSError as error:
        raise SetupError(f"libraries cannot be installed into {VENV}: {error}") from None


def set_up_locked(sets: list[str], wanted: dict[str, str]) -> None:
    with locked("in-use", shared=True):
        if stamped(wanted):
            keep_open("in-use")
            return
    with locked("installing", tell="Another ./run is installing; waiting for it ..."):
        if not stamped(wanted):
            whole = stamped({})
            if not whole and VENV.exists():
                with locked("in-use", busy=IN_USE):
                    install(sets, whole)
            else:
                install(sets, whole)
        keep_open("in-use")


def install(sets: list[str], whole: bool) -> None:
    """Bring requirement files into .venv: added to one that is whole, or into a new one."""
    print(f"Setting up once: installing {', '.join(sets)} into .venv ...", file=sys.stderr)
    before = read_stamp().get("sets", {}) if whole else {}
    tool = uv()
    python = str(VENV / SCRIPTS / f"python{EXE}")
    stamp_file().unlink(missing_ok=True)
    if not whole:
        uv_does(tool, ["venv", "--clear", "--no-project", "--python", base_python(), str(VENV)])
    files = [word for name in ["build", *sets] for word in ("-r", str(PINS / f"{name}.txt"))]
    uv_does(tool, ["pip", "install", "--python", python, "--require-hashes", "--no-build", *files])
    if not whole:
        # The project itself, in place, built by the uv_build just installed: nothing is fetched for it.
        editable = ["--no-deps", "--no-index", "--no-build-isolation", "--editable", str(HERE)]
        uv_does(tool, ["pip", "install", "--python", python, *editable])
    if "test" in sets:  # it holds all the others
        sets = [path.stem for path in PINS.glob("*.txt") if path.stem != "uv"]
    there = {**before, **{name: digest(PINS / f"{name}.txt") for name in ["build", *sets]}}
    write_whole(stamp_file(), json.dumps({"made": made_for(), "sets": there}, indent=1))


def base_python() -> str:
    """The Python beneath a virtual environment: this may be run by that of .venv itself, which is about to go."""
    return getattr(sys, "_base_executable", None) or sys.executable


def stamp_file() -> Path:
    return VENV / "ampleroom.json"


def read_stamp() -> dict[str, Any]:
    try:
        stamp = json.loads(stamp_file().read_text("utf-8"))
        return stamp if isinstance(stamp, dict) else {}
    except (OSError, ValueError):
        return {}


def stamped(wanted: dict[str, str]) -> bool:
    """Whether .venv is whole, made for this Python and checkout, current in every set it has, and has these."""
    stamp = read_stamp()
    sets = stamp.get("sets", {})
    return (
        stamp.get("made") == made_for()
        and (VENV / SCRIPTS / f"python{EXE}").exists()
        and all(digest(PINS / f"{name}.txt") == known for name, known in sets.items())
        and all(sets.get(name) == known for name, known in wanted.items())
    )


def made_for() -> list[str]:
    """What an environment is bound to beside its packages: this Python, this folder, the project's own settings."""
    import tomllib

    project = tomllib.loads((HERE / "pyproject.toml").read_text("utf-8"))
    installed = {key: project["project"].get(key) for key in ("name", "version", "scripts", "requires-python")}
    return [sys.version, str(HERE), json.dumps([installed, project["build-system"]], sort_keys=True)]


def digest(path: Path) -> str:
    try:
        # Line ends do not count: git may write others on Windows.
        return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
    except OSError:
        return ""


def write_whole(path: Path, text: str) -> None:
    """Put a file in its place in one step, so that nobody reads half of it."""
    made = path.with_name(f"{path.name}.{os.getpid()}")
    made.write_text(text, "utf-8")
    made.replace(path)


# ---- uv --------------------------------------------------------------------------------------------------------------


def uv() -> str:
    """Where the pinned uv is: on the machine if of the same version, else fetched into .uv and checked by its hash."""
    import re
    import shutil
    import subprocess

    pin = PINS / "uv.txt"
    match = re.search(r"^uv==(\S+)", pin.read_text("utf-8"), re.M)
    if match is None:
        raise SetupError("requirements/uv.txt does not pin uv; run: git checkout requirements")
    if there := shutil.which("uv"):
        told = subprocess.run([there, "--version"], capture_output=True, text=True, check=False).stdout.split()
        if told[1:2] == [match[1]]:
            return there
    folder = TOOLS / "uv"
    own, stamp = folder / SCRIPTS / f"uv{EXE}", folder / "ampleroom.json"
    if stamp.is_file() and stamp.read_text("utf-8") == digest(pin) and own.exists():
        return str(own)
    print("Setting up once: fetching uv into .uv ...", file=sys.stderr)
    import venv

    try:
        venv.create(folder, with_pip=True, clear=True)
        python = str(folder / SCRIPTS / f"python{EXE}")
        checked = ["--require-hashes", "--only-binary", ":all:", "--no-deps", "-r", str(pin)]
        subprocess.run([python, "-m", "pip", "install", "-q", *checked], check=True, **held())
    except (subprocess.CalledProcessError, OSError) as error:
        raise SetupError(
            f"uv could not be fetched ({error}). Is there a network? On Debian, install python3-venv first."
        ) from None
    write_whole(stamp, digest(pin))
    return str(own)


def uv_does(tool: str, arguments: list[str]) -> None:
    import subprocess

    done = subprocess.run([tool, "--quiet", *arguments], cwd=HERE, stdout=sys.stderr, check=False, **held())
    if done.returncode:
        raise SetupError(
            f"uv {' '.join(arguments[:2])} did not finish (see above). Is there a network? "
            "Nothing half installed is used: run the same command again."
        )


# ---- one at a time ---------------------------------------------------------------------------------------------------

LOCKS: dict[str, int] = {}
"""The lock files this process holds open, by name."""


@contextmanager
def locked(name: str, shared: bool = False, tell: str = "", busy: str = ""):
    """Hold .uv/NAME.lock. Waits for whoever holds it, after printing ``tell``; with ``busy`` raises SetupError instead.

    Outside Windows the programs started meanwhile hold it too, so it stays held while one of them is at work.
    """
    TOOLS.mkdir(exist_ok=True)
    file = os.open(TOOLS / f"{name}.lock", os.O_RDWR | os.O_CREAT, 0o644)
    LOCKS[name] = file
    try:
        if not take(file, shared):
            if busy:
                raise SetupError(busy)
            if tell:
                print(tell, file=sys.stderr)
            import time

            while not take(file, shared):
                time.sleep(0.1)
        yield
    finally:
        if LOCKS.pop(name, None) is not None:
            os.close(file)


def take(file: int, shared: bool) -> bool:
    """Try for a lock once. Windows has no shared ones here: it refuses by itself to replace a program that runs."""
    try:
        if sys.platform == "win32":
            import msvcrt

            if not shared:
                msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except PermissionError:
        return not WINDOWS
    except OSError:
        return True  # a file system without locks: go on as if alone
    return True


def keep_open(name: str) -> None:
    """Mark .venv as in use until this process and the program that takes its place have ended."""
    file = LOCKS.pop(name, None)
    if file is None:
        file = os.open(TOOLS / f"{name}.lock", os.O_RDWR | os.O_CREAT, 0o644)
        take(file, shared=True)
    if not WINDOWS:
        os.set_inheritable(file, True)


def held() -> dict[str, Any]:
    return {} if WINDOWS else {"pass_fds": tuple(LOCKS.values())}
