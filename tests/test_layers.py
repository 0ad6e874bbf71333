"""Imports point down, and the core imports the standard library only."""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "ampleroom"

LAYERS = [
    ["errors", "quantities", "record", "where", "toml_text", "toml_file"],
    ["editions"],
    ["facts"],
    ["arithmetic"],
    ["worksheet"],
    ["words"],
    ["job"],
    ["surplus"],
    ["rules"],
    ["report"],
    ["check"],
    ["fits", "explain"],
    ["sizing"],
    ["ask_circuit", "ask_raceway"],
    ["ask"],
    ["remedy"],
    ["pictures"],
]
RING = ["cli", "web", "packet", "sheets"]
FACES = {"cli": "web", "web": ""}
"""The parts a person meets: they may use the rest of the ring; the command line also starts the page."""
SOLVER = {"highspy", "numpy"}
CORE = [part for layer in LAYERS for part in layer]
FLOOR = {part: number for number, layer in enumerate(LAYERS) for part in layer}


def parts() -> dict[str, list[Path]]:
    """Each part of the package and its files."""
    found: dict[str, list[Path]] = {}
    for path in SOURCE.rglob("*.py"):
        name = path.relative_to(SOURCE).parts[0].removesuffix(".py")
        found.setdefault(name, []).append(path)
    return found


def imports(path: Path) -> set[str]:
    """The modules a file imports, lazily or not; those only for type checkers left out."""
    tree = ast.parse(path.read_text("utf-8"))
    checking_only = {
        child
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
        for child in ast.walk(node)
    }
    found = set()
    for node in ast.walk(tree):
        if node in checking_only:
            continue
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def ours(module: str) -> str | None:
    words = module.split(".")
    return words[1] if words[0] == "ampleroom" and len(words) > 1 else None


def test_every_part_of_the_package_has_a_layer():
    assert set(parts()) - {"__init__", "__main__"} <= {*CORE, *RING}


def test_imports_in_the_core_point_down():
    for part in CORE:
        for path in parts().get(part, []):
            for module in imports(path):
                used = ours(module)
                if used and used != part:
                    assert used in FLOOR, f"{path} imports {module} of the ring"
                    assert FLOOR[used] <= FLOOR[part], f"{path} imports {module}, which stands above it"


def test_the_core_imports_the_standard_library_only():
    for part in CORE:
        for path in parts().get(part, []):
            for module in imports(path):
                root = module.split(".")[0]
                if path.name == "solver.py" and root in SOLVER:
                    continue  # used where it is installed, loaded only when called
                assert root == "ampleroom" or root in sys.stdlib_module_names, f"{path} imports {module}"


def test_parts_of_the_ring_do_not_import_one_another_but_the_faces_what_they_show():
    for part in RING:
        beside = {*RING} - {*FACES} | {FACES[part]} if part in FACES else set()
        for path in parts().get(part, []):
            for module in imports(path):
                used = ours(module)
                assert used is None or used in {part, *CORE, *beside}, f"{path} imports {module}"


def test_the_core_starts_no_thread_and_opens_no_network():
    for part in CORE:
        for path in parts().get(part, []):
            assert not imports(path) & {"threading", "socket", "asyncio", "subprocess", "urllib.request", "http"}


def test_no_rule_holds_a_number_of_the_code_book():
    """What counts by ones, twos and percent may stand in a rule; a size or any other number belongs in a table."""
    allowed = {0, 1, 2, 100}
    for path in (SOURCE / "rules").glob("*/*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        decorators = {
            n for f in ast.walk(tree) if isinstance(f, ast.FunctionDef) for d in f.decorator_list for n in ast.walk(d)
        }
        for node in ast.walk(tree):
            if not isinstance(node, ast.Constant) or node in decorators or isinstance(node.value, bool):
                continue
            if isinstance(node.value, int | float):
                assert node.value in allowed, f"{path.name}:{node.lineno} holds {node.value}"
            elif isinstance(node.value, str) and re.fullmatch(r"#?[\d./-]*\d", node.value):
                assert node.value == "0.01", f"{path.name}:{node.lineno} holds {node.value!r}"


def test_a_file_with_records_keeps_its_annotations_as_text():
    """Python 3.14, which is the browser's, does not put them into the class's namespace otherwise, and a record has no
    fields.
    """
    for path in sorted(SOURCE.rglob("*.py")):
        text = path.read_text("utf-8")
        if re.search(r"^class \w+\(.*\bRecord\b", text, re.M):
            assert "from __future__ import annotations\n" in text, path.name
