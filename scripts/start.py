"""Starts a command of the checkout: what ``run`` does, apart from it, as Python keeps the bytecode of modules only.

Loads no more than it needs, as every cold answer waits for it.
"""

import gc
import os
import sys

from scripts.kept import Kept

HERE = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))
EXTRAS = {
    "packet": ["packet"],
    "convert": ["sheets", "dxf"],
    "remedy": ["optimize"],
    "serve": ["web", "packet", "sheets", "optimize"],
    "offline": ["web", "offline"],
}
"""Commands that use a library, and the extras that bring it: each has a file of its name in requirements/."""
DOES_WITHOUT = {"remedy"}
"""Commands that also answer without it, only less surely."""


def main(arguments: list[str]) -> int:
    """Runs a command; the exit status, of those that do not end the process themselves."""
    command = arguments[0] if arguments else ""
    if command == "test":
        # One more process than there are processors: those with a browser wait a lot.
        os.environ.setdefault("PYTEST_XDIST_AUTO_NUM_WORKERS", str(1 + (os.cpu_count() or 1)))
        return int(environment().in_venv(["test"], ["pytest", "-q", "-n", "auto", *arguments[1:]]))
    if command == "bench":
        return bench(arguments[1:])
    if extras := extras_for(arguments):
        own = environment()
        try:
            own.set_up(extras)
        except own.SetupError as error:
            print(error, file=sys.stderr)
            if command not in DOES_WITHOUT:
                return 2
            print(f"Going on without {', '.join(extras)}.", file=sys.stderr)
        else:
            return int(own.start(["python", "-m", "ampleroom", *arguments]))
    gc.disable()  # nothing made while the program is loaded is garbage
    source = os.path.join(HERE, "src")
    sys.path.insert(0, source)
    kept = Kept(source, command if command.isidentifier() else "")
    sys.meta_path.insert(0, kept)
    from ampleroom import cli

    status = cli.main(arguments)
    sys.stdout.flush()
    sys.stderr.flush()
    if command in cli.COMMANDS:
        kept.write()
    os._exit(
        status
    )  # all is written; the system takes the memory back at once, where Python would tidy it piece by piece


def extras_for(arguments: list[str]) -> list[str]:
    """What a command needs beside Python: by its name, or because it writes a drawing file."""
    command = arguments[0] if arguments else ""
    if {"-h", "--help"} & set(arguments):
        return []
    return EXTRAS.get(command, ["dxf"] if any(word.lower().endswith(".dxf") for word in arguments) else [])


def bench(arguments: list[str]) -> int:
    """A script of benchmarks/ by its name; without one, the names."""
    folder = os.path.join(HERE, "benchmarks")
    names = sorted(file[:-3] for file in os.listdir(folder) if file.endswith(".py") and not file.startswith("_"))
    if not arguments or arguments[0] not in names:
        print("Which one? ./run bench " + " | ".join(names), file=sys.stderr)
        return 2
    script = os.path.join(folder, f"{arguments[0]}.py")
    return int(environment().in_venv(["test"], ["python", script, *arguments[1:]]))


def environment():
    """What installs and starts the project's libraries; loaded only where a command needs one."""
    from scripts import environment

    return environment
