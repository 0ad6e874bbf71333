"""A browser for the package, servers for it, and windows in it that are watched."""

import os
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.web.browser.helpers import DESK, FLAGS, PATIENCE, PHONE, WATCH, Window, chromium, fetch_axe, once
from tests.web.helpers import Running

APART = {"test_firefox.py": "firefox", "test_offline_folder.py": "folder"}
"""Files that use no window of Chromium: another worker takes them meanwhile, as the tests of that one take longest."""
APART |= dict.fromkeys(("test_offline.py", "test_truck.py", "test_same_here_and_there.py"), "without a server")
"""Files that wait for Python in the browser: a Chromium of their own takes them beside the others."""


def pytest_collection_modifyitems(config, items):
    for item in items:
        if "tests/web/browser" in item.path.as_posix():
            item.add_marker(pytest.mark.ci)
            item.add_marker(pytest.mark.xdist_group(APART.get(item.path.name, "browser")))


@pytest.fixture(scope="package")
def browser():
    """Chromium, for the tests of this folder alone: while playwright runs, no other test of its process could use
    asyncio.
    """
    program = chromium()
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield found
        found.close()


@pytest.fixture(scope="session")
def shared(tmp_path_factory):
    """A folder that all workers of this run share."""
    folder = tmp_path_factory.getbasetemp()
    return folder.parent if os.environ.get("PYTEST_XDIST_WORKER") else folder


@pytest.fixture(scope="session")
def pages(shared):
    """The folder for use without a server, built as anybody builds it: ampleroom offline OUT. AMPLEROOM_TEST_PAGES
    names one that is built already, for who runs one test again and again.
    """
    if built := os.environ.get("AMPLEROOM_TEST_PAGES"):
        return Path(built)
    from ampleroom.web.offline import build

    return once(shared, "offline-pages", build)


@pytest.fixture(scope="session")
def axe(shared):
    return once(shared, "axe.js", fetch_axe).read_text("utf-8")


@pytest.fixture
def home(tmp_path):
    return tmp_path / "home"


@pytest.fixture(scope="package")
def server(tmp_path_factory):
    """A server that tests share which leave each other's jobs alone."""
    with Running(tmp_path_factory.mktemp("home")) as found:
        yield found


@pytest.fixture
def window(browser):
    """Makes windows: ``window(server)`` on a phone, ``window(server, DESK)``. Each has a browser's memory of its own,
    unless it is opened beside another. At the end nothing may have gone wrong in any of them.
    """
    with ExitStack() as stack:
        made = []

        def make(server, kind=PHONE, beside=None, **more):
            if beside:
                context = beside.page.context
            else:
                context = stack.enter_context(browser.new_context(**kind, **more))
                context.add_init_script(WATCH)
            made.append(Window(context.new_page(), server))
            return made[-1]

        yield make
        assert [trouble for each in made for trouble in each.troubles] == []


@pytest.fixture
def phone(window, server):
    """A phone at the list of jobs."""
    found = window(server)
    found.open()
    return found


@pytest.fixture
def photograph(tmp_path):
    """A photograph as a camera makes it: with the place it was taken at, and turned."""
    from PIL import Image

    path = tmp_path / "IMG 1.jpg"
    picture = Image.new("RGB", (2400, 1800), "#886644")
    exif = picture.getexif()
    exif[0x0112] = 6
    exif[0x010F] = "camera of nobody"
    exif.get_ifd(0x8825)[2] = (40.0, 26.0, 46.0)
    picture.save(path, exif=exif)
    return path


@pytest.fixture
def desk(window, server):
    found = window(server, DESK)
    found.open()
    return found
