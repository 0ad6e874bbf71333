"""The page in another maker's engine: Debian's Firefox, by touch and keys, with the server and without."""

import pytest

from tests.web.browser.firefox import Firefox, firefox
from tests.web.browser.link import Host

QUESTION = "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12"
SHEET = """job Fog bell
edition 2020
box J1 at the pier
  square 4 x 1-1/2
  clamps inside
  receptacle #12
run J1 > ? 2 x 12/2 nm-b
"""
CHOOSE_2020 = """(() => {
  const list = document.getElementById('asked-edition');
  list.value = '2020';
  list.dispatchEvent(new Event('change', { bubbles: true }));
  return 1;
})()"""


@pytest.fixture
def fox(tmp_path):
    firefox()
    found = Firefox(tmp_path / "profile")
    yield found
    found.stop()
    assert found.troubles == []


def ask_a_question(fox):
    """1.50 over by hand: 6 x 2.25 cables, 2.25 clamps, 4.50 device, 2.25 grounds are 22.50 in a box of 21.00."""
    fox.press("#question")
    fox.type(QUESTION)
    fox.wait("document.querySelector('#asked-edition option[value=\"2020\"]')", 90)
    fox.run(CHOOSE_2020)
    fox.press("button", "Answer")
    fox.wait("document.getElementById('answer')?.textContent.includes('1.50 in³ over')", 90)


def test_a_box_is_counted_changed_and_undone(fox, server):
    job = server.new(SHEET)
    fox.open(f"http://127.0.0.1:{server.port}/")
    ask_a_question(fox)
    fox.run(f"void (location.hash = '#/j/{job['id']}/b/J1')")
    fox.wait("document.getElementById('answer')?.textContent.includes('3.00 in³ spare')", 30)
    fox.press("button", "Add one 14/3")  # 3 x 2.00, and the larger grounds stay: 24.00 of 21.00
    fox.wait("document.getElementById('answer')?.textContent.includes('3.00 in³ over')", 30)
    assert "14/3" in server.job(job["id"])["sheet"]
    fox.press("[data-key=undo]")
    fox.wait("document.getElementById('answer')?.textContent.includes('3.00 in³ spare')", 30)
    assert server.job(job["id"])["sheet"] == SHEET


def test_it_drives_off_and_counts_without_any_host(fox, pages):
    host = Host(pages)
    url = f"http://127.0.0.1:{host.port}/"
    fox.open(url)
    fox.wait("document.documentElement.dataset.kept === 'kept'", 120)
    asked = [path for path in host.asked if path.startswith(("/pyodide", "/wheels", "/core", "/snapshot"))]
    assert sorted(asked) == sorted(set(asked)), "fetched twice"
    host.stop()
    fox.open(url)
    ask_a_question(fox)
    assert fox.run("import('./app.js').then((page) => page.state.readyFrom)") == "picture"
