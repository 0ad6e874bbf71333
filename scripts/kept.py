"""Keeps what Python compiled of the modules and tables of a command in one file, and loads them from there.

A cold check loads 140 modules and 30 tables. To look each of them up in its folder, and to open and read its bytecode
file, takes a tenth of the check. So all code that a command used lies in one file in ``src/ampleroom/__pycache__``,
written when the command is over. A piece of code holds only while the time and the size of its source are the same as
when it was compiled, as with Python's own bytecode files; else it is compiled from the source and kept anew. Nothing is
written where Python itself may not write bytecode.
"""

import marshal
import os
import sys
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from types import CodeType
from typing import Any

PACKAGE = "ampleroom"
Stamp = tuple[int, int]
"""When a source was changed, in nanoseconds, and its size in bytes."""
MADE_BY = (sys.version, sys.flags.optimize)
"""Other Pythons compile other code."""


class Kept:
    """The code of one command, found on ``sys.meta_path`` before all other modules are looked up."""

    def __init__(self, source: str, command: str) -> None:
        self.folder = os.path.join(source, PACKAGE)
        self.file = os.path.join(self.folder, "__pycache__", f"{command}.{sys.implementation.cache_tag}.kept")
        self.modules: dict[str, tuple[str, bool]] = {}
        """Of each module: its source, and whether it is a package."""
        self.code: dict[str, tuple[Stamp | None, CodeType]] = {}
        """By the path of a source; of what no file holds, by its own text, without a stamp."""
        self.is_changed = False
        try:
            with open(self.file, "rb") as file:
                made_by, folder, modules, code = marshal.loads(file.read())
        except (OSError, EOFError, ValueError, TypeError):
            return  # not yet written, or not whole
        if (made_by, folder) == (MADE_BY, self.folder):  # a tree that was copied holds the paths of the other
            self.modules, self.code = modules, code

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> ModuleSpec | None:
        """Where a module of the package is; None: others look it up."""
        if not name.startswith(PACKAGE):
            return None
        source, is_package = self.modules.get(name, ("", False))
        if not source or stamp_of(source) is None:
            looked_up = PathFinder.find_spec(name, path, target)
            if looked_up is None or type(looked_up.loader) is not SourceFileLoader or looked_up.origin is None:
                return looked_up
            source, is_package = looked_up.origin, looked_up.submodule_search_locations is not None
            self.modules[name] = (source, is_package)
        spec = ModuleSpec(name, KeptLoader(name, source, self), origin=source, is_package=is_package)
        spec.has_location = True
        spec.cached = self.file
        if spec.submodule_search_locations is not None:
            spec.submodule_search_locations.append(os.path.dirname(source))
        return spec

    def compiled(self, loader: SourceFileLoader) -> CodeType | None:
        """The code of the source a loader reads, kept or compiled now. Raises ``OSError`` where there is none."""
        source = loader.path
        stamp = stamp_of(source)
        kept = self.code.get(source)
        if kept is not None and stamp is not None and kept[0] == stamp:
            return kept[1]
        code = SourceFileLoader.get_code(loader, loader.name)
        if code is not None:
            self.code[source] = (stamp, code)
            self.is_changed = True
        return code

    def compiled_text(self, text: str) -> CodeType:
        """The code of a text that is no file's."""
        kept = self.code.get(text)
        if kept is None:
            kept = self.code[text] = (None, compile(text, f"<{PACKAGE}>", "exec"))
            self.is_changed = True
        return kept[1]

    def write(self) -> None:
        """Keeps what was compiled in this process. Where that is not possible, the next one compiles it again."""
        if not self.is_changed or sys.dont_write_bytecode:
            return
        mine = f"{self.file}.{os.getpid()}"
        try:
            os.makedirs(os.path.dirname(self.file), exist_ok=True)
            with open(mine, "wb") as file:
                file.write(marshal.dumps((MADE_BY, self.folder, self.modules, self.code)))
            os.replace(mine, self.file)
        except OSError:
            return


class KeptLoader(SourceFileLoader):
    """Loads a module whose code is kept. The module may ask it, as ``__spec__.loader``, for other code that is kept."""

    def __init__(self, name: str, path: str, kept: Kept) -> None:
        super().__init__(name, path)
        self.kept = kept

    def get_code(self, fullname: str) -> CodeType | None:
        """The code of the module."""
        return self.kept.compiled(self)


def stamp_of(source: str) -> Stamp | None:
    """The stamp of a source; None where it cannot be read."""
    try:
        status = os.stat(source)
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size
