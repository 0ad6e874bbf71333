"""Every public function, class and method says what goes in and out."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "ampleroom"


def undescribed(body: list[ast.stmt]) -> Iterator[str]:
    """The public functions, classes and methods without a docstring, also those of a private class."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            if not node.name.startswith("_") and not ast.get_docstring(node):
                yield node.name
            if isinstance(node, ast.ClassDef):
                yield from undescribed(node.body)


def missing() -> Counter[str]:
    """How many public names have no docstring, by file."""
    found: Counter[str] = Counter()
    for path in SOURCE.rglob("*.py"):
        found[path.relative_to(SOURCE).as_posix()] = len(list(undescribed(ast.parse(path.read_text("utf-8")).body)))
    return +found


def test_every_public_name_has_a_docstring():
    assert missing() == {}, "write what goes in and out, with units and errors"


def test_a_name_without_a_docstring_is_found():
    source = "class A:\n    def told(self):\n        'It is.'\n    def left(self): ...\n    def _own(self): ...\n"
    assert list(undescribed(ast.parse(source).body)) == ["A", "left"]
