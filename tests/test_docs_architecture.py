"""docs/architecture.md names only files that are there, and every part of the package."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.documents import ROOT

SOURCE = ROOT / "src" / "ampleroom"
TEXT = (ROOT / "docs" / "architecture.md").read_text("utf-8")
PATH = re.compile(r"(?<![\w./])((?:[\w.-]+/)*[\w-]+\.(?:py|toml|md|mjs|js|txt|typ)|(?:[\w-]+/)+)(?![\w*])")
"""A file by its ending, or a folder by its slash: ``job/graph.py``, ``rules/builder/``."""


def paths(text: str) -> list[str]:
    """Each file and folder a text names, once, in order."""
    return list(dict.fromkeys(PATH.findall(text)))


def is_there(path: str) -> bool:
    """Whether a path is in the package, in the project, or, for a bare file name, anywhere in the package."""
    if (SOURCE / path).exists() or (ROOT / path).exists():
        return True
    return "/" not in path.rstrip("/") and any(SOURCE.rglob(path.rstrip("/")))


@pytest.mark.parametrize("path", paths(TEXT))
def test_every_file_and_folder_it_names_is_there(path: str):
    assert is_there(path)


def top_level_parts() -> list[str]:
    return sorted(
        entry.stem
        for entry in SOURCE.iterdir()
        if not entry.name.startswith("__") and (entry.suffix == ".py" or (entry / "__init__.py").exists())
    )


@pytest.mark.parametrize("part", top_level_parts())
def test_every_part_of_the_package_is_named(part: str):
    assert re.search(rf"\b{part}(?:\.py|/|`)", TEXT), f"say in docs/architecture.md where {part} belongs"


def test_a_name_in_capitals_beside_a_file_is_in_that_file():
    """``BLOCKS`` in ``packet/cards.py``: the list a newcomer is sent to."""
    pairs = re.findall(r"`([A-Za-z_]+)` in `([\w/]+\.py)`", TEXT)
    assert len(pairs) >= 4
    for name, path in pairs:
        assert re.search(rf"^(?:def )?{name}\b", Path(SOURCE / path).read_text("utf-8"), re.MULTILINE), (name, path)


def test_a_file_that_is_gone_is_noticed():
    assert paths("see `job/nowhere.py` and `rules/none/`, not 12/2 nor and/or") == ["job/nowhere.py", "rules/none/"]
    assert not is_there("job/nowhere.py")
    assert not is_there("rules/none/")
