"""The server as an application in this process, and as a process of its own."""

import os

import pytest

from tests.web.helpers import Application, Running

NEEDED = ("starlette", "uvicorn", "msgspec", "PIL")


def pytest_collection_modifyitems(config, items):
    """Without the libraries of the page its tests are skipped in plain words; CI has them all."""
    from importlib.util import find_spec

    missing = [name for name in NEEDED if find_spec(name) is None]
    if missing and not os.environ.get("CI"):
        skip = pytest.mark.skip(reason=f"the page needs {', '.join(missing)}, which are not installed here")
        for item in items:
            if "tests/web" in item.path.as_posix():
                item.add_marker(skip)


@pytest.fixture
def app(tmp_path):
    """The application with a store of its own, asked without a network."""
    with Application(tmp_path / "jobs.db") as found:
        yield found


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A server process that the tests of a module share."""
    with Running(tmp_path_factory.mktemp("home")) as found:
        yield found


@pytest.fixture
def home(tmp_path):
    return tmp_path / "home"
