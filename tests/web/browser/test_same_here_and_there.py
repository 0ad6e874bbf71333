"""The same scenario by touch, once against the server and once in the browser alone: the same sheet, the same JSON, the
same PDF.
"""

import json
import signal

from tests.web.browser.helpers import wait_until
from tests.web.helpers import STOCK, STUDIO, Running

ASK = """
async ([action, data]) => {
  const { ask, state } = await import('./app.js');
  const answer = await ask(action, data).catch((trouble) => trouble.answer);
  return JSON.stringify([state.server ? 'the server' : 'this browser', answer]);
}
"""

JOB = """job Both sides
edition 2020
panel P at the landing
box J1 at ridge
  square 4 x 1-1/2
  clamps inside
run P > J1 12/2 nm-b 31 ft
"""


def played(phone):
    """Taps on a job of its own; the box as it is told after each of them, and the sheet at the end."""
    phone.page.evaluate(
        (
            "async (sheet) => { const job = await (await import('./app.js')).create(sheet); location.hash = "
            "`#/j/${job.id}/b/J1`; }"
        ),
        JOB,
    )
    phone.page.locator("#answer").wait_for(timeout=60_000)
    told = [phone.answer]

    def after(tap):
        answer = phone.answer
        tap()
        wait_until(lambda: phone.answer != answer, 20)
        phone.drawn()
        told.append((phone.answer, phone.page.locator(".entry").all_inner_texts()))

    after(lambda: phone.tap("Add one 12/2"))
    after(lambda: phone.tap("Add one 14/3"))
    after(lambda: phone.tap("Add a switch"))
    after(lambda: phone.tap("Clamps not known"))
    after(lambda: phone.tap("Box is not known"))
    after(lambda: phone.tap("Undo"))
    phone.touch(phone.page.locator('.entry.cables[data-key="cable-12/2"] button.name'))
    after(lambda: phone.tap("loops through, uncut"))
    phone.close_dialog()
    phone.tap("Fixes")
    first = phone.page.locator("#dialog section").first
    first.wait_for(timeout=60_000)
    told.append(first.inner_text())
    after(lambda: phone.touch(first.get_by_role("button", name="Do this")))
    return told, phone.kept()


def answers(phone, sheet):
    """What the page can ask, in the JSON of the answers."""
    about = {"sheet": sheet, "stock": STOCK, "solver": False}
    asked = [
        ("check", {"sheet": sheet}),
        ("job", {"sheet": STUDIO}),
        ("check", {"sheet": STUDIO}),
        ("check", {"sheet": STUDIO, "edition": 2026}),
        ("show", {"sheet": STUDIO, "box": "W2"}),
        ("box", {"sheet": STUDIO, "box": "A1"}),
        ("box", {"sheet": STUDIO, "box": "no such box"}),
        ("fits", {"sheet": STUDIO, "box": "S1"}),
        ("fits", {"sheet": STUDIO, "box": "S1", "what": "12/2 nm-b"}),
        ("remedies", {**about, "sheet": STUDIO, "box": "A2"}),
        ("apply", {**about, "sheet": STUDIO, "box": "A2", "choose": 2}),
        ("plan", {**about, "sheet": STUDIO, "limits": {"spare": "14/2 nm-b"}}),
        ("takeoff", {**about, "sheet": STUDIO}),
        ("editions", {"sheet": STUDIO}),
        ("ask", {"question": "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12", "adopted": "Alaska"}),
        ("ask", {"question": "sqare 4 x 1-1/2", "edition": 2020}),
        ("map", {"sheet": STUDIO}),
        ("rule", {"name": "box-fill-grounds", "edition": 2017}),
        ("rules", {}),
        ("words", {}),
        ("check", {"sheet": "box J1\n  sqare 4 x 1-1/2\n"}),
        ("packet", {"sheet": sheet}),
    ]
    found = {
        f"{number} {action}": json.loads(phone.page.evaluate(ASK, [action, data]))
        for number, (action, data) in enumerate(asked)
    }
    assert len({who for who, _ in found.values()}) == 1
    return found["0 check"][0], {name: answer for name, (_, answer) in found.items()}


def test_the_same_scenario_gives_the_same_json(window, home, pages):
    with Running(home, "--pages", str(pages)) as server:
        phone = window(server)
        phone.open()
        phone.page.evaluate("import('./app.js').then((page) => page.stock())")
        told_there, sheet_there = played(phone)
        who, there = answers(phone, sheet_there)
        assert who == "the server"
        phone.kept_for_later()
        phone.worker_ready()
        server.stop(signal.SIGKILL)
        phone.page.goto("about:blank")
        phone.open()
        phone.worker_ready()
        told_here, sheet_here = played(phone)
        who, here = answers(phone, sheet_here)
    assert {name for name, answer in there.items() if "error" in answer} == {"6 box", "15 ask", "20 check"}
    assert who == "this browser"
    assert phone.id.startswith("here-")
    assert sheet_here == sheet_there
    assert told_here == told_there
    for name in there:
        assert here[name] == there[name], name
