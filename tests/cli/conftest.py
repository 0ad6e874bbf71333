"""A folder with a sheet of each exit status, and the working folder there."""

import pytest

from tests.cli.helpers import SHEETS


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """Sheets by what they come to: passes.job, fails.job, open.job, faulty.job, no-edition.job."""
    for name, text in SHEETS.items():
        (tmp_path / f"{name}.job").write_text(text, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))  # never the settings of who runs the tests
    return tmp_path
